/**
 * Circuits that no mend of a cut brings back: on the way that light takes over the glass that is cut, wherever along it, the
 * glass is joined to nothing on record, so that light got no farther than that before the cut either.
 */
import { componentOf } from "../glass/component.ts";
import { across, idOf, isPosition, NOWHERE, type Side, sectionEnd, sideOf } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import { walk } from "../glass/walk.ts";
import type { ImpactOptions } from "../impact/impact.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { plural } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { MendStrand, NotBack } from "./answer.ts";
import { serves } from "./dark.ts";

export interface NotBackAsked {
  /** The strands that are cut. */
  readonly order: readonly MendStrand[];
  /** The stop of a cut on record, beyond which the same strands go on in other sections; null where none is. */
  readonly cut_stop: number | null;
}

/** Where glass ends at another cut, that cut is told by itself. */
export async function notBack(
  reader: Reader,
  { order, cut_stop }: NotBackAsked,
  { held, today }: ImpactOptions,
): Promise<NotBack[]> {
  const lit = order.filter(({ circuits }) => circuits.some(serves));
  const beyond = cut_stop === null ? new Map<number, number>() : await beyondCut(reader, lit, cut_stop);
  const ways = lit.map(({ section, circuits }) => ({
    circuits,
    sections: [section, beyond.get(section) ?? []].flat(),
  }));
  const starts = ways.flatMap(({ sections }) => sections.flatMap(bothEnds));
  const glass = held ? await held.on(reader, today) : await componentOf(reader, starts);
  const bare = ways.map(({ circuits, sections }) => ({
    circuits,
    // Behind a splitter light goes on where one of its branches does.
    ends: sections
      .flatMap(bothEnds)
      .map((start) => leavesOf(glass, start))
      .filter((leaves) => leaves.every((end) => end !== NOWHERE && !isPosition(end)))
      .map(([end = NOWHERE]) => end),
  }));
  const words = await endWords(
    reader,
    bare.flatMap(({ ends }) => ends),
  );
  const told = new Map<number, NotBack>();
  for (const { circuits, ends } of bare) {
    const why = ends.flatMap((end) => words.get(end) ?? [])[0];
    if (why === undefined) continue;
    for (const one of circuits.filter(serves))
      if (!told.has(one.circuit.id)) told.set(one.circuit.id, { circuit: one.circuit, words: why });
  }
  return [...told.values()];
}

const bothEnds = (section: number): number[] => [sectionEnd(section, "A"), sectionEnd(section, "B")];

/** The ends at which light stops that leaves by an end; that end itself where nothing is joined to it. */
function leavesOf(glass: Glass, start: number): number[] {
  const done = walk(glass, start);
  if (done.steps === 0) return [start];
  return done.leaves().map((leaf) => {
    const to = done.to[leaf] ?? NOWHERE;
    return to === NOWHERE ? NOWHERE : across(to);
  });
}

/** By the section before a cut on record the one of the same strand beyond it. */
async function beyondCut(
  reader: Reader,
  strands: readonly MendStrand[],
  stop_id: number,
): Promise<ReadonlyMap<number, number>> {
  const rows = await reader.rows<{ near: number; far: number }>(
    `select n.id as near, f.id as far from section n join section f on f.strand_id = n.strand_id and f.id <> n.id
     where n.id in (select value from json_each(?1)) and (f.a_stop_id = ?2 or f.b_stop_id = ?2)`,
    [JSON.stringify(strands.map(({ section }) => section)), stop_id],
  );
  return new Map(rows.map(({ near, far }) => [near, far]));
}

interface EndRow {
  readonly id: number;
  readonly side: Side;
  readonly cable_id: number;
  readonly number: number;
  readonly ordinal: number | null;
  readonly space_id: number | null;
}

/** Of ends of glass that are joined to nothing, except at a cut, where that is. */
async function endWords(reader: Reader, ends: readonly number[]): Promise<ReadonlyMap<number, string>> {
  const asked = [...new Set(ends)].map((end) => ({ id: idOf(end), side: sideOf(end) }));
  const rows = await reader.rows<EndRow>(
    `select s.id, e.value ->> 'side' as side, t.cable_id, t.number, st.ordinal, st.space_id
     from json_each(?) e join section s on s.id = e.value ->> 'id' join strand t on t.id = s.strand_id
       left join stop st on st.id = iif(e.value ->> 'side' = 'A', s.a_stop_id, s.b_stop_id)
     where st.kind is not 'severed'`,
    [JSON.stringify(asked)],
  );
  const cables = await addressesOf(reader, "cable", new Set(rows.map(({ cable_id }) => cable_id)));
  const spaces = await addressesOf(reader, "space", new Set(rows.flatMap(({ space_id }) => space_id ?? [])));
  return new Map(
    rows.map(({ id, side, cable_id, number, ordinal, space_id }) => {
      const cable = cables.get(cable_id) ?? "";
      const place = spaces.get(space_id ?? 0) ?? (ordinal === null ? null : `${cable}@${ordinal}`);
      const words =
        place === null
          ? say`${cable}:${number} is joined to nothing at one end on record`
          : say`${cable}:${number} is joined to nothing at ${place} on record`;
      return [sectionEnd(id, side), words];
    }),
  );
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
