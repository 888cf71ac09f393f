/**
 * How an operation says no.
 *
 * A refusal is an expected failure: it has a code, one sentence, and the problems behind it, each with the row, record,
 * field and reason. Handlers throw it through `refuse`; `dispatch` catches it once and turns it into a value, so that no
 * transport ever sees a thrown error. Anything else that is thrown is a defect.
 */

export type RefusalCode =
  /** The operation's name is not on the list. */
  | "unknown_operation"
  /** The input doesn't have the operation's form, or a value breaks a rule of its field. */
  | "bad_input"
  /** Something named in the input is not on record. */
  | "not_found"
  /** A name can be read in more than one way; the problems list the readings. */
  | "ambiguous"
  /** A tag or key is taken. */
  | "duplicate"
  /** A record changed since it was read; `current` carries the version on record. */
  | "stale"
  /** Other records rest on what was to be deleted. */
  | "rests_on"
  /** The act makes no sense on this plant as it stands. */
  | "not_possible"
  /** The plant file can't be written: opened read-only, or someone else writes it. */
  | "read_only"
  /** The file, folder or disk refused. */
  | "file"
  /** The user stopped it; nothing was changed. */
  | "stopped"
  /** A defect of the program; nothing was changed. */
  | "internal";

export interface Problem {
  /** Row of the input (from 1), or of the source file, where rows were given. */
  readonly row?: number;
  /** The file the row came from. */
  readonly file?: string;
  /** Address of the record, or what was typed in its place. */
  readonly record?: string;
  /** Label of the field. */
  readonly field?: string;
  /** What is wrong, as a sentence that makes sense after the record and field. */
  readonly reason: string;
}

export interface Failure {
  readonly code: RefusalCode;
  readonly message: string;
  readonly problems: readonly Problem[];
  /** Further facts as JSON, such as both versions of a stale record. */
  readonly details?: unknown;
}

export class Refusal extends Error {
  readonly failure: Failure;
  constructor(failure: Failure) {
    super(failure.message);
    this.name = "Refusal";
    this.failure = failure;
  }
}

/** Ends the operation with a refusal; nothing has been or will be written. */
export function refuse(
  code: RefusalCode,
  message: string,
  problems: readonly Problem[] = [],
  details?: unknown,
): never {
  throw new Refusal({ code, message, problems, ...(details === undefined ? {} : { details }) });
}

/** Fails to compile when a case of a closed union is forgotten. */
export function missing(value: never): never {
  throw new Error(`unhandled case: ${JSON.stringify(value)}`);
}
