/** What one record kind is. `core/model/dictionary.ts` lists them all. */

import { say } from "../words/say.ts";
import { choice, date, type Field, reference, text } from "./field.ts";

export type Group = "places" | "ways" | "cable" | "glass" | "patching" | "service" | "evidence" | "work" | "plant";

/**
 * How a record's address is built: its parent's address, a separator, its own name.
 * `parents` are tried in order, the first that isn't null is used; none means that the name stands alone.
 */
export interface Addressing {
  readonly parents: readonly string[];
  readonly separator: "" | "/" | ":" | "#" | "@";
  /** The field that holds the own name: `tag`, `number` or `ordinal`. */
  readonly name: string;
}

export interface Kind {
  readonly name: string;
  readonly one: string;
  readonly many: string;
  readonly group: Group;
  /** One or two plain sentences for the reference page, empty tables and forms. */
  readonly help: string;
  /** Null for a record that is named by what it joins (a splice, a leg). */
  readonly address: Addressing | null;
  /**
   * The fields that identify a record in exchange files. `unique` says that the store holds them unique;
   * otherwise exact duplicates are told apart by their order.
   */
  readonly key: readonly string[];
  readonly unique: boolean;
  /** Further fields to index, each list one index. */
  readonly indices?: readonly (readonly string[])[];
  /**
   * The reference that owns this record: it is created with the owner, listed on the owner's page and offered to be
   * taken along when the owner is deleted.
   */
  readonly ownedBy?: readonly string[];
  readonly fields: Readonly<Record<string, Field>>;
}

/** Whether the thing is there. Only what is in place or out of use carries glass in a trace. */
export const LIFE = {
  planned: say`planned`,
  in_stock: say`in stock`,
  in_place: say`in place`,
  out_of_use: say`out of use`,
  removed: say`removed`,
} as const;

export const lifeWords = (life: unknown): string => LIFE[life as keyof typeof LIFE] ?? say`in an unknown state`;

/** How the record is known. */
export const BASIS = {
  seen: say`seen`,
  measured: say`measured`,
  drawn: say`from a drawing`,
  told: say`told`,
  guessed: say`guessed`,
} as const;

/** Fields of every kind of thing one can touch. */
export const physical = {
  life: choice(say`life`, say`Whether the thing is planned, in stock, in place, out of use or removed.`, LIFE, {
    required: true,
    initial: "in_place",
  }),
  life_from: date(say`since`, say`The day this life began.`),
  life_until: date(say`until`, say`The day this life ended or will end.`),
  life_job_id: reference("job", say`job`, say`The job that plans or planned it.`),
  owner_id: reference("party", say`owner`, say`Whose it is; empty means the plant's own.`),
} as const;

/** Fields of every kind. */
export const provenance = {
  basis: choice(say`basis`, say`How this record is known.`, BASIS),
  basis_visit_id: reference("visit", say`visit`, say`The visit in which it was seen or measured.`),
  basis_paper_id: reference("attachment", say`paper`, say`The drawing, sheet or photo behind it.`),
  notes: text(say`notes`, say`Anything else a colleague should know.`, { max: 4000, lines: true }),
} as const;

export const defineKind = <const K extends Kind>(kind: K): K => kind;
