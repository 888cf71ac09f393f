/** Enter a cable in one act: from its type, with its units, strands and glass, its stops and the ways between them. */
import { z } from "zod";
import type { Row, Values } from "../model/dictionary.ts";
import { type MarkBreak, sheathAlong_m } from "../model/marks.ts";
import { formatLength, type LengthUnit } from "../model/units.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import {
  asOfType,
  groupsGiven,
  groupsOfType,
  insertInside,
  outerUnits,
  refuseAbsurdDesign,
  strandsIn,
  type UnitGroup,
  unitGroups,
} from "./cable-design.ts";
import { coloursInput, differsInput, readDiffering } from "./cable-differs.ts";
import { RowNames } from "./cable-named.ts";
import {
  casesElsewhere,
  evenIfMarksDisagree,
  keptDetails,
  marksProblems,
  markUnit,
  readDetails,
  readWay,
  refuseMarks,
  type StopInput,
  type StopValues,
  stopInput,
  type Way,
  waysThatDontMeet,
} from "./cable-stops.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, thing } from "./inputs.ts";
import { type Named, named, thingValues } from "./named.ts";

export const cableEnterInput = z.strictObject({
  tag: z.string().trim().min(1, say`is empty`).describe(say`The cable's number, such as F-012.`),
  name: given("cable", "name"),
  type: address(say`Its data sheet, by the type's tag.`).nullable().optional(),
  differs: differsInput,
  ...coloursInput,
  units: unitGroups.optional(),
  run: given("cable", "run"),
  reel: given("cable", "reel"),
  mark_unit: given("cable", "mark_unit"),
  mark_breaks: z
    .array(z.strictObject({ at_mark: z.number().min(0), jumps_to: z.number().min(0) }))
    .max(100)
    .nullable()
    .optional()
    .describe(say`Where the printed marks jump, in order along the cable.`),
  sheath: given("cable", "sheath"),
  installed_on: given("cable", "installed_on"),
  warranty_until: given("cable", "warranty_until"),
  warranty_conditions: given("cable", "warranty_conditions"),
  ...thing,
  stops: z
    .array(stopInput)
    .max(2000)
    .default([])
    .describe(say`Its stops in order, both ends included; none only for a cable in stock.`),
  even_if_marks_disagree: evenIfMarksDisagree,
});
/** Places and ways as they are entered. */
export type StopsGiven = z.input<typeof cableEnterInput>["stops"];
type Input = z.output<typeof cableEnterInput>;

export interface CableEntered {
  readonly id: number;
  readonly tag: string;
  readonly units: number;
  readonly strands: number;
  readonly stops: number;
  readonly legs: number;
  /** Labels of what differs from the type. */
  readonly differs: readonly string[];
  /** Metres of sheath from the first mark to the last; null where marks are missing. */
  readonly sheath_m: number | null;
}

/** More sheath between two stops than this is a slip more often than not. */
const DOUBTFUL_M = 10_000;

interface PlannedStop {
  readonly row: number;
  readonly input: StopInput;
  readonly space: Named | null;
  readonly kind: Values<"stop">["kind"];
  readonly values: StopValues;
  /** The way on; null where the input says that there is none any more. */
  readonly way: Way | null;
}

/** The stops in order, or a refusal that names the rows out of order. */
function inOrder(stops: readonly StopInput[], tag: string): { row: number; input: StopInput }[] {
  const rows = stops.map((input, index) => ({ row: index + 1, input }));
  if (rows.every(({ input }) => input.order === undefined)) return rows;
  const problems: Problem[] = [];
  for (const { row, input } of rows) {
    if (input.order === undefined)
      problems.push({ row, field: "order", reason: say`is missing; other stops have one` });
    else if (input.order !== row) {
      const reason =
        input.order < 1
          ? say`is ${input.order}; stops count from 1`
          : say`is ${input.order} in place ${row} along the cable`;
      problems.push({ row, field: "order", reason });
    }
  }
  if (problems.length > 0) {
    refuse("bad_input", say`The stops of ${tag} are out of order; list them from one end to the other.`, problems);
  }
  return rows;
}

