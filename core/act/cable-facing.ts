/** Two cables side by side: which stop of one faces which of the other, and which ends of their glass lie there. */
import type { Side } from "../glass/end.ts";
import type { Reader } from "../store/handle.ts";
import type { StopOnCable } from "./cable-stretch.ts";
import { endKey } from "./ends.ts";

export interface SectionRow {
  readonly id: number;
  readonly number: number;
  readonly ordinal: number;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
}

/** The sections of a cable by the number of their strand, in order along it. */
export async function sectionsByNumber(reader: Reader, cable_id: number): Promise<Map<number, SectionRow[]>> {
  const rows = await reader.rows<SectionRow>(
    `select s.id, t.number, s.ordinal, s.a_stop_id, s.b_stop_id from section s join strand t on t.id = s.strand_id
     where t.cable_id = ? order by t.number, s.ordinal`,
    [cable_id],
  );
  return Map.groupBy(rows, ({ number }) => number);
}

type Sections = ReadonlyMap<number, readonly SectionRow[]>;
export type Stop = Pick<StopOnCable, "id" | "space_id" | "kind">;

/**
 * For each stop of the new cable, by its id, the place among the old one's stops that it faces: the one in the same space,
 * in order along both. Their outer ends face each other where nobody knows better. Of an old one that stops twice where the
 * new one ends, at a case and beside it, the stop at which it was cut is meant; of one that was cut on both sides of that
 * place, the stop at which glass ends towards the new one. Stops that face nothing are left out.
 */
export function facing(old: readonly Stop[], by: readonly Stop[], glass: Sections): Map<number, number> {
  const faces = new Map<number, number>();
  const last = by.length - 1;
  const same = (index: number, at: Stop): boolean =>
    old[index]?.space_id != null && old[index]?.space_id === at.space_id;
  const [first, end] = [by[0], by[last]];
  if (!first || !end) return faces;
  const cut = (at: Stop, index: number): boolean => same(index, at) && old[index]?.kind === "severed";
  const chosen = (...found: readonly number[]): number => found.find((index) => index >= 0) ?? -1;
  const goesOn = (index: number, side: Side): boolean =>
    [...glass.values()].some((own) =>
      own.some((one) => (side === "A" ? one.a_stop_id : one.b_stop_id) === old[index]?.id),
    );
  const severed = (at: Stop, side: Side): number =>
    chosen(
      old.findIndex((_, index) => cut(at, index) && goesOn(index, side)),
      old.findIndex((_, index) => cut(at, index)),
    );
  const outer = (at: Stop, index: number): number => (same(index, at) ? index : -1);
  const begin = chosen(
    outer(first, 0),
    severed(first, "B"),
    old.findIndex((_, index) => same(index, first)),
  );
  const close = chosen(
    outer(end, old.length - 1),
    severed(end, "A"),
    old.findLastIndex((_, index) => same(index, end)),
  );
  let [at, until] = passed(old, by, [Math.max(0, begin), close < 0 ? old.length - 1 : close]);
  faces.set(first.id, at);
  for (const stop of by.slice(1, last)) {
    const found = old.findIndex((_, index) => index > at && index < until && same(index, stop));
    if (found < 0) continue;
    faces.set(stop.id, found);
    at = found;
  }
  faces.set(end.id, until);
  return faces;
}

/**
 * Where the new one begins and ends along an old one that comes by those places more than once: between the two that have
 * the same places between them as the new one passes, and where it was cut; as it was taken where there are none such.
 */
function passed(old: readonly Stop[], by: readonly Stop[], taken: readonly [number, number]): [number, number] {
  const spaces = (stops: readonly Stop[]): string => stops.flatMap(({ space_id }) => space_id ?? []).join();
  const between = (from: number, to: number): string => spaces(old.slice(from + 1, to));
  // A stop beside a case is no second coming.
  const again = (index: number): number[] =>
    old.flatMap(({ space_id }, other) => {
      const [from, to] = [Math.min(index, other), Math.max(index, other)];
      const elsewhere = old.slice(from, to).some((one) => one.space_id !== null && one.space_id !== space_id);
      return space_id !== null && space_id === old[index]?.space_id && elsewhere ? [other] : [];
    });
  const passes = spaces(by.slice(1, -1));
  const [begin, close] = taken;
  const pairs = [begin, ...again(begin)].flatMap((from) =>
    [close, ...again(close)].flatMap((to): [number, number][] =>
      from < to && between(from, to) === passes ? [[from, to]] : [],
    ),
  );
  const cut = pairs.find(([from, to]) => old.slice(from, to + 1).some(({ kind }) => kind === "severed"));
  return cut ?? pairs[0] ?? [begin, close];
}

