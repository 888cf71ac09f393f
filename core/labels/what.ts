/** Which labels are meant: things named by address, those a table shows, or all that need one; each at its places. */
import type { KindName, Row } from "../model/dictionary.ts";
import { LABELLED, LABELS_OF } from "../model/labelled.ts";
import { refuse } from "../result.ts";
import { resolve, resolveOne, resolvePorts } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { duePlaces, plantRow } from "../store/label-facts.ts";
import { say } from "../words/say.ts";
import { thingsNeedingLabels } from "./due.ts";
import type { LabelPlace } from "./facts.ts";

/** More labels than this are not made at once. */
export const MOST_LABELS = 20_000;

const THERE = (x: string) => `${x}.life <> 'removed'`;
const WANTED = "in (select value from json_each(?))";

/** Of each kind the thing itself with the space where its label hangs: `id`, `space_id`. Ways have one at each end. */
const OWN: Readonly<Partial<Record<KindName, string>>> = {
  panel: `select p.id, p.space_id from panel p where p.id ${WANTED} order by p.tag_key, p.id`,
  port: `select o.id, coalesce(p.space_id, mp.space_id, d.space_id) as space_id from port o
    left join panel p on p.id = o.panel_id left join module m on m.id = o.module_id left join panel mp on mp.id = m.panel_id
    left join device d on d.id = o.device_id
    where o.id ${WANTED} order by coalesce(p.tag_key, m.tag_key, d.tag_key), o.panel_id, o.tag_key, o.id`,
  closure: `select c.id, c.space_id from closure c where c.id ${WANTED} order by c.tag_key, c.id`,
  tray: `select t.id, c.space_id from tray t join closure c on c.id = t.closure_id
    where t.id ${WANTED} order by c.tag_key, c.id, t.tag_key, t.id`,
  space: `select s.id, s.id as space_id from space s where s.id ${WANTED} order by s.tag_key, s.id`,
  busbar: `select b.id, b.space_id from busbar b where b.id ${WANTED} order by b.tag_key, b.id`,
  firestop: `select f.id, null as space_id from firestop f where f.id ${WANTED} order by f.tag_key, f.id`,
  device: `select d.id, d.space_id from device d where d.id ${WANTED} order by d.tag_key, d.id`,
  module: `select m.id, p.space_id from module m left join panel p on p.id = m.panel_id
    where m.id ${WANTED} order by m.tag_key, m.id`,
  pathway: `select w.id, s.value as space_id from pathway w
    join json_each(json_array(w.from_space_id, w.to_space_id)) s where w.id ${WANTED} order by w.tag_key, w.id, s.key`,
  conduit: `select c.id, s.value as space_id from conduit c join pathway w on w.id = c.pathway_id
    join json_each(json_array(w.from_space_id, w.to_space_id)) s
    where c.id ${WANTED} order by w.tag_key, w.id, c.tag_key, c.id, s.key`,
};

/** Kinds that are at several places: their labels are told apart by the space. */
export const SEVERAL: ReadonlySet<KindName> = new Set(["cable", "pathway", "conduit", "unit"]);

/** What is labelled along with a thing that is named as a whole. */
const PARTS: Readonly<Partial<Record<KindName, readonly (readonly [KindName, string])[]>>> = {
  panel: [["port", `select o.id from port o where o.panel_id ${WANTED} and ${THERE("o")}`]],
  closure: [["tray", `select t.id from tray t where t.closure_id ${WANTED} and ${THERE("t")}`]],
  pathway: [
    ["conduit", `select c.id from conduit c where c.pathway_id ${WANTED} and ${THERE("c")}`],
    ["firestop", `select f.id from firestop f where f.pathway_id ${WANTED} and ${THERE("f")}`],
  ],
};

/** What is in a space; ways and cables get their labels there alone. */
const INSIDE: readonly (readonly [KindName, string])[] = [
  ["panel", `select p.id from panel p where p.space_id ${WANTED} and ${THERE("p")}`],
  ["closure", `select c.id from closure c where c.space_id ${WANTED} and ${THERE("c")}`],
  ["busbar", `select b.id from busbar b where b.space_id ${WANTED} and ${THERE("b")}`],
  [
    "cable",
    `select distinct t.cable_id as id from stop t join cable c on c.id = t.cable_id where t.space_id ${WANTED} and ${THERE("c")}`,
  ],
  ["pathway", `select w.id from pathway w where w.from_space_id ${WANTED} and ${THERE("w")}`],
  ["pathway", `select w.id from pathway w where w.to_space_id ${WANTED} and ${THERE("w")}`],
];

const listed = (ids: Iterable<number>): string => JSON.stringify([...ids]);
const idsOf = async (reader: Reader, sql: string, ids: Iterable<number>): Promise<number[]> =>
  (await reader.rows<{ id: number }>(sql, [listed(ids)])).map(({ id }) => id);