function refuseKinds(stops: readonly PlannedStop[], tag: string): void {
  const problems: Problem[] = [];
  for (const [index, { row, kind, input }] of stops.entries()) {
    const outer = index === 0 || index === stops.length - 1;
    if (outer && kind !== "end" && kind !== "severed")
      problems.push({ row, field: "kind", reason: say`must be an end, or severed, at the first and the last stop` });
    if (!outer && kind === "end")
      problems.push({
        row,
        field: "kind",
        reason: say`can't be an end between other stops; say severed where it was cut`,
      });
    if (index === stops.length - 1 && input.way)
      problems.push({ row, field: "way", reason: say`leads on from the last stop; it belongs to the stop before` });
  }
  if (problems.length > 0) refuse("bad_input", say`The stops of ${tag} don't make a cable.`, problems);
}

async function readStops(context: ActContext, input: Input, unit: LengthUnit | null): Promise<PlannedStop[]> {
  const names = new RowNames(context.reader);
  const rows = inOrder(input.stops, input.tag);
  const stops: PlannedStop[] = [];
  for (const { row, input: typed } of rows) {
    const outer = row === 1 || row === rows.length;
    const values = await readDetails(names, typed, unit, row);
    const opened = values.mark_open_from !== null || values.mark_open_to !== null;
    stops.push({
      row,
      input: typed,
      space: await names.find(typed.space, ["space"], "space", row),
      kind: typed.kind ?? (outer ? "end" : opened ? "opened" : "passing"),
      values,
      way: typed.way === null ? null : await readWay(context.reader, names, typed.way, row),
    });
  }
  names.settle(say`The stops of ${input.tag} can't be read.`);
  refuseKinds(stops, input.tag);
  return stops;
}

async function insertStops(draft: PlanDraft, cableId: number, stops: readonly PlannedStop[]): Promise<number[]> {
  if (stops.length === 0) return [];
  const first = await draft.context.newIds("stop", stops.length);
  for (const [index, { row, input, space, kind, values }] of stops.entries()) {
    draft.changes.push({
      op: "insert",
      kind: "stop",
      id: first + index,
      row,
      values: {
        cable_id: cableId,
        ordinal: index + 1,
        space_id: space?.id ?? null,
        kind,
        ...keptDetails(values, input),
      },
    });
  }
  return stops.map((_, index) => first + index);
}

function checkMarks(input: Input, stops: readonly PlannedStop[], unit: LengthUnit | null, draft: PlanDraft) {
  const breaks: readonly MarkBreak[] = input.mark_breaks ?? [];
  const problems = marksProblems(
    stops.map(({ row, space, values }) => ({ at: { row, ...(space ? { record: space.tag } : {}) }, marks: values })),
    breaks,
  );
  refuseMarks(problems, input.tag, input.even_if_marks_disagree);
  if (problems.length > 0) draft.notice(say`The marks of ${input.tag} run backwards; lengths by marks will be wrong.`);
  const marks = stops.flatMap(({ values }) => [
    values.mark_in,
    values.mark_open_from,
    values.mark_open_to,
    values.mark_out,
  ]);
  const known = marks.filter((mark) => mark !== null);
  if (known.length > 0 && unit === null)
    draft.notice(say`Say in which unit the marks of ${input.tag} are printed; until then no length follows from them.`);
  for (const [index, stop] of stops.entries()) {
    const next = stops[index + 1];
    if (next === undefined) continue;
    const length = sheathAlong_m([stop.values.mark_out, next.values.mark_in], unit, breaks);
    if (length !== null && length > DOUBTFUL_M)
      draft.notice(
        say`From stop ${index + 1} to stop ${index + 2} the marks give ${formatLength(length, "m")} of sheath.`,
      );
  }
  return sheathAlong_m(marks, unit, breaks);
}

