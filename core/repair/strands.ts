/**
 * The strands that a cut goes through, in the order in which they are spliced: the unit with the most urgent circuit first,
 * then as they lie in the tray. A ribbon is spliced at once, so the order is of units and never inside one.
 */
import type { ImpactByGlass } from "../impact/impact.ts";
import type { Reader } from "../store/handle.ts";
import { Cables } from "../trace/cables.ts";
import { type SectionFacts, sectionsOf } from "../trace/facts.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendStrand } from "./answer.ts";

interface Lying {
  readonly number: number;
  readonly unit_id: number | null;
  /** Places of its circuits in the list of all that are hit, the most urgent first. */
  readonly circuits: readonly number[];
}

/** Strands by the urgency of their unit, those of one unit side by side as they lie. Pure. */
export function spliceOrder<S extends Lying>(strands: readonly S[]): S[][] {
  const urgency = (unit: readonly S[]): number =>
    Math.min(Number.POSITIVE_INFINITY, ...unit.flatMap(({ circuits }) => circuits));
  const units = [...Map.groupBy(strands, ({ unit_id }) => unit_id).values()].map((unit) => {
    const lying = unit.toSorted((a, b) => a.number - b.number);
    return { lying, urgency: urgency(lying), first: lying[0]?.number ?? 0 };
  });
  // Infinity less itself is no number: units without a circuit are alike.
  return units
    .sort((a, b) => (a.urgency === b.urgency ? a.first - b.first : a.urgency - b.urgency))
    .map(({ lying }) => lying);
}

/** The strands cut, in order of their splicing, each with the colours to find it by and the circuits on it. */
export async function strandsCut(
  reader: Reader,
  cables: Cables,
  { answer, sections, circuitsOn }: ImpactByGlass,
): Promise<MendStrand[]> {
  const facts = await sectionsOf(
    reader,
    sections.map(({ id }) => id),
  );
  // Where the record doesn't say at which stop glass ends, more than one piece of a strand may be meant.
  const once = new Map([...facts.values()].toReversed().map((section) => [section.strand_id, section]));
  const all = [...once.values()];
  await Cables.read(
    reader,
    [],
    all.flatMap(({ unit_id }) => unit_id ?? []),
    [],
    cables,
  );
  const rank = new Map(answer.circuits.map(({ circuit }, index) => [circuit.id, index]));
  const serves = answer.circuits.map(({ state }) => state === "in_service");
  const hit = answer.circuits.map(({ circuit, priority, state }): MendCircuit => ({ circuit, priority, state }));
  const lying = all.map((section) => {
    const own = (circuitsOn.get(section.id) ?? []).flatMap((id) => rank.get(id) ?? []);
    const all = own.sort((a, b) => a - b);
    // What is only planned or reserved hurries nobody.
    const circuits = all.filter((one) => serves[one]);
    return { section, number: section.number, unit_id: section.unit_id, circuits, all };
  });
  return spliceOrder(lying).flatMap((unit, index) =>
    unit.map(({ section, number, all: circuits }): MendStrand => {
      const { unit, words, ribbon } = coloursOf(cables, section);
      return {
        number,
        section: section.id,
        unit,
        words,
        ribbon,
        unit_order: index + 1,
        circuits: circuits.flatMap((one) => hit[one] ?? []),
      };
    }),
  );
}

function coloursOf(cables: Cables, section: SectionFacts): Pick<MendStrand, "unit" | "words" | "ribbon"> {
  const layers = cables.coloursOf(section);
  return {
    unit: cables.unitWords(section),
    words: layers.at(-1)?.words ?? say`strand ${section.number}`,
    ribbon: layers.some(({ what }) => what === "ribbon"),
  };
}
