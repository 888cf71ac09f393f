/**
 * How far the other file was seen by an earlier merge that is in effect. What it said up to then was settled: it is neither
 * taken nor asked again, whatever became of it here since; what it says otherwise since is.
 */
import type { KindName } from "../../model/dictionary.ts";
import type { MergeSeenTable } from "../../schema/database.ts";
import type { Reader } from "../../store/handle.ts";
import { lastStep } from "../../store/stack.ts";
import { lastId } from "../moments.ts";
import { hashOf } from "./ancestor.ts";

/** By kind, the ids of ours that stand for records they entered since both parted. */
export type Pairs = ReadonlyMap<KindName, ReadonlyMap<number, number>>;

export interface Seen {
  /** The merge. */
  readonly change_set: number;
  /** The last change set of theirs that it saw. */
  readonly their_id: number;
  readonly pairs: Pairs;
}

/** The latest merge of this very file, or of one that went on from it; null where there is none. */
export async function seenBefore(ours: Reader, theirs: Reader, ancestor: number): Promise<Seen | null> {
  const rows = await ours.rows<MergeSeenTable>(
    `SELECT change_set_id, their_id, their_hash, pairs FROM merge_seen WHERE change_set_id > ? AND their_id > ?
     ORDER BY their_id DESC, change_set_id DESC`,
    [ancestor, ancestor],
  );
  for (const { change_set_id, their_id, their_hash, pairs } of rows) {
    if ((await hashOf(theirs, their_id)) !== their_hash) continue;
    if ((await lastStep(ours, change_set_id)).verb === "undo") continue;
    return { change_set: change_set_id, their_id, pairs: pairsFrom(pairs) };
  }
  return null;
}

/** What a merge keeps of how far it saw them. */
export async function seenNow(theirs: Reader, pairs: Pairs): Promise<Omit<MergeSeenTable, "change_set_id">> {
  const their_id = await lastId(theirs);
  return { their_id, their_hash: (await hashOf(theirs, their_id)) ?? "", pairs: JSON.stringify(runsOf(pairs)) };
}

type Run = [theirs: number, ours: number, count: number];

function runsOf(pairs: Pairs): Partial<Record<KindName, Run[]>> {
  const found: Partial<Record<KindName, Run[]>> = {};
  for (const [kind, own] of pairs) {
    const runs: Run[] = [];
    for (const [theirs, ours] of [...own].sort(([a], [b]) => a - b)) {
      const last = runs.at(-1);
      if (last && theirs === last[0] + last[2] && ours === last[1] + last[2]) last[2]++;
      else runs.push([theirs, ours, 1]);
    }
    if (runs.length > 0) found[kind] = runs;
  }
  return found;
}

function pairsFrom(text: string): Pairs {
  const pairs = new Map<KindName, Map<number, number>>();
  for (const [kind, runs] of Object.entries(JSON.parse(text) as Record<KindName, Run[]>)) {
    const own = new Map<number, number>();
    for (const [theirs, ours, count] of runs) for (let i = 0; i < count; i++) own.set(theirs + i, ours + i);
    pairs.set(kind as KindName, own);
  }
  return pairs;
}
