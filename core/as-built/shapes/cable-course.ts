/**
 * The course of a cable between its ends, as a schedule writes it: the places between, the ways it lies in, or both, in order
 * along the cable. Between two ways it stops where they meet.
 */
import { type Match, refOf, resolve } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import { namesIn } from "../names-in.ts";
import type { RowCells } from "../row-cells.ts";

export interface CourseStop {
  readonly space: string;
  /** The way on to the next stop, where it is said. */
  way?: { readonly pathway: string } | { readonly conduit: string };
}

interface NamedWay {
  readonly tag: string;
  readonly way: NonNullable<CourseStop["way"]>;
  readonly pathway_id: number;
  /** The places at its ends, as far as they are known. */
  readonly ends: readonly number[];
}

const WAYS = ["pathway", "conduit"] as const;

/** Whether a name of a course is a way on record and no place. */
export const namesWay = async (reader: Reader, text: string): Promise<boolean> =>
  (await resolve(reader, text, { kinds: ["space"] })).length === 0 &&
  (await resolve(reader, text, { kinds: WAYS })).length > 0;

async function wayOf(reader: Reader, { kind, id, tag }: Match): Promise<NamedWay | null> {
  const [row] = await reader.rows<{ id: number; from_space_id: number | null; to_space_id: number | null }>(
    kind === "conduit"
      ? "select p.id, p.from_space_id, p.to_space_id from conduit c join pathway p on p.id = c.pathway_id where c.id = ?"
      : "select id, from_space_id, to_space_id from pathway where id = ?",
    [id],
  );
  if (!row) return null;
  const way = kind === "conduit" ? { conduit: tag } : { pathway: tag };
  return { tag, way, pathway_id: row.id, ends: [row.from_space_id, row.to_space_id].filter((one) => one !== null) };
}

/** The one place where a cable goes over from one way into the next; what is not known of it is kept with the cells. */
async function meeting(
  reader: Reader,
  cells: RowCells,
  here: number | undefined,
  before: NamedWay,
  after: NamedWay,
): Promise<{ id: number; tag: string } | null> {
  const shared = before.pathway_id === after.pathway_id ? [] : before.ends.filter((end) => after.ends.includes(end));
  // Of two ways side by side, the cable leaves the first at its other end.
  const ids = shared.length > 1 ? shared.filter((end) => end !== here) : shared;
  const places = await Promise.all(ids.map((id) => refOf(reader, "space", id)));
  const [place, other] = places.filter((one) => one !== null);
  if (place && !other) return place;
  cells.problem(
    "via",
    place && other
      ? say`goes from ${before.tag} into ${after.tag}, which meet in ${place.tag} and in ${other.tag}: write the place between them`
      : say`goes from ${before.tag} into ${after.tag}, which don't meet on record: write the place between them`,
  );
  return null;
}

/** Every stop from the first end to the last, with the ways that the course names between them. */
export async function courseOf(reader: Reader, cells: RowCells, from: string, to: string): Promise<CourseStop[]> {
  const spaceId = async (text: string): Promise<number | undefined> => {
    const found = await resolve(reader, text, { kinds: ["space"] });
    return found.length === 1 ? found[0]?.id : undefined;
  };
  const stops: CourseStop[] = [];
  let here: number | undefined;
  let pending: NamedWay | null = null;
  const stopIn = (space: string, id: number | undefined): void => {
    const last = stops.at(-1);
    if (last && pending) last.way = pending.way;
    pending = null;
    here = id;
    stops.push({ space });
  };
  stopIn(from, await spaceId(from));
  for (const text of namesIn(cells.text("via") ?? "", "course")) {
    const places = await resolve(reader, text, { kinds: ["space"] });
    const ways = places.length > 0 ? [] : await resolve(reader, text, { kinds: WAYS });
    const [match, other] = ways;
    if (!match) {
      stopIn(text, places.length === 1 ? places[0]?.id : undefined);
      continue;
    }
    if (other) {
      cells.problem("via", say`names ${text}, which may be ${ways.map(({ tag }) => tag).join(say` or `)}`);
      return stops;
    }
    const way = await wayOf(reader, match);
    if (!way) continue;
    if (pending) {
      const place = await meeting(reader, cells, here, pending, way);
      if (!place) return stops;
      stopIn(place.tag, place.id);
    }
    pending = way;
  }
  stopIn(to, undefined);
  return stops;
}

interface OnRecord {
  readonly space_id: number | null;
  readonly pathway_id: number | null;
  readonly conduit_id: number | null;
}

/** What the row says otherwise of where a cable on record runs, as doubts: its run is changed by acts of its own. */
export async function doubtCourse(reader: Reader, cells: RowCells, id: number, tag: string): Promise<void> {
  const [from, to] = [cells.text("from"), cells.text("to")];
  const entries = namesIn(cells.text("via") ?? "", "course");
  if (from === undefined && to === undefined && entries.length === 0) return;
  const rows = await reader.rows<OnRecord>(
    `select s.space_id, l.pathway_id, l.conduit_id from stop s left join leg l on l.from_stop_id = s.id
     where s.cable_id = ? order by s.ordinal`,
    [id],
  );
  const [a, b] = [rows[0]?.space_id ?? null, rows.at(-1)?.space_id ?? null];
  const among = async (text: string | undefined, ids: readonly (number | null)[]): Promise<boolean> =>
    text === undefined ||
    ids.includes(null) ||
    (await resolve(reader, text, { kinds: ["space"] })).some((match) => ids.includes(match.id));
  // A schedule may begin at either end.
  const runs = async (begins: number | null, ends: number | null) =>
    (await among(from, [begins])) && (await among(to, [ends]));
  if (rows.length > 1 && !(await runs(a, b)) && !(await runs(b, a))) {
    const [first, last] = await Promise.all([a, b].map((one) => (one === null ? null : refOf(reader, "space", one))));
    const begins = first?.tag ?? say`an unknown place`;
    const ends = last?.tag ?? say`an unknown place`;
    cells.doubt(
      from !== undefined && to !== undefined
        ? say`${tag} runs from ${begins} to ${ends} on record, not from ${from} to ${to}.`
        : say`${tag} runs from ${begins} to ${ends} on record; neither is ${from ?? to}.`,
    );
  }
  const spaces = new Set(rows.map(({ space_id }) => space_id));
  const lies = new Set(
    rows.flatMap(({ pathway_id, conduit_id }) => [`pathway ${pathway_id}`, `conduit ${conduit_id}`]),
  );
  for (const text of entries) {
    const places = await resolve(reader, text, { kinds: ["space"] });
    const ways = places.length > 0 ? [] : await resolve(reader, text, { kinds: WAYS });
    if (places.length > 0 && !places.some((one) => spaces.has(one.id)) && !spaces.has(null))
      cells.doubt(say`${tag} doesn't stop in ${text} on record.`);
    if (ways.length > 0 && !ways.some((one) => lies.has(`${one.kind} ${one.id}`)))
      cells.doubt(say`${tag} doesn't lie in ${text} on record.`);
  }
}
