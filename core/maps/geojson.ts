/** GeoJSON (RFC 7946) as features. A feature collection, one feature, or a bare geometry, which is a feature that says nothing. */
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { isObject, type MapFeature, MOST_FEATURES } from "./feature.ts";

const GEOMETRIES = [
  ...["Point", "MultiPoint", "LineString", "MultiLineString", "Polygon", "MultiPolygon", "GeometryCollection"],
];
/** Names under which WGS 84 with longitude first was written in files older than RFC 7946 (GeoJSON 2008, section 3). */
const WGS84 = /^(urn:ogc:def:crs:OGC:(1\.3)?:CRS84|(urn:ogc:def:crs:)?EPSG:{1,2}4326)$/i;

export function geojsonFeatures(name: string, text: string): MapFeature[] {
  const no = (sentence: string, reason: string): never => refuse("bad_input", sentence, [{ file: name, reason }]);
  let root: unknown;
  try {
    root = JSON.parse(text);
  } catch (error) {
    return no(say`${name} is not JSON.`, brokenAt(text, error));
  }
  if (!isObject(root) || typeof root.type !== "string")
    return no(say`${name} is not GeoJSON.`, say`its outermost object has no type`);
  const system = crsOf(root.crs);
  if (system !== null && !WGS84.test(system))
    no(say`${name} is not in longitude and latitude.`, say`is in ${system}; only WGS 84 is read: convert it first`);
  const { type } = root;
  if (GEOMETRIES.includes(type)) return [{ number: 1, called: null, properties: {}, geometry: root }];
  if (type === "Feature") return [featureOf(name, root, 1)];
  if (type !== "FeatureCollection")
    return no(say`${name} is not GeoJSON.`, say`its type is ${type}, which RFC 7946 doesn't have`);
  if (!Array.isArray(root.features)) return no(say`${name} is not GeoJSON.`, say`its features are not a list`);
  if (root.features.length > MOST_FEATURES)
    no(say`${name} has too many features.`, say`has ${root.features.length}; at most ${MOST_FEATURES} are read`);
  return root.features.map((one, index) => featureOf(name, one, index + 1));
}

/** Where the text stops being JSON; the engine tells the place in words of its own. */
function brokenAt(text: string, error: unknown): string {
  const at = /position (\d+)/.exec(error instanceof Error ? error.message : "")?.[1];
  if (at === undefined || Number(at) >= text.length) return say`breaks off before its end: was all of it saved?`;
  const before = text.slice(0, Number(at)).split("\n");
  const near = (before.at(-1) ?? "").slice(-20);
  const where = say`line ${before.length}, character ${(before.at(-1) ?? "").length + 1}`;
  return say`can't be read from ${where} on${near.trim() === "" ? "" : say`, after ${near}`}`;
}

function crsOf(crs: unknown): string | null {
  if (!isObject(crs)) return null;
  return isObject(crs.properties) && typeof crs.properties.name === "string"
    ? crs.properties.name
    : say`a system of its own`;
}

function featureOf(file: string, one: unknown, number: number): MapFeature {
  if (!isObject(one) || one.type !== "Feature")
    return refuse("bad_input", say`Feature ${number} of ${file} is not a feature.`, [
      { file, row: number, field: "type", reason: say`must be Feature (RFC 7946, section 3.2)` },
    ]);
  const called = typeof one.id === "string" || typeof one.id === "number" ? String(one.id) : null;
  return {
    number,
    called,
    properties: isObject(one.properties) ? one.properties : {},
    geometry: one.geometry ?? null,
  };
}
