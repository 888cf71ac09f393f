/** What lies in stock and would do for a plan: a cable long enough with as many strands of the class, and a case. */
import { classWords } from "../light/classes.ts";
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { addressUnder } from "../trace/facts.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { MendStock } from "./answer.ts";
import { metres } from "./told.ts";

export interface Reel {
  readonly cable: RecordRef;
  readonly strands: number;
  readonly fibre_class: Row<"cable_type">["fibre_class"];
  /** By the marks at its ends, else by what is noted as coiled, else as it was measured; null where nothing says. */
  readonly length_m: number | null;
}

export interface Case {
  readonly closure: RecordRef;
  readonly capacity: number | null;
  readonly entries: number | null;
}

export interface Stock {
  readonly reels: readonly Reel[];
  readonly cases: readonly Case[];
}

export async function readStock(reader: Reader): Promise<Stock> {
  const rows = await reader.rows<{ id: number; strands: number }>(
    `select c.id, (select count(*) from strand t where t.cable_id = c.id) as strands
     from cable c where c.life = 'in_stock' order by c.tag_key`,
  );
  const cables = await Cables.read(
    reader,
    rows.map(({ id }) => id),
    [],
  );
  const noted = await notedLengths(
    reader,
    rows.map(({ id }) => id),
  );
  const cases = await reader.rows<{ id: number; tag: string; capacity: number | null; entries: number | null }>(
    `select id, tag, capacity, entries from closure where life = 'in_stock' and coalesce(kind, '') <> 'drawer'
     order by tag_key`,
  );
  return {
    reels: rows.flatMap(({ id, strands }) => {
      const cable = cables.byId.get(id);
      if (!cable) return [];
      const length_m = lengthOf(cable) ?? noted.get(id) ?? null;
      return [{ cable: cable.ref, strands, fibre_class: cable.fibre_class, length_m }];
    }),
    cases: cases.map(({ id, tag, capacity, entries }) => ({
      closure: { kind: "closure", id, tag: addressUnder("closure", null, tag) },
      capacity,
      entries,
    })),
  };
}

/**
 * Lengths of reels without marks: metres noted as coiled where they lie, else the shortest reading of its strands, cords left
 * out, less what glass is longer than the sheath.
 */
async function notedLengths(reader: Reader, ids: readonly number[]): Promise<Map<number, number>> {
  const rows = await reader.rows<{
    id: number;
    coiled_m: number | null;
    glass_m: number | null;
    excess: number | null;
  }>(
    `select c.id, (select sum(s.slack_m) from stop s where s.cable_id = c.id) as coiled_m,
       (select min(m.length_m) from strand t cross join measurement m
          on m.subject_kind = 'strand' and m.subject_id = t.id and m.cords_included is not 'yes' where t.cable_id = c.id) as glass_m,
       case when json_type(c.differs, '$.excess_ratio') is null then y.excess_ratio
         else json_extract(c.differs, '$.excess_ratio') end as excess
     from cable c left join cable_type y on y.id = c.type_id where c.id in (select value from json_each(?))`,
    [JSON.stringify(ids)],
  );
  return new Map(
    rows.flatMap(({ id, coiled_m, glass_m, excess }) => {
      // Where nobody knows by how much glass is longer, the sheath may be as much shorter: it isn't known then.
      const measured_m = glass_m === null || excess === null ? null : glass_m / (1 + excess);
      const length_m = coiled_m ?? measured_m;
      return length_m === null || length_m <= 0 ? [] : [[id, Math.round(length_m * 1000) / 1000] as const];
    }),
  );
}

function lengthOf({ sheath, stops }: CableFacts): number | null {
  const [first, last] = [stops[0], stops.at(-1)];
  if (!first || !last || first === last) return null;
  const { length_m, lacks } = sheath.length(first.id, last.id);
  return length_m !== null && length_m > 0 && lacks.length === 0 ? length_m : null;
}

export const glassWords = (fibre_class: Reel["fibre_class"]): string =>
  fibre_class === null ? say`glass of a class not on record` : classWords(fibre_class);

export interface Wanted {
  readonly metres: number;
  readonly strands: number;
  /** Strands that are spliced in each case, where some of the cable run on; else all. */
  readonly splices?: number;
  readonly fibre_class: Reel["fibre_class"];
  readonly cases: number;
}

/** What of the stock would do, the shortest reel that is long enough first; or that none does and what to buy. Pure. */
export function stockFor({ reels, cases }: Stock, wanted: Wanted): MendStock {
  const { strands, splices = strands, fibre_class } = wanted;
  const alike = reels.filter(
    (reel) => reel.strands >= strands && (fibre_class === null || reel.fibre_class === fibre_class),
  );
  const long = alike
    .filter(({ length_m }) => length_m !== null && length_m >= wanted.metres)
    .sort((a, b) => (a.length_m ?? 0) - (b.length_m ?? 0) || a.strands - b.strands);
  const unknown = alike.filter(({ length_m }) => length_m === null);
  const cable = wanted.metres > 0 ? ([...long, ...unknown][0] ?? null) : null;
  const count = counted(strands, "strand");
  const glass = fibre_class === null ? count : say`${count} of ${classWords(fibre_class)}`;
  const cable_words =
    wanted.metres <= 0
      ? null
      : cable === null
        ? say`No cable in stock would do: buy ${metres(wanted.metres)} with ${glass}.`
        : cable.length_m === null
          ? say`${cable.cable.tag} in stock may do: ${counted(cable.strands, "strand")}; how long it is, is not on record, and ${metres(wanted.metres)} are needed.`
          : say`${cable.cable.tag} in stock would do: ${counted(cable.strands, "strand")}, ${metres(cable.length_m)}, and ${metres(wanted.metres)} are needed.`;
  const room = (one: Case): boolean => (one.capacity ?? splices) >= splices && (one.entries ?? 2) >= 2;
  const known = (one: Case): boolean => one.capacity !== null && one.entries !== null;
  const fitting = cases
    .filter(room)
    .sort((a, b) => Number(known(b)) - Number(known(a)) || (a.capacity ?? 0) - (b.capacity ?? 0));
  const chosen = fitting.slice(0, wanted.cases);
  const tags = chosen
    .map((one) => `${one.closure.tag}${known(one) ? "" : say` (its room is not on record)`}`)
    .join(say` and `);
  const buy = wanted.cases - chosen.length;
  const each = say`for ${counted(splices, "splice")} and 2 cables`;
  const case_words =
    wanted.cases === 0
      ? null
      : buy === 0
        ? plural(wanted.cases, "In stock for the case: {1}.", "In stock for the cases: {1}.", tags)
        : plural(
            buy,
            "{1}: buy a case {2}.",
            "{1}: buy {0} cases {2}.",
            chosen.length === 0 ? say`No case in stock would do` : say`Only ${tags} in stock would do`,
            each,
          );
  return {
    cable: cable?.cable ?? null,
    cable_proven: cable !== null && cable.length_m !== null,
    cases: chosen.map(({ closure }) => closure),
    words: [cable_words, case_words].flatMap((one) => one ?? []),
  };
}
