/**
 * A cable whose ends a job brought to the places where they were to be spliced, before it was given up: between them nothing of
 * it lies, so no cut can be found there and no mend is planned. What was done is on record, and the job goes on once it is no
 * longer given up.
 */
import { Refusal, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { CableFacts } from "../trace/cables.ts";
import { say } from "../words/say.ts";

export interface GivenUp {
  /** Both ends were brought to where they are spliced; one of them; or new cable has taken the place of one, up to the cable's end. */
  readonly left: "both_ends" | "one_end" | "replaced";
  /** The job, by its number. */
  readonly job: string;
  /** The change that gave it up, by its number in the history; null where it isn't in this file's own history. */
  readonly change: number | null;
  /** Where the ends of the cable lie: two places, or the one to which both were brought. */
  readonly places: readonly string[];
  /** The stops at which they lie, each by its place and as `F-012@3`. */
  readonly stops: readonly (readonly string[])[];
}

interface EndsRow {
  readonly job: string;
  readonly change_id: number | null;
}

/** Jobs that were given up after they had moved the ends of a cable, the last first. */
const GIVEN_UP = `select j.tag as job, (
    select max(c.id) from change_set c join change_entry e on e.change_set_id = c.id
    where e.kind = 'job' and e.record_id <= j.id and e.last_id >= j.id and c.act = 'job.abandon' and c.verb = 'do') as change_id
  from job j
  where j.state = 'abandoned' and exists (
    select 1 from job_step s where s.job_id = j.id and s.state = 'done'
      and json_extract(s.input, '$.operation') in ('cable.move_cut', 'cable.replace_end')
      and json_extract(s.input, '$.input.cable') = ?)
  order by change_id desc, j.id desc limit 1`;

/** Of severed stops those at which glass ends that is joined to nothing. */
const BARE = `select distinct t.id from stop t join section s on t.id in (s.a_stop_id, s.b_stop_id)
  where t.id in (select value from json_each(?))
    and not exists (select 1 from splice p where p.life in ('in_place', 'out_of_use') and (
      (p.a_section_id = s.id and p.a_side = case when t.id = s.a_stop_id then 'A' else 'B' end)
      or (p.b_section_id = s.id and p.b_side = case when t.id = s.a_stop_id then 'A' else 'B' end)))`;

/** Of the ends of a cable those at which none of its glass is joined to anything. */
const LOOSE = `select t.id from stop t
  where t.id in (select value from json_each(?)) and exists (select 1 from section s where t.id in (s.a_stop_id, s.b_stop_id))
    and not exists (select 1 from section s where t.id in (s.a_stop_id, s.b_stop_id) and (
      exists (select 1 from splice p where p.life in ('in_place', 'out_of_use') and s.id in (p.a_section_id, p.b_section_id)
        and iif(p.a_section_id = s.id, p.a_side, p.b_side) = iif(t.id = s.a_stop_id, 'A', 'B'))
      or exists (select 1 from termination x where x.life in ('in_place', 'out_of_use') and x.section_id = s.id
        and x.side = iif(t.id = s.a_stop_id, 'A', 'B'))))`;

/** Null where no job left it so, or all its ends are joined meanwhile. */
export async function givenUp(reader: Reader, { ref, stops, sheath }: CableFacts): Promise<GivenUp | null> {
  const along = sheath.stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null);
  const severed = along.filter(({ kind }, index) => kind === "severed" && stops[index]?.space_id != null);
  const bare = await reader.rows<{ id: number }>(BARE, [JSON.stringify(severed.map(({ id }) => id))]);
  const ends_of = [along[0], along.at(-1)].flatMap((stop) => (stop?.kind === "end" ? [stop] : []));
  const loose = await reader.rows<{ id: number }>(LOOSE, [JSON.stringify(ends_of.map(({ id }) => id))]);
  const [first] = [
    ...bare.flatMap(({ id }) => severed.filter((stop) => stop.id === id)),
    ...loose.flatMap(({ id }) => ends_of.filter((stop) => stop.id === id)),
  ];
  if (!first) return null;
  const [row] = await reader.rows<EndsRow>(GIVEN_UP, [ref.tag]);
  if (!row) return null;
  const ends = first.kind === "end" ? [first] : severed.filter(({ ordinal }) => Math.abs(ordinal - first.ordinal) <= 1);
  const beside = along.filter(({ ordinal }) => Math.abs(ordinal - first.ordinal) === 1);
  const half = beside.some(({ id, kind }) => kind === "severed" && !severed.some((stop) => stop.id === id));
  return {
    left: first.kind === "end" ? "replaced" : half ? "one_end" : "both_ends",
    job: row.job,
    change: row.change_id,
    places: [...new Set(ends.map(({ place }) => place))],
    stops: ends.map(({ place, ordinal }) => [place, `${ref.tag}@${ordinal}`]),
  };
}

