/** The history on the command line: moments compared, the plant of the past, and two files brought together. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { add, edit, newStory } from "../history/story.ts";
import { cli } from "./support.ts";

let file = "";
let field = "";
let folder = "";
beforeAll(async () => {
  const story = await newStory();
  await story.on("2026-01-05", ...add("cable", { tag: "F-1" }));
  await story.on("2026-02-10", ...add("cable", { tag: "F-2" }), { author: "Ben" });
  field = join(story.folder, "field.strandbook");
  await story.application.file.saveCopy(field);
  await story.on("2026-03-01", ...edit("cable", "F-1", { name: "north" }), { reason: "walked" });
  await story.on("2026-03-02", "sign_off.make", { by: "I. Quell" });
  await story.close();
  ({ path: file, folder } = story);
  await cli(["run", field, "record.edit", "--input", '{"kind":"cable","id":"F-1","values":{"name":"south"}}']);
});

const plain = (text: string): string => text.replace(/[\s\u202f]+/g, " ");

describe("strandbook compare", () => {
  it("answers both moments, who wrote, counts and every change as JSON", async () => {
    const { code, json } = await cli(["compare", file, "--from", "2026-01-31", "--to", "3", "--json"]);
    expect(code).toBe(0);
    const answer = json<AnswerOf<"history.compare">>();
    expect(answer).toMatchObject({ from: { change_set: 1 }, to: { change_set: 3 }, change_sets: 2 });
    expect(answer.counts).toEqual([{ kind: "cable", added: 1, changed: 1, removed: 0 }]);
    expect(answer.changes.map(({ op, record }) => [op, record])).toEqual([
      ["update", "F-1"],
      ["insert", "F-2"],
    ]);
  });
  it("prints them for people, and what changed since the last sign-off", async () => {
    const { out } = await cli(["compare", file, "--from", "1"], { columns: 160 });
    expect(plain(out)).toContain("cable F-1 changed name north");
    const signed = plain((await cli(["compare", file, "--from", "signed"], { columns: 160 })).out);
    expect(signed).toContain("Between what I. Quell signed on 2 Mar 2026 and now nothing differs.");
  });
  it("refuses words that are no moment", async () => {
    const { code, notes } = await cli(["compare", file, "--from", "spring"]);
    expect([code, notes]).toEqual([2, expect.stringContaining('not "spring"')]);
    expect((await cli(["compare", file])).code).toBe(2);
  });
});

describe("strandbook history", () => {
  it("lists the changes of a day, of a record, of a kind, and by words", async () => {
    const ids = async (...words: string[]) =>
      (await cli(["history", file, "--json", ...words])).json<{ id: number }[]>().map(({ id }) => id);
    expect(await ids("--on", "2026-02-10")).toEqual([2]);
    expect(await ids("--of", "F-1")).toEqual([3, 1]);
    expect(await ids("--kind", "sign_off")).toEqual([4]);
    expect(await ids("--text", "WALKED", "--by", "ada")).toEqual([3]);
  });

  it("tells a person local time with its offset, and a program UTC", async () => {
    // Written at noon UTC; half an hour off shows that minutes of the offset count too. (ISO 8601-1:2019, 5.3.4)
    const elsewhere = (zone: string, ...words: string[]): string =>
      execFileSync(process.execPath, ["host/cli/strandbook.mjs", ...words], {
        ...{ encoding: "utf8", env: { ...process.env, TZ: zone } },
      });
    const list = elsewhere("Asia/Kolkata", "history", file);
    expect(list).toMatch(/ 2026-02-10T17:30:\d\d\+05:30 /);
    expect(list).not.toContain("Z ");
    expect(elsewhere("America/St_Johns", "history", file, "2")).toMatch(/when +2026-02-10T08:30:\d\d-03:30\n/);
    expect(elsewhere("Asia/Kolkata", "status", file)).toMatch(/I\. Quell.*, 2026-03-02T17:30:\d\d\+05:30/);
    const [, , third] = JSON.parse(elsewhere("Asia/Kolkata", "history", file, "--json")) as { at: string }[];
    expect(third?.at).toMatch(/^2026-02-10T12:00:\d\d\.\d{3}Z$/);
  });
});

describe("strandbook as-of", () => {
  it("writes the plant of a day to a file that is only read and says which of the two it is", async () => {
    const out = join(folder, "then.strandbook");
    const made = await cli(["as-of", file, "2026-01-31", out, "--as-recorded"], { columns: 200 });
    expect([made.code, plain(made.out)]).toEqual([0, expect.stringContaining("recorded at the end of 31 Jan 2026")]);
    expect((await cli(["list", out, "cable", "--json"])).json<unknown[]>()).toMatchObject([{ tag: "F-1", name: null }]);
    const undo = await cli(["undo", out]);
    expect([undo.code, undo.notes]).toEqual([1, expect.stringContaining("It is only read.")]);
    expect((await cli(["as-of", file, "2026-01-31", out])).code).toBe(1);
    expect((await cli(["as-of", file, "soon", out])).code).toBe(2);
  });
});

describe("strandbook merge", () => {
  it("shows a conflict with both values and writes nothing, until one is chosen", async () => {
    const stuck = await cli(["merge", file, field, "--json"]);
    expect(stuck.code).toBe(1);
    expect(stuck.json<AnswerOf<"merge.compare">>().conflicts).toMatchObject([
      { key: "cable 1 name", ours: "north", theirs: "south", take: null },
    ]);
    const shown = await cli(["merge", file, field, "--rehearse", "--theirs"], { columns: 200 });
    expect([shown.code, plain(shown.out)]).toEqual([0, expect.stringContaining("cable F-1 changed name north south")]);
    expect((await cli(["list", file, "cable", "--json"])).json<unknown[]>()[0]).toMatchObject({ name: "north" });
    const open = await cli(["merge", file, field], { columns: 200 });
    const [, example = ""] = /--take "(.+)"/.exec(open.out) ?? [];
    expect([open.code, example]).toEqual([1, "cable 1 name=ours"]);
    const done = await cli(["merge", file, field, "--take", example.replace("ours", "theirs")], { columns: 200 });
    expect([done.code, plain(done.out)]).toEqual([0, expect.stringContaining("1 cable changed")]);
    expect((await cli(["list", file, "cable", "--json"])).json<unknown[]>()[0]).toMatchObject({ name: "south" });
    expect((await cli(["merge", file, field, "--take", "all"])).code).toBe(2);
  });

  it("settles what is kept here, says so, and asks again only once that is undone", async () => {
    await cli(["undo", file]);
    const kept = await cli(["merge", file, field, "--ours"], { columns: 200 });
    expect([kept.code, plain(kept.out)]).toEqual([0, expect.stringContaining("No record was changed by it.")]);
    const again = await cli(["merge", file, field], { columns: 200 });
    expect([again.code, plain(again.out)]).toEqual([
      0,
      expect.stringMatching(/merged before as change \d+: what was settled/),
    ]);
    await cli(["undo", file]);
    expect((await cli(["merge", file, field])).code).toBe(1);
  });

  it("tells what is left out with what, before and when it is written", async () => {
    const story = await newStory();
    await story.on("2026-01-05", ...add("building", { tag: "OLD" }));
    const theirs = join(story.folder, "field.strandbook");
    await story.application.file.saveCopy(theirs);
    await story.on("2026-01-06", "record.remove", { kind: "building", ids: ["OLD"] });
    await story.close();
    const room = { kind: "space", values: { tag: "1", building_id: "OLD", kind: "telecom_room" } };
    await cli(["run", theirs, "record.add", "--input", JSON.stringify(room)]);
    const panel = { tag: "P", space: "OLD/1", ports: [{ numbers: "1..2", connector: "lc" }] };
    await cli(["run", theirs, "panel.enter", "--input", JSON.stringify(panel)]);
    const told = "their space 1 1 panel OLD/1/P left out; refers to what is left out: space OLD/1";
    for (const words of [["--rehearse"], ["--ours"]])
      expect(plain((await cli(["merge", story.path, theirs, ...words], { columns: 200 })).out)).toContain(told);
    const brought = await cli(["merge", story.path, theirs, "--rehearse", "--theirs"], { columns: 200 });
    expect(brought.out).not.toContain("left out");
  });
});
