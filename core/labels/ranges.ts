/**
 * Which strands of a cable go where, as far as the first panel: what is patched beyond changes too often to be written on
 * a cable.
 */
import { Adjacency } from "../glass/adjacency.ts";
import { readComponent } from "../glass/component.ts";
import { idOf, isPosition, NOWHERE, positionEnd, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/plant-glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { Trail } from "../glass/walk.ts";
import { addressesOf, numberRuns } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";

interface GlassContext {
  readonly reader: Reader;
  glass(): Promise<PlantGlass>;
  /** The plant's glass where it is in memory; without it the glass is loaded, however few ends are asked for. */
  heldGlass?(): Promise<PlantGlass | null>;
}

interface CablePlace {
  readonly id: number;
  readonly space_id: number | null;
}

interface SectionRow {
  readonly id: number;
  readonly cable_id: number;
  readonly number: number;
  readonly a: number;
  readonly b: number;
}

interface StopRow {
  readonly cable_id: number;
  readonly space_id: number | null;
  readonly ordinal: number;
}

/** So many ends at most are read by index where the plant's glass is not in memory: it costs what they reach. */
const FEW = 2000;

type RoomOf = (end: number) => number | null;

/** The room of the first panel, module or device that glass from each end comes to; null where it ends before, or forks. */
async function firstRooms(context: GlassContext, ends: readonly number[]): Promise<RoomOf> {
  const held = ends.length > FEW || !context.heldGlass ? await context.glass() : await context.heldGlass();
  if (held) {
    const first = firstPositions(held);
    return (end) => {
      const position = first(end);
      return position === null ? null : held.roomOf(position) || null;
    };
  }
  const { reader } = context;
  const near = new Adjacency();
  await readComponent(reader, near, ends);
  const first = firstPositions(near);
  const positions = new Map(ends.map((end) => [end, first(end)]));
  const rows = await reader.rows<{ id: number; room: number | null }>(
    `select po.id, ${ROOM} as room from position po join port p on p.id = po.port_id ${ROOM_JOINS}
     where po.id in (select value from json_each(?))`,
    [listed(new Set([...positions.values()].flatMap((id) => id ?? [])))],
  );
  const rooms = new Map(rows.map(({ id, room }) => [id, room]));
  return (end) => rooms.get(positions.get(end) ?? 0) ?? null;
}

function firstPositions(glass: Glass): (end: number) => number | null {
  const trail = new Trail();
  return (end) => {
    trail.follow(glass, end);
    for (let step = 0; step < trail.steps; step += 1) {
      const to = trail.to[step] as number;
      if (to !== NOWHERE && isPosition(to)) return idOf(to);
    }
    return null;
  };
}

const listed = (ids: Iterable<number>): string => JSON.stringify([...ids]);

/**
 * For each cable at a place "1-12 to SCI/B01, 13-24 to LIB/101", seen onward from there: towards the B end, at that end
 * back towards A. Empty where all its strands that are landed go to its other end, or none is landed. Null for a cable
 * without strands on record, or one that doesn't stop at the place.
 */
export async function rangesAt(
  context: GlassContext,
  places: readonly CablePlace[],
): Promise<Map<string, string | null>> {
  const { reader } = context;
  const cables = listed(new Set(places.map(({ id }) => id)));
  const stops = Map.groupBy(
    await reader.rows<StopRow>(
      "select cable_id, space_id, ordinal from stop where cable_id in (select value from json_each(?)) order by cable_id, ordinal",
      [cables],
    ),
    ({ cable_id }) => cable_id,
  );
  const sections = Map.groupBy(
    await reader.rows<SectionRow>(
      `select e.id, s.cable_id, s.number, a.ordinal as a, b.ordinal as b
       from strand s join section e on e.strand_id = s.id join stop a on a.id = e.a_stop_id join stop b on b.id = e.b_stop_id
       where s.cable_id in (select value from json_each(?)) order by s.cable_id, s.number`,
      [cables],
    ),
    ({ cable_id }) => cable_id,
  );
  const onward = places.map((place) => onwardFrom(place, stops.get(place.id), sections.get(place.id)));
  const roomOf = await firstRooms(
    context,
    onward.flatMap((one) => one?.ends.map(({ end }) => end) ?? []),
  );
  const found = places.map((place, at) => ({ place, rooms: roomsBy(onward[at] ?? null, roomOf) }));
  const tags = await addressesOf(
    reader,
    "space",
    new Set(found.flatMap(({ rooms }) => rooms?.by.map(({ room }) => room) ?? [])),
  );
  return new Map(
    found.map(({ place, rooms }) => [
      `${place.id} ${place.space_id ?? ""}`,
      rooms === null
        ? null
        : rooms.by.every(({ room }) => room === rooms.other)
          ? ""
          : // As the wordings have it: what stands on a label is the same whoever prints it, and is held against the record.
            rooms.by.map(({ room, numbers }) => `${numberRuns(numbers)} to ${tags.get(room) ?? "?"}`).join("; "),
    ]),
  );
}

interface Onward {
  /** The space at the cable's other end. */
  readonly other: number | null;
  /** The end of each strand that lies onward, whichever side of the glass it is. */
  readonly ends: readonly { readonly end: number; readonly number: number }[];
}

function onwardFrom(
  { space_id }: CablePlace,
  stops: readonly StopRow[] = [],
  sections: readonly SectionRow[] = [],
): Onward | null {
  const here = stops.find((stop) => space_id !== null && stop.space_id === space_id);
  const last = stops.at(-1);
  if (!here || !last || sections.length === 0) return null;
  const back = here.ordinal === last.ordinal;
  const ends = sections.flatMap(({ id, number, a, b }) => {
    const from = Math.min(a, b);
    const to = Math.max(a, b);
    if (back ? to !== here.ordinal : here.ordinal < from || here.ordinal >= to) return [];
    return [{ end: sectionEnd(id, a < b === back ? "A" : "B"), number }];
  });
  return { other: (back ? stops[0] : last)?.space_id ?? null, ends };
}

interface Rooms {
  readonly other: number | null;
  readonly by: readonly { readonly room: number; readonly numbers: readonly number[] }[];
}

function roomsBy(onward: Onward | null, roomOf: RoomOf): Rooms | null {
  if (!onward) return null;
  const by = new Map<number, number[]>();
  for (const { end, number } of onward.ends) {
    const room = roomOf(end);
    if (room !== null) by.set(room, [...(by.get(room) ?? []), number]);
  }
  return { other: onward.other, by: [...by].map(([room, numbers]) => ({ room, numbers })) };
}

/** Where the glass behind each port comes to first; null where it is open, or parts to several places. */
export async function farPlaces(context: GlassContext, ports: Iterable<number>): Promise<Map<number, string | null>> {
  const rows = await context.reader.rows<{ id: number; port_id: number }>(
    "select id, port_id from position where port_id in (select value from json_each(?)) order by port_id, ordinal",
    [listed(ports)],
  );
  const roomOf = await firstRooms(
    context,
    rows.map(({ id }) => positionEnd(id, "back")),
  );
  const rooms = new Map<number, Set<number>>();
  for (const { id, port_id } of rows) {
    const room = roomOf(positionEnd(id, "back"));
    const own = rooms.get(port_id) ?? new Set();
    if (room !== null) own.add(room);
    rooms.set(port_id, own);
  }
  const tags = await addressesOf(context.reader, "space", new Set([...rooms.values()].flatMap((own) => [...own])));
  return new Map(
    [...rooms].map(([port, own]) => [
      port,
      own.size === 0 ? null : [...own].map((room) => tags.get(room) ?? "?").join(", "),
    ]),
  );
}
