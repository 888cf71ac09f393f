/**
 * Which change sets are in effect. Each change set that did something (a root) may have been undone and redone any
 * number of times; the last of these decides.
 */
import { refuse } from "../result.ts";
import type { ChangeSetTable } from "../schema/database.ts";
import { say } from "../words/say.ts";
import type { Reader } from "./handle.ts";

type Step = Pick<ChangeSetTable, "id" | "verb" | "target_id">;
export type Head = Omit<ChangeSetTable, "hash">;

const rootOf = (step: Step): number => step.target_id ?? step.id;
const PAGE = 500;

/** Change sets, the newest first. */
async function* backwards(reader: Reader): AsyncGenerator<Step> {
  for (let before = Number.MAX_SAFE_INTEGER; ; ) {
    const page = await reader.rows<Step>(
      "SELECT id, verb, target_id FROM change_set WHERE id < ? ORDER BY id DESC LIMIT ?",
      [before, PAGE],
    );
    yield* page;
    const last = page.at(-1);
    if (!last || page.length < PAGE) return;
    before = last.id;
  }
}

/** The root that undo takes back next: the last applied of those in effect. */
export async function nextUndo(reader: Reader): Promise<number | null> {
  const seen = new Set<number>();
  for await (const step of backwards(reader)) {
    const root = rootOf(step);
    if (seen.has(root)) continue;
    if (step.verb !== "undo") return root;
    seen.add(root);
  }
  return null;
}

/** The root that redo brings back next: the last undone one, as long as nothing new was done since. */
export async function nextRedo(reader: Reader): Promise<number | null> {
  const seen = new Set<number>();
  for await (const step of backwards(reader)) {
    if (step.verb === "do") return null;
    const root = rootOf(step);
    if (seen.has(root)) continue;
    if (step.verb === "undo") return root;
    seen.add(root);
  }
  return null;
}

export async function headOf(reader: Reader, id: number): Promise<Head> {
  const [head] = await reader.rows<Head>(
    `SELECT id, at, author, reason, act, summary, meaning, day, verb, target_id, records FROM change_set WHERE id = ?`,
    [id],
  );
  return head ?? refuse("not_found", say`There is no change ${id} in the history.`);
}

/** The last step that applied or took back a root: `id` is its change set. */
export async function lastStep(reader: Reader, root: number): Promise<Step> {
  const [step] = await reader.rows<Step>(
    "SELECT id, verb, target_id FROM change_set WHERE id = ? OR target_id = ? ORDER BY id DESC LIMIT 1",
    [root, root],
  );
  return step ?? refuse("not_found", say`There is no change ${root} in the history.`);
}

/** Roots other than `root` whose effect is not what it was after change set `since`. */
export async function changedSince(reader: Reader, since: number, root: number): Promise<number[]> {
  const later = await reader.rows<Step>("SELECT id, verb, target_id FROM change_set WHERE id > ? ORDER BY id", [since]);
  // The first step after `since` tells what was before it: an undo takes back what was in effect.
  const was = new Map<number, boolean>();
  const is = new Map<number, boolean>();
  for (const step of later) {
    const other = rootOf(step);
    if (other === root) continue;
    if (!was.has(other)) was.set(other, step.verb === "undo");
    is.set(other, step.verb !== "undo");
  }
  return [...is].filter(([other, inEffect]) => was.get(other) !== inEffect).map(([other]) => other);
}
