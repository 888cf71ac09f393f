/** Cords as acts use them: found by number, by tag or by a port they are plugged into; plugged and unplugged. */
import { z } from "zod";
import { CARRIES } from "../glass/glass.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { addressesOf, resolve } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { dayOf, isCorrection, type PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { cordsAt } from "./joints.ts";

export const cordRef = z
  .union([z.int().positive(), z.string().trim().min(1, say`is empty`).max(400)])
  .describe(say`The cord: its number on record, its tag, or a port it is plugged into.`);
export type CordRef = z.output<typeof cordRef>;

export type CordRow = Pick<
  Row<"cord">,
  "id" | "tag" | "a_port_id" | "a_first" | "b_port_id" | "b_first" | "fibres" | "map" | "life"
>;

const COLUMNS = "id, tag, a_port_id, a_first, b_port_id, b_first, fibres, map, life";

const cordsById = (reader: Reader, ids: Iterable<number>): Promise<CordRow[]> =>
  reader.rows<CordRow>(`select ${COLUMNS} from cord where id in (select value from json_each(?)) order by id`, [
    listed(ids),
  ]);

/** `cord C-118 from LIB/101/A:07 to LIB/101/SW-1:1`. */
export async function cordWords(reader: Reader, cord: CordRow): Promise<string> {
  const ports = [cord.a_port_id, cord.b_port_id];
  const tags = await addressesOf(
    reader,
    "port",
    ports.filter((id) => id !== null),
  );
  const [from, to] = ports.map((id) => (id === null ? "nothing" : (tags.get(id) ?? say`a port`)));
  return say`cord ${cord.tag ? `${cord.tag} ` : ""}from ${from} to ${to}`;
}

/** The one cord in place that a person names. Refuses `not_found` and `ambiguous`. */
export async function cordNamed(reader: Reader, ref: CordRef, field: string): Promise<CordRow> {
  const found = await candidates(reader, ref);
  const [only] = found;
  if (only && found.length === 1) return only;
  const words = typeof ref === "number" ? say`cord ${ref}` : ref;
  if (!only) {
    refuse("not_found", say`No cord in place is known as ${words}.`, [
      { field, record: words, reason: say`is neither a cord's tag nor a port with a cord on record` },
    ]);
  }
  const readings = await Promise.all(found.slice(0, 20).map((cord) => cordWords(reader, cord)));
  refuse(
    "ambiguous",
    say`${found.length} cords are known as ${words}.`,
    readings.map((reading, i) => ({ field, record: words, reason: say`can be ${reading} (number ${found[i]?.id})` })),
  );
}

async function candidates(reader: Reader, ref: CordRef): Promise<CordRow[]> {
  if (typeof ref === "number") {
    return (await cordsById(reader, [ref])).filter(({ life }) => life === "in_place" || life === "out_of_use");
  }
  const tagged = await reader.rows<CordRow>(`select ${COLUMNS} from cord where tag = ? and life in ${CARRIES}`, [ref]);
  if (tagged.length > 0) return tagged;
  const ports = await resolve(reader, ref, { kinds: ["port"] });
  const ends = await cordsAt(
    reader,
    ports.map(({ id }) => id),
  );
  return cordsById(reader, new Set([...ends.values()].flat().map(({ id }) => id)));
}

/** Says that a cord is in front of these ports. */
export function markPlugged(draft: PlanDraft, ports: readonly { id: number; front: Row<"port">["front"] }[]): void {
  for (const { id, front } of ports) if (front !== "cord") draft.update("port", id, { front: "cord" });
}

/**
 * Whoever pulls a plug sees the bare front: ports that no other cord is in are seen empty. In a correction nobody
 * looked, so what was seen stays.
 */
export async function markUnplugged(
  draft: PlanDraft,
  ports: readonly (number | null)[],
  pulled: ReadonlySet<number>,
): Promise<void> {
  const { context } = draft;
  if (isCorrection(context)) return;
  const ids = new Set(ports.filter((id) => id !== null));
  const left = await cordsAt(context.reader, ids);
  for (const id of ids) {
    const others = (left.get(id) ?? []).filter((cord) => !pulled.has(cord.id));
    if (others.length === 0) draft.update("port", id, { front: "empty" });
  }
}

/** Takes a cord away: a correction deletes it, for it never was; a change keeps it on record as removed. */
export function takeAway(draft: PlanDraft, cord: Pick<CordRow, "id">): void {
  const { context } = draft;
  if (isCorrection(context)) draft.delete("cord", cord.id);
  else draft.update("cord", cord.id, { life: "removed", life_until: dayOf(context) });
}
