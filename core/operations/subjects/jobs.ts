/** Jobs: planned work, its steps carried out one by one, and what becomes of what it planned. */
import { z } from "zod";
import { PlanDraft } from "../../act/context.ts";
import { groundBlocks } from "../../campus-plan/around.ts";
import { planAbandon } from "../../jobs/abandon.ts";
import { planCaseJob } from "../../jobs/case-job.ts";
import { planStep, type StepAct } from "../../jobs/do-step.ts";
import { planLastingJob } from "../../jobs/lasting-job.ts";
import { planMendJob } from "../../jobs/mend-job.ts";
import { planMendsJob } from "../../jobs/mends-job.ts";
import { packetOf } from "../../jobs/packet.ts";
import { entered, groundOf, packetDocument } from "../../jobs/packet-document.ts";
import { openingBlocks } from "../../jobs/packet-opening.ts";
import { jobOf, jobsOnRecord } from "../../jobs/show.ts";
import { draftJob, draftSteps, jobNamed } from "../../jobs/stored.ts";
import { temporaryLeft } from "../../jobs/temporary.ts";
import type { Block } from "../../paper/document.ts";
import { refuse } from "../../result.ts";
import { courseBlocks } from "../../sheets/cable-paper.ts";
import { inkOf } from "../../sheets/chips.ts";
import { holePictures } from "../../sheets/hole-pictures.ts";
import { lengthUnit } from "../../sheets/in-words.ts";
import type { RecordRef } from "../../trace/answer.ts";
import { cableSheet } from "../../trace/cable-sheet.ts";
import { counted } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineRead, defineWrite, type WriteContext, type WriteOperation } from "../define.ts";
import { decode } from "../dispatch.ts";
import { address, cutTogether, day, lost, tag } from "../inputs.ts";
import { circuitAssign, circuitEnter, circuitRelease } from "./acts-circuit.ts";
import { closureEnter, closureLost, moduleEnter, panelEnter } from "./acts-equipment.ts";
import { spliceClose, spliceRange, spliceReopen, strandLand } from "./acts-glass.ts";
import { labelRelabel, labelSight, labelWrite } from "./acts-label.ts";
import { cordPatch, cordUnplug } from "./acts-patching.ts";
import {
  cableAddStop,
  cableCarry,
  cableCloseGap,
  cableDeadLength,
  cableEnter,
  cableMoveCut,
  cableOpen,
  cableRemoveStop,
  cableReplace,
  cableReplaceEnd,
  cableSever,
  pathwayDivide,
} from "./cables.ts";
import { recordAdd, recordChangeMany, recordEdit } from "./record-changes.ts";

/** Acts that a step of a job may carry out. */
const STEP_ACTS: readonly WriteOperation<string, z.ZodType, unknown>[] = [
  cableEnter,
  cableAddStop,
  cableRemoveStop,
  cableOpen,
  cableSever,
  cableCloseGap,
  cableMoveCut,
  cableReplace,
  cableReplaceEnd,
  cableCarry,
  cableDeadLength,
  pathwayDivide,
  closureEnter,
  closureLost,
  panelEnter,
  moduleEnter,
  strandLand,
  spliceRange,
  spliceClose,
  spliceReopen,
  cordPatch,
  cordUnplug,
  circuitEnter,
  circuitAssign,
  circuitRelease,
  labelWrite,
  labelSight,
  labelRelabel,
  recordAdd,
  recordEdit,
  recordChangeMany,
] as readonly WriteOperation<string, z.ZodType, unknown>[];
const ACT_NAMES = STEP_ACTS.map(({ name }) => name);

const job = z.union([address, z.int().min(1)]).describe(say`The job, by its number or id.`);

const ofJob = {
  job: tag.describe(say`The new job's number.`),
  people: z.string().trim().max(200).optional().describe(say`Who does it.`),
  starts_on: day.optional().describe(say`The day it begins.`),
  replace_by: day.optional().describe(say`For temporary work: the day by which it must be replaced.`),
};