export async function planCableEnter(context: ActContext, input: Input): Promise<Plan<CableEntered>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { tag } = input;
  if (input.stops.length === 1 || (input.stops.length === 0 && input.life !== "in_stock")) {
    refuse("bad_input", say`${tag} needs at least two stops: both its ends.`, [
      {
        record: tag,
        field: "stops",
        reason: say`must be at least two; a place may be left empty where nobody knows it`,
      },
    ]);
  }
  const typeRef = input.type ? await named(reader, input.type, ["cable_type"], "type") : null;
  const [type = null] = await reader.rows<Row<"cable_type">>("select * from cable_type where id = ?", [
    typeRef?.id ?? null,
  ]);
  const groups = await insideOf(context, input, type, draft);
  const differing = readDiffering(input, type, outerUnits(groups), tag);
  for (const notice of differing.notices) draft.notice(notice);

  const unit = markUnit(input.mark_unit, input.stops, tag);
  const stops = await readStops(context, input, unit);
  const sheath_m = checkMarks(input, stops, unit, draft);
  const thingOf = await thingValues(reader, input);
  const id = await draft.insertOne("cable", {
    tag,
    name: input.name,
    type_id: type?.id ?? null,
    ...differing.values,
    run: input.run,
    reel: input.reel,
    mark_unit: unit,
    mark_breaks: input.mark_breaks?.length ? JSON.stringify(input.mark_breaks) : null,
    sheath: input.sheath,
    installed_on: input.installed_on,
    warranty_until: input.warranty_until,
    warranty_conditions: input.warranty_conditions,
    ...thingOf,
  });
  const stopIds = await insertStops(draft, id, stops);
  const legs = stops.slice(0, -1).flatMap((stop, index) =>
    stop.way === null
      ? []
      : [
          {
            from_stop_id: stopIds[index] as number,
            to_stop_id: stopIds[index + 1] as number,
            pathway_id: stop.way.pathway?.id ?? null,
            conduit_id: stop.way.conduit?.id ?? null,
            held: stop.input.way?.held,
            slides: stop.input.way?.slides,
            length_m: stop.input.way?.length_m,
            length_basis: stop.input.way?.length_basis,
            notes: stop.input.way?.notes,
            life: input.life ?? undefined,
            basis: input.basis,
          },
        ],
  );
  await draft.insert("leg", legs);
  for (const notice of await waysThatDontMeet(reader, waysBetween(stops))) draft.notice(notice);
  for (const notice of await casesElsewhere(
    reader,
    stops.map(({ space, values }) => ({ space, closure: values.closure })),
  ))
    draft.notice(notice);

  const inside = await insertInside(draft, id, groups, input.basis);
  const ends = { a_stop_id: stopIds[0] ?? null, b_stop_id: stopIds.at(-1) ?? null };
  await draft.insert(
    "section",
    inside.strands.map((strand_id) => ({ strand_id, ordinal: 1, ...ends, basis: input.basis })),
  );
  const between =
    stops.length === 0
      ? say`in stock`
      : say`from ${stops[0]?.space?.tag ?? say`an unknown place`} to ${stops.at(-1)?.space?.tag ?? say`an unknown place`}`;
  const strands = inside.strands.length;
  return draft.plan(
    say`Enter cable ${tag}, ${strands === 0 ? say`no strands on record` : counted(strands, "strand")}, ${between}`,
    {
      id,
      tag,
      units: inside.units,
      strands,
      stops: stops.length,
      legs: legs.length,
      differs: differing.labels,
      sheath_m,
    },
  );
}

const waysBetween = (stops: readonly PlannedStop[]) =>
  stops.flatMap((from, index) => {
    const to = stops[index + 1];
    return to === undefined || from.way === null ? [] : [{ way: from.way, from, to }];
  });

async function insideOf(
  { reader }: ActContext,
  input: Input,
  type: Row<"cable_type"> | null,
  draft: PlanDraft,
): Promise<UnitGroup[]> {
  const ofType = type === null ? [] : await groupsOfType(reader, type.id);
  const own = input.units === undefined ? ofType : groupsGiven(input.units);
  const groups = asOfType(own, ofType) ?? own;
  refuseAbsurdDesign(groups, input.tag);
  // A type that lists no units says nothing of how many there are.
  if (
    input.units !== undefined &&
    type !== null &&
    ofType.length > 0 &&
    JSON.stringify(groups) !== JSON.stringify(ofType)
  ) {
    const [strands, typical] = [strandsIn(groups), strandsIn(ofType)];
    draft.notice(
      strands !== typical
        ? say`${input.tag} has ${counted(strands, "strand")}; type ${type.tag} says ${typical}.`
        : asOfType(groups, ofType)
          ? say`${input.tag} has other glass or coating than type ${type.tag} says.`
          : say`${input.tag} is divided into other units than type ${type.tag} says.`,
    );
  }
  if (strandsIn(groups) === 0)
    draft.notice(
      say`${input.tag} is on record without strands: ${type === null ? say`it has no type` : say`type ${type.tag} lists none`}.`,
    );
  return groups;
}
