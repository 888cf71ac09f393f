/** Temporary repairs of a cable that still lie over the ground: which job laid what, until when, and what is to follow. */
import { shownDay } from "../model/wording.ts";
import { refuse } from "../result.ts";
import { refsOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { followersOf } from "./show.ts";

export interface TemporaryLeft {
  readonly job: RecordRef;
  /** What it laid over the ground. */
  readonly piece: RecordRef;
  readonly replace_by: string | null;
  readonly overdue: boolean;
  /** It is done, and no lasting job is planned after it. */
  readonly wants_lasting: boolean;
  readonly followed_by: RecordRef | null;
  readonly words: string;
}

/** A piece in place in none of the ways on record, of the cable itself or spliced to it. */
const LEFT = `select j.id as job, c.id as piece, j.state, j.replace_by from job j join cable c on c.life_job_id = j.id
  where j.lasting = 'temporary' and j.state <> 'abandoned' and c.life in ('in_place', 'out_of_use')
    and exists (select 1 from stop s join leg l on l.from_stop_id = s.id where s.cable_id = c.id
      and l.life in ('in_place', 'out_of_use') and l.pathway_id is null and l.conduit_id is null)
    and (c.id = ?1 or exists (
      select 1 from strand t join section g on g.strand_id = t.id
        join splice p on (p.a_section_id = g.id or p.b_section_id = g.id) and p.life in ('in_place', 'out_of_use')
        join section o on o.id = case p.a_section_id when g.id then p.b_section_id else p.a_section_id end
        join strand u on u.id = o.strand_id
      where t.cable_id = c.id and u.cable_id = ?1))
  order by j.id, c.id`;

interface LeftRow {
  readonly job: number;
  readonly piece: number;
  readonly state: string;
  readonly replace_by: string | null;
}

/** Refuses `not_found` for a cable that isn't on record. */
export async function temporaryLeft(
  reader: Reader,
  asked: string | number,
  today: string,
): Promise<{ readonly cable: RecordRef; readonly temporary: readonly TemporaryLeft[] }> {
  // By its id it is the record itself: "30" would be looked for as a tag.
  const cable =
    typeof asked === "number"
      ? (await refsOf(reader, "cable", [asked])).get(asked)
      : await resolveOne(reader, asked, { kinds: ["cable"], field: "cable" });
  if (!cable)
    refuse("not_found", say`There is no cable ${asked}.`, [{ field: "cable", reason: say`is not on record` }]);
  const rows = await reader.rows<LeftRow>(LEFT, [cable.id]);
  const jobs = await refsOf(
    reader,
    "job",
    rows.map(({ job }) => job),
  );
  const pieces = await refsOf(
    reader,
    "cable",
    rows.map(({ piece }) => piece),
  );
  const temporary: TemporaryLeft[] = [];
  for (const { job: id, piece: laid, state, replace_by } of rows) {
    const [job, piece] = [jobs.get(id), pieces.get(laid)];
    if (!job || !piece) continue;
    const [followed_by = null] = await followersOf(reader, id);
    const overdue = replace_by !== null && replace_by < today;
    const until =
      replace_by === null
        ? say`no day is set by which it is replaced`
        : overdue
          ? say`it should have been replaced by ${shownDay(replace_by)}`
          : say`it is to be replaced by ${shownDay(replace_by)}`;
    const next = followed_by
      ? (await isTemporary(reader, followed_by.id))
        ? say`${followed_by.tag} is to lay it anew`
        : say`${followed_by.tag} is to make it permanent`
      : state === "done"
        ? say`no lasting repair is planned`
        : say`the job isn't done yet`;
    temporary.push({
      ...{ job, piece, replace_by, overdue, followed_by },
      wants_lasting: state === "done" && followed_by === null,
      words: say`${piece.tag} lies over the ground for the time being, laid by ${job.tag}: ${until}; ${next}.`,
    });
  }
  return { cable, temporary };
}

async function isTemporary(reader: Reader, job: number): Promise<boolean> {
  const [row] = await reader.rows<{ lasting: string | null }>("select lasting from job where id = ?", [job]);
  return row?.lasting === "temporary";
}
