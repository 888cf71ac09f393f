/** What was asked for, as ends of glass to begin at. */

import { mapped } from "../glass/cord-map.ts";
import { across, positionEnd, sectionEnd } from "../glass/end.ts";
import { CORD, JOIN, SPLICE } from "../glass/glass.ts";
import type { KindName, Row } from "../model/dictionary.ts";
import { kindOf } from "../model/dictionary.ts";
import { lifeWords } from "../model/kind.ts";
import { refuse } from "../result.ts";
import { addressesOf, pick, resolve, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { readPorts } from "../store/ports.ts";
import { readStrands, refuseUnknownSections } from "../store/strands.ts";
import { withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";

/** One line to be traced: told from the side `first` leads to. */
export interface Start {
  /** What was asked for; null where it is named by the section or position the line begins at. */
  readonly asked: string | null;
  readonly first: number;
  /** The joint that was asked for, where it was one: its kind and id. */
  readonly joint?: { readonly kind: number; readonly id: number };
}

export interface Target {
  /** What was asked for, by its address; null where it is named by what its lines begin at. */
  readonly asked: string | null;
  readonly kind: KindName;
  readonly id: number;
  readonly starts: readonly Start[];
}

/** Kinds a line can be asked for by, in the order in which an address is read as one. */
export const TRACEABLE = [
  ...["strand", "section", "port", "position", "circuit"],
  ...["interface", "splice", "termination", "cord", "module_join"],
] as const satisfies readonly KindName[];
export type Traceable = (typeof TRACEABLE)[number];

export type What = string | { readonly kind: Traceable; readonly id: number };

const NAMED_LATER: readonly Traceable[] = ["section", "position", "port"];

/** No more lines than this side by side. */
const MOST_LINES = 144;

export async function targetOf(reader: Reader, what: What, today: string): Promise<Target> {
  if (typeof what !== "string") {
    // A section, position or port is named from what is read of its line anyway.
    if (NAMED_LATER.includes(what.kind)) {
      return { asked: null, ...what, starts: await startsOf(reader, what.kind, what.id, null, today) };
    }
    const { kind, id, tag } = await pick(reader, what.id, { kinds: [what.kind], field: "what" });
    return { asked: tag, kind, id, starts: await startsOf(reader, what.kind, id, tag, today) };
  }
  const kinds: readonly KindName[] = ["strand", "section", "port", "position", "circuit"];
  const [only, ...more] = await resolve(reader, what, { kinds });
  if (only && more.length === 0) {
    return {
      asked: only.tag,
      kind: only.kind,
      id: only.id,
      starts: await startsOf(reader, only.kind as Traceable, only.id, only.tag, today),
    };
  }
  const [cord] = only
    ? []
    : await reader.rows<{ id: number }>("select id from cord where tag = ? limit 2", [what.trim()]);
  if (cord) return targetOf(reader, { kind: "cord", id: cord.id }, today);
  if (!only) {
    const several = await rangeOf(reader, what, today);
    if (several) return several;
    await refuseWhole(reader, what);
  }
  return refuseUnread(reader, what, kinds);
}

/** Several strands or ports, as crews write ranges. */
async function rangeOf(reader: Reader, what: string, today: string): Promise<Target | null> {
  const strands = (await readStrands(reader, what)).readings;
  for (const { cable, strands: named } of strands.length === 1 ? strands : []) {
    const sections = named.filter(({ section }) => section !== undefined);
    if (sections.length > 0)
      await refuseUnknownSections(reader, cable, sections, { field: "what", record: what.trim() });
  }
  const ports = (await readPorts(reader, what)).readings;
  const [reading, ...others] = [
    ...strands.map((one) => ({
      kind: "strand" as const,
      ids: one.strands.map(({ id }) => id),
    })),
    ...ports.map((one) => ({ kind: "port" as const, ids: one.ports.map(({ id }) => id) })),
  ];
  if (!reading || others.length > 0) return null;
  if (reading.ids.length > MOST_LINES) {
    refuse("bad_input", say`${what} is ${reading.ids.length} lines; ask for ${MOST_LINES} at most.`, [
      { field: "what", record: what, reason: say`names ${reading.ids.length} lines` },
    ]);
  }
  const tags = await addressesOf(reader, reading.kind, reading.ids);
  const starts: Start[] = [];
  for (const id of reading.ids) starts.push(...(await startsOf(reader, reading.kind, id, tags.get(id) ?? what, today)));
  return { asked: what.trim(), kind: reading.kind, id: reading.ids[0] ?? 0, starts };
}

/** Says what to name instead of a whole panel, cable or the like. */
async function refuseWhole(reader: Reader, what: string): Promise<void> {
  const port = (tag: string) => say`name one of its ports, such as ${tag}:1`;
  const feeds = () => say`ask what feeds it`;
  const hints: Partial<Record<KindName, (tag: string) => string>> = {
    cable: (tag) => say`name one of its strands, such as ${tag}:1`,
    panel: (tag) => say`name one of its ports, such as ${tag}:01`,
    module: port,
    device: port,
    building: feeds,
    space: feeds,
  };
  const [whole] = await resolve(reader, what, { kinds: Object.keys(hints) as KindName[] });
  if (!whole) return;
  const hint = hints[whole.kind]?.(whole.tag) ?? "";
  const one = withArticle(kindOf(whole.kind).one);
  refuse("bad_input", say`${whole.tag} is ${one}, and a line runs through one strand or port: ${hint}.`, [
    { field: "what", record: whole.tag, reason: say`is ${one}; ${hint}` },
  ]);
}

async function refuseUnread(reader: Reader, what: string, kinds: readonly KindName[]): Promise<never> {
  await resolveOne(reader, what, { kinds, field: "what" });
  throw new Error(`${what} was read in one way and in none`);
}

async function startsOf(
  reader: Reader,
  kind: Traceable,
  id: number,
  known: string | null,
  today: string,
): Promise<Start[]> {
  const tag = known ?? `${kindOf(kind).one} ${id}`;
  switch (kind) {
    case "section":
      return [{ asked: null, first: sectionEnd(id, "A") }];
    case "strand":
      return strandStarts(reader, id, tag);
    case "position":
      return [{ asked: null, first: positionEnd(id, "front") }];
    case "port":
      return portStarts(reader, id, tag);
    case "interface": {
      const [row] = await reader.rows<{ port_id: number }>("select port_id from interface where id = ?", [id]);
      return portStarts(reader, row?.port_id ?? 0, tag);
    }
    case "circuit":
      return circuitStarts(reader, id, tag, today);
    default:
      return jointStarts(reader, kind, id, tag);
  }
}

async function strandStarts(reader: Reader, id: number, tag: string): Promise<Start[]> {
  const rows = await reader.rows<{ id: number }>("select id from section where strand_id = ? order by ordinal", [id]);
  if (rows.length === 0) {
    refuse("not_possible", say`${tag} has no strand section on record, so there is no glass to follow.`, [
      { field: "what", record: tag, reason: say`has no strand section on record` },
    ]);
  }
  return rows.map((row) => ({ asked: null, first: sectionEnd(row.id, "A") }));
}

async function portStarts(reader: Reader, port_id: number, tag: string): Promise<Start[]> {
  const rows = await reader.rows<{ id: number }>("select id from position where port_id = ? order by ordinal", [
    port_id,
  ]);
  if (rows.length === 0) {
    refuse("not_possible", say`${tag} has no position on record, so there is no glass to follow.`, [
      { field: "what", record: tag, reason: say`has no position on record` },
    ]);
  }
  return rows.map((row) => ({ asked: null, first: positionEnd(row.id, "front") }));
}

/** The circuit's sections from A to Z, transmit before receive; the caller drops those that lie on one line already. */
async function circuitStarts(reader: Reader, id: number, tag: string, today: string): Promise<Start[]> {
  const rows = await reader.rows<{ section_id: number }>(
    `select section_id from assignment where circuit_id in (select value from json_each(?))
       and (from_on is null or from_on <= ?) and (until_on is null or until_on > ?)
     order by case role when 'transmit' then 1 when 'receive' then 2 else 3 end, ordinal is null, ordinal, id`,
    [JSON.stringify([id]), today, today],
  );
  if (rows.length > 0) return rows.map(({ section_id }) => ({ asked: tag, first: sectionEnd(section_id, "A") }));
  const [circuit] = await reader.rows<Pick<Row<"circuit">, "a_port_id" | "z_port_id">>(
    "select a_port_id, z_port_id from circuit where id in (select value from json_each(?))",
    [JSON.stringify([id])],
  );
  const port = circuit?.a_port_id ?? circuit?.z_port_id ?? null;
  if (port === null) {
    refuse("not_possible", say`${tag} has neither strands nor a port today, so there is nothing to follow.`, [
      { field: "what", record: tag, reason: say`has no strand section today, and no port at A or Z` },
    ]);
  }
  return (await portStarts(reader, port, tag)).map((start) => ({ ...start, asked: tag }));
}

interface JointRow {
  readonly life: string;
  readonly from: number;
}
const JOINT_SQL = {
  splice: "select life, a_section_id * 4 + (a_side = 'B') as 'from' from splice where id = ?",
  termination: "select life, section_id * 4 + (side = 'B') as 'from' from termination where id = ?",
  module_join:
    "select 'in_place' as life, a_position_id * 4 + 2 + (a_side = 'front') as 'from' from module_join where id = ?",
} as const;

/** The glass on one side of a joint. Its line is told from there across the joint. */
async function jointStarts(
  reader: Reader,
  kind: "splice" | "termination" | "module_join" | "cord",
  id: number,
  tag: string,
): Promise<Start[]> {
  if (kind === "cord") return cordStarts(reader, id, tag);
  const [row] = await reader.rows<JointRow>(JOINT_SQL[kind], [id]);
  if (!row) return [];
  refuseLifeless(row.life, tag);
  const start = { asked: tag, first: across(row.from) };
  if (kind === "termination") return [start];
  return [{ ...start, joint: { kind: kind === "splice" ? SPLICE : JOIN, id } }];
}

function refuseLifeless(life: string, tag: string): void {
  if (life === "in_place" || life === "out_of_use") return;
  const words = lifeWords(life);
  refuse("not_possible", say`${tag} is ${words}, so no light goes through it.`, [
    { field: "what", record: tag, reason: say`is ${words}` },
  ]);
}

async function cordStarts(reader: Reader, id: number, tag: string): Promise<Start[]> {
  const [cord] = await reader.rows<Row<"cord">>("select * from cord where id = ?", [id]);
  if (!cord) return [];
  refuseLifeless(cord.life, tag);
  const rows = await reader.rows<{ id: number; port_id: number; ordinal: number }>(
    "select id, port_id, ordinal from position where port_id in (select value from json_each(?))",
    [JSON.stringify([cord.a_port_id, cord.b_port_id])],
  );
  const at = (port: number | null, ordinal: number) =>
    rows.find((row) => row.port_id === port && row.ordinal === ordinal)?.id;
  const starts: Start[] = [];
  for (let fibre = 1; fibre <= cord.fibres; fibre += 1) {
    const a = at(cord.a_port_id, cord.a_first + fibre - 1);
    const position = a ?? at(cord.b_port_id, cord.b_first + mapped(cord.map, fibre, cord.fibres) - 1);
    if (position === undefined) continue;
    const asked = cord.fibres > 1 ? say`${tag}, fibre ${fibre}` : tag;
    starts.push({ asked, first: positionEnd(position, "back"), joint: { kind: CORD, id } });
  }
  if (starts.length > 0) return starts;
  return refuse("not_possible", say`${tag} hangs loose at both ends.`, [
    { field: "what", record: tag, reason: say`is plugged into nothing` },
  ]);
}
