/**
 * What became of the two ends of a cut cable: pulled or cut back to one place, where they can be spliced to each other, or
 * each to its own, with a gap between that a piece of new cable will fill; or the place itself became a hole.
 */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { choiceWords } from "../model/wording.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { RowNames } from "./cable-named.ts";
import { expressAt } from "./cable-open.ts";
import { readSlid, slidPlaces } from "./cable-slid.ts";
import { evenIfMarksDisagree } from "./cable-stops.ts";
import {
  type CableStretch,
  cableInput,
  cableStretch,
  holdMarks,
  type StopOnCable,
  stopNamed,
  stopRef,
} from "./cable-stretch.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";
import { spaceFor } from "./named.ts";

export const cableMoveCutInput = z.strictObject({
  cable: cableInput,
  stop: stopRef.describe(say`The severed stop.`),
  space: address(say`The place the cut now lies in, such as a hole dug there.`).nullable().optional(),
  left_to: stopRef.optional().describe(say`The stop to which the end on the side of the first stop was brought.`),
  right_to: stopRef.optional().describe(say`The same for the end on the side of the last stop.`),
  places: slidPlaces,
  even_if_marks_disagree: evenIfMarksDisagree,
});
type Input = z.output<typeof cableMoveCutInput>;

export interface CutMoved {
  /** Where the ends are now, by address. */
  readonly left: string;
  readonly right: string;
  /** Stops on record that the cable doesn't come by any more. */
  readonly gone: readonly string[];
}

export async function planCableMoveCut(context: ActContext, input: Input): Promise<Plan<CutMoved>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable, stops } = stretch;
  const cut = await stopNamed(reader, stretch, input.stop);
  const refused = (field: string, reason: string): never =>
    refuse("not_possible", say`The cut of ${cable.tag} at ${cut.place} can't be moved: ${reason}.`, [
      { record: `${cable.tag}@${cut.ordinal}`, field, reason },
    ]);
  if (cut.kind !== "severed") refused("stop", say`the cable is not severed there`);
  const left = input.left_to === undefined ? cut : await stopNamed(reader, stretch, input.left_to, "left_to");
  const right = input.right_to === undefined ? cut : await stopNamed(reader, stretch, input.right_to, "right_to");
  const moves = left.id !== cut.id || right.id !== cut.id;
  if (left.ordinal > right.ordinal) refused("left_to", say`${left.place} lies beyond ${right.place}`);
  for (const [field, to] of [
    ["left_to", left],
    ["right_to", right],
  ] as const) {
    if (to.id !== cut.id && to.kind !== "passing") refused(field, say`the cable is ${wordOf(to.kind)} at ${to.place}`);
  }
  if (moves && (await expressAt(reader, cable.id, cut.id)) > 0)
    refused("stop", say`strands run on there uncut, and hold the sheath`);
  if (left.id !== cut.id && right.id !== cut.id && input.space) refused("space", say`its ends were brought elsewhere`);
  await refuseCutBetween(draft, stretch, cut, left, right);

  const space = await spaceFor(reader, input.space, "space");
  await writePlaces(draft, stretch, input, { cut, left, right });
  if (space) draft.update("stop", cut.id, { space_id: space.id });
  // In a place dug for it the ends lie bare, with glass to work with, as where they were brought to another.
  if (space && !moves) await stubsLeft(draft, cut, left, right);
  const gone = moves ? await bringTogether(draft, stretch, { cut, left, right }) : [];
  const shift = ({ ordinal }: StopOnCable): number => ordinal - gone.filter((one) => one.ordinal < ordinal).length;
  const tagOf = (stop: StopOnCable) => `${escapeName(cable.tag, "")}@${shift(stop)}`;
  const where = left.id === right.id ? (space?.tag ?? left.place) : say`${left.place} and ${right.place}`;
  if (stops.length - gone.length < 2) refused("stop", say`no two stops would be left of it`);
  return draft.plan(say`Move the cut of ${cable.tag} at ${cut.place} to ${where}`, {
    left: tagOf(left),
    right: tagOf(right),
    gone: gone.map(({ place }) => place),
  });
}

const wordOf = (kind: Row<"stop">["kind"]): string =>
  kind === "end"
    ? say`at its end`
    : kind === "passing"
      ? say`passing`
      : say`${choiceWords("stop", "kind", kind)} already`;

/** Strands that end between the two places, other than at the cut, would be left without a stop. */
async function refuseCutBetween(
  draft: PlanDraft,
  { cable, stops }: CableStretch,
  cut: StopOnCable,
  left: StopOnCable,
  right: StopOnCable,
): Promise<void> {
  const [from, to] = [Math.min(left.ordinal, cut.ordinal), Math.max(right.ordinal, cut.ordinal)];
  const between = stops.filter(({ id, ordinal }) => ordinal >= from && ordinal <= to && id !== cut.id);
  const rows = await draft.context.reader.rows<{ stop_id: number; strands: number }>(
    `select st.id as stop_id, count(distinct s.strand_id) as strands
     from stop st join section s on s.a_stop_id = st.id or s.b_stop_id = st.id
     where st.id in (select value from json_each(?)) group by st.id order by st.ordinal`,
    [listed(between.map(({ id }) => id))],
  );
  const placeOf = new Map(stops.map((stop) => [stop.id, stop]));
  const problems = rows.map(({ stop_id, strands }): Problem => {
    const at = placeOf.get(stop_id);
    return { record: `${cable.tag}@${at?.ordinal}`, reason: say`holds ends of ${counted(strands, "strand")}` };
  });
  const [first] = problems;
  if (first)
    refuse("not_possible", say`The cut of ${cable.tag} can't be moved: ${first.record} ${first.reason}.`, problems);
}

