/**
 * Two records that want one tag: theirs is left out, or takes the tag and ours gives way, or both stay and theirs gets a tag
 * that somebody gives. A record that both entered under one tag counts as one and the same, unless both are chosen.
 */
import type { KindName, Value } from "../../model/dictionary.ts";
import { UNIQUE_KEY } from "../../store/relations.ts";
import type { KeyClash } from "../../store/unique.ts";
import { clashesOf } from "../same-tags.ts";
import { keyOf, sameTagKey, type Take } from "./conflicts.ts";
import type { Merging } from "./merging.ts";

/**
 * Settles keys that two records would have. Answers whether anything was altered.
 * @param told keys of clashes that were settled already: what clashes again is left to be refused by name
 */
export async function settleTags(merging: Merging, told: Set<string>): Promise<boolean> {
  let altered = false;
  for (const clash of await clashesOf(merging.ours, merging.draft.changes())) {
    const about = `${clash.kind} ${clash.id}`;
    if (told.has(about)) continue;
    told.add(about);
    if (await settle(merging, clash)) altered = true;
  }
  return altered;
}

async function settle(merging: Merging, { kind, id, field, value, holder }: KeyClash): Promise<boolean> {
  const { conflicts, draft, ids } = merging;
  const step = draft.get(kind, id);
  if (!step || step.op === "delete") return false;
  const their_id = step.op === "insert" ? ids.theirs(kind, id) : null;
  // That both are to stay was said of ours, when theirs counted as the same.
  const given = conflicts.said(sameTagKey(`${kind} ${holder}`));
  const tagged = field === "tag";
  const takes: readonly Take[] = tagged ? ["ours", "theirs", "both"] : ["ours", "theirs"];
  const about = { kind, field: null, before: null, ours: value, theirs: value, takes } as const;
  const asked = { why: "same_tag", id, their_id, ...about } as const;
  const { take, tag } =
    given?.take === "both"
      ? conflicts.chosen({ why: "same_tag", id: holder, ...about, takes: ["both"], offered: true })
      : conflicts.chosen(asked);
  if (take === "both") {
    draft.put(kind, id, { tag });
    return true;
  }
  const key = keyOf(asked);
  if (take === "theirs") return giveWay(merging, kind, holder, key);
  const isNew = step.op === "insert";
  merging.leftOut.add({ key, kind, id, field: isNew ? null : field, isNew, target: null });
  if (isNew) draft.drop(kind, id);
  else for (const name of UNIQUE_KEY[kind] ?? []) delete step.values[name];
  return true;
}

/** Ours lets go of the key: what was entered here since is left out, what was renamed here keeps its name of before. */
async function giveWay(merging: Merging, kind: KindName, holder: number, chosen: string): Promise<boolean> {
  const { draft, ourNets } = merging;
  const key = UNIQUE_KEY[kind] ?? [];
  const step = draft.get(kind, holder);
  if (step?.op === "insert") {
    merging.leftOut.add({ key: chosen, kind, id: holder, field: null, isNew: true, target: null });
    draft.drop(kind, holder);
    return true;
  }
  const net = ourNets.get(kind)?.get(holder);
  if (net?.op === "insert") {
    merging.giveWay.add(`${kind} ${holder}`);
    draft.delete(kind, holder);
    return true;
  }
  const before: Record<string, Value> = {};
  if (net?.op === "update") for (const name of key) if (name in net.before) before[name] = net.before[name] ?? null;
  if (Object.keys(before).length === 0) return false;
  draft.update(kind, holder, before);
  return true;
}
