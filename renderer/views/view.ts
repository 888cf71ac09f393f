/** What a view is: a question with blanks, and what answers it. `registry.ts` lists them all. */
import type { ComponentType } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import { say } from "../../core/words/say.ts";

/** The tabs: a verb and its question each. */
export const TABS = {
  find: { verb: say`Find`, asks: say`where does it go?` },
  enter: { verb: say`Enter`, asks: say`what was built?` },
  check: { verb: say`Check`, asks: say`does it agree?` },
  repair: { verb: say`Repair`, asks: say`what now?` },
  print: { verb: say`Print`, asks: say`what goes on paper?` },
} as const;

export type TabName = keyof typeof TABS;

interface Common {
  /** The value's name in the address. */
  readonly name: string;
  /** What belongs here, shown while it is empty: "a port, strand or circuit". */
  readonly hint: string;
  /** Names of other blanks that say something of this value alone: with another they are empty again. */
  readonly empties?: readonly string[];
}

export interface PickerProps {
  readonly value: string;
  /** What the person typed to open it; begins the search. */
  readonly typed: string;
  readonly choose: (value: string) => void;
  /** Escape: the blank stays as it was. */
  readonly leave: () => void;
}

/** A place in the sentence to be filled. */
export type Blank =
  /**
   * A record, by its address; found by any part of its tag. Without `kinds`, any kind. `optional`: left empty, the hint is
   * what is asked ("every cable").
   */
  | (Common & { readonly fill: "record"; readonly kinds?: readonly KindName[]; readonly optional?: boolean })
  /** One of a few; the first is taken while the address says nothing. */
  | (Common & {
      readonly fill: "choice";
      /** `also`: what else it is found by as one types, such as another word for it. */
      readonly choices: readonly { readonly value: string; readonly words: string; readonly also?: string }[];
    })
  /** Free text, such as a day or a part of a name; `empty` is written while the address says nothing. */
  | (Common & { readonly fill: "text"; readonly empty?: string })
  /** A picker of the view's own, inside the pop-up under the blank. */
  | (Common & {
      readonly fill: "own";
      readonly picker: ComponentType<PickerProps>;
      readonly words: (value: string) => string;
      readonly mono?: boolean;
    });

export type Part = string | Blank;

/**
 * A question as text and blanks: `asking(say`What feeds {of}, over {over}?`, blanks)`. It is said as one whole sentence, in
 * which each blank stands by its name, so that a translator puts them into the order of the language.
 */
export function asking(sentence: string, blanks: readonly Blank[]): readonly Part[] {
  const parts = sentence
    .split(/\{(\w+)\}/)
    .flatMap((piece, at): Part[] =>
      at % 2 === 1 ? blanks.filter(({ name }) => name === piece) : piece === "" ? [] : [piece],
    );
  for (const blank of blanks)
    if (!parts.includes(blank)) throw new Error(`"${sentence}" doesn't name its blank ${blank.name}`);
  return parts;
}

export interface ViewProps {
  /** Values of the address. */
  readonly values: Readonly<Record<string, string>>;
}

export interface View {
  /** Its place in the address: `#/feeds?of=LIB` is path `feeds` with value `of`. */
  readonly path: string;
  readonly tab: TabName;
  /** What the answer is and rests on, for who asks by F1: two sentences, of which the question says neither. */
  readonly help: string;
  /** The question, as text and blanks. */
  readonly question: readonly Part[];
  /** Which kinds of record it can be asked about, and in which blank: the search box offers it for them. */
  readonly fits?: {
    readonly kinds: readonly KindName[] | "every";
    readonly blank: string;
    /** The question about a record that is already named: "What feeds it?" */
    readonly about: string;
  };
  /** Left out of the list of questions, such as that list itself. */
  readonly unlisted?: boolean;
  readonly component: ComponentType<ViewProps>;
}

export const isBlank = (part: Part): part is Blank => typeof part !== "string";

/** What stands in a blank: the words for a choice, the tag for a record; null while it is empty. */
export function filled(blank: Blank, values: Readonly<Record<string, string>>): string | null {
  const value = values[blank.name] ?? "";
  switch (blank.fill) {
    case "choice":
      return (blank.choices.find((choice) => choice.value === value) ?? blank.choices[0])?.words ?? null;
    case "record":
      return value || null;
    case "text":
      return value || blank.empty || null;
    case "own":
      return value ? blank.words(value) : null;
  }
}

/** The question as text, for the window's title, the list of what was asked, and paper. */
export const sentenceOf = (view: View, values: Readonly<Record<string, string>>): string =>
  view.question.map((part) => (isBlank(part) ? (filled(part, values) ?? part.hint) : part)).join("");
