/** Record labels as printed, all in one change: what they say, nothing seen of them yet, nothing due. */
import { z } from "zod";
import type { FactsContext } from "../labels/facts.ts";
import { labelsToMake } from "../labels/labels.ts";
import { MOST_LABELS } from "../labels/what.ts";
import { readWordings } from "../labels/wordings.ts";
import { KINDS, type KindName } from "../model/dictionary.ts";
import { LABELLED } from "../model/labelled.ts";
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { given } from "./inputs.ts";
import { anew } from "./label-write.ts";

const id = z.int().positive();

export const labelPrintedInput = z.strictObject({
  labels: z
    .array(z.strictObject({ kind: z.enum(LABELLED), id, space_id: id.nullable() }))
    .min(1, say`names no label`)
    .max(MOST_LABELS)
    .describe(say`The labels, as they were listed: the thing by kind and id, and the space.`),
  template: z
    .string()
    .trim()
    .min(1)
    .max(120)
    .optional()
    .describe(say`The label template they were printed by, where one was chosen.`),
  printed_on: given("label", "printed_on"),
});

/** So many labels are put down before other work breathes. */
const BREATH = 200;

interface PrintedContext extends ActContext, FactsContext {
  readonly today: string;
  /** Tells how far it is; ends it where that was asked for. */
  progress(what: string, done: number, total: number | null): Promise<void>;
}

export async function planLabelPrinted(
  context: PrintedContext,
  { labels, template, printed_on }: z.output<typeof labelPrintedInput>,
): Promise<Plan<{ readonly recorded: number; readonly added: number }>> {
  const { reader } = context;
  const day = printed_on ?? dayOf(context);
  if (day > context.today) {
    refuse("bad_input", say`Labels can't have been printed on ${shownDay(day)}: that is after today.`, [
      { field: "printed_on", reason: say`is ${day}, after today` },
    ]);
  }
  await refuseGone(context, labels);
  const wordings = await readWordings(reader);
  const wording = wordings.all.find(({ name }) => name === template) ?? null;
  if (template !== undefined && !wording) {
    refuse("not_found", say`There is no label template ${template}.`, [
      { field: "template", record: template, reason: say`is not in use` },
    ]);
  }
  const made = await labelsToMake(context, labels, wordings, { wording });
  const bare = made.filter(({ lines }) => lines === null);
  if (bare.length > 0) {
    refuse(
      "not_possible",
      say`The record doesn't say what must stand on each of them.`,
      bare.map(({ record, lacks }) => ({ field: "labels", record, reason: say`lacks ${lacks.join(", ")}` })),
    );
  }
  const draft = new PlanDraft(context);
  const added: Parameters<typeof draft.insert<"label">>[1][number][] = [];
  for (const [index, { kind, id: subject_id, space_id, lines, on_record }] of made.entries()) {
    if (index % BREATH === 0) await context.progress(say`Putting labels on record`, index, made.length);
    const text = (lines ?? []).join("\n");
    const old = on_record?.ids.at(-1);
    if (old !== undefined) draft.update("label", old, anew(text, day));
    else added.push({ subject_kind: kind, subject_id, space_id, text, printed_on: day });
  }
  await draft.insert("label", added);
  const [first, ...others] = new Set(made.map(({ record }) => record));
  const of = first !== undefined && others.length === 0 ? say` on ${first}` : "";
  return draft.plan(say`Print ${counted(made.length, "label")}${of}`, { recorded: made.length, added: added.length });
}

async function refuseGone(
  { reader }: ActContext,
  labels: readonly { readonly kind: KindName; readonly id: number; readonly space_id: number | null }[],
): Promise<void> {
  for (const [kind, own] of Map.groupBy(labels, (label) => label.kind)) {
    const there = await addressesOf(reader, kind, new Set(own.map((one) => one.id)));
    const gone = own.find((one) => !there.has(one.id));
    if (gone)
      refuse("not_found", say`The ${KINDS[kind].one} ${gone.id} is not on record.`, [
        { field: "labels", record: `${KINDS[kind].one} ${gone.id}`, reason: say`is not on record` },
      ]);
  }
}
