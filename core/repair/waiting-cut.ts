/**
 * A cut that is on record and waits to be mended: a severed stop in the middle of a way, at no place, or in a place where its
 * glass lies as it was found. A mend is planned over the cable as it lay before: the stop is left out of its course and says
 * only where the cut is, and in a place the cable passes as it did.
 */
import { Marked } from "../impact/stretch.ts";
import { alongSheath, type MarkBreak } from "../model/marks.ts";
import { type LengthUnit, metresIn } from "../model/units.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { SheathStop } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import { mendedPast, type PastCut, pastCut } from "./past-cut.ts";

export interface WaitingCut {
  /** Its order among the stops of the cable. */
  readonly ordinal: number;
  readonly stop_id: number;
  /** It was found in a place that the cable passes, and is that place's own stop. */
  readonly inside: boolean;
  /** The stops before and beyond it. */
  readonly before_id: number;
  readonly after_id: number;
  /** Sheath from the mouth of the stop before to the near edge, and what is gone up to the far edge; null without marks. */
  readonly edges: { readonly from_m: number; readonly lost_m: number } | null;
  /** The mark half-way between its edges; null where they are not on record, or the print begins anew between them. */
  readonly mark: number | null;
  /** What goes past it over other cable already, and what waits. */
  readonly strands: PastCut;
}

export interface CableBeforeCut {
  readonly cable: CableFacts;
  readonly waiting: WaitingCut | null;
}

/**
 * The cable without the cut that is meant, and that cut; as it is where none waits.
 * @param after the stop before the cut as it was asked for: its place, or an order such as F-012@3; of several it decides
 * @param mark the mark of the cut, where it was said: read elsewhere on the cable it is of another cut than the one on record
 */
export async function beforeCut(
  reader: Reader,
  cable: CableFacts,
  after: string | null,
  mark: number | null,
): Promise<CableBeforeCut> {
  const stops = cable.sheath.stopsBetween(cable.stops[0]?.id ?? null, cable.stops.at(-1)?.id ?? null);
  const untouched = await asFound(
    reader,
    stops.flatMap(({ id, kind }) => (kind === "severed" ? [id] : [])),
  );
  const cuts = stops.flatMap((stop, index) => {
    const [before, beyond] = [stops[index - 1], stops[index + 1]];
    const inside = cable.stops[index]?.space_id != null;
    const waits = stop.kind === "severed" && (!inside || untouched.has(stop.id));
    const alone = before?.kind !== "severed" && (!inside || beyond?.kind !== "severed");
    return waits && before && beyond && alone ? [{ stop, before, beyond, index, inside }] : [];
  });
  const named = (stop: SheathStop): boolean =>
    after !== null &&
    [stop.place, `${cable.ref.tag}@${stop.ordinal}`].some((one) => one.toLowerCase() === after.trim().toLowerCase());
  const [sheet] = await reader.rows<{ mark_unit: LengthUnit | null; mark_breaks: string | null }>(
    "select mark_unit, mark_breaks from cable where id = ?",
    [cable.ref.id],
  );
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const read = mark === null ? null : markedOn(stops, breaks, mark);
  const strands = new Map<number, PastCut>();
  for (const { stop } of cuts) strands.set(stop.id, await pastCut(reader, cable.ref.id, stop.id));
  const found = cuts.filter(
    ({ stop, before, index, inside }) =>
      (after === null || named(stop) || named(before)) &&
      (read?.(inside ? index : index - 1, index + 1, inside) ?? true),
  );
  const waiting = found.filter(({ stop }) => !mendedPast(strands.get(stop.id) as PastCut));
  const meant = waiting.length > 0 ? waiting : found;
  const [only] = meant;
  if (meant.length > 1 && after === null && mark === null) {
    const places = meant.map(({ before }) => before.place).join(say` and after `);
    refuse(
      "ambiguous",
      say`${cable.ref.tag} is cut at ${meant.length} places that wait to be mended: after ${places}.`,
      [{ field: "after", record: cable.ref.tag, reason: say`must be said: after ${places}` }],
    );
  }
  if (!only || meant.length > 1) return { cable, waiting: null };
  const { stop, before, beyond, inside } = only;
  return {
    cable: inside
      ? { ...cable, sheath: cable.sheath.passing(stop.id) }
      : {
          ...cable,
          sheath: cable.sheath.without(stop.id),
          stops: cable.stops.filter(({ id }) => id !== stop.id),
        },
    waiting: {
      ordinal: stop.ordinal,
      stop_id: stop.id,
      inside,
      before_id: before.id,
      after_id: beyond.id,
      edges: edgesOf(before, stop, beyond, sheet?.mark_unit ?? null, breaks),
      mark: middleOf(stop, breaks),
      strands: strands.get(stop.id) as PastCut,
    },
  };
}

/** Whether a mark lies between two mouths of the sheath, as far as their marks say; in a place whose marks don't, it may. */
function markedOn(stops: readonly SheathStop[], breaks: readonly MarkBreak[], mark: number) {
  const at = new Marked(stops, breaks).placesOf(mark);
  const along = alongSheath(
    stops.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]),
    breaks,
  );
  return (one: number, other: number, inside: boolean): boolean => {
    const from = along[4 * one + (inside ? 0 : 3)] ?? null;
    const to = along[inside ? 4 * one + 3 : 4 * other] ?? null;
    return from === null || to === null ? inside : at.some((place) => from <= place && place <= to);
  };
}

/**
 * The parts of a cable with gaps: between two severed stops side by side nothing of it lies any more. At another cut that waits
 * in the middle of a way each part ends: nothing is drawn across it.
 */
