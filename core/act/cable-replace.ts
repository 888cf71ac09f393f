/**
 * A cable's place taken by another: what the old one is joined to, at its ends and where it is opened, is joined to the new
 * one's strands of the same number, and its services move over. What was joined is cut off, so the joints are new: what the
 * old ones lost says nothing of them. In a correction the joints are the same and were the other cable's all along.
 */
import { z } from "zod";
import type { KindName, Row, Value } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { giveServices, numbersOf, pairedNumbers } from "./cable-carry.ts";
import { besides, type FacingEnds, facingEnds, keyOf } from "./cable-facing.ts";
import { pairOf } from "./cable-pair.ts";
import { cableInput, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address, given } from "./inputs.ts";
import { shortRange } from "./numbering.ts";
import { doubtedLosses, refuseUnreadable } from "./splices.ts";

export const cableReplaceInput = z.strictObject({
  cable: cableInput.describe(say`The cable that is given up.`),
  by: address(say`The cable that takes its place, strand for strand.`),
  at: stopRef
    .optional()
    .describe(
      say`Only at this stop of the new cable: its order along it, or the space; at all of them where left out.`,
    ),
  strands: z
    .string()
    .trim()
    .min(1, say`is empty`)
    .max(400)
    .optional()
    .describe(say`Only these numbers, such as 1-12,20; all where left out.`),
  onto: z
    .string()
    .trim()
    .min(1, say`is empty`)
    .max(400)
    .optional()
    .describe(
      say`The strands of the new cable that take their place, as many and in the same order; the same numbers where left out.`,
    ),
  loss_db: z
    .union([z.number(), z.array(z.number().nullable()).max(40_000)])
    .nullable()
    .optional()
    .describe(say`Loss of the new joints in decibels: one for all, or one a joint in the order of the strands.`),
  loss_basis: given("splice", "loss_basis"),
  method: given("splice", "method").describe(say`How new splices are made; as the old ones were where left out.`),
  made_on: given("splice", "made_on"),
  made_by: given("splice", "made_by"),
});
type Input = z.output<typeof cableReplaceInput>;

export interface CableReplaced {
  /** Ends that were joined and are now the other's. */
  readonly moved: number;
  readonly circuits: number;
}

/** Refuses a cable by itself, one with fewer strands, one whose ends are joined already, and a place or strands that lack. */
export async function planCableReplace(context: ActContext, input: Input): Promise<Plan<CableReplaced>> {
  const draft = new PlanDraft(context);
  const { old, by } = await pairOf(context, input, input.onto !== undefined);
  const at = input.at === undefined ? null : await stopNamed(context.reader, by, input.at, "at");
  const numbers = await numbersOf(context, old.cable.tag, input.strands);
  const own = (number: number): boolean => numbers === null || numbers.has(number);
  const onto = await pairedNumbers(context, numbers, { old, by, onto: input.onto });
  const from = new Map([...(onto ?? [])].map(([one, other]) => [other, one]));
  const fromOf = (number: number): number => (onto === null ? number : (from.get(number) ?? Number.NaN));
  const ends = facingEnds(old, by, (number) => (onto === null ? number : (onto.get(number) ?? Number.NaN))).filter(
    ({ number, stop_id }) => own(number) && (at === null || stop_id === at.id),
  );
  await refuseJoined(draft, ends, by.cable.tag);
  const sections = [...old.sections].flatMap(([number, all]) => (own(number) ? all.map(({ id }) => id) : []));
  const joints = await jointsOf(
    draft,
    sections,
    [...old.sections.values()].flat().map(({ id }) => id),
  );
  const moves = movesOf(joints, ends);
  const whole = at === null && numbers === null;
  if (moves.length === 0 && !whole) {
    const reason = noneWords(by.cable.tag, numbers && shortRange([...numbers]), at?.place ?? null);
    refuse("not_possible", `${old.cable.tag} ${reason}.`, [{ field: "cable", record: old.cable.tag, reason }]);
  }
  await makeAnew(draft, moves, input);
  const left = joints.length - moves.length;
  if (whole && left > 0) {
    draft.notice(
      say`${counted(left, "splice")} of ${old.cable.tag} to other cables, at places where it is opened, stay with it: open ${by.cable.tag} there, cut the same strands, and do this again.`,
    );
  }
  const beside = new Map(
    [...besides(old, by, fromOf)].filter(([id]) =>
      [...by.sections].some(([number, all]) => own(fromOf(number)) && all.some((one) => one.id === id)),
    ),
  );
  const circuits = await giveServices(draft, beside, "move");
  const day = dayOf(context);
  if (whole && left === 0) {
    draft.update("cable", old.cable.id, { life: "out_of_use", life_from: day });
    draft.notice(
      say`${old.cable.tag} is out of use from ${shownDay(day)}. Where the local code asks for it, out-of-use cable in a building is removed or labelled.`,
    );
  }
  const which = numbers === null ? "" : say`strands ${shortRange([...numbers])} of `;
  return draft.plan(
    at === null && numbers === null
      ? say`Put ${by.cable.tag} in the place of ${old.cable.tag}`
      : say`Put ${which}${by.cable.tag} in the place of ${old.cable.tag}${at === null ? "" : say` at ${at.place}`}`,
    { moved: moves.length, circuits },
  );
}

export interface Joint {
  readonly kind: "termination" | "splice";
  readonly row: Row<"termination"> | Row<"splice">;
  /** The old cable's end in it, and the fields that say so. */
  readonly end: string;
  readonly fields: { readonly section: string; readonly side: string };
}

