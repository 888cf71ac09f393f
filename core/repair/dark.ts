/** A cut that left some strands whole: which are dark, which still shine, and what severing those takes down. */

import { refuse } from "../result.ts";
import { numberRuns, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendShining, MendStrand } from "./answer.ts";
import type { MendPlan } from "./plan.ts";

interface AtCut {
  readonly number: number;
  /** It ends at the cut that is on record. */
  readonly cut: 0 | 1;
}

/**
 * The dark strands of a cut, as they were named or as the cut is on record; null where none of those that come by it is whole.
 * Refuses what names no strand of the cut.
 * @param between the stops beside the cut, by their order along the cable
 * @param past strands that go past it over other cable already, and come by it no more
 */
export async function darkOf(
  reader: Reader,
  cable: RecordRef,
  named: string | null,
  {
    between,
    stop_id,
    past,
  }: {
    readonly between: readonly [number, number];
    readonly stop_id: number | null;
    readonly past: ReadonlySet<number>;
  },
): Promise<ReadonlySet<number> | null> {
  if (named === null && stop_id === null) return null;
  const [before, after] = between;
  const all = await reader.rows<AtCut>(
    `select t.number, max(s.a_stop_id is ?1 or s.b_stop_id is ?1) as cut
     from strand t join section s on s.strand_id = t.id
       left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where t.cable_id = ?2 and (s.a_stop_id is ?1 or s.b_stop_id is ?1
       or (coalesce(min(a.ordinal, b.ordinal), a.ordinal, -1) < ?4 and coalesce(max(a.ordinal, b.ordinal), ?4) > ?3))
     group by t.number order by t.number`,
    [stop_id ?? 0, cable.id, before, after],
  );
  const here = all.filter(({ number }) => !past.has(number));
  const numbers = named === null ? cutOf(here) : await namedOf(reader, cable.tag, named, here);
  return numbers.size === 0 || here.every(({ number }) => numbers.has(number)) ? null : numbers;
}

const cutOf = (here: readonly AtCut[]): Set<number> =>
  new Set(here.flatMap(({ number, cut }) => (cut === 1 ? [number] : [])));

async function namedOf(reader: Reader, tag: string, dark: string, here: readonly AtCut[]): Promise<Set<number>> {
  const { strands } = await resolveStrands(reader, `${tag} ${dark.trim()}`, { field: "dark" });
  const come = new Set(here.map(({ number }) => number));
  const elsewhere = strands.filter(({ number }) => !come.has(number)).map(({ number }) => number);
  if (elsewhere.length > 0) {
    const reason = say`is not among the strands that come by the cut`;
    refuse("bad_input", `${tag}:${numberRuns(elsewhere)} ${reason}.`, [
      { field: "dark", record: `${tag}:${numberRuns(elsewhere)}`, reason },
    ]);
  }
  return new Set(strands.map(({ number }) => number));
}

/** The strands cut, those that still shine marked: units with a dark strand come back in the same order, the rest is not waiting. */
export function darkAmong(order: readonly MendStrand[], numbers: ReadonlySet<number>): MendStrand[] {
  const marked = order.map((strand) => ({ ...strand, shines: !numbers.has(strand.number) }));
  return [...marked.filter(({ shines }) => !shines), ...marked.filter(({ shines }) => shines)];
}

export const serves = ({ state }: MendCircuit): boolean => state === undefined || state === "in_service";

/** Circuits of some strands, each once, the most urgent first. */
export function circuitsOf(strands: readonly MendStrand[]): MendCircuit[] {
  const all = new Map(strands.flatMap(({ circuits }) => circuits.map((one) => [one.circuit.id, one] as const)));
  return [...all.values()].sort((a, b) => (a.priority ?? 99) - (b.priority ?? 99));
}

/** A circuit in service on glass of the cable, and between which of its stops that glass lies, by their place in the course. */
export interface OnCable {
  readonly circuit: MendCircuit;
  readonly from: number;
  readonly to: number;
}

interface OnCableRow {
  readonly id: number;
  readonly tag: string;
  readonly priority: number | null;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
}

/**
 * Every circuit in service on the cable, once for each piece of its glass.
 * @param placeOf a stop's place in the course; a cut that waits lies between two
 */
