/**
 * The gap in a cable closed: two ends that were severed side by side, each joined to a piece between them, come together at
 * one of the two places, for sheath was pulled from coils. What they were joined to carries nothing any more; their circuits
 * ride on the cable itself again, once it is spliced there.
 */
import { z } from "zod";
import type { Side } from "../glass/end.ts";
import { escapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import { RowNames } from "./cable-named.ts";
import { readSlid, slidPlaces } from "./cable-slid.ts";
import { evenIfMarksDisagree, readDetails, readWay, stopDetails, wayInput } from "./cable-stops.ts";
import { cableInput, cableStretch, holdMarks, type StopOnCable, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";

const passed = z.strictObject({
  space: address(say`Where it is, such as MH-03; empty where nobody knows.`).nullable().optional(),
  ...stopDetails,
  way: wayInput.optional().describe(say`The way on to the next place.`),
});

export const cableCloseGapInput = z.strictObject({
  cable: cableInput,
  left: stopRef.describe(say`The severed stop before the gap.`),
  right: stopRef.describe(say`The severed stop beyond it.`),
  meet: z.enum(["left", "right"]).describe(say`At which of the two the ends come together.`),
  way: wayInput.optional().describe(say`What the sheath lies in from the first of them on.`),
  passes: z.array(passed).max(200).default([]).describe(say`Places it passes between the two, in order.`),
  places: slidPlaces,
  even_if_marks_disagree: evenIfMarksDisagree,
});
type Input = z.output<typeof cableCloseGapInput>;

export interface GapClosed {
  /** Where the ends lie side by side, by address. */
  readonly stop: string;
  /** Joints to other glass that were taken off. */
  readonly joints: number;
  /** Other cables that carried what runs here, by tag. */
  readonly freed: readonly string[];
}

/** Refuses `not_possible` where there is no gap between the two, or glass ends there that is landed or lies on the other side. */
export async function planCableCloseGap(context: ActContext, input: Input): Promise<Plan<GapClosed>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable, stops } = stretch;
  const left = await stopNamed(reader, stretch, input.left, "left");
  const right = await stopNamed(reader, stretch, input.right, "right");
  const refused = (stop: StopOnCable, field: string, reason: string): never =>
    refuse("not_possible", say`The gap of ${cable.tag} can't be closed: ${cable.tag}@${stop.ordinal} ${reason}.`, [
      { record: `${cable.tag}@${stop.ordinal}`, field, reason },
    ]);
  for (const [field, stop] of [
    ["left", left],
    ["right", right],
  ] as const)
    if (stop.kind !== "severed") refused(stop, field, say`is not severed`);
  if (right.ordinal !== left.ordinal + 1) refused(right, "right", say`is not the next stop after ${left.place}`);
  const legs = await reader.rows<Row<"leg">>(
    "select * from leg where from_stop_id in (?, ?) and to_stop_id in (?, ?) order by id",
    [left.id, right.id, left.id, right.id],
  );
  if (legs.some(({ life }) => life === "in_place" || life === "out_of_use"))
    refused(right, "right", say`is where the cable runs on from ${left.place}: there is no gap`);
  const meet = input.meet === "left" ? left : right;
  if (meet.space_id === null) refused(meet, "meet", say`lies in no place that is on record`);

  const ends = await reader.rows<Pick<Row<"section">, "id" | "a_stop_id" | "b_stop_id">>(
    `select s.id, s.a_stop_id, s.b_stop_id from section s join strand t on t.id = s.strand_id
     where t.cable_id = ?1 and (s.a_stop_id in (?2, ?3) or s.b_stop_id in (?2, ?3)) order by s.id`,
    [cable.id, left.id, right.id],
  );
  for (const { a_stop_id, b_stop_id } of ends) {
    if (a_stop_id === left.id) refused(left, "left", say`holds ends of glass on the side of the gap`);
    if (b_stop_id === right.id) refused(right, "right", say`holds ends of glass on the side of the gap`);
  }
  const before = ends.flatMap(({ id, b_stop_id }) => (b_stop_id === left.id ? [id] : []));
  const beyond = ends.flatMap(({ id, a_stop_id }) => (a_stop_id === right.id ? [id] : []));
  const off = await takeOff(draft, { before, beyond }, refused, meet);

  const names = new RowNames(reader);
  const said = await readSlid(reader, names, stretch, input.places);
  const between: (Omit<Row<"stop">, "id" | "rev"> & { readonly place: string })[] = [];
  const ways = [await readWay(reader, names, input.way, 1)];
  const given = [input.way, ...input.passes.map(({ way }) => way)];
  for (const [index, { space, way, ...details }] of input.passes.entries()) {
    const at = await names.find(space, ["space"], "space", index + 1);
    const { closure: _, ...values } = await readDetails(names, details, cable.mark_unit, index + 1);
    ways.push(await readWay(reader, names, way, index + 1));
    const marked = values.mark_in ?? values.mark_out;
    between.push({
      cable_id: cable.id,
      ordinal: left.ordinal + 1 + index,
      space_id: at?.id ?? null,
      kind: "passing",
      ...values,
      reachable: details.reachable ?? null,
      marks_basis: details.marks_basis ?? (marked === null ? null : "computed"),
      storage: details.storage ?? null,
      coil_diameter_mm: details.coil_diameter_mm ?? null,
      metal: null,
      metal_on: null,
      basis: null,
      basis_visit_id: null,
      basis_paper_id: null,
      notes: null,
      place: at?.tag ?? `@${left.ordinal + 1 + index}`,
    });
  }
  names.settle(say`What was said of the stops of ${cable.tag} can't be read.`);

  const away = meet.id === left.id ? right : left;
  const passing = { kind: "passing", mark_open_from: null, mark_open_to: null, closure_id: null } as const;
  const after = stops.flatMap((stop): (StopOnCable | (typeof between)[number])[] => {
    const own = { ...stop, ...(stop.id === away.id ? passing : {}), ...said.get(stop.id) };
    return stop.id === left.id ? [own, ...between] : [own];
  });
  holdMarks(draft, stretch, after, input.even_if_marks_disagree);
  for (const id of meet.id === left.id ? beyond : [])
    draft.update("section", id, { a_stop_id: left.id, a_stub: "yes" });
  for (const id of meet.id === right.id ? before : [])
    draft.update("section", id, { b_stop_id: right.id, b_stub: "yes" });
  const shift = between.length;
  for (const stop of stops) {
    const values = {
      ...(stop.id === away.id ? passing : {}),
      ...said.get(stop.id),
      ...(stop.ordinal > left.ordinal && shift > 0 ? { ordinal: stop.ordinal + shift } : {}),
    };
    if (Object.keys(values).length > 0) draft.update("stop", stop.id, values);
  }
  const ids = [left.id];
  for (const { place: _, ...row } of between) ids.push(await draft.insertOne("stop", row));
  ids.push(right.id);
  for (const { id } of legs) draft.delete("leg", id);
  await draft.insert(
    "leg",
    ways.map((way, index) => ({
      from_stop_id: ids[index] ?? left.id,
      to_stop_id: ids[index + 1] ?? right.id,
      pathway_id: way.pathway?.id ?? null,
      conduit_id: way.conduit?.id ?? null,
      held: given[index]?.held ?? null,
      slides: given[index]?.slides ?? null,
      length_m: given[index]?.length_m ?? null,
      length_basis: given[index]?.length_basis ?? null,
      notes: given[index]?.notes ?? null,
      life: "in_place",
      ...(isCorrection(context) ? {} : { life_from: dayOf(context) }),
    })),
  );
  const ordinal = meet.id === left.id ? left.ordinal : right.ordinal + shift;
  return draft.plan(say`Close the gap of ${cable.tag} at ${meet.place}`, {
    stop: `${escapeName(cable.tag, "")}@${ordinal}`,
    ...off,
  });
}

