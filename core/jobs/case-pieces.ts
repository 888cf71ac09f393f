/**
 * New cable into a new case for sheaths that don't reach: planned, laid, given the circuits of the cable it goes on for, and
 * spliced to that where its sheath reaches. What lay between leaves the record, or goes on it as dead.
 */
import type { PlanDraft } from "../act/context.ts";
import { escapeName } from "../model/address.ts";
import { type CasePiece, landsAnew } from "../repair/case-piece.ts";
import { crowdedOf, laidOf, readLaid } from "../repair/laid.ts";
import type { CaseArm } from "../repair/lost-case.ts";
import { bareWords } from "../repair/told.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type CasePlace, planCase } from "./case.ts";
import { coilWords, landSteps } from "./case-ends.ts";
import type { CaseOrders } from "./case-orders.ts";
import type { CasePiecePlanned } from "./case-planned.ts";
import { glassUnits, placesOf, urgency } from "./glass-units.ts";
import { listed, metres } from "./mend-facts.ts";
import { planPiece } from "./mend-piece.ts";
import { printSteps } from "./print-steps.ts";
import { byHand, DAY, type PlannedStep, WHO } from "./step.ts";

export interface PiecesAsked {
  readonly job: string;
  readonly job_id: number;
  /** Their numbers, and the cases in which they are spliced to the old cables; else they follow from the job's. */
  readonly pieces: readonly string[] | undefined;
  readonly cases: readonly string[] | undefined;
  readonly tray_capacity: number;
}

export async function planPieces(
  draft: PlanDraft,
  arms: readonly CaseArm[],
  { job, job_id, pieces, cases, tray_capacity }: PiecesAsked,
): Promise<CasePiecePlanned[]> {
  const { reader, today } = draft.context;
  const limits = await limitsInUse(reader);
  const lacking = arms.flatMap((arm) => (arm.piece ? [{ arm, piece: arm.piece }] : []));
  const planned: CasePiecePlanned[] = [];
  const spliced = lacking.filter((one) => !landsAnew(one.piece));
  for (const [index, { arm, piece }] of lacking.entries()) {
    const { cable, on, at, side, needs_m, end, cut } = arm;
    const stop = on.stops[piece.at];
    const [row] = await reader.rows<{ ordinal: number; space_id: number | null }>(
      "select ordinal, space_id from stop where id = ?",
      [stop?.stop.id ?? 0],
    );
    if (!row || !stop) throw new Error(`a stop of ${cable.tag} is gone`);
    const nth = lacking.length > 1 ? String(index + 1) : "";
    const place: CasePlace = { id: row.space_id ?? 0, tag: stop.place?.tag ?? stop.name };
    const units = await glassUnits(reader, cable.id, today);
    const ends_m = [piece.point.work_m, needs_m] as const;
    const left = side === "left";
    const first = Math.min(piece.at, at);
    const own = spliced.findIndex((one) => one.arm === arm);
    planned.push({
      ...{ arm, piece, units, ordinal: row.ordinal, place: stop.place, name: stop.name },
      made: await planPiece(draft, {
        ...{ tag: pieces?.[index] ?? `${job}-P${nth}`, job_id, cable_id: cable.id },
        ...(left ? { from: row.ordinal, to: end.ordinal } : { from: end.ordinal, to: row.ordinal }),
        ...{ cut_stop: null, over_ground: false, hole: null },
        ends_m: left ? ends_m : [ends_m[1], ends_m[0]],
        coils_m: piece.plan.coils_m.map(({ stop: one, coil_m }) => [one - first, coil_m]),
      }),
      case:
        own < 0
          ? null
          : await planCase(
              draft,
              { tag: cases?.[own] ?? `${job}-S${nth}`, tray_capacity, job_id },
              place,
              units.map(placesOf),
            ),
      places: on.stops.slice(first, Math.max(piece.at, at) + 1).map((one) => one.place),
      crowded: crowdedOf(
        laidOf(spanning(arm, piece), { cable, on, cut, limits }, await readLaid(reader, { cable, on })),
      ),
      coiled: coilWords(piece.plan, on) ?? bareWords(spanning(arm, piece), on, first),
    });
  }
  return planned;
}

