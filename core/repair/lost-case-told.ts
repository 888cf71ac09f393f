/** A wrecked case as it is told: which sheath gives what, what is spliced anew, how long it takes, and what is down. */
import { limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendHours, MendLoss, MendPull } from "./answer.ts";
import { caseLosses } from "./case-losses.ts";
import { isBeside, landsAnew } from "./case-piece.ts";
import { cautionsOf } from "./cautions.ts";
import { atPanel } from "./course.ts";
import { hoursFrom } from "./hours.ts";
import { type CaseArm, type LostCase, type LostCaseAsked, leftLying, reckonLostCase, remainOf } from "./lost-case.ts";
import { readStock, type Stock, stockFor } from "./stock.ts";
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
  /** Where it lacks: new cable from a place on its way, or in its place from its end; null where none is needed. */
  readonly piece: LostCasePiece | null;
  /** It doesn't reach, and nothing of its glass was joined in the case: it is left where it lies. */
  readonly left_lying: boolean;
}

export interface LostCasePiece {
  readonly place: RecordRef | null;
  readonly name: string;
  /**
   * In a case where it only passes; beside a case or panel, at a stop of its own; or new cable is landed at the panel, or
   * spliced in the case, in which it ends, in the place of the old.
   */
  readonly joined: "in_a_case" | "beside_case" | "beside_panel" | "landed" | "in_that_case";
  /** The same in words that follow the place. */
  readonly how: string;
  /** Sheath that a splice takes there on each side, or that is kept at the end; and new cable in all. */
  readonly work_m: number;
  readonly new_cable_m: number;
  readonly strands: number;
  /** What of the stock would do, or what to buy. */
  readonly stock: readonly string[];
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
  /** What each circuit loses afterwards, the most urgent first; empty where it can't be renewed. */
  readonly losses: readonly MendLoss[];
  /** Circuits that would not run afterwards, those of them that didn't before, and those of which nobody can tell. */
  readonly fails: readonly RecordRef[];
  readonly failed_before: readonly RecordRef[];
  readonly in_doubt: readonly RecordRef[];
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
  const pulls = lost.arms.reduce((sum, arm) => sum + remainOf(arm).drawn.length, 0);
  const ways = lost.arms.flatMap(({ on, at, side }) => on.ways[side === "left" ? at - 1 : at] ?? []);
  const arms = await armsTold(reader, lost.arms);
  const pieces = arms.flatMap(({ piece }) => piece ?? []);
  const cases = pieces.filter(({ joined }) => JOINED[joined].new_case).length;
  const brought = lost.arms.filter((arm) => !leftLying(arm)).length;
  const spliced = lines + pieces.reduce((sum, { strands }) => sum + strands, 0);
  const losses = lost.refused.length > 0 || lost.on_record ? [] : await caseLosses(reader, lost, limits, today);
  const those = (verdict: MendLoss["runs_at_worst"]) => losses.filter((one) => one.runs_at_worst === verdict);
  return {
    ...{ closure: lost.closure, place: lost.place, lost_m: lost.lost_m, arms },
    ...{ splices: joints.length, express: express.length, circuits, not_in_service },
    possible: lost.refused.length === 0,
    ...{ refused: lost.refused, to_prove: lost.to_prove, assumed: lost.assumed },
    hours: hoursFrom(
      [
        ["set_up", 1 + pieces.length, say`a place set up, guarded and tested for air`],
        ["pull_coil", pulls, say`a coil taken down and pulled`],
        [
          "lay_100m",
          pieces.reduce((sum, { new_cable_m }) => sum + new_cable_m, 0) / 100,
          say`a hundred metres of new cable laid`,
        ],
        ["prepare_side", brought + pieces.length + cases, say`a sheath end opened and dressed in`],
        ["splice_strand", spliced, say`a strand spliced`],
        ["measure_strand", lines, say`a strand measured both ways`],
      ],
      limits,
    ),
    losses,
    fails: those("no").map(({ circuit }) => circuit),
    failed_before: those("no").flatMap(({ circuit, ran }) => (ran === "no" ? [circuit] : [])),
    in_doubt: those("cannot_tell").map(({ circuit }) => circuit),
    sentence: sentenceOf(lost),
    cautions: cautionsOf(ways),
    limits: limits.under("repair.").map((one) => ({
      ...{ tag: one.tag, meaning: one.meaning, value: one.value, unit: one.unit, source: limitSource(one) },
    })),
  };
}

async function armsTold(reader: Reader, arms: readonly CaseArm[]): Promise<LostCaseArm[]> {
  const stock = arms.some(({ piece }) => piece) ? await readStock(reader) : { reels: [], cases: [] };
  const rows = await reader.rows<{ cable_id: number; strands: number }>(
    "select cable_id, count(*) as strands from strand where cable_id in (select value from json_each(?)) group by cable_id",
    [JSON.stringify(arms.map(({ cable }) => cable.id))],
  );
  const strands = new Map(rows.map((row) => [row.cable_id, row.strands]));
  return arms.map((arm) => armTold(arm, strands.get(arm.cable.id) ?? 0, stock));
}

