/**
 * What a mend that left the sheath as it lies has done to a cut on record: its dark strands go past the break over other
 * cable, taken out of the sheath at places on both sides, and up to the cut their glass lies dead. The cut stays on record,
 * since others run on through it, and of the strands mended past it nothing is left to do.
 */
import { refuse } from "../result.ts";
import { numberRuns } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";

export interface PastCut {
  /** Strands that are cut here and go past the break over other cable. */
  readonly past: ReadonlySet<number>;
  /** The cables they go on in at either side of it, by tag. */
  readonly over: readonly string[];
  /** Strands that end at the cut and wait to be mended, and those that run on through it. */
  readonly waiting: ReadonlySet<number>;
  readonly on: ReadonlySet<number>;
}

interface HalfRow {
  readonly number: number;
  /** The side of the cut on which this half lies, towards the first stop or the last. */
  readonly side: "A" | "B";
  /** What the strand is spliced to at the other end of this half, in the next piece of its glass; null where to nothing. */
  readonly over: string | null;
}

const CARRIES = "life in ('in_place', 'out_of_use')";

/** @param stop_id a severed stop of the cable */
export async function pastCut(reader: Reader, cable_id: number, stop_id: number): Promise<PastCut> {
  const halves = await reader.rows<HalfRow>(
    `with half as (
       select t.id as strand_id, t.number, s.ordinal, 'B' as side, s.a_stop_id as outer_id from section s join strand t on t.id = s.strand_id
       where t.cable_id = ?1 and s.b_stop_id = ?2
       union all
       select t.id, t.number, s.ordinal, 'A', s.b_stop_id from section s join strand t on t.id = s.strand_id
       where t.cable_id = ?1 and s.a_stop_id = ?2),
     beside as (
       select h.number, h.side, n.id as section_id from half h join section n on n.strand_id = h.strand_id
         and n.ordinal = h.ordinal + case h.side when 'B' then -1 else 1 end
         and case h.side when 'B' then n.b_stop_id else n.a_stop_id end = h.outer_id)
     select h.number, h.side, (
       select c.tag from beside b join splice p on p.${CARRIES}
           and (p.a_section_id = b.section_id and p.a_side = b.side or p.b_section_id = b.section_id and p.b_side = b.side)
         join section o on o.id = case when p.a_section_id = b.section_id and p.a_side = b.side then p.b_section_id else p.a_section_id end
         join strand u on u.id = o.strand_id join cable c on c.id = u.cable_id
       where b.number = h.number and b.side = h.side limit 1) as over
     from half h order by h.number, h.side`,
    [cable_id, stop_id],
  );
  const through = await reader.rows<{ number: number }>(
    `select distinct t.number from stop c join strand t on t.cable_id = c.cable_id join section s on s.strand_id = t.id
       join stop a on a.id = s.a_stop_id join stop b on b.id = s.b_stop_id
     where c.id = ? and min(a.ordinal, b.ordinal) < c.ordinal and max(a.ordinal, b.ordinal) > c.ordinal order by t.number`,
    [stop_id],
  );
  const ends = [...Map.groupBy(halves, ({ number }) => number)];
  const goes = (own: readonly HalfRow[]): boolean => own.length === 2 && own.every(({ over }) => over !== null);
  const past = ends.filter(([, own]) => goes(own));
  return {
    past: new Set(past.map(([number]) => number)),
    over: [...new Set(past.flatMap(([, own]) => own.flatMap(({ over }) => over ?? [])))].sort(),
    waiting: new Set(ends.flatMap(([number, own]) => (goes(own) ? [] : [number]))),
    on: new Set(through.map(({ number }) => number)),
  };
}

/** All that was cut here is mended. */
export const mendedPast = ({ past, waiting }: PastCut): boolean => past.size > 0 && waiting.size === 0;

const runs = (numbers: ReadonlySet<number>): string => numberRuns([...numbers].sort((a, b) => a - b));

/** Refuses `not_possible`, saying what is left to do at a cut of which all dark strands are mended. */
export function refuseMended(tag: string, ordinal: number, { past, over, on }: PastCut): never {
  const cut = `${tag}@${ordinal}`;
  const mended = say`strands ${runs(past)}, which are cut at ${cut}, go past it over ${over.join(", ")}`;
  const left =
    on.size === 0
      ? say`Nothing else of it runs there.`
      : say`Left to do: strands ${runs(on)} still run on through the sheath that was cut there. To mend that too, name them as dark, --dark ${runs(on)}: it severs them. Where the sheath is sound, correct ${cut}.`;
  const reason = say`has no cut that waits to be mended: ${mended}`;
  return refuse("not_possible", `${tag} ${reason}. ${left}`, [{ field: "dark", record: cut, reason }]);
}