interface Ends {
  readonly cut: StopOnCable;
  readonly left: StopOnCable;
  readonly right: StopOnCable;
}

/** What was said of each stop; marks that nobody read are worked out ones. */
async function writePlaces(draft: PlanDraft, stretch: CableStretch, input: Input, { cut, left, right }: Ends) {
  const { reader } = draft.context;
  const names = new RowNames(reader);
  const changed = await readSlid(reader, names, stretch, input.places);
  names.settle(say`What was said of the stops of ${stretch.cable.tag} can't be read.`);
  for (const [id, values] of changed) draft.update("stop", id, values);
  const away = left.id === cut.id || right.id === cut.id || cut.space_id !== null ? null : cut.id;
  const passed = ({ id }: StopOnCable) => id === cut.id && left.id !== cut.id && right.id !== cut.id;
  const gap = (ordinal: number) => left.id !== right.id && ordinal > left.ordinal && ordinal < right.ordinal;
  holdMarks(
    draft,
    stretch,
    stretch.stops
      .filter(({ id, ordinal }) => id !== away && !gap(ordinal))
      .map((stop) => ({ ...stop, ...(passed(stop) ? NOT_OPEN : {}), ...changed.get(stop.id) })),
    input.even_if_marks_disagree,
  );
}

const NOT_OPEN = { mark_open_from: null, mark_open_to: null } as const;

/** The glass that was cut ends at the places its sheath was brought to, with a stub to be joined. */
async function stubsLeft(draft: PlanDraft, cut: StopOnCable, left: StopOnCable, right: StopOnCable): Promise<void> {
  const sections = await draft.context.reader.rows<Row<"section">>(
    "select * from section where a_stop_id in (?) or b_stop_id in (?) order by id",
    [cut.id, cut.id],
  );
  for (const { id, a_stop_id } of sections) {
    draft.update(
      "section",
      id,
      a_stop_id === cut.id ? { a_stop_id: right.id, a_stub: "yes" } : { b_stop_id: left.id, b_stub: "yes" },
    );
  }
}

/** Sections end at the new places, the stops between go, and so does the way between, or it is joined into one. */
async function bringTogether(
  draft: PlanDraft,
  stretch: CableStretch,
  { cut, left, right }: Ends,
): Promise<StopOnCable[]> {
  const { stops } = stretch;
  await stubsLeft(draft, cut, left, right);
  for (const id of new Set([left.id, right.id])) draft.update("stop", id, { kind: "severed" });
  const apart = left.id !== right.id;
  const inGap = ({ ordinal }: StopOnCable): boolean => apart && ordinal > left.ordinal && ordinal < right.ordinal;
  const away = left.id !== cut.id && right.id !== cut.id;
  // A place in which it was cut is still passed, by the sheath of one remain.
  const stays = away && cut.space_id !== null && !inGap(cut);
  if (stays) draft.update("stop", cut.id, { kind: "passing", ...NOT_OPEN, closure_id: null });
  const gone = stops.filter((stop) => (stop.id === cut.id && away && !stays) || inGap(stop));
  if (apart) await endWayBetween(draft, stretch, left, right);
  else if (!stays) await joinWayAround(draft, stretch, cut);
  for (const { id } of gone) draft.delete("stop", id);
  for (const stop of stops) {
    const before = gone.filter(({ ordinal }) => ordinal < stop.ordinal).length;
    if (before > 0 && !gone.includes(stop)) draft.update("stop", stop.id, { ordinal: stop.ordinal - before });
  }
  return gone;
}

const legsAmong = (draft: PlanDraft, ids: readonly number[]): Promise<Row<"leg">[]> =>
  draft.context.reader.rows<Row<"leg">>(
    `select * from leg where from_stop_id in (select value from json_each(?))
       and to_stop_id in (select value from json_each(?)) order by id`,
    [listed(ids), listed(ids)],
  );

/** Two places with a gap: one removed leg stays between them, so that the gap is on record. */
async function endWayBetween(draft: PlanDraft, { stops }: CableStretch, left: StopOnCable, right: StopOnCable) {
  const ids = stops.filter(({ ordinal }) => ordinal >= left.ordinal && ordinal <= right.ordinal).map(({ id }) => id);
  const legs = await legsAmong(draft, ids);
  const [first, ...others] = legs;
  for (const { id } of others) draft.delete("leg", id);
  if (!first) return;
  if (isCorrection(draft.context)) {
    draft.delete("leg", first.id);
    return;
  }
  const one = new Set(legs.map(({ pathway_id, conduit_id }) => `${pathway_id} ${conduit_id}`)).size === 1;
  draft.update("leg", first.id, {
    from_stop_id: left.id,
    to_stop_id: right.id,
    ...(one ? {} : { pathway_id: null, conduit_id: null }),
    life: "removed",
    life_until: dayOf(draft.context),
  });
}

/** One place: the stop at the cut goes, and the legs before and after it are one again. */
async function joinWayAround(draft: PlanDraft, { stops }: CableStretch, cut: StopOnCable) {
  const index = stops.findIndex(({ id }) => id === cut.id);
  const [before, after] = [stops[index - 1], stops[index + 1]];
  if (!before || !after) return;
  const [first, ...legs] = await legsAmong(draft, [before.id, cut.id, after.id]);
  if (!first) return;
  draft.update("leg", first.id, { from_stop_id: before.id, to_stop_id: after.id });
  for (const { id } of legs) draft.delete("leg", id);
}
