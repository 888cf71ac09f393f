/** What can be pointed at on the plan: places and ways by one name, found by a pixel, by an arrow, or along what is asked. */
import type { PlanAnswer, PlanPlace, PlanWay, Spot } from "../../../core/campus-plan/answer.ts";

export type Thing =
  | { readonly key: string; readonly place: PlanPlace; readonly way?: undefined }
  | { readonly key: string; readonly way: PlanWay; readonly place?: undefined };

export const refOf = ({ place, way }: Thing): PlanPlace["ref"] => (place ?? (way as PlanWay)).ref;

export const keyOf = ({ kind, id }: { readonly kind: string; readonly id: number }): string => `${kind}-${id}`;

export interface Things {
  readonly all: readonly Thing[];
  readonly byKey: ReadonlyMap<string, Thing>;
  /** Ways by the id of the space at either end. */
  readonly waysAt: ReadonlyMap<number, readonly PlanWay[]>;
  /** Spaces by the id of the building they are in. */
  readonly spacesIn: ReadonlyMap<number, readonly PlanPlace[]>;
  /** What is asked about, stop by stop and way by way, in its order. */
  readonly course: readonly string[];
}

export function thingsOf({ places, ways, asked }: PlanAnswer): Things {
  const all: Thing[] = [
    ...places.map((place) => ({ key: keyOf(place.ref), place })),
    ...ways.map((way) => ({ key: keyOf(way.ref), way })),
  ];
  const waysAt = new Map<number, PlanWay[]>();
  for (const way of ways) for (const end of new Set(way.ends)) if (end !== null) put(waysAt, end, way);
  const spacesIn = new Map<number, PlanPlace[]>();
  for (const place of places) if (place.building !== null) put(spacesIn, place.building, place);
  const byKey = new Map(all.map((one) => [one.key, one]));
  const course = asked.flatMap(({ record, stops, legs }) => {
    const turns: string[] = [];
    for (let n = 0; n < Math.max(stops.length, legs.length); n++) {
      const [stop, leg] = [stops[n]?.space, legs[n]?.way];
      if (stop) turns.push(keyOf(stop));
      if (leg) turns.push(keyOf(leg));
    }
    return turns.length > 0 ? turns : [keyOf(record)];
  });
  return { all, byKey, waysAt, spacesIn, course: [...new Set(course)].filter((key) => byKey.has(key)) };
}

function put<V>(map: Map<number, V[]>, key: number, value: V): void {
  const own = map.get(key);
  if (own) own.push(value);
  else map.set(key, [value]);
}

/** The spot by which a thing is known; null where it isn't on the plan. */
export const spotOf = ({ place, way }: Thing): Spot | null => place?.at ?? (way?.points ? half(way.points) : null);

export function half(points: readonly Spot[]): Spot {
  const steps = points.slice(1).map((point, i) => apart(points[i] as Spot, point));
  let left = steps.reduce((sum, step) => sum + step, 0) / 2;
  for (const [i, step] of steps.entries()) {
    const [a, b] = [points[i] as Spot, points[i + 1] as Spot];
    if (left <= step && step > 0) return [a[0] + ((b[0] - a[0]) * left) / step, a[1] + ((b[1] - a[1]) * left) / step];
    left -= step;
  }
  return points[0] ?? [0, 0];
}

const apart = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The length of a line as it is drawn, in metres. */
export const drawnLength = (points: readonly Spot[]): number =>
  points.slice(1).reduce((sum, point, i) => sum + apart(points[i] as Spot, point), 0);

function toSegment([x, y]: Spot, a: Spot, b: Spot): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const whole = dx * dx + dy * dy;
  const t = whole === 0 ? 0 : Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / whole));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

export function inside([x, y]: Spot, ring: readonly Spot[]): boolean {
  let within = false;
  for (let i = 1; i < ring.length; i++) {
    const [[ax, ay], [bx, by]] = [ring[i - 1] as Spot, ring[i] as Spot];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) within = !within;
  }
  return within;
}

/** The nearest of the things offered, none farther than `far` metres. */
class Nearest {
  thing: Thing | null = null;
  private far: number;
  constructor(far: number) {
    this.far = far;
  }
  offer(thing: Thing, far: number): void {
    if (far > this.far) return;
    this.far = far;
    this.thing = thing;
  }
}

