import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { formatNumber } from "../../core/words/number.ts";
import type { TranslationFile } from "../../core/words/translation.ts";
import { readCatalogue } from "../../host/words/languages.ts";
import { newFolder } from "../support/plant.ts";
import { cli } from "./support.ts";

const readFile = (path: string): TranslationFile => JSON.parse(readFileSync(path, "utf8"));

describe("strandbook messages", () => {
  it("tells how many there are and where a translation belongs", async () => {
    const { code, out } = await cli(["messages"]);
    expect(code).toBe(0);
    expect(out).toContain(`${formatNumber(Object.keys(readCatalogue()).length)} messages. A translation belongs in `);
    expect(out).toMatch(/en\s+English/);
  });

  it("writes an empty file for a translator, which lacks everything", async () => {
    const path = join(newFolder(), "de.json");
    expect((await cli(["messages", "--out", path])).code).toBe(0);
    const file = readFile(path);
    expect([file.language, file.name]).toEqual(["de", "Deutsch"]);
    expect(Object.keys(file.messages)).toEqual(Object.keys(readCatalogue()));
    const checked = await cli(["messages", "--check", path, "--json"]);
    expect(checked.code).toBe(0);
    expect(checked.json<{ missing: string[] }>().missing).toEqual(Object.keys(file.messages));
  });

  it("takes over what an earlier file has, and refuses texts with other holes", async () => {
    const folder = newFolder();
    const [one, other] = [join(folder, "de.json"), join(folder, "de-new.json")];
    const key = "{0} cable | {0} cables";
    const texts = { [key]: { one: "{0} Kabel", other: "Kabel" }, "said no longer by anything here": "weg" };
    writeFileSync(one, JSON.stringify({ language: "de", name: "Deutsch", messages: texts }));
    expect((await cli(["messages", "--out", other, "--language", "de", "--from", one])).code).toBe(0);
    expect(readFile(other).messages[key]).toEqual(texts[key]);
    const checked = await cli(["messages", "--check", one]);
    expect(checked.code).toBe(1);
    expect(checked.out).toContain("1 text that can't be used, 1 message the program no longer has");
    expect(checked.out).toContain("has no holes in its form other where the source has {0}");
  });

  it("refuses a name that is no language, a file that is there already, and what is no JSON", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "fr.json"), "{");
    expect(await cli(["messages", "--out", join(folder, "ours_.json")])).toMatchObject({ code: 2 });
    expect(await cli(["messages", "--out", join(folder, "fr.json")])).toMatchObject({ code: 1 });
    const broken = await cli(["messages", "--check", join(folder, "fr.json")]);
    expect([broken.code, broken.notes]).toEqual([1, expect.stringContaining("can't be read as JSON")]);
  });
});
