/** What reading a map would do, feature by feature, and the one plan all of it comes to. */
import { Digest } from "../model/digest.ts";
import type { LonLat } from "../model/lines.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { say } from "../words/say.ts";
import { astray, type Extent, extentOf } from "./extent.ts";
import { type FeatureFate, type MapFate, refusedFate } from "./fate.ts";
import type { MapFile } from "./feature.ts";
import { OnRecord } from "./on-record.ts";
import { MAPPED } from "./shape.ts";
import { type MapManner, type Taken, takeUp } from "./take-up.ts";
import { type NewIds, ToChanges } from "./to-changes.ts";

export interface MapPlan {
  readonly fates: readonly FeatureFate[];
  readonly totals: Readonly<Record<MapFate, number>> & { readonly rows: number; readonly left_out: number };
  /** How many lie far off the campus, and how many of them would lie within reach the other way round. */
  readonly far: number;
  readonly swapped: number;
  /** Features that wait until it is said which way round they are meant. */
  readonly doubted: readonly number[];
  /** Properties that are no field of the records they stand with, with how many features have them. */
  readonly unknown: readonly { readonly property: string; readonly features: number }[];
  readonly extent: Extent | null;
  /** Names this plan. */
  readonly digest: string;
  readonly changes: readonly Change[];
}

const SWAPPED = {
  field: "geometry",
  reason: say`lies far outside the campus, and within it the other way round: longitude and latitude look swapped; say which way round it is meant`,
};

type Heard = (done: number, total: number) => Promise<void>;

export async function planMap(
  reader: Reader,
  revision: number,
  file: MapFile,
  manner: MapManner,
  newIds: NewIds,
  heard: Heard,
): Promise<MapPlan> {
  const record = await OnRecord.read(reader);
  const campus = extentOf(record.positions());
  const claims = new Map<string, number>();
  const unknown = new Map<string, number>();
  const fates = new Map<number, FeatureFate>();
  const taken: Taken[] = [];
  const positions: LonLat[] = [];
  const doubted: number[] = [];
  let [far, swapped] = [0, 0];
  for (const feature of file.features) {
    if (manner.leaveOut.has(feature.number)) continue;
    const one = takeUp(feature, file, manner, record, claims);
    if ("fate" in one) {
      fates.set(feature.number, one);
      continue;
    }
    const away = campus ? astray(campus, one.shape.positions) : null;
    if (away) {
      far += 1;
      if (away === "swapped") swapped += 1;
      if (away === "swapped" && !manner.asWritten.has(feature.number)) {
        doubted.push(feature.number);
        fates.set(feature.number, refusedFate(feature, one.address, one.kind, [SWAPPED], one.notices));
        continue;
      }
      one.notices.push(say`lies far outside the campus`);
    }
    for (const property of one.said.unknown) unknown.set(property, (unknown.get(property) ?? 0) + 1);
    positions.push(...one.shape.positions);
    taken.push(one);
  }
  // Buildings before the rooms in them, and these before the ways between them, wherever they stand in the file.
  taken.sort((a, b) => MAPPED.indexOf(a.kind) - MAPPED.indexOf(b.kind) || a.feature.number - b.feature.number);
  const digest = new Digest().update(`${revision}\n`);
  const writer = new ToChanges(reader, record, newIds);
  for (const [at, one] of taken.entries()) {
    if (at % 500 === 0) await heard(at, taken.length);
    const fate = await writer.fateOf(one);
    fates.set(one.feature.number, fate);
  }
  const all = [...fates.values()].sort((a, b) => a.feature - b.feature);
  const totals = { rows: file.features.length, new: 0, changed: 0, same: 0, refused: 0, left_out: 0 };
  for (const one of all) {
    totals[one.fate] += 1;
    digest.update(`${JSON.stringify([one.feature, one.kind, one.record, one.fate, one.fields])}\n`);
  }
  totals.left_out = file.features.length - all.length;
  return {
    ...{
      fates: all,
      totals,
      far,
      swapped,
      doubted,
      extent: extentOf(positions),
      digest: digest.hex(),
      changes: writer.changes,
    },
    unknown: [...unknown].map(([property, features]) => ({ property, features })),
  };
}
