/** Where a leg or stop lies, as far as the record says: indoors or out, wet or dry, in the sun or not. */
import type { Facts, FitLeg, FitPathway, FitSpace, FitStop } from "./facts.ts";

const INDOOR = ["dry_indoor", "riser", "plenum"] as const;
const ROOMS = ["entrance_room", "telecom_room", "equipment_room"] as const;
const isOf = (list: readonly string[], value: string | null | undefined): boolean =>
  value !== null && value !== undefined && list.includes(value);

export type Side = "indoors" | "outdoors" | null;

/** Whether a place is inside a building; null where nobody can tell. */
export function sideOf(space: FitSpace | undefined): Side {
  if (!space) return null;
  if (space.building_id !== null || isOf(INDOOR, space.environment) || isOf(ROOMS, space.kind)) return "indoors";
  return space.kind === null || space.kind === "other"
    ? isOf(["outdoor", "flooded"], space.environment)
      ? "outdoors"
      : null
    : "outdoors";
}

export interface Lie {
  readonly side: Side;
  readonly wet: boolean | null;
  readonly sun: boolean | null;
}

/** Where a way lies. A way without an environment lies where its kind and its ends say. */
export function lieOf(facts: Facts, way: FitPathway | undefined): Lie {
  if (!way) return { side: null, wet: null, sun: null };
  const ends = [way.from_space_id, way.to_space_id].map((id) => facts.spaces.get(id ?? 0));
  const [a, b] = ends.map(sideOf);
  const within = a === "indoors" && b === "indoors" && ends[0]?.building_id === ends[1]?.building_id;
  const ground = way.kind === "duct_bank" || way.kind === "direct_buried";
  const open = way.kind === "aerial";
  const side: Side = isOf(INDOOR, way.environment)
    ? "indoors"
    : isOf(["outdoor", "flooded"], way.environment) || ground || open
      ? "outdoors"
      : within
        ? "indoors"
        : a === "outdoors" || b === "outdoors" || (a === "indoors" && b === "indoors")
          ? "outdoors"
          : null;
  const wet =
    isOf(["damp", "flooded"], way.environment) || side === "outdoors" ? true : side === "indoors" ? false : null;
  const exposed = (way.exposure ?? "").split(/[ ,]+/).includes("sun");
  const sun = exposed || open ? true : ground || way.kind === "tunnel" || side === "indoors" ? false : null;
  return { side, wet, sun };
}

/** Closed on all sides: no sun gets in. */
const HOLES = ["hand_hole", "maintenance_hole", "pull_box"] as const;
const BOXES = ["cabinet", "pedestal"] as const;

/** What a place does to a cable in it. A damp room is judged apart: it is not wet as a hole is. */
export function lieIn(space: FitSpace): Lie {
  const { kind, environment } = space;
  const open = isOf(["outdoor", "flooded"], environment);
  // A building's roof or yard lies outdoors, whatever building it belongs to.
  const side: Side = open ? "outdoors" : sideOf(space);
  const box = isOf(BOXES, kind);
  const damp = environment === "damp" && side !== "indoors";
  const wet = open || damp || (side === "outdoors" && !box) ? true : side === "indoors" ? false : null;
  const sun = kind === "pole" ? true : isOf(HOLES, kind) || box || side === "indoors" ? false : null;
  return { side, wet, sun };
}

export const isExposed = (way: FitPathway | undefined, to: "rodents" | "lightning" | "sun" | "traffic"): boolean =>
  (way?.exposure ?? "").split(/[ ,]+/).includes(to);

export const stopsById = (stops: readonly FitStop[]): Map<number, FitStop> =>
  new Map(stops.map((stop) => [stop.id, stop]));

/** Legs of a cable between neighbouring stops, by the ids of these, in either direction. */
export const legKey = ({ from_stop_id: a, to_stop_id: b }: Pick<FitLeg, "from_stop_id" | "to_stop_id">): string =>
  a < b ? `${a} ${b}` : `${b} ${a}`;
