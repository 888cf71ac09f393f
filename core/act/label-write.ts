/** Write labels: on one thing at one place, anew, or all that a cable needs. */
import { z } from "zod";
import { type FactsContext, placeKey } from "../labels/facts.ts";
import { textsAt } from "../labels/worded.ts";
import { readWordings } from "../labels/wordings.ts";
import { type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import { duePlaces, plantRow } from "../store/label-facts.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { address, given, known } from "./inputs.ts";
import { labelsOn } from "./label-due.ts";
import { type LabelSubject, labelsMeant, labelsThere, labelTarget, subjectKind, subjectNamed } from "./label-target.ts";
import { knownValues, named, visitNamed } from "./named.ts";

const printed = given("label", "printed_on").describe(
  say`The day it was printed. Without it the text is only written down, to be printed, unless the label was seen.`,
);
const writtenText = given("label", "text").describe(say`What it says; empty means the plant's own wording.`);

export const labelWriteInput = z.strictObject({
  subject: address(say`The thing the label is on: a cable, panel, port, closure, conduit and so on.`),
  kind: subjectKind,
  space: address(say`The place, for a thing that is at several: a cable or a pathway.`).nullable().optional(),
  text: writtenText,
  printed_on: printed,
  even_if_there: z.boolean().optional().describe(say`Add a second label although one is on record there.`),
  ...known,
});

export const labelWriteDueInput = z.strictObject({
  cable: address(say`The cable to label at its ends and where it can be reached.`),
  printed_on: printed,
  ...known,
});

export const labelRelabelInput = z.strictObject({
  ...labelTarget,
  text: writtenText,
  printed_on: printed,
});

export interface LabelWritten {
  readonly id: number;
  readonly record: string;
  readonly place: string | null;
  readonly text: string;
}

/** A thing and its place, with the name by which it is told. */
interface Subject {
  readonly id: number;
  readonly space_id: number | null;
  readonly tag: string;
}

/** The text to print of each: as typed, or by the wording in use there. Refuses when the record lacks what that asks for. */
async function textsFor(
  context: ActContext & FactsContext,
  kind: KindName,
  subjects: readonly Subject[],
  typed: string | null | undefined,
): Promise<(subject: Pick<Subject, "id" | "space_id">) => string> {
  if (typed) return () => typed;
  const texts = await textsAt(context, kind, subjects, await readWordings(context.reader));
  const lacking = subjects.flatMap((subject) => {
    const filled = texts.get(placeKey(subject));
    return filled?.text ? [] : [{ tag: subject.tag, lacks: filled?.lacks ?? ["more"] }];
  });
  const [first] = lacking;
  if (first) {
    refuse(
      "not_possible",
      say`The record doesn't say what the label on ${first.tag} must carry.`,
      lacking.map(({ tag, lacks }) => ({
        field: "text",
        record: tag,
        reason: say`the wording asks for ${lacks.join(", ")}, which is not on record; give the text`,
      })),
    );
  }
  return (subject) => texts.get(placeKey(subject))?.text ?? "";
}

/** A cable is labelled at its stops only. */
async function atStop(context: ActContext, subject: LabelSubject): Promise<void> {
  const { kind, id, tag, space } = subject;
  if (kind !== "cable" || !space) return;
  const [stop] = await context.reader.rows<{ id: number }>("select id from stop where cable_id = ? and space_id = ?", [
    id,
    space.id,
  ]);
  if (!stop) {
    refuse("not_possible", say`${tag} has no stop in ${space.tag}.`, [
      { field: "space", record: tag, reason: say`doesn't stop in ${space.tag}` },
    ]);
  }
}

/** Refuses `duplicate` when a label is on record there already, `not_possible` when the wording can't be filled. */
export async function planLabelWrite(
  context: ActContext & FactsContext,
  input: z.output<typeof labelWriteInput>,
): Promise<Plan<LabelWritten>> {
  const draft = new PlanDraft(context);
  const subject = await subjectNamed(context.reader, input);
  const { kind, id, tag, space } = subject;
  await atStop(context, subject);
  const there = await labelsThere(context.reader, [subject]);
  const at = space ? say` at ${space.tag}` : "";
  // A label that became due before anything was printed waits for just this.
  const waiting = there.find((label) => label.due_on !== null && label.text === null && label.text_read === null);
  if (there.length > 0 && !waiting && !input.even_if_there) {
    refuse("duplicate", say`A label on ${tag}${at} is on record already.`, [
      { field: "subject", record: tag, reason: say`has a label there; replace it instead, or say that it has two` },
    ]);
  }
  const here = { id, tag, space_id: space?.id ?? null };
  const text = (await textsFor(context, kind, [here], input.text))(here);
  const values = await seenValues(context, input);
  let label = waiting?.id;
  if (label !== undefined) draft.update("label", label, { ...anew(text, input.printed_on), ...values });
  else {
    label = await draft.insertOne("label", {
      subject_kind: kind,
      subject_id: id,
      space_id: space?.id ?? null,
      text,
      printed_on: input.printed_on,
      ...values,
    });
  }
  const thing = kind === "cord" ? tag : `${kindOf(kind).one} ${tag}`;
  return draft.plan(say`Label ${thing}${at}`, { id: label, record: tag, place: space?.tag ?? null, text });
}

/** How labels are known; who writes that they were seen, in a visit or without one, says that they are there. */
async function seenValues(context: ActContext, input: z.output<z.ZodObject<typeof known>>) {
  const values = await knownValues(context.reader, input);
  if (values.basis !== "seen") return values;
  const visit = input.visit ? await visitNamed(context.reader, input.visit, "visit") : null;
  return {
    ...values,
    state: "present" as const,
    seen_on: visit?.made_on ?? dayOf(context),
    seen_by: visit ? visit.made_by : context.occasion.author,
  };
}

/** A new label for an old one: what was seen of the old no longer holds, and nothing is due. */
export const anew = (text: string, printed_on: string | null | undefined): Partial<Row<"label">> => ({
  text,
  printed_on: printed_on ?? null,
  text_read: null,
  state: null,
  seen_on: null,
  seen_by: null,
  basis: null,
  basis_visit_id: null,
  due_on: null,
  due_why: null,
});

/** Labels of a cable at every place where the plant's policy wants one: missing ones are added, due ones made anew. */
export async function planLabelWriteDue(
  context: ActContext & FactsContext,
  input: z.output<typeof labelWriteDueInput>,
): Promise<Plan<{ readonly written: readonly LabelWritten[]; readonly kept: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const cable = await named(reader, input.cable, ["cable"], "cable");
  const policy = (await plantRow(reader))?.label_due ?? "access";
  const places = await duePlaces(reader, policy, [cable.id]);
  if (places.length === 0) {
    const why =
      policy === "none" ? say`the plant asks for labels nowhere` : say`${cable.tag} has no stop at a known place`;
    refuse("not_possible", say`No label is due on ${cable.tag}: ${why}.`, [
      { field: "cable", record: cable.tag, reason: why },
    ]);
  }
  const labels = await labelsOn(context, "cable", [cable.id]);
  const bySpace = Map.groupBy(labels, ({ space_id }) => space_id);
  const subjects = places.map(({ space_id }) => ({ id: cable.id, tag: cable.tag, space_id }));
  const textOf = await textsFor(context, "cable", subjects, null);
  const textAt = (space_id: number): string => textOf({ id: cable.id, space_id });
  const tags = await addressesOf(reader, "space", new Set(places.map(({ space_id }) => space_id)));
  const values = await seenValues(context, input);
  const written: LabelWritten[] = [];
  const missing = places.filter(({ space_id }) => !bySpace.has(space_id));
  const ids = await draft.insert(
    "label",
    missing.map(({ space_id }) => ({
      subject_kind: "cable" as const,
      subject_id: cable.id,
      space_id,
      text: textAt(space_id),
      printed_on: input.printed_on,
      ...values,
    })),
  );
  missing.forEach(({ space_id }, i) => {
    const place = tags.get(space_id) ?? null;
    written.push({ id: ids[i] as number, record: cable.tag, place, text: textAt(space_id) });
  });
  let kept = 0;
  for (const { space_id } of places) {
    for (const label of bySpace.get(space_id) ?? []) {
      // A label that is gone or can't be read is due as much as one that was marked so.
      const due = label.due_on !== null || label.state === "missing" || label.state === "illegible";
      if (!due) kept++;
      else {
        const text = textAt(space_id);
        draft.update("label", label.id, anew(text, input.printed_on));
        written.push({ id: label.id, record: cable.tag, place: tags.get(space_id) ?? null, text });
      }
    }
  }
  return draft.plan(say`Label ${cable.tag} at ${counted(written.length, "place")}`, { written, kept });
}

/** Makes labels anew: the new text, nothing seen yet, nothing due. */
export async function planLabelRelabel(
  context: ActContext & FactsContext,
  input: z.output<typeof labelRelabelInput>,
): Promise<Plan<{ readonly written: readonly LabelWritten[] }>> {
  const draft = new PlanDraft(context);
  const meant = await labelsMeant(context.reader, input);
  if (meant.labels.length === 0) {
    refuse("not_found", say`No label on ${meant.words} is on record.`, [
      { field: "subject", record: meant.words, reason: say`has no label there; write one` },
    ]);
  }
  const written: LabelWritten[] = [];
  for (const [kind, labels] of Map.groupBy(meant.labels, ({ subject_kind }) => subject_kind)) {
    const tags = await addressesOf(context.reader, kind, new Set(labels.map(({ subject_id }) => subject_id)));
    const spaces = await addressesOf(
      context.reader,
      "space",
      new Set(labels.flatMap(({ space_id }) => space_id ?? [])),
    );
    const subjects = labels.map(({ subject_id, space_id }) => ({
      ...{ id: subject_id, space_id, tag: tags.get(subject_id) ?? "it" },
    }));
    const textOf = await textsFor(context, kind, subjects, input.text);
    for (const { id, subject_id, space_id } of labels) {
      const text = textOf({ id: subject_id, space_id });
      draft.update("label", id, anew(text, input.printed_on));
      written.push({
        id,
        record: tags.get(subject_id) ?? "",
        place: space_id === null ? null : (spaces.get(space_id) ?? null),
        text,
      });
    }
  }
  return draft.plan(say`Label ${meant.words} anew`, { written });
}
