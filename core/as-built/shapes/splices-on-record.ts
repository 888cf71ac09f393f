/** What a row of a splice matrix asks of joints that are on record already: what it says otherwise, and nothing else. */
import { endKey, endsOf, strandsWords } from "../../act/ends.ts";
import { jointsAtEnds } from "../../act/joints.ts";
import { CARRIES } from "../../glass/glass.ts";
import { kindOf, type Row } from "../../model/dictionary.ts";
import type { Field } from "../../model/field.ts";
import { shownValue } from "../../model/wording.ts";
import { addressesOf, type NamedStrand, resolveOne, resolvePositions, resolveStrands } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";
import type { Act, RowActs } from "../shape.ts";
import type { Fate } from "./splice-fates.ts";
import { strandText } from "./strand-text.ts";
import { trayText } from "./tray-text.ts";

type Joint = Pick<
  Row<"splice">,
  "id" | "tray_id" | "place" | "method" | "loss_ab_db" | "loss_ba_db" | "loss_basis" | "made_on" | "made_by" | "notes"
>;

/** What a row says of a joint beside what it joins; undefined where it says nothing. */
export interface SaidOfJoint {
  readonly method?: Row<"splice">["method"] | undefined;
  readonly loss_ab_db: number | undefined;
  readonly loss_ba_db: number | undefined;
  readonly loss_basis: Row<"splice">["loss_basis"] | undefined;
  readonly made_on: string | undefined;
  readonly made_by: string | undefined;
  readonly notes: string | undefined;
}

interface FoundSplice extends Joint {
  /** Which of the pairs it joins, from 0. */
  readonly pair: number;
  /** Its end A is the pair's first strand. */
  readonly straight: 0 | 1;
  readonly first: number;
  readonly second: number;
}

const JOINED = (a: "a" | "b", b: "a" | "b"): string => `
  select pair.key as pair, ${a === "a" ? 1 : 0} as straight, one.ordinal as first, two.ordinal as second, s.id, s.tray_id,
    s.place, s.method, s.loss_ab_db, s.loss_ba_db, s.loss_basis, s.made_on, s.made_by, s.notes
  from json_each(?) pair join section one on one.strand_id = json_extract(pair.value, '$[0]')
    join splice s on s.${a}_section_id = one.id and s.life in ${CARRIES}
    join section two on two.id = s.${b}_section_id and two.strand_id = json_extract(pair.value, '$[1]')`;

export interface Asked {
  readonly from: string;
  readonly to: string;
  readonly tray: string | undefined;
  readonly place: number | undefined;
}

/** Null where not every pair is spliced on record, so that the splices are to be made. */
export async function splicedActs(reader: Reader, asked: Asked, said: SaidOfJoint): Promise<RowActs | null> {
  if (asked.from === "" || asked.to === "") return null;
  const { strands: from } = await resolveStrands(reader, asked.from, { field: "from" });
  const { strands: to } = await resolveStrands(reader, asked.to, { field: "to" });
  if (from.length !== to.length) return null;
  const pairs = JSON.stringify(from.map(({ id }, index) => [id, to[index]?.id]));
  const rows = await reader.rows<FoundSplice>(`${JOINED("a", "b")} union all ${JOINED("b", "a")}`, [pairs, pairs]);
  if (rows.length === 0) return null;
  const tray_id = asked.tray === undefined ? undefined : await trayId(reader, asked.tray);
  const place = from.length === 1 ? asked.place : undefined;
  const changes: unknown[] = [];
  const differences: string[] = [];
  for (const [index, one] of from.entries()) {
    const meant = rows.filter(
      (row) => row.pair === index && fits(one, row.first) && fits(to[index] as NamedStrand, row.second),
    );
    const told = ({ straight }: FoundSplice) => {
      const [ab, ba] = [said.loss_ab_db, said.loss_ba_db];
      return { ...said, loss_ab_db: straight ? ab : ba, loss_ba_db: straight ? ba : ab, tray_id, place };
    };
    // Of several that can't be told apart, one that is as the row says is enough.
    if (meant.some((one) => differing(one, told(one)) === null)) continue;
    const splice = theOne(meant, tray_id, place);
    if (!splice) return null;
    const values = differing(splice, told(splice));
    if (!values) continue;
    changes.push({ op: "edit", kind: "splice", id: splice.id, values });
    differences.push(...(await differenceWords(reader, "splice", splice, values, splice.straight === 0)));
  }
  const words = say`${asked.from} is spliced to ${asked.to}`;
  return changes.length === 0
    ? { words, same: say`${words}: nothing to change`, acts: [] }
    : { words: say`${words}; on record now: ${someOf(differences)}`, acts: [manyChanged(changes)] };
}

