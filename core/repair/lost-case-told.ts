/** A wrecked case as it is told: which sheath gives what, what is spliced anew, how long it takes, and what is down. */
import { limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendHours, MendPull } from "./answer.ts";
import { cautionsOf } from "./cautions.ts";
import { hoursFrom } from "./hours.ts";
import { type CaseArm, type LostCase, type LostCaseAsked, reckonLostCase } from "./lost-case.ts";
import { downWords, metres, millimetre } from "./told.ts";

export interface LostCaseArm {
  readonly cable: RecordRef;
  /** The end of the cable from which this sheath comes. */
  readonly from: string;
  /** Sheath that is left of it in the place, what splices take, and what lacks when all is drawn; 0 where it reaches. */
  readonly has_m: number;
  readonly needs_m: number;
  readonly short_m: number;
  readonly pulls: readonly MendPull[];
}

export interface LostCaseAnswer {
  readonly closure: RecordRef;
  readonly place: RecordRef;
  readonly lost_m: number;
  readonly arms: readonly LostCaseArm[];
  /** Splices that were in it, and strands that ran through it uncut and are spliced now as well. */
  readonly splices: number;
  readonly express: number;
  readonly circuits: readonly MendCircuit[];
  readonly not_in_service: readonly MendCircuit[];
  /** A new case in the same place brings it all back. */
  readonly possible: boolean;
  readonly refused: readonly string[];
  readonly to_prove: readonly string[];
  readonly assumed: readonly string[];
  readonly hours: MendHours;
  readonly sentence: string;
  readonly cautions: readonly string[];
  readonly limits: readonly {
    readonly tag: string;
    readonly meaning: string | null;
    readonly value: number;
    readonly unit: string | null;
    readonly source: string;
  }[];
}

export async function lostCaseOf(reader: Reader, asked: LostCaseAsked, today: string): Promise<LostCaseAnswer> {
  const lost = await reckonLostCase(reader, asked, today);
  const limits = await limitsInUse(reader);
  const { joints, express, circuits, not_in_service } = lost.glass;
  const lines = joints.length + express.length;
  const pulls = lost.arms.reduce((sum, { remain }) => sum + remain.drawn.length, 0);
  const ways = lost.arms.flatMap(({ on, at, side }) => on.ways[side === "left" ? at - 1 : at] ?? []);
  return {
    ...{ closure: lost.closure, place: lost.place, lost_m: lost.lost_m, arms: lost.arms.map(armTold) },
    ...{ splices: joints.length, express: express.length, circuits, not_in_service },
    possible: lost.refused.length === 0,
    ...{ refused: lost.refused, to_prove: lost.to_prove, assumed: lost.assumed },
    hours: hoursFrom(
      [
        ["set_up", 1, say`a place set up, guarded and tested for air`],
        ["pull_coil", pulls, say`a coil taken down and pulled`],
        ["prepare_side", lost.arms.length, say`a sheath end opened and dressed in`],
        ["splice_strand", lines, say`a strand spliced`],
        ["measure_strand", lines, say`a strand measured both ways`],
      ],
      limits,
    ),
    sentence: sentenceOf(lost),
    cautions: cautionsOf(ways),
    limits: limits.under("repair.").map((one) => ({
      ...{ tag: one.tag, meaning: one.meaning, value: one.value, unit: one.unit, source: limitSource(one) },
    })),
  };
}

const armTold = ({ cable, towards, has_m, needs_m, remain, on }: CaseArm): LostCaseArm => ({
  cable,
  from: towards,
  has_m: millimetre(Math.max(0, has_m)),
  needs_m: millimetre(needs_m),
  short_m: millimetre(remain.short_m),
  pulls: remain.drawn.flatMap(({ stop, pulled_m, left_m }) => {
    const at = on.stops[stop];
    return at ? [{ stop: at.stop, place: at.place, pulled_m: millimetre(pulled_m), left_m: millimetre(left_m) }] : [];
  }),
});

function sentenceOf({ closure, place, arms, glass, refused, to_prove }: LostCase): string {
  const { joints, express, circuits, not_in_service } = glass;
  const lines = joints.length + express.length;
  const what = lines === 0 ? say`no strand is joined in it` : downWords(lines, circuits.length, not_in_service.length);
  const down = say`${closure.tag} is wrecked: ${what}.`;
  if (refused.length > 0) {
    const none = say`${down} No new case at ${place.tag} brings all of it back: ${refused.join("; ")}.`;
    return arms.some(({ remain }) => remain.short_m > 0) ? `${none} ${wayOut()}` : none;
  }
  const through =
    express.length === 0
      ? ""
      : plural(
          express.length,
          ", {0} of them for a strand that ran through uncut",
          ", {0} of them for strands that ran through uncut",
        );
  const drawn_m = arms.reduce((sum, { remain }) => sum + remain.drawn.reduce((all, one) => all + one.pulled_m, 0), 0);
  const pulled = drawn_m > 0 ? say`${metres(drawn_m)} pulled from coils` : say`nothing pulled from elsewhere`;
  const rests = to_prove.length > 0 ? say` To be proven: ${to_prove.join("; ")}.` : "";
  return say`${down} A new case at ${place.tag}: ${counted(arms.length, "sheath end")} cut back and brought into it with ${pulled}, and ${counted(lines, "splice")}${through}.${rests}`;
}

/** Of all sheaths that lack alike, so it is said once. */
const wayOut = (): string =>
  say`Measure what lies there, and ask again with the metres that are really destroyed; where it still lacks, a piece of new cable goes into the new case, with a second case where it comes from, and that is no plan of this answer: enter it as a job with steps of its own.`;
