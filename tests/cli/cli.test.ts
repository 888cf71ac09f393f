import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { SHAPES } from "../../core/as-built/shapes.ts";
import { OPERATIONS } from "../../core/operations/list.ts";
import { openApplication } from "../../host/application.ts";
import { COMMANDS } from "../../host/cli/commands.ts";
import { newFolder } from "../support/plant.ts";
import { add, cli, newFile, withBuildings } from "./support.ts";

describe("strandbook", () => {
  it("alone lists its commands and ends with 2", async () => {
    const { code, out, notes } = await cli([]);
    expect([code, out]).toEqual([2, ""]);
    for (const { name } of COMMANDS) expect(notes).toContain(`  ${name} `);
  });
  it("tells about itself and each command", async () => {
    expect((await cli(["--help"])).code).toBe(0);
    for (const { name, words } of COMMANDS) {
      const { code, out } = await cli([name, "--help"]);
      expect([name, code]).toEqual([name, 0]);
      expect(out.startsWith(["strandbook", name, ...words].join(" "))).toBe(true);
      expect((await cli(["help", name])).out).toBe(out);
    }
  });
  it("lists the names of a sheet's columns, as its options take them", async () => {
    const { out } = await cli(["help", "sheet"]);
    for (const { name, columns } of SHAPES)
      for (const column of columns) expect(out, name).toMatch(new RegExp(`\\b${column.name}\\b`));
  });
  it("asks who writes and why only where something is written", async () => {
    expect((await cli(["help", "undo"])).out).toContain("--author NAME");
    expect((await cli(["help", "trace"])).out).not.toContain("--author");
  });
  it("has each command that the job needs", () => {
    expect(COMMANDS.map((command) => command.name)).toEqual(
      expect.arrayContaining(
        "sample generate import export trace feeds check list history undo operations run backup".split(" "),
      ),
    );
  });
  it("ends with 2 and says why when its words can't be read", async () => {
    for (const [words, sentence] of [
      [["nonsense"], 'There is no command "nonsense".'],
      [["help", "nonsense"], 'There is no command "nonsense".'],
      [["new"], "FILE is missing."],
      [["new", "a", "b"], '"b" is one word too many.'],
      [["list", "x.strandbook", "unicorn"], 'There is no record kind "unicorn".'],
      [["list", "x.strandbook", "cable", "--nonsense"], "There is no option --nonsense."],
      [["list", "x.strandbook", "cable", "--text", "a", "--text", "b"], "--text is given twice."],
      [["list", "x.strandbook", "cable", "--text"], "--text needs a value."],
      [["list", "x.strandbook", "cable", "--json=3"], "--json takes no value."],
      [["undo", "x.strandbook", "--day", "tomorrow"], '--day is a day such as 2026-04-05, not "tomorrow".'],
      [["undo", "x.strandbook", "--meaning", "repair"], '--meaning is change or correction, not "repair".'],
      [
        ["generate", "x.strandbook", "--strands", "-5", "--seed", "1"],
        '--strands is a whole number from 2 to 2000000, not "-5".',
      ],
      [
        ["generate", "x.strandbook", "--strands", "5", "--seed", "1", "--truth", "x.strandbook"],
        "--truth is a file of its own.",
      ],
      [["generate", "x.strandbook", "--strands", "many", "--seed", "1"], "--strands is a whole number from 2 to"],
      [["generate", "x.strandbook", "--strands", "10"], "--seed is missing."],
      [["run", "x.strandbook", "no.such"], 'There is no operation "no.such"'],
      [["run", "x.strandbook", "plant.read", "--input", "{"], "The input is not JSON"],
      [["run", "x.strandbook", "plant.read", "--rehearse"], "nothing to rehearse"],
      [["undo", "x.strandbook", "last"], 'A change is named by its number, not "last".'],
      [["history", "x.strandbook", "0"], "A change is named by its number"],
    ] as const) {
      const { code, out, notes } = await cli(words);
      expect([words.join(" "), code, out]).toEqual([words.join(" "), 2, ""]);
      expect(notes).toContain(sentence);
      expect(notes).not.toContain("    at ");
      // The usage, not all of the help: what was wrong stays in sight.
      expect(notes.trim().split("\n").length).toBeLessThan(sentence.startsWith("There is no command") ? 200 : 6);
    }
  });
  it("ends with 1 and says why when the file can't be opened", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "letter.txt"), "Dear colleague");
    for (const file of [join(folder, "nowhere.strandbook"), join(folder, "letter.txt"), folder]) {
      const { code, out, notes } = await cli(["list", file, "cable"]);
      expect([code, out]).toEqual([1, ""]);
      expect(notes.length).toBeGreaterThan(10);
      expect(notes).not.toContain("    at ");
      const asJson = await cli(["list", file, "cable", "--json"]);
      expect(asJson.json<{ error: { code: string } }>().error.code).toBe("file");
    }
  });
});

