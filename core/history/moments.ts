/** Moments of the record: a change, the end of a day, or what an auditor signed. */
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { headOf } from "../store/stack.ts";
import { say } from "../words/say.ts";

export type GivenMoment =
  /** After this change; 0 is the file before its first. */
  | { readonly change_set: number }
  /** At the end of this day, `YYYY-MM-DD`, in UTC as all times of the history. */
  | { readonly day: string }
  /** When this sign-off was on record; without a number the last one. */
  | { readonly sign_off: number | "last" };

export interface SignedState {
  readonly id: number;
  readonly signed_by: string;
  readonly signed_on: string;
  readonly content_hash: string;
  /** Whether the history up to that moment still has the digest that was signed. */
  readonly intact: boolean;
}

export interface Moment {
  /** The last change set before it; 0 before the first. */
  readonly change_set: number;
  /** When that was written, ISO 8601 in UTC; null before the first. */
  readonly at: string | null;
  /** The day asked for, else the day of that change, `YYYY-MM-DD`; null before the first. */
  readonly day: string | null;
  readonly author: string | null;
  readonly summary: string | null;
  readonly sign_off: SignedState | null;
  readonly words: string;
}

export async function lastId(reader: Reader): Promise<number> {
  const [last] = await reader.rows<{ id: number | null }>("SELECT max(id) AS id FROM change_set");
  return last?.id ?? 0;
}

/** The last change that was written up to the end of a day, in UTC; 0 before the first. */
export async function lastOfDay(reader: Reader, day: string): Promise<number> {
  // A time sorts after the day it begins with; "~" sorts after every time of that day.
  const [last] = await reader.rows<{ id: number | null }>("SELECT max(id) AS id FROM change_set WHERE at <= ?", [
    `${day}~`,
  ]);
  return last?.id ?? 0;
}

export async function momentOf(reader: Reader, given: GivenMoment): Promise<Moment> {
  if ("sign_off" in given) return signedMoment(reader, given.sign_off);
  if ("day" in given) {
    const id = await lastOfDay(reader, given.day);
    return { ...(await after(reader, id)), day: given.day, words: say`the end of ${shownDay(given.day)}` };
  }
  return after(reader, given.change_set);
}

/** The record as it stands. */
export const presentMoment = async (reader: Reader): Promise<Moment> => ({
  ...(await after(reader, await lastId(reader))),
  words: say`now`,
});

async function after(reader: Reader, id: number): Promise<Moment> {
  if (id === 0)
    return {
      change_set: 0,
      at: null,
      day: null,
      author: null,
      summary: null,
      sign_off: null,
      words: say`the beginning`,
    };
  const { at, author, summary } = await headOf(reader, id);
  return { change_set: id, at, day: at.slice(0, 10), author, summary, sign_off: null, words: say`change ${id}` };
}

interface SignOffRow {
  id: number;
  signed_by: string;
  signed_on: string;
  content_hash: string;
  change_set: number;
}

async function signedMoment(reader: Reader, which: number | "last"): Promise<Moment> {
  const [row] = await reader.rows<SignOffRow>(
    `SELECT id, signed_by, signed_on, content_hash, change_set FROM sign_off
     WHERE id = ? OR ? = 'last' ORDER BY change_set DESC, id DESC LIMIT 1`,
    [which === "last" ? 0 : which, String(which)],
  );
  if (!row)
    return refuse(
      "not_found",
      which === "last" ? say`Nothing was signed yet.` : say`There is no sign-off ${which} on record.`,
    );
  const { change_set, ...signed } = row;
  const [of] = await reader.rows<{ hash: string }>("SELECT hash FROM change_set WHERE id = ?", [change_set]);
  // The change set that only wrote the signature down is part of signing, as are others' who signed the same.
  const [own] = await reader.rows<{ id: number }>(
    `SELECT c.id FROM change_set c JOIN change_entry e ON e.change_set_id = c.id
     WHERE c.id > ? AND c.records = 1 AND e.kind = 'sign_off' AND e.op = 'insert' AND e.record_id = ?
       AND NOT EXISTS (SELECT 1 FROM change_set b WHERE b.id > ? AND b.id < c.id AND b.act <> 'sign_off.make')`,
    [change_set, row.id, change_set],
  );
  return {
    ...(await after(reader, Math.min(own?.id ?? change_set, await lastId(reader)))),
    sign_off: { ...signed, intact: (of?.hash ?? "") === row.content_hash },
    words: say`what ${row.signed_by} signed on ${shownDay(row.signed_on)}`,
  };
}