export const jobPlanMend = defineWrite({
  name: "job.plan_mend",
  help: say`Chooses a way to mend a cut: makes the job with its steps, and the hole, case and piece of cable it needs as planned records.`,
  input: z.strictObject({
    cable: z
      .union([address, z.int().min(1)])
      .describe(say`The cable, as it was named when the ways to mend it were asked for.`),
    mark: z.number().optional().describe(say`The sheath mark at the cut.`),
    after: address.optional().describe(say`The stop before the cut.`),
    metres: z.number().min(-100_000).max(100_000).optional().describe(say`Metres from that place's mouth to the cut.`),
    between: z
      .tuple([address, address])
      .optional()
      .describe(say`Or the two places beside the cut; without mark and metres all that lies between is given up.`),
    lost_left_m: lost.describe(say`Metres destroyed towards the first stop.`),
    lost_right_m: lost.describe(say`The same towards the last stop.`),
    plan: z
      .int()
      .min(1, say`is less than 1`)
      .max(1000)
      .default(1)
      .describe(say`Which of the ways to mend it, the best being 1.`),
    dark: address.optional().describe(say`The strands that are dark, where others still shine: such as BL,OR or 1-24.`),
    sever: z
      .boolean()
      .optional()
      .describe(
        say`Leave to sever strands that still shine, or to take down circuits that the cut left alone, where the way chosen does so.`,
      ),
    hole: tag
      .optional()
      .describe(say`The number of the hole to be dug, where that way digs one; else it follows from the job's.`),
    beyond: tag.optional().describe(say`The number of the part of the pathway beyond that hole.`),
    cases: z
      .array(address)
      .max(2)
      .optional()
      .describe(
        say`For each splice point its case: the number of a new one, or one on record; else new ones by the job's number.`,
      ),
    tray_capacity: z.int().min(1).max(1000).default(24).describe(say`Splices that one tray of a new case takes.`),
    piece: tag
      .optional()
      .describe(say`The number of the new piece, or of the new cable; else it follows from the job's.`),
    follows: address.optional().describe(say`The temporary job that this one makes permanent.`),
    circuits_only: z
      .boolean()
      .optional()
      .describe(
        say`Only strands that carry circuits are spliced now. At one splice point the rest is spliced later by the same job; at two the mend is temporary, and the rest waits for the job that follows.`,
      ),
    ...ofJob,
  }),
  plan: (context, { cable, mark, after, metres, between, lost_left_m, lost_right_m, dark, ...asked }) =>
    planMendJob(context, {
      ...asked,
      question: {
        cable,
        mark: mark ?? null,
        after: after ?? null,
        metres: metres ?? null,
        ...(between ? { between } : {}),
        lost_left_m: lost_left_m ?? null,
        lost_right_m: lost_right_m ?? null,
        ...(dark === undefined ? {} : { dark }),
      },
    }),
});

export const jobPlanMends = defineWrite({
  name: "job.plan_mends",
  help: say`Makes one job of the mends of all cables that are cut at once, those of a pathway or pipe or between two places: the best way for each, or another where a hole would be too full; the splices of all in the order of the circuits.`,
  input: z.strictObject({
    ...cutTogether,
    plans: z
      .array(z.strictObject({ cable: address, plan: z.int().min(1, say`is less than 1`).max(1000) }))
      .max(1000)
      .default([])
      .describe(say`For cables of which another way than the best is wanted: which of them, the best being 1.`),
    sever: z
      .boolean()
      .optional()
      .describe(
        say`Leave to sever strands that still shine, or to take down circuits that the cut left alone, where the way of their cable does so.`,
      ),
    job: ofJob.job,
    people: ofJob.people,
    starts_on: ofJob.starts_on,
    tray_capacity: z.int().min(1).max(1000).default(24).describe(say`Splices that one tray of a new case takes.`),
  }),
  plan: (context, { of, between, metres, lost_from_m, lost_to_m, ...asked }) =>
    planMendsJob(context, {
      ...asked,
      cuts: {
        of,
        between: between ?? null,
        metres: metres ?? null,
        lost_from_m: lost_from_m ?? null,
        lost_to_m: lost_to_m ?? null,
      },
    }),
});

