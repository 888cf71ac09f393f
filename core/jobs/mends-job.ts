/**
 * All cables that are cut at once, mended by one job: the one with the most at stake first, every cut on record before
 * anything is moved, and the splices of all in the order of the circuits that wait for them. One change, undone as one.
 */
import { type ActContext, PlanDraft } from "../act/context.ts";
import { findCuts, type SeveralAsked } from "../repair/find-cuts.ts";
import { laidTogether } from "../repair/laid-together.ts";
import { mendTold } from "../repair/mend.ts";
import { seversAll } from "../repair/plan.ts";
import { byStake, questionOf } from "../repair/several.ts";
import { type Chosen, choosePlans, type Wanting } from "../repair/several-choose.ts";
import { theirsOf } from "../repair/theirs.ts";
import { Refusal, refuse } from "../result.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { casesOf } from "./case-glass.ts";
import { fetchTogether } from "./fetch-together.ts";
import { draftMend, keeping, type PlannedHole, plannedHole } from "./mend-draft.ts";
import { legUnknown, type MendJob } from "./mend-job.ts";
import type { LeftOut } from "./situation.ts";
import type { PlannedStep } from "./step.ts";
import { draftJob, draftSteps } from "./stored.ts";

export interface MendsJobAsked {
  readonly cuts: SeveralAsked & { readonly lost_from_m: number | null; readonly lost_to_m: number | null };
  /** For cables of which another plan than the best is wanted. */
  readonly plans: readonly { readonly cable: string; readonly plan: number }[];
  /** Strands that still shine are severed where the way of their cable does so. */
  readonly sever?: boolean | undefined;
  readonly job: string;
  readonly tray_capacity: number;
  readonly people?: string | undefined;
  readonly starts_on?: string | undefined;
}

export interface MendsJob extends MendJob {
  /** The cables it mends, the one with the most at stake first, each with the number of its plan. */
  readonly cables: readonly { readonly cable: RecordRef; readonly plan: number }[];
}

/** Refuses as `findCuts` does; and where no cable of them can be planned. Cables that can't be are told of. */
export async function planMendsJob(context: ActContext, asked: MendsJobAsked): Promise<Plan<MendsJob>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { cuts, what, left_out } = await toldCuts(draft, asked);
  const wanted = new Map<number, number>();
  for (const { cable, plan } of asked.plans) {
    const { id, tag } = await resolveOne(reader, cable, { kinds: ["cable"], field: "plans" });
    if (!cuts.some(({ told }) => told.answer.cable.id === id)) {
      const reason = say`is not among the cables cut with ${what}`;
      refuse("bad_input", `${tag} ${reason}.`, [{ field: "plans", record: tag, reason }]);
    }
    wanted.set(id, plan);
  }
  const case_m = cuts[0]?.told.reckoned.limits.get("repair.case_room_m")?.value ?? 0;
  const chosen = await choosePlans(reader, cuts, wanted, case_m);
  for (const { why } of chosen) if (why !== null) draft.notice(why);
  const job_id = await draftJob(draft, {
    tag: asked.job,
    reason: say`Mend of ${what}: ${cuts.map(({ told }) => told.answer.cable.tag).join(", ")}`,
    people: asked.people,
    starts_on: asked.starts_on,
  });
  const parts = await draftAll(draft, asked, chosen, job_id);
  const fetched = await fetchTogether(
    reader,
    parts.flatMap((part) => part.filter(({ fetch }) => fetch)),
  );
  const steps = withLeftOut(together(parts, chosen.some(divideLate), fetched), left_out);
  await draftSteps(draft, job_id, steps);
  if (chosen.some(({ plan }) => plan.to_prove))
    draft.notice(say`Some plans rest on what nobody has proven: look before a cable is cut.`);
  return draft.plan(say`Plan job ${asked.job}, a mend of ${what}`, {
    job: { kind: "job", id: job_id, tag: asked.job },
    steps: steps.map(({ words }) => words),
    cables: chosen.map(({ told, nth }) => ({ cable: told.answer.cable, plan: nth })),
  });
}

