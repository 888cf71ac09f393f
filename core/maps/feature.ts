/** What a map file holds, whichever form it has: features with what they say and where they lie. */

export interface MapFeature {
  /** Its number in the file, from 1. */
  readonly number: number;
  /** What the form itself calls it: GeoJSON's `id`, the name of a placemark in KML. */
  readonly called: string | null;
  /** Everything it says, as it was written. */
  readonly properties: Readonly<Record<string, unknown>>;
  /** A geometry object of RFC 7946, unchecked; null where it has none. */
  readonly geometry: unknown;
}

export interface MapFile {
  readonly name: string;
  readonly form: "GeoJSON" | "KML";
  readonly features: readonly MapFeature[];
}

/** Beyond these a file is no map of a campus, and reading it would only fill the memory. */
export const MOST_BYTES = 64_000_000;
export const MOST_FEATURES = 200_000;

export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
