/** Places and ways as GeoJSON (RFC 7946): what is read back unchanged changes nothing. */
import type { AnyRow, KindName } from "../model/dictionary.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { OnRecord, pointsOf } from "./on-record.ts";
import { columnsOf, RECORD, TAG } from "./said.ts";
import { MAPPED, type Mapped, properRing } from "./shape.ts";

export interface Feature {
  readonly type: "Feature";
  readonly properties: Readonly<Record<string, string | number>>;
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
}

export interface Collection {
  readonly type: "FeatureCollection";
  readonly features: readonly Feature[];
}

/** Every building, space and pathway in the order of their tags; one without a place has no geometry. */
export async function collectionOf(reader: Reader): Promise<Collection> {
  const record = await OnRecord.read(reader);
  const features: Feature[] = [];
  for (const kind of MAPPED) {
    const columns = columnsOf(kind);
    const names = await referredTo(reader, kind, record);
    for (const { row, address } of [...record.all[kind]].sort((a, b) => inOrder(a.row, b.row))) {
      const geometry = geometryOf(kind, row);
      const properties: Record<string, string | number> = { [RECORD]: kind, [TAG]: address };
      for (const { name, field, to } of columns) {
        const value = row[field as string] ?? null;
        // A building's spot stands beside its outline, and as its geometry where it has none.
        if (value === null || (geometry?.type === "Point" && (field === "longitude" || field === "latitude"))) continue;
        properties[name] = to === null ? value : (names.get(`${to} ${value}`) ?? value);
      }
      features.push({ type: "Feature", properties, geometry });
    }
  }
  return { type: "FeatureCollection", features };
}

const inOrder = (a: AnyRow, b: AnyRow): number => {
  const [one, other] = [String(a.tag_key ?? a.tag), String(b.tag_key ?? b.tag)];
  return one < other ? -1 : one > other ? 1 : a.id - b.id;
};

function geometryOf(kind: Mapped, row: AnyRow): Feature["geometry"] {
  const spot =
    typeof row.longitude === "number" && typeof row.latitude === "number"
      ? { type: "Point", coordinates: [row.longitude, row.latitude] }
      : null;
  if (kind === "space") return spot;
  const points = pointsOf((kind === "building" ? row.outline : row.geometry) ?? null);
  if (kind === "pathway") return points.length < 2 ? null : { type: "LineString", coordinates: points };
  return points.length < 3 ? spot : { type: "Polygon", coordinates: [properRing(points)] };
}

/** Addresses of everything that records of a kind refer to. */
async function referredTo(reader: Reader, kind: Mapped, record: OnRecord): Promise<ReadonlyMap<string, string>> {
  const names = new Map<string, string>();
  for (const { field, to } of columnsOf(kind)) {
    if (field === null || to === null) continue;
    const ids = new Set(record.all[kind].flatMap(({ row }) => (typeof row[field] === "number" ? [row[field]] : [])));
    for (const [id, address] of await addressesOf(reader, to as KindName, ids)) names.set(`${to} ${id}`, address);
  }
  return names;
}
