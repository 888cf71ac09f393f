/** Which change sets are work of after a day. */
import type { Reader } from "../store/handle.ts";

export interface LaterWork {
  /** Change sets that don't count: work of after the day, and what undid and redid it. */
  readonly sets: ReadonlySet<number>;
  /** The first of them; null where there is none. */
  readonly first: number | null;
  /** So many changes that count or don't by the day on which they were recorded, having none of their own. */
  readonly undated: number;
}

interface Told {
  id: number;
  at: string;
  meaning: "change" | "correction";
  day: string | null;
  target_id: number | null;
}

/**
 * A change counts when its work was done by that day; where it names no day, it was done by the day it was recorded. A
 * correction says what was so all along, unless it names a later day. An undo or redo goes with what it takes back.
 */
export async function laterWork(reader: Reader, day: string): Promise<LaterWork> {
  const sets = new Set<number>();
  let undated = 0;
  for (const told of await reader.rows<Told>("SELECT id, at, meaning, day, target_id FROM change_set ORDER BY id")) {
    const { id, at, meaning, target_id } = told;
    if (target_id !== null) {
      if (sets.has(target_id)) sets.add(id);
      continue;
    }
    if (meaning === "change" && told.day === null) undated += 1;
    const since = told.day ?? (meaning === "correction" ? null : at.slice(0, 10));
    if (since !== null && since > day) sets.add(id);
  }
  const [first] = sets;
  return { sets, first: first ?? null, undated };
}
