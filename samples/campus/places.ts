/** Parties, buildings, spaces, ways and pipes. */
import type { Crew } from "./crew.ts";
import { numberOf, table, textOf } from "./tables.ts";

/** An invented point in the open Atlantic; x goes east, y north, in metres. */
const ORIGIN = { longitude: -38.6, latitude: 41.9 };
const METRES_A_DEGREE = 111_320;

export const longitude = (x: number): number =>
  round(ORIGIN.longitude + x / (METRES_A_DEGREE * Math.cos((ORIGIN.latitude * Math.PI) / 180)));
export const latitude = (y: number): number => round(ORIGIN.latitude + y / METRES_A_DEGREE);
const round = (degrees: number): number => Math.round(degrees * 1e7) / 1e7;

export interface Way {
  readonly tag: string;
  readonly kind: string;
  readonly from: string;
  readonly to: string;
  readonly length_m: number;
  readonly pipes: number;
}

export interface SpaceFacts {
  readonly address: string;
  readonly x: number;
  readonly y: number;
  readonly crossing_m: number;
  readonly outdoors: boolean;
}

export interface Places {
  readonly spaces: ReadonlyMap<string, SpaceFacts>;
  readonly ways: readonly Way[];
}

export async function enterPlaces(crew: Crew): Promise<Places> {
  crew.survey("clerk", "2026-01-05", "first reading of the old drawings");
  await crew.add("party", [
    { tag: "VMC", name: "Vennholm Marine College", role: "self", contact_day: "desk 40", contact_night: "gate 1" },
    {
      tag: "OUTER",
      name: "Outer Sound Carriers",
      role: "carrier",
      contact_day: "island exchange, ext. 7",
      contact_night: "harbour watch",
      agreement: "A-2010-3",
    },
    {
      tag: "WEATHER",
      name: "Island Weather Service",
      role: "tenant",
      contact_day: "Signal Tower",
      until_on: "2028-06-30",
    },
    {
      tag: "SPLICECO",
      name: "Narrow Sea Splicing",
      role: "contractor",
      contact_day: "slip 4",
      contact_night: "slip 4",
    },
    { tag: "HARBOUR", name: "Harbour Authority", role: "authority", contact_day: "pier head" },
  ]);

  const buildings = table<"tag" | "name" | "use" | "x" | "y" | "width" | "depth" | "ways_wanted" | "entrances">(
    "buildings",
  );
  await crew.add(
    "building",
    buildings.map((row) => {
      const [x, y, w, d] = [Number(row.x), Number(row.y), Number(row.width) / 2, Number(row.depth) / 2];
      const corners = [
        [x - w, y - d],
        [x + w, y - d],
        [x + w, y + d],
        [x - w, y + d],
        [x - w, y - d],
      ] as const;
      return {
        tag: row.tag,
        name: row.name,
        use: row.use,
        longitude: longitude(x),
        latitude: latitude(y),
        outline: corners.map(([cx, cy]) => [longitude(cx), latitude(cy)]),
        entrances: row.entrances,
        ways_wanted: numberOf(row.ways_wanted),
        basis: "drawn",
      };
    }),
  );

  const rows = table<
    | "tag"
    | "building"
    | "kind"
    | "name"
    | "floor"
    | "environment"
    | "x"
    | "y"
    | "inner_length_m"
    | "inner_width_m"
    | "inner_depth_m"
    | "reach_m"
    | "hazards"
  >("spaces");
  await crew.add(
    "space",
    rows.map((row) => ({
      tag: row.tag,
      name: textOf(row.name),
      building_id: textOf(row.building),
      floor: textOf(row.floor),
      kind: row.kind,
      environment: row.environment,
      longitude: longitude(Number(row.x)),
      latitude: latitude(Number(row.y)),
      accuracy_m: row.building ? 2 : 0.5,
      inner_length_m: numberOf(row.inner_length_m),
      inner_width_m: numberOf(row.inner_width_m),
      inner_depth_m: numberOf(row.inner_depth_m),
      reach_m: numberOf(row.reach_m),
      hazards: textOf(row.hazards),
      basis: row.building ? "seen" : "drawn",
    })),
  );
  const spaces = new Map(
    rows.map((row): [string, SpaceFacts] => {
      const address = row.building ? `${row.building}/${row.tag}` : row.tag;
      const perimeter = 2 * (Number(row.inner_length_m || 0) + Number(row.inner_width_m || 0));
      return [
        address,
        { address, x: Number(row.x), y: Number(row.y), crossing_m: 0.75 * perimeter, outdoors: row.building === "" },
      ];
    }),
  );

  const ways = table<
    | "tag"
    | "kind"
    | "from"
    | "to"
    | "extra_m"
    | "environment"
    | "depth_m"
    | "pipes"
    | "pipe_mm"
    | "located_by"
    | "exposure"
  >("pathways").map((row) => {
    const [a, b] = [spaces.get(row.from), spaces.get(row.to)];
    if (!a || !b) throw new Error(`pathways.csv: ${row.tag} leads to no space`);
    const length_m = Math.round((Math.hypot(a.x - b.x, a.y - b.y) + Number(row.extra_m)) * 10) / 10;
    return { ...row, length_m, line: [a, b].map(({ x, y }) => [longitude(x), latitude(y)]) };
  });
  await crew.add(
    "pathway",
    ways.map((way) => ({
      tag: way.tag,
      kind: way.kind,
      from_space_id: way.from,
      to_space_id: way.to,
      length_m: way.length_m,
      ...entranceOf(way, spaces),
      environment: way.environment,
      depth_m: numberOf(way.depth_m),
      geometry: way.line,
      accuracy_m: 3,
      located_by: textOf(way.located_by),
      exposure: textOf(way.exposure),
      ...(way.tag === "FD-01" ? { owner_id: "OUTER", notes: "The carrier's own duct." } : {}),
      basis: "drawn",
    })),
  );
  await crew.add(
    "conduit",
    ways.flatMap((way) =>
      Array.from({ length: Number(way.pipes) }, (_, i) => ({
        tag: String(i + 1),
        pathway_id: way.tag,
        bank_row: Math.floor(i / 2) + 1,
        bank_column: (i % 2) + 1,
        material: "PVC",
        trade_size: way.pipe_mm === "103" ? "4 in" : "2 in",
        inner_diameter_mm: numberOf(way.pipe_mm),
        state: "unproven",
        basis: "drawn",
      })),
    ),
  );
  // Innerducts in the two busiest entrances, and a bundle of microducts between MH-06 and MH-07.
  await crew.add(
    "conduit",
    ["EN-02", "EN-04"].flatMap((way) =>
      ["orange", "blue", "green"].map((colour, i) => ({
        tag: `1.${i + 1}`,
        pathway_id: way,
        parent_id: `${way}/1`,
        colour,
        material: "HDPE",
        inner_diameter_mm: 33,
        state: "free",
        pull_line: "yes",
      })),
    ),
  );
  await crew.add(
    "conduit",
    ["DB-17", "DB-18"].flatMap((way) =>
      Array.from({ length: 7 }, (_, i) => ({
        tag: `1.${i + 1}`,
        pathway_id: way,
        parent_id: `${way}/1`,
        colour: ["blue", "orange", "green", "brown", "slate", "white", "red"][i],
        material: "HDPE",
        inner_diameter_mm: 10,
        state: "free",
      })),
    ),
  );
  for (let i = 1; i <= 7; i += 1) {
    const [a, b] = [await crew.idOf("conduit", `DB-17/1.${i}`), await crew.idOf("conduit", `DB-18/1.${i}`)];
    await crew.ask("record.change_many", {
      changes: [
        { op: "edit", kind: "conduit", id: a, values: { to_coupled_id: b } },
        { op: "edit", kind: "conduit", id: b, values: { from_coupled_id: a } },
      ],
    });
  }
  return { spaces, ways: ways.map((way) => ({ ...way, pipes: Number(way.pipes) })) };
}

