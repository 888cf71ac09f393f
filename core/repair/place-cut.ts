/** Where on a cable's course it is cut: by the mark read there, or by the place before it. */
import { formatLength, metresIn } from "../model/units.ts";
import { choiceWords } from "../model/wording.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { type Cut, insideAt } from "./course.ts";
import type { CourseOnRecord } from "./read-course.ts";
import { howOnFromGap } from "./waiting-cut.ts";

export interface MendAsked {
  readonly cable: string | number;
  readonly mark: number | null;
  /** A place of the cable, and metres from its mouth towards the next. */
  readonly after: string | null;
  readonly metres: number | null;
  /**
   * In place of `after`: two places that the cable comes by. Without mark and metres nobody knows where between them it is
   * cut, and nothing of what lies there is relied on. Metres and losses are towards them as they are named.
   */
  readonly between?: readonly [string, string] | null;
  /** The stop that `after` reaches up to, where other places lie between: as `F-012@5`. Left out, the next one. */
  readonly until?: string | null;
  readonly lost_left_m: number | null;
  readonly lost_right_m: number | null;
  /** In place of `metres`: metres along a way of such a length, whose mouth is that of the stop after or before the cut. */
  readonly along?: { readonly metres: number; readonly of: number | null; readonly from_far_end: boolean } | null;
  /** Where a hole dug between the two places stands, in metres from that mouth, where another cable's mend says it. */
  readonly hole_m?: number | null;
  /** The strands that are dark where others still shine, as units or numbers; left out, those that are cut on record. */
  readonly dark?: string | null;
}

/** Two stops of a course, by their place in it. */
export type Stretch = readonly [number, number];

const metres = (value: number): string => formatLength(value, "m", 1);

export const mouthOf = ({ course }: CourseOnRecord, index: number): number => {
  const stop = course.stops[index];
  return (stop?.left_m ?? 0) + (stop?.through_m ?? 0);
};

/** The leg in which the cut lies, by the stop it begins at. */
export function legOf(on: CourseOnRecord, { at_m }: Pick<Cut, "at_m">): number {
  const after = on.course.stops.findIndex((_, index) => index > 0 && at_m < mouthOf(on, index));
  return Math.max(0, (after < 0 ? on.course.stops.length : after) - 1);
}

/** The stops between which it is cut, by `after` and `until`; null where neither is said. */
export function stretchAsked({ after, until }: MendAsked, on: CourseOnRecord, tag: string): Stretch | null {
  if (after === null) return null;
  const from = stopBeforeCut(after, on, tag);
  if (until == null) return [from, from + 1];
  const to = on.stops.findIndex(({ stop }) => stop.tag.toLowerCase() === until.toLowerCase());
  if (to <= from) {
    const reason = say`lies on another part of ${tag} than ${after}: between the two it is parted on record, so say a place on the same side`;
    refuse("bad_input", `${until} ${reason}.`, [{ field: "between", record: until, reason }]);
  }
  return [from, to];
}

/** Metre of way of the cut. Refuses `bad_input`, `not_found` or `ambiguous`, naming the mark or place. */
export function placeOfCut(asked: MendAsked, on: CourseOnRecord, tag: string): number {
  const stretch = stretchAsked(asked, on, tag);
  if (asked.mark !== null) {
    if (asked.metres !== null) {
      refuse("bad_input", say`Say the mark at the cut or the metres from a place, not both.`, [
        { field: "metres", record: tag, reason: say`says again what the mark says` },
      ]);
    }
    return byMark(asked.mark, stretch, on, tag);
  }
  if (stretch === null) {
    refuse("bad_input", say`Where is it cut? Say its sheath mark, or the place before the cut.`, [
      { field: "mark", record: tag, reason: say`is needed, or the place before the cut` },
    ]);
  }
  const after = stretch[0];
  const length_m = lengthOf(on, stretch);
  const from_m = alongLeg(asked.along ?? null, length_m) ?? asked.metres ?? length_m / 2;
  if (!(from_m > 0 && from_m < length_m)) {
    const reason = say`must be more than 0, where the mouth is, and less than ${metres(length_m)}, where the other place begins`;
    refuse("bad_input", say`${tag}: ${from_m} m from the mouth ${reason}.`, [{ field: "metres", record: tag, reason }]);
  }
  return mouthOf(on, after) + from_m;
}

