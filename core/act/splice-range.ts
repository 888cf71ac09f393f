/** Splice a range of strands to a range of strands, one to one in the order written. */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import { type Problem, refuse } from "../result.ts";
import type { NamedStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cableStretch, stopNamed, stopRef } from "./cable-stretch.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { type End, endKey, endsAt, type Place, rangeOf } from "./ends.ts";
import { coreOf, fibreOf } from "./fibre.ts";
import { address, endSide, evenIfElsewhere, evenIfTaken, known } from "./inputs.ts";
import { refuseTaken, takenEnds } from "./joints.ts";
import { spaceFor, strandsNamed } from "./named.ts";
import { insertSplices, spliceFields } from "./splices.ts";
import { spaceOfTray, trayNamed } from "./trays.ts";

export const spliceRangeInput = z.strictObject({
  from: address(say`Strands in order, such as F-014:25-36.`),
  to: address(say`As many strands in order, such as F-021:1-12.`),
  tray: address(say`The splice tray, such as MH-03/CL-1/T2.`).nullable().optional(),
  at: address(say`The space, where nobody knows the tray.`).nullable().optional(),
  from_end: endSide,
  to_end: endSide,
  from_stop: stopRef
    .optional()
    .describe(say`Where a cable stops twice in one place: at which of its stops, of the first.`),
  to_stop: stopRef.optional().describe(say`The same of the second.`),
  even_if_taken: evenIfTaken,
  even_if_elsewhere: evenIfElsewhere,
  ...spliceFields,
  ...known,
});

export interface Spliced {
  readonly spliced: number;
  readonly pairs: readonly { readonly from: string; readonly to: string; readonly place: number | null }[];
}

function refuseUnequal(from: NamedStrands, to: NamedStrands): void {
  const [a, b] = [from.strands.length, to.strands.length];
  if (a === b) return;
  refuse("not_possible", say`${rangeOf(from)} is ${counted(a, "strand")}, ${rangeOf(to)} is ${counted(b, "strand")}.`, [
    { field: "from", record: rangeOf(from), reason: say`is ${counted(a, "strand")}` },
    { field: "to", record: rangeOf(to), reason: say`is ${counted(b, "strand")}` },
  ]);
}

/** An end can be joined to one other end, never to itself, and once in one act. */
function refuseItself(from: readonly End[], to: readonly End[]): void {
  const first = new Map(from.map((end, i) => [endKey(end.section_id, end.side), i]));
  const problems = to.flatMap((end, i): Problem[] => {
    const at = first.get(endKey(end.section_id, end.side));
    if (at === undefined) return [];
    const reason = at === i ? say`would be spliced to itself` : say`stands in both ranges`;
    return [{ row: i + 1, field: "to", record: end.words, reason: say`${reason} with its end ${end.side}` }];
  });
  const [one] = problems;
  if (one) refuse("not_possible", `${one.record} ${one.reason}.`, problems);
}

async function stopOf(
  reader: Reader,
  { cable }: NamedStrands,
  stop: string | number | undefined,
  field: string,
): Promise<number | undefined> {
  if (stop === undefined) return undefined;
  return (await stopNamed(reader, await cableStretch(reader, escapeName(cable.tag, "")), stop, field)).id;
}

/** Doubts about what is joined: unlike cores, both ends of one glass. */
export async function doubtsOf(reader: Reader, from: readonly End[], to: readonly End[]): Promise<string[]> {
  const fibres = await fibreOf(
    reader,
    [...from, ...to].map(({ strand_id }) => strand_id),
  );
  const unlike = from.filter((end, i) => {
    const a = coreOf(fibres.get(end.strand_id)?.fibre_class ?? null);
    const b = coreOf(fibres.get(to[i]?.strand_id ?? 0)?.fibre_class ?? null);
    return a !== null && b !== null && a !== b;
  });
  const rings = from.filter((end, i) => end.section_id === to[i]?.section_id);
  const tells = (ends: readonly End[], what: string) => {
    const [first] = ends;
    const more = ends.length > 1 ? say` and ${ends.length - 1} more` : "";
    return first ? [`${first.words}${more} ${what}.`] : [];
  };
  return [
    ...tells(unlike, say`would be spliced to glass of another core`),
    ...tells(rings, say`would be spliced to the other end of the same glass, and make a ring`),
  ];
}

/**
 * Plans splices in one tray or space.
 * Refuses `not_possible` for ranges of unequal length, an end to itself, an end that isn't in the tray's space (unless
 * `even_if_elsewhere`), an end or a place that is taken (unless `even_if_taken`); `ambiguous` where both ends lie there.
 */
export async function planSpliceRange(
  context: ActContext,
  input: z.output<typeof spliceRangeInput>,
): Promise<Plan<Spliced>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const from = await strandsNamed(reader, input.from, "from");
  const to = await strandsNamed(reader, input.to, "to");
  refuseUnequal(from, to);
  const tray = input.tray ? await trayNamed(reader, input.tray, "tray") : null;
  const place: Place =
    (tray ? spaceOfTray(tray) : await spaceFor(reader, input.at, "at")) ??
    refuse("bad_input", say`Where are the splices?`, [
      { field: "tray", reason: say`is missing; give the splice tray, or the space where nobody knows the tray` },
    ]);
  const elsewhere = input.even_if_elsewhere;
  const fromEnds = await endsAt(reader, from, place, {
    field: "from",
    endField: "from_end",
    end: input.from_end,
    stop_id: await stopOf(reader, from, input.from_stop, "from_stop"),
    elsewhere,
  });
  const toEnds = await endsAt(reader, to, place, {
    field: "to",
    endField: "to_end",
    end: input.to_end,
    stop_id: await stopOf(reader, to, input.to_stop, "to_stop"),
    elsewhere,
  });
  refuseItself(fromEnds, toEnds);
  refuseTaken(draft, input.even_if_taken, [
    ...(await takenEnds(reader, fromEnds, "from")),
    ...(await takenEnds(reader, toEnds, "to")),
  ]);
  for (const doubt of await doubtsOf(reader, fromEnds, toEnds)) draft.notice(doubt);
  const places = await insertSplices(draft, fromEnds, toEnds, tray, input);
  return draft.plan(say`Splice ${rangeOf(from)} to ${rangeOf(to)} in ${tray?.tag ?? place.tag}`, {
    spliced: fromEnds.length,
    pairs: fromEnds.map((end, i) => ({ from: end.words, to: toEnds[i]?.words ?? "", place: places[i] ?? null })),
  });
}