/** So many differences of one row are said. */
const MOST_SAID = 6;

const someOf = (differences: readonly string[]): string => {
  const unique = [...new Set(differences)];
  return unique.length > MOST_SAID
    ? say`${unique.slice(0, MOST_SAID).join("; ")} and ${unique.length - MOST_SAID} more`
    : unique.join("; ");
};

const TURNED: Readonly<Record<string, string>> = { loss_ab_db: "loss_ba_db", loss_ba_db: "loss_ab_db" };

/**
 * "loss A to B 0.04 dB, by the sheet 0.05 dB", of each value that differs.
 *
 * @param turned the record has the joint the other way round than the sheet: its A to B is the sheet's B to A
 */
async function differenceWords(
  reader: Reader,
  kind: "splice" | "termination",
  record: Joint,
  values: Readonly<Record<string, unknown>>,
  turned: boolean,
): Promise<string[]> {
  const trays = [record.tray_id, values.tray_id].filter((id): id is number => typeof id === "number");
  const tags = await addressesOf(reader, "tray", new Set(trays));
  const fields: Readonly<Record<string, Field>> = kindOf(kind).fields;
  return Object.entries(values).flatMap(([name, value]) => {
    const field = fields[name];
    if (!field) return [];
    const label = fields[turned ? (TURNED[name] ?? name) : name]?.label ?? name;
    const shown = (one: unknown): string => shownValue(field, one, (id) => tags.get(id) ?? String(id)) ?? say`nothing`;
    const before = (record as unknown as Readonly<Record<string, unknown>>)[name];
    return [say`${label} ${shown(before)}, by the sheet ${shown(value)}`];
  });
}

const trayId = async (reader: Reader, text: string): Promise<number> =>
  (await resolveOne(reader, text, { kinds: ["tray"], field: "tray" })).id;

const fits = ({ section }: NamedStrand, ordinal: number): boolean => section === undefined || section === ordinal;

const manyChanged = (changes: readonly unknown[]): Act => ({ name: "record.change_many", input: { changes } });

/** Of several splices of the same two strands the one in that tray, at that place; null where it can't be told. */
function theOne<J extends Joint>(all: readonly J[], tray: number | undefined, place: number | undefined): J | null {
  const unique = [...new Map(all.map((one) => [one.id, one])).values()];
  for (const narrowed of [
    unique,
    unique.filter((one) => one.tray_id === tray),
    unique.filter((one) => one.tray_id === tray && one.place === place),
  ])
    if (narrowed.length === 1) return narrowed[0] ?? null;
  return null;
}

/** Values that a row says and the record has otherwise; what a row leaves empty is left as it is. */
function differing(record: object, said: Readonly<Record<string, unknown>>): Record<string, unknown> | null {
  const tidy = (value: unknown): unknown => (typeof value === "string" ? value.replace(/\s+/g, " ").trim() : value);
  const values = Object.entries(said).filter(
    ([field, value]) => value !== undefined && tidy((record as Record<string, unknown>)[field]) !== value,
  );
  return values.length === 0 ? null : Object.fromEntries(values);
}

