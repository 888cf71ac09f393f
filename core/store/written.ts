/** What a write answers and tells. */
import type { KindName } from "../model/dictionary.ts";

/** What a write answers: the change set it made (null for a rehearsal) and what it changed. */
export interface Written<O> {
  readonly change_set: number | null;
  readonly summary: string;
  /** How many records were added, changed and deleted, by kind. */
  readonly counts: readonly { kind: KindName; added: number; changed: number; deleted: number }[];
  /** The first few hundred changes in words. */
  readonly changes: readonly ChangeView[];
  readonly notices: readonly string[];
  readonly answer: O;
}

export interface ChangeView {
  readonly op: "insert" | "update" | "delete";
  readonly kind: KindName;
  readonly id: number;
  /** The record's address or description. */
  readonly record: string;
  readonly fields: readonly { field: string; label: string; before: string | null; after: string | null }[];
}

/** Told to every window after each write. */
export interface Changed {
  readonly revision: number;
  readonly summary: string;
  /** What it does to a change set before it; null where it is a change of its own. */
  readonly verb: "undo" | "redo" | null;
  readonly kinds: readonly KindName[];
}
