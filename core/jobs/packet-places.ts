/** Where a packet sends a crew: the places of its steps with what is on record of them, holes to be dug, and the break itself. */
import { type KindName, kindOf } from "../model/dictionary.ts";
import { type LonLat, spotOn } from "../model/lines.ts";
import { formatLength } from "../model/units.ts";
import { shownValue } from "../model/wording.ts";
import { refOf, refsOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { LightFound } from "./packet-light.ts";
import { ownersOf, type PacketOwner } from "./packet-owners.ts";
import type { Situation } from "./situation.ts";
import type { Job, JobStep } from "./stored.ts";

/** Longitude and latitude, and how far they may be off. */
export interface PacketSpot {
  readonly longitude: number;
  readonly latitude: number;
  readonly accuracy_m: number | null;
}

/** Where a way is broken, so that a crew finds the spot: every cable of it that the job mends, and metres along the way. */
export interface PacketBreak {
  readonly pathway: RecordRef;
  /** "duct bank". */
  readonly kind: string | null;
  readonly cables: readonly RecordRef[];
  /** Metres of way from the place before it, as the first of the cables lies. */
  readonly from: string;
  readonly from_m: number;
  /** On the line of the way; null where it has none, or isn't known to run from the one place to the other. */
  readonly spot: PacketSpot | null;
}

export interface PacketPlace {
  readonly place: RecordRef;
  readonly name: string | null;
  /** Of a room: its building by name, and the floor, as people there say it. */
  readonly building: string | null;
  /** "maintenance hole". */
  readonly kind: string | null;
  /** What can hurt there, in words. */
  readonly hazards: readonly string[];
  readonly key_holder: PacketOwner | null;
  /** Longitude and latitude, and how far they may be off. */
  readonly spot: PacketSpot | null;
  /** Of a hole to be dug: how far along which pathway, in words; its spot is then worked out from that pathway's line. */
  readonly along: string | null;
  /** How many of the steps are done there. */
  readonly steps: number;
}

interface SpaceRow {
  readonly id: number;
  readonly name: string | null;
  readonly kind: string | null;
  readonly hazards: string | null;
  readonly key_holder_id: number | null;
  readonly longitude: number | null;
  readonly latitude: number | null;
  readonly accuracy_m: number | null;
  readonly floor: string | null;
  readonly building: string | null;
}

/** Places where sheath is pulled, taken from a coil or laid, and those beside the break. */
const pulledThrough = ({ kind, between, stops }: Situation): RecordRef[] =>
  stops.flatMap(({ name, place, left_m }) =>
    place && (kind === "new_cable" || left_m !== null || between.includes(name)) ? [place] : [],
  );

/** Rooms in which somebody unplugs equipment. */
const endsOf = ({ equipment, unseen }: LightFound): RecordRef[] =>
  [...equipment, ...unseen].flatMap(({ place }) => place ?? []);

/**
 * The places of the steps, in the order in which the crew comes to them; those that sheath is pulled through; and the rooms
 * at the ends of the glass.
 */
export async function placesOf(
  reader: Reader,
  { steps }: Job,
  situations: readonly Situation[],
  light: LightFound,
): Promise<PacketPlace[]> {
  const counts = new Map<number, number>();
  for (const { place } of steps) if (place?.kind === "space") counts.set(place.id, (counts.get(place.id) ?? 0) + 1);
  for (const { kind, id } of [...situations.flatMap(pulledThrough), ...endsOf(light)])
    if (kind === "space" && !counts.has(id)) counts.set(id, 0);
  const ids = [...counts.keys()];
  const rows = await reader.rows<SpaceRow>(
    `select s.id, s.name, s.kind, s.hazards, s.key_holder_id, s.longitude, s.latitude, s.accuracy_m, s.floor,
       b.name as building from space s left join building b on b.id = s.building_id
     where s.id in (select value from json_each(?))`,
    [JSON.stringify(ids)],
  );
  const byId = new Map(rows.map((row) => [row.id, row]));
  const refs = await refsOf(reader, "space", ids);
  const dug = await holesDug(reader, steps);
  const holders = new Map<number, PacketOwner>();
  for (const id of new Set(rows.flatMap(({ key_holder_id }) => key_holder_id ?? []))) {
    const [holder] = await ownersOf(reader, [], [], [id]);
    if (holder) holders.set(id, holder);
  }
  return ids.flatMap((id): PacketPlace[] => {
    const [row, place] = [byId.get(id), refs.get(id)];
    if (!row || !place) return [];
    const { longitude, latitude, accuracy_m } = row;
    const hole = dug.get(place.tag);
    return [
      {
        place,
        name: row.name,
        building: row.building && (row.floor === null ? row.building : say`${row.building}, floor ${row.floor}`),
        kind: worded("space", "kind", row.kind),
        hazards: (row.hazards ?? "")
          .split(" ")
          .filter(Boolean)
          .flatMap((hazard) => worded("space", "hazards", hazard) ?? []),
        key_holder: row.key_holder_id === null ? null : (holders.get(row.key_holder_id) ?? null),
        spot: longitude === null || latitude === null ? (hole?.spot ?? null) : { longitude, latitude, accuracy_m },
        along: hole?.words ?? null,
        steps: counts.get(id) ?? 0,
      },
    ];
  });
}

/**
 * Holes that the job digs into a pathway, by their tag: metres along it, and the spot on its line where it is on record
 * how far off that may be.
 */
async function holesDug(reader: Reader, steps: readonly JobStep[]) {
  const dug = new Map<string, { words: string; spot: PacketSpot | null }>();
  for (const { act, input } of steps) {
    if (act !== "pathway.divide") continue;
    const { pathway, at, from_m } = input as {
      readonly pathway: string;
      readonly at: string;
      readonly from_m?: number;
    };
    const { id } = await resolveOne(reader, pathway, { kinds: ["pathway"], field: "pathway" });
    const [row] = await reader.rows<{
      length_m: number | null;
      geometry: string | null;
      accuracy_m: number | null;
      from_space_id: number | null;
    }>("select length_m, geometry, accuracy_m, from_space_id from pathway where id = ?", [id]);
    if (!row || from_m === undefined) continue;
    const from = row.from_space_id === null ? undefined : await refOf(reader, "space", row.from_space_id);
    const { length_m, geometry, accuracy_m } = row;
    const line = geometry === null ? null : (JSON.parse(geometry) as LonLat[]);
    const spot = line && length_m !== null && accuracy_m !== null ? spotOn(line, from_m / length_m) : null;
    dug.set(at, {
      words: say`${formatLength(from_m, "m", 1)} along ${pathway} from ${from?.tag ?? say`the end it is recorded from`}`,
      spot: spot && { longitude: spot[0], latitude: spot[1], accuracy_m },
    });
  }
  return dug;
}

function worded(kind: KindName, field: string, value: string | null): string | null {
  const own = kindOf(kind).fields[field];
  return value === null || !own ? value : shownValue(own, value, String);
}

/** One for each way that is cut at a known place; of cables cut in one way the first tells where. */
export async function breaksOf(reader: Reader, situations: readonly Situation[]): Promise<PacketBreak[]> {
  const breaks = new Map<number, PacketBreak>();
  for (const { cable, pathway, stops, cut_m, somewhere, half, inside } of situations) {
    const index = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
    const [before, beyond] = [stops[index], stops[index + 1]];
    if (!pathway || somewhere || half || inside || !before || !beyond) continue;
    const known = breaks.get(pathway.id);
    if (known) {
      breaks.set(pathway.id, { ...known, cables: [...known.cables, cable] });
      continue;
    }
    const from_m = cut_m - before.at_m - before.through_m;
    const [row] = await reader.rows<WayRow>(
      "select kind, length_m, geometry, accuracy_m, from_space_id, to_space_id from pathway where id = ?",
      [pathway.id],
    );
    const ends = [before.place, beyond.place].map((place) => (place?.kind === "space" ? place.id : null));
    const share = from_m / (beyond.at_m - before.at_m - before.through_m);
    breaks.set(pathway.id, {
      pathway,
      kind: worded("pathway", "kind", row?.kind ?? null),
      cables: [cable],
      from: before.name,
      from_m,
      spot: row ? spotBetween(row, ends, share) : null,
    });
  }
  return [...breaks.values()];
}

interface WayRow {
  readonly kind: string | null;
  readonly length_m: number | null;
  readonly geometry: string | null;
  readonly accuracy_m: number | null;
  readonly from_space_id: number | null;
  readonly to_space_id: number | null;
}

/** The spot at a share of the way from the first of two places to the other, where the way leads from the one to the other. */
function spotBetween(
  { geometry, accuracy_m, from_space_id, to_space_id }: WayRow,
  [first, other]: readonly (number | null)[],
  share: number,
): PacketSpot | null {
  if (geometry === null || accuracy_m === null || first == null || other == null) return null;
  const onward = from_space_id === first && to_space_id === other;
  if (!onward && !(from_space_id === other && to_space_id === first)) return null;
  const spot = spotOn(JSON.parse(geometry) as LonLat[], onward ? share : 1 - share);
  return spot && { longitude: spot[0], latitude: spot[1], accuracy_m };
}
