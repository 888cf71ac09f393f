/** What an example of an operation is: a call that succeeds and one that is refused, each standing by itself on the plant of `plant.ts`. */

type Input = object | ((folders: Folders) => object);

/** Folders that an input may name; each transport has its own. */
export interface Folders {
  /** The plant's own records as CSV files. */
  readonly files: string;
  /** Where something may be written. */
  readonly out: string;
  /** A copy of the plant's file that went its own way: a building more. */
  readonly other: string;
}

export interface Example {
  readonly name: string;
  readonly input: Input;
  readonly refused: { readonly input: Input; readonly code: string };
  /**
   * Facts that rightly differ between the ways in, such as the moment of a backup, by their names in the answer; they are
   * left out when answers are compared.
   */
  readonly differs?: readonly string[];
  /** What must be so in the answer, beyond being the same everywhere. */
  readonly check?: (value: unknown) => void;
}

export const inputOf = (input: Input, folders: Folders): object =>
  typeof input === "function" ? input(folders) : input;