/** What lies under a spot, `reach` metres around it: a place before a way, and these before a footprint. */
export function under(things: Things, spot: Spot, reach: number): Thing | null {
  const places = new Nearest(reach);
  const ways = new Nearest(reach);
  for (const thing of things.all) {
    const { place, way } = thing;
    if (place?.at && place.ref.kind === "space" && place.from === "own") places.offer(thing, apart(place.at, spot));
    const points = way?.points ?? [];
    for (let i = 1; i < points.length; i++)
      ways.offer(thing, toSegment(spot, points[i - 1] as Spot, points[i] as Spot));
  }
  const best = places.thing ?? ways.thing;
  if (best) return best;
  return (
    things.all.find(({ place }) => place?.outline && inside(spot, place.outline)) ?? nearestBare(things, spot, reach)
  );
}

const nearestBare = ({ all }: Things, spot: Spot, reach: number): Thing | null =>
  all.find(({ place }) => place?.at && !place.outline && apart(place.at, spot) <= reach) ?? null;

export const ARROWS: Readonly<Record<string, Spot>> = {
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};
/** Cosine of the widest angle at which a way still leads in an arrow's direction. */
const AHEAD = 0.3;

/** The next thing in an arrow's direction: from a place the way that leads there, from a way its end, else what is nearest. */
export function stepTo(things: Things, from: Thing | null, arrow: Spot): Thing | null {
  if (!from) return things.byKey.get(things.course[0] ?? "") ?? things.all.find((one) => spotOf(one)) ?? null;
  const here = spotOf(from);
  if (!here) return null;
  const next = from.way ? endsOf(things, from.way) : waysFrom(things, from.place);
  const best = bestOf(next.map((one) => ({ ...one, turn: cosine(here, one.towards, arrow) })));
  return best ?? nearestAhead(things, from, here, arrow);
}

interface Way {
  readonly thing: Thing;
  readonly towards: Spot;
}

function endsOf(things: Things, way: PlanWay): Way[] {
  const { points } = way;
  return way.ends.flatMap((end, i): Way[] => {
    const thing = end === null ? undefined : things.byKey.get(`space-${end}`);
    const towards = (i === 0 ? points?.[0] : points?.at(-1)) ?? (thing ? spotOf(thing) : null);
    return thing && towards ? [{ thing, towards }] : [];
  });
}

function waysFrom(things: Things, place: PlanPlace): Way[] {
  const spaces = place.ref.kind === "building" ? (things.spacesIn.get(place.ref.id) ?? []) : [place];
  const within = new Set<number | null>(place.ref.kind === "building" ? spaces.map(({ ref }) => ref.id) : []);
  return spaces.flatMap(({ ref }) =>
    (things.waysAt.get(ref.id) ?? []).flatMap((way): Way[] => {
      const thing = things.byKey.get(keyOf(way.ref));
      const { points } = way;
      // Out of a building, not about in it.
      if (!thing || !points || way.ends.every((end) => within.has(end))) return [];
      // Towards where it goes, not only how it begins.
      const towards = (way.ends[0] === ref.id ? points.at(-1) : points[0]) as Spot;
      return [{ thing, towards }];
    }),
  );
}

function cosine([ax, ay]: Spot, [bx, by]: Spot, [dx, dy]: Spot): number {
  const far = Math.hypot(bx - ax, by - ay);
  return far === 0 ? -1 : ((bx - ax) * dx + (by - ay) * dy) / far;
}

const bestOf = (some: readonly (Way & { readonly turn: number })[]): Thing | null =>
  some.filter(({ turn }) => turn > AHEAD).toSorted((a, b) => b.turn - a.turn)[0]?.thing ?? null;

function nearestAhead(things: Things, from: Thing, here: Spot, arrow: Spot): Thing | null {
  let best: { thing: Thing; far: number } | null = null;
  for (const thing of things.all) {
    const spot = thing.place && thing.key !== from.key ? spotOf(thing) : null;
    if (!spot || cosine(here, spot, arrow) < 0.7) continue;
    const far = apart(here, spot);
    if (!best || far < best.far) best = { thing, far };
  }
  return best?.thing ?? null;
}

/** The next or previous thing along what is asked about. */
export function alongCourse({ course, byKey }: Things, from: string | null, step: 1 | -1): Thing | null {
  if (course.length === 0) return null;
  const at = from === null ? -1 : course.indexOf(from);
  const next = at < 0 ? (step > 0 ? 0 : course.length - 1) : Math.min(course.length - 1, Math.max(0, at + step));
  return byKey.get(course[next] ?? "") ?? null;
}
