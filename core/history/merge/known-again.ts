/**
 * Records that an earlier merge brought in under a tag that was given then, since another here bears theirs. Their file still
 * has the old tag: they are known again by all they said when they came, the tag aside, so that nobody is asked twice.
 */
import type { KindName } from "../../model/dictionary.ts";
import type { StoredEntry } from "../../store/entries.ts";
import type { Reader } from "../../store/handle.ts";
import { FIELD_NAMES } from "../../store/relations.ts";
import { valuesAt } from "../net.ts";
import { type Entered, keyText, type Values } from "./same-records.ts";
import { isTagged } from "./tagged.ts";

/** Ours that a merge brought in and that stand for one of theirs, the likeliest first; empty where none does. */
export type KnownAgain = (kind: KindName, theirs: Values) => readonly number[];

const besideTag = (kind: KindName): readonly string[] => FIELD_NAMES[kind].filter((field) => field !== "tag");

export async function knownAgain(ours: Reader, ancestor: number, here: Entered, there: Entered): Promise<KnownAgain> {
  const came = new Map<number, Map<KindName, number[]>>();
  const rows = await ours.rows<{ id: number }>(
    "SELECT id FROM change_set WHERE id > ? AND act = 'merge.apply' AND verb = 'do' ORDER BY id",
    [ancestor],
  );
  for (const { id: moment } of rows) {
    const entries = await ours.rows<StoredEntry>(
      "SELECT * FROM change_entry WHERE change_set_id = ? AND op IN ('insert', 'insert_range') ORDER BY seq",
      [moment],
    );
    const own = new Map<KindName, number[]>();
    for (const { kind, record_id, last_id } of entries) {
      if (!isTagged(kind) || !there.has(kind)) continue;
      const ids = own.get(kind) ?? [];
      for (let id = record_id; id <= last_id; id++) if (here.get(kind)?.has(id)) ids.push(id);
      own.set(kind, ids);
    }
    came.set(moment, own);
  }
  const byRest = new Map<KindName, Map<string, number[]>>();
  for (const [moment, own] of came)
    for (const [kind, ids] of own) {
      const theirTags = new Set([...(there.get(kind)?.values() ?? [])].map(({ tag }) => tag));
      const known = byRest.get(kind) ?? new Map<string, number[]>();
      byRest.set(kind, known);
      for (const [id, values] of await valuesAt(ours, kind, ids, moment)) {
        // What they have under that very tag is no renamed one.
        if (theirTags.has(values.tag ?? null)) continue;
        const rest = keyText(besideTag(kind), values);
        known.set(rest, [...(known.get(rest) ?? []), id]);
      }
    }
  return (kind, theirs) => byRest.get(kind)?.get(keyText(besideTag(kind), theirs)) ?? [];
}
