/** Put a stop between two others of a cable, or take one out again. Orders after it move; the way there is divided or joined. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import type { Row, Values } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { RowNames } from "./cable-named.ts";
import { isOuter } from "./cable-open.ts";
import {
  casesElsewhere,
  evenIfMarksDisagree,
  keptDetails,
  readDetails,
  readWay,
  type StopInput,
  stopInput,
  type WayInput,
  wayInput,
  waysThatDontMeet,
} from "./cable-stops.ts";
import {
  type CableStretch,
  cableInput,
  cableStretch,
  holdMarks,
  type StopOnCable,
  stopNamed,
  stopRef,
} from "./cable-stretch.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import type { Named } from "./named.ts";

const { order: _, way: __, ...ofStop } = stopInput.shape;
export const newStop = {
  after: stopRef.describe(say`The stop before it.`),
  ...ofStop,
  way_in: wayInput.optional().describe(say`The way from the stop before; as it was, where left out.`),
  way_on: wayInput.optional().describe(say`The way to the stop after; as it was, where left out.`),
};

export const cableAddStopInput = z.strictObject({
  cable: cableInput,
  ...newStop,
  even_if_marks_disagree: evenIfMarksDisagree,
});

export interface StopAdded {
  readonly stop: number;
  readonly tag: string;
}

interface NewStopInput extends Omit<StopInput, "order" | "way"> {
  readonly after: string | number;
  readonly way_in?: WayInput | undefined;
  readonly way_on?: WayInput | undefined;
  readonly even_if_marks_disagree?: boolean | undefined;
}

type Way = Pick<Values<"leg">, "pathway_id" | "conduit_id" | "held" | "slides" | "length_m" | "length_basis" | "notes">;

/** Drafts a stop after another; the legs between them are divided there. Answers it as it will stand. */
export async function draftStop(
  draft: PlanDraft,
  stretch: CableStretch,
  input: NewStopInput,
  kind: Values<"stop">["kind"],
): Promise<StopOnCable> {
  const { reader } = draft.context;
  const { cable, stops } = stretch;
  const before = await stopNamed(reader, stretch, input.after, "after");
  const after = stops.find(({ ordinal }) => ordinal > before.ordinal);
  if (after === undefined) {
    refuse(
      "not_possible",
      say`${before.place} is the last stop of ${cable.tag}; a stop can only come between two others.`,
      [{ record: `${cable.tag}@${before.ordinal}`, field: "after", reason: say`is the last stop` }],
    );
  }
  const names = new RowNames(reader);
  const space: Named | null = await names.find(input.space, ["space"], "space", 1);
  const values = await readDetails(names, input, cable.mark_unit, 1);
  const wayIn = await readWay(reader, names, input.way_in, 1);
  const wayOn = await readWay(reader, names, input.way_on, 1);
  names.settle(say`The stop of ${cable.tag} can't be read.`);
  const ordinal = before.ordinal + 1;
  const row: Omit<Row<"stop">, "id" | "rev"> = {
    cable_id: cable.id,
    ordinal,
    space_id: space?.id ?? null,
    kind,
    ...keptDetails(values, input),
    basis: null,
    basis_visit_id: null,
    basis_paper_id: null,
  };
  const id = await draft.insertOne("stop", row);
  const place = space?.tag ?? `@${ordinal}`;
  const stop: StopOnCable = { ...row, id, rev: 0, place, space_tag: space?.tag ?? null };
  for (const { id: later, ordinal: order } of stops.filter((each) => each.ordinal > before.ordinal))
    draft.update("stop", later, { ordinal: order + 1 });
  holdMarks(
    draft,
    stretch,
    stops.flatMap((each) => (each.id === before.id ? [each, stop] : [each])),
    input.even_if_marks_disagree,
  );

  const legs = await legsBetween(draft, before.id, after.id);
  const halved = kind !== "severed" || space !== null;
  const typed = (way: typeof wayIn, given: WayInput | undefined, own: Way | undefined): Way => ({
    pathway_id: given ? (way.pathway?.id ?? null) : (own?.pathway_id ?? null),
    conduit_id: given ? (way.conduit?.id ?? null) : (own?.conduit_id ?? null),
    held: given ? (given.held ?? null) : (own?.held ?? null),
    slides: given ? (given.slides ?? null) : (own?.slides ?? null),
    // How much of it lies on either side of the stop nobody said; cut in its middle both keep the whole, and count neither.
    length_m: given ? (given.length_m ?? null) : halved ? null : (own?.length_m ?? null),
    length_basis: given ? (given.length_basis ?? null) : halved ? null : (own?.length_basis ?? null),
    notes: given ? (given.notes ?? null) : (own?.notes ?? null),
  });
  for (const leg of legs) {
    draft.update("leg", leg.id, { to_stop_id: id, ...typed(wayIn, input.way_in, leg) });
    const { id: _, rev: __, from_stop_id: ___, to_stop_id: ____, ...rest } = leg;
    await draft.insert("leg", [
      { ...rest, from_stop_id: id, to_stop_id: after.id, ...typed(wayOn, input.way_on, leg) },
    ]);
  }
  if (legs.length === 0) {
    if (input.way_in)
      await draft.insert("leg", [
        { from_stop_id: before.id, to_stop_id: id, ...typed(wayIn, input.way_in, undefined) },
      ]);
    if (input.way_on)
      await draft.insert("leg", [{ from_stop_id: id, to_stop_id: after.id, ...typed(wayOn, input.way_on, undefined) }]);
  }
  const spot = (each: StopOnCable) => ({
    space: each.space_id === null ? null : { id: each.space_id, tag: each.place },
  });
  const meeting = [
    { way: wayIn, from: spot(before), to: { space } },
    { way: wayOn, from: { space }, to: spot(after) },
  ];
  for (const notice of await waysThatDontMeet(reader, meeting)) draft.notice(notice);
  for (const notice of await casesElsewhere(reader, [{ closure: values.closure, space }])) draft.notice(notice);
  return stop;
}

