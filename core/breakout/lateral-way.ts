/** Where a lateral ends and which way it takes there: one pathway, or several from hole to hole. */
import { lifeWords } from "../model/kind.ts";
import { refuse } from "../result.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { addressUnder, spacesOf } from "../trace/facts.ts";
import { crossingOf } from "../trace/sheath.ts";
import { say } from "../words/say.ts";

/** A space as it is named, or the one room of a building in which the lateral can end. */
export async function targetOf(reader: Reader, to: string | null, place: RecordRef): Promise<RecordRef | null> {
  if (to === null) return null;
  const found = await pick(reader, to, { kinds: ["space", "building"], field: "to" });
  if (found.kind === "space") {
    if (found.id === place.id) {
      refuse("bad_input", say`The lateral would end where it begins, in ${place.tag}.`, [
        { field: "to", record: to, reason: say`is the place of the opening` },
      ]);
    }
    return { kind: "space", id: found.id, tag: found.tag };
  }
  const rooms = await reader.rows<{ id: number; near: number }>(
    `select s.id, exists (select 1 from pathway p where (p.from_space_id = s.id and p.to_space_id = ?)
        or (p.to_space_id = s.id and p.from_space_id = ?)) as near
     from space s where s.building_id = ? and s.life <> 'removed' order by s.tag_key, s.id`,
    [place.id, place.id, found.id],
  );
  const near = rooms.filter((room) => room.near === 1);
  const [room, ...more] = near.length > 0 ? near : rooms;
  const spaces = await spacesOf(
    reader,
    rooms.map(({ id }) => id),
  );
  const nameOf = ({ id }: { id: number }): string => spaces.get(id)?.ref.tag ?? say`space ${id}`;
  if (!room) {
    refuse("not_possible", say`${found.tag} has no room on record in which the lateral could end.`, [
      { field: "to", record: found.tag, reason: say`has no room on record` },
    ]);
  }
  if (more.length > 0) {
    refuse(
      "ambiguous",
      say`In which room of ${found.tag} does the lateral end?`,
      [room, ...more].map((one) => ({ field: "to", record: to, reason: say`may be ${nameOf(one)}` })),
      { rooms: [room, ...more].map(nameOf) },
    );
  }
  return { kind: "space", id: room.id, tag: nameOf(room) };
}

export interface LateralWay {
  readonly pathways: readonly RecordRef[];
  /** The places passed between them. */
  readonly passed: readonly RecordRef[];
  /** From mouth to mouth, crossings on the way included; null where a length or crossing is not known. */
  readonly length_m: number | null;
  readonly lacks: readonly string[];
  /** Pathways of it that aren't in place. */
  readonly doubts: readonly string[];
}

interface PathwayRow {
  readonly id: number;
  readonly tag: string;
  readonly from_space_id: number | null;
  readonly to_space_id: number | null;
  readonly length_m: number | null;
  readonly life: string;
}

/** What a way counts for a pathway whose length is not known: more than any that is. */
const UNKNOWN_M = 1e6;

/** The shortest way over pathways in place; of ways of one length the first. Null where they don't meet. */
export async function wayBetween(reader: Reader, from: number, to: number): Promise<LateralWay | null> {
  const rows = await reader.rows<PathwayRow>(
    `select id, tag, from_space_id, to_space_id, length_m, life from pathway
     where life <> 'removed' and from_space_id is not null and to_space_id is not null order by id`,
  );
  const at = new Map<number, { to: number; by: PathwayRow }[]>();
  for (const by of rows) {
    for (const [a, b] of [
      [by.from_space_id as number, by.to_space_id as number],
      [by.to_space_id as number, by.from_space_id as number],
    ] as const) {
      const own = at.get(a);
      if (own) own.push({ to: b, by });
      else at.set(a, [{ to: b, by }]);
    }
  }
  const best = shortest(at, from, to);
  return best && told(reader, best, from);
}

function shortest(
  at: ReadonlyMap<number, readonly { readonly to: number; readonly by: PathwayRow }[]>,
  from: number,
  to: number,
): PathwayRow[] | null {
  const reached = new Map<number, { metres: number; by: PathwayRow | null; back: number }>([
    [from, { metres: 0, by: null, back: from }],
  ]);
  const open = new Set([from]);
  const done = new Set<number>();
  while (open.size > 0) {
    let here = -1;
    for (const one of open) if (here < 0 || far(reached, one) < far(reached, here)) here = one;
    open.delete(here);
    done.add(here);
    if (here === to) break;
    for (const next of at.get(here) ?? []) {
      if (done.has(next.to)) continue;
      const metres = far(reached, here) + (next.by.length_m ?? UNKNOWN_M);
      if (metres >= far(reached, next.to)) continue;
      reached.set(next.to, { metres, by: next.by, back: here });
      open.add(next.to);
    }
  }
  if (!reached.has(to)) return null;
  const way: PathwayRow[] = [];
  for (let one = reached.get(to); one?.by; one = reached.get(one.back)) way.unshift(one.by);
  return way;
}

const far = (reached: ReadonlyMap<number, { readonly metres: number }>, space: number): number =>
  reached.get(space)?.metres ?? Number.POSITIVE_INFINITY;

interface Passed {
  readonly id: number;
  readonly crossing_m: number | null;
  readonly inner_length_m: number | null;
  readonly inner_width_m: number | null;
}

async function told(reader: Reader, way: readonly PathwayRow[], from: number): Promise<LateralWay> {
  const between: number[] = [];
  let here = from;
  for (const { from_space_id, to_space_id } of way.slice(0, -1)) {
    here = (from_space_id === here ? to_space_id : from_space_id) as number;
    between.push(here);
  }
  const rows = await reader.rows<Passed>(
    "select id, crossing_m, inner_length_m, inner_width_m from space where id in (select value from json_each(?))",
    [JSON.stringify(between)],
  );
  const [policy] = await reader.rows<{ value: number | null }>(
    "select value from limit_value where tag = 'crossing.default_m'",
  );
  const spaces = await spacesOf(reader, between);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const passed = between.flatMap((id) => spaces.get(id)?.ref ?? []);
  const pathways = way.map(
    ({ id, tag }): RecordRef => ({ kind: "pathway", id, tag: addressUnder("pathway", null, tag) }),
  );
  const lacks: string[] = [];
  let length_m = 0;
  for (const [index, { length_m: own_m }] of way.entries()) {
    if (own_m === null) lacks.push(say`the length of ${pathways[index]?.tag} is not on record`);
    length_m += own_m ?? 0;
  }
  for (const id of between) {
    const row = byId.get(id);
    const through_m = row ? crossingOf(row, policy?.value ?? null) : null;
    if (through_m === null) lacks.push(say`the crossing at ${spaces.get(id)?.ref.tag} is not on record`);
    length_m += through_m ?? 0;
  }
  const doubts = way.flatMap(({ life }, index) =>
    life === "in_place" ? [] : [say`whether ${pathways[index]?.tag} can be used: it is ${lifeWords(life)}`],
  );
  return { pathways, passed, length_m: lacks.length > 0 ? null : Math.round(length_m * 1000) / 1000, lacks, doubts };
}
