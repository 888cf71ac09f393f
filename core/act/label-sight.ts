/** Note what somebody saw of labels: there, missing, unreadable or wrong, and what was read. */
import { z } from "zod";
import { type FactsContext, factsAt, type LabelPlace, placeKey } from "../labels/facts.ts";
import { judgeAt } from "../labels/judge.ts";
import { inOwnSpaces } from "../labels/what.ts";
import { spacesIndoors } from "../labels/worded.ts";
import { alsoRight, classOf, readWordings } from "../labels/wordings.ts";
import { kindOf } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { address, given } from "./inputs.ts";
import { labelsMeant, labelTarget } from "./label-target.ts";
import { visitNamed } from "./named.ts";

export const labelSightInput = z.strictObject({
  ...labelTarget,
  state: z.enum(["present", "missing", "illegible", "wrong"]).describe(say`What was seen.`),
  text_read: given("label", "text_read"),
  seen_on: given("label", "seen_on"),
  seen_by: given("label", "seen_by"),
  visit: address(say`The visit in which it was seen.`).nullable().optional(),
});

const WORDS = {
  present: say`as there`,
  missing: say`as missing`,
  illegible: say`as unreadable`,
  wrong: say`as wrong`,
} as const;

/** A thing whose label isn't on record gets one that was only seen: what was read on it, or that it is missing. */
export async function planLabelSight(
  context: ActContext & FactsContext,
  input: z.output<typeof labelSightInput>,
): Promise<Plan<{ readonly seen: number; readonly added: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  if (input.seen_on && input.seen_on > context.today) {
    const reason = say`is ${input.seen_on}, after today`;
    refuse("bad_input", say`A label can't have been seen on ${shownDay(input.seen_on)}: that is after today.`, [
      { field: "seen_on", reason },
    ]);
  }
  const meant = await labelsMeant(reader, input);
  const visit = input.visit ? await visitNamed(reader, input.visit, "visit") : null;
  const seen = {
    state: input.state,
    text_read: input.text_read,
    seen_on: input.seen_on ?? visit?.made_on ?? dayOf(context),
    seen_by: input.seen_by ?? (visit ? visit.made_by : context.occasion.author),
    basis: "seen" as const,
    basis_visit_id: visit?.id ?? undefined,
  };
  for (const { id } of meant.labels) draft.update("label", id, seen);
  await draft.insert(
    "label",
    meant.without.map(({ kind, id, space }) => ({
      subject_kind: kind,
      subject_id: id,
      space_id: space?.id ?? null,
      ...seen,
    })),
  );
  const subjects = [
    ...meant.labels.map(({ subject_kind, subject_id, space_id }) => ({ kind: subject_kind, id: subject_id, space_id })),
    ...meant.without.map(({ kind, id, space }) => ({ kind, id, space_id: space?.id ?? null })),
  ];
  if (input.text_read && input.state === "present") await doubtText(context, draft, subjects, input.text_read);
  return draft.plan(say`Note the label on ${meant.words} ${WORDS[input.state]}`, {
    seen: meant.labels.length,
    added: meant.without.length,
  });
}

/** Says when what was read isn't what the record would print. */
async function doubtText(
  context: FactsContext,
  draft: PlanDraft,
  subjects: readonly LabelPlace[],
  text: string,
): Promise<void> {
  const wordings = await readWordings(context.reader);
  for (const [kind, own] of Map.groupBy(subjects, (subject) => subject.kind)) {
    const { current, old } = wordings.patterns;
    const asked = [...(current[kind] ?? []), ...(old[kind] ?? []), ...alsoRight(wordings, kind)];
    const there = await inOwnSpaces(context.reader, kind, own);
    const indoors = await spacesIndoors(context.reader, there);
    const facts = await factsAt(context, kind, there, asked);
    for (const place of there) {
      const known = facts.get(placeKey(place));
      if (!known) continue;
      const at = classOf(kind, place.space_id !== null && indoors.has(place.space_id));
      const verdict = judgeAt(text, kind, at, known, wordings);
      if (verdict === "wrong")
        draft.notice(
          say`The record would print something else on ${known.tag ?? say`the ${kindOf(kind).one}`} than ${text}.`,
        );
      if (verdict === "old_style")
        draft.notice(say`The label on ${known.tag ?? say`the ${kindOf(kind).one}`} follows an old wording.`);
    }
  }
}