/** An end of the old cable's glass and the end of the new one's that takes its place, by number. */
export interface FacingEnds {
  readonly number: number;
  /** The stop of the new cable. */
  readonly stop_id: number;
  readonly old: { readonly id: number; readonly side: Side };
  readonly by: { readonly id: number; readonly side: Side };
}

/** Ends of one strand at a stop: `B` of what comes from before it, `A` of what goes on beyond. */
function endAt(sections: readonly SectionRow[], stops: readonly Stop[], index: number, side: Side): number | null {
  const stop = stops[index];
  const here = sections.find((one) => (side === "A" ? one.a_stop_id : one.b_stop_id) === stop?.id);
  if (here) return here.id;
  // Where nobody said at which stop glass ends, it runs to the outer one.
  const outer =
    side === "A" ? (index === 0 ? sections[0] : undefined) : index === stops.length - 1 ? sections.at(-1) : undefined;
  return outer && (side === "A" ? outer.a_stop_id : outer.b_stop_id) === null ? outer.id : null;
}

/**
 * Ends that face each other, in order of the stops, the numbers, and before the stop ahead of beyond it.
 * @param onto the strand of the new cable that takes the place of each of the old one's; the same number where left out
 */
export function facingEnds(
  old: { readonly stops: readonly Stop[]; readonly sections: Sections },
  by: { readonly stops: readonly Stop[]; readonly sections: Sections },
  onto: (number: number) => number = (number) => number,
): FacingEnds[] {
  const faces = facing(old.stops, by.stops, old.sections);
  return by.stops.flatMap((stop, index) => {
    const place = faces.get(stop.id);
    if (place === undefined) return [];
    return [...old.sections].flatMap(([number, sections]) =>
      (["B", "A"] as const).flatMap((side): FacingEnds[] => {
        const from = endAt(sections, old.stops, place, side);
        const to = endAt(by.sections.get(onto(number)) ?? [], by.stops, index, side);
        return from === null || to === null
          ? []
          : [{ number, stop_id: stop.id, old: { id: from, side }, by: { id: to, side } }];
      }),
    );
  });
}

/**
 * For each section of the new cable, the sections of the old one's same strand that lie beside it.
 * @param from_number the strand of the old cable whose place each of the new one's takes; the same number where left out
 */
export function besides(
  old: { readonly stops: readonly Stop[]; readonly sections: Sections },
  by: { readonly stops: readonly Stop[]; readonly sections: Sections },
  from_number: (number: number) => number = (number) => number,
): Map<number, SectionRow[]> {
  const faces = facing(old.stops, by.stops, old.sections);
  const order = new Map(old.stops.map(({ id }, index) => [id, index]));
  const beside = new Map<number, SectionRow[]>();
  for (const [number, sections] of by.sections) {
    for (const section of sections) {
      const from = faces.get(section.a_stop_id ?? 0) ?? Number.NEGATIVE_INFINITY;
      const to = faces.get(section.b_stop_id ?? 0) ?? Number.POSITIVE_INFINITY;
      beside.set(
        section.id,
        (old.sections.get(from_number(number)) ?? []).filter((one) => {
          const begin = order.get(one.a_stop_id ?? 0) ?? Number.NEGATIVE_INFINITY;
          const end = order.get(one.b_stop_id ?? 0) ?? Number.POSITIVE_INFINITY;
          return begin < to && from < end;
        }),
      );
    }
  }
  return beside;
}

/** Key of an end: section and side. */
export const keyOf = ({ id, side }: { readonly id: number; readonly side: Side }): string => endKey(id, side);
