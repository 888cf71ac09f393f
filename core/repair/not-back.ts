/**
 * Circuits that no mend of a cut brings back: the glass that is cut was joined to nothing at its other end before, on record,
 * so that light got no farther by it than that.
 */
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { plural } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { MendStrand, NotBack } from "./answer.ts";
import { serves } from "./dark.ts";

interface EndRow {
  readonly section_id: number;
  readonly stop: number | null;
  readonly space_id: number | null;
}

/** Of the strands that are cut. Where glass ends at another cut, that cut is told by itself. */
export async function notBack(reader: Reader, cable: string, order: readonly MendStrand[]): Promise<NotBack[]> {
  const lit = order.filter(({ circuits }) => circuits.some(serves));
  const rows = await reader.rows<EndRow>(
    `with ends (section_id, side, stop_id) as (
       select id, 'A', a_stop_id from section where id in (select value from json_each(?1))
       union all select id, 'B', b_stop_id from section where id in (select value from json_each(?1)))
     select e.section_id, st.ordinal as stop, st.space_id from ends e left join stop st on st.id = e.stop_id
     where st.kind is not 'severed'
       and not exists (select 1 from splice p where p.a_section_id = e.section_id and p.a_side = e.side and p.life in ('in_place', 'out_of_use'))
       and not exists (select 1 from splice p where p.b_section_id = e.section_id and p.b_side = e.side and p.life in ('in_place', 'out_of_use'))
       and not exists (select 1 from termination p where p.section_id = e.section_id and p.side = e.side and p.life in ('in_place', 'out_of_use'))
     order by e.section_id, e.side`,
    [JSON.stringify(lit.map(({ section }) => section))],
  );
  const names = await addressesOf(reader, "space", new Set(rows.flatMap(({ space_id }) => space_id ?? [])));
  const ends = Map.groupBy(rows, ({ section_id }) => section_id);
  const told = new Map<number, NotBack>();
  for (const { section, number, circuits } of lit) {
    const [end] = ends.get(section) ?? [];
    if (!end) continue;
    const place = names.get(end.space_id ?? 0) ?? (end.stop === null ? null : `${cable}@${end.stop}`);
    const words =
      place === null
        ? say`${cable}:${number} is joined to nothing at one end on record`
        : say`${cable}:${number} is joined to nothing at ${place} on record`;
    for (const one of circuits.filter(serves))
      if (!told.has(one.circuit.id)) told.set(one.circuit.id, { circuit: one.circuit, words });
  }
  return [...told.values()];
}

/** A further sentence of the answer; empty where every circuit comes back. */
export function notBackSentence(all: readonly NotBack[]): string {
  if (all.length === 0) return "";
  const [first] = all;
  const tags = all.slice(0, 6).map(({ circuit }) => circuit.tag);
  const more = all.length > tags.length ? [say`${all.length - tags.length} more`] : [];
  return plural(
    all.length,
    " No way brings back {1}, for {2}.",
    " No way brings back {1}: the first because {2}.",
    listed([...tags, ...more]),
    first?.words ?? "",
  );
}
