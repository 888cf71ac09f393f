/** Which ports and positions a text means: a panel, module or device and numbers, ranges or positions. */
import { joinAddress, tidy, unescapeName } from "../model/address.ts";
import type { KindName } from "../model/dictionary.ts";
import { naturalKey } from "../model/natural-key.ts";
import { splitList } from "../model/strand-list.ts";
import { type Problem, refuse } from "../result.ts";
import { counted } from "../words/counted.ts";
import { either } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Reader } from "./handle.ts";
import { foldTag } from "./lookup.ts";
import { nearestTags } from "./nearest.ts";
import { type Match, resolveRecord } from "./records.ts";
import { Unread } from "./unread.ts";

export interface NamedPort {
  readonly id: number;
  /** Its address. */
  readonly tag: string;
  /** The name on it. */
  readonly port: string;
  /** Order of the position, where one position of the port was named. */
  readonly position?: number;
  /** It was named by a number it had before. */
  readonly former?: true;
}

const OWNERS: readonly KindName[] = ["panel", "module", "device"];

interface PortRow {
  readonly id: number;
  readonly tag: string;
  readonly former_tags: string | null;
  readonly positions: number;
}

interface PortList {
  readonly owner: Match;
  readonly ports: readonly NamedPort[];
}

async function portsOf(reader: Reader, owner: Match): Promise<PortRow[]> {
  return reader.rows<PortRow>(
    `select id, tag, former_tags, (select count(*) from position where port_id = port.id) as positions
     from port where ${owner.kind}_id = ? order by tag_key, id`,
    [owner.id],
  );
}

const sameTag = (rows: readonly PortRow[], tag: string): PortRow[] => {
  const exact = rows.filter((row) => row.tag === tag);
  if (exact.length > 0) return exact;
  const former = rows.filter(
    ({ former_tags }) => former_tags !== null && (JSON.parse(former_tags) as string[]).includes(tag),
  );
  if (former.length > 0) return former;
  const key = foldTag(tag);
  return rows.filter((row) => foldTag(row.tag) === key);
};

const NUMBERED = /^(.*?)(\d{1,9})$/;

/** The ports from one to another: each number between them must be there. */
function portsBetween(rows: readonly PortRow[], first: string, last: string): PortRow[] | Unread | null {
  const from = sameTag(rows, first);
  const a = NUMBERED.exec(first);
  const b = NUMBERED.exec(last);
  if (a && b && (b[1] === "" || foldTag(a[1] ?? "") === foldTag(b[1] ?? ""))) {
    const [start, end] = [Number(a[2]), Number(b[2])];
    if (from.length === 0 && sameTag(rows, last).length === 0) return null;
    if (end < start) return new Unread(say`${first}-${last} runs backwards`, false);
    const found: PortRow[] = [];
    const absent: string[] = [];
    for (let number = start; number <= end && absent.length < 20; number++) {
      const key = naturalKey(`${a[1]}${number}`);
      const [row] = rows.filter(({ tag }) => naturalKey(tag) === key);
      if (row) found.push(row);
      else absent.push(`${a[1]}${number}`);
    }
    return absent.length > 0 ? new Unread(say`has no port ${absent.join(", ")}`, true) : found;
  }
  const to = sameTag(rows, last);
  const [start] = from;
  const [end] = to;
  if (from.length !== 1 || to.length !== 1 || !start || !end) return null;
  const [i, j] = [rows.indexOf(start), rows.indexOf(end)];
  return j < i ? new Unread(say`${first}-${last} runs backwards`, false) : rows.slice(i, j + 1);
}

function portsNamed(rows: readonly PortRow[], text: string): PortRow[] | Unread {
  const whole = sameTag(rows, text);
  if (whole.length === 1) return whole;
  if (whole.length > 1) return new Unread(say`${text} may be port ${either(whole.map(({ tag }) => tag))}`, false);
  for (const sign of text.matchAll(/\s*(?:[-‐‑‒–—]|\.\.|\bto\b)\s*/gi)) {
    const first = text.slice(0, sign.index);
    const last = text.slice(sign.index + sign[0].length);
    if (first === "" || last === "") continue;
    const between = portsBetween(rows, first, last);
    if (between !== null) return between;
  }
  const some =
    rows.length === 0
      ? say`no ports on record`
      : rows.length === 1
        ? say`one port, ${rows[0]?.tag}`
        : say`ports ${rows[0]?.tag} to ${rows.at(-1)?.tag}`;
  return new Unread(say`has ${some}, none of them ${text}`, true);
}

