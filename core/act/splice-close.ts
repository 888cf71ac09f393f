/** Close a cut range again at an opened stop: both halves of each strand are spliced through; and reopen it. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import { type Problem, refuse } from "../result.ts";
import type { NamedStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import { cableStretch, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { type End, endKey, endsOf, rangeOf, strandsWords } from "./ends.ts";
import { address, evenIfTaken, known } from "./inputs.ts";
import { jointsAtEnds, refuseTaken, takenEnds } from "./joints.ts";
import { strandsNamed } from "./named.ts";
import type { Spliced } from "./splice-range.ts";
import { insertSplices, spliceFields } from "./splices.ts";
import { trayNamed } from "./trays.ts";

const where = {
  strands: address(say`The cut strands, such as F-012:25-36.`),
  stop: stopRef,
};

export const spliceCloseInput = z.strictObject({
  ...where,
  tray: address(say`The splice tray.`).nullable().optional(),
  even_if_taken: evenIfTaken,
  ...spliceFields,
  ...known,
});

export const spliceReopenInput = z.strictObject(where);

interface Cut {
  readonly strands: NamedStrands;
  readonly stop: { readonly id: number; readonly tag: string };
  /** The halves on the cable's A side, at their ends B; and those beyond, at their ends A. */
  readonly near: readonly End[];
  readonly far: readonly End[];
}

/** The two halves of each strand at a stop. Refuses a stop of another cable and strands that aren't cut there. */
async function cutAt(reader: Reader, input: z.output<typeof spliceReopenInput>): Promise<Cut> {
  const strands = await strandsNamed(reader, input.strands, "strands");
  const stretch = await cableStretch(reader, escapeName(strands.cable.tag, ""));
  const at = await stopNamed(reader, stretch, input.stop);
  const stop = { id: at.id, tag: `${escapeName(strands.cable.tag, "")}@${at.ordinal}` };
  const byStrand = await endsOf(reader, strands);
  const near: End[] = [];
  const far: End[] = [];
  const whole: number[] = [];
  for (const { id, number } of strands.strands) {
    const here = (byStrand.get(id) ?? []).filter(({ stop_id }) => stop_id === stop.id);
    const a = here.find(({ side }) => side === "B");
    const b = here.find(({ side }) => side === "A");
    if (a && b) {
      near.push(a);
      far.push(b);
    } else whole.push(number);
  }
  if (whole.length > 0) {
    const place = at.space_tag ? ` (${at.space_tag})` : "";
    const range = strandsWords(strands.cable.tag, whole);
    refuse("not_possible", say`${range} is not cut at ${stop.tag}${place}.`, [
      { field: "strands", record: range, reason: say`is not cut at ${stop.tag}${place}` },
    ]);
  }
  return { strands, stop, near, far };
}

/** Refuses `not_possible` for strands that aren't cut at the stop and for halves that are joined already. */
export async function planSpliceClose(
  context: ActContext,
  input: z.output<typeof spliceCloseInput>,
): Promise<Plan<Spliced>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { strands, stop, near, far } = await cutAt(reader, input);
  refuseTaken(draft, input.even_if_taken, [
    ...(await takenEnds(reader, near, "strands")),
    ...(await takenEnds(reader, far, "strands")),
  ]);
  const tray = input.tray ? await trayNamed(reader, input.tray, "tray") : null;
  const [space] = await reader.rows<{ space_id: number | null }>("select space_id from stop where id = ?", [stop.id]);
  if (tray && tray.space?.id !== space?.space_id) {
    draft.notice(say`${tray.tag} is in ${tray.space?.tag ?? say`no place on record`}, ${stop.tag} is not.`);
  }
  const places = await insertSplices(draft, near, far, tray, input);
  return draft.plan(say`Close ${rangeOf(strands)} again at ${stop.tag}`, {
    spliced: near.length,
    pairs: near.map((end, i) => ({ from: end.words, to: far[i]?.words ?? "", place: places[i] ?? null })),
  });
}

/**
 * Takes the splices out that close a range at a stop. In a correction they are deleted, for they never were; as a change
 * of the plant they stay on record as removed on the day.
 */
export async function planSpliceReopen(
  context: ActContext,
  input: z.output<typeof spliceReopenInput>,
): Promise<Plan<{ readonly reopened: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { strands, stop, near, far } = await cutAt(reader, input);
  const joints = await jointsAtEnds(reader, near);
  const problems: Problem[] = [];
  near.forEach((end, i) => {
    const through = (joints.get(endKey(end.section_id, end.side)) ?? []).filter(
      ({ other_section_id, other_side }) =>
        other_section_id === far[i]?.section_id && other_side === far[i]?.side && other_section_id !== null,
    );
    if (through.length === 0) {
      problems.push({
        row: i + 1,
        field: "strands",
        record: end.words,
        reason: say`is not spliced through at ${stop.tag}`,
      });
    }
    for (const { id } of through) {
      if (isCorrection(context)) draft.delete("splice", id);
      else draft.update("splice", id, { life: "removed", life_until: dayOf(context) });
    }
  });
  const [first] = problems;
  if (first) refuse("not_possible", `${first.record} ${first.reason}.`, problems);
  return draft.plan(say`Reopen ${rangeOf(strands)} at ${stop.tag}`, { reopened: near.length });
}
