/** Two files of the same plant brought together. */
import { z } from "zod";
import type { Choice, Choices } from "../../history/merge/conflicts.ts";
import { type ConflictView, type MergePlan, mergeSummary, planMerge } from "../../history/merge/plan.ts";
import { type Problem, Refusal, refuse } from "../../result.ts";
import type { Reader } from "../../store/handle.ts";
import type { Written } from "../../store/written.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineLong, type LongContext } from "../define.ts";

const take = z.enum(["ours", "theirs", "both"]);
const tag = z.string().trim().min(1, say`is empty`).max(200).optional();
const input = {
  file: z.string().trim().min(1, say`a file is needed`).max(4000).describe(say`The other file of the same plant.`),
  choices: z
    .array(z.strictObject({ key: z.string().min(1).max(200), take, tag }))
    .max(100_000)
    .default([])
    .describe(
      say`What to take where both say something else, by the key of the conflict; \`both\` of two records that want one tag, with the tag that theirs gets.`,
    ),
  rest: z
    .enum(["ours", "theirs"])
    .optional()
    .describe(say`What to take in every conflict that isn't chosen one by one.`),
};

interface Given {
  readonly choices: readonly ({ readonly key: string } & Choice)[];
  readonly rest?: "ours" | "theirs" | undefined;
}

const choicesOf = (given: Given): Choices => ({
  of: new Map(given.choices.map(({ key, take, tag }) => [key, { take, tag }])),
  rest: given.rest ?? null,
});

/** Both files in one moment each. */
async function withOther<T>(
  { others }: LongContext,
  path: string,
  work: (theirs: Reader, name: string) => Promise<T>,
): Promise<T> {
  const other = await others.open(path);
  try {
    return await other.store.read((theirs) => work(theirs, other.name));
  } finally {
    await other.close();
  }
}

export interface MergeComparison extends Omit<MergePlan, "changes"> {
  /** What would be written, what stands here being kept in every conflict that isn't chosen. */
  readonly would: Written<null> | null;
  /** Why it can't be written so; empty where it can. */
  readonly hindrances: readonly Problem[];
  /** Conflicts that nothing was chosen for. */
  readonly open: number;
}

export const mergeCompare = defineLong({
  name: "merge.compare",
  help: say`Compares another file of the same plant with this one, record by record since both parted: what would be taken, and where both say something else. Nothing is written.`,
  writes: false,
  input: z.strictObject(input),
  run: (context, given): Promise<MergeComparison> =>
    withOther(context, given.file, async (theirs, name) => {
      const { reader: ours, gateway } = context;
      const newIds: LongNewIds = (kind, count) => gateway.newIds(ours, kind, count);
      const { changes, ...plan } = (await planMerge({ ours, theirs, newIds }, choicesOf(given), name)).plan;
      let would: Written<null> | null = null;
      let hindrances: readonly Problem[] = [];
      try {
        would = await gateway.rehearse(ours, { summary: plan.summary, changes, answer: null });
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        const { problems, message } = error.failure;
        hindrances = problems.length > 0 ? problems : [{ reason: message }];
      }
      return { ...plan, would, hindrances, open: openOnes(plan.conflicts).length };
    }),
});

type LongNewIds = Parameters<typeof planMerge>[0]["newIds"];

const openOnes = (conflicts: readonly ConflictView[]) =>
  conflicts.filter(({ take, offered }) => take === null && !offered);

export const mergeApply = defineLong({
  name: "merge.apply",
  help: say`Takes from another file of the same plant what it knows since both parted, as one change that can be undone. Every conflict must be chosen, and what was chosen isn't asked again until they change it.`,
  writes: true,
  input: z.strictObject({
    ...input,
    seen: z
      .string()
      .max(200)
      .optional()
      .describe(say`The moment that was compared; refuses when either file is another since.`),
  }),
  run: (context, given) =>
    withOther(context, given.file, async (theirs, name) => {
      const { gateway, occasion, reader } = context;
      return gateway.stream("merge.apply", await mergeSummary(reader, theirs, name), occasion, async (bulk) => {
        const newIds: LongNewIds = (kind, count) => gateway.newIds(bulk.reader, kind, count);
        const planned = await planMerge({ ours: bulk.reader, theirs, newIds }, choicesOf(given), name);
        const { changes, ...plan } = planned.plan;
        if (given.seen !== undefined && given.seen !== plan.seen)
          refuse("stale", say`This file or ${name} changed since they were compared. Compare them again.`);
        refuseIdle(plan.idle);
        refuseOpen(openOnes(plan.conflicts));
        await bulk.apply(changes);
        // That what stands here is kept is settled by the merge too, also where nothing else comes of it.
        if (changes.length > 0 || plan.conflicts.some(({ take }) => take !== null)) await bulk.keepSeen(planned.seen);
        await bringContents(bulk.reader, theirs, (hash, bytes) => bulk.addContent(hash, bytes));
        return plan;
      });
    }),
});

/** A choice that fits no conflict was made of another moment, or misspelt. */
function refuseIdle(idle: readonly string[]): void {
  const problems = idle.map((key): Problem => ({ record: key, reason: say`is not a conflict` }));
  if (idle[0] !== undefined) refuse("not_found", say`There is no conflict named ${idle[0]}.`, problems);
}

function refuseOpen(open: readonly ConflictView[]): void {
  if (open.length === 0) return;
  const problems = open.slice(0, 500).map((one): Problem => {
    const said =
      one.field === null ? one.words : say`is ${one.ours ?? say`empty`} here and ${one.theirs ?? say`empty`} there`;
    return { record: one.record, ...(one.label === null ? {} : { field: one.label }), reason: said };
  });
  refuse(
    "not_possible",
    plural(
      open.length,
      "{0} conflict is open: both files say something else. Choose what to take. Nothing was changed.",
      "{0} conflicts are open: both files say something else. Choose what to take. Nothing was changed.",
    ),
    problems,
    { conflicts: open },
  );
}

/** Contents of attachments that are on record here now and only kept there. */
async function bringContents(
  ours: Reader,
  theirs: Reader,
  add: (hash: string, bytes: Uint8Array) => Promise<void>,
): Promise<void> {
  const lacking = await ours.rows<{ hash: string }>(
    "SELECT DISTINCT content_hash AS hash FROM attachment WHERE content_hash NOT IN (SELECT hash FROM content)",
  );
  for (const { hash } of lacking) {
    const [content] = await theirs.rows<{ bytes: Uint8Array }>("SELECT bytes FROM content WHERE hash = ?", [hash]);
    if (content) await add(hash, content.bytes);
  }
}
