/**
 * What is typed into a column's filter, as conditions on its field: `fusion`, `= F-012`, `F-0*`, `> 12`, `>= 12`, `10..20`,
 * `empty`, `filled`, `not fusion`; of days also years and months, `2015`, `>= 2015-05`; `fusion | mechanical` for either;
 * of a record that is named, one of its fields: `made for: outdoor`.
 */
import { Fault, quoted } from "../../core/model/clean-text.ts";
import { type KindName, kindOf, type Value } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import type { Filter } from "../../core/store/filters.ts";
import { say } from "../../core/words/say.ts";
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
  if (reading.is === "record") return new Fault(say`is a record: type part of its tag`);
  return reading.value;
}

/** First and last of what a bound means: of a year or a month its days, else twice the same value. */
function spanOf(kind: KindName, name: string, field: Field, text: string, habits: ReadingHabits) {
  const [, year, month] = (field.type === "date" && /^(\d{4})(?:-(\d\d?))?$/.exec(text.trim())) || [];
  if (year === undefined) {
    const value = stored(kind, name, field, text, habits);
    return value instanceof Fault ? value : { first: value, last: value };
  }
  const from = month?.padStart(2, "0") ?? "01";
  const first = stored(kind, name, field, `${year}-${from}-01`, habits);
  if (first instanceof Fault) return new Fault(say`is ${quoted(text)}: there is no such month`);
  const to = month === undefined ? 12 : Number(month);
  // The day before the first of the month after.
  const last = new Date(Date.UTC(Number(year), to, 0)).getUTCDate();
  return { first, last: `${year}-${String(to).padStart(2, "0")}-${last}` };
}

const SIGNED = /^(>=|≥|<=|≤|=|>|<)\s*(.+)$/;

function bounded(kind: KindName, name: string, field: Field, text: string, habits: ReadingHabits): ReadFilter | Fault {
  const { label } = field;
  const range = /^(.+?)\s*(?:\.\.|…|\bto\b)\s*(.+)$/.exec(text);
  if (range) {
    const from = spanOf(kind, name, field, range[1] ?? "", habits);
    if (from instanceof Fault) return from;
    const to = spanOf(kind, name, field, range[2] ?? "", habits);
    if (to instanceof Fault) return to;
    return {
      filters: [
        { field: name, test: "at_least", value: from.first },
        { field: name, test: "at_most", value: to.last },
      ],
      words: say`${label} from ${range[1]} to ${range[2]}`,
    };
  }
  const [, sign = "=", shown = text] = SIGNED.exec(text) ?? [];
  const span = spanOf(kind, name, field, shown, habits);
  if (span instanceof Fault) return span;
  return signed(name, label, sign, shown, span);
}

function signed(
  name: string,
  label: string,
  sign: string,
  shown: string,
  { first, last }: { readonly first: Value; readonly last: Value },
): ReadFilter {
  switch (sign) {
    case ">=":
    case "≥":
      return { filters: [{ field: name, test: "at_least", value: first }], words: say`${label} at least ${shown}` };
    case "<=":
    case "≤":
      return { filters: [{ field: name, test: "at_most", value: last }], words: say`${label} at most ${shown}` };
    case ">":
      return { filters: [{ field: name, test: "above", value: last }], words: say`${label} above ${shown}` };
    case "<":
      return { filters: [{ field: name, test: "below", value: first }], words: say`${label} below ${shown}` };
    default:
      return first === last
        ? { filters: [{ field: name, test: "is", value: first }], words: say`${label} is ${shown}` }
        : {
            filters: [
              { field: name, test: "at_least", value: first },
              { field: name, test: "at_most", value: last },
            ],
            words: say`${label} in ${shown}`,
          };
  }
}

/** Only of what stands in an order can more or less be asked: of numbers, of days, of the tag itself. */
function unordered(name: string, label: string, text: string): ReadFilter | Fault | null {
  const [, sign, shown = ""] = /^(>=|≥|<=|≤|>|<)\s*(.+)$/.exec(text) ?? [];
  if (sign === undefined) return null;
  if (name === "tag") return signed(name, label, sign, shown, { first: shown, last: shown });
  return new Fault(say`takes no ${sign}: only numbers, days and tags have more and less; type part of the words`);
}