interface JointRow {
  readonly id: number;
  readonly other_id: number;
  readonly cable_id: number;
  readonly cable: string;
}

/** What both ends were joined to is taken off, and what ran over it ends there on the day; in a correction it never was. */
async function takeOff(
  draft: PlanDraft,
  { before, beyond }: { readonly before: readonly number[]; readonly beyond: readonly number[] },
  refused: (stop: StopOnCable, field: string, reason: string) => never,
  meet: StopOnCable,
): Promise<Pick<GapClosed, "joints" | "freed">> {
  const { context } = draft;
  const { reader } = context;
  const joints: JointRow[] = [];
  for (const [sections, side] of [
    [before, "B"],
    [beyond, "A"],
  ] as const satisfies readonly (readonly [readonly number[], Side])[]) {
    const landed = await reader.rows<{ id: number }>(
      `select id from termination where life in ('in_place', 'out_of_use') and side = ?
         and section_id in (select value from json_each(?)) limit 1`,
      [side, listed([...sections])],
    );
    if (landed.length > 0) refused(meet, side === "B" ? "left" : "right", say`has glass that is landed on a port`);
    joints.push(
      ...(await reader.rows<JointRow>(
        `select p.id, o.id as other_id, c.id as cable_id, c.tag as cable
         from splice p join section o on o.id = case
             when p.a_section_id in (select value from json_each(?1)) and p.a_side = ?2 then p.b_section_id else p.a_section_id end
           join strand t on t.id = o.strand_id join cable c on c.id = t.cable_id
         where p.life in ('in_place', 'out_of_use')
           and (p.a_section_id in (select value from json_each(?1)) and p.a_side = ?2
             or p.b_section_id in (select value from json_each(?1)) and p.b_side = ?2) order by p.id`,
        [listed([...sections]), side],
      )),
    );
  }
  const gone = isCorrection(context) ? null : { life: "removed" as const, life_until: dayOf(context) };
  for (const id of new Set(joints.map((one) => one.id)))
    if (gone) draft.update("splice", id, gone);
    else draft.delete("splice", id);
  const given = await reader.rows<{ id: number }>(
    `select a.id from assignment a where a.section_id in (select s.id from section s where s.strand_id in (
         select strand_id from section where id in (select value from json_each(?1))))
       and a.until_on is null order by a.id`,
    [listed([...new Set(joints.map((one) => one.other_id))])],
  );
  for (const { id } of given)
    if (gone) draft.update("assignment", id, { until_on: dayOf(context) });
    else draft.delete("assignment", id);
  return {
    joints: new Set(joints.map((one) => one.id)).size,
    freed: [...new Map(joints.map((one) => [one.cable_id, one.cable])).values()],
  };
}