/** The first step keeps them for the paper: whoever stands at the hole sees more cables cut than the job has. */
const withLeftOut = (steps: readonly PlannedStep[], left_out: readonly LeftOut[]): PlannedStep[] =>
  steps.map((step, index) => (index === 0 ? { ...step, input: { ...(step.input as object), left_out } } : step));

interface ToldCuts {
  readonly cuts: Wanting[];
  readonly what: string;
  readonly left_out: readonly LeftOut[];
}

async function toldCuts(draft: PlanDraft, { cuts: asked }: MendsJobAsked): Promise<ToldCuts> {
  const { reader, today } = draft.context;
  const { of, between, cuts, refused, doubtful, unknown } = await findCuts(reader, asked);
  const [from, to] = between;
  const what = from && to ? say`${from.tag} to ${to.tag}` : of.map(({ tag }) => tag).join(say` and `);
  const lacking: LeftOut[] = [];
  for (const { cable, reason } of refused)
    lacking.push({ cable, reason: (await theirsOf(reader, cable))?.words ?? reason });
  const told: Wanting[] = [];
  for (const cut of cuts) {
    try {
      const question = await questionOf(reader, cut, asked);
      const one = await mendTold(reader, question, { today, held: null });
      const { theirs } = one.reckoned;
      const in_which = legUnknown(one.reckoned);
      if (theirs) lacking.push({ cable: cut.cable, reason: theirs.words });
      else if (in_which !== null) lacking.push({ cable: cut.cable, reason: say`it ${in_which}` });
      else told.push({ told: one, question, turned: cut.turned });
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      lacking.push({ cable: cut.cable, reason: error.failure.message });
    }
  }
  if (told.length === 0) {
    const reason =
      lacking.length === 0 ? say`holds no cable on record` : say`holds no cable that a mend can be planned for`;
    refuse("not_possible", `${what} ${reason}.`, [
      { field: "of", record: what, reason },
      ...lacking.map(({ cable, reason: why }) => ({ field: "of", record: cable.tag, reason: why })),
    ]);
  }
  for (const { cable, reason } of lacking) draft.notice(say`${cable.tag} is not in this job: ${reason}`);
  for (const words of unknown) draft.notice(words);
  lacking.push(...doubtful.map((one) => ({ ...one, doubtful: true })));
  return { cuts: told.sort((a, b) => byStake(a.told.answer, b.told.answer)), what, left_out: lacking };
}

/**
 * A cable that stays in the way beside its new one, or is cut there on record already, gets a further stop when the way is
 * divided: what comes later names its stops by their order.
 */
const divideLate = ({ plan, told: { reckoned } }: Chosen): boolean =>
  plan.kind === "new_cable" || reckoned.waiting !== null;

/** The steps of each cable; cables that are cut in one way and spliced at the cut share one hole there. */
async function draftAll(
  draft: PlanDraft,
  { job, tray_capacity, sever }: MendsJobAsked,
  chosen: readonly Chosen[],
  job_id: number,
): Promise<PlannedStep[][]> {
  const parts: PlannedStep[][] = [];
  const dug = new Map<number, PlannedHole>();
  for (const { plan, way } of chosen) {
    if (plan.new_holes > 0 && !dug.has(way)) dug.set(way, await plannedHole(draft, `${job}-H${dug.size + 1}`, job_id));
  }
  const late = chosen.some(divideLate);
  const laid = await laidTogether(
    draft.context.reader,
    chosen.map(({ plan, told: { reckoned } }) => ({ plan, reckoned })),
  );
  let cases = 0;
  for (const [index, { told, question, plan, nth, way }] of chosen.entries()) {
    const drafted = await draftMend(
      draft,
      {
        question,
        plan: nth,
        job,
        hole: dug.get(way)?.tag,
        shared_hole: dug.get(way),
        divided_late: late,
        // Where strands can run on, they do.
        sever: sever === true && seversAll(plan),
        cases: await casesOf(draft.context.reader, told.reckoned, plan, (point) => `${job}-C${cases + point + 1}`),
        piece: `${job}-P${index + 1}`,
        tray_capacity,
        laid: laid[index],
      },
      told.reckoned,
      plan,
      job_id,
    );
    cases += plan.points.length;
    parts.push(keeping(drafted, question, plan, nth));
  }
  return parts;
}

