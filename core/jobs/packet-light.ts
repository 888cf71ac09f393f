/**
 * What shines into the glass that is worked on: equipment by device, port and place, as the trace finds it from every strand
 * of the cable; and ports at which strands end of which nobody wrote down what is plugged in.
 */
import { shortRange } from "../act/numbering.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef, TraceEnd, TraceLine } from "../trace/answer.ts";
import { traced } from "../trace/trace.ts";
import type { Worked } from "./packet-worked.ts";

export interface PacketLight {
  /** The equipment's port. */
  readonly port: RecordRef;
  readonly place: RecordRef | null;
  /** "equipment, 10GBASE-LR". */
  readonly words: string;
  /** The strands it shines into, as `F-012:1-2`. */
  readonly strands: string;
  readonly circuits: readonly RecordRef[];
}

export interface PacketUnseen {
  readonly place: RecordRef | null;
  readonly strands: string;
  readonly count: number;
  /** The ports they end at, as `LIB/101/A:01-12`. */
  readonly ports: readonly string[];
  readonly circuits: readonly RecordRef[];
}

export interface LightFound {
  readonly equipment: readonly PacketLight[];
  /** By place, strands whose ends nobody has looked at: they are taken for lit. */
  readonly unseen: readonly PacketUnseen[];
}

interface SectionRow {
  readonly id: number;
  readonly cable_id: number;
  readonly cable: string;
  readonly number: number;
}

interface Shining {
  readonly end: TraceEnd;
  readonly strands: SectionRow[];
  readonly circuits: Map<number, RecordRef>;
}

interface Unseen {
  readonly place: RecordRef | null;
  readonly strands: SectionRow[];
  readonly ports: Set<string>;
  readonly circuits: Map<number, RecordRef>;
}

/** @param worked the cables whose strands are touched, and which */
export async function lightInto(reader: Reader, worked: readonly Worked[], today: string): Promise<LightFound> {
  const touched = new Map(worked.map(({ cable, strands }) => [cable.id, strands]));
  const all = await reader.rows<SectionRow>(
    `select s.id, c.id as cable_id, c.tag as cable, t.number from section s join strand t on t.id = s.strand_id
       join cable c on c.id = t.cable_id
     where c.id in (select value from json_each(?1)) and (
       exists (select 1 from termination m where m.section_id = s.id and m.life in ('in_place', 'out_of_use'))
       or exists (select 1 from splice p where p.a_section_id = s.id and p.life in ('in_place', 'out_of_use'))
       or exists (select 1 from splice p where p.b_section_id = s.id and p.life in ('in_place', 'out_of_use')))
     order by c.tag_key, t.number, s.ordinal`,
    [JSON.stringify([...touched.keys()])],
  );
  const sections = all.filter(({ cable_id, number }) => touched.get(cable_id)?.has(number) ?? true);
  const shining = new Map<string, Shining>();
  const unseen = new Map<number, Unseen>();
  for (const section of sections) {
    const { answer } = await traced(reader, { kind: "section", id: section.id }, today);
    for (const line of answer.lines) {
      for (const end of [line.from, line.to]) {
        const { record, place } = end;
        if (end.kind === "interface" && record) {
          const key = `${record.kind} ${record.id}`;
          const one: Shining = shining.get(key) ?? { end, strands: [], circuits: new Map() };
          one.strands.push(section);
          for (const circuit of circuitsOn(line)) one.circuits.set(circuit.id, circuit);
          shining.set(key, one);
        } else if (end.kind === "record_ends" || end.kind === "handed_over") {
          const own = place?.space ?? null;
          const one: Unseen = unseen.get(own?.id ?? 0) ?? {
            place: own,
            strands: [],
            ports: new Set(),
            circuits: new Map(),
          };
          one.strands.push(section);
          if (record?.kind === "port" || record?.kind === "position") one.ports.add(record.tag.replace(/#\d+$/, ""));
          for (const circuit of circuitsOn(line)) one.circuits.set(circuit.id, circuit);
          unseen.set(own?.id ?? 0, one);
        }
      }
    }
  }
  return {
    equipment: [...shining.values()].map(({ end, strands, circuits }) => ({
      port: end.record as RecordRef,
      place: end.place?.space ?? null,
      words: end.words,
      strands: rangeOf(strands),
      circuits: [...circuits.values()],
    })),
    unseen: [...unseen.values()].map(({ place, strands, ports, circuits }) => ({
      place,
      strands: rangeOf(strands),
      ports: portRuns([...ports]),
      circuits: [...circuits.values()],
      count: new Set(strands.map(({ cable, number }) => `${cable} ${number}`)).size,
    })),
  };
}

const circuitsOn = ({ hops }: TraceLine): RecordRef[] =>
  hops.flatMap(({ kind, circuits }) => (kind === "strand" ? circuits : []));

const rangeOf = (sections: readonly SectionRow[]): string =>
  [...Map.groupBy(sections, ({ cable }) => cable)]
    .map(
      ([cable, own]) => `${cable}:${shortRange([...new Set(own.map(({ number }) => number))].sort((a, b) => a - b))}`,
    )
    .join(", ");

/** `LIB/101/A:01`, `LIB/101/A:02` are `LIB/101/A:01-02`; ports of other names stand one by one. */
function portRuns(ports: readonly string[]): string[] {
  const runs: { head: string; first: string; last: string }[] = [];
  for (const tag of ports) {
    const [, head = tag, number = ""] = /^(.*\D)(\d+)$/.exec(tag) ?? [];
    const run = runs.at(-1);
    if (run && number !== "" && run.head === head && Number(number) === Number(run.last) + 1) run.last = number;
    else runs.push({ head, first: number, last: number });
  }
  return runs.map(({ head, first, last }) => `${head}${first}${last === first ? "" : `-${last}`}`);
}
