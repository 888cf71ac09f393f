/** A job given up: what it had planned goes; what was done stays, for it was done. */
import { type ActContext, dayOf, PlanDraft } from "../act/context.ts";
import { KINDS, type KindName } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { closureOf, removal } from "../store/resting.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { refuseEnded } from "./do-step.ts";
import { leftOut } from "./left-out.ts";
import { listed } from "./mend-facts.ts";
import { type Job, type JobStep, jobNamed } from "./stored.ts";

export interface Abandoned {
  /** Planned records that go. */
  readonly removed: number;
  /** Steps that were done, and whose records stay. */
  readonly stay: readonly string[];
}

export async function planAbandon(
  context: ActContext,
  { job: asked, why }: { readonly job: string | number; readonly why?: string | undefined },
): Promise<Plan<Abandoned>> {
  const { reader } = context;
  const job = await jobNamed(reader, asked);
  refuseEnded(job);
  const draft = new PlanDraft(context);
  const planned = await plannedBy(reader, job.ref.id);
  let removed = 0;
  if (planned.size > 0) {
    const closure = await closureOf(reader, planned);
    for (const change of removal(closure)) draft.changes.push(change);
    removed = [...closure.goes.values()].reduce((sum, ids) => sum + ids.size, 0);
  }
  const reason = [job.row.reason, why ? say`Given up: ${why.trim()}` : ""].filter(Boolean).join(". ").slice(0, 400);
  draft.update("job", job.ref.id, { state: "abandoned", ends_on: dayOf(context), ...(why ? { reason } : {}) });
  const done = job.steps.filter(({ state }) => state === "done");
  if (done.length > 0) {
    draft.notice(
      plural(
        done.length,
        "One step was done, and what it recorded stays: the plant has changed.",
        "{0} steps were done, and what they recorded stays: the plant has changed.",
      ),
    );
  }
  for (const words of await leftBy(context, job)) draft.notice(words);
  return draft.plan(say`Give up job ${job.ref.tag}`, { removed, stay: done.map(({ words }) => words) });
}

/** What a mend that is given up half-way leaves: circuits that stay down, and a sheath whose ends were brought apart. */
async function leftBy({ reader, today }: ActContext, { ref, steps }: Job): Promise<string[]> {
  const undone = steps.map((step): JobStep => (step.state === "open" ? { ...step, state: "skipped" } : step));
  const { down } = await leftOut(reader, undone, today);
  const lost = steps.flatMap(({ act, input, state }) =>
    act === "closure.lost" && state === "done" ? [(input as { readonly closure: string }).closure] : [],
  );
  const apart = steps.flatMap(({ act, input, state }) =>
    act === "cable.move_cut" && state === "done" && lost.length === 0 ? [(input as MoveCut).cable] : [],
  );
  const replaced = steps.some(({ act, input, state }) => state === "done" && isReplaced(act, input));
  const joined = steps.every(({ act, state }) => act?.startsWith("splice.") !== true || state !== "open");
  return [
    ...(down.length > 0
      ? [
          plural(
            down.length,
            "{1} stays down: its glass ends at a cut.",
            "{1} stay down: their glass ends at a cut.",
            listed(down.map(({ tag }) => tag)),
          ),
        ]
      : []),
    ...(apart.length > 0 && !joined
      ? [
          say`The ends of ${listed([...new Set(apart)])} were brought to where they are to be spliced, and no other mend is planned from there: undo this, and carry ${ref.tag} on.`,
        ]
      : []),
    ...(lost.length > 0 && !joined
      ? [
          replaced
            ? say`New cable has begun to take the place of sheaths that came into ${listed(lost)}, and no other job is planned from there: undo this, and carry ${ref.tag} on.`
            : say`The loss of ${listed(lost)} is on record: ask how it is mended, and another job is planned from there.`,
        ]
      : []),
  ];
}

interface MoveCut {
  readonly cable: string;
  readonly left_to?: unknown;
  readonly right_to?: unknown;
}

/** A sheath doesn't end any more where it came into a wrecked case. */
const isReplaced = (act: string | null, input: unknown): boolean =>
  act === "cable.sever" ||
  act === "cable.replace" ||
  act === "cable.replace_end" ||
  (act === "cable.move_cut" && ((input as MoveCut).left_to ?? (input as MoveCut).right_to) !== undefined);

/** Records that are still only planned by a job: things by their life, circuits by their state. */
export async function plannedBy(reader: Reader, job_id: number): Promise<Map<KindName, number[]>> {
  const found = new Map<KindName, number[]>();
  for (const kind of Object.keys(KINDS) as KindName[]) {
    const { fields } = KINDS[kind];
    if (!("life_job_id" in fields)) continue;
    const rows = await reader.rows<{ id: number }>(
      `select id from "${kind}" where life_job_id = ? and life = 'planned' order by id`,
      [job_id],
    );
    if (rows.length > 0)
      found.set(
        kind,
        rows.map(({ id }) => id),
      );
  }
  const circuits = await reader.rows<{ id: number }>(
    "select id from circuit where job_id = ? and state = 'planned' order by id",
    [job_id],
  );
  if (circuits.length > 0)
    found.set(
      "circuit",
      circuits.map(({ id }) => id),
    );
  return found;
}
