/** Where free strands are to begin and end: a port, a panel, or any port of a room or building. */

import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { refuse } from "../result.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { RunEnd } from "./runs.ts";

export const PLACES = ["building", "space", "panel", "port"] as const;
export type Where = string | { readonly kind: (typeof PLACES)[number]; readonly id: number };

export interface Endpoint {
  readonly ref: RecordRef;
  readonly rooms: ReadonlySet<number>;
  /** Whether a run may begin or end there. */
  has(end: RunEnd): boolean;
}

/** Refuses `not_found`, `ambiguous`, and `not_possible` where nothing lies between the two. */
export async function endpointsOf(
  reader: Reader,
  from: Where,
  to: Where,
  strands: number,
): Promise<{ from: Endpoint; to: Endpoint }> {
  const found = {
    from: await endpointOf(reader, from, "from", strands),
    to: await endpointOf(reader, to, "to", strands),
  };
  const [a, b] = [found.from.ref, found.to.ref];
  if (a.kind === b.kind && a.id === b.id) {
    refuse("not_possible", say`From and to are both ${a.tag}.`, [
      { record: a.tag, field: "to", reason: say`is the same as from` },
    ]);
  }
  if ([...found.from.rooms].some((room) => found.to.rooms.has(room))) {
    refuse("not_possible", say`${a.tag} and ${b.tag} are in one place: no cable lies between them.`, [
      { record: b.tag, field: "to", reason: say`is where ${a.tag} is: a cord joins them` },
    ]);
  }
  return found;
}

async function endpointOf(reader: Reader, where: Where, field: string, strands: number): Promise<Endpoint> {
  const ref =
    typeof where === "string"
      ? await pick(reader, where, { kinds: PLACES, field })
      : await pick(reader, where.id, { kinds: [where.kind], field });
  if (ref.kind === "building" || ref.kind === "space") {
    const rooms =
      ref.kind === "space"
        ? new Set([ref.id])
        : new Set(
            (await reader.lists("select id from space where building_id = ?", [ref.id])).map(([id]) => id as number),
          );
    return { ref, rooms, has: ({ kind, space }) => kind === "port" && rooms.has(space) };
  }
  const ports =
    ref.kind === "port"
      ? "select ? as id"
      : `select p.id from port p where p.panel_id = ?
         union select p.id from module m cross join port p on p.module_id = m.id where m.panel_id = ?`;
  const rows = (await reader.lists(
    `select po.id, ifnull(${ROOM}, 0), p.device_id is not null from (${ports}) o
       cross join port p on p.id = o.id ${ROOM_JOINS} cross join position po on po.port_id = p.id`,
    ref.kind === "port" ? [ref.id] : [ref.id, ref.id],
  )) as [number, number, number][];
  if (rows.some(([, , device]) => device === 1)) {
    refuse("not_possible", say`${ref.tag} is a port of equipment: name the panel port that it is patched to.`, [
      { record: ref.tag, field, reason: say`is a port of equipment` },
    ]);
  }
  if (rows.length < strands) {
    refuse(
      "not_possible",
      plural(
        strands,
        "{1} has {2}, and {0} strand is wanted.",
        "{1} has {2}, and {0} strands are wanted.",
        ref.tag,
        counted(rows.length, "position"),
      ),
      [
        {
          record: ref.tag,
          field: "strands",
          reason: plural(rows.length, "is {1}: there is {0} position", "is {1}: there are {0} positions", strands),
        },
      ],
    );
  }
  const positions = new Set(rows.map(([id]) => id));
  const rooms = new Set(rows.flatMap(([, room]) => (room > 0 ? [room] : [])));
  return { ref, rooms, has: ({ kind, id }) => kind === "port" && positions.has(id) };
}
