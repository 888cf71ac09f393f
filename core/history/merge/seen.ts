/**
 * What an earlier merge that is in effect has settled. A merge of the other file here: what it said up to then is neither
 * taken nor asked again, whatever became of it here since; what it says otherwise since is. A merge of this file there: what
 * it made of both is taken without a question, as long as both still say what they said then.
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
  /** The merge: a change set of ours, or of theirs where they merged this file. */
  readonly change_set: number;
  /** The last change set of theirs that is settled. */
  readonly their_id: number;
  /** Where they merged this file, the last change set of ours that they saw; else null. */
  readonly our_id: number | null;
  readonly pairs: Pairs;
  /** After which of their change sets nothing of theirs was ever taken here. */
  readonly taken_to: number;
}

type Merge = Pick<Seen, "change_set" | "their_id" | "pairs">;

/** Of both the one that knows more of the two files; where neither knows what the other settled, the merge here. */
export async function seenBefore(ours: Reader, theirs: Reader, ancestor: number): Promise<Seen | null> {
  const here = await lastMerge(ours, theirs, ancestor);
  const there = await lastMerge(theirs, ours, ancestor);
  if (!there || (here && here.change_set > there.their_id) || (await takenBack(ours, theirs, ancestor, there.their_id)))
    return here && { ...here, our_id: null, taken_to: here.their_id };
  return {
    change_set: there.change_set,
    their_id: there.change_set,
    our_id: there.their_id,
    pairs: turned(there.pairs),
    taken_to: here?.their_id ?? ancestor,
  };
}

/** The latest merge of this very file, or of one that went on from it; null where there is none. */
async function lastMerge(ours: Reader, theirs: Reader, ancestor: number): Promise<Merge | null> {
  for (const { change_set_id, their_id, pairs } of await mergesOf(ours, theirs, ancestor)) {
    if ((await lastStep(ours, change_set_id)).verb === "undo") continue;
    return { change_set: change_set_id, their_id, pairs: pairsFrom(pairs) };
  }
  return null;
}

async function mergesOf(ours: Reader, theirs: Reader, ancestor: number): Promise<MergeSeenTable[]> {
  const rows = await ours.rows<MergeSeenTable>(
    `SELECT change_set_id, their_id, their_hash, pairs FROM merge_seen WHERE change_set_id > ? AND their_id > ?
     ORDER BY their_id DESC, change_set_id DESC`,
    [ancestor, ancestor],
  );
  const found: MergeSeenTable[] = [];
  for (const row of rows) if ((await hashOf(theirs, row.their_id)) === row.their_hash) found.push(row);
  return found;
}

/** Whether a merge of theirs that they saw here is undone since: who undoes it wants to be asked anew. */
async function takenBack(ours: Reader, theirs: Reader, ancestor: number, seen: number): Promise<boolean> {
  for (const { change_set_id } of await mergesOf(ours, theirs, ancestor)) {
    if (change_set_id > seen) continue;
    const { id, verb } = await lastStep(ours, change_set_id);
    if (verb === "undo" && id > seen) return true;
  }
  return false;
}

const turned = (pairs: Pairs): Pairs =>
  new Map([...pairs].map(([kind, own]) => [kind, new Map([...own].map(([a, b]) => [b, a]))]));

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
