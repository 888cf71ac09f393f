/** Cable types, and cables along their routes with marks, coils and pipes. */
import type { Crew } from "./crew.ts";
import type { Places, Way } from "./places.ts";
import { listOf, numberOf, table, textOf } from "./tables.ts";

export async function enterTypes(crew: Crew): Promise<void> {
  crew.survey("clerk", "2026-01-06", "data sheets");
  const rows = table<
    | "tag"
    | "construction"
    | "lay"
    | "sequence"
    | "unit_colours"
    | "strand_colours"
    | "fibre_class"
    | "layout"
    | "armour"
    | "metal"
    | "water_blocking"
    | "uv"
    | "made_for"
    | "fire"
    | "outer_mm"
    | "bend_mm"
    | "bend_pulled_mm"
    | "tension_n"
    | "excess"
    | "index_1310"
    | "index_1550"
  >("types");
  await crew.add(
    "cable_type",
    rows.map((row) => ({
      tag: row.tag,
      construction: row.construction,
      lay: row.lay,
      colour_sequence: row.sequence,
      unit_colours: row.unit_colours ? listOf(row.unit_colours) : null,
      strand_colours: row.strand_colours ? listOf(row.strand_colours) : null,
      fibre_class: row.fibre_class,
      armour: row.armour,
      metal: row.metal,
      water_blocking: row.water_blocking,
      uv_resistant: row.uv,
      environment: row.made_for,
      fire_marking: textOf(row.fire),
      outer_diameter_mm: numberOf(row.outer_mm),
      bend_radius_mm: numberOf(row.bend_mm),
      bend_radius_loaded_mm: numberOf(row.bend_pulled_mm),
      max_tension_n: numberOf(row.tension_n),
      excess_ratio: numberOf(row.excess),
      index_1310: numberOf(row.index_1310),
      index_1550: numberOf(row.index_1550),
      basis: "drawn",
    })),
  );
  for (const { tag, layout } of rows) await enterLayout(crew, tag, layout);
}

/** "6 tube > 6 ribbon 12 250": six tubes, in each six ribbons of twelve strands with 250 µm; " / " for another group. */
async function enterLayout(crew: Crew, type: string, layout: string): Promise<void> {
  for (const [index, group] of layout.split(" / ").entries()) {
    let parent: string | null = null;
    const levels = group.split(" > ");
    for (const [depth, level] of levels.entries()) {
      const [repeats = "1", kind = "tube", strands, coating, fibre_class] = level.trim().split(" ");
      const ordinal: number = parent === null ? index + 1 : 1;
      await crew.add("unit_type", [
        {
          cable_type_id: type,
          parent_id: parent,
          ordinal,
          kind,
          repeats: Number(repeats),
          strands: depth === levels.length - 1 ? Number(strands) : 0,
          coating_um: coating ?? null,
          fibre_class: fibre_class ?? null,
        },
      ]);
      parent = parent === null ? `${type}/${ordinal}` : `${parent}/${ordinal}`;
    }
  }
}

export interface CableRow {
  readonly tag: string;
  readonly type: string;
  readonly route: readonly string[];
  readonly landed: string;
  /** The day it was laid; empty where nobody knows. */
  readonly installed: string;
}

const FEET = 0.3048;
const HELD: Readonly<Record<string, string>> = {
  duct_bank: "loose",
  aerial: "self_supporting",
  direct_buried: "buried",
  riser: "clamped",
  sleeve: "loose",
  cable_tray: "laid",
  tunnel: "laid",
};

export async function enterCables(crew: Crew, places: Places): Promise<CableRow[]> {
  const rows = table<
    | "tag"
    | "type"
    | "run"
    | "route"
    | "unit"
    | "start"
    | "direction"
    | "coils"
    | "installed"
    | "landed"
    | "owner"
    | "note"
    | "break"
  >("cables");
  const metallic = new Set(
    table<"tag" | "armour" | "metal">("types")
      .filter(({ armour, metal }) => armour === "metallic" || metal === "yes")
      .map(({ tag }) => tag),
  );
  const taken = new Map<string, number>();
  const pipeFor = (way: Way): string | null => {
    if (way.pipes === 0) return null;
    const n = taken.get(way.tag) ?? 0;
    taken.set(way.tag, n + 1);
    return `${way.tag}/${(n % way.pipes) + 1}`;
  };
  for (const row of rows) {
    crew.survey("clerk", row.installed < "2020" ? "2026-01-08" : "2026-01-12", "as-built sheets of the laying crews");
    crew.stood(row.installed);
    const route = listOf(row.route);
    const coils = new Map(listOf(row.coils).map((coil) => coil.split(":") as [string, string]));
    const step = (metres: number) =>
      Math.round(metres / (row.unit === "ft" ? FEET : 1)) * (row.direction === "down" ? -1 : 1);
    // "1140:0": after 1140 the sheath was printed anew from 0.
    const [at_mark = Number.POSITIVE_INFINITY, jumps_to = 0] = listOf(row.break.replace(":", " ")).map(Number);
    const printed = (way: number) => (way > at_mark ? jumps_to + way - at_mark : way);
    let mark = Number(row.start);
    const stops = route.map((space, i) => {
      const next = route[i + 1];
      const way = next === undefined ? undefined : wayBetween(places.ways, space, next);
      const end = i === 0 || i === route.length - 1;
      const facts = places.spaces.get(space);
      const mark_in = i === 0 ? null : printed(mark);
      if (!end) mark += step((facts?.crossing_m ?? 0) + Number(coils.get(space) ?? 0));
      const mark_out = i === route.length - 1 ? null : printed(mark);
      // Laid cable is a little longer than its way.
      if (way) mark += step(way.length_m * 1.01);
      const conduit = way ? (row.type === "MD-24" ? `${way.tag}/1.1` : pipeFor(way)) : null;
      return {
        space,
        kind: end ? "end" : "passing",
        reachable: "yes",
        ...(row.unit ? { mark_in, mark_out, marks_basis: "read" } : {}),
        ...(end ? { slack_m: facts?.outdoors ? 6 : 8, storage: facts?.outdoors ? "coil" : "rack" } : {}),
        // What the earthing survey saw in the entrance rooms.
        ...(metallic.has(row.type) && !facts?.outdoors ? { metal: "bonded", metal_on: "2026-02-02" } : {}),
        ...(coils.has(space) ? { storage: "coil", coil_diameter_mm: 900 } : {}),
        ...(way
          ? {
              way: {
                pathway: way.tag,
                conduit,
                held: row.type === "MD-24" ? "blown" : (HELD[way.kind] ?? null),
                slides: HELD[way.kind] === "loose" ? "yes" : "no",
              },
            }
          : {}),
      };
    });
    await crew.ask("cable.enter", {
      tag: row.tag,
      name: textOf(row.note),
      type: textOf(row.type),
      run: textOf(row.run),
      mark_unit: textOf(row.unit),
      ...(row.break ? { mark_breaks: [{ at_mark, jumps_to }] } : {}),
      installed_on: textOf(row.installed),
      owner: textOf(row.owner),
      basis: row.installed && row.installed < "2010" ? "drawn" : "seen",
      stops,
    });
  }
  return rows.map(({ tag, type, route, landed, installed }) => ({
    tag,
    type,
    route: listOf(route),
    landed,
    installed,
  }));
}

function wayBetween(ways: readonly Way[], a: string, b: string): Way {
  const found = ways.find(({ from, to }) => (from === a && to === b) || (from === b && to === a));
  if (!found) throw new Error(`no way from ${a} to ${b}`);
  return found;
}
