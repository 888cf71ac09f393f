/** The case of a break-out and its trays: the one the cable is opened in, one in the place, one in stock, or a new one. */
import { CARRIES } from "../glass/glass.ts";
import { heldInTrays } from "../glass/in-trays.ts";
import { joinAddress } from "../model/address.ts";
import { refuse } from "../result.ts";
import { addressesOf, resolve, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { CaseChoice, TrayTake } from "./answer.ts";

export interface CaseAsked {
  readonly place: RecordRef;
  /** The case the cable is opened in here already. */
  readonly own: number | null;
  /** One that was named; it is this one or none. */
  readonly named: string | null;
  /** The number of a new one that is wanted instead. */
  readonly fresh: string | null;
  /** Splices that a tray of a new case is reckoned with. */
  readonly tray_splices: number;
  /** The cable is not in a case here yet, so that one takes it in and out. */
  readonly entering: boolean;
}

interface TrayRow {
  readonly id: number;
  readonly tag: string;
  readonly capacity: number | null;
  readonly used: number;
  /** Places that hold something. */
  readonly taken: ReadonlySet<number>;
}

interface CaseRow {
  readonly id: number;
  readonly tag: string;
  readonly space_id: number | null;
  readonly life: string;
  readonly entries: number | null;
  readonly capacity: number | null;
  readonly cables: number;
  readonly passes: number;
}

export interface CaseOnRecord extends CaseRow {
  readonly ref: RecordRef;
  readonly trays: readonly TrayRow[];
}

export interface Cases {
  /** Those that may be used, in the order in which they are tried. */
  readonly usable: readonly CaseOnRecord[];
  /** Nothing but these will do: one was named. */
  readonly only: boolean;
  readonly fresh: string;
}

/** Refuses `not_found` for a case that isn't on record, `not_possible` for one in another place or out of service. */
export async function casesFor(reader: Reader, asked: CaseAsked): Promise<Cases> {
  const { place, named, own } = asked;
  const tags = await reader.rows<{ tag: string }>("select tag from closure where space_id = ?", [place.id]);
  const used = new Set(tags.map(({ tag }) => tag.toLowerCase()));
  if (asked.fresh !== null) {
    if (used.has(asked.fresh.trim().toLowerCase())) {
      refuse("duplicate", say`${place.tag} has a case ${asked.fresh} already.`, [
        { field: "new_closure", record: asked.fresh, reason: say`is taken in ${place.tag}` },
      ]);
    }
    return { usable: [], only: true, fresh: asked.fresh.trim() };
  }
  const fresh = nextFree(used);
  if (named !== null) {
    const { id } = await closureNamed(reader, named, place);
    const [one] = await readCases(reader, "c.id = ?", [id]);
    if (!one || one.life === "removed" || one.life === "planned") {
      refuse("not_possible", say`${named} is ${one?.life ?? say`gone`}: it takes no splices.`, [
        { field: "closure", record: named, reason: say`is ${one?.life ?? say`not on record`}` },
      ]);
    }
    if (one.space_id !== null && one.space_id !== place.id) {
      refuse("not_possible", say`${one.ref.tag} is not in ${place.tag}.`, [
        { field: "closure", record: one.ref.tag, reason: say`is in another place than ${place.tag}` },
      ]);
    }
    return { usable: [one], only: true, fresh };
  }
  const found = await readCases(
    reader,
    "(c.space_id = ? and c.life in ('in_place', 'out_of_use')) or (c.space_id is null and c.panel_id is null and c.life = 'in_stock')",
    [place.id],
  );
  const rank = (one: CaseOnRecord): number => (one.id === own ? 0 : one.space_id !== null ? 1 : 2);
  return { usable: found.toSorted((a, b) => rank(a) - rank(b) || a.id - b.id), only: false, fresh };
}

/** A case by its address, or by its number alone in this place or in stock. */
async function closureNamed(reader: Reader, named: string, place: RecordRef): Promise<{ id: number }> {
  const here = await reader.rows<{ id: number }>("select id from closure where tag = ? and space_id = ?", [
    named.trim(),
    place.id,
  ]);
  const [only] = here;
  if (only && here.length === 1) return only;
  const others = await reader.rows<{ id: number }>(
    "select id from closure where tag = ? and space_id <> ? and life <> 'removed' order by id limit 5",
    [named.trim(), place.id],
  );
  const inStock = await resolve(reader, named, { kinds: ["closure"] });
  if (inStock.length === 0 && others.length > 0) {
    const tags = await addressesOf(
      reader,
      "closure",
      others.map(({ id }) => id),
    );
    const elsewhere = [...tags.values()].join(", ");
    const reason = plural(
      others.length,
      "is none of {1}'s and none in stock; elsewhere there is {2}: a case is named with its place",
      "is none of {1}'s and none in stock; elsewhere there are {2}: a case is named with its place",
      place.tag,
      elsewhere,
    );
    refuse("not_found", `${named} ${reason}.`, [{ field: "closure", record: named, reason }]);
  }
  return resolveOne(reader, named, { kinds: ["closure"], field: "closure" });
}

function nextFree(used: ReadonlySet<string>): string {
  for (let number = 1; ; number += 1) if (!used.has(`cl-${number}`)) return `CL-${number}`;
}

async function readCases(reader: Reader, where: string, values: readonly number[]): Promise<CaseOnRecord[]> {
  const rows = await reader.rows<CaseRow>(
    `select c.id, c.tag, c.space_id, c.life, c.entries, c.capacity,
       (select count(distinct st.cable_id) from stop st where st.closure_id = c.id) as cables,
       (select count(*) from stop st where st.closure_id = c.id and st.kind in ('opened', 'passing')) as passes
     from closure c where ${where}`,
    [...values],
  );
  const ids = JSON.stringify(rows.map(({ id }) => id));
  const trays = await reader.rows<Omit<TrayRow, "used" | "taken"> & { closure_id: number }>(
    `select id, tag, capacity, closure_id from tray where closure_id in (select value from json_each(?))
       and life <> 'removed' order by position is null, position, tag_key, id`,
    [ids],
  );
  const asked = JSON.stringify(trays.map(({ id }) => id));
  const some = "tray_id in (select value from json_each(?))";
  const held = new Map(
    (await reader.rows<{ tray_id: number; held: number }>(heldInTrays(some), [asked, asked])).map((row) => [
      row.tray_id,
      row.held,
    ]),
  );
  const places = await reader.rows<{ tray_id: number; place: number }>(
    `select tray_id, place from splice where ${some} and place is not null and life in ${CARRIES}
     union all select tray_id, place from termination where ${some} and place is not null and life in ${CARRIES}`,
    [asked, asked],
  );
  const taken = Map.groupBy(places, ({ tray_id }) => tray_id);
  const names = await addressesOf(
    reader,
    "closure",
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({
    ...row,
    ref: { kind: "closure", id: row.id, tag: names.get(row.id) ?? row.tag },
    trays: trays
      .filter(({ closure_id }) => closure_id === row.id)
      .map(({ id, tag, capacity }) => ({
        id,
        tag,
        capacity,
        used: held.get(id) ?? 0,
        taken: new Set((taken.get(id) ?? []).map(({ place }) => place)),
      })),
  }));
}

/** Splices that belong together: those of one unit towards one side. */
export type Group = number;

/** The case that takes some splices; refuses `not_possible` where one was named that can't. */
export function chooseCase(cases: Cases, asked: CaseAsked, groups: readonly Group[]): Chosen {
  const passed_over: CaseChoice["passed_over"][number][] = [];
  for (const one of cases.usable) {
    const fit = roomIn(one, asked, groups);
    if (typeof fit !== "string") return { ...fit, passed_over };
    passed_over.push({ closure: one.ref, reason: fit });
    if (cases.only) {
      refuse("not_possible", `${one.ref.tag} ${fit}.`, [{ field: "closure", record: one.ref.tag, reason: fit }]);
    }
  }
  return { ...newCase(cases.fresh, asked, groups), passed_over };
}

export interface Chosen extends Omit<CaseChoice, "passed_over"> {
  readonly passed_over: CaseChoice["passed_over"];
  readonly on_record: CaseOnRecord | null;
  /** Trays as often as groups are parted between them: for each group its pieces. */
  readonly placed: readonly (readonly { readonly tray: string; readonly from: number; readonly count: number }[])[];
}

/** What a case on record offers, or why it won't do. */
function roomIn(one: CaseOnRecord, asked: CaseAsked, groups: readonly Group[]): Omit<Chosen, "passed_over"> | string {
  const wanted = groups.reduce((sum, size) => sum + size, 0);
  const held = one.trays.reduce((sum, { used }) => sum + used, 0);
  if (one.capacity !== null && held + wanted > one.capacity) {
    return plural(
      wanted,
      "takes {1} and holds {2}; {0} more is wanted",
      "takes {1} and holds {2}; {0} more are wanted",
      counted(one.capacity, "splice"),
      held,
    );
  }
  const to_prove: string[] = [];
  if (one.entries === null)
    to_prove.push(say`whether ${one.tag} has an entry left: how many it takes is not on record`);
  else {
    const more = (asked.entering ? 1 : 0) + 1;
    if (one.cables + more > one.entries) {
      return plural(
        more,
        "takes {1} cables and has {2}; {0} more is to enter",
        "takes {1} cables and has {2}; {0} more are to enter",
        one.entries,
        one.cables,
      );
    }
    if (one.cables + one.passes + more + (asked.entering ? 1 : 0) > one.entries)
      to_prove.push(say`whether the ${one.entries} entries of ${one.tag} take cables that go in and out`);
  }
  const address = one.space_id === null ? joinAddress(asked.place.tag, "/", one.tag) : one.ref.tag;
  const trays = one.trays.map((tray): Tray => ({ ...tray, address: joinAddress(address, "/", tray.tag) }));
  if (trays.length === 0) return say`has no splice tray on record`;
  const filled = fill(trays, groups);
  if (typeof filled === "string") return filled;
  if (filled.takes.some(({ capacity }) => capacity === null))
    to_prove.push(say`whether the trays of ${one.tag} have room: what they take is not on record`);
  return {
    how: one.space_id === null ? "stock" : "here",
    record: one.ref,
    tag: address,
    trays: filled.takes,
    placed: filled.placed,
    to_prove,
    on_record: one,
  };
}

function newCase(tag: string, asked: CaseAsked, groups: readonly Group[]): Omit<Chosen, "passed_over"> {
  const each = Math.max(1, asked.tray_splices);
  const address = joinAddress(asked.place.tag, "/", tag);
  const most = groups.reduce((sum, size) => sum + Math.ceil(size / each), 0);
  const trays = Array.from(
    { length: most },
    (_, index): Tray => ({
      id: null,
      tag: `T${index + 1}`,
      capacity: each,
      used: 0,
      taken: new Set(),
      address: joinAddress(address, "/", `T${index + 1}`),
    }),
  );
  const filled = fill(trays, groups);
  // As many trays as splices ask for always suffice.
  if (typeof filled === "string") throw new Error(filled);
  return {
    how: "new",
    record: null,
    tag: address,
    trays: filled.takes,
    placed: filled.placed,
    to_prove: [say`which case ${tag} is to be, that takes this cable in and out and the lateral`],
    on_record: null,
  };
}

interface Tray extends Omit<TrayRow, "id"> {
  readonly id: number | null;
  readonly address: string;
}

/** Each group into one tray where one takes it whole, else parted over trays in order; or what there is. */
function fill(
  trays: readonly Tray[],
  groups: readonly Group[],
): { takes: TrayTake[]; placed: { tray: string; from: number; count: number }[][] } | string {
  const left = trays.map(({ capacity, used }) => (capacity === null ? Number.POSITIVE_INFINITY : capacity - used));
  const takes = trays.map(() => 0);
  const put = (tray: number, count: number): void => {
    left[tray] = (left[tray] ?? 0) - count;
    takes[tray] = (takes[tray] ?? 0) + count;
  };
  const placed: { tray: string; from: number; count: number }[][] = [];
  for (const size of groups) {
    const pieces: { tray: string; from: number; count: number }[] = [];
    // Trays of known room before those of which nobody knows.
    const whole = [left.findIndex((room) => room >= size && room < 1e9), left.findIndex((room) => room >= size)].find(
      (index) => index >= 0,
    );
    let rest = size;
    for (const [index, room] of whole === undefined ? left.entries() : [[whole, size] as const]) {
      const count = Math.min(rest, Math.max(0, room));
      if (count === 0) continue;
      pieces.push({ tray: (trays[index] as Tray).address, from: size - rest, count });
      put(index, count);
      rest -= count;
    }
    if (rest > 0) {
      const wanted = groups.reduce((sum, one) => sum + one, 0);
      const free = trays.reduce((sum, { capacity, used }) => sum + Math.max(0, (capacity ?? 0) - used), 0);
      return plural(
        wanted,
        "has room for {1} in {2}; {0} is wanted",
        "has room for {1} in {2}; {0} are wanted",
        counted(free, "splice"),
        counted(trays.length, "tray"),
      );
    }
    placed.push(pieces);
  }
  return {
    placed,
    takes: trays.flatMap((tray, index): TrayTake[] => {
      const own = takes[index] ?? 0;
      return own === 0
        ? []
        : [
            {
              tray: tray.address,
              record: tray.id === null ? null : { kind: "tray", id: tray.id, tag: tray.address },
              used: tray.used,
              capacity: tray.capacity,
              takes: own,
              first_place: firstPlace(tray, own),
            },
          ];
    }),
  };
}

/** The first of so many places side by side that hold nothing; null where no places are on record. */
function firstPlace({ taken, used, capacity }: Tray, count: number): number | null {
  if (used > 0 && taken.size === 0) return null;
  const last = capacity ?? taken.size + count;
  for (let from = 1; from + count - 1 <= last; from += 1) {
    if (Array.from({ length: count }, (_, index) => from + index).every((place) => !taken.has(place))) return from;
  }
  return null;
}