/** Metres of way from the outer mouth of the one stop to the inner mouth of the other. */
export const lengthOf = (on: CourseOnRecord, [from, to]: Stretch): number =>
  to === from + 1 ? (on.course.legs[from]?.length_m ?? 0) : (on.course.stops[to]?.left_m ?? 0) - mouthOf(on, from);

/** A cable in a way is as far along its leg as the cut is along the way, whatever both measure. */
function alongLeg(along: MendAsked["along"], length_m: number): number | null {
  if (!along) return null;
  const from_m = along.of === null ? along.metres : (along.metres / along.of) * length_m;
  return along.from_far_end ? length_m - from_m : from_m;
}

/** A stop of the cable with a leg beyond it, by its place or as `F-012@3`. */
function stopBeforeCut(asked: string, on: CourseOnRecord, tag: string): number {
  const wanted = asked.trim().toLowerCase();
  const found = on.stops.flatMap(({ name, stop, place }, index) =>
    [name, stop.tag, place?.tag ?? ""].some((one) => one.toLowerCase() === wanted) ? [index] : [],
  );
  const [index] = found;
  if (found.length > 1) {
    const which = found.flatMap((at) => on.stops[at]?.stop.tag ?? []).join(say` or `);
    const reason = say`comes more than once along ${tag}: say ${which}`;
    refuse("ambiguous", `${asked} ${reason}.`, [{ field: "after", record: asked, reason }]);
  }
  if (index === undefined) {
    const names = on.stops.map(({ name }) => name).join(", ");
    const reason = say`is no stop of ${tag}`;
    refuse("not_found", say`${asked} ${reason}; its stops are ${names}.`, [
      { field: "after", record: asked, reason: `${reason}: ${names}` },
    ]);
  }
  if (on.course.legs[index] === undefined) {
    const reason =
      on.course.stops[index]?.kind === "severed"
        ? say`is where ${tag} is severed on record, and nothing of it leads on from there: ${howOnFromGap()}`
        : say`is the last stop of ${tag}: nothing lies beyond`;
    refuse("bad_input", `${asked} ${reason}.`, [{ field: "after", record: asked, reason }]);
  }
  return index;
}

/** @param stretch the stops between which it was said to lie: a mark may stand more than once on a sheath */
function byMark(mark: number, stretch: Stretch | null, on: CourseOnRecord, tag: string): number {
  const after = stretch?.[0] ?? null;
  const at = on.placesOf(mark);
  const within = (from: number | undefined, to: number | undefined): number | undefined =>
    from === undefined || to === undefined ? undefined : at.find((one) => from <= one && one <= to);
  const all = on.stops.flatMap(({ out }, index) =>
    within(out?.along_m, on.stops[index + 1]?.in?.along_m) === undefined ? [] : [index],
  );
  const legs = stretch === null ? all : all.filter((index) => stretch[0] <= index && index < stretch[1]);
  const [index] = legs;
  if (index === undefined && all[0] !== undefined) {
    const between = all
      .map((one) => say`between ${on.stops[one]?.name} and ${on.stops[one + 1]?.name}`)
      .join(say` and `);
    const reason = say`lies ${between}, not beyond ${on.stops[after ?? 0]?.name}`;
    refuse("bad_input", say`Mark ${mark} of ${tag} ${reason}.`, [{ field: "mark", record: String(mark), reason }]);
  }
  if (index === undefined || legs.length > 1) {
    const inside = on.stops.findIndex(({ in: a, out: b }) => within(a?.along_m, b?.along_m) !== undefined);
    const hole = on.course.stops[inside];
    // A cut in a place that is passed reaches its middle: what is coiled there is taken as lost.
    if (legs.length === 0 && hole?.kind === "passing") return hole.left_m + hole.through_m / 2;
    const marks = on.stops.flatMap(({ in: a, out: b }) => [a, b].flatMap((one) => one?.mark ?? []));
    const reason =
      legs.length > 1
        ? say`stands more than once on this sheath: say the place before the cut`
        : hole
          ? say`lies at ${on.stops[inside]?.name}, where the cable is ${choiceWords("stop", "kind", hole.kind)} already: where the case there is wrecked, ask how that case is mended`
          : marks.length === 0
            ? on.unit === null && on.printed !== null
              ? say`can't be placed: which unit the marks of this cable count is not on record`
              : say`can't be placed: no marks of this cable are on record`
            : at[0] !== undefined
              ? (atItsEnd(on, at[0]) ??
                (stretch === null
                  ? say`can't be placed: ${lackingAt(on, at[0]).join(say` and `)}; say the place before the cut and the metres from it`
                  : say`can't be placed: ${lackingAt(on, at[0]).join(say` and `)}; say the metres from ${on.stops[stretch[0]]?.name} instead`))
              : say`is beyond its marks, which run from ${on.printed?.[0]} to ${on.printed?.[1]}`;
    refuse("bad_input", say`Mark ${mark} of ${tag} ${reason}.`, [{ field: "mark", record: String(mark), reason }]);
  }
  const [a, b] = [on.stops[index]?.out, on.stops[index + 1]?.in];
  const lies = within(a?.along_m, b?.along_m);
  const share =
    a && b && lies !== undefined && b.along_m > a.along_m ? (lies - a.along_m) / (b.along_m - a.along_m) : 0;
  return mouthOf(on, index) + share * (on.course.legs[index]?.length_m ?? 0);
}