/** Either of several: each by itself one condition. */
function either(parts: readonly string[], read: (text: string) => ReadFilter | Fault | null): ReadFilter | Fault {
  const all: ReadFilter[] = [];
  for (const part of parts) {
    const one = read(part);
    if (one instanceof Fault) return one;
    if (one) all.push(one);
  }
  const first = all[0]?.filters[0];
  if (!first || all.length < parts.length) return new Fault(say`has nothing on one side of the stroke`);
  if (all.some(({ filters }) => filters.length > 1))
    return new Fault(say`has a range beside a stroke: filter by one of both`);
  return {
    filters: [{ ...first, or: all.slice(1).flatMap(({ filters }) => filters) }],
    words: all.map(({ words }) => words).join(say` or `),
  };
}

/** A word that a field might be called by, before what it is to be; a tag has no space behind its colon. */
const LABELLED = /^([\p{L}][\p{L} '-]*):\s/u;

/** The field of a record that is called so: by its label, else by the name that files give it. */
function calledSo(to: KindName, text: string) {
  const called = text.trim().toLowerCase();
  const all = Object.entries(kindOf(to).fields);
  return (
    all.find(([, one]) => one.label.toLowerCase() === called) ??
    all.find(([name]) => name.replaceAll("_", " ") === called.replaceAll("_", " "))
  );
}

/** `made for: outdoor` in a column that names a record: a field of that record. */
function related(name: string, field: Field, text: string, habits: ReadingHabits): ReadFilter | Fault | null {
  if (field.type !== "reference") return null;
  const at = text.indexOf(":");
  const to = field.to as KindName;
  const own = at > 0 && calledSo(to, text.slice(0, at));
  const [, unknown] = (!own && LABELLED.exec(text)) || [];
  if (unknown !== undefined)
    return new Fault(say`is ${quoted(text)}: ${kindOf(to).many} have no field called ${unknown.trim()}`);
  if (!own) return null;
  const [ownName, ownField] = own;
  const read = readFilter(to, ownName, ownField, text.slice(at + 1), habits);
  if (read === null) return null;
  if (read instanceof Fault) return new Fault(say`${field.label}'s ${ownField.label} ${read.reason}`);
  return {
    filters: read.filters.map((filter) => ({ ...filter, field: `${name}.${filter.field}` })),
    words: say`${field.label}'s ${read.words}`,
  };
}

/** A bound, or a field of a named record, is begun and not yet asked: `>` and `made for:` filter by nothing. */
const isBegun = (field: Field, text: string): boolean =>
  /^(?:[<>]=?|[≥≤=])$/.test(text) ||
  (field.type === "reference" && text.endsWith(":") && calledSo(field.to as KindName, text.slice(0, -1)) !== undefined);

export function readFilter(
  kind: KindName,
  name: string,
  field: Field,
  typed: string,
  habits: ReadingHabits,
): ReadFilter | Fault | null {
  const text = typed.trim();
  if (text === "" || isBegun(field, text)) return null;
  if (text.includes("|")) return either(text.split("|"), (part) => readFilter(kind, name, field, part, habits));
  const byRelated = related(name, field, text, habits);
  if (byRelated) return byRelated;
  const { label } = field;
  if (/^empty$/i.test(text)) return { filters: [{ field: name, test: "empty" }], words: say`${label} is empty` };
  if (/^filled$/i.test(text)) return { filters: [{ field: name, test: "filled" }], words: say`${label} is filled` };
  if (BOUNDED.has(field.type)) return bounded(kind, name, field, text, habits);
  const ordered = unordered(name, label, text);
  if (ordered) return ordered;
  const not = /^not\s+(.+)$/i.exec(text);
  if (field.type === "choice") {
    const key = readChoice(not?.[1] ?? text, field.values);
    if (!(key instanceof Fault)) {
      const test = not ? "is_not" : "is";
      return {
        filters: [{ field: name, test, value: key }],
        words: not ? say`${label} is not ${field.values[key]}` : say`${label} is ${field.values[key]}`,
      };
    }
  }
  if (field.type === "text" || field.type === "reference") {
    const exact = /^=\s*(.+)$/.exec(text);
    if (exact)
      return { filters: [{ field: name, test: "is", value: exact[1] ?? "" }], words: say`${label} is ${exact[1]}` };
    if (not)
      return { filters: [{ field: name, test: "is_not", value: not[1] ?? "" }], words: say`${label} is not ${not[1]}` };
  }
  const begins = /^([^*]+)\*$/.exec(text);
  if (begins)
    return {
      filters: [{ field: name, test: "starts", value: begins[1] ?? "" }],
      words: say`${label} begins ${begins[1]}`,
    };
  return { filters: [{ field: name, test: "contains", value: text }], words: say`${label} has ${text}` };
}
