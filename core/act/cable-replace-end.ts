/**
 * A cut cable given up from its cut to one of its ends, where another is landed in its place: the piece is taken out, what
 * it was joined to at that end is joined to the other cable's strands anew, and the cable ends at the cut. Of a cable with a
 * gap that a piece fills the end is the one at the gap, and the gap is wider then.
 */
import { z } from "zod";
import type { Side } from "../glass/end.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type FacingEnds, keyOf, type SectionRow, sectionsByNumber } from "./cable-facing.ts";
import { cableReplaceInput, jointsOf, makeAnew, movesOf, refuseJoined } from "./cable-replace.ts";
import { cableInput, cableStretch, type StopOnCable, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";

const { loss_db, loss_basis, method, made_on, made_by } = cableReplaceInput.shape;

export const cableReplaceEndInput = z.strictObject({
  cable: cableInput,
  stop: stopRef.describe(say`The severed stop at which the cable is to end.`),
  gone: z.enum(["before", "after"]).describe(say`Which side of it is given up, by the order of the stops.`),
  by: address(say`The cable that is landed there in its place, strand for strand.`),
  ...{ loss_db, loss_basis, method, made_on, made_by },
});

export interface EndReplaced {
  /** Joints at the end, made anew with the other cable's strands. */
  readonly moved: number;
  /** Places the cable doesn't come by any more. */
  readonly gone: readonly string[];
}

/**
 * Refuses `not_possible` where strands run on through the stop, are spliced to others between it and the end, or the other
 * cable has too few strands or is joined there already.
 */
export async function planCableReplaceEnd(
  context: ActContext,
  input: z.output<typeof cableReplaceEndInput>,
): Promise<Plan<EndReplaced>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable, stops } = stretch;
  const stop = await stopNamed(reader, stretch, input.stop);
  const by = await named(reader, input.by, ["cable"], "by");
  const after = input.gone === "after";
  const refused = (field: string, reason: string, record = `${cable.tag}@${stop.ordinal}`): never =>
    refuse("not_possible", say`${cable.tag} can't end at ${stop.place}: ${record} ${reason}.`, [
      { record, field, reason },
    ]);
  if (stop.kind !== "severed") refused("stop", say`is not severed`);
  if (by.id === cable.id) refused("by", say`is the same cable`, by.tag);
  const beyond = await gapBeyond(draft, stops, stop, after);
  const gone = stops.filter(({ ordinal }) =>
    after
      ? ordinal > stop.ordinal && ordinal < (beyond?.ordinal ?? Number.POSITIVE_INFINITY)
      : ordinal < stop.ordinal && ordinal > (beyond?.ordinal ?? 0),
  );
  if (gone.length === 0) refused("gone", say`has nothing of it on that side`);

  const own = await sectionsByNumber(reader, cable.id);
  const other = await sectionsByNumber(reader, by.id);
  const side: Side = after ? "B" : "A";
  const away = new Set(gone.map(({ id }) => id));
  const dead = new Set<number>();
  const ends = [...own].map(([number, sections]): FacingEnds => {
    const lost = sections.filter(({ a_stop_id, b_stop_id }) => {
      const [near, far] = after ? [a_stop_id, b_stop_id] : [b_stop_id, a_stop_id];
      return near !== null && (away.has(near) || (near === stop.id && far !== stop.id));
    });
    // What goes on beyond the gap is another part of it.
    const rest = beyond ? sections.length - lost.length : 0;
    const outer = after ? lost.at(-1) : lost[0];
    const into = after ? other.get(number)?.at(-1) : other.get(number)?.[0];
    if (!outer || lost.length === sections.length || (beyond && rest === 0))
      return refused("stop", say`is not where it is cut`, `${cable.tag}:${number}`);
    if (!into) return refused("by", say`has no strand ${number}`, by.tag);
    for (const { id } of lost) dead.add(id);
    return { number, stop_id: 0, old: { id: outer.id, side }, by: { id: into.id, side } };
  });
  const joints = await jointsOf(draft, [...dead], [...dead]);
  const joined = new Set(joints.map(({ end }) => end));
  // What the other one has taken over already is no end that waits.
  await refuseJoined(
    draft,
    ends.filter((one) => joined.has(keyOf(one.old))),
    by.tag,
  );
  const moves = movesOf(joints, ends);
  const others = joints.length - moves.length;
  if (others > 0) refused("gone", say`has ${counted(others, "joint")} to other glass on that side, away from the end`);
  await makeAnew(draft, moves, input, true);
  await takeOut(draft, { stop, gone, dead, own, after, all: stops, beyond });
  draft.notice(
    say`The piece of ${cable.tag} on that side is no longer on record. Where it stays in the building, the local code may ask that it is removed or labelled.`,
  );
  return draft.plan(say`End ${cable.tag} at ${stop.place}, with ${by.tag} landed in its place`, {
    moved: moves.length,
    gone: gone.map(({ place }) => place),
  });
}