/** What carries glass between the old cable's sections and anything else; splices within the cable are none of it. */
export async function jointsOf(
  { context: { reader } }: PlanDraft,
  sections: readonly number[],
  own: readonly number[],
): Promise<Joint[]> {
  const asked = listed(sections);
  const inside = new Set(own);
  const carries = "life in ('in_place', 'out_of_use') order by id";
  const terminations = await reader.rows<Row<"termination">>(
    `select * from termination where section_id in (select value from json_each(?)) and ${carries}`,
    [asked],
  );
  const splices = await reader.rows<Row<"splice">>(
    `select * from splice where (a_section_id in (select value from json_each(?1)) or b_section_id in (select value from json_each(?1)))
       and ${carries}`,
    [asked],
  );
  return [
    ...terminations.map((row): Joint => {
      const { section_id: id, side } = row;
      return { kind: "termination", row, end: keyOf({ id, side }), fields: { section: "section_id", side: "side" } };
    }),
    ...splices.flatMap((row): Joint[] => {
      const [a, b] = [inside.has(row.a_section_id), inside.has(row.b_section_id)];
      if (a && b) return [];
      const end = a
        ? keyOf({ id: row.a_section_id, side: row.a_side })
        : keyOf({ id: row.b_section_id, side: row.b_side });
      const fields = a ? { section: "a_section_id", side: "a_side" } : { section: "b_section_id", side: "b_side" };
      return [{ kind: "splice", row, end, fields }];
    }),
  ];
}

interface Move {
  readonly joint: Joint;
  readonly to: FacingEnds["by"];
}

/** In the order of the ends: by place, by number, and at an opening what comes from before it first. */
export function movesOf(joints: readonly Joint[], ends: readonly FacingEnds[]): Move[] {
  const byEnd = Map.groupBy(joints, ({ end }) => end);
  return ends.flatMap(({ old, by }) => (byEnd.get(keyOf(old)) ?? []).map((joint) => ({ joint, to: by })));
}

export async function refuseJoined(draft: PlanDraft, ends: readonly FacingEnds[], tag: string): Promise<void> {
  const sections = [...new Set(ends.map(({ by }) => by.id))];
  const wanted = new Set(ends.map(({ by }) => keyOf(by)));
  const already = (await jointsOf(draft, sections, [])).filter(({ end }) => wanted.has(end));
  if (already.length === 0) return;
  const reason = say`is joined already at ${already.length} ends`;
  const problem: Problem = { field: "by", record: tag, reason };
  refuse("not_possible", `${tag} ${reason}.`, [problem]);
}

/** Why nothing is moved over: of the whole cable or of some strands, everywhere or at one place. */
function noneWords(by: string, strands: string | null, place: string | null): string {
  if (strands === null) {
    return place === null
      ? say`has nothing joined to it that ${by} could take over`
      : say`has nothing joined to it at ${place} that ${by} could take over`;
  }
  return place === null
    ? say`has nothing joined to strands ${strands} that ${by} could take over`
    : say`has nothing joined to strands ${strands} at ${place} that ${by} could take over`;
}

function lossesOf(loss: Input["loss_db"], count: number): (number | null)[] {
  refuseUnreadable(loss, "loss_db");
  if (loss === undefined || loss === null || typeof loss === "number")
    return Array.from({ length: count }, () => loss ?? null);
  if (loss.length === count) return loss;
  return refuse("bad_input", say`${counted(loss.length, "loss", "losses")} for ${counted(count, "joint")}.`, [
    { field: "loss_db", reason: say`lists ${loss.length}; ${count} are needed, or one value for all` },
  ]);
}

type Made = Partial<Pick<Input, "loss_db" | "loss_basis" | "method" | "made_on" | "made_by">>;

/**
 * The old joints end, and new ones stand in their place; in a correction they are the other cable's as they are.
 * @param gone the old glass is taken off the record, and its joints with it
 */
export async function makeAnew(draft: PlanDraft, moves: readonly Move[], input: Made, gone = false): Promise<void> {
  const day = dayOf(draft.context);
  const losses = lossesOf(input.loss_db, moves.length);
  const doubted = doubtedLosses(input.loss_db);
  if (doubted) draft.notice(doubted);
  if (isCorrection(draft.context)) {
    for (const { joint, to } of moves)
      draft.update(joint.kind, joint.row.id, { [joint.fields.section]: to.id, [joint.fields.side]: to.side });
    return;
  }
  const made: Record<KindName & ("termination" | "splice"), Record<string, Value>[]> = { termination: [], splice: [] };
  for (const [index, { joint, to }] of moves.entries()) {
    const loss = losses[index] ?? null;
    const { id: _, rev: __, ...row } = joint.row;
    if (gone) draft.delete(joint.kind, joint.row.id);
    else draft.update(joint.kind, joint.row.id, { life: "removed", life_until: day });
    made[joint.kind].push({
      ...row,
      [joint.fields.section]: to.id,
      [joint.fields.side]: to.side,
      ...(joint.kind === "splice"
        ? { method: input.method ?? joint.row.method, loss_ab_db: loss, loss_ba_db: null }
        : // A connector made in a works stays with the cable it came on.
          { method: joint.row.method === "pre_terminated" ? null : joint.row.method, loss_db: loss }),
      loss_basis: loss === null ? null : (input.loss_basis ?? null),
      made_on: input.made_on ?? draft.context.occasion.day ?? null,
      made_by: input.made_by ?? null,
      life_from: null,
      basis: null,
      basis_visit_id: null,
      basis_paper_id: null,
      notes: null,
    });
  }
  for (const kind of ["termination", "splice"] as const) await draft.insert(kind, made[kind] as never[]);
  const silent = losses.filter((loss) => loss === null).length;
  if (silent > 0)
    draft.notice(
      plural(
        silent,
        "What one new joint loses is not said: it is not known until it is measured.",
        "What {0} new joints lose is not said: it is not known until it is measured.",
      ),
    );
}
