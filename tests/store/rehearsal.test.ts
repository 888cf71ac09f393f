import { describe, expect, it } from "vitest";
import { onFile, refusalOf } from "./on-file.ts";

describe("a rehearsal", () => {
  it("says in words what would change and changes nothing", async () => {
    const on = await onFile();
    const building = await on.add("building", { tag: "LIB" });
    const before = await on.content();
    const written = await on.plant.store.read((reader) =>
      on.gateway.rehearse(reader, {
        summary: "Two spaces",
        answer: "done",
        notices: ["Mind the step."],
        changes: [
          {
            op: "insert",
            kind: "space",
            id: 9,
            values: { tag: "101", building_id: building, reach_m: 4, hazards: "water gas" },
          },
          { op: "update", kind: "building", id: building, values: { life_from: "2026-04-03", name: "Library" } },
        ],
      }),
    );
    expect(written).toEqual({
      change_set: null,
      summary: "Two spaces",
      answer: "done",
      notices: ["Mind the step."],
      counts: [
        { kind: "building", added: 0, changed: 1, deleted: 0 },
        { kind: "space", added: 1, changed: 0, deleted: 0 },
      ],
      changes: [
        {
          op: "insert",
          kind: "space",
          id: 9,
          record: expect.stringMatching(/LIB\/101$/),
          fields: [
            { field: "tag", label: "tag", before: null, after: "101" },
            { field: "building_id", label: "building", before: null, after: expect.stringContaining("LIB") },
            { field: "reach_m", label: "reach", before: null, after: "4 m" },
            { field: "hazards", label: "hazards", before: null, after: "gas, water" },
            { field: "life", label: "life", before: null, after: "in place" },
          ],
        },
        {
          op: "update",
          kind: "building",
          id: building,
          record: expect.stringContaining("LIB"),
          fields: [
            { field: "name", label: "name", before: null, after: "Library" },
            { field: "life_from", label: "since", before: null, after: "3 Apr 2026" },
          ],
        },
      ],
    });
    expect(await on.content()).toEqual(before);
  });

  it("refuses what carrying out would refuse", async () => {
    const on = await onFile();
    await on.add("cable", { tag: "F-1" });
    const rehearse = on.plant.store.read((reader) =>
      on.gateway.rehearse(reader, {
        summary: "",
        answer: null,
        changes: [{ op: "insert", kind: "cable", id: 8, values: { tag: "F-1" } }],
      }),
    );
    await refusalOf(rehearse, "duplicate");
  });
});