/** A strand that is landed on a port through a pigtail: the loss of that joint, and where it is kept. */
export async function landedActs(reader: Reader, cells: RowCells, said: Omit<SaidOfJoint, "method">): Promise<RowActs> {
  const strand = strandText(cells, "from_cable", "from");
  const port = cells.needed("to");
  const tray = await trayText(reader, cells);
  const place = cells.whole("place");
  const { strands } = await resolveStrands(reader, strand, { field: "from" });
  const { positions } = await resolvePositions(reader, port, { field: "to" });
  type Landed = Joint & { readonly loss_db: number | null };
  const rows = await reader.rows<Landed & { ordinal: number }>(
    `select t.id, t.tray_id, t.place, t.loss_db, t.loss_basis, t.made_on, t.made_by, t.notes, s.ordinal
     from termination t join section s on s.id = t.section_id
     where t.life in ${CARRIES} and s.strand_id in (select value from json_each(?))
       and t.position_id in (select value from json_each(?))`,
    [JSON.stringify(strands.map(({ id }) => id)), JSON.stringify(positions.map(({ id }) => id))],
  );
  const [only] = strands;
  const meant = rows.filter(({ ordinal }) => only !== undefined && fits(only, ordinal));
  const tray_id = tray === undefined ? undefined : await trayId(reader, tray);
  const termination = strands.length === 1 ? theOne(meant, tray_id, place) : null;
  if (!termination) {
    cells.problem("to", say`is not where it is landed on record; a list of ports and strands enters that`, strand);
    return { words: say`${strand} lands on ${port}`, acts: [] };
  }
  const { loss_ab_db, loss_ba_db: _, ...rest } = said;
  const values = differing(termination, { ...rest, loss_db: loss_ab_db, tray_id, place });
  const words = say`${strand} is landed on ${port}`;
  const differences = values ? await differenceWords(reader, "termination", termination, values, false) : [];
  return {
    words: values ? say`${words}; on record now: ${someOf(differences)}` : words,
    same: say`${words}: nothing to change`,
    acts: values ? [manyChanged([{ op: "edit", kind: "termination", id: termination.id, values }])] : [],
  };
}

const OF_JOINTS = ["tray", "place", "method", "loss_ab_db", "loss_ba_db", "made_on", "made_by", "notes"];

/**
 * Strands that nobody joined: nothing to record but whether a stub is left. What the record has otherwise is kept with
 * the cells: a row can't undo a splice.
 */
export async function unjoinedActs(reader: Reader, cells: RowCells, fate: Fate, words: string): Promise<RowActs> {
  const text = strandText(cells, "from_cable", "from");
  const at = cells.text("at");
  // What is said of a joint has no place on record where there is none.
  for (const name of OF_JOINTS)
    if (cells.text(name) !== undefined)
      cells.doubt(say`${cells.label(name)} is not kept: nothing is joined in this row.`);
  const said = `${text}: ${words}`;
  const nothing = { words: said, same: say`${said}, nothing to record`, acts: [] };
  if (at === undefined || text === "") return nothing;
  const space = await resolveOne(reader, at, { kinds: ["space"], field: "at" });
  const named = await resolveStrands(reader, text, { field: "from" });
  const byStrand = await endsOf(reader, named);
  const ends = named.strands.flatMap((strand) =>
    (byStrand.get(strand.id) ?? []).filter((end) => end.space_id === space.id && fits(strand, end.ordinal)),
  );
  const cut = new Set(ends.map(({ strand_id }) => strand_id));
  const wrong =
    fate === "express"
      ? [...new Set(ends.map(({ number }) => number))]
      : named.strands.flatMap(({ id, number }) => (cut.has(id) ? [] : [number]));
  const joined = [...(await jointsAtEnds(reader, ends)).keys()];
  const taken = ends.filter((end) => joined.includes(endKey(end.section_id, end.side))).map(({ number }) => number);
  const tells = (numbers: readonly number[], reason: string): void => {
    if (numbers.length > 0) cells.problem("fate", reason, strandsWords(named.cable.tag, [...new Set(numbers)]));
  };
  if (fate === "express")
    tells(wrong, say`is cut in ${space.tag} on record; say what was done to it as a note or an act`);
  else {
    tells(wrong, say`is not cut in ${space.tag} on record; open the cable there first`);
    tells(taken, say`is joined in ${space.tag} on record; take the joint out first`);
  }
  const stub = fate === "stored" ? "yes" : fate === "no_stub" ? "no" : null;
  const changes = ends.flatMap((end) =>
    stub === null || end.stub === stub
      ? []
      : [
          {
            op: "edit",
            kind: "section",
            id: end.section_id,
            values: { [end.side === "A" ? "a_stub" : "b_stub"]: stub },
          },
        ],
  );
  return changes.length === 0 ? nothing : { words: said, acts: [manyChanged(changes)] };
}
