/** Where the new strands end in the new building: positions of a panel there, or of a new one, and how they are landed. */

import { type Fibre, tooThin } from "../act/fibre.ts";
import { CARRIES } from "../glass/glass.ts";
import { heldInTrays } from "../glass/in-trays.ts";
import { joinAddress } from "../model/address.ts";
import { lifeWords } from "../model/kind.ts";
import { refuse } from "../result.ts";
import { addressesOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Landing } from "./answer.ts";

export interface LandingAsked {
  /** The room. */
  readonly to: RecordRef;
  readonly strands: number;
  /** One that was named; it is this one or none. */
  readonly panel: string | null;
  /** The number of a new one that is wanted instead. */
  readonly fresh: string | null;
  /** What is known of the lateral's strands. */
  readonly fibre: Fibre;
  /** Ports reckoned for a new panel. */
  readonly ports: number;
}

interface PositionRow {
  readonly panel_id: number;
  readonly port: string;
  readonly ordinal: number;
  readonly positions: number;
  readonly fit: number;
}

/** Refuses `not_found` for a panel that isn't on record, `not_possible` for one elsewhere or without room, `duplicate`. */
export async function landingFor(reader: Reader, asked: LandingAsked): Promise<Landing> {
  const { to, fresh, strands } = asked;
  const how = methodFor(asked.fibre);
  const panels = await reader.rows<{ id: number; tag: string }>(
    "select id, tag from panel where space_id = ? and life in ('in_place', 'out_of_use') order by tag_key, id",
    [to.id],
  );
  const tags = new Set(
    (await reader.rows<{ tag: string }>("select tag from panel where space_id = ?", [to.id])).map(({ tag }) =>
      tag.toLowerCase(),
    ),
  );
  if (fresh !== null) {
    if (tags.has(fresh.trim().toLowerCase())) {
      refuse("duplicate", say`${to.tag} has a panel ${fresh} already.`, [
        { field: "new_panel", record: fresh, reason: say`is taken in ${to.tag}` },
      ]);
    }
    return newPanel(fresh.trim(), asked, how);
  }
  const named = asked.panel === null ? null : await panelNamed(reader, asked.panel, to);
  const passed_over: Landing["passed_over"][number][] = [];
  const free = await freePositions(reader, named === null ? panels.map(({ id }) => id) : [named.id]);
  const names = await addressesOf(reader, "panel", free.keys());
  for (const [id, positions] of free) {
    const record: RecordRef = { kind: "panel", id, tag: names.get(id) ?? say`panel ${id}` };
    const taken = side(positions, strands);
    if (taken !== null) {
      return {
        ...how,
        how: "here",
        panel: record,
        tag: record.tag,
        ports: portsAddress(record.tag, taken),
        drawer: how.method === "pigtail" ? await drawerOf(reader, id, strands) : null,
        new_ports: null,
        passed_over,
      };
    }
    const reason = plural(
      positions.length,
      "has {0} free position on its back; {1} are wanted",
      "has {0} free positions on its back; {1} are wanted",
      strands,
    );
    if (named !== null)
      refuse("not_possible", `${record.tag} ${reason}.`, [{ field: "panel", record: record.tag, reason }]);
    passed_over.push({ panel: record, reason });
  }
  return { ...newPanel(nextLetter(tags), asked, how), passed_over };
}

/**
 * A strand takes a connector on its own buffer only where that is sturdy enough; a thinner one takes a pigtail. What is not
 * on record is taken as thin. Common practice, no source.
 */
function methodFor(fibre: Fibre): Pick<Landing, "method" | "method_words" | "to_prove"> {
  const thin = tooThin(fibre);
  if (thin === false)
    return { method: "direct", method_words: say`connectors on the strands' own tight buffer`, to_prove: [] };
  return {
    method: "pigtail",
    method_words: say`pigtails spliced on`,
    to_prove:
      thin === null
        ? [
            say`whether the lateral's strands bear a connector directly: how it is built is not on record, and pigtails are taken`,
          ]
        : [],
  };
}

async function panelNamed(reader: Reader, named: string, to: RecordRef): Promise<{ id: number }> {
  const here = await reader.rows<{ id: number }>("select id from panel where tag = ? and space_id = ?", [
    named.trim(),
    to.id,
  ]);
  const [only] = here;
  const found = only ?? (await resolveOne(reader, named, { kinds: ["panel"], field: "panel" }));
  const [row] = await reader.rows<{ space_id: number | null; life: string }>(
    "select space_id, life from panel where id = ?",
    [found.id],
  );
  if (row?.space_id !== to.id || (row.life !== "in_place" && row.life !== "out_of_use")) {
    const reason = row?.space_id === to.id ? say`is ${lifeWords(row.life)}` : say`is not in ${to.tag}`;
    refuse("not_possible", say`${named} ${reason}: nothing can be landed on it there.`, [
      { field: "panel", record: named, reason },
    ]);
  }
  return found;
}

