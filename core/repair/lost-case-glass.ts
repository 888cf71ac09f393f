/** The glass in a splice case: which cables enter it, what is joined there to what, what runs through uncut, and its circuits. */
import type { Row } from "../model/dictionary.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendCircuit } from "./answer.ts";
import { type CaseJoint, type GlassEnd, type JointRow, jointsOf } from "./case-joints.ts";
import { stillToJoin } from "./lost-before.ts";

/** A stop at which a cable enters the case. */
export interface CaseEnd {
  readonly stop_id: number;
  readonly cable_id: number;
  readonly ordinal: number;
  readonly marks: readonly (number | null)[];
}

/** A strand that runs through the case uncut. */
export interface CaseExpress {
  /** Its section. */
  readonly id: number;
  readonly cable_id: number;
  readonly stop_id: number;
  readonly number: number;
}

export interface CaseGlass {
  readonly ends: readonly CaseEnd[];
  readonly joints: readonly CaseJoint[];
  readonly express: readonly CaseExpress[];
  /** Circuits in service on it, the most urgent first; and those that are planned or reserved. */
  readonly circuits: readonly MendCircuit[];
  readonly not_in_service: readonly MendCircuit[];
  /** What stands against splicing all of it anew, in words. */
  readonly against: readonly string[];
}

const LIES = "('in_place', 'out_of_use')";

/** @param lost the change in which its loss went on record; null where it hangs there as it did */
export async function readCaseGlass(
  reader: Reader,
  closure: RecordRef,
  today: string,
  lost: number | null = null,
): Promise<CaseGlass> {
  const { joints, nowhere, against } =
    lost === null
      ? { ...(await jointsOf(reader, await splicesIn(reader, closure.id))), against: [] }
      : await stillToJoin(reader, closure, lost);
  const stops = new Set(joints.flatMap(({ a, b }) => [a.stop_id, b.stop_id]));
  const rows = await reader.rows<
    Pick<Row<"stop">, "id" | "cable_id" | "ordinal" | "mark_in" | "mark_open_from" | "mark_open_to" | "mark_out">
  >(
    `select st.id, st.cable_id, st.ordinal, st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out
     from stop st join cable c on c.id = st.cable_id
     where c.life in ${LIES} and (st.closure_id = ? or st.id in (select value from json_each(?)))
     order by c.tag_key, st.ordinal`,
    [closure.id, JSON.stringify([...stops])],
  );
  const ends = rows.map(({ id, cable_id, ordinal, mark_in, mark_open_from, mark_open_to, mark_out }) => ({
    ...{ stop_id: id, cable_id, ordinal },
    marks: [mark_in, mark_open_from, mark_open_to, mark_out],
  }));
  const through =
    lost !== null
      ? []
      : await reader.rows<CaseExpress>(
          `select s.id, st.cable_id, st.id as stop_id, t.number
     from stop st join strand t on t.cable_id = st.cable_id join section s on s.strand_id = t.id
       left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where st.id in (select value from json_each(?))
       and coalesce(a.ordinal < st.ordinal, st.ordinal > 1)
       and coalesce(b.ordinal > st.ordinal, st.ordinal < (select max(ordinal) from stop o where o.cable_id = st.cable_id))
     order by st.cable_id, t.number, s.ordinal`,
          [JSON.stringify(ends.map(({ stop_id }) => stop_id))],
        );
  const pigtails = await reader.rows<{ count: number }>(
    `select count(*) as count from termination x join tray t on t.id = x.tray_id where t.closure_id = ? and x.life in ${LIES}`,
    [closure.id],
  );
  const sections = [...joints.flatMap(({ a, b }) => [a.section_id, b.section_id]), ...through.map(({ id }) => id)];
  const circuits = await circuitsOn(reader, sections, today);
  const landed = pigtails[0]?.count ?? 0;
  return {
    ends,
    joints,
    express: through,
    circuits: circuits.filter(({ state }) => state === "in_service"),
    not_in_service: circuits.filter(({ state }) => state !== "in_service"),
    against: [
      ...against,
      ...(landed > 0
        ? [
            plural(
              landed,
              "{0} pigtail of a port is spliced in {1}: enter the panel that takes the place of that one and land the strand on it anew, and ask again",
              "{0} pigtails of ports are spliced in {1}: enter the panel that takes the place of that one and land the strands on it anew, and ask again",
              closure.tag,
            ),
          ]
        : []),
      ...nowhere.map(
        (strand) =>
          say`at which stop of its cable ${strand}, which is spliced in ${closure.tag}, ends is not on record: say it first`,
      ),
      ...joinedTwice(joints, closure.tag),
    ],
  };
}

/** Nothing tells which of two joints of one end is the one that was there. */
function joinedTwice(joints: readonly CaseJoint[], closure: string): string[] {
  const ends = joints.flatMap(({ a, b }) => [
    { own: a, other: b },
    { own: b, other: a },
  ]);
  const named = ({ cable, number }: GlassEnd): string => `${cable}:${number}`;
  return [...Map.groupBy(ends, ({ own }) => `${own.section_id} ${own.side}`).values()].flatMap((same) => {
    const [first] = same;
    if (!first || same.length < 2) return [];
    const others = same.map(({ other }) => named(other)).join(say` and `);
    return [
      say`${named(first.own)} is spliced in ${closure} to ${others} with one end of it on record: say first which of them is so`,
    ];
  });
}

const splicesIn = (reader: Reader, closure: number): Promise<JointRow[]> =>
  reader.rows<JointRow>(
    `select p.id, p.form, p.a_section_id, p.a_side, p.b_section_id, p.b_side from splice p join tray t on t.id = p.tray_id
     where t.closure_id = ? and p.life in ${LIES} order by t.position, t.id, p.place, p.id`,
    [closure],
  );

async function circuitsOn(reader: Reader, sections: readonly number[], today: string): Promise<MendCircuit[]> {
  const rows = await reader.rows<{ id: number; priority: number | null; state: NonNullable<MendCircuit["state"]> }>(
    `select distinct c.id, c.priority, c.state from assignment a join circuit c on c.id = a.circuit_id
     where a.section_id in (select value from json_each(?)) and c.state in ('in_service', 'planned', 'reserved')
       and (a.until_on is null or a.until_on > ?)
     order by c.priority is null, c.priority, c.tag_key, c.id`,
    [JSON.stringify(sections), today],
  );
  const refs = await refsOf(
    reader,
    "circuit",
    rows.map(({ id }) => id),
  );
  return rows.flatMap(({ id, priority, state }) => {
    const circuit = refs.get(id);
    return circuit ? [{ circuit, priority, state }] : [];
  });
}
