/** A cut that left some strands whole: which are dark, which still shine, and what severing those takes down. */
import { refuse } from "../result.ts";
import { numberRuns, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { MendCircuit, MendShining, MendStrand } from "./answer.ts";

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
    const reason = "is not among the strands that come by the cut";
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
    words: `Strands ${strands} still shine. Two points at places it passes leave them whole; every other way severs them, which takes down ${
      named.length === 0 ? "no circuit on record" : named.join(", ")
    }: that is for somebody to decide.`,
  };
}