export async function circuitsOnCable(
  reader: Reader,
  cable_id: number,
  today: string,
  placeOf: (stop_id: number) => number | null,
): Promise<OnCable[]> {
  const rows = await reader.rows<OnCableRow>(
    `select distinct c.id, c.tag, c.priority, s.a_stop_id, s.b_stop_id
     from strand t join section s on s.strand_id = t.id join assignment a on a.section_id = s.id
       join circuit c on c.id = a.circuit_id
     where t.cable_id = ? and c.state = 'in_service' and (a.until_on is null or a.until_on > ?)
     order by c.priority is null, c.priority, c.tag_key, s.a_stop_id`,
    [cable_id, today],
  );
  // Glass of which nobody said where it ends runs to the end of the cable.
  return rows.map(({ id, tag, priority, a_stop_id, b_stop_id }) => ({
    circuit: { circuit: { kind: "circuit", id, tag }, priority, state: "in_service" },
    from: (a_stop_id === null ? null : placeOf(a_stop_id)) ?? 0,
    to: (b_stop_id === null ? null : placeOf(b_stop_id)) ?? Number.MAX_SAFE_INTEGER,
  }));
}

/**
 * Circuits that the cut left alone and that new cable in the place of the old takes down, while their glass is moved over.
 * @param cut_at where the cut lies among the stops of the course
 */
export function alsoMoved(
  all: readonly OnCable[],
  { kind, landed, dark_only }: Pick<MendPlan, "kind" | "landed" | "dark_only">,
  cut_at: number,
  down: readonly MendCircuit[],
): MendCircuit[] {
  if (dark_only || (kind !== "new_cable" && landed === null)) return [];
  const gone = new Set(down.map(({ circuit }) => circuit.id));
  const moved = all.filter(
    ({ from, to }) => kind === "new_cable" || (landed === "right" ? to > cut_at : from < cut_at),
  );
  return [...new Map(moved.map(({ circuit }) => [circuit.circuit.id, circuit])).values()].filter(
    ({ circuit }) => !gone.has(circuit.id),
  );
}

export function shiningOf(order: readonly MendStrand[], down: readonly MendCircuit[], tag: string): MendShining | null {
  const shining = order.filter(({ shines }) => shines);
  if (shining.length === 0) return null;
  const gone = new Set(down.map(({ circuit }) => circuit.id));
  const circuits = circuitsOf(shining).filter((one) => serves(one) && !gone.has(one.circuit.id));
  const strands = rangeOf(shining);
  return {
    strands,
    units: [...new Set(shining.flatMap(({ unit }) => unit ?? []))],
    circuits,
    words: say`Strands ${strands} still shine, so the sheath stays whole: none of it is cut off or drawn out of its way, and what is strained at the cut is not moved. The dark strands alone are cut: at a place it passes in a loop that is opened there and to which coils on its side of the cut lend, where it is opened already in the case there, and at its end new cable is landed in their place; every other way severs the rest, which takes down ${namesOf(
      circuits,
    )}: that is for somebody to decide.`,
    beside: besideDark(order, down, tag),
  };
}

const rangeOf = (strands: readonly MendStrand[]): string =>
  numberRuns(strands.map(({ number }) => number).sort((a, b) => a - b));

function namesOf(circuits: readonly MendCircuit[]): string {
  const named = circuits.map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`);
  return named.length === 0 ? say`no circuit on record` : named.join(", ");
}

/** Units in which some strands are dark and others shine: they are entered with light in them, or cut whole by choice. */
function besideDark(order: readonly MendStrand[], down: readonly MendCircuit[], tag: string): string[] {
  const gone = new Set(down.map(({ circuit }) => circuit.id));
  return [...Map.groupBy(order, ({ unit_order }) => unit_order).values()].flatMap((strands) => {
    const [lit, dark] = [strands.filter(({ shines }) => shines), strands.filter(({ shines }) => !shines)];
    const [first] = dark;
    if (lit.length === 0 || !first?.unit) return [];
    const circuits = circuitsOf(lit).filter((one) => serves(one) && !gone.has(one.circuit.id));
    const how = first.ribbon
      ? say`the ribbon is split beside strands that shine, which may break them`
      : say`it is opened with those in it, which may bend or break them`;
    return [
      say`Strands ${rangeOf(dark)} of ${tag} lie in ${first.unit} beside ${rangeOf(lit)}, which shine: ${how}. To cut all of it instead, name ${rangeOf(strands)} as dark: that takes down ${namesOf(circuits)}, and is for somebody to decide.`,
    ];
  });
}
