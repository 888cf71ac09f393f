/** The lines of a circuit that run over the cut, whole: as they are traced, or joined again where the cut is on record. */
import { type LightFacts, readLightFacts } from "../light/facts.ts";
import { waysOf } from "../light/ways.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop } from "../trace/answer.ts";
import type { Sheath } from "../trace/sheath.ts";
import { toMillimetre } from "../trace/totals.ts";
import { traced } from "../trace/trace.ts";
import { say } from "../words/say.ts";
import type { MendStrand } from "./answer.ts";

export interface CutLine {
  readonly hops: readonly Hop[];
  /** Place of the cut strand among them. */
  readonly at: number;
  readonly light: LightFacts;
}

/** The glass beyond a cut on record, and the sheath of both halves as it lay before; null where that is not known. */
interface Far {
  readonly section: number;
  readonly length_m: number | null;
}

/** By the glass before the cut. */
export type Halves = ReadonlyMap<number, Far>;

interface HalfRow {
  readonly near: number;
  readonly far: number;
  readonly from_stop: number | null;
  readonly to_stop: number | null;
}

/** @param sheath the cable as it lay before the cut */
export async function readHalves(
  reader: Reader,
  sections: Iterable<number>,
  stop_id: number,
  sheath: Pick<Sheath, "length">,
): Promise<Halves> {
  const rows = await reader.rows<HalfRow>(
    `select n.id as near, f.id as far, case when n.b_stop_id = ? then n.a_stop_id else n.b_stop_id end as from_stop,
       case when f.a_stop_id = ? then f.b_stop_id else f.a_stop_id end as to_stop
     from section n join section f on f.strand_id = n.strand_id and f.id <> n.id
     where n.id in (select value from json_each(?)) and (f.a_stop_id = ? or f.b_stop_id = ?)`,
    [stop_id, stop_id, JSON.stringify([...sections]), stop_id, stop_id],
  );
  return new Map(
    rows.map(({ near, far, from_stop, to_stop }) => {
      const { length_m } = sheath.length(from_stop, to_stop);
      return [near, { section: far, length_m: length_m === null ? null : toMillimetre(length_m) }];
    }),
  );
}

/** Refuses as `trace` does. */
export async function linesOverCut(
  reader: Reader,
  circuit: number,
  order: readonly MendStrand[],
  halves: Halves | null,
  today: string,
): Promise<CutLine[]> {
  const own = order.filter(({ circuits }) => circuits.some((one) => one.circuit.id === circuit));
  const lines: CutLine[] = [];
  // What the cut left whole is traced over it as it always was.
  const sections = new Set(
    (halves === null ? order : own).flatMap(({ section }) => (halves?.has(section) ? [] : [section])),
  );
  if (sections.size > 0) {
    const { answer, facts } = await traced(reader, { kind: "circuit", id: circuit }, today);
    const ways = answer.lines.flatMap((line) => waysOf(line, answer.asked));
    const light = await readLightFacts(reader, new Set(ways.flatMap(({ hops }) => hops)), facts);
    lines.push(
      ...ways.flatMap(({ hops }): CutLine[] => {
        const at = hops.findIndex(({ kind, record }) => kind === "strand" && sections.has(record.id));
        return at < 0 ? [] : [{ hops, at, light }];
      }),
    );
  }
  for (const { section } of own) {
    const far = halves?.get(section);
    if (far) lines.push(await joined(reader, section, far, today));
  }
  return lines;
}

async function joined(reader: Reader, near: number, far: Far, today: string): Promise<CutLine> {
  const [one, other] = [await halfOf(reader, near, today), await halfOf(reader, far.section, today)];
  const before = one.at === 0 ? one.hops.toReversed() : one.hops;
  const beyond = other.at === 0 ? other.hops : other.hops.toReversed();
  const own = before.at(-1) as Hop;
  const { length_m } = far;
  const ratio = own.length_m && own.glass_m ? own.glass_m / own.length_m : null;
  const whole: Hop = {
    ...own,
    length_m,
    glass_m: length_m === null || ratio === null ? null : toMillimetre(length_m * ratio),
    lacks: length_m === null ? say`its length before the cut is not on record` : own.lacks,
  };
  return {
    hops: [...before.slice(0, -1), whole, ...beyond.slice(1)],
    at: before.length - 1,
    light: merged(one.light, other.light),
  };
}

async function halfOf(reader: Reader, section: number, today: string): Promise<CutLine> {
  const { answer, facts } = await traced(reader, { kind: "section", id: section }, today);
  const hops = answer.lines[0]?.hops ?? [];
  const light = await readLightFacts(reader, new Set(hops), facts);
  return { hops, at: hops.findIndex(({ kind, record }) => kind === "strand" && record.id === section), light };
}

function merged(a: LightFacts, b: LightFacts): LightFacts {
  const both = <K, V>(one: ReadonlyMap<K, V>, other: ReadonlyMap<K, V>): Map<K, V> => new Map([...one, ...other]);
  return {
    splices: both(a.splices, b.splices),
    landings: both(a.landings, b.landings),
    cords: both(a.cords, b.cords),
    joins: both(a.joins, b.joins),
    ports: both(a.ports, b.ports),
    optics: both(a.optics, b.optics),
    circuits: both(a.circuits, b.circuits),
    glass: both(a.glass, b.glass),
    readings: [...new Map([...a.readings, ...b.readings].map((reading) => [reading.id, reading])).values()],
    further: new Set([...a.further, ...b.further]),
  };
}
