import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { onFile, refusalOf } from "./on-file.ts";

describe("a new record", () => {
  it("gets its initial values, its sort key, and the number of its change set as version", async () => {
    const on = await onFile();
    const id = await on.add("building", { tag: " LIB-07 ", name: "Library" });
    const [row] = await on.rows("SELECT * FROM building WHERE id = ?", [id]);
    expect(row).toMatchObject({
      tag: "LIB-07",
      tag_key: "lib-17",
      name: "Library",
      life: "in_place",
      rev: 1,
      use: null,
    });
    const entries = await on.rows("SELECT * FROM change_entry");
    expect(entries).toEqual([
      { change_set_id: 1, seq: 1, kind: "building", op: "insert", record_id: id, last_id: id, data: null },
    ]);
  });

  it("is refused with every value that breaks a rule, and nothing is written", async () => {
    const on = await onFile();
    const id = 1;
    const failure = await refusalOf(
      on.write([
        {
          op: "insert",
          kind: "space",
          id,
          row: 3,
          values: { tag: "101", reach_m: -4, floor: "x\u202Ey", wing: "east" },
        },
      ]),
      "bad_input",
    );
    expect(failure.problems).toEqual([
      {
        row: 3,
        record: "new space 101",
        field: "floor",
        reason: expect.stringContaining("turns the reading direction (U+202E)"),
      },
      { row: 3, record: "new space 101", field: "reach", reason: "is -4: must be a number from 0 to 1000" },
      { row: 3, record: "new space 101", field: "wing", reason: "is not a field of a space" },
    ]);
    expect(failure.message).toMatch(/^Row 3, new space 101: floor /);
    expect(await on.rows("SELECT count(*) AS n FROM change_set")).toEqual([{ n: 0 }]);
  });

  it("may refer to another new record of the same plan", async () => {
    const on = await onFile();
    await on.write([
      { op: "insert", kind: "space", id: 1, values: { tag: "101", building_id: 1 } },
      { op: "insert", kind: "building", id: 1, values: { tag: "LIB" } },
    ]);
    expect(await on.rows("SELECT building_id FROM space")).toEqual([{ building_id: 1 }]);
  });

  it("is refused when what it refers to is not on record", async () => {
    const on = await onFile();
    const failure = await refusalOf(on.add("space", { tag: "101", building_id: 41 }), "not_found");
    expect(failure.problems).toEqual([
      { record: "new space 101", field: "building", reason: "is building 41, which is not on record" },
    ]);
  });

  it("is refused when its subject is not on record", async () => {
    const on = await onFile();
    const failure = await refusalOf(on.add("label", { subject_kind: "cable", subject_id: 9 }), "not_found");
    expect(failure.problems[0]).toMatchObject({ field: "on", reason: "is cable 9, which is not on record" });
  });

  it("is refused when its key is taken, naming who has it", async () => {
    const on = await onFile();
    const building = await on.add("building", { tag: "LIB" });
    await on.add("space", { tag: "101", building_id: building });
    await on.add("space", { tag: "101" });
    const failure = await refusalOf(on.add("space", { tag: "101", building_id: building }), "duplicate");
    expect(failure.problems).toHaveLength(1);
    expect(failure.problems[0]).toMatchObject({ field: "tag", reason: expect.stringMatching(/^is 101: taken by /) });
    await refusalOf(on.add("space", { tag: "101" }), "duplicate");
  });

  it("is refused when another new one of the same plan wants the same key", async () => {
    const on = await onFile();
    const failure = await refusalOf(
      on.write([
        { op: "insert", kind: "cable", id: 1, row: 1, values: { tag: "F-1" } },
        { op: "insert", kind: "cable", id: 2, row: 2, values: { tag: "F-1" } },
      ]),
      "duplicate",
    );
    expect(failure.problems).toEqual([{ row: 2, record: "F-1", field: "tag", reason: "F-1 is taken" }]);
  });
});