/** Positions of each panel whose back holds nothing, of ports that are fit for use, in the order of the face. */
async function freePositions(reader: Reader, panels: readonly number[]): Promise<Map<number, PositionRow[]>> {
  const rows = await reader.rows<PositionRow>(
    `select p.panel_id, p.tag as port, o.ordinal,
       (select count(*) from position n where n.port_id = p.id) as positions,
       p.condition is not 'damaged' and not exists
         (select 1 from termination m where m.position_id = o.id and m.life in ${CARRIES}) as fit
     from port p join position o on o.port_id = p.id
     where p.panel_id in (select value from json_each(?)) and p.life in ('in_place', 'out_of_use')
     order by p.tag_key, p.id, o.ordinal`,
    [JSON.stringify(panels)],
  );
  return new Map(panels.map((id) => [id, rows.filter(({ panel_id, fit }) => panel_id === id && fit === 1)] as const));
}

/** So many free positions, whole ports first so that no duplex port is shared with others; null where there are too few. */
function side(free: readonly PositionRow[], wanted: number): PositionRow[] | null {
  if (free.length < wanted) return null;
  const whole = [...Map.groupBy(free, ({ port }) => port).values()].filter(
    ([first, ...more]) => first !== undefined && first.positions === more.length + 1,
  );
  const among = whole.flat().length >= wanted ? whole.flat() : free;
  return among.slice(0, wanted);
}

/** `NEW/1/A:01-02`, or `NEW/1/A:01-02,03#1` where a port gives only some of its positions. */
function portsAddress(panel: string, taken: readonly PositionRow[]): string {
  const parts = [...Map.groupBy(taken, ({ port }) => port)].flatMap(([port, own]) =>
    own[0]?.positions === own.length ? [port] : own.map(({ ordinal }) => `${port}#${ordinal}`),
  );
  return `${panel}:${parts.join(",")}`;
}

/** A drawer of the panel with a splice tray that takes all the pigtails. */
async function drawerOf(reader: Reader, panel: number, strands: number): Promise<string | null> {
  const trays = await reader.rows<{ id: number; capacity: number | null }>(
    `select t.id, t.capacity from tray t join closure c on c.id = t.closure_id
     where c.panel_id = ? and t.life in ('in_place', 'out_of_use') order by t.position, t.id`,
    [panel],
  );
  const ids = JSON.stringify(trays.map(({ id }) => id));
  const held = new Map(
    (
      await reader.rows<{ tray_id: number; held: number }>(heldInTrays("tray_id in (select value from json_each(?))"), [
        ids,
        ids,
      ])
    ).map((row) => [row.tray_id, row.held]),
  );
  const room = trays.find(({ id, capacity }) => capacity !== null && capacity - (held.get(id) ?? 0) >= strands);
  return room ? ((await addressesOf(reader, "tray", [room.id])).get(room.id) ?? null) : null;
}

function nextLetter(used: ReadonlySet<string>): string {
  for (let at = 0; ; at += 1) {
    const tag = at < 26 ? String.fromCharCode(65 + at) : `P-${at - 25}`;
    if (!used.has(tag.toLowerCase())) return tag;
  }
}

type Method = ReturnType<typeof methodFor>;

/** LC duplex is what new panels mostly have: common practice, no source. */
function newPanel(tag: string, { to, strands, ports }: LandingAsked, how: Method): Landing {
  const address = joinAddress(to.tag, "/", tag);
  const most = Math.max(1, Math.ceil(strands / 2), ports);
  const width = Math.max(2, String(most).length);
  const name = (port: number): string => String(port).padStart(width, "0");
  const whole = Math.floor(strands / 2);
  const parts = [
    ...(whole > 0 ? [whole === 1 ? name(1) : `${name(1)}-${name(whole)}`] : []),
    ...(strands % 2 === 1 ? [`${name(whole + 1)}#1`] : []),
  ];
  return {
    ...how,
    how: "new",
    panel: null,
    tag: address,
    ports: `${address}:${parts.join(",")}`,
    drawer: null,
    new_ports: { numbers: `${name(1)}..${name(most)}`, count: most },
    passed_over: [],
    to_prove: [...how.to_prove, say`which panel ${tag} is to be: ${most} LC duplex ports are taken`],
  };
}
