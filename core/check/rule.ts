/**
 * What a rule is. It reads in sets, and answers cases: the records each is about and the facts it rests on. Names,
 * provenance, exceptions and order are added afterwards for all rules alike (`report.ts`).
 */
import type { PlantGlass } from "../glass/plant-glass.ts";
import type { KindName, Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { FindingAct, RuleDescription } from "./finding.ts";
import type { Policies } from "./policies.ts";

export interface Ground {
  readonly reader: Reader;
  readonly plant: Row<"plant">;
  readonly policies: Policies;
  /** `YYYY-MM-DD`. */
  readonly today: string;
  glass(): Promise<PlantGlass>;
  /** What several rules work out of the same, made once a report. */
  once<T>(name: string, make: () => Promise<T>): Promise<T>;
  /** Lets other work breathe and ends the report when told to; call it between pages of long work. */
  breathe(): Promise<void>;
}

/** JSON only: numbers, texts, lists. */
export type Fact = string | number | null | readonly Fact[] | { readonly [name: string]: Fact };

export interface Case {
  /** The records it is about as kind and id, the one to open first at the front. At least one. */
  readonly records: readonly (readonly [KindName, number])[];
  /** The records that name it for good, whatever else changes; its first record, once they are in order, unless said. */
  readonly key?: readonly (readonly [KindName, number])[];
  /** Added to the name, where the records don't tell cases apart. */
  readonly keyword?: string;
  /** The records stand in an order that says something; otherwise neighbours of one kind are put in order of their tags. */
  readonly inOrder?: true;
  /** How many single things the one cause has; 1 unless said. */
  readonly count?: number;
  /**
   * What it rests on, beside the records. Ids don't belong here: they differ after an exchange; use what people see, and
   * lists in an order that doesn't come from ids.
   */
  readonly facts: { readonly [name: string]: Fact };
  /** The act that would repair it can be planned now; it is no fact, for it changes nothing of what was found. */
  readonly ready?: boolean;
  /** The facts without words, where some of their words have holes: those of one language are not those of another. */
  readonly held?: Fact;
  /** Where it is, when its records don't say: the id of a building. */
  readonly building_id?: number | null;
}

/** Names a record in a sentence: its address, or its description. */
export type Names = (kind: KindName, id: number) => string;

/** Lives in which a thing is there. */
export const PRESENT = "('in_place', 'out_of_use')";

/** A record between backquotes; empty for none. */
export const quote = (tag: Names, record: readonly [KindName, number] | undefined): string =>
  record ? `\`${tag(...record)}\`` : "";

/** "`A`, `B` and `C`", the first few of many. */
export function quoted(tag: Names, records: readonly (readonly [KindName, number])[], most = 4): string {
  const shown = records.slice(0, most).map((record) => quote(tag, record));
  const more = records.length - shown.length;
  return more > 0 ? say`${shown.join(", ")} and ${more} more` : listed(shown);
}

/** A life as people say it. */
export { lifeWords } from "../model/kind.ts";

export { listed } from "../words/phrase.ts";

export interface Said {
  /** One sentence, naming the records between backquotes. */
  readonly sentence: string;
  /** What would repair it, as an act; null when nothing can be proposed. */
  readonly repair: string | null;
  /** The operation that does or plans that repair, with what is known of its input; left out where people decide more. */
  readonly act?: FindingAct | null;
  /** For whoever goes there; null where nobody has to. */
  readonly caution?: string | null;
}

export interface Rule extends RuleDescription {
  find(ground: Ground): Promise<readonly Case[]>;
  /** The words of a case. `tag` names records; `one` is the case. */
  say(one: Case, tag: Names): Said;
}

/** A rule that lacks what it needs on this plant says so by throwing this; the report goes on. */
export class CannotTell extends Error {}

export const defineRule = (rule: Rule): Rule => rule;

/** Cautions that several rules give. */
export const CAUTION = {
  glass: say`Treat every end as lit: this light cannot be seen. Shards of glass cut; wear glasses and collect them.`,
  hole: say`A hole may hold gas, water or power. Test the air before going in; the local rules for confined spaces decide.`,
  metal: say`Do not touch metal members to find out. The local code and a licensed person decide how and where to bond.`,
} as const;
