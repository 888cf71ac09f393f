/** The plan as a document to be printed: the drawing, then what is asked about stop by stop, and what can't be drawn. */
import { kindOf } from "../model/dictionary.ts";
import { formatLength, formatNumber } from "../model/units.ts";
import type { CampusDrawing, LineStyle } from "../paper/campus.ts";
import { wayStyle } from "../paper/campus.ts";
import { type Block, codeOf, type Document } from "../paper/document.ts";
import { say } from "../words/say.ts";
import type { AskedThing, PlanAnswer } from "./answer.ts";
import { placeShape, placeWords, wayWords } from "./words.ts";

export function planDocument(plan: PlanAnswer, today: string, revision: number | null): Document {
  const { asked, unplaced, sentence } = plan;
  const drawing = drawingOf(plan);
  const [first] = asked;
  const what =
    asked.length === 0 ? say`Plan of the campus` : say`Plan: ${asked.map(({ record }) => record.tag).join(", ")}`;
  return {
    paper: "document",
    title: {
      ...{ what, plant: plan.plant, made_on: today, revision, who: null },
      code: asked.length === 1 && first ? codeOf(first.record.kind, first.record.tag) : null,
    },
    blocks: [
      { is: "paragraph", text: sentence },
      ...(drawing ? [{ is: "campus", drawing } as const] : []),
      { is: "note", sign: "caution", text: NO_LOCATE },
      ...asked.flatMap(courseBlocks),
      ...(unplaced.length > 0 ? [unplacedBlock(plan)] : []),
    ],
  };
}

/** A drawing sends people to the ground; what holds there is on the ground. */
export const NO_LOCATE = say`A plan does not replace locating. Before anyone digs, have every utility marked as the local code says; the marks on the ground decide, and private lines are marked by nobody but their owner.`;

/** @param also places marked as the stops of what is asked about are, by their ids */
export function drawingOf(plan: PlanAnswer, also: ReadonlySet<number> = new Set()): CampusDrawing | null {
  const { extent_m, places, ways, asked } = plan;
  if (!extent_m) return null;
  const lit = new Map<number, number>();
  for (const [n, { legs }] of asked.entries())
    for (const { way } of legs) if (way && !lit.has(way.id)) lit.set(way.id, n);
  const stops = new Set([
    ...also,
    ...asked.flatMap((one) => one.stops.flatMap(({ space }) => (space ? [space.id] : []))),
  ]);
  for (const { record } of asked) if (record.kind === "space") stops.add(record.id);
  const homes = new Set(asked.flatMap(({ record }) => (record.kind === "building" ? [record.id] : [])));
  const spaces = places.filter(({ ref }) => ref.kind === "space");
  for (const { ref, building } of spaces) if (building !== null && stops.has(ref.id)) homes.add(building);
  const buildings = places.filter(({ ref }) => ref.kind === "building");
  const ended = new Set(ways.flatMap(({ ends }) => ends));
  // Rooms that no way comes to would only fill their buildings with names.
  const marked = spaces.filter(({ ref, at, building }) => at && (building === null || ended.has(ref.id)));
  const bare = buildings.filter(({ at, outline }) => at && !outline);
  return {
    ...{ plant: plan.plant, extent_m, asked: asked.map(({ record }) => record.tag), unit: "m" },
    outlines: buildings.flatMap(({ outline, ref }) =>
      outline ? [{ points: outline, strong: homes.has(ref.id) }] : [],
    ),
    lines: [
      ...ways.flatMap(({ points, kind, shape, ref }) =>
        points ? [{ points, style: wayStyle(kind, shape), asked: lit.get(ref.id) ?? null }] : [],
      ),
      ...asked.flatMap(({ legs }, n) =>
        legs.flatMap(({ way, points }) => (!way && points ? [{ points, style: "dotted" as const, asked: n }] : [])),
      ),
    ],
    marks: [
      ...bare.map(({ at, ref }) => ({ at: at as never, shape: "room", strong: homes.has(ref.id) })),
      ...marked.map(({ at, kind, building, ref }) => ({
        ...{ at: at as never, shape: placeShape(kind, building !== null), strong: stops.has(ref.id) },
      })),
    ],
    names: [
      ...buildings.flatMap(({ at, outline, ref, name }) =>
        at
          ? [
              {
                text: name ? `${ref.tag} ${name}` : ref.tag,
                at,
                rank: homes.has(ref.id) ? 0 : 2,
                clear_m: halfOf(outline),
              },
            ]
          : [],
      ),
      ...marked.flatMap(({ at, ref, building }) =>
        at && (building === null || stops.has(ref.id))
          ? [{ text: ref.tag, at, rank: stops.has(ref.id) ? 1 : 3, clear_m: [0, 0] as const }]
          : [],
      ),
      ...ways.flatMap(({ points, ref }) =>
        points ? [{ text: ref.tag, at: halfway(points), rank: lit.has(ref.id) ? 2 : 4, clear_m: [0, 0] as const }] : [],
      ),
    ],
    key: keyOf(plan, new Set(marked.map(({ kind, building }) => placeShape(kind, building !== null)))),
  };
}