/** The way with both ends of its new cable; of one up to an end, the one at the case. */
export function spanning({ at, side }: CaseArm, { plan, point }: CasePiece): CasePiece["plan"] {
  const there = { ...point, at };
  if (plan.landed !== null) return { ...plan, points: [there] };
  return { ...plan, points: side === "left" ? [point, there] : [there, point] };
}

/** Lays each, and has cables end where they are spliced on, or where new cable took their place. */
export function layPieces(planned: readonly CasePiecePlanned[], place: RecordRef, orders: CaseOrders): PlannedStep[] {
  // Of a cable that is given up on both sides the last is put in the place of what is left of it.
  const last = (one: CasePiecePlanned): boolean => one.arm.side === "left" && orders.whole(one.arm.cable.id);
  return [...planned.filter((one) => !last(one)), ...planned.filter(last)].flatMap((one): PlannedStep[] => {
    const { arm, made, piece, name, coiled } = one;
    const { cable, side } = arm;
    const here = cable.tag;
    const ends = side === "left" ? [name, place.tag] : [place.tag, name];
    const more = [...(coiled === null ? [] : [coiled]), ...one.crowded].map((words) => `; ${words}`).join("");
    const lay: PlannedStep = {
      act: "record.change_many",
      input: { changes: made.changes, summary: say`Lay ${made.tag}` },
      words: say`Lay ${made.tag}, ${metres(piece.new_cable_m)}, between ${ends[0]} and ${ends[1]}${more}`,
      place: one.place,
    };
    if (landsAnew(piece)) return [lay, ...landSteps(one, place, orders)];
    return [
      lay,
      ...(arm.alone
        ? [
            {
              act: "cable.replace_end" as const,
              input: {
                ...{ cable: here, stop: orders.pieceNow(one), gone: side === "left" ? "after" : "before" },
                ...{ by: escapeName(made.tag, ""), made_on: DAY, made_by: WHO },
              },
              words: say`Record that ${cable.tag} ends at ${name} now that ${made.tag} has taken its place up to ${place.tag}`,
              place: one.place,
            },
          ]
        : []),
      {
        act: "cable.carry",
        input: { cable: here, by: escapeName(made.tag, ""), at: orders.pieceAfter(one) },
        words: say`Give ${made.tag} the circuits of ${cable.tag} at ${name}, number for number`,
        place: null,
      },
    ];
  });
}

/** Splices of each to the cable it goes on for: whole, since only in the new case order decides who comes back when. */
export const joinPieces = (planned: readonly CasePiecePlanned[], orders: CaseOrders): PlannedStep[] =>
  planned.flatMap((piece) => {
    const { arm, made, units, place } = piece;
    const { cable, side } = arm;
    if (piece.case === null) return [];
    const { trays } = piece.case;
    const most = Math.min(...units.map(urgency));
    return units.map((unit, index): PlannedStep => {
      const range = unit.range.replaceAll(" ", "");
      const old = { strands: `${cable.tag}:${range}`, stop: orders.pieceAfter(piece) };
      const own = { strands: `${escapeName(made.tag, "")}:${range}`, stop: side === "left" ? 1 : made.stops };
      const [from, to] = side === "left" ? [old, own] : [own, old];
      const tray = trays[index] ?? null;
      return {
        act: "splice.range",
        input: {
          ...{ from: from.strands, to: to.strands, from_end: "B", to_end: "A" },
          ...{ from_stop: from.stop, to_stop: to.stop, tray, method: "fusion" },
          ...(unit.ribbon ? { form: "ribbon", ribbon: unit.numbers.length } : {}),
          ...{ made_on: DAY, made_by: WHO },
        },
        words: say`Splice ${unit.words}: ${from.strands} to ${to.strands}, in ${tray}`,
        place,
        rank: most,
      };
    });
  });

/** What is printed on each. */
export const readPieces = (planned: readonly CasePiecePlanned[]): PlannedStep[] =>
  planned.flatMap(({ made, places }) => printSteps(made.tag, places));

/** Before it is laid, where sheath lies dead in its way. */
export const clearFor = (
  { arm: { cable }, made, name, place }: CasePiecePlanned,
  there: string,
  lies: readonly string[],
): PlannedStep =>
  byHand(
    say`Between ${name} and ${there} take the dead sheath of ${cable.tag} out of ${lies.length > 0 ? listed(lies) : say`its way`} before ${made.tag} is laid, only what is proven dead by measuring; what can't be drawn out stays, for it takes room there: what became of it is said at a step of its own`,
    place,
  );