function armTold(arm: CaseArm, strands: number, stock: Stock): LostCaseArm {
  const { cable, towards, has_m, needs_m, remain, piece, on } = arm;
  return {
    cable,
    from: towards,
    has_m: millimetre(Math.max(0, has_m)),
    needs_m: millimetre(needs_m),
    short_m: millimetre(remain.short_m),
    left_lying: leftLying(arm),
    pulls: remainOf(arm).drawn.flatMap(({ stop, pulled_m, left_m }) => {
      const at = on.stops[stop];
      return at ? [{ stop: at.stop, place: at.place, pulled_m: millimetre(pulled_m), left_m: millimetre(left_m) }] : [];
    }),
    piece: piece && pieceTold(arm, piece, strands, stock),
  };
}

/** How new cable is joined where it begins: whether that takes a case of its own, and in words that follow the place. */
const JOINED: Readonly<Record<LostCasePiece["joined"], { readonly new_case: boolean; readonly how: string }>> = {
  in_a_case: { new_case: true, how: "" },
  beside_case: { new_case: true, how: say`beside the case there` },
  beside_panel: { new_case: true, how: say`beside the panel there` },
  landed: { new_case: false, how: say`landed there in the place of the old` },
  in_that_case: { new_case: false, how: say`spliced in the case there in the place of the old` },
};

function joinedHow({ on }: CaseArm, piece: NonNullable<CaseArm["piece"]>): LostCasePiece["joined"] {
  if (landsAnew(piece)) return piece.plan.landed_in_case ? "in_that_case" : "landed";
  const stop = on.course.stops[piece.at];
  if (!isBeside(piece) || !stop) return "in_a_case";
  return atPanel(stop) ? "beside_panel" : "beside_case";
}

function pieceTold(arm: CaseArm, piece: NonNullable<CaseArm["piece"]>, strands: number, stock: Stock): LostCasePiece {
  const { on, fibre_class } = arm;
  const joined = joinedHow(arm, piece);
  const { new_case, how } = JOINED[joined];
  const wanted = { metres: piece.new_cable_m, strands, splices: strands, fibre_class, cases: new_case ? 1 : 0 };
  return {
    place: on.stops[piece.at]?.place ?? null,
    name: on.stops[piece.at]?.name ?? say`a place not known`,
    ...{ joined, how },
    work_m: piece.point.work_m,
    new_cable_m: millimetre(piece.new_cable_m),
    strands,
    stock: stockFor(stock, wanted).words,
  };
}

function sentenceOf({ closure, place, arms, glass, refused, to_prove }: LostCase): string {
  const { joints, express, circuits, not_in_service } = glass;
  const lines = joints.length + express.length;
  const what = lines === 0 ? say`no strand is joined in it` : downWords(lines, circuits.length, not_in_service.length);
  const down = say`${closure.tag} is wrecked: ${what}.`;
  if (refused.length > 0) {
    const none = say`${down} No new case at ${place.tag} brings all of it back: ${refused.join("; ")}.`;
    return arms.some(({ remain, piece, idle }) => remain.short_m > 0 && !piece && !idle) ? `${none} ${wayOut()}` : none;
  }
  const through =
    express.length === 0
      ? ""
      : plural(
          express.length,
          ", {0} of them for a strand that ran through uncut",
          ", {0} of them for strands that ran through uncut",
        );
  const drawn_m = arms.reduce((sum, arm) => sum + remainOf(arm).drawn.reduce((all, one) => all + one.pulled_m, 0), 0);
  const pulled = drawn_m > 0 ? say`${metres(drawn_m)} pulled from coils` : say`nothing pulled from elsewhere`;
  const rests = to_prove.length > 0 ? say` To be proven: ${to_prove.join("; ")}.` : "";
  const lacking = arms.flatMap((arm) => (arm.piece ? [lackWords(arm, arm.piece)] : []));
  const near = arms.filter((arm) => !arm.piece && !leftLying(arm)).length;
  const brought =
    near === 0 ? "" : say`${counted(near, "sheath end")} cut back and brought into it with ${pulled}, and `;
  if (lacking.length > 0)
    return say`${down} A new case at ${place.tag}: ${brought}${counted(lines, "splice")}${through}. New cable goes into it where the old doesn't reach: ${lacking.join("; ")}.${rests}`;
  return say`${down} A new case at ${place.tag}: ${brought}${counted(lines, "splice")}${through}.${rests}`;
}

function lackWords(arm: CaseArm, piece: NonNullable<CaseArm["piece"]>): string {
  const { cable, towards, on } = arm;
  const [name, length] = [on.stops[piece.at]?.name ?? say`a place not known`, metres(piece.new_cable_m)];
  const joined = joinedHow(arm, piece);
  const { how } = JOINED[joined];
  if (landsAnew(piece)) return say`${length} for ${cable.tag} from ${name}, ${how}`;
  return how === ""
    ? say`${length} for ${cable.tag} from ${towards}, spliced to it at ${name}`
    : say`${length} for ${cable.tag} from ${towards}, spliced to it at ${name} ${how}`;
}

/** Of all sheaths that lack alike, so it is said once. */
const wayOut = (): string => say`Measure what lies there, and ask again with the metres that are really destroyed.`;
