/** Where two files say different things of one record: what each says, and what was chosen. */
import type { KindName, Value } from "../../model/dictionary.ts";

export type Take = "ours" | "theirs";

export const CONFLICTS = {
  both_changed: "both changed it",
  both_added: "both entered it, differently",
  deleted_here: "was deleted here and changed there",
  deleted_there: "was deleted there and changed here",
  refers_to_deleted: "refers to what was deleted here",
  rests_here: "was deleted there, and something entered here rests on it",
} as const;

export type ConflictKind = keyof typeof CONFLICTS;

export interface Conflict {
  /** Names it in a choice: `cable 12 name`, `cable 12` of a whole record, `their cable 12` of one that is new here. */
  readonly key: string;
  readonly why: ConflictKind;
  readonly kind: KindName;
  readonly id: number;
  /** Its id in their file, where it is new here. */
  readonly their_id: number | null;
  /** The field both speak of; null where it is about the whole record. */
  readonly field: string | null;
  /** When they parted, here and there; null of a whole record. */
  readonly before: Value;
  readonly ours: Value;
  readonly theirs: Value;
  /** What was chosen; null where nothing was, and what stands here is kept meanwhile. */
  readonly take: Take | null;
}

export interface Choices {
  readonly of: ReadonlyMap<string, Take>;
  /** For all that isn't chosen one by one. */
  readonly rest: Take | null;
}

/** Collects conflicts and answers what to do about each. */
export class Conflicts {
  readonly found = new Map<string, Conflict>();
  readonly #choices: Choices;

  constructor(choices: Choices) {
    this.#choices = choices;
  }

  decide(conflict: Omit<Conflict, "key" | "take" | "their_id"> & { readonly their_id?: number | null }): Take {
    const { kind, id, field, their_id = null } = conflict;
    const key = `${their_id === null ? `${kind} ${id}` : `their ${kind} ${their_id}`}${field === null ? "" : ` ${field}`}`;
    const take = this.#choices.of.get(key) ?? this.#choices.rest;
    this.found.set(key, { key, ...conflict, their_id, take });
    return take ?? "ours";
  }
}
