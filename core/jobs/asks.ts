/** What an open step asks of whoever does it. */
import { cableDeadInput } from "../act/cable-dead.ts";
import { KINDS, type KindName } from "../model/dictionary.ts";
import { stillAsked } from "./step.ts";

export interface StepAsk {
  /** The field by which it is said. */
  readonly field: string;
  /** What may stand in it; empty where it is no list. */
  readonly choices: readonly string[];
}

/** @param input as it is stored with the step */
export function asksOf(input: unknown): StepAsk[] {
  const { kind } = (input ?? {}) as { readonly kind?: KindName };
  const fields: Readonly<Record<string, unknown>> = kind && kind in KINDS ? KINDS[kind].fields : {};
  return stillAsked(input).map((field) => {
    const { values } = (fields[field] ?? {}) as { readonly values?: Readonly<Record<string, string>> };
    return { field, choices: field === "became" ? cableDeadInput.shape.became.options : Object.keys(values ?? {}) };
  });
}
