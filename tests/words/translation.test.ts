/** A translator's file held against a catalogue, and the catalogue against the source. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CLOSE, OPEN, pseudoTranslation } from "../../core/words/pseudo.ts";
import { type Catalogue, emptyTranslation, readTranslation } from "../../core/words/translation.ts";
import { findWords, readCatalogue } from "../../host/words/languages.ts";
import { CATALOGUE_FILE, catalogueText, messagesIn, readMessages } from "../../setup/messages.ts";
import { newFolder } from "../support/plant.ts";
import { nobodys, spokenIn } from "./spoken.ts";

const CATALOGUE: Catalogue = {
  "{0} of {1}": { in: ["a.ts"] },
  Close: { in: ["a.ts"] },
  "{0} strand | {0} strands": { in: ["a.ts"] },
};

const file = (messages: Record<string, unknown>) => ({ language: "de", name: "Deutsch", messages });

function read(messages: Record<string, unknown>) {
  const found = readTranslation(CATALOGUE, file(messages));
  if (typeof found === "string") throw new Error(found);
  return found;
}

describe("a translator's file", () => {
  it("is taken where its holes are the source's, in any order", () => {
    const { language, missing, wrong } = read({
      "{0} of {1}": "von {1}: {0}",
      Close: "Schließen",
      "{0} strand | {0} strands": { one: "{0} Faser", other: "{0} Fasern" },
    });
    expect([missing, wrong]).toEqual([[], []]);
    expect(language.messages).toEqual({ "{0} of {1}": "von {1}: {0}", Close: "Schließen" });
    expect(language.counted["{0} strand | {0} strands"]).toEqual({ one: "{0} Faser", other: "{0} Fasern" });
  });
  it("is told which messages it lacks, empty ones among them", () => {
    expect(read({ Close: "", "{0} strand | {0} strands": { one: "", other: "" } }).missing).toEqual([
      "{0} of {1}",
      "Close",
      "{0} strand | {0} strands",
    ]);
  });
  it("loses an entry whose holes differ, with why", () => {
    const { wrong, language } = read({ "{0} of {1}": "von {0}", Close: "Schließen {0}" });
    expect(wrong).toEqual([
      { key: "{0} of {1}", reason: "has {0} where the source has {0} {1}" },
      { key: "Close", reason: "has {0} where the source has no holes" },
    ]);
    expect(language.messages).toEqual({});
  });
  it("loses an entry whose blanks differ, and may put them into another order", () => {
    const catalogue: Catalogue = { "What feeds {of}, over {over}?": { in: ["a.ts"] } };
    const held = (text: string) => readTranslation(catalogue, file({ "What feeds {of}, over {over}?": text }));
    expect(held("Was speist über {over} das Gebäude {of}?")).toMatchObject({ wrong: [] });
    expect(held("Was speist {of}, über {übers}?")).toMatchObject({
      wrong: [{ key: "What feeds {of}, over {over}?", reason: "has {of} where the source has {of} {over}" }],
    });
  });
  it("loses a counted thing without the form that every language has, or without its number", () => {
    const key = "{0} strand | {0} strands";
    expect(read({ [key]: { one: "{0} Faser" } }).wrong).toEqual([{ key, reason: "lacks the form other" }]);
    expect(read({ [key]: { one: "eine Faser", other: "{0} Fasern" } }).wrong[0]?.reason).toContain(
      "no holes in its form one",
    );
    expect(read({ [key]: "{0} Fasern" }).wrong[0]?.reason).toContain("each plural form");
  });
  it("may leave out the number of a sentence where the source does, and no other hole", () => {
    const key = "{1} is cut. | {0} of {1} are cut.";
    const held = (form: string) => {
      const found = readTranslation({ [key]: { in: ["a.ts"] } }, file({ [key]: { one: "{1} ist ab.", other: form } }));
      return typeof found === "string" ? found : found.wrong.map(({ reason }) => reason);
    };
    expect([held("{0} von {1} sind ab."), held("{1}: alle sind ab.")]).toEqual([[], []]);
    expect(held("{0} sind ab.")).toEqual(["has {0} in its form other where the source has {0} {1}"]);
    expect(held("{1} von {2}")).toEqual(["has {1} {2} in its form other where the source has {0} {1}"]);
  });
  it("has its reasons in the language that is spoken", async () => {
    const key = Object.keys(readCatalogue()).find((one) => /^[A-Za-z ]+$/.test(one)) as string;
    const path = join(newFolder(), "de.json");
    writeFileSync(path, JSON.stringify(file({ [key]: "zu viel {0}" })));
    const none = join(newFolder(), "none.json");
    writeFileSync(none, JSON.stringify({ ...file({}), name: "" }));
    const [held, refused] = await spokenIn(nobodys(), [
      { line: ["messages", "--check", path] },
      { line: ["messages", "--check", none] },
    ]);
    expect(held).toMatchObject({ out: expect.stringContaining(`${OPEN}hás {0} whéré thé sóúrçé hás ${OPEN}ñó hólés`) });
    expect(refused).toMatchObject({ notes: expect.stringContaining(`${OPEN}dóésñ't sáý`) });
  });
  it("is told what the program no longer says", () => {
    expect(read({ Gone: "Weg" }).unknown).toEqual(["Gone"]);
  });
  it("is refused where it names no language", () => {
    expect(readTranslation(CATALOGUE, { ...file({}), language: "d" })).toContain("names no language");
    expect(readTranslation(CATALOGUE, { ...file({}), name: " " })).toContain("called");
    expect(readTranslation(CATALOGUE, [])).toContain("no messages");
  });
  it("begins empty, with the plural forms of its language", () => {
    expect(emptyTranslation(CATALOGUE, "pl")).toEqual({
      language: "pl",
      name: "polski",
      messages: {
        "{0} of {1}": "",
        Close: "",
        // Unicode CLDR, language plural rules.
        "{0} strand | {0} strands": { one: "", few: "", many: "", other: "" },
      },
    });
  });
});

describe("the language nobody speaks", () => {
  it("is whole, and brackets everything but its holes", () => {
    const made = pseudoTranslation(CATALOGUE);
    expect(made.messages["{0} of {1}"]).toBe(`${OPEN}{0} óf {1}${CLOSE}`);
    const held = readTranslation(CATALOGUE, made);
    expect(held).toMatchObject({ missing: [], wrong: [], unknown: [] });
  });
  it("can be made of the program's own catalogue", () => {
    const catalogue = readCatalogue();
    expect(readTranslation(catalogue, pseudoTranslation(catalogue))).toMatchObject({ missing: [], wrong: [] });
  });
});

describe("the program's catalogue", () => {
  it("is what the source says: else run npm run messages", () => {
    expect(readFileSync(CATALOGUE_FILE, "utf8") === catalogueText(readMessages())).toBe(true);
  });
  it("takes each tagged sentence with names for its holes, and each counted thing", () => {
    const text = `
      say\`Losing \${what} takes \${cable.tag} and \${sum(a)}.\`;
      sayWith\`Kept with \${<b>{n}</b>}.\`;
      counted(n, "strand"); counted(n, "branch", "branches"); counted(n, one, many);
      plural(n, "{1} is cut.", "{0} are cut: {1}.", cable.tag);
      \`not \${this}\`; "nor this";`;
    expect(messagesIn("a.tsx", text)).toEqual([
      { key: "Losing {0} takes {1} and {2}.", holes: ["what", "tag", ""] },
      { key: "Kept with {0}.", holes: [""] },
      { key: "{0} strand | {0} strands", holes: ["number"] },
      { key: "{0} branch | {0} branches", holes: ["number"] },
      { key: "{1} is cut. | {0} are cut: {1}.", holes: ["number", "tag"] },
    ]);
  });
  it("takes no message that holds a number in braces", () => {
    expect(() => messagesIn("a.ts", "say`as {0}`")).toThrow("number in braces");
  });
  it("takes no sentence on a number that isn't written out in both forms, with a hole for each thing told", () => {
    const refused = ["plural(n, one, many)", 'plural(n, "{1} is", "{1} are")', 'plural(n, "is", "are", tag)'];
    for (const text of refused) expect(() => messagesIn("a.ts", text)).toThrow("both forms of a sentence");
    expect(() => messagesIn("a.ts", "say`one | two`")).toThrow("parts the forms");
  });
});

describe("languages on a machine", () => {
  function machine(settings: object, files: Record<string, unknown>) {
    const folder = newFolder();
    const own = join(folder, "own");
    for (const place of [own, join(folder, "words")]) mkdirSync(place);
    writeFileSync(join(own, "messages.json"), JSON.stringify(CATALOGUE));
    writeFileSync(join(folder, "preferences.json"), JSON.stringify({ settings }));
    for (const [name, content] of Object.entries(files)) {
      writeFileSync(join(folder, name), typeof content === "string" ? content : JSON.stringify(content));
    }
    return findWords(join(folder, "preferences.json"), own);
  }

  it("are those beside the catalogue and the user's own, which stand for the program's", () => {
    const { offered, chosen } = machine(
      { language: "de" },
      {
        "own/de.json": file({ Close: "Zu" }),
        "own/fr.json": { ...file({}), language: "fr", name: "français" },
        "words/de.json": file({ Close: "Schließen" }),
      },
    );
    expect(offered).toEqual([
      { code: "de", name: "Deutsch" },
      { code: "fr", name: "français" },
    ]);
    expect(chosen?.language.messages).toEqual({ Close: "Schließen" });
  });
  it("are English alone where nothing is chosen", () => {
    expect(machine({}, { "own/de.json": file({}) }).chosen).toBeNull();
    expect(machine({ language: "" }, {}).offered).toEqual([]);
  });
  it("are told as missing or unreadable, and English is spoken", () => {
    const gone = machine({ language: "it" }, { "words/de.json": "{" });
    expect(gone.chosen).toBeNull();
    expect(gone.faults).toEqual([expect.stringContaining("de.json is no translation."), "it isn't on this machine."]);
  });
});
