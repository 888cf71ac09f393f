/** Splice trays as acts use them: where they are, which places are taken, how many splices they take. */
import { CARRIES } from "../glass/glass.ts";
import { heldInTrays } from "../glass/in-trays.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Place } from "./ends.ts";
import { named } from "./named.ts";
import { shortRange } from "./numbering.ts";

export interface TrayPlace {
  readonly id: number;
  /** Its address. */
  readonly tag: string;
  readonly closure_id: number;
  readonly capacity: number | null;
  /** Null for a closure in stock. */
  readonly space: Place | null;
}

export interface CalledTray {
  readonly id: number;
  /** Its address. */
  readonly tag: string;
  readonly space_id: number | null;
}

/** Trays of a number, whatever case they are in. */
export async function traysCalled(reader: Reader, number: string): Promise<CalledTray[]> {
  const rows = await reader.rows<{ id: number; space_id: number | null }>(
    `select t.id, c.space_id from tray t join closure c on c.id = t.closure_id
       left join space p on p.id = c.space_id
     where t.tag = ? collate nocase order by p.tag_key, c.tag_key, t.id`,
    [number.trim()],
  );
  const tags = await addressesOf(
    reader,
    "tray",
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({ ...row, tag: tags.get(row.id) ?? number }));
}

const CASES_TOLD = 3;

/** In which cases trays of one number stand, after that number. */
export function casesOf(trays: readonly CalledTray[]): string {
  const told = trays.slice(0, CASES_TOLD).map(({ tag }) => tag.slice(0, tag.lastIndexOf("/")));
  const cases = counted(trays.length, "case");
  return trays.length > told.length
    ? say`stands in ${cases}, such as ${told.join(", ")}`
    : say`stands in ${cases}: ${told.join(", ")}`;
}

/** The one tray that an address names. One named without its case is asked for, with the cases that have such a tray. */
export async function trayNamed(reader: Reader, text: string, field: string): Promise<TrayPlace> {
  const called = text.includes("/") ? [] : await traysCalled(reader, text);
  const [first] = called;
  if (first)
    refuse("ambiguous", say`Which tray ${text} is meant isn't said.`, [
      { field, record: text, reason: say`${casesOf(called)}; say which, such as ${first.tag}` },
    ]);
  const { id, tag } = await named(reader, text, ["tray"], field);
  const [row] = await reader.rows<{ closure_id: number; capacity: number | null; space_id: number | null }>(
    "select t.closure_id, t.capacity, c.space_id from tray t join closure c on c.id = t.closure_id where t.id = ?",
    [id],
  );
  if (!row) throw new Error(`tray ${id} has no closure`);
  const spaces = row.space_id ? await addressesOf(reader, "space", [row.space_id]) : null;
  const space = row.space_id ? { id: row.space_id, tag: spaces?.get(row.space_id) ?? say`its space` } : null;
  return { id, tag, closure_id: row.closure_id, capacity: row.capacity, space };
}

/** The space a tray is in. Refuses a tray whose closure has no place on record. */
export function spaceOfTray(tray: TrayPlace): Place {
  return (
    tray.space ??
    refuse("not_possible", say`The closure of ${tray.tag} has no place on record.`, [
      { field: "tray", record: tray.tag, reason: say`is in a closure without a space; say first where the closure is` },
    ])
  );
}

export interface TrayUse {
  /** Splices and pigtails kept in the tray now; a ribbon is one. */
  readonly used: number;
  readonly taken: ReadonlySet<number>;
}

export async function trayUse(reader: Reader, tray: Pick<TrayPlace, "id">): Promise<TrayUse> {
  const rows = await reader.rows<{ place: number | null }>(
    `select place from splice where tray_id = ? and life in ${CARRIES}
     union all select place from termination where tray_id = ? and life in ${CARRIES}`,
    [tray.id, tray.id],
  );
  const [kept] = await reader.rows<{ held: number }>(heldInTrays("tray_id in (?)"), [tray.id, tray.id]);
  return { used: kept?.held ?? 0, taken: new Set(rows.flatMap(({ place }) => place ?? [])) };
}

/** Names the places of a tray that are taken already. */
export function takenPlaces(tray: TrayPlace, use: TrayUse, places: readonly (number | null)[]): Problem[] {
  const both = [...new Set(places)].filter((place): place is number => place !== null && use.taken.has(place));
  if (both.length === 0) return [];
  both.sort((a, b) => a - b);
  return [{ field: "place", record: tray.tag, reason: say`has something in place ${shortRange(both)} already` }];
}

/** A tray that would hold more than it takes, in a sentence. */
export function overCapacity(tray: TrayPlace, use: TrayUse, added: number): string | null {
  if (tray.capacity === null || use.used + added <= tray.capacity) return null;
  const holds = use.used === 0 ? "" : say`holds ${counted(use.used, "splice")} already and `;
  return say`${tray.tag} takes ${counted(tray.capacity, "splice")}; it ${holds}would hold ${use.used + added}.`;
}

/** Places that a tray can't have, in a sentence. */
export function beyondCapacity(tray: TrayPlace, places: readonly (number | null)[]): string | null {
  const { capacity } = tray;
  if (capacity === null) return null;
  const beyond = [...new Set(places)].filter((place): place is number => place !== null && place > capacity);
  if (beyond.length === 0) return null;
  beyond.sort((a, b) => a - b);
  return say`${tray.tag} takes ${counted(capacity, "splice")}: it has no place ${shortRange(beyond)}.`;
}
