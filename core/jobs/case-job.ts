/**
 * A wrecked splice case renewed, as a job: what was lost goes on record, a new case hangs in its place, every sheath is cut
 * back and brought into it, and what was joined is joined again strand by strand, what ran through uncut as well.
 */
import { type ActContext, PlanDraft } from "../act/context.ts";
import { escapeName } from "../model/address.ts";
import { landsAnew } from "../repair/case-piece.ts";
import { type LostCase, type LostCaseAsked, reckonLostCase, remainOf } from "../repair/lost-case.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type PlannedCase, planCase } from "./case.ts";
import { bringSteps } from "./case-bring.ts";
import { goneSteps } from "./case-ends.ts";
import { type CaseGroup, caseGroups, type GroupEnd, groupStep } from "./case-groups.ts";
import { caseOrders } from "./case-orders.ts";
import { joinPieces, layPieces, planPieces, readPieces } from "./case-pieces.ts";
import type { CasePiecePlanned } from "./case-planned.ts";
import { placesOf } from "./glass-units.ts";
import { listed } from "./mend-facts.ts";
import type { MendJob } from "./mend-job.ts";
import { byHand, type PlannedStep } from "./step.ts";
import { draftJob, draftSteps } from "./stored.ts";

export interface CaseJobAsked extends LostCaseAsked {
  readonly job: string;
  /** The number of a new case, or one on record or in stock; else it follows from the job's. */
  readonly case?: string | undefined;
  /** Of sheaths that don't reach, in their order: the number of each piece of new cable, and the case where it begins. */
  readonly pieces?: readonly string[] | undefined;
  readonly piece_cases?: readonly string[] | undefined;
  readonly tray_capacity: number;
  readonly people?: string | undefined;
  readonly starts_on?: string | undefined;
}

/** Refuses `not_possible` where a sheath doesn't reach or something else stands against it, naming each. */
export async function planCaseJob(context: ActContext, asked: CaseJobAsked): Promise<Plan<MendJob>> {
  const { reader, today } = context;
  const lost = await reckonLostCase(reader, asked, today);
  const { closure, place, refused, glass } = lost;
  if (refused.length > 0)
    refuse(
      "not_possible",
      say`No new case at ${place.tag} brings back all that was in ${closure.tag}: ${refused[0]}.`,
      refused.map((reason) => ({ field: "closure", record: closure.tag, reason })),
    );
  const draft = new PlanDraft(context);
  const job_id = await draftJob(draft, {
    ...{ tag: asked.job, people: asked.people, starts_on: asked.starts_on },
    reason: say`New case in place of ${closure.tag}, which was wrecked`,
  });
  const groups = await caseGroups(reader, glass, today);
  const planned = await planCase(
    draft,
    { tag: asked.case ?? `${asked.job}-C`, tray_capacity: asked.tray_capacity, job_id },
    place,
    groups.map(({ unit }) => placesOf(unit)),
  );
  const lacking = lost.arms.flatMap(({ piece }) => piece ?? []);
  refuseNumbers("pieces", asked.pieces?.length, lacking.length);
  refuseNumbers("piece_cases", asked.piece_cases?.length, lacking.filter((piece) => !landsAnew(piece)).length);
  const pieces = await planPieces(draft, lost.arms, {
    ...{ job: asked.job, job_id, tray_capacity: asked.tray_capacity },
    ...{ pieces: asked.pieces, cases: asked.piece_cases },
  });
  const steps = await caseSteps(draft, lost, { groups, planned, pieces });
  await draftSteps(draft, job_id, steps);
  for (const words of pieces.flatMap(({ crowded }) => crowded)) draft.notice(words);
  for (const words of lost.to_prove) draft.notice(say`It rests on what nobody has proven: ${words}.`);
  return draft.plan(say`Plan job ${asked.job}, a new case in place of ${closure.tag}`, {
    job: { kind: "job", id: job_id, tag: asked.job },
    steps: steps.map(({ words }) => words),
  });
}

