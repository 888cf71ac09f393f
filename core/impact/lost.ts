/** What is asked about, and which glass lies in it: read by index from what it names, whatever else the plant holds. */
import { CARRIES } from "../glass/glass.ts";
import type { MarkBreak } from "../model/marks.ts";
import { refuse } from "../result.ts";
import { pick, refOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { LostThing } from "./answer.ts";
import { Marked, type StopMarks } from "./stretch.ts";

export const LOSABLE = ["building", "space", "pathway", "conduit", "cable"] as const;
export type Losable = (typeof LOSABLE)[number];

/**
 * An address, `F-012 1200..1450` for a stretch by its marks, a record by kind and id, or a stretch of a cable: by its
 * marks, or as the leg between two neighbouring stops.
 */
export type What =
  | string
  | { readonly kind: Losable; readonly id: number }
  | { readonly cable: number; readonly between_stops: readonly [number, number] }
  | { readonly cable: string | number; readonly from_mark: number; readonly to_mark: number };

/** A thing as it is looked for. */
export interface Asked {
  readonly thing: LostThing;
  /** The spaces, pathways and conduits that go with it. */
  readonly spaces: ReadonlySet<number>;
  readonly pathways: ReadonlySet<number>;
  readonly conduits: ReadonlySet<number>;
  /** The cable it is or is a stretch of; 0 otherwise. */
  readonly cable: number;
  readonly stretch: { readonly marked: Marked; readonly from: number; readonly to: number } | null;
  /** The two neighbouring stops between which the cable is lost, where that was asked. */
  readonly between: readonly [number, number] | null;
}

const STRETCH = /^(.*\S)\s+(-?\d+(?:\.\d+)?)\s*\.\.\s*(-?\d+(?:\.\d+)?)$/u;

/** Refuses `not_found`, `ambiguous`, `bad_input` or `not_possible`, naming what is wrong. */
export async function askedOf(reader: Reader, what: readonly What[]): Promise<Asked[]> {
  const found: Asked[] = [];
  const seen = new Set<string>();
  for (const one of what) {
    const asked = await oneAsked(reader, one);
    const { record, marks } = asked.thing;
    const key = `${record.kind} ${record.id} ${marks?.from} ${marks?.to}`;
    if (seen.size !== seen.add(key).size) found.push(asked);
  }
  return found;
}

async function oneAsked(reader: Reader, what: What): Promise<Asked> {
  if (typeof what === "string") {
    const [, cable, from, to] = STRETCH.exec(what) ?? [];
    if (cable !== undefined) return stretchOf(reader, cable, Number(from), Number(to));
    return wholeOf(reader, await pick(reader, what, { kinds: LOSABLE, field: "what" }));
  }
  if ("between_stops" in what) {
    const whole = await wholeOf(reader, await pick(reader, what.cable, { kinds: ["cable"], field: "what" }));
    return { ...whole, between: what.between_stops };
  }
  if ("cable" in what) return stretchOf(reader, what.cable, what.from_mark, what.to_mark);
  return wholeOf(reader, await pick(reader, what.id, { kinds: [what.kind], field: "what" }));
}

const idsIn = async (reader: Reader, sql: string, id: number): Promise<Set<number>> =>
  new Set((await reader.lists(sql, [id])).map(([own]) => own as number));

const NONE: ReadonlySet<number> = new Set();

async function wholeOf(reader: Reader, { kind, id, tag }: RecordRef): Promise<Asked> {
  const nothing = { spaces: NONE, pathways: NONE, conduits: NONE, cable: 0, stretch: null, between: null };
  const thing = { record: { kind, id, tag }, marks: null };
  switch (kind as Losable) {
    case "building":
      return { ...nothing, thing, spaces: await idsIn(reader, "select id from space where building_id = ?", id) };
    case "space":
      return { ...nothing, thing, spaces: new Set([id]) };
    case "pathway":
      return { ...nothing, thing, pathways: new Set([id]) };
    case "conduit":
      // What lies in a pipe inside it lies in it.
      return {
        ...nothing,
        thing,
        conduits: await idsIn(
          reader,
          `with recursive inside (id) as (select ? union
             select c.id from inside i join conduit c on c.parent_id = i.id) select id from inside`,
          id,
        ),
      };
    case "cable":
      return { ...nothing, thing, cable: id };
  }
}

async function stretchOf(reader: Reader, cable: string | number, from: number, to: number): Promise<Asked> {
  const record = await pick(reader, cable, { kinds: ["cable"], field: "what" });
  const [row] = await reader.rows<{ mark_unit: "m" | "ft" | null; mark_breaks: string | null }>(
    "select mark_unit, mark_breaks from cable where id = ?",
    [record.id],
  );
  const stops = await reader.rows<StopMarks>(
    "select mark_in, mark_open_from, mark_open_to, mark_out from stop where cable_id = ? order by ordinal",
    [record.id],
  );
  const marked = new Marked(stops, row?.mark_breaks ? (JSON.parse(row.mark_breaks) as MarkBreak[]) : []);
  const { range } = marked;
  if (range === null) {
    refuse(
      "not_possible",
      say`${record.tag} has fewer than two sheath marks on record, so no stretch of it is known.`,
      [{ record: record.tag, field: "marks", reason: say`are not on record: name the cable, or the pathway` }],
    );
  }
  const place = (mark: number): number => {
    const places = marked.placesOf(mark);
    const [only] = places;
    if (places.length === 1 && only !== undefined) return only;
    const [code, reason] =
      only === undefined
        ? (["bad_input", `is not on ${record.tag}: its marks on record run from ${range.from} to ${range.to}`] as const)
        : (["ambiguous", `is printed ${places.length} times on ${record.tag}, where its marks begin anew`] as const);
    refuse(code, say`Mark ${mark} ${reason}.`, [{ record: record.tag, field: `mark ${mark}`, reason }]);
  };
  const [one, other] = [place(from), place(to)];
  const marks = one <= other ? { from, to } : { from: to, to: from };
  return {
    thing: { record, marks: { ...marks, unit: row?.mark_unit ?? null } },
    spaces: NONE,
    pathways: NONE,
    conduits: NONE,
    cable: record.id,
    stretch: { marked, from: Math.min(one, other), to: Math.max(one, other) },
    between: null,
  };
}

/** Cables that may lie in what is asked about: each once. Asked in steps, each by index. */
export async function cablesIn(reader: Reader, asked: readonly Asked[]): Promise<Set<number>> {
  const all = (of: (one: Asked) => ReadonlySet<number>): number[] => [...new Set(asked.flatMap((one) => [...of(one)]))];
  const idsBy = async (sql: string, ids: Iterable<number>): Promise<number[]> =>
    (await reader.lists(sql, [JSON.stringify([...ids])])).map(([id]) => id as number);
  const spaces = all((one) => one.spaces);
  const pathways = new Set(all((one) => one.pathways));
  // What comes out of a way's mouth in a place lies in that place.
  for (const end of ["from", "to"]) {
    const sql = `select p.id from json_each(?) i cross join pathway p on p.${end}_space_id = i.value`;
    for (const id of await idsBy(sql, spaces)) pathways.add(id);
  }
  const conduits = new Set([
    ...all((one) => one.conduits),
    ...(await idsBy("select c.id from json_each(?) i cross join conduit c on c.pathway_id = i.value", pathways)),
  ]);
  // Where nearly all legs name no pipe, the engine would take the index for worth nothing, and read all legs.
  const legsIn = (kind: "pathway" | "conduit"): string => `select st.cable_id from json_each(?) i
    cross join leg l indexed by leg_by_${kind} on l.${kind}_id = i.value
    cross join stop st on st.id = l.from_stop_id where l.life in ${CARRIES}`;
  return new Set([
    ...(await idsBy("select st.cable_id from json_each(?) i cross join stop st on st.space_id = i.value", spaces)),
    ...(await idsBy(legsIn("pathway"), pathways)),
    ...(await idsBy(legsIn("conduit"), conduits)),
    ...asked.flatMap(({ cable }) => (cable > 0 ? [cable] : [])),
  ]);
}

/**
 * Cables that run between the two ends of a lost pathway by a way that is not on record, or that lie in the pathway of a
 * lost pipe in a pipe nobody named: they may be hit too. In words.
 */
export async function inDoubt(reader: Reader, asked: readonly Asked[]): Promise<string[]> {
  const words: string[] = [];
  for (const { thing, pathways, conduits } of asked) {
    if (pathways.size > 0) {
      const rows = await reader.rows<{ tag: string }>(
        `select distinct c.tag from pathway p cross join stop a on a.space_id in (p.from_space_id, p.to_space_id)
           cross join stop b on b.cable_id = a.cable_id and b.ordinal = a.ordinal + 1
             and b.space_id in (p.from_space_id, p.to_space_id) and b.space_id <> a.space_id
           cross join cable c on c.id = a.cable_id and c.life in ${CARRIES}
         where p.id in (select value from json_each(?)) and not exists (
           select 1 from leg l where l.life in ${CARRIES} and coalesce(l.pathway_id, l.conduit_id) is not null
             and (l.from_stop_id = a.id and l.to_stop_id = b.id or l.from_stop_id = b.id and l.to_stop_id = a.id))
         order by c.tag_key`,
        [JSON.stringify([...pathways])],
      );
      for (const { tag } of rows) {
        words.push(say`The way of ${tag} beside ${thing.record.tag} is not on record: it may lie in it.`);
      }
    }
    if (conduits.size > 0) {
      const rows = await reader.rows<{ tag: string }>(
        `select distinct c.tag from conduit o cross join leg l on l.pathway_id = o.pathway_id and l.conduit_id is null
           and l.life in ${CARRIES} cross join stop st on st.id = l.from_stop_id
           cross join cable c on c.id = st.cable_id and c.life in ${CARRIES}
         where o.id = ? order by c.tag_key`,
        [thing.record.id],
      );
      const pathway = rows.length > 0 ? await pathwayOf(reader, thing.record.id) : "";
      for (const { tag } of rows) {
        words.push(say`In which pipe of ${pathway} ${tag} lies is not on record: it may be ${thing.record.tag}.`);
      }
    }
  }
  return words;
}

async function pathwayOf(reader: Reader, conduit: number): Promise<string> {
  const [row] = await reader.rows<{ pathway_id: number }>("select pathway_id from conduit where id = ?", [conduit]);
  return (await refOf(reader, "pathway", row?.pathway_id ?? 0))?.tag ?? say`its pathway`;
}
