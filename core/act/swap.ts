/**
 * Swap two ranges of strands where they are spliced: what the first is spliced to goes to the second, and the other way
 * round. In a correction the splices themselves are put right, for they were made so; as a change of the plant the old
 * ones are ended and new ones made in the same places of their trays.
 */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { NamedStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { type End, endKey, endsAt, listed, type Place, rangeOf } from "./ends.ts";
import { address, endSide, known } from "./inputs.ts";
import { jointsAtEnds } from "./joints.ts";
import { knownValues, named, strandsNamed } from "./named.ts";

export const swapInput = z.strictObject({
  one: address(say`Strands in order, such as F-012 GR or F-012:25-36.`),
  other: address(say`As many strands, such as F-012 BR.`),
  at: address(say`The case or the place where they are spliced, such as MH-07/CL-1.`),
  one_end: endSide,
  other_end: endSide,
  ...known,
});
type Input = z.output<typeof swapInput>;

export interface Swapped {
  readonly swapped: number;
  readonly pairs: readonly { readonly one: string; readonly other: string }[];
}

type SpliceRow = Row<"splice">;

/** The place of a case, or the space itself. */
async function placeNamed(reader: Reader, text: string): Promise<Place> {
  const at = await named(reader, text, ["closure", "space"], "at");
  if (at.kind === "space") return at;
  const [row] = await reader.rows<{ space_id: number | null }>("select space_id from closure where id = ?", [at.id]);
  const id = row?.space_id;
  return id
    ? { id, tag: at.tag }
    : refuse("not_possible", say`${at.tag} has no place on record.`, [
        { field: "at", record: at.tag, reason: say`has no place on record; say first where it is` },
      ]);
}

function refuseUnequal(one: NamedStrands, other: NamedStrands): void {
  const [a, b] = [one.strands.length, other.strands.length];
  if (a === b) return;
  refuse(
    "not_possible",
    say`${rangeOf(one)} is ${counted(a, "strand")}, ${rangeOf(other)} is ${counted(b, "strand")}.`,
    [
      { field: "one", record: rangeOf(one), reason: say`is ${counted(a, "strand")}` },
      { field: "other", record: rangeOf(other), reason: say`is ${counted(b, "strand")}` },
    ],
  );
}

/** The one splice on each end. Refuses ends that are spliced twice, that land, or that hang free. */
async function splicesOn(reader: Reader, ends: readonly End[], field: string, problems: Problem[]) {
  const joints = await jointsAtEnds(reader, ends);
  return ends.map((end, i) => {
    const own = joints.get(endKey(end.section_id, end.side)) ?? [];
    const [only] = own;
    if (only?.kind === "splice" && own.length === 1) return only.id;
    const reason =
      own.length === 0
        ? say`isn't spliced there on record`
        : own.length > 1
          ? say`is joined ${own.length} times there; put that right first`
          : say`lands on a position there; land the strands again instead`;
    problems.push({ row: i + 1, field, record: end.words, reason });
    return 0;
  });
}

/** The splice with one end put in place of another. */
function ended(row: SpliceRow, from: End, to: End) {
  return row.a_section_id === from.section_id && row.a_side === from.side
    ? { a_section_id: to.section_id, a_side: to.side }
    : { b_section_id: to.section_id, b_side: to.side };
}

/** Refuses `not_possible` for ranges of unequal length, an end that isn't spliced once, and ends spliced to each other. */
export async function planSwap(context: ActContext, input: Input): Promise<Plan<Swapped>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const [one, other] = [await strandsNamed(reader, input.one, "one"), await strandsNamed(reader, input.other, "other")];
  refuseUnequal(one, other);
  const place = await placeNamed(reader, input.at);
  const ones = await endsAt(reader, one, place, { field: "one", endField: "one_end", end: input.one_end });
  const others = await endsAt(reader, other, place, { field: "other", endField: "other_end", end: input.other_end });
  const problems: Problem[] = [];
  const first = await splicesOn(reader, ones, "one", problems);
  const second = await splicesOn(reader, others, "other", problems);
  first.forEach((id, i) => {
    if (id !== 0 && second.includes(id))
      problems.push({
        row: i + 1,
        field: "one",
        record: ones[i]?.words ?? "",
        reason: say`is spliced to the other range`,
      });
  });
  const [problem] = problems;
  if (problem) refuse("not_possible", `${problem.record} ${problem.reason}.`, problems);
  const rows = await reader.rows<SpliceRow>("select * from splice where id in (select value from json_each(?))", [
    listed([...first, ...second]),
  ]);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const values = await knownValues(reader, input);
  for (const [i, from] of ones.entries()) {
    const to = others[i] as End;
    await put(draft, byId.get(first[i] ?? 0) as SpliceRow, from, to, values);
    await put(draft, byId.get(second[i] ?? 0) as SpliceRow, to, from, values);
  }
  return draft.plan(say`Swap ${rangeOf(one)} and ${rangeOf(other)} in ${place.tag}`, {
    swapped: ones.length,
    pairs: ones.map((end, i) => ({ one: end.words, other: others[i]?.words ?? "" })),
  });
}

async function put(
  draft: PlanDraft,
  row: SpliceRow,
  from: End,
  to: End,
  values: Awaited<ReturnType<typeof knownValues>>,
): Promise<void> {
  const { context } = draft;
  if (isCorrection(context)) {
    draft.update("splice", row.id, ended(row, from, to));
    return;
  }
  const day = dayOf(context);
  draft.update("splice", row.id, { life: "removed", life_until: day });
  const { a_section_id, a_side, b_section_id, b_side, tray_id, place, method, form, owner_id } = row;
  await draft.insert("splice", [
    {
      // A splice made anew has a loss of its own, and nobody has told it yet.
      ...{ a_section_id, a_side, b_section_id, b_side, tray_id, place, method, form, owner_id, made_on: day },
      ...ended(row, from, to),
      ...values,
    },
  ]);
}
