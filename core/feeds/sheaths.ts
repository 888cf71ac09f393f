/** The cables that come to a place: their stops, where they come in, and how many of their strands run on. */
import type { Reader } from "../store/handle.ts";
import type { GlassSection } from "../trace/facts.ts";
import type { Subject } from "./subject.ts";

export interface SheathStop {
  readonly id: number;
  readonly cable_id: number;
  readonly space_id: number | null;
}

export interface ComingCable {
  readonly id: number;
  readonly stops: readonly SheathStop[];
  /** Indices of its stops here. */
  readonly here: readonly number[];
  readonly strands: number;
}

interface Row extends SheathStop {
  readonly strands: number;
}

/** Cables in place with a stop here, in order of their tags. Those that lie here from end to end are only counted. */
export async function cablesComing(
  reader: Reader,
  { spaces }: Subject,
): Promise<{ cables: ComingCable[]; inside: number }> {
  const rows = await reader.rows<Row>(
    `with here (id, strands) as materialized (
       select c.id, (select count(*) from strand t where t.cable_id = c.id) from cable c
       where c.id in (select cable_id from stop where space_id in (select value from json_each(?))))
     select st.id, st.cable_id, st.space_id, h.strands
     from here h join cable c on c.id = h.id join stop st on st.cable_id = c.id
     where c.life in ('in_place', 'out_of_use') order by c.tag_key, c.id, st.ordinal`,
    [JSON.stringify([...spaces])],
  );
  const cables: ComingCable[] = [];
  let inside = 0;
  for (const [id, stops] of Map.groupBy(rows, (row) => row.cable_id)) {
    const here = stops.flatMap(({ space_id }, index) => (space_id !== null && spaces.has(space_id) ? [index] : []));
    if (here.length === stops.length && stops.length > 1) inside += 1;
    else cables.push({ id, stops, here, strands: stops[0]?.strands ?? 0 });
  }
  return { cables, inside };
}

/**
 * Glass that lies here from end to end brings nothing in: a stub between a panel and the case beside it, to which a piece
 * was spliced that comes in itself. A cable of which nothing else ends or passes here lies inside alone.
 * @param ending the glass of these cables that ends here
 */
export function apartFromInside(
  cables: readonly ComingCable[],
  ending: readonly GlassSection[],
): {
  readonly coming: ComingCable[];
  readonly sections: GlassSection[];
  /** Strands of each cable that end here, inside or from outside. */
  readonly strands: ReadonlyMap<number, number>;
  readonly alone: number;
} {
  const stretches = new Map(cables.map((cable) => [cable.id, stretchesHere(cable)]));
  const sections = ending.filter(({ cable_id, a_stop_id, b_stop_id }) => {
    const [a, b] = [a_stop_id, b_stop_id].map((stop) => stretches.get(cable_id)?.get(stop ?? 0));
    return a === undefined || a !== b;
  });
  const strands = new Map(
    [...Map.groupBy(ending, ({ cable_id }) => cable_id)].map(([cable, own]) => [
      cable,
      new Set(own.map(({ strand_id }) => strand_id)).size,
    ]),
  );
  const fromOutside = new Set(sections.map(({ cable_id }) => cable_id));
  const coming = cables.filter(
    (cable) => fromOutside.has(cable.id) || !strands.has(cable.id) || (strands.get(cable.id) ?? 0) < cable.strands,
  );
  return { coming, sections, strands, alone: cables.length - coming.length };
}

/** The stops of a cable here, each by the first of those in a row that it is one of. */
function stretchesHere({ stops, here }: ComingCable): ReadonlyMap<number, number> {
  const first = new Map<number, number>();
  for (const [n, index] of here.entries()) {
    const follows = n > 0 && here[n - 1] === index - 1;
    const before = follows ? first.get(stops[index - 1]?.id ?? 0) : undefined;
    first.set(stops[index]?.id ?? 0, before ?? index);
  }
  return first;
}

/**
 * Where a cable comes in for glass that ends at one of its stops here: the first stop here, coming from outside. A cable
 * that lies in several stretches here is told by that in which most of its glass ends.
 */
export function entranceOf({ stops, here }: ComingCable, ending: ReadonlyMap<number, number>): SheathStop | undefined {
  let best: { entrance: number; glass: number } | null = null;
  for (let i = 0; i < here.length; ) {
    let j = i;
    while (here[j + 1] === (here[j] as number) + 1) j += 1;
    const [first, last] = [here[i] as number, here[j] as number];
    let glass = 0;
    for (let at = first; at <= last; at += 1) glass += ending.get(stops[at]?.id ?? 0) ?? 0;
    // From outside one comes by the A side, unless the cable begins here.
    const entrance = first === 0 ? last : first;
    if (!best || glass > best.glass) best = { entrance, glass };
    i = j + 1;
  }
  return best ? stops[best.entrance] : undefined;
}

/** The far end of a cable, seen from a stop here. */
export function farStop({ stops, here }: ComingCable, entrance: SheathStop | undefined): SheathStop | undefined {
  const at = stops.findIndex(({ id }) => id === entrance?.id);
  const last = stops.length - 1;
  if (here.includes(last) && !here.includes(0)) return stops[0];
  if (here.includes(0) && !here.includes(last)) return stops[last];
  return at > last / 2 ? stops[0] : stops[last];
}
