/** The units of a cable in the order in which they are spliced: the one with the most urgent circuit first, then as they lie. */
import type { Row } from "../model/dictionary.ts";
import { addressesOf, numberRuns, refsOf } from "../store/addresses.ts";
import { unitColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

export interface GlassUnit {
  /** "tube 3 green (F-012/3)", or "the strands" of a cable without units. */
  readonly words: string;
  readonly numbers: readonly number[];
  /** `1-12`. */
  readonly range: string;
  /** Circuits in service in it, the most urgent first. */
  readonly circuits: readonly RecordRef[];
  readonly priority: number | null;
  /** Spliced at once, strand beside strand. */
  readonly ribbon: boolean;
  /** Those of its numbers that carry circuits in service. */
  readonly lit: readonly number[];
  /** Nothing waits for it: it is spliced when the light is back in the others. */
  readonly later?: boolean;
}

/** Places it takes in a tray: a ribbon is spliced at once and takes one. */
export const placesOf = ({ ribbon, numbers }: Pick<GlassUnit, "ribbon" | "numbers">): number =>
  ribbon ? 1 : numbers.length;

interface StrandRow {
  readonly number: number;
  readonly unit_id: number | null;
  readonly kind: Row<"unit">["kind"] | null;
}
interface CircuitRow {
  readonly number: number;
  readonly id: number;
  readonly priority: number | null;
}

/** A circuit without a priority comes after all that have one: priorities are 1 to 9. */
const LAST = 10;

/** The stops on both sides of a cut, by their order along the cable. */
export interface CutBetween {
  readonly before: number;
  readonly after: number;
}

/**
 * @param only of these strands alone; null for all
 * @param cut only circuits of glass that runs there: a strand cut apart elsewhere carries others on its other sections;
 *   null for circuits anywhere on the cable
 */
export async function glassUnits(
  reader: Reader,
  cable_id: number,
  day: string,
  only: ReadonlySet<number> | null = null,
  cut: CutBetween | null = null,
): Promise<GlassUnit[]> {
  const strands = (
    await reader.rows<StrandRow>(
      `select t.number, t.unit_id, u.kind from strand t left join unit u on u.id = t.unit_id
       where t.cable_id = ? order by t.number`,
      [cable_id],
    )
  ).filter(({ number }) => only === null || only.has(number));
  const lit = await reader.rows<CircuitRow>(
    `select distinct t.number, c.id, c.priority
     from strand t join section s on s.strand_id = t.id join assignment a on a.section_id = s.id
       join circuit c on c.id = a.circuit_id
       left join stop sa on sa.id = s.a_stop_id left join stop sb on sb.id = s.b_stop_id
     where (coalesce(min(sa.ordinal, sb.ordinal) < ?, 1) and coalesce(max(sa.ordinal, sb.ordinal) > ?, 1))
       and t.cable_id = ? and c.state = 'in_service' and (a.until_on is null or a.until_on > ?)
     order by c.priority is null, c.priority, c.tag, t.number`,
    [cut?.after ?? Number.MAX_SAFE_INTEGER, cut?.before ?? -1, cable_id, day],
  );
  const ids = [...new Set(strands.flatMap(({ unit_id }) => unit_id ?? []))];
  const [names, layers, circuits] = [
    await addressesOf(reader, "unit", ids),
    await unitColours(reader, ids),
    await refsOf(reader, "circuit", new Set(lit.map(({ id }) => id))),
  ];
  const byNumber = Map.groupBy(lit, ({ number }) => number);
  const units = [...Map.groupBy(strands, ({ unit_id }) => unit_id)].map(([unit_id, own]): GlassUnit => {
    const numbers = own.map(({ number }) => number);
    const on = numbers.flatMap((number) => byNumber.get(number) ?? []);
    const priority = Math.min(LAST, ...on.map((one) => one.priority ?? LAST));
    const sorted = on.toSorted((a, b) => (a.priority ?? LAST) - (b.priority ?? LAST));
    const colours = unit_id === null ? [] : (layers.get(unit_id) ?? []);
    const colour = colours.map(({ words }) => words).join(", ");
    return {
      words: unit_id === null ? say`the strands` : `${colour || "unit"} (${names.get(unit_id) ?? unit_id})`,
      numbers,
      range: numberRuns(numbers),
      circuits: [...new Set(sorted.map(({ id }) => id))].flatMap((id) => circuits.get(id) ?? []),
      priority: priority === LAST ? null : priority,
      ribbon: own[0]?.kind === "ribbon" && numbers.length > 1,
      lit: numbers.filter((number) => byNumber.has(number)),
    };
  });
  return units.sort((a, b) => urgency(a) - urgency(b) || (a.numbers[0] ?? 0) - (b.numbers[0] ?? 0));
}

/** With a circuit of no priority before without a circuit. */
export const urgency = ({ priority, circuits }: Pick<GlassUnit, "priority" | "circuits">): number =>
  priority ?? (circuits.length > 0 ? LAST : LAST + 1);