/** That a mark lies in what is coiled where the sheath ends, at a panel or at a case; null where it lies on the way. */
function atItsEnd({ stops }: CourseOnRecord, at_m: number): string | null {
  const [first, last] = [stops[0], stops.at(-1)];
  const end = first?.out && at_m < first.out.along_m ? first : last?.in && at_m > last.in.along_m ? last : null;
  if (end === null) return null;
  return say`lies at ${end.name}, in what is coiled where the cable ends: no way to mend is planned for that; cut it back behind the damage, and join its strands there again`;
}

/** The marks for want of which nobody can say in which leg or place a mark lies, in words, with their places. */
function lackingAt({ stops, off }: CourseOnRecord, at_m: number): string[] {
  const before = stops.findLastIndex(({ in: a, out: b }) => (b ?? a) !== null && ((b ?? a)?.along_m ?? 0) <= at_m);
  const beyond = stops.findIndex(({ in: a, out: b }) => (a ?? b) !== null && ((a ?? b)?.along_m ?? 0) >= at_m);
  const last = beyond < 0 ? stops.length - 1 : beyond;
  return stops.flatMap(({ name, in: a, out: b }, index) => {
    const wanted = index > 0 && a === null && index > before;
    const lacks = wanted || (index < stops.length - 1 && b === null && index < last);
    if (index < before || index > last || !lacks) return [];
    const against = off.filter(({ place }) => place === name);
    return against.length > 0
      ? against.map(({ mark }) => say`mark ${mark} at ${name} runs against the others`)
      : [say`a mark at ${name} is not on record`];
  });
}

/** The place it passes in which it is cut, of its stops; null where it is cut between two. */
export const insideOf = ({ course }: CourseOnRecord, cut: Cut): number | null => insideAt(course, cut);

/** Where a mark that was read in a place lies along the sheath, in metres; null where its mouths don't say. */
export function foundAt(on: CourseOnRecord, inside: number, mark: number): number | null {
  const { in: a, out: b } = on.stops[inside] ?? { in: null, out: null };
  if (!a || !b) return null;
  return on.placesOf(mark).find((one) => a.along_m <= one && one <= b.along_m) ?? null;
}

/** What the mark leaves of the sheath in the place on either side, beyond what is reckoned there: what is coiled is taken as lost. */
export function leftInCoil(
  { course, stops }: CourseOnRecord,
  { lost_left_m, lost_right_m }: Cut,
  inside: number,
  found_m: number,
): readonly [number, number] {
  const [mouths, through_m] = [stops[inside], course.stops[inside]?.through_m ?? 0];
  const beyond = (sheath_m: number, lost_m: number): number =>
    Math.max(0, sheath_m - lost_m - Math.max(0, through_m / 2 - lost_m));
  return [
    mouths?.in ? beyond(found_m - mouths.in.along_m, lost_left_m) : 0,
    mouths?.out ? beyond(mouths.out.along_m - found_m, lost_right_m) : 0,
  ];
}

/** The sheath mark at the cut; null where the marks on record don't say. */
export function markAt(on: CourseOnRecord, { at_m }: Cut, index: number): number | null {
  const [a, b] = [on.stops[index]?.out, on.stops[index + 1]?.in];
  const length_m = on.course.legs[index]?.length_m ?? 0;
  if (!a || !b || length_m <= 0 || on.unit === null) return null;
  // Where the print begins anew between the two, no mark is worked out.
  if (Math.abs(metresIn(Math.abs(b.mark - a.mark), on.unit) - Math.abs(b.along_m - a.along_m)) > 0.01) return null;
  const share = (at_m - mouthOf(on, index)) / length_m;
  return Math.round((a.mark + share * (b.mark - a.mark)) * 10) / 10;
}
