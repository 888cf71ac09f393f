/** Records of any kind, read: tables by windows, one record's page, values for filters, what rests on a record. */
import { z } from "zod";
import { isKindName, KIND_NAMES, type KindName } from "../../model/dictionary.ts";
import { type Filter, fieldAt, TESTS } from "../../store/filters.ts";
import { idOf } from "../../store/given.ts";
import type { Reader } from "../../store/handle.ts";
import { recordPage, restingGroups } from "../../store/record-page.ts";
import { chosenOf, offsetOf, type Selection, valuesOf, windowOf } from "../../store/window.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const kindInput = z.string().transform((name, context): KindName => {
  if (isKindName(name)) return name;
  context.addIssue({
    code: "custom",
    message: say`${name} is not a record kind: must be one of ${KIND_NAMES.join(", ")}`,
  });
  return z.NEVER;
});
/** A record by its id or its address. */
export const recordInput = z.union([z.number().int().positive(), z.string().trim().min(1).max(400)]);

const filterInput = z.strictObject({
  /** A field, or one of the record that a reference names: `type_id.environment`. */
  field: z.string().max(120),
  test: z.enum(TESTS),
  value: z.union([z.string().max(400), z.number(), z.null()]).optional(),
});

/** Which records of a table: a kind, filtered and sorted. */
export const selectionInput = {
  kind: kindInput,
  sort: z
    .array(z.strictObject({ field: z.string().max(60), descending: z.boolean().optional() }))
    .max(5)
    .default([]),
  filters: z
    .array(filterInput.extend({ or: z.array(filterInput).max(50).optional() }))
    .max(20)
    .default([]),
  text: z.string().max(200).default(""),
  /** Only what lies in, on or along this record: rooms in a building, splices in a closure, cables that come by a hole. */
  within: z.strictObject({ kind: kindInput, id: recordInput }).optional(),
};

interface SelectionInput {
  readonly kind: KindName;
  readonly sort: Selection["sort"];
  readonly filters: readonly Filter[];
  readonly text: string;
  readonly within?: { readonly kind: KindName; readonly id: number | string } | undefined;
}

/** Filters on references may name the record by its address. */
export async function selectionOf(reader: Reader, input: SelectionInput): Promise<Selection> {
  const { kind, sort, filters, text, within } = input;
  const resolve = async (filter: Filter): Promise<Filter> => {
    const field = fieldAt(kind, filter.field)?.field;
    const named = field?.type === "reference" && typeof filter.value === "string" && filter.test.startsWith("is");
    const value = named ? await idOf(reader, field.to as KindName, String(filter.value)) : filter.value;
    return { ...filter, ...(value === undefined ? {} : { value }) };
  };
  const resolved: Filter[] = [];
  for (const { or, ...filter } of filters) {
    const others: Filter[] = [];
    for (const one of or ?? []) others.push(await resolve(one));
    resolved.push({ ...(await resolve(filter)), ...(others.length > 0 ? { or: others } : {}) });
  }
  const inside = within && { kind: within.kind, id: await idOf(reader, within.kind, within.id) };
  return { kind, sort, filters: resolved, text: text.trim(), ...(inside ? { within: inside } : {}) };
}

export const recordWindow = defineRead({
  name: "record.window",
  help: say`A stretch of a kind's table, sorted and filtered, with addresses and the names of what each record refers to.`,
  input: z.strictObject({
    ...selectionInput,
    columns: z.array(z.string().max(60)).max(100).optional(),
    offset: z.number().int().min(0).default(0),
    limit: z.number().int().min(0).max(5000).default(100),
  }),
  run: async ({ reader, cache }, input) =>
    windowOf(reader, cache, await selectionOf(reader, input), input.offset, input.limit, input.columns),
});

export const recordFindRow = defineRead({
  name: "record.find_row",
  help: say`Where a record stands in a kind's table, sorted and filtered; null when it isn't in it.`,
  input: z.strictObject({ ...selectionInput, id: recordInput }),
  run: async ({ reader, cache }, input) => {
    const id = await idOf(reader, input.kind, input.id);
    return { offset: await offsetOf(reader, cache, await selectionOf(reader, input), id) };
  },
});

export const recordChosen = defineRead({
  name: "record.chosen",
  help: say`Records by their ids, in that order, and which of them a table, filtered, leaves out.`,
  input: z.strictObject({ ...selectionInput, ids: z.array(z.number().int().positive()).max(50_000) }),
  run: async ({ reader, cache }, input) => chosenOf(reader, cache, await selectionOf(reader, input), input.ids),
});

export const recordValues = defineRead({
  name: "record.values",
  help: say`The distinct values of a field with how often each occurs, the most frequent first.`,
  input: z.strictObject({
    ...selectionInput,
    field: z.string().max(60),
    limit: z.number().int().min(1).max(1000).default(100),
  }),
  run: async ({ reader }, input) => valuesOf(reader, await selectionOf(reader, input), input.field, input.limit),
});

export const recordPageRead = defineRead({
  name: "record.page",
  help: say`One record: its fields, what it rests on, what rests on it, its labels and its last changes.`,
  input: z.strictObject({ kind: kindInput, id: recordInput }),
  run: async ({ reader }, { kind, id }) => recordPage(reader, kind, await idOf(reader, kind, id)),
});

export const recordResting = defineRead({
  name: "record.resting",
  help: say`What rests on a record, by kind and field, and whether it would go along when the record is deleted.`,
  input: z.strictObject({ kind: kindInput, id: recordInput, limit: z.number().int().min(1).max(1000).default(50) }),
  run: async ({ reader }, { kind, id, limit }) => ({
    resting: await restingGroups(reader, kind, await idOf(reader, kind, id), limit),
  }),
});
