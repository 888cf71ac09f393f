import { describe, expect, it } from "vitest";
import { onFile, refusalOf } from "./on-file.ts";

describe("a record that is to be deleted", () => {
  it("is refused with what rests on it and what names it, counted by kind with addresses", async () => {
    const on = await onFile();
    const party = await on.add("party", { tag: "CITY" });
    const cable = await on.add("cable", { tag: "F-1", owner_id: party });
    for (let number = 1; number <= 7; number++) await on.add("strand", { cable_id: cable, number });
    await on.add("label", { subject_kind: "cable", subject_id: cable, text: "F-1" });
    const failure = await refusalOf(on.write([{ op: "delete", kind: "cable", id: cable }]), "rests_on");
    expect(failure.details).toMatchObject({
      resting: [
        { kind: "strand", count: 7, goes: true, first: { length: 5 } },
        { kind: "label", count: 1, goes: true },
      ],
    });
    expect(failure.problems.map((problem) => problem.reason)).toEqual([
      expect.stringMatching(/^7 strands rest on it: .*, …$/),
      expect.stringMatching(/^1 label rests on it: /),
    ]);
    const named = await refusalOf(on.write([{ op: "delete", kind: "party", id: party }]), "rests_on");
    expect(named.problems[0]?.reason).toMatch(/^1 cable names it as owner: /);
  });

  it("goes when all that rests on it goes in the same plan, in any order, and the whole row is kept", async () => {
    const on = await onFile();
    const cable = await on.add("cable", { tag: "F-1", name: "gone" });
    const strand = await on.add("strand", { cable_id: cable, number: 1, condition: "good" });
    await on.write([
      { op: "delete", kind: "cable", id: cable },
      { op: "delete", kind: "strand", id: strand },
    ]);
    const entries = await on.rows<{ data: string }>(
      "SELECT data FROM change_entry WHERE change_set_id = 3 ORDER BY seq",
    );
    expect(entries.map((entry) => JSON.parse(entry.data))).toEqual([
      { tag: "F-1", name: "gone", life: "in_place" },
      { cable_id: cable, number: 1, condition: "good" },
    ]);
  });

  it("goes when what named it names another in the same plan", async () => {
    const on = await onFile();
    const one = await on.add("party", { tag: "ONE" });
    const two = await on.add("party", { tag: "TWO" });
    const cable = await on.add("cable", { tag: "F-1", owner_id: one });
    await on.write([
      { op: "delete", kind: "party", id: one },
      { op: "update", kind: "cable", id: cable, values: { owner_id: two } },
    ]);
    expect(await on.rows("SELECT tag FROM party")).toEqual([{ tag: "TWO" }]);
  });

  it("can't be named by a change of the same plan", async () => {
    const on = await onFile();
    const party = await on.add("party", { tag: "ONE" });
    const cable = await on.add("cable", { tag: "F-1" });
    const failure = await refusalOf(
      on.write([
        { op: "delete", kind: "party", id: party },
        { op: "update", kind: "cable", id: cable, values: { owner_id: party } },
      ]),
      "not_found",
    );
    expect(failure.problems[0]?.reason).toMatch(/which is to be deleted$/);
  });

  it("is refused when it was changed since it was read", async () => {
    const on = await onFile();
    const id = await on.add("cable", { tag: "F-1" });
    await on.write([{ op: "update", kind: "cable", id, values: { name: "new" } }]);
    await refusalOf(on.write([{ op: "delete", kind: "cable", id, rev: 1 }]), "stale");
  });
});
