/** Doubts about records, put in words and refused together once their names are known. */
import type { KindName } from "../model/dictionary.ts";
import { type Problem, type RefusalCode, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { type Draft, sentenceOf } from "./draft.ts";
import type { Reader } from "./handle.ts";
import { loadNames, type Names } from "./names.ts";
import { labelOf } from "./relations.ts";
import type { KeyClash } from "./unique.ts";

export interface Doubt {
  readonly kind: KindName;
  readonly id: number;
  readonly row: number | undefined;
  readonly field: string;
  /** Makes the reason once names are known. */
  readonly reason: (names: Names) => string;
  readonly about?: { readonly kind: KindName; readonly id: number };
}

/** What happens to rows beside the draft in the same change set. */
export interface Beside {
  /** Whether a record is deleted as part of a range. */
  readonly goes: (kind: KindName, id: number) => boolean;
  /** Whether a record comes back as part of a page. */
  readonly comes: (kind: KindName, id: number) => boolean;
  /** Nothing was written since the state that is restored: what held then holds now. */
  readonly certain: boolean;
}

export const NOTHING: Beside = { goes: () => false, comes: () => false, certain: false };

export const clashDoubt = ({ kind, id, row, field, holder, value }: KeyClash): Doubt => ({
  kind,
  id,
  row,
  field,
  reason: (names) => {
    const by = names.nameOf(kind, holder);
    // Known by just that, it need not be named again.
    return by === `${value}` ? say`${value} is taken` : say`is ${value}: taken by ${by}`;
  },
  about: { kind, id: holder },
});

export async function refuseDoubts(
  reader: Reader,
  draft: Draft,
  code: RefusalCode,
  doubts: readonly Doubt[],
): Promise<void> {
  if (doubts.length === 0) return;
  const wanted = new Map<KindName, Set<number>>();
  for (const one of doubts)
    for (const { kind, id } of one.about ? [one, one.about] : [one]) {
      const ids = wanted.get(kind);
      if (ids) ids.add(id);
      else wanted.set(kind, new Set([id]));
    }
  const names = await loadNames(reader, wanted, draft);
  const problems = doubts.map(
    (one): Problem => ({
      ...(one.row === undefined ? {} : { row: one.row }),
      record: names.nameOf(one.kind, one.id),
      field: labelOf(one.kind, one.field),
      reason: one.reason(names),
    }),
  );
  refuse(code, sentenceOf(problems), problems, { about: doubts.flatMap((one) => one.about ?? []) });
}
