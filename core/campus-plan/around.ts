/** The part of the campus around some places, so that somebody who has never been there finds them and what is broken between. */
import { flatAround, type Spot } from "../model/flat.ts";
import type { CampusDrawing, PlanName } from "../paper/campus.ts";
import type { Block } from "../paper/document.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { drawingOf, NO_LOCATE } from "./paper.ts";
import { campusPlan } from "./plan.ts";

interface Position {
  readonly longitude: number;
  readonly latitude: number;
}

export interface GroundAsked {
  /** What is drawn strong: cables or ways, by their tags. */
  readonly of: readonly string[];
  readonly places: readonly { readonly place: RecordRef; readonly spot: Position | null }[];
  /** Where a way is broken. */
  readonly breaks: readonly Position[];
}

/** So much of the ground beyond the outermost place is drawn, of the whole, and in metres at least. */
const EDGE = 0.12;
const EDGE_M = 25;
/** So many metres around a break are drawn by themselves where the whole is so many times as wide. */
const NEAR_M = 60;
const WIDE = 3;
/** What is named outside the drawing isn't named in it: a line is looked along in so many steps. */
const STEPS = 40;

/** Empty where none of the places has coordinates. */
export async function groundBlocks(
  reader: Reader,
  { of, places, breaks }: GroundAsked,
  today: string,
): Promise<Block[]> {
  const plan = await campusPlan(reader, of, today);
  const spaces = new Set(places.flatMap(({ place }) => (place.kind === "space" ? [place.id] : [])));
  const drawing = drawingOf(plan, spaces);
  if (!drawing || !plan.middle) return [];
  const { spot } = flatAround(plan.middle);
  const flat = ({ longitude, latitude }: Position): Spot => spot([longitude, latitude]);
  const drawn = new Map(
    plan.places.flatMap(({ ref, at }) => (ref.kind === "space" && at ? [[ref.id, at] as const] : [])),
  );
  const at = places.flatMap(({ place, spot: own }): Spot[] => {
    const known = drawn.get(place.id) ?? (own ? flat(own) : null);
    return known ? [known] : [];
  });
  const broken = breaks.map(flat);
  // A hole that is only planned has no place on the plan yet.
  const dug = places.flatMap(({ place, spot: own }) =>
    own && !drawn.has(place.id) ? [{ tag: place.tag, at: flat(own) }] : [],
  );
  if (at.length + broken.length === 0) return [];
  const whole = aroundAll([...at, ...broken], EDGE_M);
  const near = broken.length > 0 ? aroundAll(broken, NEAR_M) : whole;
  // Of a job that goes far and wide the break would be a dot on the whole of it.
  const wide =
    Math.max(whole[2] - whole[0], whole[3] - whole[1]) > WIDE * Math.max(near[2] - near[0], near[3] - near[1]);
  const croppedTo = (extent_m: CampusDrawing["extent_m"]): CampusDrawing => {
    const inside = ([x, y]: Spot): boolean =>
      x >= extent_m[0] && y >= extent_m[1] && x <= extent_m[2] && y <= extent_m[3];
    const meets = (points: readonly Spot[]): boolean => along(points).some(inside);
    const holes = dug.filter((one) => inside(one.at));
    const crosses = broken.filter(inside);
    const lines = drawing.lines.filter(({ points }) => meets(points));
    const marks = [
      ...drawing.marks.filter((mark) => inside(mark.at)),
      ...holes.map((one) => ({ at: one.at, shape: "hand_hole", strong: true })),
      ...crosses.map((one) => ({ at: one, shape: "break", strong: true })),
    ];
    return {
      ...drawing,
      extent_m,
      cropped: true,
      outlines: drawing.outlines.filter(({ points }) => meets(points)),
      lines,
      marks,
      names: [
        ...plan.ways.flatMap(({ points, ref }) => named(ref.tag, points, inside, drawing.names)),
        ...drawing.names.filter((name) => inside(name.at) && !plan.ways.some(({ ref }) => ref.tag === name.text)),
        ...holes.map((one) => ({ text: one.tag, at: one.at, rank: 0, clear_m: [0, 0] as const })),
        ...crosses.map((one) => ({ text: say`the break`, at: one, rank: 0, clear_m: [0, 0] as const })),
      ],
      key: [
        ...drawing.key.filter(({ line, mark }) =>
          line === null ? marks.some(({ shape }) => shape === mark) : lines.some(({ style }) => style === line),
        ),
        ...(crosses.length > 0 ? [{ words: say`the break, as the record has it`, line: null, mark: "break" }] : []),
      ],
    };
  };
  return [
    { is: "heading", level: 1, text: say`The places from above` },
    ...(wide ? [{ is: "campus", drawing: croppedTo(near) } as const] : []),
    { is: "campus", drawing: croppedTo(whole) },
    { is: "note", sign: "caution", text: NO_LOCATE },
  ];
}

/** @param least_m of the ground beyond the outermost of them */
function aroundAll(spots: readonly Spot[], least_m: number): CampusDrawing["extent_m"] {
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  const [west, south, east, north] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const edge = Math.max(least_m, EDGE * Math.max(east - west, north - south));
  return [west - edge, south - edge, east + edge, north + edge];
}

/** Spots along a line, its corners among them. */
function along(points: readonly Spot[]): Spot[] {
  return points.flatMap((point, index): Spot[] => {
    const next = points[index + 1];
    if (!next) return [point];
    return Array.from({ length: STEPS }, (_, step) => [
      point[0] + ((next[0] - point[0]) * step) / STEPS,
      point[1] + ((next[1] - point[1]) * step) / STEPS,
    ]);
  });
}

/** A way is named in the middle of what is seen of it. */
function named(
  tag: string,
  points: readonly Spot[] | null,
  inside: (spot: Spot) => boolean,
  names: readonly PlanName[],
): PlanName[] {
  const own = names.find(({ text }) => text === tag);
  const seen = points ? along(points).filter(inside) : [];
  const middle = seen[Math.floor(seen.length / 2)];
  return own && middle ? [{ ...own, at: middle }] : [];
}