describe("strandbook show", () => {
  it("takes a record by its address alone, or by its kind and its address", async () => {
    const file = await withBuildings("LIB", "ENG");
    const space = { kind: "space", values: { building_id: 1, tag: "101", kind: "telecom_room" } };
    expect((await cli(["run", file, "record.add", "--input", JSON.stringify(space)])).code).toBe(0);
    const byKind = await cli(["show", file, "space", "LIB/101"]);
    expect([byKind.code, (await cli(["show", file, "LIB/101"])).out]).toEqual([0, byKind.out]);
    expect(byKind.out).toContain("LIB/101");
    const nothing = await cli(["show", file, "LIB/999"]);
    expect(nothing.code).toBe(1);
    expect(nothing.notes).toContain("Nothing on record is called LIB/999.");
  });
});

describe("strandbook list", () => {
  it("prints all records as an array", async () => {
    const file = await withBuildings("LIB", "ENG");
    const { code, json } = await cli(["list", file, "building", "--json"]);
    expect(code).toBe(0);
    expect(json<{ tag: string; address: string }[]>().map(({ tag, address }) => [tag, address])).toEqual([
      ["ENG", "ENG"],
      ["LIB", "LIB"],
    ]);
  });
  it("puts the address beside a reference", async () => {
    const file = await withBuildings("LIB");
    const space = { kind: "space", values: { building_id: 1, tag: "101", kind: "telecom_room" } };
    expect((await cli(["run", file, "record.add", "--input", JSON.stringify(space)])).code).toBe(0);
    const [listed] = (await cli(["list", file, "space", "--json"])).json<Record<string, unknown>[]>();
    expect(listed).toMatchObject({ address: "LIB/101", building_id: 1, building: "LIB" });
  });
  it("prints an empty array for a kind without records", async () => {
    expect((await cli(["list", await newFile(), "cable", "--json"])).json()).toEqual([]);
    expect((await cli(["list", await newFile(), "cable"])).out).toBe("No cables on record.\n");
  });
  it("passes all records through, however many pages they take", async () => {
    const file = await newFile();
    const rows = Array.from({ length: 2500 }, (_, at) => ({ op: "add", kind: "building", values: { tag: `B-${at}` } }));
    const application = await openApplication(file);
    const reply = await application.session.dispatch({
      name: "record.change_many",
      input: { changes: rows },
      occasion: { author: "Test Person" },
    });
    await application.close();
    expect(reply).toMatchObject({ ok: true });
    const listed = (await cli(["list", file, "building", "--json"])).json<{ tag: string }[]>();
    expect(new Set(listed.map((record) => record.tag)).size).toBe(2500);
    expect(listed.slice(0, 3).map((record) => record.tag)).toEqual(["B-0", "B-1", "B-2"]);
  });
  it("knows a kind by what people call it", async () => {
    const file = await withBuildings("LIB");
    expect((await cli(["list", file, "buildings"])).out).toContain("1 building\n");
    expect((await cli(["list", file, "cable type", "--json"])).json()).toEqual([]);
  });
  it("takes words and an order", async () => {
    const file = await withBuildings("LIB", "ENG", "LAB");
    const list = ["list", file, "building", "--json"];
    expect((await cli([...list, "--text", "LAB"])).json()).toMatchObject([{ tag: "LAB" }]);
    const { json } = await cli([...list, "--sort", "tag", "--descending"]);
    expect(json<{ tag: string }[]>().map((record) => record.tag)).toEqual(["LIB", "LAB", "ENG"]);
    expect((await cli([...list, "--sort", "nonsense"])).code).toBe(1);
  });
});