const JOINTS = ["splice.close", "splice.range", "cable.replace"];
const isJoint = ({ act }: PlannedStep): boolean => act !== null && JOINTS.includes(act);

/**
 * Steps of several cables as one list: what is looked at, what is fetched, and every cut on record; the holes; what clears the way; then all joints by the
 * urgency of what waits for them, each cable hung, pulled and laid before the first of its own, or where a hole divides the
 * way all of them before that; what remains, cable by cable. What several say alike is done once.
 * @param late the way is divided last of all
 * @param fetched stands for what each of them has to fetch
 */
export function together(
  parts: readonly (readonly PlannedStep[])[],
  late: boolean,
  fetched: readonly PlannedStep[] = [],
): PlannedStep[] {
  const looks: PlannedStep[] = [];
  const heads: PlannedStep[] = [];
  const holes: PlannedStep[] = [];
  const middles: PlannedStep[][] = [];
  const joints: { readonly step: PlannedStep; readonly part: number }[] = [];
  const tails: PlannedStep[] = [];
  const clears: PlannedStep[] = [];
  const divided: PlannedStep[] = [];
  for (const [index, part] of parts.entries()) {
    divided.push(...part.filter(({ act }) => act === "pathway.divide"));
    const dig = part.findIndex(isDig);
    // The ground is marked before it is opened.
    const dug = dig < 0 ? [] : part.slice(dig - 1, dig + 1);
    holes.push(...dug);
    looks.push(...part.filter((step) => step.looks));
    const own = part.filter(
      (step) => step.act !== "pathway.divide" && !step.looks && !step.fetch && !dug.includes(step),
    );
    const head = own.findLastIndex(({ act }) => act === "cable.sever") + 1;
    const first = own.findIndex(isJoint);
    const end = own.findLastIndex(isJoint) + 1;
    heads.push(...own.slice(0, head));
    const middle = own.slice(head, first < 0 ? undefined : first);
    clears.push(...middle.filter((step) => step.clears !== undefined));
    middles.push(middle.filter((step) => step.clears === undefined));
    for (const step of own.slice(first < 0 ? own.length : first, first < 0 ? undefined : end))
      joints.push({ step, part: index });
    tails.push(...own.slice(first < 0 ? own.length : end));
  }
  joints.sort((a, b) => (a.step.rank ?? 0) - (b.step.rank ?? 0));
  // The break is safe, empty of what is dead and whole before anything new goes into it.
  const begin = [
    ...looks,
    ...fetched,
    ...heads,
    ...holes,
    ...clears.toSorted((a, b) => (a.clears ?? 0) - (b.clears ?? 0)),
  ];
  // A way is divided with every cable in it where it will lie: its stops are named by their order from then on.
  if (divided.length > 0 && !late)
    return once([...begin, ...middles.flat(), ...divided, ...joints.map(({ step }) => step), ...tails]);
  // Else nothing is spliced later than it could be: each cable is laid when the first of its joints has its turn.
  const laid = new Set<number>();
  const work = joints.flatMap(({ step, part }) => {
    const before = laid.has(part) ? [] : (middles[part] ?? []);
    laid.add(part);
    return [...before, step];
  });
  const rest = middles.flatMap((own, part) => (laid.has(part) ? [] : own));
  return once([...begin, ...work, ...rest, ...tails, ...divided]);
}

const isDig = ({ act, input }: PlannedStep): boolean =>
  act === "record.edit" && (input as { readonly kind?: string } | null)?.kind === "space";

/** A hole is dug once, a pipe mended once, a way divided once; what keeps something of its own cable stays. */
function once(steps: readonly PlannedStep[]): PlannedStep[] {
  const seen = new Set<string>();
  return steps.filter(({ act, input, words }) => {
    if (act === null && input !== null && "situation" in Object(input)) return true;
    const divided = input as { readonly pathway?: string; readonly at?: string } | null;
    const key =
      act === null
        ? words
        : act === "pathway.divide"
          ? `${act} ${divided?.pathway} ${divided?.at}`
          : `${act} ${JSON.stringify(input)}`;
    return seen.size !== seen.add(key).size;
  });
}