/** The labels of some things of one kind, each at its places; with their parts where they are meant as a whole. */
export async function labelsOf(
  reader: Reader,
  kind: KindName,
  ids: readonly number[],
  whole: boolean,
): Promise<LabelPlace[]> {
  if (ids.length === 0) return [];
  if (kind === "building") {
    const spaces = await idsOf(
      reader,
      `select s.id from space s where s.building_id ${WANTED} and ${THERE("s")} order by s.tag_key, s.id`,
      ids,
    );
    return labelsOf(reader, "space", spaces, whole);
  }
  const places = await placesOf(reader, kind, ids);
  if (!whole) return places;
  for (const [part, sql] of PARTS[kind] ?? [])
    places.push(...(await placesOf(reader, part, await idsOf(reader, sql, ids))));
  if (kind === "space") {
    const here = new Set<number | null>(ids);
    for (const [part, sql] of INSIDE) {
      const inside = await idsOf(reader, sql, ids);
      const all = await labelsOf(reader, part, inside, part === "closure");
      places.push(...all.filter(({ space_id }) => here.has(space_id)));
    }
  }
  return places;
}

async function placesOf(reader: Reader, kind: KindName, ids: readonly number[]): Promise<LabelPlace[]> {
  if (kind === "cable") return cablePlaces(reader, ids);
  const sql = OWN[kind];
  if (!sql) return [];
  const rows = await reader.rows<{ id: number; space_id: number | null }>(sql, [listed(ids)]);
  return rows.map(({ id, space_id }) => ({ kind, id, space_id }));
}

/**
 * Places whose space nobody said get the one the thing itself is in; what is at several places, or in none, stays without.
 * A label on a panel says the same whether or not somebody named the panel's room along with it.
 */
export async function inOwnSpaces<P extends Omit<LabelPlace, "kind">>(
  reader: Reader,
  kind: KindName,
  places: readonly P[],
): Promise<P[]> {
  const lost = places.filter(({ space_id }) => space_id === null).map(({ id }) => id);
  if (lost.length === 0 || !OWN[kind] || SEVERAL.has(kind)) return [...places];
  const own = new Map((await placesOf(reader, kind, lost)).map(({ id, space_id }) => [id, space_id]));
  return places.map((place) => (place.space_id === null ? { ...place, space_id: own.get(place.id) ?? null } : place));
}

/** Each end and each place where a cable can be reached, or its ends alone, as the plant's policy says; asked for by name, it gets labels even where the policy wants none. */
async function cablePlaces(reader: Reader, ids: readonly number[]): Promise<LabelPlace[]> {
  const policy = (await plantRow(reader))?.label_due ?? "access";
  const due = await duePlaces(reader, policy === "none" ? "access" : policy, ids);
  const byCable = Map.groupBy(due, ({ cable_id }) => cable_id);
  const order = await idsOf(reader, `select c.id from cable c where c.id ${WANTED} order by c.tag_key, c.id`, ids);
  return order.flatMap((id) =>
    (byCable.get(id) ?? []).map(({ space_id }) => ({ kind: "cable" as const, id, space_id })),
  );
}

/** What people name: a record, or several ports in one go. Refuses what can't carry a label. */
export async function labelsNamed(reader: Reader, text: string): Promise<LabelPlace[]> {
  if (text.includes(":") && (await resolve(reader, text, { kinds: LABELS_OF })).length === 0) {
    const ports = await resolvePorts(reader, text, { field: "of" });
    return labelsOf(
      reader,
      "port",
      ports.map(({ id }) => id),
      false,
    );
  }
  const { kind, id, tag } = await resolveOne(reader, text, { kinds: LABELS_OF, field: "of" });
  const found = await labelsOf(reader, kind, [id], true);
  if (found.length === 0)
    refuse("not_possible", say`There is no place on record for a label on ${tag}.`, [
      {
        field: "of",
        record: tag,
        reason: kind === "cable" ? say`has no stop at a known place` : say`is in no place on record`,
      },
    ]);
  return found;
}

/** All that need one by the plant's policy, and all whose label on record is due. */
export async function labelsNeeded(reader: Reader): Promise<LabelPlace[]> {
  const plant = await plantRow(reader);
  const things = plant ? await thingsNeedingLabels(reader, plant) : [];
  const due = await reader.rows<Pick<Row<"label">, "subject_kind" | "subject_id" | "space_id">>(
    "select subject_kind, subject_id, space_id from label where due_on is not null or state in ('missing', 'illegible', 'wrong') order by id",
  );
  const kinds: ReadonlySet<string> = new Set(LABELLED);
  return [
    ...things.map(({ kind, id, space_id }) => ({ kind, id, space_id })),
    ...due
      .filter(({ subject_kind }) => kinds.has(subject_kind))
      .map(({ subject_kind, subject_id, space_id }) => ({ kind: subject_kind, id: subject_id, space_id })),
  ];
}
