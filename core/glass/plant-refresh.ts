/** Keeps the glass in memory current: reads again what change sets since then wrote. */
import type { KindName } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { PlantGlass } from "./held-glass.ts";
import { JOINT_SOURCES, readJoints } from "./plant-joints.ts";
import { PAGE, readRange, TABLE_NAMES, type Table, type TableName } from "./plant-tables.ts";

/** Beyond so many records it is quicker to read the whole plant. */
const MANY = 200_000;

interface Range {
  readonly kind: KindName;
  readonly first: number;
  readonly last: number;
}

/** Kinds whose change says nothing here by itself, but changes what others say. */
const ROOMS: ReadonlySet<KindName> = new Set(["panel", "module", "device"]);
const READ: ReadonlySet<KindName> = new Set<KindName>([
  ...TABLE_NAMES,
  ...JOINT_SOURCES.map(({ table }) => table),
  ...ROOMS,
  "interface",
]);

/** The last change set on record; 0 before the first. */
export async function revisionOf(reader: Reader): Promise<number> {
  return (await reader.rows<{ id: number | null }>("select max(id) as id from change_set"))[0]?.id ?? 0;
}

/** Brings the glass to what is on record; false when too much was written since, or history was cut short. */
export async function refreshed(reader: Reader, glass: PlantGlass): Promise<boolean> {
  const revision = await revisionOf(reader);
  if (revision === glass.revision) return true;
  if (revision < glass.revision) return false;
  const ranges = (
    await reader.rows<Range>(
      `select kind, record_id as first, last_id as last from change_entry
       where change_set_id > ? and change_set_id <= ? group by kind, record_id, last_id`,
      [glass.revision, revision],
    )
  ).filter(({ kind }) => READ.has(kind));
  if (ranges.length === 0) {
    glass.revision = revision;
    return true;
  }
  if (ranges.reduce((sum, { first, last }) => sum + last - first + 1, 0) > MANY) return false;

  // A panel that moves takes its ports along: there are few enough to read them all.
  const tables = Map.groupBy(ranges, ({ kind }) => kind);
  if ([...ROOMS].some((kind) => tables.has(kind))) {
    tables.set("port", [{ kind: "port", first: 1, last: glass.tables.port.last }]);
  }
  const portsBefore = [...positionsPorts(glass, tables.get("position") ?? [])];
  for (const name of TABLE_NAMES) {
    for (const { first, last } of joinedUp(tables.get(name) ?? [])) {
      for (let from = first; from <= last; from += PAGE) {
        const table = glass.tables[name] as unknown as Table<TableName>;
        await readRange(reader, name, table, from, Math.min(last, from + PAGE - 1));
      }
    }
  }
  // Fibres of a cord sit in positions by their order: where those changed, the cord joins others.
  const ports = new Set([...portsBefore, ...positionsPorts(glass, tables.get("position") ?? [])]);
  if (ports.size > 0) {
    const ids = JSON.stringify([...ports]);
    const cords = await reader.rows<{ id: number }>(
      `select id from cord where a_port_id in (select value from json_each(?))
       union select id from cord where b_port_id in (select value from json_each(?))`,
      [ids, ids],
    );
    const own = cords.map(({ id }): Range => ({ kind: "cord", first: id, last: id }));
    tables.set("cord", [...(tables.get("cord") ?? []), ...own]);
  }
  for (const source of JOINT_SOURCES) {
    const written = joinedUp(tables.get(source.table) ?? []);
    if (written.length === 0) continue;
    const ids = new Set<number>();
    for (const { first, last } of written) for (let id = first; id <= last; id += 1) ids.add(id);
    glass.joints.remove(source.kind, ids);
    for (const { first, last } of written) await readJoints(reader, glass.joints, source, first, last);
  }
  glass.revision = revision;
  glass.forgetDerived();
  return true;
}

function* positionsPorts(glass: PlantGlass, ranges: readonly Range[]): Generator<number> {
  for (const { first, last } of ranges) {
    for (let id = first; id <= last; id += 1) {
      const port = glass.tables.position.port.get(id);
      if (port > 0) yield port;
    }
  }
}

/** Ranges in order, those that touch or overlap as one. */
function joinedUp(ranges: readonly Range[]): { first: number; last: number }[] {
  const joined: { first: number; last: number }[] = [];
  for (const { first, last } of ranges.toSorted((a, b) => a.first - b.first)) {
    const before = joined.at(-1);
    if (before && first <= before.last + 1) before.last = Math.max(before.last, last);
    else joined.push({ first, last });
  }
  return joined;
}