/** Orders of positions a text after `#` names in a port. */
function positionsNamed(port: PortRow, text: string): number[] | Unread {
  const one = (word: string): number | null => {
    if (/^\d{1,3}$/.test(word)) return Number(word);
    const letter = { A: 1, B: 2 }[word.toUpperCase()];
    return letter !== undefined && port.positions === 2 ? letter : null;
  };
  const [first = "", last] = text.split(/\s*[-–]\s*/);
  const from = one(first.trim());
  const to = last === undefined ? from : one(last.trim());
  if (from === null || to === null) return new Unread(say`port ${port.tag} has no position ${text}`, true);
  if (from === 0) return new Unread(say`names position 0; positions count from 1`, false);
  if (to < from) return new Unread(say`#${text} runs backwards`, false);
  if (to > port.positions) {
    const count = counted(port.positions, "position");
    return new Unread(say`port ${port.tag} has ${count}; ${to} is beyond`, true);
  }
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}

/** All ports of an owner. */
const EVERY = "*";

async function readPortList(reader: Reader, owner: Match, list: string): Promise<PortList | Unread> {
  const rows = await portsOf(reader, owner);
  const named = (row: PortRow) => ({ id: row.id, tag: joinAddress(owner.tag, ":", row.tag), port: row.tag });
  const formerly = (row: PortRow, name: string): { former?: true } =>
    row.tag !== name && row.former_tags !== null && (JSON.parse(row.former_tags) as string[]).includes(name)
      ? { former: true }
      : {};
  if (list === EVERY) {
    return rows.length === 0 ? new Unread(say`has no ports on record`, true) : { owner, ports: rows.map(named) };
  }
  const items = rows.some(({ tag }) => tag === list) ? [list] : splitList(list);
  if (items.length === 0) return new Unread(say`names no port`, false);
  const ports: NamedPort[] = [];
  for (const item of items) {
    const hash = item.indexOf("#");
    const name = unescapeName(hash < 0 ? item : item.slice(0, hash).trim());
    const chosen = portsNamed(rows, name);
    if (chosen instanceof Unread) return chosen;
    for (const row of chosen) {
      if (hash < 0) {
        ports.push({ ...named(row), ...formerly(row, name) });
        continue;
      }
      const orders = positionsNamed(row, item.slice(hash + 1).trim());
      if (orders instanceof Unread) return orders;
      for (const position of orders) ports.push({ ...named(row), ...formerly(row, name), position });
    }
  }
  return { owner, ports };
}

/** Every way to divide a text into an owner and a list of its ports. */
function divisions(text: string): { owner: string; list: string }[] {
  const whole = tidy(text);
  const colon = whole.indexOf(":");
  if (colon >= 0) return [{ owner: whole.slice(0, colon).trim(), list: whole.slice(colon + 1).trim() }];
  const found: { owner: string; list: string }[] = [];
  for (const match of whole.matchAll(/\s+|\s*·\s*/g)) {
    const list = whole.slice(match.index + match[0].length);
    const owner = whole.slice(0, match.index);
    if (owner !== "" && list !== "") found.push({ owner, list });
  }
  return found;
}

/** All readings of a text as ports, and the reasons of the owners that have none such. */
export async function readPorts(
  reader: Reader,
  text: string,
): Promise<{ readings: PortList[]; faults: { owner: Match; reason: Unread }[] }> {
  const readings: PortList[] = [];
  const faults: { owner: Match; reason: Unread }[] = [];
  const ways = divisions(text);
  // An owner that is named exactly goes before one that is found by folding.
  const found: { match: Match; list: string }[] = [];
  for (const { owner, list } of ways) {
    if (owner === "" || list === "") continue;
    for (const match of await resolveRecord(reader, owner, OWNERS)) found.push({ match, list });
  }
  for (const exact of [true, false]) {
    for (const { match, list } of found) {
      if ((match.how === "exact") !== exact) continue;
      const outcome = await readPortList(reader, match, list);
      if (outcome instanceof Unread) faults.push({ owner: match, reason: outcome });
      else readings.push(outcome);
    }
    if (readings.length > 0) break;
  }
  return { readings, faults };
}

