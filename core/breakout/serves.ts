/** Whether strands of a set serve whoever takes them: where they end on the side wanted, and who else wants them. */
import { shortRange } from "../act/numbering.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { BreakoutPlan, Half, ShortOf } from "./answer.ts";
import { farWords } from "./far-end.ts";
import type { StrandHere } from "./strands.ts";

export interface ServedAsked {
  /** Of the cable. */
  readonly tag: string;
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
}

const rangeOf = (tag: string, own: readonly StrandHere[]): string =>
  `${tag}:${shortRange(own.map(({ number }) => number).sort((a, b) => a - b))}`;

/** Strands that end at no port towards one side, by where they end. */
export function shortOf(strands: readonly StrandHere[], towards: Half, { tag, ends }: ServedAsked): ShortOf[] {
  const ending = Map.groupBy(strands, ({ halves }) => {
    const far = halves[towards]?.far;
    return far === undefined || far.reach === "port" ? null : far.stop;
  });
  return [...ending].flatMap(([, own]): ShortOf[] => {
    const far = own[0]?.halves[towards]?.far;
    if (far === undefined || far.reach === "port") return [];
    const range = rangeOf(tag, own);
    const ended = farWords(far, own.length > 1);
    const feed = ends[towards]?.tag;
    const words =
      far.reach === "cut" && feed !== undefined
        ? say`${range} ${ended}, so ${feed} is not reached`
        : `${range} ${ended}`;
    return [{ towards, strands: range, reach: far.reach, place: far.place, words }];
  });
}

/** Other jobs that want some of them, each with which. */
export const promisedOf = (strands: readonly StrandHere[], { tag }: ServedAsked): BreakoutPlan["promised"] =>
  [...Map.groupBy(strands, ({ promised }) => promised?.id ?? 0).values()].flatMap((own) => {
    const job = own[0]?.promised;
    if (!job) return [];
    const range = rangeOf(tag, own);
    const words =
      own.length === 1 ? say`${range} is wanted by job ${job.tag} too` : say`${range} are wanted by job ${job.tag} too`;
    return [{ job, strands: range, words }];
  });
