/**
 * A clerk's act as a sentence with blanks. The names of the blanks are the names in the operation's input (the compiler
 * holds that), so a refusal's field tells beside which blank its reason belongs.
 */
import type { KindName } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";

interface Common {
  readonly label: string;
  /** One plain sentence: what belongs here. */
  readonly help: string;
  readonly required?: boolean;
  /** What stands in the blank while it is empty, as an example. */
  readonly example?: string;
  /** A list of such values, written with commas, goes out as a list. */
  readonly list?: boolean;
}

export type Blank = Common &
  (
    | { readonly as: "record"; readonly kinds: readonly KindName[] }
    /** Several strands or ports in one address, such as `F-012:1-24`. */
    | { readonly as: "range"; readonly of: "strand" | "port" }
    | { readonly as: "text"; readonly lines?: boolean }
    | { readonly as: "field"; readonly field: Field; readonly kind: KindName; readonly name: string }
    | { readonly as: "whole"; readonly min: number; readonly max: number }
    /** The unit stands behind the label; empty where the label says it, or there is none. */
    | { readonly as: "decimal"; readonly unit: string }
    | { readonly as: "day" }
    | { readonly as: "choice"; readonly values: Readonly<Record<string, string>> }
    /** Yes or nothing. */
    | { readonly as: "flag" }
    /** Fields of the cable type that a cable has otherwise: which, and how. */
    | { readonly as: "overrides" }
    /** A list of rows, each with blanks of its own. */
    | {
        readonly as: "rows";
        readonly one: string;
        /** A name with a point goes into an object of its own: `way.pathway`. */
        readonly columns: Readonly<Record<string, Blank>>;
        /** A row without anything in it says something too: a stop where nobody knows the place. */
        readonly keepsEmpty?: boolean;
        /** The list has exactly one row and goes out as that row. */
        readonly single?: boolean;
      }
  );

/** Blanks of an operation's input: each name is one of the input's. */
export type BlanksOf<N extends OperationName> = Partial<Record<KeysOfUnion<InputOf<N>> & string, Blank>>;
type KeysOfUnion<T> = T extends T ? keyof T : never;

/** A view by its path, and what stands in its question. */
export type Next = readonly [path: string, values: Readonly<Record<string, string>>];

export interface Act {
  readonly operation: OperationName;
  /** Tells acts of one operation apart: `module.enter` has a cassette and a splitter. */
  readonly name: string;
  /** What it is called in lists: "Land strands". */
  readonly title: string;
  /** The sentence with blanks as `{name}`. */
  readonly sentence: string;
  readonly blanks: Readonly<Record<string, Blank>>;
  /** Blanks under the sentence, in order, in groups. */
  readonly more: readonly (readonly string[])[];
  /** Values that go out as they stand. */
  readonly fixed?: Readonly<Record<string, unknown>>;
  /** The filled button, once a rehearsal has told what would be done. */
  readonly button: (answer: unknown) => string;
  /** What a person who does it should mind, before the record. */
  readonly cautions?: readonly string[];
  /** The page on which what was made is gone on with; left out, the next such act follows on this one. */
  readonly leadsTo?: (answer: unknown) => Next;
}

type KeyOf<N extends OperationName> = KeysOfUnion<InputOf<N>> & string;

interface Given<N extends OperationName> {
  readonly name?: string;
  readonly title: string;
  readonly sentence: string;
  readonly blanks: BlanksOf<N>;
  /** By their keys, or by what lies in one, such as `way.conduit`. */
  readonly more?: readonly (readonly (KeyOf<N> | `${KeyOf<N>}.${string}`)[])[];
  readonly fixed?: Partial<Record<KeyOf<N>, unknown>>;
  readonly button: (answer: AnswerOf<N> extends { answer: infer A } ? A : never) => string;
  readonly cautions?: readonly string[];
  readonly leadsTo?: (answer: AnswerOf<N> extends { answer: infer A } ? A : never) => Next;
}

export const defineAct = <N extends OperationName>(operation: N, given: Given<N>): Act => ({
  operation,
  name: given.name ?? operation,
  title: given.title,
  sentence: given.sentence,
  blanks: given.blanks as Readonly<Record<string, Blank>>,
  more: given.more ?? [],
  ...(given.fixed ? { fixed: given.fixed } : {}),
  button: given.button as (answer: unknown) => string,
  ...(given.cautions ? { cautions: given.cautions } : {}),
  ...(given.leadsTo ? { leadsTo: given.leadsTo as (answer: unknown) => Next } : {}),
});

export type SentencePart = { readonly words: string } | { readonly blank: string };

/** The sentence in order: words and blanks. */
export const partsOf = (sentence: string): SentencePart[] =>
  sentence
    .split(/(\{\w+\})/)
    .filter((part) => part !== "")
    .map((part) => (part.startsWith("{") ? { blank: part.slice(1, -1) } : { words: part }));
