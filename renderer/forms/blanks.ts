/** Blanks that several acts share. Those that are fields of a record take everything from the dictionary. */
import { type FieldName, fieldOf, type KindName } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import { say } from "../../core/words/say.ts";
import { unitOf } from "../grid/showing.ts";
import type { Blank, Next } from "./act.ts";

type Options = Partial<Pick<Blank, "required" | "example" | "label" | "list" | "help">>;

export function field<K extends KindName>(kind: K, name: FieldName<K>, options: Options = {}): Blank {
  const declared = fieldOf(kind, name);
  if (!declared) throw new Error(`${kind} has no field ${name}`);
  return { as: "field", kind, name, field: declared, label: declared.label, help: declared.help, ...options };
}

export const record = (
  kinds: KindName | readonly KindName[],
  label: string,
  help: string,
  options: Options = {},
): Blank => ({ as: "record", kinds: typeof kinds === "string" ? [kinds] : kinds, label, help, ...options });

/** What stands beside a blank: its label, and the unit in which a bare number is read. */
export function labelled(blank: Blank, lengths: LengthUnit): string {
  const unit = blank.as === "field" ? unitOf(blank.field, lengths) : blank.as === "decimal" ? blank.unit : "";
  return unit ? `${blank.label}, ${unit}` : blank.label;
}

/** A planned job is gone on with on its own page. */
export const jobPage = ({ job }: { readonly job: { readonly tag: string } }): Next => ["job", { of: job.tag }];

export const strands = (label: string, help: string, options: Options = {}): Blank => ({
  as: "range",
  of: "strand",
  label,
  help,
  required: true,
  example: "F-012:1-24",
  ...options,
});

export const ports = (label: string, help: string, options: Options = {}): Blank => ({
  as: "range",
  of: "port",
  label,
  help,
  required: true,
  example: "LIB/101/A:01-12",
  ...options,
});

export const side: Blank = {
  as: "choice",
  values: { A: say`end A`, B: say`end B` },
  label: say`end`,
  help: say`Which end of the strand section is meant, where both lie here.`,
};

export const evenIfTaken: Blank = {
  as: "flag",
  label: say`record it although something is taken`,
  help: say`An end or a position that is taken already becomes a finding until it is put right.`,
};

export const evenIfElsewhere: Blank = {
  as: "flag",
  label: say`record it although an end is elsewhere`,
  help: say`An end that isn't on record at this place becomes a finding until it is put right.`,
};

/** How the record is known, for all an act adds. */
export const known = {
  basis: field("splice", "basis"),
  visit: record("visit", say`visit`, say`The visit in which it was seen.`),
  notes: field("splice", "notes"),
} as const;

/** Life and owner of a thing an act adds. */
export const thing = {
  life: field("panel", "life"),
  life_from: field("panel", "life_from"),
  owner: record("party", say`owner`, say`Whose it is; empty means the plant's own.`),
  ...known,
} as const;

export const KNOWN = ["basis", "visit", "notes"] as const;
export const THING = ["life", "life_from", "owner", ...KNOWN] as const;

export const portColumns = {
  numbers: {
    as: "text",
    label: say`numbers`,
    help: say`The numbers on the ports, such as 01..24 or A1..A12.`,
    required: true,
    example: "01..24",
  },
  connector: field("port", "connector"),
  positions: {
    as: "whole",
    min: 1,
    max: 144,
    label: say`positions`,
    help: say`Fibre places of each port: 1 simplex, 2 duplex, 8 to 24 array. Needed where the plug doesn't say.`,
  },
  polish: field("port", "polish"),
  adapter_colour: field("port", "adapter_colour"),
  face_row: field("port", "face_row"),
} as const satisfies Readonly<Record<string, Blank>>;