describe("strandbook history, undo and redo", () => {
  it("show who did what and why, and take it back and again", async () => {
    const file = await newFile();
    const words = ["run", file, "record.add", "--input", add("LIB"), "--author", "A Clerk", "--reason", "as built"];
    expect((await cli([...words, "--meaning", "correction", "--day", "2026-03-01"])).code).toBe(0);
    const [item] = (await cli(["history", file, "--json"])).json<Record<string, unknown>[]>();
    expect(item).toMatchObject({ author: "A Clerk", reason: "as built", meaning: "correction", day: "2026-03-01" });
    const other = await cli(["undo", file, "--author", "Somebody Else"]);
    expect([other.code, other.notes]).toEqual([
      1,
      expect.stringMatching(/isn't Somebody Else's: Add building LIB, change 1, written by A Clerk at .* undo FILE 1/),
    ]);
    expect((await cli(["undo", file, "1", "--author", "Somebody Else"])).code).toBe(0);
    expect((await cli(["list", file, "building", "--json"])).json()).toEqual([]);
    const again = await cli(["redo", file, "--author", "Somebody Else"]);
    expect([again.code, again.notes]).toEqual([1, expect.stringContaining("A Clerk")]);
    expect((await cli(["redo", file, "--author", "A Clerk"])).code).toBe(0);
    expect((await cli(["list", file, "building", "--json"])).json()).toHaveLength(1);
    expect((await cli(["history", file, "--json"])).json()).toHaveLength(3);
    expect((await cli(["history", file, "1"])).out).toContain("the record had been wrong");
  });
  it("end with 1 when there is nothing to take back", async () => {
    const { code, notes } = await cli(["undo", await newFile()]);
    expect(code).toBe(1);
    expect(notes.length).toBeGreaterThan(5);
  });
  it("say that no change is of the author asked for", async () => {
    const file = await withBuildings("LIB");
    expect((await cli(["history", file, "--by", "nobody"])).out).toBe("No change matches.\n");
  });
  it("show by author", async () => {
    const file = await newFile();
    await cli(["run", file, "record.add", "--input", add("A"), "--author", "One"]);
    await cli(["run", file, "record.add", "--input", add("B"), "--author", "Two"]);
    expect((await cli(["history", file, "--by", "Two", "--json"])).json()).toMatchObject([{ author: "Two" }]);
    const page = await cli(["history", file, "--limit", "1"]);
    expect(page.notes).toContain("There are earlier changes");
  });
});

