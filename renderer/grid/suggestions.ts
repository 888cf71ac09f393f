/** What a cell's editor offers while somebody types. */
import { KIND_NAMES, KINDS, type KindName } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import type { GridColumn } from "./columns.ts";
import type { Found } from "./commit.ts";
import { type ReadingHabits, readCell } from "./reading.ts";
import { cellText } from "./showing.ts";

export interface Suggestion {
  /** What the cell holds once it is chosen, as text. */
  readonly text: string;
  /** The record, where one is meant. */
  readonly found: Found | null;
  /** A few words beside it. */
  readonly aside: string | null;
}

/** Records that may be meant; asked anew while somebody types. */
export type Suggest = (
  text: string,
  kinds: readonly KindName[] | null,
  signal: AbortSignal,
) => Promise<{ readonly matches: readonly Suggestion[]; readonly more: number }>;

/** Where suggestions come from: a closed list, the records of a kind, or nothing. */
export type SuggestionSource =
  | { readonly from: "list"; readonly all: readonly Suggestion[] }
  | { readonly from: "records"; readonly kinds: readonly KindName[] | null }
  | { readonly from: "nothing" };

const plain = (text: string): Suggestion => ({ text, found: null, aside: null });

export function sourceFor(column: GridColumn, subjectKind: KindName | null): SuggestionSource {
  const { field } = column;
  switch (field.type) {
    case "choice":
    case "set":
      return { from: "list", all: Object.values(field.values).map(plain) };
    case "kind":
      return { from: "list", all: KIND_NAMES.map((kind) => plain(KINDS[kind].one)) };
    case "reference":
      return { from: "records", kinds: [field.to as KindName] };
    case "subject":
      return { from: "records", kinds: subjectKind ? [subjectKind] : null };
    default:
      return { from: "nothing" };
  }
}

const fold = (text: string): string => text.toLowerCase();

/**
 * Those that hold what was typed: what is exactly so first, or Enter would take another for it; then those that begin with
 * it. All of them while nothing was typed.
 */
export function fitting(all: readonly Suggestion[], typed: string): Suggestion[] {
  const asked = fold(typed.trim());
  const begins = all.filter(({ text }) => fold(text).startsWith(asked));
  const holds = all.filter(({ text }) => !fold(text).startsWith(asked) && fold(text).includes(asked));
  const exactly = begins.filter(({ text }) => fold(text) === asked);
  return [...exactly, ...begins.filter((one) => !exactly.includes(one)), ...holds];
}

/** The words of a set that are still to be completed: what stands after the last comma. */
export const lastWord = (typed: string): string => typed.slice(typed.lastIndexOf(",") + 1).trimStart();

export function withLastWord(typed: string, word: string): string {
  const at = typed.lastIndexOf(",");
  return at < 0 ? word : `${typed.slice(0, at)}, ${word}`;
}

/**
 * How a typed number or day is understood, where that isn't plain from the text: "12.192 m", "3 Apr 2026"; or why it
 * can't be understood.
 */
export function understood(
  kind: KindName,
  id: string,
  field: Field,
  text: string,
  habits: ReadingHabits,
): { readonly reads: string } | { readonly reason: string } | null {
  if (text.trim() === "" || (field.type !== "number" && field.type !== "integer" && field.type !== "date")) return null;
  const reading = readCell(kind, id, field, text, habits);
  if (reading.is === "refused") return { reason: reading.reason };
  if (reading.is !== "value") return null;
  const shown = cellText(field, reading.value, null, habits.lengths);
  return shown === text.trim() ? null : { reads: shown };
}
