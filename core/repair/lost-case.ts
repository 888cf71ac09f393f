/**
 * A splice case that is wrecked with all glass in it: every sheath that enters it is cut back behind what is destroyed and
 * brought into a new case in the same place. Each lacks there what a splice takes of it less what still lies in the place, and
 * that comes from the coils behind it by the same rule as for a cut; where that isn't enough, from a piece of new cable that
 * is spliced on farther back.
 */
import { refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import { addressesOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { say } from "../words/say.ts";
import { type CasePiece, landsAnew, outward, pieceInto } from "./case-piece.ts";
import { type Course, type CourseStop, type Cut, lacksCoil, type Side } from "./course.ts";
import { doubting, readGuesses } from "./guesses.ts";
import { begunWords, lossOf } from "./lost-before.ts";
import { type CaseEnd, type CaseGlass, readCaseGlass } from "./lost-case-glass.ts";
import { type MendPolicy, NONE } from "./plan.ts";
import { reachOf } from "./plans.ts";
import { type HeldCourse, heldToTension, pullWords } from "./pulls.ts";
import { courseOnRecord } from "./read-course.ts";
import type { Remain } from "./remain.ts";
import { noRoom } from "./room.ts";
import { theirsOf } from "./theirs.ts";
import { metres } from "./told.ts";
import { partsOf } from "./waiting-cut.ts";

export interface LostCaseAsked {
  readonly closure: string | number;
  /** Metres of each sheath destroyed or strained, from the case on; the plant's policy where null. */
  readonly lost_m: number | null;
}

/** A sheath that comes into the case from one side. */
export interface CaseArm {
  readonly cable: RecordRef;
  readonly fibre_class: CableFacts["fibre_class"];
  readonly end: CaseEnd;
  readonly side: Side;
  /** It comes into the case from this side alone. */
  readonly alone: boolean;
  /** Nothing of the cable lies beyond a gap. */
  readonly in_one: boolean;
  /** Nothing of its glass is joined in the case or runs through it: where it doesn't reach it is left where it lies. */
  readonly idle: boolean;
  /** The end of the cable from which it comes. */
  readonly towards: string;
  /** Sheath that is left in the place, from its mouth; below zero what is destroyed reaches into the way. */
  readonly has_m: number;
  /** Nobody knows what lies in the place, so that nothing is counted; or how it is shared by both sides, so that half is. */
  readonly unknown: "lies" | "shared" | null;
  readonly needs_m: number;
  /** Up to the place, its end cut back; the last stop, or the first, is the place. */
  readonly on: HeldCourse;
  readonly cut: Cut;
  readonly at: number;
  readonly remain: Remain;
  /** Where it lacks: new cable from a place on its way into the case, or from its end; null where it reaches, and where there is none. */
  readonly piece: CasePiece | null;
}

/** It doesn't reach, and nothing of it is wanted in the new case. */
export const leftLying = ({ idle, remain }: Pick<CaseArm, "idle" | "remain">): boolean => idle && remain.short_m > 0;

/** What is drawn and cut off of a sheath: up to the new case, or up to where new cable goes on for it. */
export const remainOf = ({ piece, remain, idle }: Pick<CaseArm, "piece" | "remain" | "idle">): Remain =>
  piece?.remain ?? (leftLying({ idle, remain }) ? NONE : remain);

export interface LostCase {
  readonly closure: RecordRef;
  readonly place: RecordRef;
  readonly lost_m: number;
  readonly arms: readonly CaseArm[];
  readonly glass: CaseGlass;
  /** That it is lost is on record already: its joints are off, and what ran through it is cut. */
  readonly on_record: boolean;
  /** Why no new case brings it back, in words. */
  readonly refused: readonly string[];
  readonly to_prove: readonly string[];
  readonly assumed: readonly string[];
}

/** Refuses `not_found`, and `not_possible` for a case that hangs nowhere, is gone, or that nothing enters. */
export async function reckonLostCase(reader: Reader, asked: LostCaseAsked, today: string): Promise<LostCase> {
  const { id, tag } =
    typeof asked.closure === "number"
      ? { id: asked.closure, tag: (await addressesOf(reader, "closure", [asked.closure])).get(asked.closure) ?? "" }
      : await resolveOne(reader, asked.closure, { kinds: ["closure"], field: "closure" });
  const closure: RecordRef = { kind: "closure", id, tag };
  const lost = await lossOf(reader, id);
  const place = await placeOfCase(reader, closure, lost !== null);
  const limits = await limitsInUse(reader);
  if (asked.lost_m !== null && asked.lost_m < 0) {
    const reason = say`can't be less than 0`;
    refuse("bad_input", say`Metres destroyed ${reason}.`, [{ field: "lost_m", record: String(asked.lost_m), reason }]);
  }
  const lost_m = asked.lost_m ?? limits.get("repair.lost_m")?.value ?? 0;
  const case_m = limits.get("repair.case_room_m")?.value ?? 0;
  const policy: MendPolicy = {
    waste: limits.get("repair.waste")?.value ?? 0,
    case_m,
    coil_m: limits.get("repair.coil_m")?.value ?? 0,
    ranking: {
      point_m: limits.get("repair.rank.point_m")?.value ?? 0,
      unproven_m: limits.get("repair.rank.unproven_m")?.value ?? 0,
    },
  };
  const glass = await readCaseGlass(reader, closure, today, lost);
  const dressed = lost === null ? new Set<string>() : await dressedOf(reader, glass);
  const wanted = wantedOf(glass);
  const refused = [...glass.against];
  const tight: string[] = [];
  const arms: CaseArm[] = [];
  const assumed = new Set<string>();
  for (const [cable_id, ends] of Map.groupBy(glass.ends, (end) => end.cable_id)) {
    const cables = await Cables.read(reader, [cable_id], new Set());
    const facts = cables.byId.get(cable_id);
    if (!facts) continue;
    const theirs = await theirsOf(reader, facts.ref);
    if (theirs) refused.push(theirs.words);
    const guesses = await readGuesses(reader, cable_id);
    const parts = partsOf(facts);
    for (const part of parts) {
      const own = ends.filter((end) => part.stops.some(({ id: stop }) => stop === end.stop_id));
      if (own.length === 0) continue;
      const on = doubting(
        await heldToTension(reader, cable_id, await courseOnRecord(reader, cables, part, limits)),
        guesses,
      );
      for (const words of on.assumed) assumed.add(words);
      const { sheath } = part.sheath.trusted();
      for (const end of own) {
        const index = on.stops.findIndex(({ stop }) => stop.id === end.stop_id);
        const stop = on.course.stops[index];
        if (!stop) continue;
        const name = on.stops[index]?.name ?? place.tag;
        const lies_in = on.stops[index]?.place ?? null;
        if (lies_in !== null && lies_in.id !== place.id)
          refused.push(
            lost === null
              ? say`${facts.ref.tag} is spliced in ${tag} and stops at ${name} on record, which is another place: say first which is right`
              : say`${facts.ref.tag}, which was spliced in ${tag}, ends at ${name} by now`,
          );
        const sides = sidesOf(index, on.course.stops.length);
        if (!stop.usable) refused.push(say`${facts.ref.tag} can't be reached at ${name}`);
        const { taken } = stop;
        // The wrecked case goes, and the new one hangs where it hung.
        const cleared = taken ? { ...stop, taken: { ...taken, cases: Math.max(0, taken.cases - 1) } } : stop;
        const full = noRoom(on.course, cleared, sides.length * stop.work_m, { case_m });
        // One hung there: that the next fits is looked at, and no reason to give the place up.
        if (full)
          tight.push(say`whether a new case fits at ${place.tag} with what is coiled of ${facts.ref.tag}: ${full}`);
        for (const side of sides) {
          const [lies] = sheath.stopsBetween(end.stop_id, end.stop_id);
          const told_m = lies ? sheath.side(lies, side === "left" ? "in" : "out").length_m : null;
          const lies_m = told_m ?? (lost === null ? null : halfOf(on.stops[index]));
          const arm = {
            ...{ fibre_class: facts.fibre_class, alone: sides.length === 1, in_one: parts.length === 1 },
            idle: !wanted.has(`${end.stop_id} ${side}`),
            ...armOf(facts.ref, end, side, {
              ...{ on, index, lies_m },
              lost_m: dressed.has(`${end.stop_id} ${side}`) ? 0 : lost_m,
            }),
          };
          // A cable that comes into the case twice is taken apart at one of its stops while the other still counts on its order.
          const lacks = arm.remain.short_m > 0 && !arm.idle && ends.length === 1;
          arms.push({ ...arm, piece: lacks ? pieceInto(arm, policy) : null });
        }
      }
    }
  }
  if (arms.length === 0) {
    const reason = say`has no cable in it on record: nothing is to be spliced anew`;
    const [why = `${tag} ${reason}`] = glass.against;
    refuse("not_possible", `${why}.`, [{ field: "closure", record: tag, reason: glass.against[0] ?? reason }]);
  }
  const all = [...refused, ...arms.flatMap((arm) => shortWords(arm, place.tag))];
  const begun = lost !== null && all.length > 0 ? await begunWords(reader, closure) : null;
  if (begun !== null) all.push(begun);
  return {
    closure,
    place,
    lost_m,
    arms,
    glass,
    on_record: lost !== null,
    refused: all,
    to_prove: [...new Set([...arms.flatMap((arm) => proofs(arm, place.tag)), ...tight, ...shared(arms)])],
    assumed: [
      lost === null
        ? say`all glass in ${tag} is taken as lost, what runs through it uncut as well, and ${metres(lost_m)} of each sheath from the case on: where less is destroyed, less is wanted`
        : say`the loss of ${tag} is on record, and ${metres(lost_m)} of each sheath from the case on are taken as destroyed where it isn't prepared anew: where less is destroyed, less is wanted`,
      ...(lost === null
        ? []
        : [
            say`what circuits lose afterwards is not reckoned: their lines end there on record until they are spliced again`,
          ]),
      ...assumed,
    ],
  };
}

/** Sheaths that were cut back and prepared since the loss went on record: what was destroyed of them is off. */
async function dressedOf(reader: Reader, { joints }: CaseGlass): Promise<ReadonlySet<string>> {
  const ends = joints.flatMap(({ a, b }) => [a, b]);
  const rows = await reader.rows<{ id: number; a_stub: string | null; b_stub: string | null }>(
    "select id, a_stub, b_stub from section where id in (select value from json_each(?))",
    [JSON.stringify(ends.map(({ section_id }) => section_id))],
  );
  const sections = new Map(rows.map((row) => [row.id, row]));
  return new Set(
    ends.flatMap(({ section_id, side, stop_id }) => {
      const stub = sections.get(section_id)?.[side === "A" ? "a_stub" : "b_stub"];
      return stub === "yes" ? [`${stop_id} ${side === "B" ? "left" : "right"}`] : [];
    }),
  );
}

/** @param lost its loss is on record: it hung there */
async function placeOfCase(reader: Reader, closure: RecordRef, lost: boolean): Promise<RecordRef> {
  const [row] = await reader.rows<{ space_id: number | null; life: string }>(
    "select space_id, life from closure where id = ?",
    [closure.id],
  );
  const refused = (reason: string): never =>
    refuse("not_possible", `${closure.tag} ${reason}.`, [{ field: "closure", record: closure.tag, reason }]);
  if (!row)
    return refuse("not_found", say`There is no case ${closure.tag}.`, [
      { field: "closure", reason: say`is not on record` },
    ]);
  if (row.space_id === null) return refused(say`hangs in no place on record`);
  if (!lost && row.life !== "in_place" && row.life !== "out_of_use") return refused(say`is not in place on record`);
  return {
    kind: "space",
    id: row.space_id,
    tag: (await addressesOf(reader, "space", [row.space_id])).get(row.space_id) ?? "",
  };
}

/** A sheath that ends there comes from one side, any other from both. */
const sidesOf = (index: number, stops: number): Side[] => [
  ...(index > 0 ? (["left"] as const) : []),
  ...(index < stops - 1 ? (["right"] as const) : []),
];

interface ArmOn {
  readonly on: HeldCourse;
  readonly index: number;
  readonly lost_m: number;
  /** Sheath from the mouth to the case on that side; null where nobody knows. */
  readonly lies_m: number | null;
}

function armOf(
  cable: RecordRef,
  end: CaseEnd,
  side: Side,
  { on, index, lost_m, lies_m }: ArmOn,
): Omit<CaseArm, "piece" | "fibre_class" | "alone" | "in_one" | "idle"> {
  const stop = on.course.stops[index] as CourseStop;
  const outer = index === 0 || index === on.course.stops.length - 1;
  const edge = side === "left" ? end.marks[1] : end.marks[2];
  const has_m = (lies_m ?? 0) - lost_m;
  const through_m = Math.max(0, has_m);
  const [first, last] = side === "left" ? [0, index + 1] : [index, on.course.stops.length];
  const mouth_m = side === "left" ? stop.left_m : stop.left_m + stop.through_m;
  const there: CourseStop = {
    ...stop,
    kind: "passing",
    through_m,
    left_m: side === "left" ? mouth_m : mouth_m - through_m,
    coil_left_m: 0,
    coil_right_m: 0,
  };
  const course: Course = {
    ...on.course,
    stops: on.course.stops.slice(first, last).map((one, at) => (first + at === index ? there : one)),
    legs: on.course.legs.slice(first, last - 1),
  };
  const own = on.stops[index];
  const along = (mouth: "in" | "out", by_m: number) => {
    const from = own?.[mouth] ?? null;
    return from && { ...from, along_m: from.along_m + by_m };
  };
  const met = own && {
    ...own,
    in: side === "left" ? own.in : along("out", -through_m),
    out: side === "left" ? along("in", through_m) : own.out,
  };
  const held: HeldCourse = {
    ...on,
    course,
    stops: on.stops.slice(first, last).map((one, at) => (first + at === index && met ? met : one)),
    ways: on.ways.slice(first, last - 1),
    pulls: on.pulls.slice(first, last - 1),
  };
  const at_m = side === "left" ? mouth_m + has_m : mouth_m - has_m;
  const cut: Cut = { at_m, lost_left_m: 0, lost_right_m: 0 };
  const at = side === "left" ? course.stops.length - 1 : 0;
  const remain = reachOf(course, cut)(side, at, at_m);
  return {
    ...{ cable, end, side, has_m, needs_m: stop.work_m, on: held, cut, at },
    unknown: lies_m === null ? "lies" : !outer && edge == null ? "shared" : null,
    towards: outerOf(held, side),
    remain: remain ?? { ...NOTHING, short_m: stop.work_m },
  };
}

/** Once its loss is on record a sheath ends in the place where nobody measured it. */
const halfOf = (stop: HeldCourse["stops"][number] | undefined): number | null =>
  stop?.in && stop.out ? Math.abs(stop.out.along_m - stop.in.along_m) / 2 : null;

const NOTHING: Remain = {
  ...{ stump_m: 0, trimmed_m: 0, over_m: 0, lack_m: 0, short_m: 0 },
  ...{ drawn: [], unproven: [], unknown: [], across: false },
};

/** Which sheath doesn't reach by itself, by how much, and why nothing on its way helps. */
function shortWords(arm: CaseArm, place: string): string[] {
  const { cable, remain, piece, idle, towards, needs_m, on, at, side } = arm;
  if (remain.short_m === 0 || piece || idle) return [];
  const next = on.stops[side === "left" ? at - 1 : at + 1]?.name ?? towards;
  return [
    say`${cable.tag} from ${towards} lacks ${metres(remain.short_m)} at ${place}, where a splice takes ${metres(needs_m)} of it, and no place from ${next} on in which it can be spliced to new cable is reached either; ${endWords(arm)}`,
  ];
}

/** Why new cable goes no farther than to the first place at which the sheath is opened or ends. */
function endWords({ on, in_one, ...own }: CaseArm): string {
  const last = outward({ on, ...own }).at(-1);
  const [stop, name] = [on.course.stops[last ?? -1], on.stops[last ?? -1]?.name ?? say`a place not known`];
  if (!stop) return say`it ends here`;
  if (!stop.usable) return say`${name} can't be reached`;
  if (stop.kind === "end")
    return in_one
      ? say`it comes into the case at more than one place, and is not replaced up to ${name} for that`
      : say`it is parted elsewhere, and is not replaced up to ${name} for that`;
  return lacksCoil(stop)
    ? say`it is opened at ${name}, and what is coiled of it there on that side is not on record`
    : say`it is opened at ${name}, and beyond that its glass is joined to others`;
}

/** By stop and side the sheaths of which glass is joined in the case, or runs through it. */
const wantedOf = ({ joints, express }: CaseGlass): ReadonlySet<string> =>
  new Set([
    // Glass whose B side ends there comes from the side of the first stop.
    ...joints.flatMap(({ a, b }) => [a, b].map(({ stop_id, side }) => `${stop_id} ${side === "B" ? "left" : "right"}`)),
    ...express.flatMap(({ stop_id }) => [`${stop_id} left`, `${stop_id} right`]),
  ]);

/** Each was asked for the room of its own case alone. */
function shared(arms: readonly CaseArm[]): string[] {
  const names = arms.flatMap(({ on, piece }) => (piece && !landsAnew(piece) ? [on.stops[piece.at]?.name ?? ""] : []));
  return [...new Set(names.filter((name, index) => names.indexOf(name) !== index))].map(
    (name) => say`whether the cases of all cables that are spliced to new cable at ${name} fit there`,
  );
}

function proofs({ cable, piece, on, side, end, ...own }: CaseArm, place: string): string[] {
  const remain = remainOf({ piece, ...own });
  // What is given up whole gives nothing, however much of it lies there.
  const unknown = leftLying(own) || (piece && landsAnew(piece)) ? null : own.unknown;
  return [
    ...(piece?.point.unproven ?? []).map((what) => say`${what} at ${on.stops[piece?.at ?? 0]?.name}`),
    ...(unknown === "lies" ? [say`what of ${cable.tag} lies at ${place}: nothing is taken`] : []),
    ...(unknown === "shared"
      ? [say`how what lies of ${cable.tag} at ${place} is shared by both sides of the case: half is taken on each`]
      : []),
    ...remain.unproven.flatMap((leg) => {
      const [a, b] = [on.stops[leg], on.stops[leg + 1]];
      return a && b
        ? [say`whether ${cable.tag} slides between ${a.name} and ${b.name}${pullWords(on.pulls[leg], side)}`]
        : [];
    }),
    ...remain.unknown.flatMap((stop) => {
      const at = on.stops[stop];
      if (!at || at.stop.id === end.stop_id) return [];
      return piece && landsAnew(piece)
        ? [say`what of ${cable.tag} is coiled at ${at.name}: nothing is reckoned for it`]
        : [say`what of ${cable.tag} is coiled at ${at.name}: nothing is taken`];
    }),
    ...remain.drawn.flatMap(({ stop }) =>
      on.course.stops[stop]?.doubtful
        ? [say`what of ${cable.tag} is coiled at ${on.stops[stop]?.name}: nobody read it`]
        : [],
    ),
  ];
}

const outerOf = (on: HeldCourse, side: Side): string =>
  (side === "left" ? on.stops[0] : on.stops.at(-1))?.name ?? say`a place not known`;
