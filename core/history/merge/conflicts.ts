/** Where two files say different things of one record: what each says, and what was chosen. */
import type { KindName, Value } from "../../model/dictionary.ts";
import { refuse } from "../../result.ts";
import { either } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";

/** `both` leaves both records, theirs under a tag that is given. */
export type Take = "ours" | "theirs" | "both";

export interface Choice {
  readonly take: Take;
  /** The tag of theirs, where both are taken. */
  readonly tag?: string | undefined;
}

export const CONFLICTS = {
  both_changed: say`both changed it`,
  both_added: say`both entered it, differently`,
  deleted_here: say`was deleted here and changed there`,
  deleted_there: say`was deleted there and changed here`,
  left_out_there: say`was left out there and changed here`,
  refers_to_deleted: say`refers to what was deleted here`,
  same_tag: say`two records want one tag`,
  rests_here: say`was deleted there, and something entered here rests on it`,
} as const;

export type ConflictKind = keyof typeof CONFLICTS;

export interface Conflict {
  /**
   * Names it in a choice: `cable 12 name`, `cable 12` of a whole record, `their cable 12` of one that is new here,
   * `cable 12 same tag` of one whose tag another record has.
   */
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
  /** What can be chosen. */
  readonly takes: readonly Take[];
  /** What was chosen; null where nothing was, and what stands here is kept meanwhile. */
  readonly take: Take | null;
  /** The tag that theirs gets, where both are taken. */
  readonly tag: string | null;
  /** Nothing need be chosen: both entered a record of one tag, which counts as one and the same. */
  readonly offered: boolean;
  /** Of such a pair, the fields that only one of both tells. */
  readonly only?: { readonly here: readonly string[]; readonly there: readonly string[] };
}

export interface Choices {
  readonly of: ReadonlyMap<string, Choice>;
  /** For all that isn't chosen one by one. */
  readonly rest: "ours" | "theirs" | null;
}

type Asked = Pick<Conflict, "why" | "kind" | "id" | "field" | "before" | "ours" | "theirs"> &
  Partial<Pick<Conflict, "their_id" | "takes" | "offered" | "only">>;

const SIDES: readonly Take[] = ["ours", "theirs"];

/** A key, the same in every language. What a choice about two records of one tag goes by; `record` is `cable 12`, `their cable 12` of one that is new here. */
export const sameTagKey = (record: string): string => `${record} same tag`;

export function keyOf({ why, kind, id, field, their_id = null }: Asked): string {
  const record = their_id === null ? `${kind} ${id}` : `their ${kind} ${their_id}`;
  return why === "same_tag" ? sameTagKey(record) : `${record}${field === null ? "" : ` ${field}`}`;
}

/** Collects conflicts and answers what to do about each. */
export class Conflicts {
  readonly found = new Map<string, Conflict>();
  readonly #choices: Choices;

  constructor(choices: Choices) {
    this.#choices = choices;
  }

  /** What was chosen under a key, whether or not it is a conflict. */
  said = (key: string): Choice | undefined => this.#choices.of.get(key);

  decide(asked: Asked): Take {
    return this.chosen(asked).take ?? "ours";
  }

  /** As `decide`, with the tag that theirs gets where both are taken, and null where nothing was chosen. */
  chosen(asked: Asked): { readonly take: Take | null; readonly tag: string | null } {
    const { their_id = null, takes = SIDES, offered = false } = asked;
    const key = keyOf(asked);
    const { rest, of } = this.#choices;
    const choice = of.get(key) ?? (rest === null || offered ? null : { take: rest });
    if (choice && !takes.includes(choice.take)) {
      refuse("bad_input", say`Of ${key} ${either(takes)} can be taken, not ${choice.take}.`, [
        { record: key, field: "take", reason: say`is ${choice.take}: must be ${either(takes)}` },
      ]);
    }
    const tag = choice?.take === "both" ? (choice.tag?.trim() ?? "") : null;
    if (tag === "") {
      refuse("bad_input", say`To keep both records of ${key}, theirs needs a tag.`, [
        { record: key, field: "tag", reason: say`is empty` },
      ]);
    }
    const take = choice?.take ?? null;
    this.found.set(key, { ...asked, key, their_id, takes, take, tag, offered });
    return { take, tag };
  }
}
