/** The head of a change set and the chain of digests. */
import { Digest } from "../model/digest.ts";
import type { Clock } from "../ports.ts";
import type { ChangeSetTable } from "../schema/database.ts";
import type { Reader, Writer } from "./handle.ts";
import type { Occasion } from "./plan.ts";

/** A change set being written. */
export interface Opened {
  readonly head: Omit<ChangeSetTable, "records" | "hash">;
  /** Begun with the digest of the change set before and the head; takes in the content. */
  readonly digest: Digest;
}

export async function lastChangeSet(reader: Reader): Promise<{ id: number; hash: string } | null> {
  const [last] = await reader.rows<{ id: number; hash: string }>(
    "SELECT id, hash FROM change_set ORDER BY id DESC LIMIT 1",
  );
  return last ?? null;
}

/** The last change set but those that only signed a report: what was signed is the same before and after. */
export async function lastContent(reader: Reader): Promise<{ id: number; hash: string } | null> {
  const [last] = await reader.rows<{ id: number; hash: string }>(
    "SELECT id, hash FROM change_set WHERE act <> 'sign_off.make' ORDER BY id DESC LIMIT 1",
  );
  return last ?? null;
}

export async function openChangeSet(
  writer: Writer,
  clock: Clock,
  what: Pick<ChangeSetTable, "act" | "summary"> & Partial<Pick<ChangeSetTable, "verb" | "target_id">>,
  occasion: Occasion,
): Promise<Opened> {
  const last = await lastChangeSet(writer);
  const head: Opened["head"] = {
    id: (last?.id ?? 0) + 1,
    at: clock.now(),
    author: occasion.author,
    reason: occasion.reason ?? null,
    act: what.act,
    summary: what.summary,
    meaning: occasion.meaning ?? "change",
    day: occasion.day ?? null,
    verb: what.verb ?? "do",
    target_id: what.target_id ?? null,
  };
  const digest = new Digest().update(`${last?.hash ?? ""}\n${JSON.stringify(Object.values(head))}\n`);
  return { head, digest };
}

/** Writes the head, once all its content is written. */
export async function closeChangeSet(writer: Writer, { head, digest }: Opened, records: number): Promise<void> {
  await writer.run(
    `INSERT INTO change_set (id, at, author, reason, act, summary, meaning, day, verb, target_id, records, hash)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    [
      head.id,
      head.at,
      head.author,
      head.reason,
      head.act,
      head.summary,
      head.meaning,
      head.day,
      head.verb,
      head.target_id,
      records,
      digest.hex(),
    ],
  );
}
