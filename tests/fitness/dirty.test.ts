/** Records as no sheet would have them: an answer or a refusal in words, never a silent zero. */

import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import type { WouldFitAnswer } from "../../core/fitness/answer.ts";
import { slip } from "../support/slip.ts";
import { GOOD, ground } from "./ground.ts";

/** No form takes a way of no length: a file from elsewhere may hold one. */
function noLength({ path }: { readonly path: string }, way: string): void {
  const file = new Database(path);
  file.prepare("update pathway set length_m = 0 where tag = ?").run(way);
  file.close();
}

describe("records that make no sense", () => {
  it.each([
    [
      "zero diameters and tensions",
      { outer_diameter_mm: 0, max_tension_n: 0, bend_radius_mm: 0, construction: "ribbon" },
    ],
    ["nothing at all", {}],
    ["everything", GOOD],
  ])("answer in numbers or not at all: %s", async (_, sheet) => {
    const plant = await ground();
    await plant.edit("pathway", "DB-1", {
      geometry: [
        [1, 1],
        [1, 1],
      ],
    });
    noLength(plant, "DB-1");
    await plant.edit("pathway", "EN-1", { length_m: null, entrance_m: 10 });
    await plant.edit("pathway", "EN-2", { entrance_m: 400, from_space_id: "SCI/ER" });
    await plant.edit("conduit", "DB-1/1", { inner_diameter_mm: 0 });
    for (const [tag, value] of [
      ["pull.friction.dry", -1],
      ["pull.density", 0],
      ["fill.one", 0],
    ] as const) {
      await plant.add("limit_value", { tag, value: 1 });
      slip(plant, tag, value);
    }
    await plant.lay("F-1", sheet, "LIB/ER EN-1/1 MH-1 DB-1/1 MH-2 EN-2/1 SCI/ER", {
      stops: { 2: { coil_diameter_mm: 0 } },
    });
    const answers = [
      await plant.fitness("F-1"),
      await plant.run<unknown>("fitness.would_fit", { way: ["EN-1/1", "DB-1/1"], cable_type: "T-F-1" }),
    ];
    for (const answer of answers) {
      // JSON writes a number that is none as null: look at the values themselves.
      const numbers: number[] = [];
      const walk = (value: unknown): void => {
        if (typeof value === "number") numbers.push(value);
        else if (value !== null && typeof value === "object") for (const one of Object.values(value)) walk(one);
      };
      walk(answer);
      expect(numbers.filter((one) => !Number.isFinite(one))).toEqual([]);
      expect(JSON.stringify(answer)).not.toMatch(/NaN|Infinity|undefined|…/);
    }
    const fill = (await plant.of("F-1", "fill")).find(({ records }) => records[0]?.tag === "DB-1/1");
    expect(fill).toMatchObject({
      verdict: "cannot_tell",
      lacks: expect.arrayContaining(["its inner diameter, of `DB-1/1`"]),
    });
    expect((await plant.of("F-1", "tension")).every(({ verdict }) => verdict === "cannot_tell")).toBe(true);
  });

  it.each([
    ["a cable that is not on record", { what: "F-9" }, "not_found"],
    ["a record of another kind", { what: "DB-1" }, "not_found"],
    ["an empty name", { what: " " }, "bad_input"],
    ["a field that is none", { what: "F-1", wavelength: 1310 }, "bad_input"],
    ["an id of no cable", { what: 999 }, "not_found"],
  ])("are refused in words: %s", async (_, input, code) => {
    const plant = await ground();
    const reply = await plant.call("fitness.of", input);
    expect(reply).toMatchObject({ ok: false, error: { code } });
    if (!reply.ok) expect(reply.error.problems[0]?.reason).toMatch(/\w+/);
  });

  it("have no pull for a way of no length", async () => {
    const plant = await ground();
    noLength(plant, "DB-1");
    await plant.lay("F-1", GOOD, "MH-1 DB-1/1 MH-2");
    const [pull] = await plant.of("F-1", "tension");
    expect(pull?.verdict).toBe("cannot_tell");
    expect(pull?.fact).toBe("What pulling it through `DB-1` takes can't be told.");
    expect(pull?.lacks).toEqual(["its length (0\u202fm can't be), of `DB-1`"]);
    const order = await plant.run<WouldFitAnswer>("fitness.would_fit", { way: ["DB-1"], cable_type: "T-F-1" });
    expect(order.order).toMatchObject({ length_m: null, lacks: ["its length (0\u202fm can't be), of `DB-1`"] });
  });

  it("below zero stop neither an answer nor the check", async () => {
    const plant = await ground();
    await plant.lay("F-1", { ...GOOD, environment: "outdoor", fire_marking: null }, "LIB/ER EN-1/1 MH-1 DB-1/1 MH-2");
    // No act writes that: a file from elsewhere may hold it.
    const file = new Database(plant.path);
    file.exec("update pathway set length_m = -5, entrance_m = -5, depth_m = -5");
    file.exec("update conduit set inner_diameter_mm = -5");
    file.exec("update space set crossing_m = -5");
    file.exec("update stop set slack_m = -5, coil_diameter_mm = -5");
    file.exec("update cable_type set outer_diameter_mm = -5, max_tension_n = -5, bend_radius_mm = -5");
    file.close();
    const [pull] = await plant.of("F-1", "tension");
    expect(pull).toMatchObject({
      verdict: "cannot_tell",
      lacks: expect.arrayContaining(["its length (-5\u202fm can't be), of `EN-1`"]),
    });
    const [unlisted] = await plant.of("F-1", "unlisted");
    expect(unlisted?.fact).not.toMatch(/-\d/);
    expect(unlisted?.lacks).toContain("the point of entrance, of `EN-1`");
    const report = await plant.call("check.run");
    expect(report.ok).toBe(true);
    expect((await plant.call("fitness.would_fit", { way: ["EN-1/1", "DB-1/1"], cable_type: "T-F-1" })).ok).toBe(true);
  });

  it("take no way of no length, and say which record and field", async () => {
    const plant = await ground();
    const values = { tag: "DB-9", length_m: 0 };
    expect(await plant.call("record.add", { kind: "pathway", values })).toMatchObject({
      ok: false,
      error: {
        code: "bad_input",
        problems: [
          { record: expect.stringMatching(/DB-9/), field: "length", reason: expect.stringMatching(/from 0.001/) },
        ],
      },
    });
  });

  it("take negative lengths and depths nowhere", async () => {
    const plant = await ground();
    for (const values of [{ length_m: -1 }, { depth_m: -1 }, { entrance_m: -1 }]) {
      const id = await plant.store.read((reader) =>
        reader.rows<{ id: number }>("select id from pathway where tag = 'DB-1'"),
      );
      const reply = await plant.call("record.edit", { kind: "pathway", id: id[0]?.id, values });
      expect(reply).toMatchObject({ ok: false, error: { code: "bad_input" } });
    }
  });
});