export const jobPlanCase = defineWrite({
  name: "job.plan_case",
  help: say`Makes a job of renewing a wrecked splice case: what was lost goes on record, a new case hangs in its place, every sheath is cut back and brought into it, by a piece of new cable where it does not reach, from a place on its way or in its place from its end, and every strand is spliced again as it was.`,
  input: z.strictObject({
    closure: z.union([address, z.int().min(1)]).describe(say`The wrecked case, by its address or id.`),
    lost_m: lost.describe(say`Metres of each sheath destroyed from the case on; left out, the plant's policy.`),
    case: address
      .optional()
      .describe(say`The number of the new case, or one in stock; else it follows from the job's.`),
    pieces: z
      .array(tag)
      .max(1000)
      .optional()
      .describe(say`For each sheath that doesn't reach the number of its piece; else they follow from the job's.`),
    piece_cases: z
      .array(address)
      .max(1000)
      .optional()
      .describe(say`For each that is spliced to the old cable its case; else they follow from the job's.`),
    tray_capacity: z.int().min(1).max(1000).default(24).describe(say`Splices that one tray of a new case takes.`),
    job: ofJob.job,
    people: ofJob.people,
    starts_on: ofJob.starts_on,
  }),
  plan: (context, { lost_m, ...asked }) => planCaseJob(context, { ...asked, lost_m: lost_m ?? null }),
});

export const jobPlanLasting = defineWrite({
  name: "job.plan_lasting",
  help: say`Plans the lasting mend after a temporary one as a job: a new piece where the dead stretch lay, strands moved onto it from the piece over the ground, the dark ones first and the others a unit at a time, the most urgent last; then that piece is taken away. Or, where coils reach, the gap closed with one splice.`,
  input: z.strictObject({
    follows: job.describe(say`The temporary job, by its number or id.`),
    job: ofJob.job,
    piece: tag.optional().describe(say`The number of the new piece; else it follows from the job's.`),
    cases: z
      .array(address)
      .length(2, say`are for both ends: two`)
      .optional()
      .describe(say`For strands that were left dark: a case at each end; else those of the temporary mend.`),
    splice_at: address
      .optional()
      .describe(
        say`In place of a new piece: the place of the temporary mend at which the cable is spliced to itself again, where its coils reach. All that runs over it is down meanwhile.`,
      ),
    tray_capacity: z.int().min(1).max(1000).default(24).describe(say`Splices that one tray of a new case takes.`),
    people: ofJob.people,
    starts_on: ofJob.starts_on,
  }),
  plan: planLastingJob,
});

const stepInput = z.strictObject({
  act: z
    .string()
    .max(60)
    .nullable()
    .default(null)
    .describe(say`The act that records it; none where people only do it.`),
  input: z
    .unknown()
    .optional()
    .describe(say`What that act takes; $day and $who stand for when and by whom it is done.`),
  words: z.string().trim().min(1, say`is empty`).max(4000).describe(say`What is to be done.`),
  place: z
    .strictObject({ kind: z.string(), id: z.int(), tag: z.string() })
    .nullable()
    .optional()
    .describe(say`Where, as a record.`),
});

export const jobEnter = defineWrite({
  name: "job.enter",
  help: say`Enters a job with its steps in order; a step may name the act that records it when it is done.`,
  input: z.strictObject({
    ...ofJob,
    reason: z.string().trim().max(400).optional().describe(say`Why it is done.`),
    follows: address.optional().describe(say`The temporary job this one makes permanent.`),
    steps: z.array(stepInput).min(1, say`must be at least one`).max(10_000),
  }),
  plan: async (context, { job, steps, follows, ...given }) => {
    const problems = steps.flatMap(({ act }, index) =>
      act === null || ACT_NAMES.includes(act)
        ? []
        : [{ row: index + 1, field: "act", record: act, reason: say`is not an act that a step can carry out` }],
    );
    if (problems.length > 0)
      refuse("bad_input", say`Step ${problems[0]?.row}: ${problems[0]?.record} ${problems[0]?.reason}.`, problems);
    const draft = new PlanDraft(context);
    const before = follows === undefined ? null : (await jobNamed(context.reader, follows, "follows")).ref.id;
    const id = await draftJob(draft, { tag: job, ...given, follows_id: before });
    await draftSteps(
      draft,
      id,
      steps.map(({ act, input, words, place }) => ({
        act,
        input: input ?? null,
        words,
        place: (place ?? null) as RecordRef | null,
      })),
    );
    return draft.plan(say`Enter job ${job} with ${counted(steps.length, "step")}`, {
      job: { kind: "job" as const, id, tag: job },
      steps: steps.map(({ words }) => words),
    });
  },
});

