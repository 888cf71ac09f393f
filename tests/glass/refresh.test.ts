/** The glass in memory, brought up to date from the change sets, is the glass read anew. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { positionEnd, sectionEnd } from "../../core/glass/end.ts";
import { jointsAt } from "../../core/glass/glass.ts";
import { loadPlantGlass, type PlantGlass } from "../../core/glass/plant-glass.ts";
import { TABLE_NAMES } from "../../core/glass/plant-tables.ts";
import type { Reader } from "../../core/store/handle.ts";
import type { Change } from "../../core/store/plan.ts";
import { build, dirtyPlant, TODAY } from "./dirty.ts";
import { Made, type MadePlant } from "./made.ts";

const pause = async () => {};

/** No plant here has more records of a kind. */
const IDS = 80;

/** All that is held, as plain values. */
async function contents(reader: Reader, glass: PlantGlass) {
  const assumed = await glass.on(reader, TODAY);
  const ends: Record<number, unknown> = {};
  for (let id = 1; id <= IDS; id += 1) {
    for (const side of ["A", "B"] as const) ends[sectionEnd(id, side)] = jointsAt(assumed, sectionEnd(id, side));
  }
  for (let id = 1; id <= IDS; id += 1) {
    for (const face of ["back", "front"] as const)
      ends[positionEnd(id, face)] = jointsAt(assumed, positionEnd(id, face));
  }
  const tables = TABLE_NAMES.map((name) => {
    const { last: _, ...columns } = glass.tables[name] as unknown as { last: number } & Record<
      string,
      { get(id: number): number }
    >;
    return Object.entries(columns).map(([column, values]) => [
      `${name}.${column}`,
      Array.from({ length: IDS }, (_, id) => values.get(id + 1)),
    ]);
  });
  const given = Array.from({ length: IDS }, (_, id) => [...glass.service.ofSection(id + 1)]);
  return { ends, tables, given };
}

const expectCurrent = (plant: MadePlant, held: PlantGlass) =>
  plant.read(async (reader) => {
    const refreshed = await loadPlantGlass(reader, pause, held);
    const anew = await loadPlantGlass(reader, pause);
    expect(refreshed).toBe(held);
    expect(refreshed.revision).toBe(anew.revision);
    expect(await contents(reader, refreshed)).toEqual(await contents(reader, anew));
  });

/** A change to some record that the glass depends on, chosen by a number. */
function changeOf(made: Made, n: number, extra: number): Change | null {
  const rows = made.rows.filter(({ kind }) =>
    [
      "splice",
      "termination",
      "cord",
      "module_join",
      "port",
      "panel",
      "assignment",
      "circuit",
      "section",
      "position",
    ].includes(kind),
  );
  const row = rows[n % rows.length];
  if (!row) return null;
  const { kind, id } = row;
  const update = (values: Change extends infer C ? (C extends { values: infer V } ? V : never) : never): Change => ({
    op: "update",
    kind,
    id,
    values,
  });
  switch (kind) {
    case "splice":
      return extra % 2 ? { op: "delete", kind, id } : update({ a_side: extra % 3 ? "A" : "B" });
    case "termination":
      return extra % 2 ? { op: "delete", kind, id } : update({ life: extra % 4 ? "removed" : "in_place" });
    case "cord":
      return update({
        map: (["straight", "crossed", "reversed"] as const)[extra % 3] ?? "straight",
        fibres: 1 + (extra % 3),
      });
    case "module_join":
      return update({ a_side: extra % 2 ? "front" : "back" });
    case "port":
      return update({ front: extra % 2 ? "empty" : null });
    case "panel":
      return update({ space_id: 1 + (extra % made.rows.filter((each) => each.kind === "space").length) });
    case "assignment":
      return update({ until_on: extra % 2 ? "2031-01-01" : null });
    case "circuit":
      return update({ state: extra % 2 ? "retired" : "in_service" });
    case "section":
      return update({ b_stop_id: 1 });
    default:
      return update({ ordinal: 100 + (extra % 40) });
  }
}

describe("glass held in memory", () => {
  it("is current after any run of changes", async () => {
    await fc.assert(
      fc.asyncProperty(
        dirtyPlant,
        fc.array(fc.array(fc.tuple(fc.nat(10_000), fc.nat(100)), { minLength: 1, maxLength: 4 }), {
          minLength: 1,
          maxLength: 4,
        }),
        async (recipe, edits) => {
          const { made } = build(recipe);
          const plant = await made.plant();
          try {
            const held = await plant.read((reader) => loadPlantGlass(reader, pause));
            const gone = new Set<string>();
            for (const edit of edits) {
              const changes = new Map<string, Change>();
              for (const [n, extra] of edit) {
                const change = changeOf(made, n, extra);
                if (!change || gone.has(`${change.kind} ${change.id}`)) continue;
                changes.set(`${change.kind} ${change.id}`, change);
              }
              for (const [key, { op }] of changes) if (op === "delete") gone.add(key);
              await plant.write([...changes.values()]);
              await expectCurrent(plant, held);
            }
          } finally {
            await plant.close();
          }
        },
      ),
      { numRuns: 30, seed: 4 },
    );
  });

  it("takes in new records, and lets go of them when they are undone", async () => {
    const made = new Made();
    const hole = made.room("MH-1", null);
    const first = made.cable("F-1", [made.room("MH-2", null), hole], 4);
    const plant = await made.plant();
    const held = await plant.read((reader) => loadPlantGlass(reader, pause));
    const before = made.rows.length;
    const second = made.cable("F-2", [hole, made.room("MH-3", null)], 4);
    for (let n = 0; n < 4; n += 1) made.splice(first.sections[n], "B", second.sections[n], "A");
    await plant.write(made.changes().slice(before));
    await expectCurrent(plant, held);
    expect(jointsAt(held, sectionEnd(first.sections[3] as number, "B"))).toHaveLength(1);
    await plant.run("history.undo", {});
    await expectCurrent(plant, held);
    expect(jointsAt(held, sectionEnd(first.sections[3] as number, "B"))).toEqual([]);
    await plant.run("history.redo", {});
    await expectCurrent(plant, held);
  });

  it("follows a position that a cord's fibre sits in", async () => {
    const made = new Made();
    const room = made.room("R", made.building("B"));
    const panels = [made.panel("A", room, 1, 2), made.panel("B", room, 1, 2)];
    made.cord(panels[0]?.ports[0], panels[1]?.ports[0], { fibres: 2, map: "crossed" });
    const plant = await made.plant();
    const held = await plant.read((reader) => loadPlantGlass(reader, pause));
    const [one, two] = panels[1]?.positions ?? [];
    await plant.write([
      { op: "update", kind: "position", id: one as number, values: { ordinal: 3 } },
      { op: "update", kind: "position", id: two as number, values: { ordinal: 1 } },
    ]);
    await expectCurrent(plant, held);
    const front = positionEnd(panels[0]?.positions[1] as number, "front");
    expect(jointsAt(held, front)).toMatchObject([{ to: positionEnd(two as number, "front"), kind: "cord" }]);
  });
});
