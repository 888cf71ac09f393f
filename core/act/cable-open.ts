/** Open a cable at one of its stops and cut chosen strands there; all others run on. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import { refuse } from "../result.ts";
import { type NamedStrands, numberRuns, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { CUT_CAUTION, cutStrands } from "./cable-cut.ts";
import { RowNames } from "./cable-named.ts";
import { casesElsewhere, evenIfMarksDisagree, readDetails, stopDetails } from "./cable-stops.ts";
import { type CableStretch, cableInput, cableStretch, holdMarks, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { given } from "./inputs.ts";

export const cutInput = z
  .union([z.string().max(400), z.array(z.int()).max(20_000)])
  .describe(say`Strands to cut, such as 25-36 or GR/BL-BR; nothing where all run on.`);
const stub = (side: "a" | "b") =>
  given("section", "a_stub").describe(say`Whether enough glass is left on the ${side.toUpperCase()} side to splice.`);
export const stubInputs = { stub_a: stub("a"), stub_b: stub("b") };

export const cableOpenInput = z.strictObject({
  cable: cableInput,
  stop: stopRef,
  closure: stopDetails.closure,
  mark_open_from: stopDetails.mark_open_from,
  mark_open_to: stopDetails.mark_open_to,
  cut: cutInput.optional(),
  ...stubInputs,
  even_if_marks_disagree: evenIfMarksDisagree,
});

export interface CableOpened {
  readonly stop: number;
  /** `F-012@3`. */
  readonly tag: string;
  /** Numbers of the strands cut now. */
  readonly cut: readonly number[];
  /** How many strands of the cable run on uncut. */
  readonly express: number;
}

/** Strands of the cable as a list or range says; null where none is named. */
export async function strandsToCut(
  reader: Reader,
  tag: string,
  cut: z.output<typeof cutInput> | undefined,
): Promise<NamedStrands | null> {
  const list = (Array.isArray(cut) ? cut.join(",") : (cut ?? "")).trim();
  if (list === "") return null;
  const own = `${escapeName(tag, "")}:${list}`;
  // A whole address is understood as well, as long as it is this cable's.
  const text = list.includes(":") ? list : own;
  const strands = await resolveStrands(reader, text, { field: "cut" });
  if (strands.cable.tag !== tag) {
    refuse("bad_input", say`${list} is glass of ${strands.cable.tag}, not of ${tag}.`, [
      { record: list, field: "cut", reason: say`must be strands of ${tag}` },
    ]);
  }
  return strands;
}

/** How many strands of a cable have no section that ends at a stop. */
export async function expressAt(reader: Reader, cableId: number, stopId: number): Promise<number> {
  const [row] = await reader.rows<{ count: number }>(
    `select count(*) as count from strand t where t.cable_id = ? and not exists
       (select 1 from section s where s.strand_id = t.id and (s.a_stop_id = ? or s.b_stop_id = ?))`,
    [cableId, stopId, stopId],
  );
  return row?.count ?? 0;
}

export async function planCableOpen(
  context: ActContext,
  input: z.output<typeof cableOpenInput>,
): Promise<Plan<CableOpened>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const stretch = await cableStretch(reader, input.cable);
  const { cable } = stretch;
  const stop = await stopNamed(reader, stretch, input.stop);
  const tag = `${escapeName(cable.tag, "")}@${stop.ordinal}`;
  if (isOuter(stretch, stop.ordinal) || stop.kind === "end") {
    refuse("not_possible", say`${cable.tag} ends at ${stop.place}; a cable can't be opened or cut at its end.`, [
      { record: tag, field: "stop", reason: say`is an end of the cable` },
    ]);
  }
  const names = new RowNames(reader);
  const typed = await readDetails(names, input, cable.mark_unit, 1);
  names.settle(say`The marks of ${cable.tag} can't be read.`);
  const opening = {
    mark_open_from: typed.mark_open_from ?? stop.mark_open_from,
    mark_open_to: typed.mark_open_to ?? stop.mark_open_to,
  };
  holdMarks(
    draft,
    stretch,
    stretch.stops.map((each) => (each.id === stop.id ? { ...each, ...opening } : each)),
    input.even_if_marks_disagree,
  );
  const strands = await strandsToCut(reader, cable.tag, input.cut);
  draft.update("stop", stop.id, {
    kind: stop.kind === "severed" ? "severed" : "opened",
    ...opening,
    marks_basis: typed.mark_open_from !== null || typed.mark_open_to !== null ? "read" : stop.marks_basis,
    closure_id: typed.closure_id ?? stop.closure_id,
  });
  for (const notice of await casesElsewhere(reader, [
    { closure: typed.closure, space: stop.space_id === null ? null : { id: stop.space_id, tag: stop.place } },
  ]))
    draft.notice(notice);
  const done =
    strands === null
      ? { numbers: [] }
      : await cutStrands(draft, {
          stop,
          strands,
          stub_a: input.stub_a ?? null,
          stub_b: input.stub_b ?? null,
          lenient: false,
        });
  // A record of old work needs no caution; work still to come does.
  if (done.numbers.length > 0 && dayOf(context) >= context.today) draft.notice(CUT_CAUTION);
  const express = (await expressAt(reader, cable.id, stop.id)) - done.numbers.length;
  const what =
    done.numbers.length === 0
      ? say`no strand cut`
      : say`${counted(done.numbers.length, "strand")} cut (${numberRuns(done.numbers.toSorted((a, b) => a - b))})`;
  return draft.plan(say`Open ${cable.tag} at ${stop.place}, ${what}`, {
    stop: stop.id,
    tag,
    cut: done.numbers,
    express,
  });
}

export const isOuter = ({ stops }: CableStretch, ordinal: number): boolean =>
  ordinal === stops[0]?.ordinal || ordinal === stops.at(-1)?.ordinal;