/** A way from outdoors comes through the wall this far before it ends in its entrance room. */
const BEHIND_WALL_M = 5;

function entranceOf(
  { from, to, length_m }: Pick<Way, "from" | "to" | "length_m">,
  spaces: Places["spaces"],
): { readonly entrance_m?: number } {
  const [a, b] = [spaces.get(from)?.outdoors, spaces.get(to)?.outdoors];
  if (a === b) return {};
  return { entrance_m: a ? Math.round((length_m - BEHIND_WALL_M) * 10) / 10 : BEHIND_WALL_M };
}

/** Earthing and fire: what stands in the entrance rooms. */
export async function enterEarthing(crew: Crew): Promise<void> {
  crew.survey("clerk", "2026-02-02", "earthing survey");
  const rooms = ["LMP", "BKR", "TID", "KLP", "WAV", "GLS", "INF", "PWR", "GAT", "SIG", "RSN"];
  await crew.add(
    "busbar",
    rooms.map((building) => ({ tag: "EB", space_id: `${building}/ER`, connected_to: "building earth", basis: "seen" })),
  );
  await crew.add(
    "firestop",
    ["RI-01", "RI-04", "RI-06", "RI-07", "RI-08", "RI-09", "RI-10", "RI-11"].map((way, i) => ({
      tag: "FS-1",
      pathway_id: way,
      rating: "2 h",
      listed_system: `sleeve and mortar, sheet ${i + 3}`,
      made_on: `20${10 + i}-06-01`,
      // All but the first were opened for the last cable and sealed again.
      ...(i === 0 ? {} : { opened_on: `20${16 + i}-06-20` }),
      inspected_on: "2025-10-14",
      basis: "seen",
    })),
  );
}
