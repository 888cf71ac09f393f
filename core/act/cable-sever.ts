/** Record a cut cable: at one of its stops or somewhere between two, all its strands or those that went dark. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import { refuse } from "../result.ts";
import { type NamedStrands, numberRuns } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cutStrands } from "./cable-cut.ts";
import { RowNames } from "./cable-named.ts";
import { type CableOpened, cutInput, expressAt, isOuter, strandsToCut, stubInputs } from "./cable-open.ts";
import { draftStop, newStop } from "./cable-stop-add.ts";
import { evenIfMarksDisagree, readDetails } from "./cable-stops.ts";
import { type CableStretch, cableInput, cableStretch, holdMarks, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, PlanDraft } from "./context.ts";

const { kind: _, after, ...between } = newStop;

export const cableSeverInput = z.strictObject({
  cable: cableInput,
  stop: stopRef.optional().describe(say`The stop at which it was cut, where that is one of its stops.`),
  after: after.optional().describe(say`The stop before the cut, where it was cut between two stops.`),
  ...between,
  cut: cutInput.optional().describe(say`The strands that were cut; all of them where left out.`),
  ...stubInputs,
  even_if_marks_disagree: evenIfMarksDisagree,
});
type Input = z.output<typeof cableSeverInput>;

export async function planCableSever(context: ActContext, input: Input): Promise<Plan<CableOpened>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable } = stretch;
  if ((input.stop === undefined) === (input.after === undefined)) {
    refuse("bad_input", say`Say where ${cable.tag} was cut: at which stop, or after which.`, [
      { field: "stop", reason: say`or after must be given, one of the two` },
    ]);
  }
  const stop =
    input.after === undefined
      ? await severAtStop(draft, stretch, input)
      : await draftStop(draft, stretch, { ...input, after: input.after }, "severed");
  const strands =
    input.cut === undefined ? await allStrands(context, cable) : await strandsToCut(reader, cable.tag, input.cut);
  const done =
    strands === null
      ? { numbers: [], before: [] }
      : await cutStrands(draft, {
          stop,
          strands,
          stub_a: input.stub_a ?? "no",
          stub_b: input.stub_b ?? "no",
          lenient: true,
          // The stops after a new one move up only with this plan; on record it lies between two.
          ...(input.after === undefined ? {} : { at: stop.ordinal - 0.5 }),
        });
  const tag = `${escapeName(cable.tag, "")}@${stop.ordinal}`;
  const express = (await expressAt(reader, cable.id, stop.id)) - done.numbers.length;
  const what =
    done.numbers.length === 0
      ? say`no strands on record`
      : express === 0
        ? say`all ${counted(done.numbers.length, "strand")}`
        : say`strands ${numberRuns(done.numbers.toSorted((a, b) => a - b))}`;
  return draft.plan(cutWords(stretch, stop, what), {
    stop: stop.id,
    tag,
    cut: done.numbers,
    express,
  });
}

/** Between two stops it is told by those, for its own stop has no place by which anybody knows it. */
function cutWords(
  { cable, stops }: CableStretch,
  stop: { readonly ordinal: number; readonly place: string; readonly space_id: number | null },
  what: string,
): string {
  const others = stops.filter(({ space_id }) => space_id !== null);
  // As the stops are on record, before this one came between them.
  const before = others.findLast(({ ordinal }) => ordinal < stop.ordinal);
  const beyond = others.find(({ ordinal }) => ordinal >= stop.ordinal);
  return stop.space_id === null && before && beyond
    ? say`Record the cut of ${cable.tag} between ${before.place} and ${beyond.place}, ${what}`
    : say`Record the cut of ${cable.tag} at ${stop.place}, ${what}`;
}

async function allStrands({ reader }: ActContext, cable: CableStretch["cable"]): Promise<NamedStrands> {
  const strands = await reader.rows<{ id: number; number: number }>(
    "select id, number from strand where cable_id = ? order by number",
    [cable.id],
  );
  return { cable, strands, unit: null };
}

async function severAtStop(draft: PlanDraft, stretch: CableStretch, input: Input) {
  const { reader } = draft.context;
  const { cable } = stretch;
  const stop = await stopNamed(reader, stretch, input.stop ?? "");
  if (isOuter(stretch, stop.ordinal) || stop.kind === "end") {
    refuse("not_possible", say`${cable.tag} ends at ${stop.place}; a cut at a cable's end cuts nothing.`, [
      { record: `${cable.tag}@${stop.ordinal}`, field: "stop", reason: say`is an end of the cable` },
    ]);
  }
  const names = new RowNames(reader);
  const typed = await readDetails(names, input, cable.mark_unit, 1);
  names.settle(say`The marks of ${cable.tag} can't be read.`);
  const edges = {
    mark_in: typed.mark_in ?? stop.mark_in,
    mark_open_from: typed.mark_open_from ?? stop.mark_open_from,
    mark_open_to: typed.mark_open_to ?? stop.mark_open_to,
    mark_out: typed.mark_out ?? stop.mark_out,
  };
  holdMarks(
    draft,
    stretch,
    stretch.stops.map((each) => (each.id === stop.id ? { ...each, ...edges } : each)),
    input.even_if_marks_disagree,
  );
  draft.update("stop", stop.id, {
    kind: "severed",
    ...edges,
    closure_id: typed.closure_id ?? stop.closure_id,
    slack_m: typed.slack_m ?? stop.slack_m,
    notes: input.notes ?? stop.notes,
  });
  return stop;
}
