/** A cut that left some strands whole: which are dark, which still shine, and what severing those takes down. */

import { formatLength } from "../model/units.ts";
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import { numberRuns, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendShining, MendStrand } from "./answer.ts";
import type { MendPlan } from "./plan.ts";
import type { CourseOnRecord } from "./read-course.ts";

const metres = (value: number): string => formatLength(value, "m", 1);

/** The strands cut, those that still shine marked. Refuses what names no strand of the cut. */
export async function darkAmong(
  reader: Reader,
  tag: string,
  dark: string,
  order: readonly MendStrand[],
): Promise<MendStrand[]> {
  const { strands } = await resolveStrands(reader, `${tag} ${dark.trim()}`, { field: "dark" });
  const here = new Set(order.map(({ number }) => number));
  const elsewhere = strands.filter(({ number }) => !here.has(number)).map(({ number }) => number);
  if (elsewhere.length > 0) {
    const reason = say`is not among the strands that come by the cut`;
    refuse("bad_input", `${tag}:${numberRuns(elsewhere)} ${reason}.`, [
      { field: "dark", record: `${tag}:${numberRuns(elsewhere)}`, reason },
    ]);
  }
  const numbers = new Set(strands.map(({ number }) => number));
  const marked = order.map((strand) => ({ ...strand, shines: !numbers.has(strand.number) }));
  // Units with a dark strand come back in the same order; the rest is not waiting.
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
  { kind, landed }: Pick<MendPlan, "kind" | "landed">,
  cut_at: number,
  down: readonly MendCircuit[],
): MendCircuit[] {
  if (kind !== "new_cable" && landed === null) return [];
  const gone = new Set(down.map(({ circuit }) => circuit.id));
  const moved = all.filter(
    ({ from, to }) => kind === "new_cable" || (landed === "right" ? to > cut_at : from < cut_at),
  );
  return [...new Map(moved.map(({ circuit }) => [circuit.circuit.id, circuit])).values()].filter(
    ({ circuit }) => !gone.has(circuit.id),
  );
}

/**
 * What is to prove where strands of a sheath that others go on shining in are spliced at places it passes: it is opened in
 * place, which takes the window and twice the reach, as a break-out does; nothing is pulled for it in such a plan.
 */
export function openedInPlace(
  { points }: Pick<MendPlan, "points">,
  { course, stops }: CourseOnRecord,
  limits: Limits,
): string[] {
  const [window_m, preparation_m] = ["breakout.window_m", "repair.preparation_m"].map(
    (tag) => limits.get(tag)?.value ?? 0,
  ) as [number, number];
  return points.flatMap(({ at, work_m }) => {
    const stop = at === "cut" ? undefined : course.stops[at];
    if (at === "cut" || stop?.kind !== "passing") return [];
    const name = stops[at]?.name;
    const needs_m = window_m + 2 * Math.max(0, work_m - preparation_m);
    if (stop.coil_left_m === null)
      return [
        say`whether ${metres(needs_m)} of sheath come out at ${name} to open it in place: what is coiled there is not known`,
      ];
    const lies_m = stop.through_m + stop.coil_left_m;
    return lies_m >= needs_m
      ? []
      : [
          say`whether the sheath can be opened in place at ${name}: a loop that comes out takes ${metres(needs_m)}, and ${metres(lies_m)} lie there`,
        ];
  });
}

export function shiningOf(order: readonly MendStrand[], down: readonly MendCircuit[]): MendShining | null {
  const shining = order.filter(({ shines }) => shines);
  if (shining.length === 0) return null;
  const gone = new Set(down.map(({ circuit }) => circuit.id));
  const circuits = circuitsOf(shining).filter((one) => serves(one) && !gone.has(one.circuit.id));
  const strands = numberRuns(shining.map(({ number }) => number).sort((a, b) => a - b));
  const named = circuits.map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`);
  return {
    strands,
    units: [...new Set(shining.flatMap(({ unit }) => unit ?? []))],
    circuits,
    words: say`Strands ${strands} still shine. Two points at places it passes leave them whole; every other way severs them, which takes down ${
      named.length === 0 ? say`no circuit on record` : named.join(", ")
    }: that is for somebody to decide.`,
  };
}