/**
 * Where the cable goes on beyond the first gap on that side: two severed stops side by side, between which nothing of it lies
 * any more.
 */
async function gapBeyond(
  { context: { reader } }: PlanDraft,
  stops: readonly StopOnCable[],
  stop: StopOnCable,
  after: boolean,
): Promise<StopOnCable | null> {
  const legs = await reader.rows<Pick<Row<"leg">, "from_stop_id" | "to_stop_id">>(
    `select from_stop_id, to_stop_id from leg where from_stop_id in (select value from json_each(?))
       and life in ('in_place', 'out_of_use')`,
    [listed(stops.map(({ id }) => id))],
  );
  const lies = new Set(legs.flatMap(({ from_stop_id: a, to_stop_id: b }) => [`${a} ${b}`, `${b} ${a}`]));
  const on = after
    ? stops.filter(({ ordinal }) => ordinal > stop.ordinal)
    : stops.filter(({ ordinal }) => ordinal < stop.ordinal).toReversed();
  const gap = (one: StopOnCable | undefined, other: StopOnCable): boolean =>
    one?.kind === "severed" && other.kind === "severed" && !lies.has(`${one.id} ${other.id}`);
  return on.find((each, index) => gap(on[index - 1], each)) ?? null;
}

interface Taken {
  /** Where it goes on beyond a gap on that side. */
  readonly beyond: StopOnCable | null;
  readonly stop: StopOnCable;
  readonly gone: readonly StopOnCable[];
  readonly dead: ReadonlySet<number>;
  readonly own: ReadonlyMap<number, readonly SectionRow[]>;
  readonly after: boolean;
  readonly all: readonly StopOnCable[];
}

async function takeOut(draft: PlanDraft, { stop, gone, dead, own, after, all, beyond }: Taken): Promise<void> {
  const { reader } = draft.context;
  const given = await reader.rows<{ id: number }>(
    "select id from assignment where section_id in (select value from json_each(?)) order by id",
    [listed([...dead])],
  );
  for (const { id } of given) draft.delete("assignment", id);
  await forgetJoints(draft, dead);
  for (const sections of own.values()) {
    for (const { id, ordinal } of sections) {
      const before = sections.filter((one) => dead.has(one.id) && one.ordinal < ordinal).length;
      if (dead.has(id)) draft.delete("section", id);
      else if (before > 0) draft.update("section", id, { ordinal: ordinal - before });
    }
  }
  const ids = listed(gone.map(({ id }) => id));
  const legs = await reader.rows<Pick<Row<"leg">, "id" | "from_stop_id" | "to_stop_id" | "life">>(
    `select id, from_stop_id, to_stop_id, life from leg where from_stop_id in (select value from json_each(?1))
       or to_stop_id in (select value from json_each(?1)) order by id`,
    [ids],
  );
  // The gap stays on record, from where the cable ends now.
  const gap = legs.find(
    ({ from_stop_id, to_stop_id, life }) =>
      beyond !== null && life === "removed" && [from_stop_id, to_stop_id].includes(beyond.id),
  );
  if (gap) draft.update("leg", gap.id, after ? { from_stop_id: stop.id } : { to_stop_id: stop.id });
  for (const { id } of legs) if (id !== gap?.id) draft.delete("leg", id);
  for (const { id } of gone) draft.delete("stop", id);
  for (const { id, ordinal } of all)
    if (after ? ordinal > (gone.at(-1)?.ordinal ?? Number.POSITIVE_INFINITY) : ordinal >= stop.ordinal)
      draft.update("stop", id, { ordinal: ordinal - gone.length });
  if (beyond === null) draft.update("stop", stop.id, { kind: "end" });
}

/** What was joined to it once and is removed, or is spliced within it: it goes with the glass. */
async function forgetJoints(draft: PlanDraft, dead: ReadonlySet<number>): Promise<void> {
  const { reader } = draft.context;
  const ids = listed([...dead]);
  const gone = new Set(draft.changes.flatMap((one) => (one.op === "delete" ? [`${one.kind} ${one.id}`] : [])));
  const kept = new Set(draft.changes.flatMap((one) => (one.op === "update" ? [`${one.kind} ${one.id}`] : [])));
  const rows = async (kind: "termination" | "splice", where: string) => {
    for (const { id } of await reader.rows<{ id: number }>(`select id from ${kind} where ${where} order by id`, [ids]))
      if (!gone.has(`${kind} ${id}`) && !kept.has(`${kind} ${id}`)) draft.delete(kind, id);
  };
  await rows("termination", "section_id in (select value from json_each(?1))");
  await rows(
    "splice",
    "a_section_id in (select value from json_each(?1)) or b_section_id in (select value from json_each(?1))",
  );
}
