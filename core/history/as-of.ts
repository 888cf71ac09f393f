/**
 * The plant as it stood on a day, as a plan that takes back what came later. Two things are asked for under that name, and
 * an answer says which it is: what the record said then, or what was built by then by all that is known now.
 */
import { KINDS } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { viewsOfPast } from "../store/history.ts";
import type { Change, Plan } from "../store/plan.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type LeftOut, takenBack } from "./known.ts";
import { laterWork } from "./later-work.ts";
import { lastId, lastOfDay } from "./moments.ts";
import { netChanges } from "./net.ts";
import { toldEarlier } from "./own-days.ts";
import { withBothShown } from "./same-tags.ts";

/** `known`: work done by that day, with every correction known now. `recorded`: what the record said at its end. */
export type Knowledge = "known" | "recorded";

/** The act of the change set that makes a file such a picture; it is the last of that file, which is only read. */
export const AS_OF_ACT = "history.as_of";

export interface AsOfAnswer {
  readonly day: string;
  readonly knowledge: Knowledge;
  /** The last change set of the plant it was made from. */
  readonly made_from: number;
  /** How many change sets don't count, or count no more. */
  readonly later: number;
}

export async function planAsOf(
  reader: Reader,
  day: string,
  knowledge: Knowledge,
  today: string,
): Promise<Plan<AsOfAnswer>> {
  if (day > today)
    refuse("bad_input", say`${shownDay(day)} is yet to come.`, [{ field: "day", reason: say`is yet to come` }]);
  const last = await lastId(reader);
  const made = { day, knowledge, made_from: last };
  if (knowledge === "recorded") {
    const cut = await lastOfDay(reader, day);
    const later = await reader.rows<{ n: number }>("SELECT count(*) AS n FROM change_set WHERE id > ?", [cut]);
    return {
      summary: say`The plant as it was recorded at the end of ${shownDay(day)} (UTC), with what was wrong then`,
      changes: await inverse(reader, cut, last),
      answer: { ...made, later: later[0]?.n ?? 0 },
      asOf: true,
    };
  }
  const work = await laterWork(reader, day);
  const taken = await takenBack(reader, work, last);
  const { changes, notices } = await withBothShown(reader, taken.changes, day);
  const early = await toldEarlier(reader, changes, day);
  const summary = say`The plant as it stood on ${shownDay(day)}: work done by then, with every correction known on ${shownDay(today)}`;
  return {
    // The file itself says it to whoever opens it: a plant that seems empty is none.
    summary:
      early.records === 0
        ? summary
        : plural(
            early.records,
            "{1}; {0} record is left out, for it was entered as later work though it tells of that day or one before",
            "{1}; {0} records are left out, for they were entered as later work though they tell of that day or one before",
            summary,
          ),
    changes,
    answer: { ...made, later: work.sets.size },
    notices: [
      ...(early.notice === null ? [] : [early.notice]),
      ...undatedNotice(work.undated),
      ...notices,
      ...(await leftOutNotices(reader, taken.leftOut)),
    ],
    asOf: true,
  };
}

async function inverse(reader: Reader, cut: number, last: number): Promise<Change[]> {
  const changes: Change[] = [];
  for (const [kind, own] of await netChanges(reader, cut, last))
    for (const [id, net] of own) {
      if (net.op === "insert") changes.push({ op: "delete", kind, id });
      else if (net.op === "delete") changes.push({ op: "insert", kind, id, values: net.before });
      else changes.push({ op: "update", kind, id, values: net.before });
    }
  return changes;
}

const undatedNotice = (undated: number): string[] =>
  undated === 0
    ? []
    : [
        plural(
          undated,
          "{0} change says no day of the work; the day of recording was taken, which is the day of the work or after it.",
          "{0} changes say no day of the work; the day of recording was taken, which is the day of the work or after it.",
        ),
      ];

const SOME = 10;

async function leftOutNotices(reader: Reader, leftOut: readonly LeftOut[]): Promise<string[]> {
  const shown = leftOut.slice(0, SOME);
  // As history names them: some are no longer on record.
  const named = await viewsOfPast(
    reader,
    shown.map(({ kind, id }) => ({ op: "update", kind, id, before: {}, after: {} })),
  );
  const words = shown.map(({ kind, what }, at) => {
    const name = named[at]?.record ?? "";
    return `${name.startsWith(KINDS[kind].one) ? name : `${KINDS[kind].one} ${name}`} ${what}.`;
  });
  const more = leftOut.length - shown.length;
  return more > 0 ? [...words, say`And so of ${more} more.`] : words;
}