const legsBetween = (draft: PlanDraft, from: number, to: number): Promise<Row<"leg">[]> =>
  draft.context.reader.rows<Row<"leg">>(
    "select * from leg where from_stop_id in (?) and to_stop_id in (?) order by id",
    [from, to],
  );

export async function planCableAddStop(
  context: ActContext,
  input: z.output<typeof cableAddStopInput>,
): Promise<Plan<StopAdded>> {
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(context.reader, input.cable);
  const kind = input.kind ?? "passing";
  if (kind === "end") {
    refuse("bad_input", say`A stop between two others of ${stretch.cable.tag} can't be an end.`, [
      { field: "kind", reason: say`must be passing, opened or severed` },
    ]);
  }
  const stop = await draftStop(draft, stretch, input, kind);
  const tag = `${escapeName(stretch.cable.tag, "")}@${stop.ordinal}`;
  return draft.plan(say`Add stop ${stop.place} to ${stretch.cable.tag} as number ${stop.ordinal}`, {
    stop: stop.id,
    tag,
  });
}

export const cableRemoveStopInput = z.strictObject({ cable: cableInput, stop: stopRef });

export async function planCableRemoveStop(
  context: ActContext,
  input: z.output<typeof cableRemoveStopInput>,
): Promise<Plan<{ readonly stops: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable, stops } = stretch;
  const stop = await stopNamed(reader, stretch, input.stop);
  const record = `${cable.tag}@${stop.ordinal}`;
  if (isOuter(stretch, stop.ordinal)) {
    refuse("not_possible", say`${stop.place} is an end of ${cable.tag}; a cable keeps both its ends.`, [
      { record, field: "stop", reason: say`is an end of the cable` },
    ]);
  }
  const cut = await reader.rows<{ number: number }>(
    `select distinct t.number from section s join strand t on t.id = s.strand_id
     where s.a_stop_id in (?) or s.b_stop_id in (?) order by t.number`,
    [stop.id, stop.id],
  );
  if (cut.length > 0) {
    refuse(
      "rests_on",
      plural(
        cut.length,
        "{1} can't be taken out: {0} strand is cut there.",
        "{1} can't be taken out: {0} strands are cut there.",
        record,
      ),
      [{ record, reason: plural(cut.length, "holds the cut of a strand", "holds the cut of {0} strands") }],
    );
  }
  const index = stops.findIndex(({ id }) => id === stop.id);
  const before = stops[index - 1] as StopOnCable;
  const after = stops[index + 1] as StopOnCable;
  await joinLegs(draft, await legsBetween(draft, before.id, stop.id), await legsBetween(draft, stop.id, after.id), {
    stop,
    after,
  });
  draft.delete("stop", stop.id);
  for (const { id, ordinal } of stops.slice(index + 1)) draft.update("stop", id, { ordinal: ordinal - 1 });
  return draft.plan(say`Take stop ${stop.place} out of ${cable.tag}`, { stops: stops.length - 1 });
}

/** Sheath along two legs that become one: of the whole where both say it, else nobody knows. */
function sheathOfBoth(one: Row<"leg">, other: Row<"leg">): Pick<Way, "length_m" | "length_basis"> {
  if (one.length_m === null || other.length_m === null) return { length_m: null, length_basis: null };
  const planned = [one, other].some(({ length_basis }) => length_basis === "planned");
  return { length_m: one.length_m + other.length_m, length_basis: planned ? "planned" : one.length_basis };
}

async function joinLegs(
  draft: PlanDraft,
  legsIn: readonly Row<"leg">[],
  legsOn: readonly Row<"leg">[],
  { stop, after }: { stop: StopOnCable; after: StopOnCable },
): Promise<void> {
  const pathways = await addressesOf(
    draft.context.reader,
    "pathway",
    new Set([...legsIn, ...legsOn].flatMap(({ pathway_id }) => pathway_id ?? [])),
  );
  const [first, ...extra] = legsIn;
  const [second] = legsOn;
  const sameWay = first && second && first.pathway_id === second.pathway_id && first.conduit_id === second.conduit_id;
  if (first && second) {
    draft.update("leg", first.id, {
      to_stop_id: after.id,
      ...(sameWay ? {} : { pathway_id: null, conduit_id: null, held: null, slides: null }),
      ...sheathOfBoth(first, second),
    });
    if (!sameWay) {
      const names = [first, second].map(({ pathway_id }) => pathways.get(pathway_id ?? 0) ?? say`an unknown pathway`);
      draft.notice(
        say`The cable lies in ${names.join(say` before and in `)} after ${stop.place}; the joined way is left without a pathway until somebody says.`,
      );
    }
  }
  const gone = first && second ? [...extra, ...legsOn] : [...legsIn, ...legsOn];
  for (const { id } of gone) draft.delete("leg", id);
}
