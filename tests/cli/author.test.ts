/** Whose name stands beside a change made in a terminal. */
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { KeptFile } from "../../host/machine/kept.ts";
import { newFolder } from "../support/plant.ts";
import { add, cli, newFile } from "./support.ts";

const writer = async (file: string): Promise<string | undefined> => {
  const [last] = (await cli(["history", file, "--json"])).json<readonly { author: string }[]>();
  return last?.author;
};
const run = (file: string, tag: string, ...more: readonly string[]) =>
  cli(["run", file, "record.add", "--input", add(tag), ...more]);

describe("a name that was typed in a window on this machine", () => {
  beforeEach(async () => {
    const folder = newFolder();
    vi.stubEnv("STRANDBOOK_DATA", folder);
    vi.stubEnv("STRANDBOOK_AUTHOR", undefined);
    const kept = new KeptFile(join(folder, "preferences.json"));
    await kept.keep({ name: "settings", change: { person: "Ada Splicer" } });
  });
  afterEach(() => {
    vi.unstubAllEnvs();
  });

  it("stands beside the change, and it is said whose it is; standard output is as ever", async () => {
    const file = await newFile();
    const ran = await run(file, "LIB", "--json");
    expect(ran.notes).toContain("Written as Ada Splicer, the name kept on this machine");
    expect(ran.json()).toMatchObject({ summary: "Add building LIB" });
    expect(await writer(file)).toBe("Ada Splicer");
  });

  it("gives way to the name that is given, by option or environment, and then nothing is said", async () => {
    const file = await newFile();
    expect((await run(file, "LIB", "--author", "Bo Jointer")).notes).toBe("");
    expect(await writer(file)).toBe("Bo Jointer");
    vi.stubEnv("STRANDBOOK_AUTHOR", "Night Job");
    expect((await run(file, "KLN")).notes).toBe("");
    expect(await writer(file)).toBe("Night Job");
  });

  it("is not said where nothing was written", async () => {
    const file = await newFile();
    expect((await cli(["history", file])).notes).toBe("");
    expect((await run(file, "LIB", "--rehearse")).notes).not.toContain("Ada Splicer");
  });

  it("counts what undo takes back, and lists it field by field only where that is asked", async () => {
    const file = await newFile();
    await run(file, "LIB");
    const undone = await cli(["undo", file]);
    expect(undone.out).toContain("1 building deleted.");
    expect(undone.out).not.toContain("building LIB  ");
    expect((await cli(["redo", file, "--details"])).out).toMatch(/building LIB\s+added\s+tag/);
  });

  it("takes back and brings back its own change unasked, and another's only by its number", async () => {
    const file = await newFile();
    await run(file, "LIB", "--author", "Bo Jointer");
    expect((await cli(["undo", file])).notes).toContain("isn't Ada Splicer's: Add building LIB");
    expect((await cli(["undo", file, "1"])).code).toBe(0);
    const refused = await cli(["redo", file]);
    expect(refused.code).not.toBe(0);
    expect(refused.notes).toContain(
      "The change undone last isn't Ada Splicer's: Add building LIB, change 1, written by Bo",
    );
    expect((await cli(["redo", file, "1"])).code).toBe(0);
  });
});