/** What is to be done about it, as a sentence: the one way that is sure, and the one by hand. */
export function givenUpWords(tag: string, { job, change, places, left }: GivenUp): string {
  const [place] = places;
  const lies =
    left === "replaced"
      ? say`${tag} ends at ${place}, and is joined to nothing there: ${job} laid new cable on from there and was then given up, so there is no cut to plan a mend over.`
      : left === "one_end"
        ? say`One end of ${tag} lies at ${place}, and the other at its cut: ${job} brought it there and was then given up, so there is no cut between two of its ends to plan a mend over.`
        : places.length > 1
          ? say`${tag} is parted between ${places.join(say` and `)}: ${job} brought its ends there and was then given up, so there is no cut to plan a mend over.`
          : say`Both ends of ${tag} lie at ${place}: ${job} brought them there and was then given up, so there is no cut to plan a mend over.`;
  const next =
    change === null
      ? say`Take back in the history that ${job} was given up, and carry it on.`
      : say`Take back that ${job} was given up, by undoing change ${change}, and carry it on.`;
  if (left !== "both_ends") return `${lies} ${next}`;
  const else_ =
    places.length > 1
      ? say`Or, by hand, splice both ends to the cable that lies between ${places.join(say` and `)}, entered first where it is not on record.`
      : say`Or, by hand, splice the two together there.`;
  return `${lies} ${next} ${else_}`;
}

/**
 * Refuses `not_possible` for a cut on record of which one end alone was brought away by a job that was given up: nothing
 * would meet there.
 */
export async function refuseHalfBrought(reader: Reader, cable: CableFacts, cut_stop: number): Promise<void> {
  const [row] = await reader.rows<{ ends: number }>(
    `select exists (select 1 from section where a_stop_id = ?1) + exists (select 1 from section where b_stop_id = ?1) as ends`,
    [cut_stop],
  );
  if (row?.ends !== 1) return;
  const left = await givenUp(reader, cable);
  if (left?.left !== "one_end") return;
  const { tag } = cable.ref;
  refuse("not_possible", givenUpWords(tag, left), [
    { field: "cable", record: tag, reason: say`has an end where ${left.job} brought it, which was given up` },
  ]);
}

/**
 * Runs what finds a cut on a cable. Where it finds none, and a job that was given up left the cable without one there, that is
 * told: in place of the refusal where nothing else was asked, and after it where the place or mark may be another.
 */
export async function orGivenUp<T>(
  reader: Reader,
  cable: CableFacts,
  asked: { readonly mark: number | null; readonly after: string | null },
  find: () => T,
): Promise<T> {
  try {
    return find();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const left = await givenUp(reader, cable);
    if (left === null) throw error;
    const { tag } = cable.ref;
    const words = givenUpWords(tag, left);
    const named = asked.after?.trim().toLowerCase() ?? null;
    const there = named === null || left.stops.flat().some((one) => one.toLowerCase() === named);
    if (asked.mark === null && there)
      return refuse("not_possible", words, [
        { field: "cable", record: tag, reason: say`has its ends where ${left.job} brought them, which was given up` },
      ]);
    const { code, message, problems } = error.failure;
    return refuse(code, `${message} ${words}`, problems);
  }
}
