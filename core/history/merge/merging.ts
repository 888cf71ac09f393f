/** What the steps of a merge share. */
import type { AnyRow, KindName } from "../../model/dictionary.ts";
import type { Reader } from "../../store/handle.ts";
import { FIELD_NAMES, SQL } from "../../store/relations.ts";
import type { Nets } from "../net.ts";
import type { Conflicts } from "./conflicts.ts";
import type { Draft } from "./draft.ts";
import type { LeftOut } from "./left-out.ts";
import type { Ids } from "./same-records.ts";
import type { Seen } from "./seen.ts";

export interface Sides {
  readonly ours: Reader;
  readonly theirs: Reader;
  /** The last change set both have. */
  readonly ancestor: number;
  /** How far theirs was seen by an earlier merge. */
  readonly seen: Seen | null;
  readonly newIds: (kind: KindName, count: number) => Promise<number>;
}

/** All that the steps of a merge share. */
export interface Merging extends Sides {
  readonly ourNets: Nets;
  readonly theirNets: Nets;
  readonly ids: Ids;
  readonly conflicts: Conflicts;
  readonly draft: Draft;
  /** Records that give way to theirs of the same tag, by kind and id; what rests on them goes along. */
  readonly giveWay: Set<string>;
  /** What they say and isn't taken. */
  readonly leftOut: LeftOut;
}

/** A record that was deleted here, by its id of then, as they have it. */
export async function bringBack({ theirs, ids, draft }: Merging, kind: KindName, id: number): Promise<boolean> {
  const [row] = await theirs.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([ids.theirs(kind, id) ?? id])]);
  if (!row) return false;
  const values = Object.fromEntries(FIELD_NAMES[kind].map((field) => [field, row[field] ?? null]));
  draft.insert(kind, id, ids.translated(kind, values) ?? values);
  return true;
}