const halfOf = (outline: readonly (readonly [number, number])[] | null): readonly [number, number] => {
  if (!outline) return [0, 0];
  const half = (at: 0 | 1) =>
    (Math.max(...outline.map((one) => one[at])) - Math.min(...outline.map((one) => one[at]))) / 2;
  return [half(0), half(1)];
};

/** The spot half of the way along a line. */
export function halfway(points: readonly (readonly [number, number])[]): readonly [number, number] {
  const steps = points.slice(1).map(([x, y], i) => Math.hypot(x - (points[i]?.[0] ?? x), y - (points[i]?.[1] ?? y)));
  let left = steps.reduce((sum, step) => sum + step, 0) / 2;
  for (const [i, step] of steps.entries()) {
    const [a, b] = [points[i], points[i + 1]];
    if (a && b && left <= step && step > 0)
      return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
    left -= step;
  }
  return points[0] ?? [0, 0];
}

function keyOf({ ways }: PlanAnswer, marks: ReadonlySet<string>): CampusDrawing["key"] {
  const lines = new Map<string, LineStyle>();
  for (const { kind, shape } of ways)
    if (shape)
      lines.set(shape === "straight" ? say`straight: no line on record` : wayWords(kind), wayStyle(kind, shape));
  return [
    ...[...lines].map(([words, line]) => ({ words, line, mark: null })),
    ...[...marks].map((mark) => ({ words: placeWords(mark), line: null, mark })),
  ];
}

function courseBlocks({ record, stops, legs, length_m, lacks }: AskedThing): Block[] {
  if (stops.length + legs.length === 0) return [];
  const whole = length_m === null ? say`not known: lacks ${lacks.join(", ")}` : formatLength(length_m, "m", 0);
  const one = kindOf(record.kind).one;
  return [
    { is: "heading", level: 2, text: `${one[0]?.toUpperCase()}${one.slice(1)} ${record.tag}` },
    { is: "values", rows: [{ word: say`Length of its ways`, value: whole }] },
    {
      is: "table",
      caption: say`Stops of ${record.tag}`,
      columns: [{ head: say`Stop` }, { head: say`Place`, weight: 2 }, { head: say`Cable`, weight: 2 }],
      rows: stops.map(({ space, cable }, n) => [String(n + 1), space?.tag ?? say`not on record`, cable.tag]),
      none: say`No stops are on record.`,
    },
    {
      is: "table",
      caption: say`Ways of ${record.tag}`,
      columns: [
        { head: say`Way`, weight: 2 },
        { head: say`Pipe`, weight: 2 },
        { head: say`Metres`, numeric: true },
        { head: say`Drawn`, weight: 2 },
      ],
      rows: legs.map(({ way, conduit, length_m: metres, shape }) => [
        way?.tag ?? say`not on record`,
        conduit?.tag ?? "",
        metres === null ? null : formatNumber(metres, 1),
        shape === "own"
          ? say`by its line`
          : shape === "straight"
            ? say`straight, no line on record`
            : say`not on the plan`,
      ]),
    },
  ];
}

const unplacedBlock = ({ unplaced }: PlanAnswer): Block => ({
  is: "table",
  caption: say`Not on the plan: no coordinates on record`,
  columns: [{ head: say`Record` }, { head: say`Kind` }],
  rows: unplaced.slice(0, 400).map(({ tag, kind }) => [tag, kindOf(kind).one]),
});