describe("strandbook run", () => {
  it("takes its input from standard input", async () => {
    const file = await newFile();
    const { code, json } = await cli(["run", file, "record.add", "--input", "-", "--json"], { input: add("LIB") });
    expect(code).toBe(0);
    expect(json()).toMatchObject({ change_set: 1, summary: "Add building LIB" });
  });
  it("rehearses without writing", async () => {
    const file = await newFile();
    const { code, out } = await cli(["run", file, "record.add", "--input", add("LIB"), "--rehearse"]);
    expect(code).toBe(0);
    expect(out).toContain("Would be done: Add building LIB");
    expect((await cli(["list", file, "building", "--json"])).json()).toEqual([]);
  });
  it("ends with 1 when the operation refuses, with each problem", async () => {
    const file = await withBuildings("LIB");
    const refused = await cli(["run", file, "record.add", "--input", add("LIB")]);
    expect(refused.code).toBe(1);
    expect(refused.out).toBe("");
    expect(refused.notes).toContain("LIB");
    const asJson = await cli(["run", file, "record.add", "--json", "--input", add("LIB")]);
    expect(asJson.json()).toMatchObject({ error: { code: "duplicate" } });
    const bad = await cli(["run", file, "record.add", "--input", '{"kind":"building","values":{"tga":"x"}}']);
    expect(bad.code).toBe(1);
    expect(bad.notes).toContain("tga");
  });
  it("refuses to write what someone else has open, and still reads it", async () => {
    const file = await withBuildings("LIB");
    const other = await openApplication(file);
    const refused = await cli(["run", file, "record.add", "--json", "--input", add("ENG")]);
    expect([refused.code, refused.json<{ error: { code: string } }>().error.code]).toEqual([1, "read_only"]);
    expect((await cli(["list", file, "building", "--json"])).json()).toHaveLength(1);
    await other.close();
  });
  it("leaves the file free when it only reads", async () => {
    const file = await withBuildings("LIB");
    expect((await cli(["run", file, "plant.summary", "--json"])).json()).toMatchObject({ name: "Test Campus" });
    expect(existsSync(`${file}.lock`)).toBe(false);
  });
});

interface Schema {
  readonly type?: string;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
}

describe("what came to nothing", () => {
  it("is said of a write as of a rehearsal, and writes no history", async () => {
    const file = await withBuildings("LIB");
    const edit = JSON.stringify({ kind: "building", id: "LIB", values: { name: "Building LIB" } });
    for (const more of [[], ["--rehearse"]]) {
      const { code, out } = await cli(["run", file, "record.edit", "--input", edit, ...more]);
      expect([code, out.split("\n")[0]]).toEqual([0, "Nothing to change: the record already says this."]);
    }
    expect((await cli(["history", file, "--json"])).json<unknown[]>()).toHaveLength(1);
  });

  it("is told with its reason when an address can't be read", async () => {
    const file = await withBuildings("LIB");
    const cable = { tag: "F-1", units: [{ kind: "tube", repeats: 1, strands: 12 }], stops: [{}, {}] };
    expect((await cli(["run", file, "cable.enter", "--input", JSON.stringify(cable)])).code).toBe(0);
    for (const [text, reason] of [
      ["F-1:0", "names strand 0"],
      ["F-1:13", "13 is beyond the count"],
      ["F-1:5-3", "runs backwards"],
    ] as const) {
      const { code, out } = await cli(["find", file, text]);
      expect(code).toBe(1);
      expect(out).toContain(reason);
    }
  });
});

describe("strandbook operations", () => {
  it("lists every operation with its help", async () => {
    const { code, out } = await cli(["operations"], { columns: 400 });
    expect(code).toBe(0);
    for (const { name, help } of OPERATIONS) {
      expect(out).toContain(name);
      expect(out).toContain(help);
    }
  });
  it("describes the input of each as JSON Schema", async () => {
    const described = (await cli(["operations", "--json"])).json<{ name: string; input: Schema }[]>();
    expect(described.map(({ name }) => name)).toEqual(OPERATIONS.map(({ name }) => name));
    for (const { name, input } of described) {
      const forms = input.type ? [input] : (input.anyOf ?? input.oneOf ?? []);
      expect([name, forms.length > 0, forms.every((form) => form.type === "object")]).toEqual([name, true, true]);
    }
  });
  it("describes one", async () => {
    const { out } = await cli(["operations", "record.add"]);
    expect(out).toContain("record.add (write)");
    expect(out).toContain('"kind"');
    expect((await cli(["operations", "no.such"])).code).toBe(2);
  });
});