describe("a changed record", () => {
  it("keeps in history only what changed, before and after", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1", name: "old", run: "R" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "new", run: "R", tag: "F-12" } }]);
    const [entry] = await on.rows<{ data: string }>("SELECT data FROM change_entry WHERE change_set_id = 2");
    expect(JSON.parse(entry?.data ?? "")).toEqual({ name: ["old", "new"], tag: ["F-1", "F-12"] });
    expect(await on.rows("SELECT tag_key, rev FROM cable")).toEqual([{ tag_key: "f-212", rev: 2 }]);
  });

  it("writes nothing when nothing differs", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1", name: "same" });
    const written = await on.write([{ op: "update", kind: "cable", id, values: { name: " same " } }]);
    expect(written).toMatchObject({ change_set: null, counts: [], changes: [] });
    expect(await on.rows("SELECT rev FROM cable")).toEqual([{ rev: 1 }]);
    expect(await on.rows("SELECT count(*) AS n FROM change_set")).toEqual([{ n: 1 }]);
  });

  it("is refused when it was changed since it was read, with both versions and who changed it", async () => {
    const on = await onFile();
    const job = await on.add("job", { tag: "J-1" });
    const id = await on.add("cable", { tag: "F-1", name: "first" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "second", life_job_id: job } }], "Rename F-1");
    const failure = await refusalOf(
      on.write([{ op: "update", kind: "cable", id, rev: 2, values: { name: "mine" } }]),
      "stale",
    );
    expect(failure.details).toMatchObject({
      stale: [
        {
          kind: "cable",
          id,
          seen_rev: 2,
          current_rev: 3,
          seen: { name: "first", life_job_id: null },
          current: { name: "second", life_job_id: job },
          yours: { name: "mine" },
          changed_by: { author: "Test Person", summary: "Rename F-1" },
        },
      ],
    });
    expect(failure.message).toContain("name was first, is second");
    expect(await on.rows("SELECT name FROM cable")).toEqual([{ name: "second" }]);
  });

  it("is refused when it is no longer on record", async () => {
    const on = await onFile();
    const failure = await refusalOf(
      on.write([{ op: "update", kind: "cable", id: 7, row: 2, values: { name: "x" } }]),
      "not_found",
    );
    expect(failure.problems[0]).toMatchObject({ row: 2, record: "cable 7" });
  });

  it("can't lose a value it must have", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    const failure = await refusalOf(on.write([{ op: "update", kind: "cable", id, values: { tag: " " } }]), "bad_input");
    expect(failure.problems).toEqual([{ record: "cable F-1", field: "tag", reason: "is missing" }]);
  });

  it("may swap its key with another, or pass keys round a ring", async () => {
    const on = await onFile();
    const panel = await on.add("panel", { tag: "A" });
    const ids: number[] = [];
    for (const tag of ["1", "2", "3"]) ids.push(await on.add("port", { tag, panel_id: panel }));
    const [a = 0, b = 0, c = 0] = ids;
    await on.write([
      { op: "update", kind: "port", id: a, values: { tag: "2" } },
      { op: "update", kind: "port", id: b, values: { tag: "3" } },
      { op: "update", kind: "port", id: c, values: { tag: "1" } },
    ]);
    expect(await on.rows("SELECT id, tag, tag_key FROM port ORDER BY id")).toEqual([
      { id: a, tag: "2", tag_key: "12" },
      { id: b, tag: "3", tag_key: "13" },
      { id: c, tag: "1", tag_key: "11" },
    ]);
    await on.restore("undo");
    expect(await on.rows("SELECT tag FROM port ORDER BY id")).toEqual([{ tag: "1" }, { tag: "2" }, { tag: "3" }]);
  });

  it("may swap numbers that aren't text", async () => {
    const on = await onFile();
    const cable = await on.add("cable", { tag: "F-1" });
    const one = await on.add("stop", { cable_id: cable, ordinal: 1 });
    const two = await on.add("stop", { cable_id: cable, ordinal: 2 });
    await on.write([
      { op: "update", kind: "stop", id: one, values: { ordinal: 2 } },
      { op: "update", kind: "stop", id: two, values: { ordinal: 1 } },
    ]);
    expect(await on.rows("SELECT id FROM stop ORDER BY ordinal")).toEqual([{ id: two }, { id: one }]);
  });

  it("keeps its name when only its parent changes and another takes its place", async () => {
    const on = await onFile();
    const one = await on.add("building", { tag: "ONE" });
    const two = await on.add("building", { tag: "TWO" });
    const room = await on.add("space", { tag: "7", building_id: one });
    const other = await on.add("space", { tag: "7", building_id: two });
    await on.write([
      { op: "update", kind: "space", id: room, values: { building_id: two } },
      { op: "update", kind: "space", id: other, values: { building_id: one } },
    ]);
    expect(await on.rows("SELECT id, tag, tag_key, building_id FROM space ORDER BY id")).toEqual([
      { id: room, tag: "7", tag_key: "17", building_id: two },
      { id: other, tag: "7", tag_key: "17", building_id: one },
    ]);
  });

  it("can take the key of a record that goes in the same plan", async () => {
    const on = await onFile();
    const one = await on.add("cable", { tag: "F-1" });
    const two = await on.add("cable", { tag: "F-2" });
    await on.write([
      { op: "update", kind: "cable", id: two, values: { tag: "F-1" } },
      { op: "delete", kind: "cable", id: one },
    ]);
    expect(await on.rows("SELECT id, tag FROM cable")).toEqual([{ id: two, tag: "F-1" }]);
  });

  it("can't take the key of a record that keeps it", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    const two = await on.add("cable", { tag: "F-2" });
    await refusalOf(on.write([{ op: "update", kind: "cable", id: two, values: { tag: "F-1" } }]), "duplicate");
  });
});

