/** Stops of a cable as an act takes them: what may be typed, what it means, and whether the marks run one way. */
import { z } from "zod";
import { Fault } from "../model/clean-text.ts";
import type { Values } from "../model/dictionary.ts";
import { type MarkBreak, marksBackwards } from "../model/marks.ts";
import { formatNumber, type LengthUnit, parseLength, parseMark, parseQuantity } from "../model/units.ts";
import { type Problem, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { idList } from "../store/record-address.ts";
import { either, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { RowNames } from "./cable-named.ts";
import { address, given } from "./inputs.ts";

const mark = (help: string) =>
  z
    .union([z.number(), z.string().max(40)])
    .describe(say`${help} As printed, such as 1234 or "1 234 ft".`)
    .nullable()
    .optional();

/** Marks, slack and dressing of a cable at one place. */
export const stopDetails = {
  reachable: given("stop", "reachable"),
  mark_in: mark(say`Sheath mark at the mouth where it comes in.`),
  mark_open_from: mark(say`Sheath mark at the near edge of the opening or cut.`),
  mark_open_to: mark(say`Sheath mark at the far edge of the opening or cut.`),
  mark_out: mark(say`Sheath mark at the mouth where it goes out.`),
  marks_basis: given("stop", "marks_basis"),
  slack_m: z
    .union([z.number(), z.string().max(40)])
    .describe(say`Slack coiled here: metres, or with its unit, such as "30 ft".`)
    .nullable()
    .optional(),
  storage: given("stop", "storage"),
  coil_diameter_mm: given("stop", "coil_diameter_mm"),
  closure: address(say`The case it enters here, such as MH-03/CL-1.`).nullable().optional(),
  metal: given("stop", "metal"),
  metal_on: given("stop", "metal_on"),
};

export const wayInput = z.strictObject({
  pathway: address(say`The pathway it lies in, such as DB-04.`).nullable().optional(),
  conduit: address(say`The pipe it lies in, such as DB-04/2.`).nullable().optional(),
  held: given("leg", "held"),
  slides: given("leg", "slides"),
  length_m: given("leg", "length_m"),
  length_basis: given("leg", "length_basis"),
  notes: given("leg", "notes"),
});
export type WayInput = z.output<typeof wayInput>;

export const stopInput = z.strictObject({
  order: z.int().optional().describe(say`Its order along the cable, from 1; without it the order of the list counts.`),
  space: address(say`Where it is, such as MH-03; empty where nobody knows.`).nullable().optional(),
  kind: given("stop", "kind"),
  ...stopDetails,
  way: wayInput
    .nullable()
    .optional()
    .describe(say`The way on to the next stop; null where there is none any more, between two severed stops.`),
  notes: given("stop", "notes"),
});
export type StopInput = z.output<typeof stopInput>;

export const evenIfMarksDisagree = z
  .boolean()
  .optional()
  .describe(say`Record it although its marks run backwards. It becomes a finding until they are put right.`);

export const MARKS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;
export type MarkField = (typeof MARKS)[number];
export const MARK_LABELS: Readonly<Record<MarkField, string>> = {
  mark_in: say`mark in`,
  mark_open_from: say`opening from`,
  mark_open_to: say`opening to`,
  mark_out: say`mark out`,
};

export type MarkValues = Readonly<Record<MarkField, number | null>>;

type StopDetails = Pick<StopInput, keyof typeof stopDetails>;
export type StopValues = MarkValues &
  Pick<Values<"stop">, "slack_m" | "closure_id"> & { readonly closure: { id: number; tag: string } | null };

/** What a new stop keeps of its details; marks of which nobody says how they are known were read. */
export function keptDetails({ closure: _, ...values }: StopValues, input: StopDetails & Pick<StopInput, "notes">) {
  const marked = values.mark_in ?? values.mark_open_from ?? values.mark_open_to ?? values.mark_out;
  return {
    ...values,
    reachable: input.reachable ?? null,
    marks_basis: input.marks_basis ?? (marked === null ? null : ("read" as const)),
    storage: input.storage ?? null,
    coil_diameter_mm: input.coil_diameter_mm ?? null,
    metal: input.metal ?? null,
    metal_on: input.metal_on ?? null,
    notes: input.notes ?? null,
  };
}

/** Numbers behind what was typed for one stop; what can't be read is kept as a problem of its row. */
export async function readDetails(
  names: RowNames,
  input: StopDetails,
  unit: LengthUnit | null,
  row: number,
): Promise<StopValues> {
  const { problems } = names;
  const marks: Record<MarkField, number | null> = {
    mark_in: null,
    mark_open_from: null,
    mark_open_to: null,
    mark_out: null,
  };
  for (const field of MARKS) {
    const typed = input[field];
    if (typed === null || typed === undefined || typed === "") continue;
    const value = parseMark(typed, unit);
    if (value instanceof Fault) problems.push({ row, field: MARK_LABELS[field], reason: value.reason });
    else marks[field] = value;
  }
  let slack_m: number | null = null;
  if (input.slack_m !== null && input.slack_m !== undefined && input.slack_m !== "") {
    const value = parseLength(input.slack_m);
    if (value instanceof Fault) problems.push({ row, field: "slack", reason: value.reason });
    else slack_m = value;
  }
  const closure = await names.find(input.closure, ["closure"], "closure", row);
  return { ...marks, slack_m, closure, closure_id: closure?.id ?? null };
}

/** The units of marks that were typed with their unit. */
export function unitsTyped(stops: readonly StopDetails[]): Set<LengthUnit> {
  const units = new Set<LengthUnit>();
  for (const stop of stops) {
    for (const field of MARKS) {
      const typed = stop[field];
      const quantity = typeof typed === "string" && typed !== "" ? parseQuantity(typed) : null;
      if (quantity !== null && !(quantity instanceof Fault) && quantity.unit !== null) units.add(quantity.unit.family);
    }
  }
  return units;
}

/** The unit of a cable's marks: as said, else as typed. Refuses marks typed in both. */
export function markUnit(said: LengthUnit | null | undefined, stops: readonly StopDetails[], tag: string) {
  if (said) return said;
  const units = unitsTyped(stops);
  const [only = null] = units;
  if (units.size > 1) {
    refuse("bad_input", say`The marks of ${tag} are typed in feet and in metres; a sheath is printed in one of them.`, [
      { record: tag, field: say`marks in`, reason: say`must be feet or metres for the whole cable` },
    ]);
  }
  return only;
}

/** Marks that run against the others, each as a problem of its row. `rows` are stops in order along the cable. */
export function marksProblems(
  stops: readonly { readonly at: Pick<Problem, "row" | "record">; readonly marks: MarkValues }[],
  breaks: readonly MarkBreak[],
): Problem[] {
  const read = stops.flatMap(({ at, marks }) => MARKS.map((field) => ({ at, field, mark: marks[field] })));
  const backwards = marksBackwards(
    read.map(({ mark: value }) => value),
    breaks,
  );
  const off = new Set(backwards);
  const right = (index: number): boolean => read[index]?.mark !== null && !off.has(index);
  return backwards.map((index) => {
    const here = read[index];
    const indices = read.map((_, at) => at);
    const before = indices.slice(0, index).findLast(right);
    const after = indices.slice(index + 1).find(right);
    const neighbours = [before, after].flatMap((at) => {
      const mark = at === undefined ? null : (read[at]?.mark ?? null);
      return mark === null ? [] : [formatNumber(mark, 2)];
    });
    const where = neighbours.length === 2 ? "between" : before === undefined ? "before" : "after";
    return {
      ...here?.at,
      field: MARK_LABELS[here?.field ?? "mark_in"],
      reason: say`is ${formatNumber(here?.mark ?? 0, 2)} ${where} ${listed(neighbours)}: it runs against the other marks of the cable`,
    };
  });
}

export function refuseMarks(problems: readonly Problem[], tag: string, anyway: boolean | undefined): void {
  if (problems.length === 0 || anyway) return;
  refuse("not_possible", say`The marks of ${tag} run backwards.`, problems);
}

export interface Way {
  readonly pathway: { id: number; tag: string } | null;
  readonly conduit: { id: number; tag: string } | null;
}

/** The pathway and pipe a way names; a pipe says its pathway. */
export async function readWay(
  reader: Reader,
  names: RowNames,
  input: WayInput | null | undefined,
  row: number,
): Promise<Way> {
  const conduit = await names.find(input?.conduit, ["conduit"], "conduit", row);
  const pathway = await names.find(input?.pathway, ["pathway"], "pathway", row);
  if (conduit === null) return { pathway, conduit };
  const [own] = await reader.rows<{ id: number; tag: string }>(
    "select p.id, p.tag from conduit c join pathway p on p.id = c.pathway_id where c.id in (?)",
    [conduit.id],
  );
  if (own !== undefined && pathway !== null && pathway.id !== own.id) {
    names.problems.push({
      row,
      field: "conduit",
      record: conduit.tag,
      reason: say`is a pipe of ${own.tag}, not of ${pathway.tag}`,
    });
  }
  return { pathway: own ?? pathway, conduit };
}

interface Spot {
  readonly space: { readonly id: number; readonly tag: string } | null;
}

/** Ways whose pathway doesn't join the spaces of the two stops, as sentences. */
export async function waysThatDontMeet(
  reader: Reader,
  ways: readonly { readonly way: Way; readonly from: Spot; readonly to: Spot }[],
): Promise<string[]> {
  const ids = new Set(ways.flatMap(({ way }) => (way.pathway ? [way.pathway.id] : [])));
  const rows = await reader.rows<{
    id: number;
    from_space_id: number | null;
    to_space_id: number | null;
  }>("select id, from_space_id, to_space_id from pathway where id in (select value from json_each(?))", [idList(ids)]);
  const ends = new Map(rows.map((row) => [row.id, new Set([row.from_space_id, row.to_space_id])]));
  return ways.flatMap(({ way, from, to }) => {
    const own = way.pathway ? ends.get(way.pathway.id) : undefined;
    if (own === undefined || own.has(null)) return [];
    const off = [from, to].flatMap(({ space }) => (space !== null && !own.has(space.id) ? [space.tag] : []));
    if (off.length === 0) return [];
    return [say`${way.pathway?.tag} doesn't reach ${either(off)}; the cable's way there doesn't meet the pathway.`];
  });
}

/** Cases that hang elsewhere than the stop they are entered at, as sentences. */
export async function casesElsewhere(
  reader: Reader,
  stops: readonly (Spot & { readonly closure: { id: number; tag: string } | null })[],
): Promise<string[]> {
  const ids = stops.flatMap(({ closure }) => (closure ? [closure.id] : []));
  const rows = await reader.rows<{ id: number; space_id: number | null }>(
    "select id, space_id from closure where id in (select value from json_each(?))",
    [idList(ids)],
  );
  const spaceOf = new Map(rows.map(({ id, space_id }) => [id, space_id]));
  return stops.flatMap(({ closure, space }) => {
    const own = closure ? (spaceOf.get(closure.id) ?? null) : null;
    return closure !== null && own !== null && own !== space?.id
      ? [say`${closure.tag} is on record elsewhere than this stop${space ? say`, which is in ${space.tag}` : ""}.`]
      : [];
  });
}