const actOf =
  (context: WriteContext): StepAct =>
  (_, name, input) => {
    const operation = STEP_ACTS.find((one) => one.name === name);
    if (!operation) return null;
    refuseUnknown(operation, input);
    return operation.plan(context, decode(operation.input, input ?? {}, name));
  };

/** Whoever answers a step differently than it was planned doesn't know its act by heart: the fields there are, are named. */
function refuseUnknown({ name, input: schema }: WriteOperation<string, z.ZodType, unknown>, input: unknown): void {
  if (!(schema instanceof z.ZodObject) || typeof input !== "object" || input === null) return;
  const known = Object.keys(schema.shape);
  const unknown = Object.keys(input).filter((field) => !known.includes(field));
  const [first] = unknown;
  if (first === undefined) return;
  const reason = say`is no field of ${name}: its fields are ${known.join(", ")}`;
  refuse(
    "bad_input",
    `${unknown.join(", ")} ${reason}.`,
    unknown.map((field) => ({ field, reason })),
  );
}

export const jobDo = defineWrite({
  name: "job.do",
  help: say`Carries out one step of a job, or leaves it out: what it changes on record and that it is done, as one change.`,
  input: z.strictObject({
    job,
    step: z.int().min(1, say`is less than 1`).describe(say`Its order in the job.`),
    otherwise: z
      .record(z.string().max(60), z.unknown())
      .optional()
      .describe(say`What differs from the plan, such as measured losses: fields of the step's act.`),
    done_by: z.string().trim().max(80).optional().describe(say`Who did it; whoever enters it, where left out.`),
    notes: z.string().trim().max(2000).optional(),
    skip: z.boolean().optional().describe(say`It is left out.`),
  }),
  plan: (context, asked) => planStep(context, asked, actOf(context)),
});

export const jobAbandon = defineWrite({
  name: "job.abandon",
  help: say`Gives a job up: what it had only planned goes, what was done stays.`,
  input: z.strictObject({ job, why: z.string().trim().max(200).optional().describe(say`Why it is given up.`) }),
  plan: planAbandon,
});

export const jobShow = defineRead({
  name: "job.show",
  help: say`A job with its steps, what it plans, which other jobs want the same, and whether its plan still holds.`,
  input: z.strictObject({ job }),
  run: ({ reader, today }, asked) => jobOf(reader, asked.job, today),
});

export const jobTemporary = defineRead({
  name: "job.temporary",
  help: say`The temporary repairs of a cable that still lie over the ground: which job laid what, by which day it is to be replaced, and whether a lasting repair is planned.`,
  input: z.strictObject({ cable: z.union([address, z.int().min(1)]).describe(say`The cable, by its tag or id.`) }),
  run: ({ reader, today }, { cable }) => temporaryLeft(reader, cable, today),
});

export const jobList = defineRead({
  name: "job.list",
  help: say`The jobs that are not ended, each with how many of its steps are open.`,
  input: z.strictObject({}),
  run: ({ reader }) => jobsOnRecord(reader),
});

export const jobPacket = defineRead({
  name: "job.packet",
  help: say`What a crew takes along for a job: cautions, situation, owners with how to reach them, places, steps, and a splice sheet for each tray.`,
  input: z.strictObject({ job }),
  run: ({ reader, today }, asked) => packetOf(reader, asked.job, today),
});

export const jobPrint = defineRead({
  name: "job.print",
  help: say`A job's packet as a document to be printed.`,
  input: z.strictObject({ job }),
  run: async ({ reader, today }, asked) => {
    const [last] = await reader.rows<{ id: number | null }>("select max(id) as id from change_set");
    const packet = await packetOf(reader, asked.job, today);
    const lines: Block[] = [];
    if (packet.situations.length === 0)
      for (const { id } of packet.worked)
        lines.push(...courseBlocks(await cableSheet(reader, id, today), await lengthUnit(reader)));
    lines.push(...packet.openings.flatMap((one) => openingBlocks(one, inkOf)));
    const holes = await holePictures(reader, entered(packet), new Set(packet.worked.map(({ tag }) => tag)));
    const ground = await groundBlocks(reader, groundOf(packet), today);
    return packetDocument(packet, last?.id ?? null, null, { lines, ground, holes });
  },
});