export function partsOf(cable: CableFacts): readonly CableFacts[] {
  const stops = cable.sheath.stopsBetween(cable.stops[0]?.id ?? null, cable.stops.at(-1)?.id ?? null);
  const parts: SheathStop[][] = [[]];
  for (const [index, stop] of stops.entries()) {
    const before = stops[index - 1];
    const gap = before?.kind === "severed" && stop.kind === "severed";
    const cut =
      stop.kind === "severed" && index > 0 && index < stops.length - 1 && cable.stops[index]?.space_id == null;
    if (gap) parts.push([]);
    parts.at(-1)?.push(stop);
    if (cut && stops[index + 1]?.kind !== "severed") parts.push([stop]);
  }
  const long = parts.filter((part) => part.length > 1);
  if (parts.length < 2 || long.length === 0) return [cable];
  return long.map((part) => {
    const ids = new Set(part.map(({ id }) => id));
    return { ...cable, sheath: cable.sheath.part(ids), stops: cable.stops.filter(({ id }) => ids.has(id)) };
  });
}

const stopsOf = ({ sheath, stops }: CableFacts): readonly SheathStop[] =>
  sheath.stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null);

/** The least and the greatest mark on a part of a cable, up to its very ends. */
export function printedOn(part: CableFacts): { readonly from: number; readonly to: number } {
  const marks = stopsOf(part).flatMap(({ kind, mark_in, mark_open_from, mark_open_to, mark_out }, index) => {
    if (kind !== "severed") return [mark_in, mark_open_from, mark_open_to, mark_out];
    return index === 0 ? [mark_open_to, mark_out] : [mark_in, mark_open_from];
  });
  const known = marks.flatMap((mark) => mark ?? []);
  return { from: Math.min(...known), to: Math.max(...known) };
}

/** Refuses `bad_input` for a mark that is on no part of a cable with gaps, saying which marks there are, and where. */
export function refuseOffParts(tag: string, mark: number, parts: readonly CableFacts[]): never {
  const left = parts.map((part) => {
    const [{ from, to }, stops] = [printedOn(part), stopsOf(part)];
    const [first, last] = [stops[0]?.place ?? "", stops.at(-1)?.place ?? ""];
    return from <= to ? say`${from} to ${to} between ${first} and ${last}` : say`none between ${first} and ${last}`;
  });
  const reason = say`is on no part of it that is left: its marks are ${left.join(say` and `)}`;
  return refuse("bad_input", say`Mark ${mark} of ${tag} ${reason}.`, [{ field: "mark", record: String(mark), reason }]);
}

/** What to do where the ends of a cable were brought apart already. */
export const howOnFromGap = (): string =>
  say`where a piece was laid there for the time being, ask for the lasting mend of that job; where a job was given up half-way, undo that and carry it on`;

/** Refuses `bad_input` where a cable with gaps was named and nothing else, saying where its ends were brought apart. */
export function refuseUnsaid(tag: string, parts: readonly CableFacts[]): never {
  const gaps = parts.slice(1).map((part, index) => {
    const before = stopsOf(parts[index] as CableFacts).at(-1)?.place ?? "";
    return say`between ${before} and ${stopsOf(part)[0]?.place ?? ""}`;
  });
  return refuse(
    "bad_input",
    say`Where is ${tag} cut? Say its sheath mark, or the place before the cut. On record its ends lie apart ${gaps.join(say` and `)}: ${howOnFromGap()}.`,
    [{ field: "mark", record: tag, reason: say`is needed, or the place before the cut` }],
  );
}

/** Whether a course ends here at a cut in the middle of a way, and not where the cable does. */
export const endsAtCut = (stop: SheathStop, outer: boolean, space_id: number | null | undefined): boolean =>
  outer && stop.kind === "severed" && space_id == null;

/** Severed stops at which glass ends without a stub and is joined to nothing: nobody has brought its ends anywhere. */
async function asFound(reader: Reader, stops: readonly number[]): Promise<Set<number>> {
  if (stops.length === 0) return new Set();
  const rows = await reader.rows<{ id: number }>(
    `with ends (stop_id, section_id, side, stub) as (
       select a_stop_id, id, 'A', a_stub from section where a_stop_id in (select value from json_each(?1))
       union all select b_stop_id, id, 'B', b_stub from section where b_stop_id in (select value from json_each(?1)))
     select stop_id as id from ends e group by stop_id
     having sum(coalesce(stub, '') = 'yes' or exists (select 1 from splice p where p.a_section_id = e.section_id and p.a_side = e.side)
       or exists (select 1 from splice p where p.b_section_id = e.section_id and p.b_side = e.side)
       or exists (select 1 from termination p where p.section_id = e.section_id and p.side = e.side)) = 0`,
    [JSON.stringify(stops)],
  );
  return new Set(rows.map(({ id }) => id));
}

function middleOf({ mark_open_from, mark_open_to }: SheathStop, breaks: readonly MarkBreak[]): number | null {
  if (mark_open_from === null || mark_open_to === null) return null;
  const [from, to] = alongSheath([mark_open_from, mark_open_to], breaks);
  if (from == null || to == null || Math.abs(to - from - Math.abs(mark_open_to - mark_open_from)) > 0.01) return null;
  return Math.round(5 * (mark_open_from + mark_open_to)) / 10;
}

function edgesOf(
  before: SheathStop,
  stop: SheathStop,
  beyond: SheathStop,
  unit: LengthUnit | null,
  breaks: readonly MarkBreak[],
): WaitingCut["edges"] {
  const [mouth, from, to] = alongSheath(
    [before.mark_out, stop.mark_open_from, stop.mark_open_to, beyond.mark_in],
    breaks,
  );
  if (unit === null || mouth == null || from == null || to == null || from < mouth || to < from) return null;
  return { from_m: metresIn(from - mouth, unit), lost_m: metresIn(to - from, unit) };
}
