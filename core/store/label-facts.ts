/** What labels on records should say and where they are due, read in sets. Acts that write labels and checks share this. */
import { type KindName, kindOf, type Row } from "../model/dictionary.ts";
import type { LabelFacts } from "../model/label-text.ts";
import { addressesOf } from "./addresses.ts";
import type { Reader } from "./handle.ts";
import { idList as listed } from "./record-address.ts";

const NOTHING: LabelFacts = { tag: null, from: null, to: null, strands: null };

/** The facts that labels on some records of one kind state, in sets. */
export async function labelFacts(
  reader: Reader,
  kind: KindName,
  ids: Iterable<number>,
): Promise<Map<number, LabelFacts>> {
  const wanted = listed(ids);
  const own = await ownNames(reader, kind, wanted);
  const ways = await WAYS[kind]?.(reader, wanted);
  return new Map(own.map(({ id, tag }) => [id, { ...NOTHING, tag, ...ways?.get(id) }]));
}

async function ownNames(reader: Reader, kind: KindName, ids: string): Promise<{ id: number; tag: string | null }[]> {
  const fields: Readonly<Record<string, unknown>> = kindOf(kind).fields;
  if (Object.hasOwn(fields, "tag")) {
    return reader.rows(`select id, tag from "${kind}" where id in (select value from json_each(?))`, [ids]);
  }
  // A strand, a stop or a unit has a number only; its address is what people call it.
  const addresses = await addressesOf(reader, kind, JSON.parse(ids) as number[]);
  return [...addresses].map(([id, tag]) => ({ id, tag }));
}

type Ways = Map<number, Partial<LabelFacts>>;

/** Kinds that come from somewhere and go somewhere. */
const WAYS: Partial<Record<KindName, (reader: Reader, ids: string) => Promise<Ways>>> = {
  async cable(reader, ids) {
    const rows = await reader.rows<{ id: number; from_id: number | null; to_id: number | null; strands: number }>(
      `select c.id,
         (select space_id from stop where cable_id = c.id order by ordinal limit 1) as from_id,
         (select space_id from stop where cable_id = c.id order by ordinal desc limit 1) as to_id,
         (select count(*) from strand where cable_id = c.id) as strands
       from cable c where c.id in (select value from json_each(?))`,
      [ids],
    );
    // A cable without strands on record has a count that nobody knows, not none.
    return between(reader, "space", rows, ({ strands }) => (strands === 0 ? null : String(strands)));
  },
  pathway: (reader, ids) =>
    reader
      .rows<Way>(
        "select id, from_space_id as from_id, to_space_id as to_id from pathway where id in (select value from json_each(?))",
        [ids],
      )
      .then((rows) => between(reader, "space", rows)),
  conduit: (reader, ids) =>
    reader
      .rows<Way>(
        `select c.id, p.from_space_id as from_id, p.to_space_id as to_id from conduit c join pathway p on p.id = c.pathway_id
         where c.id in (select value from json_each(?))`,
        [ids],
      )
      .then((rows) => between(reader, "space", rows)),
  cord: (reader, ids) =>
    reader
      .rows<Way & { fibres: number }>(
        "select id, a_port_id as from_id, b_port_id as to_id, fibres from cord where id in (select value from json_each(?))",
        [ids],
      )
      .then((rows) => between(reader, "port", rows, ({ fibres }) => String(fibres))),
  port: async (reader, ids) => {
    const own = await addressesOf(reader, "port", JSON.parse(ids) as number[]);
    return new Map([...own].map(([id, from]) => [id, { from }]));
  },
};

interface Way {
  readonly id: number;
  readonly from_id: number | null;
  readonly to_id: number | null;
}

async function between<W extends Way>(
  reader: Reader,
  kind: KindName,
  rows: readonly W[],
  strands: (row: W) => string | null = () => null,
): Promise<Ways> {
  const tags = await addressesOf(
    reader,
    kind,
    new Set(rows.flatMap(({ from_id, to_id }) => [from_id ?? [], to_id ?? []].flat())),
  );
  const tagOf = (id: number | null) => (id === null ? null : (tags.get(id) ?? null));
  return new Map(
    rows.map((row) => [row.id, { from: tagOf(row.from_id), to: tagOf(row.to_id), strands: strands(row) }]),
  );
}

/** The plant's own record: its patterns and policies. */
export async function plantRow(reader: Reader): Promise<Row<"plant"> | undefined> {
  const [row] = await reader.rows<Row<"plant">>("select * from plant order by id limit 1");
  return row;
}

export interface DuePlace {
  readonly cable_id: number;
  readonly space_id: number;
  readonly kind: Row<"stop">["kind"];
}

/**
 * The spaces where some cables need a label, each once, in order along the cable. A stop that nobody called unreachable
 * counts as reachable: a space is by definition a place where cable can be reached. Stops in unknown spaces have no place
 * to put a label and are left out.
 */
export async function duePlaces(
  reader: Reader,
  policy: Row<"plant">["label_due"],
  cables: Iterable<number>,
): Promise<DuePlace[]> {
  if (policy === "none") return [];
  const rows = await reader.rows<DuePlace & { reachable: "yes" | "no" | null }>(
    `select s.cable_id, s.space_id, s.kind, s.reachable from stop s
     where s.cable_id in (select value from json_each(?)) and s.space_id is not null order by s.cable_id, s.ordinal`,
    [listed(cables)],
  );
  const seen = new Set<string>();
  return rows.flatMap(({ cable_id, space_id, kind, reachable }) => {
    const due = kind === "end" || (policy === "access" && reachable !== "no");
    const key = `${cable_id}/${space_id}`;
    if (!due || seen.has(key)) return [];
    seen.add(key);
    return [{ cable_id, space_id, kind }];
  });
}
