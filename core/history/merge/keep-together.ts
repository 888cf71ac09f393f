/** What they enter may refer to what was deleted here, and what they deleted may carry what was entered here. */
import type { AnyRow, KindName } from "../../model/dictionary.ts";
import { REFERENCES, SQL, SUBJECT } from "../../store/relations.ts";
import { goesAlong, resting } from "../../store/resting.ts";
import { keyOf } from "./conflicts.ts";
import type { Step } from "./draft.ts";
import { bringBack, type Merging } from "./merging.ts";

interface Mention {
  readonly field: string;
  readonly to: KindName;
  readonly target: number;
  readonly goes: boolean;
}

const WHOLE = { field: null, before: null, ours: null, theirs: null } as const;

export async function keepTogether(merging: Merging): Promise<void> {
  // Each round settles at least one mention, and each change has only so many.
  while ((await refersToGone(merging)) || (await restsOnGone(merging)));
}

/** Answers whether anything was altered. */
async function refersToGone(merging: Merging): Promise<boolean> {
  const { ours, draft, conflicts, leftOut } = merging;
  const asked = new Map<KindName, Set<number>>();
  const mentions: { step: Exclude<Step, { op: "delete" }>; mention: Mention }[] = [];
  for (const step of draft.steps()) {
    if (step.op === "delete") continue;
    for (const mention of mentionsOf(step)) {
      const { to, target } = mention;
      const other = draft.get(to, target);
      if (other && other.op !== "delete") continue;
      mentions.push({ step, mention });
      asked.set(to, (asked.get(to) ?? new Set()).add(target));
    }
  }
  const there = new Map<KindName, Set<number>>();
  for (const [kind, ids] of asked) {
    const rows = await ours.rows<{ id: number }>(SQL[kind].present, [JSON.stringify([...ids])]);
    there.set(kind, new Set(rows.map(({ id }) => id).filter((id) => draft.get(kind, id)?.op !== "delete")));
  }
  let altered = false;
  for (const { step, mention } of mentions) {
    const { field, to, target, goes } = mention;
    if (there.get(to)?.has(target) || draft.get(to, target)?.op === "insert") continue;
    altered = true;
    const deletedHere = merging.ourNets.get(to)?.get(target)?.op === "delete";
    // What is new has its id from us only when the merge is carried out; a choice names it by theirs.
    const their_id = merging.ids.theirs(step.kind, step.id);
    const about = { why: "refers_to_deleted", kind: step.kind, id: step.id, their_id, ...WHOLE } as const;
    if (deletedHere && conflicts.decide(about) === "theirs") {
      if (await bringBack(merging, to, target)) continue;
    }
    leftOut.add({
      key: deletedHere ? keyOf(about) : leftOut.keyOf(to, target),
      kind: step.kind,
      id: step.id,
      field: step.op === "insert" && goes ? null : field,
      isNew: step.op === "insert",
      target: { kind: to, id: target, why: deletedHere ? "deleted_here" : "left_out" },
    });
    // Without what it must refer to it can't be; otherwise it only loses the mention.
    if (step.op === "update") {
      delete step.values[field];
      const pair = SUBJECT[step.kind];
      if (field === pair?.field) delete step.values[pair.kindField];
    } else if (goes) draft.drop(step.kind, step.id);
    else step.values[field] = null;
  }
  return altered;
}

function mentionsOf(step: Exclude<Step, { op: "delete" }>): Mention[] {
  const { kind, values } = step;
  const found = REFERENCES[kind].flatMap(({ field, to }): Mention[] => {
    const target = values[field];
    return typeof target === "number" ? [{ field, to, target, goes: goesAlong({ kind, field }) }] : [];
  });
  const pair = SUBJECT[kind];
  const target = pair ? values[pair.field] : null;
  const to = pair ? values[pair.kindField] : null;
  if (pair && typeof target === "number" && typeof to === "string")
    found.push({ field: pair.field, to: to as KindName, target, goes: true });
  return found;
}

/** What stays here and refers to what they deleted. */
async function restsOnGone({ ours, draft, conflicts, giveWay }: Merging): Promise<boolean> {
  const gone = new Map<KindName, number[]>();
  for (const { op, kind, id } of draft.steps()) if (op === "delete") gone.set(kind, [...(gone.get(kind) ?? []), id]);
  let altered = false;
  for (const [to, ids] of gone) {
    const found = await resting(ours, new Map([[to, ids]]), (kind, id, field) => {
      const step = draft.get(kind, id);
      return step?.op === "delete" || (step !== undefined && field in step.values);
    });
    for (const { kind, field, ids: referrers, goes } of found) {
      const rows = await ours.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(referrers)]);
      for (const row of rows) {
        altered = true;
        const target = row[field] as number;
        const isGiven = giveWay.has(`${to} ${target}`);
        if (!isGiven && conflicts.decide({ why: "rests_here", kind: to, id: target, ...WHOLE }) === "ours")
          draft.drop(to, target);
        else if (goes && isGiven) {
          giveWay.add(`${kind} ${row.id}`);
          draft.delete(kind, row.id);
        } else if (goes) draft.delete(kind, row.id);
        else draft.update(kind, row.id, { [field]: null });
      }
    }
    if (altered) return true;
  }
  return false;
}
