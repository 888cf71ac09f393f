/** Judgements as they are answered: with names, words and sources. */
import type { KindName } from "../model/dictionary.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted } from "../words/counted.ts";
import { formatNumber } from "../words/number.ts";
import { say } from "../words/say.ts";
import type { FitnessFigure, FitnessVerdict, Verdict } from "./answer.ts";
import type { About, Figure, Judgement } from "./judgement.ts";
import { CAUTION, WORDS, wordsOf } from "./words.ts";

/** Names of records, read in sets. */
export async function namesOf(reader: Reader, abouts: Iterable<About>): Promise<(about: About) => RecordRef> {
  const wanted = new Map<KindName, Set<number>>();
  for (const [kind, id] of abouts) wanted.set(kind, (wanted.get(kind) ?? new Set()).add(id));
  const found = new Map<KindName, Map<number, RecordRef>>();
  for (const [kind, ids] of wanted) found.set(kind, await refsOf(reader, kind, ids));
  return ([kind, id]) => found.get(kind)?.get(id) ?? { kind, id, tag: "…" };
}

export const aboutsOf = (one: Judgement): About[] => [
  ...one.records,
  ...one.lacks.map(({ of }) => of),
  ...one.figures.flatMap(({ rests_on }) => rests_on),
];

export const figureTold = (figure: Figure, name: (about: About) => RecordRef): FitnessFigure => ({
  ...figure,
  rests_on: figure.rests_on.filter(([, id]) => id > 0).map(name),
});

/** Worst first; within one verdict in the order in which they were judged, which is that of the cable. */
const ORDER: readonly Verdict[] = ["does_not", "caution", "cannot_tell", "fits"];

export interface Told {
  readonly verdicts: readonly FitnessVerdict[];
  readonly counts: Readonly<Record<Verdict, number>>;
  readonly unknown: readonly string[];
}

export async function told(reader: Reader, judgements: readonly Judgement[]): Promise<Told> {
  const name = await namesOf(reader, judgements.flatMap(aboutsOf));
  const verdicts = ORDER.flatMap((verdict) => judgements.filter((one) => one.verdict === verdict)).map((one) => {
    const words = wordsOf(one, (kind, id) => name([kind, id]).tag);
    const { title, rule, source } = WORDS[one.rule];
    const limits = [...new Set(one.figures.filter(({ basis }) => basis === "limit").map((figure) => figure.source))];
    return {
      rule: one.rule,
      title,
      verdict: one.verdict,
      records: one.records.map(name),
      fact: words.fact,
      rule_words: rule,
      source: limits.length > 0 ? limits.join("; ") : source,
      remedy: words.remedy,
      caution: CAUTION,
      figures: one.figures.map((figure) => figureTold(figure, name)),
      lacks: words.lacks,
    };
  });
  const count = (verdict: Verdict) => verdicts.filter((one) => one.verdict === verdict).length;
  return {
    verdicts,
    counts: {
      fits: count("fits"),
      does_not: count("does_not"),
      caution: count("caution"),
      cannot_tell: count("cannot_tell"),
    },
    unknown: [...new Set(verdicts.flatMap(({ lacks }) => lacks))],
  };
}

/** Who decides: as everywhere, and which code and authority the plant names. */
export async function cautionOf(reader: Reader): Promise<string> {
  const [plant] = await reader.rows<{ authority: string | null }>("select authority from plant order by id limit 1");
  return plant?.authority ? say`${CAUTION} On record for this plant: ${plant.authority}` : CAUTION;
}

/** "does not fit in 3 points, wants care in 1, can't be told in 4, fits in 12", of whatever stands before it. */
export function countsTold({ does_not, caution, cannot_tell, fits }: Told["counts"]): string {
  const first = [does_not, caution, cannot_tell, fits].find((some) => some > 0);
  if (first === undefined) return say`has nothing on record to be judged by`;
  const points = counted(first, "point");
  // What is counted is said with the first number alone.
  const part = (some: number, said: (many: string) => string, before: number): string[] =>
    some === 0 ? [] : [said(before === 0 ? points : formatNumber(some))];
  return [
    ...part(does_not, (many) => say`does not fit in ${many}`, 0),
    ...part(caution, (many) => say`wants care in ${many}`, does_not),
    ...part(cannot_tell, (many) => say`can't be told in ${many}`, does_not + caution),
    ...part(fits, (many) => say`fits in ${many}`, does_not + caution + cannot_tell),
  ].join(", ");
}
