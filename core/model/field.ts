/**
 * What one field of a record kind is: its type, unit, allowed values, what it refers to, its wording and help.
 *
 * Everything that handles records (input checking, tables, forms, exchange columns, history wording, the reference
 * page, the row types) is derived from these declarations; nothing else says what a field is.
 */
import { say } from "../words/say.ts";

/** Units in which numbers are stored. What people see is converted at the edge (`core/model/units.ts`). */
export type Unit = "m" | "mm" | "um" | "nm" | "db" | "dbm" | "n" | "deg" | "ohm" | "ratio" | "mark" | "count" | "none";

interface Common {
  /** What the column or form line is called. */
  readonly label: string;
  /** One plain sentence: what belongs here. */
  readonly help: string;
}

export interface TextField extends Common {
  readonly type: "text";
  /** Greatest number of characters. */
  readonly max: number;
  readonly required?: boolean;
  /** Whether line breaks are allowed. */
  readonly lines?: boolean;
  /** For a wording with blanks such as `{tag}`: the names that may stand in them. */
  readonly blanks?: readonly string[];
}
export interface IntegerField extends Common {
  readonly type: "integer";
  readonly min: number;
  readonly max: number;
  readonly unit?: Unit;
  readonly required?: boolean;
}
export interface NumberField extends Common {
  readonly type: "number";
  readonly unit: Unit;
  /** The field of the same record that names the unit, where records of the kind count in different ones. */
  readonly unit_in?: string;
  readonly min: number;
  readonly max: number;
  readonly required?: boolean;
}
/** A calendar day, stored as `YYYY-MM-DD`. */
export interface DateField extends Common {
  readonly type: "date";
  readonly required?: boolean;
}
/** One of a closed list; the key is stored, the value is what people read. */
export interface ChoiceField extends Common {
  readonly type: "choice";
  readonly values: Readonly<Record<string, string>>;
  readonly required?: boolean;
  /** Stored when a new record doesn't say. */
  readonly initial?: string;
}
/** Any number of a closed list, stored as keys in declared order with a space between. */
export interface SetField extends Common {
  readonly type: "set";
  readonly values: Readonly<Record<string, string>>;
  readonly required?: boolean;
}
/** Another record, stored as its id with a foreign key. */
export interface ReferenceField extends Common {
  readonly type: "reference";
  readonly to: string;
  readonly required?: boolean;
}
/** The kind of the record that a `subject` field points at. */
export interface KindField extends Common {
  readonly type: "kind";
  readonly required?: boolean;
}
/** A record of any kind; `kindField` names the field that says which kind. The gateway holds its integrity. */
export interface SubjectField extends Common {
  readonly type: "subject";
  readonly kindField: string;
  readonly required?: boolean;
}
/** Structured content stored as JSON text; `shape` names its checker in `core/model/shapes.ts`. */
export interface ShapeField extends Common {
  readonly type: "shape";
  readonly shape: "line" | "polygon" | "colours" | "overrides" | "mark_breaks" | "patterns" | "names" | "facts";
  readonly required?: boolean;
}

export type Field =
  | TextField
  | IntegerField
  | NumberField
  | DateField
  | ChoiceField
  | SetField
  | ReferenceField
  | KindField
  | SubjectField
  | ShapeField;

type Options<F> = Omit<F, "type" | "label" | "help">;

export const text = <const O extends Partial<Options<TextField>>>(label: string, help: string, options?: O) =>
  ({ type: "text", label, help, max: 120, ...options }) as { type: "text"; max: number } & Common & O;

/** A tag: the identifier people use. Unique within the record's parent. */
export const tag = (help: string) => text(say`tag`, help, { max: 60, required: true });

export const integer = <const O extends Partial<Options<IntegerField>>>(label: string, help: string, options?: O) =>
  ({ type: "integer", label, help, min: 0, max: 1_000_000, ...options }) as {
    type: "integer";
    min: number;
    max: number;
  } & Common &
    O;

export const number = <const O extends Partial<Options<NumberField>> & { unit: Unit }>(
  label: string,
  help: string,
  options: O,
) =>
  ({ type: "number", label, help, min: 0, max: 1_000_000, ...options }) as {
    type: "number";
    min: number;
    max: number;
  } & Common &
    O;

export const date = <const O extends Partial<Options<DateField>>>(label: string, help: string, options?: O) =>
  ({ type: "date", label, help, ...options }) as { type: "date" } & Common & O;

export const choice = <
  const V extends Readonly<Record<string, string>>,
  const O extends Partial<Omit<Options<ChoiceField>, "values">>,
>(
  label: string,
  help: string,
  values: V,
  options?: O,
) =>
  // NoInfer: a list of fields as context must not widen the values to any text.
  ({ type: "choice", label, help, values, ...options }) as { type: "choice"; values: V } & Common & NoInfer<O>;

export const set = <const V extends Readonly<Record<string, string>>>(label: string, help: string, values: V) =>
  ({ type: "set", label, help, values }) as { type: "set"; values: V } & Common;

export const reference = <const T extends string, const O extends Partial<Omit<Options<ReferenceField>, "to">>>(
  to: T,
  label: string,
  help: string,
  options?: O,
) => ({ type: "reference", to, label, help, ...options }) as { type: "reference"; to: T } & Common & O;

export const kindOfSubject = (help: string) =>
  ({ type: "kind", label: say`kind`, help, required: true }) as { type: "kind"; required: true } & Common;

export const subject = <const K extends string>(label: string, help: string, kindField: K) =>
  ({ type: "subject", label, help, kindField, required: true }) as {
    type: "subject";
    kindField: K;
    required: true;
  } & Common;

export const shape = <const S extends ShapeField["shape"]>(shapeName: S, label: string, help: string) =>
  ({ type: "shape", shape: shapeName, label, help }) as { type: "shape"; shape: S } & Common;

/** Yes, no, or (null) not known. Unknown is never "no". */
export const yesNo = (label: string, help: string) => choice(label, help, { yes: say`yes`, no: say`no` });
