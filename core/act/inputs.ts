/**
 * Parts of the inputs of acts. What a field may hold comes from the dictionary; the gateway checks the value itself, so
 * that a refusal names the record and the field as people know them.
 */
import { z } from "zod";
import { type FieldName, fieldOf, type KindName, type Values } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { say } from "../words/say.ts";

type Stored<K extends KindName, F extends FieldName<K>> = NonNullable<Values<K>[F & keyof Values<K>]>;

function schemaFor(field: Field): z.ZodType {
  switch (field.type) {
    case "choice":
      return z.enum(Object.keys(field.values) as [string, ...string[]]);
    case "integer":
    case "number":
      return z.number();
    case "text":
    case "date":
      return z.string().max(4000);
    default:
      throw new Error(`a ${field.type} field is not typed into an act as it stands`);
  }
}

/** A field of a record as an act takes it: left out or null where it isn't known. */
export function given<K extends KindName, F extends FieldName<K>>(
  kind: K,
  name: F,
): z.ZodOptional<z.ZodNullable<z.ZodType<Stored<K, F>>>> {
  const field = fieldOf(kind, name);
  if (!field) throw new Error(`${kind} has no field ${name}`);
  return (schemaFor(field) as z.ZodType<Stored<K, F>>).describe(field.help).nullable().optional();
}

/** The address of a record, as text. */
export const address = (help: string) => z.string().trim().min(1, say`is empty`).max(400).describe(help);

/** How the record is known, and a remark: every act takes them for what it adds. */
export const known = {
  basis: given("splice", "basis"),
  visit: address(say`The visit in which it was seen, by its number.`).nullable().optional(),
  notes: given("splice", "notes"),
};

/** Life and owner of a thing that an act adds. */
export const thing = {
  life: given("panel", "life"),
  life_from: given("panel", "life_from"),
  owner: address(say`Whose it is, by the party's short name; empty means the plant's own.`).nullable().optional(),
  ...known,
};

export const evenIfTaken = z
  .boolean()
  .optional()
  .describe(say`Record it although an end or a position is taken already. It becomes a finding until it is put right.`);

export const evenIfElsewhere = z
  .boolean()
  .optional()
  .describe(say`Record it although an end isn't on record at this place. It becomes a finding until it is put right.`);

export const endSide = z
  .enum(["A", "B"])
  .optional()
  .describe(say`Which end of the strand section is meant, where both lie here.`);
