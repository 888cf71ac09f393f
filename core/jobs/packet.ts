/** What a crew takes along for a job: situation, cautions, owners, places, steps, and a splice sheet for each case. */
import { limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import { refsOf, refsOfRows } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { cautionWords, mindsOfAll } from "./cautions.ts";
import { type LightFound, lightInto } from "./packet-light.ts";
import { ownersOf, type PacketOwner } from "./packet-owners.ts";
import { breaksOf, type PacketBreak, type PacketPlace, placesOf } from "./packet-places.ts";
import { spliceSheets } from "./packet-sheets.ts";
import { workedOn } from "./packet-worked.ts";
import type { LeftOut, Situation } from "./situation.ts";
import type { SpliceSheet } from "./splice-sheet.ts";
import type { OpeningKept } from "./step.ts";
import { type Job, type JobStep, jobNamed } from "./stored.ts";
import { type Clash, clashesOf } from "./wants.ts";

export interface PacketCircuit {
  readonly circuit: RecordRef;
  readonly priority: number | null;
  readonly owner: RecordRef | null;
}

/** One cable that the job mends: its make, and what else lies in the broken way. */
export interface PacketMend {
  readonly situation: Situation;
  readonly make: { readonly type: string | null; readonly strands: number } | null;
  readonly neighbours: readonly RecordRef[];
}

export interface Packet {
  readonly plant: string;
  readonly job: RecordRef;
  readonly reason: string | null;
  readonly state: string;
  readonly people: string | null;
  readonly starts_on: string | null;
  readonly replace_by: string | null;
  readonly today: string;
  readonly cautions: readonly string[];
  readonly situation: Situation | null;
  /** One for each cable that the job mends; the first is also above. */
  readonly situations: readonly Situation[];
  readonly mends: readonly PacketMend[];
  /** Of a break-out what is opened, and where it is cut. */
  readonly openings: readonly OpeningKept[];
  /** The cables that it works on: what it mends, opens or splices, and nothing that is only planned. */
  readonly worked: readonly RecordRef[];
  /** Circuits on the glass that the job works on, the most urgent first. */
  readonly circuits: readonly PacketCircuit[];
  /** The make of the cable that is mended, and how many strands it has; and what else lies in the broken way. */
  readonly make: PacketMend["make"];
  readonly neighbours: readonly RecordRef[];
  /** Equipment to be switched off, and ends to be taken for lit. */
  readonly light: LightFound;
  readonly owners: readonly PacketOwner[];
  readonly places: readonly PacketPlace[];
  /** Where the ways are broken, as far as that was known. */
  readonly breaks: readonly PacketBreak[];
  readonly steps: readonly JobStep[];
  readonly sheets: readonly SpliceSheet[];
  /** What a splice loses at most, by the limit in use; null where none is. */
  readonly splice_limit: { readonly db: number; readonly source: string } | null;
  readonly clashes: readonly Clash[];
  /** Cables that are cut too and that this job does not mend. */
  readonly left_out: readonly LeftOut[];
}

export async function packetOf(reader: Reader, asked: string | number, today: string): Promise<Packet> {
  const job = await jobNamed(reader, asked);
  const [plant] = await reader.rows<{ name: string }>("select name from plant order by id limit 1");
  const situations = job.steps.flatMap(({ act, input }) => {
    const kept = act === null ? (input as { readonly situation?: Situation } | null) : null;
    return kept?.situation ?? [];
  });
  const openings = job.steps.flatMap(({ act, input }) =>
    act === null ? ((input as { readonly opening?: OpeningKept } | null)?.opening ?? []) : [],
  );
  const situation = situations[0] ?? null;
  const worked = await workedOn(reader, job.steps, situations);
  const light = await lightInto(reader, worked, today);
  const places = await placesOf(reader, job, situations, light);
  const sheets = await spliceSheets(reader, job.steps, today);
  const circuits = await circuitsOf(reader, sheets, situations, today);
  const limit = (await limitsInUse(reader)).get("splice.limit");
  const mends: PacketMend[] = [];
  for (const one of situations) {
    mends.push({
      situation: one,
      make: await makeOf(reader, one.cable.id),
      neighbours: one.pathway ? await neighboursIn(reader, one.pathway.id, one.cable.id) : [],
    });
  }
  const { row } = job;
  return {
    plant: plant?.name ?? "",
    job: job.ref,
    reason: row.reason,
    state: row.state,
    people: row.people,
    starts_on: row.starts_on,
    replace_by: row.replace_by,
    today,
    cautions: await cautionsOf(reader, job, places),
    situation,
    situations,
    circuits,
    mends,
    openings,
    worked: worked.map(({ cable }) => cable),
    make: mends[0]?.make ?? null,
    neighbours: mends[0]?.neighbours ?? [],
    light,
    owners: await ownersOf(
      reader,
      situations.flatMap(({ pathway }) => pathway?.id ?? []),
      circuits,
    ),
    places,
    breaks: await breaksOf(reader, situations),
    steps: job.steps,
    sheets,
    splice_limit: limit ? { db: limit.value, source: limitSource(limit) } : null,
    clashes: await clashesOf(reader, job),
    left_out: job.steps.flatMap(({ input }) => (input as { readonly left_out?: LeftOut[] } | null)?.left_out ?? []),
  };
}

async function makeOf(reader: Reader, id: number): Promise<Packet["make"]> {
  const [row] = await reader.rows<{ type: string | null; strands: number }>(
    `select t.tag as type, (select count(*) from strand s where s.cable_id = c.id) as strands
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [id],
  );
  return row ?? null;
}

/** Other cables in the pathway, also by the pipe alone: whoever digs or pulls there meets them. */
async function neighboursIn(reader: Reader, pathway: number, cable: number): Promise<RecordRef[]> {
  const rows = await reader.rows<{ id: number }>(
    `select distinct c.id from leg l join stop s on s.id = l.from_stop_id join cable c on c.id = s.cable_id
       left join conduit k on k.id = l.conduit_id
     where ?1 in (l.pathway_id, k.pathway_id) and l.life in ('in_place', 'out_of_use') and c.id <> ?2
     order by c.tag_key, c.id`,
    [pathway, cable],
  );
  return refsOfRows(reader, "cable", rows);
}

interface CircuitRow {
  readonly id: number;
  readonly priority: number | null;
  readonly owner_id: number | null;
}

async function circuitsOf(
  reader: Reader,
  sheets: readonly SpliceSheet[],
  situations: readonly Situation[],
  today: string,
): Promise<PacketCircuit[]> {
  const onSheets = new Set(sheets.flatMap(({ rows }) => rows.flatMap((row) => row.circuits.map(({ id }) => id))));
  const rows = await reader.rows<CircuitRow>(
    `select c.id, c.priority, c.owner_id from circuit c
     where c.state = 'in_service' and (c.id in (select value from json_each(?)) or c.id in
       (select a.circuit_id from strand t join section s on s.strand_id = t.id join assignment a on a.section_id = s.id
        where t.cable_id in (select value from json_each(?)) and (a.until_on is null or a.until_on > ?)
          and not exists (select 1 from json_each(?) w where w.value = t.cable_id || ':' || t.number)))
     order by c.priority is null, c.priority, c.tag_key, c.id`,
    [
      JSON.stringify([...onSheets]),
      JSON.stringify(situations.map(({ cable }) => cable.id)),
      today,
      // What runs on whole is not touched.
      JSON.stringify(situations.flatMap(({ cable, whole = [] }) => whole.map((number) => `${cable.id}:${number}`))),
    ],
  );
  const circuits = await refsOf(
    reader,
    "circuit",
    rows.map(({ id }) => id),
  );
  const owners = await refsOf(reader, "party", new Set(rows.flatMap(({ owner_id }) => owner_id ?? [])));
  return rows.flatMap(({ id, priority, owner_id }) => {
    const circuit = circuits.get(id);
    return circuit ? [{ circuit, priority, owner: owner_id === null ? null : (owners.get(owner_id) ?? null) }] : [];
  });
}

/** Cautions of its acts first, then those of its own places, by what is on record of them. */
async function cautionsOf(reader: Reader, { steps }: Job, places: readonly PacketPlace[]): Promise<string[]> {
  const rows = await reader.rows<{ id: number; kind: string | null }>(
    "select id, kind from space where id in (select value from json_each(?))",
    [JSON.stringify(places.map(({ place }) => place.id))],
  );
  const minds = mindsOfAll(steps, new Map(rows.map(({ id, kind }) => [id, kind])));
  return [
    ...cautionWords(minds),
    ...places.flatMap(({ place, hazards }) =>
      hazards.length > 0
        ? [
            plural(
              hazards.length,
              "{1}: on record for it is {2}.",
              "{1}: on record for it are {2}.",
              place.tag,
              hazards.join(", "),
            ),
          ]
        : [],
    ),
  ];
}
