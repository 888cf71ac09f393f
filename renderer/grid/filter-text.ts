/**
 * What is typed into a column's filter, as conditions on its field: `fusion`, `= F-012`, `F-0*`, `>= 12`, `10..20`,
 * `empty`, `filled`, `not fusion`.
 */
import { Fault } from "../../core/model/clean-text.ts";
import type { KindName } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import type { Filter } from "../../core/store/filters.ts";
import { type ReadingHabits, readCell, readChoice } from "./reading.ts";

/** A filter with words for the sentence: "method is fusion". */
export interface ReadFilter {
  readonly filters: readonly Filter[];
  readonly words: string;
}

const BOUNDED: ReadonlySet<Field["type"]> = new Set(["integer", "number", "date"]);

function stored(kind: KindName, name: string, field: Field, text: string, habits: ReadingHabits) {
  const reading = readCell(kind, name, field, text, habits);
  if (reading.is === "refused") return new Fault(reading.reason);
  if (reading.is === "record") return new Fault("is a record: type part of its tag");
  return reading.value;
}

function bounded(kind: KindName, name: string, field: Field, text: string, habits: ReadingHabits): ReadFilter | Fault {
  const { label } = field;
  const range = /^(.+?)\s*(?:\.\.|…|\bto\b)\s*(.+)$/.exec(text);
  if (range) {
    const [from, to] = [range[1] ?? "", range[2] ?? ""].map((part) => stored(kind, name, field, part, habits));
    if (from instanceof Fault) return from;
    if (to instanceof Fault) return to;
    return {
      filters: [
        { field: name, test: "at_least", value: from },
        { field: name, test: "at_most", value: to },
      ],
      words: `${label} from ${range[1]} to ${range[2]}`,
    };
  }
  const sign = /^(>=|≥|<=|≤|=)\s*(.+)$/.exec(text);
  const value = stored(kind, name, field, sign?.[2] ?? text, habits);
  if (value instanceof Fault) return value;
  const shown = sign?.[2] ?? text;
  if (sign?.[1] === ">=" || sign?.[1] === "≥")
    return { filters: [{ field: name, test: "at_least", value }], words: `${label} at least ${shown}` };
  if (sign?.[1] === "<=" || sign?.[1] === "≤")
    return { filters: [{ field: name, test: "at_most", value }], words: `${label} at most ${shown}` };
  return { filters: [{ field: name, test: "is", value }], words: `${label} is ${shown}` };
}

export function readFilter(
  kind: KindName,
  name: string,
  field: Field,
  typed: string,
  habits: ReadingHabits,
): ReadFilter | Fault | null {
  const text = typed.trim();
  if (text === "") return null;
  const { label } = field;
  if (/^empty$/i.test(text)) return { filters: [{ field: name, test: "empty" }], words: `${label} is empty` };
  if (/^filled$/i.test(text)) return { filters: [{ field: name, test: "filled" }], words: `${label} is filled` };
  if (BOUNDED.has(field.type)) return bounded(kind, name, field, text, habits);
  const not = /^not\s+(.+)$/i.exec(text);
  if (field.type === "choice") {
    const key = readChoice(not?.[1] ?? text, field.values);
    if (!(key instanceof Fault)) {
      const test = not ? "is_not" : "is";
      return {
        filters: [{ field: name, test, value: key }],
        words: `${label} is ${not ? "not " : ""}${field.values[key]}`,
      };
    }
  }
  if (field.type === "text") {
    const exact = /^=\s*(.+)$/.exec(text);
    if (exact)
      return { filters: [{ field: name, test: "is", value: exact[1] ?? "" }], words: `${label} is ${exact[1]}` };
    if (not)
      return { filters: [{ field: name, test: "is_not", value: not[1] ?? "" }], words: `${label} is not ${not[1]}` };
  }
  const begins = /^([^*]+)\*$/.exec(text);
  if (begins)
    return {
      filters: [{ field: name, test: "starts", value: begins[1] ?? "" }],
      words: `${label} begins ${begins[1]}`,
    };
  return { filters: [{ field: name, test: "contains", value: text }], words: `${label} has ${text}` };
}
