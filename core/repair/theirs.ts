/** Cables that others mend: another's, unless it is kept by the plant itself. Of those nothing is planned; who mends them is called. */
import { refOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { MendTheirs } from "./answer.ts";

interface PartyRow {
  readonly id: number;
  readonly cable: string;
  readonly kept: 0 | 1;
  readonly owner: string;
  readonly name: string | null;
  readonly contact_day: string | null;
  readonly contact_night: string | null;
}

/** Who mends a cable that isn't ours to mend, and how to reach them; null where we do. */
export async function theirsOf(reader: Reader, cable: RecordRef): Promise<MendTheirs | null> {
  const [row] = await reader.rows<PartyRow>(
    `select p.id, c.tag as cable, c.kept_by_id is not null as kept, o.tag as owner, p.name, p.contact_day, p.contact_night
     from cable c join party o on o.id = c.owner_id join party p on p.id = coalesce(c.kept_by_id, c.owner_id)
     where c.id = ? and o.role is not 'self' and p.role is not 'self'`,
    [cable.id],
  );
  const party = row && (await refOf(reader, "party", row.id));
  if (!row || !party) return null;
  const { contact_day: day, contact_night: night } = row;
  const who = row.name === null ? party.tag : `${row.name} (${party.tag})`;
  const whose = row.kept === 1 ? say`belongs to ${row.owner} and is kept by ${who}` : say`belongs to ${who}`;
  return {
    party,
    name: row.name,
    day,
    night,
    words: say`${row.cable} ${whose}: they mend it, and nobody else opens it without their leave; call them first${callWords(day, night)}`,
  };
}

function callWords(day: string | null, night: string | null): string {
  if (day === null && night === null) return say`, though how to reach them is not on record`;
  return say`: by day ${day ?? say`not on record`}, by night ${night ?? say`not on record`}`;
}