/**
 * The ports a text names, in the order written: `LIB/101/A:01-12`, `LIB A 1-12`, `LIB/101/A:07#B`, and
 * `LIB/101/A:*` for all. Refuses `not_found`, `ambiguous` and `bad_input` (backwards, named twice).
 */
export async function resolvePorts(
  reader: Reader,
  text: string,
  options: { readonly field?: string } = {},
): Promise<readonly NamedPort[]> {
  return (await resolvePortList(reader, text, options)).ports;
}

async function resolvePortList(reader: Reader, text: string, options: { readonly field?: string }): Promise<PortList> {
  const asked: Pick<Problem, "record" | "field"> = {
    record: text,
    ...(options.field === undefined ? {} : { field: options.field }),
  };
  const { readings, faults } = await readPorts(reader, text);
  const [only] = readings;
  if (readings.length > 1) {
    refuse(
      "ambiguous",
      say`${text} can be read in ${readings.length} ways.`,
      readings.map(({ owner, ports }) => ({
        ...asked,
        reason: say`may be ${owner.kind} ${owner.tag}, port ${ports
          .map(({ port }) => port)
          .slice(0, 3)
          .join(", ")}${ports.length > 3 ? ", …" : ""}`,
      })),
    );
  }
  if (only === undefined) {
    const [fault] = faults;
    if (fault !== undefined) {
      const { reason, missing } = fault.reason;
      refuse(missing ? "not_found" : "bad_input", `${fault.owner.tag} ${reason}.`, [{ ...asked, reason }]);
    }
    const owner = divisions(text).at(-1)?.owner;
    if (owner === undefined) {
      refuse("bad_input", say`${text} names no ports; write a panel and numbers, such as LIB/101/A:1-12.`, [
        { ...asked, reason: say`must be a panel, module or device and its ports` },
      ]);
    }
    const nearest = await nearestTags(reader, owner, OWNERS);
    const hint = nearest.length > 0 ? say`; nearest are ${nearest.join(", ")}` : "";
    refuse("not_found", say`There is no panel, module or device ${owner}${hint}.`, [
      { ...asked, reason: say`is not on record${hint}` },
    ]);
  }
  const seen = new Set<string>();
  const whole = new Set(only.ports.filter(({ position }) => position === undefined).map(({ id }) => id));
  const twice = only.ports.filter(
    ({ id, position }) =>
      seen.size === seen.add(`${id}#${position ?? ""}`).size || (position !== undefined && whole.has(id)),
  );
  if (twice.length > 0) {
    const names = [
      ...new Set(twice.map(({ port, position }) => (position === undefined ? port : `${port}#${position}`))),
    ];
    refuse("bad_input", say`${text} names ${names.join(", ")} twice.`, [
      { ...asked, reason: say`names ${names.join(", ")} twice` },
    ]);
  }
  return only;
}

/** The ports a text names where it names some in exactly one way; otherwise none. */
export async function tryPorts(reader: Reader, text: string): Promise<readonly NamedPort[]> {
  const { readings } = await readPorts(reader, text);
  return readings.length === 1 ? (readings[0]?.ports ?? []) : [];
}

export interface NamedPosition {
  readonly id: number;
  readonly port_id: number;
  readonly port: string;
  readonly ordinal: number;
}

/** The positions a text names, in the order written; a port named without position stands for all of its own in order. */
export async function resolvePositions(
  reader: Reader,
  text: string,
  options: { readonly field?: string } = {},
): Promise<{ owner: Match; positions: NamedPosition[] }> {
  const { owner, ports } = await resolvePortList(reader, text, options);
  const rows = await reader.rows<{ id: number; port_id: number; ordinal: number }>(
    "select id, port_id, ordinal from position where port_id in (select value from json_each(?)) order by port_id, ordinal",
    [JSON.stringify([...new Set(ports.map(({ id }) => id))])],
  );
  const byPort = Map.groupBy(rows, ({ port_id }) => port_id);
  const positions = ports.flatMap(({ id, port, position }) =>
    (byPort.get(id) ?? [])
      .filter(({ ordinal }) => position === undefined || ordinal === position)
      .map((row) => ({ ...row, port })),
  );
  return { owner, positions };
}