describe("several changes of one record in a plan", () => {
  it("are one change in the end, the later value holding", async () => {
    const on = await onFile();
    const old = await on.add("cable", { tag: "F-1", name: "a", run: "R" });
    const gone = await on.add("cable", { tag: "F-2" });
    const written = await on.write([
      { op: "update", kind: "cable", id: old, values: { name: "b" } },
      { op: "update", kind: "cable", id: old, values: { name: "c", run: null } },
      { op: "insert", kind: "cable", id: 8, values: { tag: "F-8", name: "new" } },
      { op: "update", kind: "cable", id: 8, values: { name: "newer" } },
      { op: "insert", kind: "cable", id: 9, values: { tag: "F-9" } },
      { op: "delete", kind: "cable", id: 9 },
      { op: "update", kind: "cable", id: gone, values: { name: "x" } },
      { op: "delete", kind: "cable", id: gone },
    ]);
    expect(written.counts).toEqual([{ kind: "cable", added: 1, changed: 1, deleted: 1 }]);
    expect(await on.rows("SELECT id, name, run FROM cable ORDER BY id")).toEqual([
      { id: old, name: "c", run: null },
      { id: 8, name: "newer", run: null },
    ]);
    const [entry] = await on.rows<{ data: string }>("SELECT data FROM change_entry WHERE op = 'update'");
    expect(JSON.parse(entry?.data ?? "")).toEqual({ name: ["a", "c"], run: ["R", null] });
  });

  it("may not follow its deletion: that plan is a defect", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    const work = on.write([
      { op: "delete", kind: "cable", id },
      { op: "update", kind: "cable", id, values: { name: "x" } },
    ]);
    await expect(work).rejects.toThrow("after deleting it");
  });
});

describe("the chain of digests", () => {
  it("is the SHA-256 of the digest before, the head and the content", async () => {
    const on = await onFile();
    const id = await on.add("party", { tag: "É" });
    await on.write([{ op: "update", kind: "party", id, values: { name: "x" } }], "Name it");
    const sets = await on.rows<Record<string, string | number | null> & { hash: string }>(
      "SELECT * FROM change_set ORDER BY id",
    );
    const sha = (text: string) => createHash("sha256").update(text, "utf8").digest("hex");
    const head = ({ records: _r, hash: _h, ...rest }: Record<string, unknown>) => JSON.stringify(Object.values(rest));
    const [first, second] = sets;
    if (!first || !second) throw new Error("two change sets were written");
    const row = [id, 1, "É", "é", "", "", "", "", "", "", "", "", "", ""].join("\u001f");
    expect(first.hash).toBe(sha(`\n${head(first)}\n+party\u001f${row}\n`));
    expect(second.hash).toBe(sha(`${first.hash}\n${head(second)}\n~party ${id} {"name":"x"}\n`));
  });
});

describe("new ids", () => {
  it("are runs that are never given twice, neither before writing nor after a deletion", async () => {
    const on = await onFile();
    const ask = (count: number) => on.plant.store.read((reader) => on.gateway.newIds(reader, "cable", count));
    const first = await ask(10);
    expect(await ask(1)).toBe(first + 10);
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "delete", kind: "cable", id }]);
    expect(await ask(1)).toBe(id + 1);
  });
});