/** One for each piece, and one for each that is spliced to its old cable, where any are named. */
function refuseNumbers(field: "pieces" | "piece_cases", given: number | undefined, wanted: number): void {
  if (given === undefined || given === wanted) return;
  const reason =
    field === "pieces"
      ? plural(
          wanted,
          "names {1}, and one sheath wants a piece of new cable",
          "names {1}, and {0} sheaths want a piece of new cable",
          given,
        )
      : plural(
          wanted,
          "names {1}, and one piece of new cable is spliced to its old cable in a case of its own",
          "names {1}, and {0} pieces of new cable are spliced to their old cables in cases of their own",
          given,
        );
  refuse("bad_input", say`The job can't be planned: ${field} ${reason}.`, [{ field, reason }]);
}

interface CasePlanned {
  readonly groups: readonly CaseGroup[];
  readonly planned: PlannedCase;
  readonly pieces: readonly CasePiecePlanned[];
}

async function caseSteps(
  draft: PlanDraft,
  lost: LostCase,
  { groups, planned, pieces }: CasePlanned,
): Promise<PlannedStep[]> {
  const { closure, place, arms, glass } = lost;
  const cables = listed([...new Set(arms.map(({ cable }) => cable.tag))]);
  const coils = arms.flatMap((arm) => {
    const { on, at, side, piece } = arm;
    const looked = [...remainOf(arm).drawn.map(({ stop }) => stop), side === "left" ? at - 1 : at + 1];
    return [...looked, ...(piece ? [piece.at] : [])].flatMap((index) => on.stops[index]?.name ?? []);
  });
  const orders = caseOrders(pieces);
  const { bring, read, dead } = await bringSteps(draft.context.reader, lost, { into: planned.tag, pieces, orders });
  const ids = new Map(arms.map(({ cable }) => [cable.tag, cable.id]));
  const standsFor = (end: GroupEnd): GroupEnd => {
    const own = pieces.find(({ arm }) => arm.cable.tag === end.cable && (arm.side === "left" ? "B" : "A") === end.end);
    if (!own) return { ...end, ordinal: orders.after(ids.get(end.cable) ?? 0, end.ordinal) };
    return { cable: escapeName(own.made.tag, ""), ordinal: own.arm.side === "left" ? own.made.stops : 1, end: end.end };
  };
  const lines = glass.joints.length + glass.express.length;
  return [
    byHand(
      say`At ${listed([...new Set([place.tag, ...coils])])} look at the coils of ${cables}; measure their strands from the far ends towards ${place.tag}, for they may be broken elsewhere too; enter what was found, and ask again how ${closure.tag} is mended before going on`,
      place,
    ),
    byHand(
      say`Identify ${cables} by two independent signs at ${place.tag}; measure that a strand is dark before cutting it`,
      place,
      ["identify", "glass"],
    ),
    ...(lost.on_record ? [] : [lostStep(lost)]),
    planned.step,
    ...pieces.flatMap((one) => one.case?.step ?? []),
    ...bring,
    ...layPieces(pieces, place, orders),
    ...joinPieces(pieces, orders),
    ...groups.map((group, index) => groupStep(group, planned.trays[index] ?? null, place, standsFor)),
    ...dead,
    ...goneSteps(pieces, orders),
    ...read,
    ...readPieces(pieces),
    byHand(
      say`Measure all ${counted(lines, "strand")} of ${cables} that are spliced here from both ends and enter the readings; close ${listed([planned.tag, ...pieces.flatMap((one) => one.case?.tag ?? [])])}, hang labels, take ${closure.tag} away with its shards`,
      place,
    ),
  ];
}

const lostStep = ({ closure, place, glass: { joints, express } }: LostCase): PlannedStep => ({
  act: "closure.lost",
  input: { closure: closure.tag },
  words: say`Record that ${closure.tag} is wrecked with ${counted(joints.length, "splice")} in it${express.length > 0 ? say`, and with it ${counted(express.length, "strand")} that ran through uncut` : ""}`,
  place,
});
