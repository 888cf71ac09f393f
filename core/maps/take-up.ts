/** Which record a feature stands for, by its tag and geometry, and whether it is fit to. */
import { isKindName, kindOf } from "../model/dictionary.ts";
import { isFormula } from "../model/formula.ts";
import { either, withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { type FeatureFate, refusedFate } from "./fate.ts";
import type { MapFeature, MapFile } from "./feature.ts";
import { type Known, type OnRecord, oneOf } from "./on-record.ts";
import { foldedName, RECORD, type Said, saidBy, TAG } from "./said.ts";
import { MAPPED, type Mapped, type ReadShape, readShape, Unfit } from "./shape.ts";

export interface MapManner {
  /** Reads latitude before longitude: for files that have them the wrong way round. */
  readonly swapped: boolean;
  /** Features that are read the other way round than the rest of the file. */
  readonly turn: ReadonlySet<number>;
  /** Features whose numbers look swapped, and that are meant as they are written. */
  readonly asWritten: ReadonlySet<number>;
  /** The property that holds the tag; `tag`, or what the form calls the feature, where left out. */
  readonly tagFrom: string | null;
  readonly leaveOut: ReadonlySet<number>;
}

/** A feature that was found fit so far. */
export interface Taken {
  readonly feature: MapFeature;
  readonly kind: Mapped;
  readonly address: string;
  readonly known: Known | null;
  readonly shape: ReadShape;
  readonly said: Said;
  readonly notices: string[];
}

export function takeUp(
  feature: MapFeature,
  file: MapFile,
  manner: MapManner,
  record: OnRecord,
  claims: Map<string, number>,
): Taken | FeatureFate {
  const { property, tag } = tagOf(feature, file, manner);
  const called = tag ?? feature.called ?? say`feature ${feature.number}`;
  if (tag === null)
    return refusedFate(feature, called, null, [{ field: manner.tagFrom ?? TAG, reason: say`is missing` }]);
  if (tag.split("/").some((name) => isFormula(name, "name")) && !MAPPED.some((kind) => record.exact(kind, tag)))
    return refusedFate(feature, called, null, [
      { field: property ?? manner.tagFrom ?? TAG, reason: say`begins as a formula: no tag begins with =, +, - or @` },
    ]);
  let shape: ReadShape;
  try {
    shape = readShape(feature.geometry, manner.swapped !== manner.turn.has(feature.number));
  } catch (error) {
    if (!(error instanceof Unfit)) throw error;
    return refusedFate(feature, called, null, [{ field: "geometry", reason: error.message }]);
  }
  const notices = [...shape.notices];
  const kinds = kindsOf(feature, shape);
  if (typeof kinds === "string") return refusedFate(feature, called, null, [{ field: RECORD, reason: kinds }]);
  const exact = kinds.flatMap((kind) => record.exact(kind, tag) ?? []);
  const close = exact.length > 0 ? exact : kinds.flatMap((kind) => record.close(kind, tag));
  if (close.length > 1)
    return refusedFate(feature, called, null, [
      {
        field: TAG,
        reason: say`can be ${either(close.map(({ kind, address }) => `${oneOf(kind)} ${address}`))}`,
      },
    ]);
  const known = close[0] ?? null;
  if (!known && kinds === MAPPED)
    return refusedFate(feature, called, null, [
      { field: RECORD, reason: say`is missing, and so is a geometry: it can't be told what this is` },
    ]);
  if (known && exact.length === 0) notices.push(say`is taken for ${known.address}`);
  const kind = known?.kind ?? (kinds[0] as Mapped);
  const address = known?.address ?? tag;
  const unfit = unfitFor(kind, shape);
  if (unfit) return refusedFate(feature, address, kind, [{ field: "geometry", reason: unfit }]);
  const before = claims.get(`${kind} ${address}`);
  if (before !== undefined)
    return refusedFate(feature, address, kind, [{ field: TAG, reason: say`is claimed by feature ${before} already` }]);
  claims.set(`${kind} ${address}`, feature.number);
  const passed = new Set(property === null ? [] : [property]);
  const said = saidBy(kind, feature.properties, passed, known);
  return { feature, kind, address, known, shape, said, notices };
}

function tagOf(
  feature: MapFeature,
  file: MapFile,
  { tagFrom }: MapManner,
): { property: string | null; tag: string | null } {
  const wanted = foldedName(tagFrom ?? TAG);
  const property = Object.keys(feature.properties).find((name) => foldedName(name) === wanted) ?? null;
  const value = property === null ? null : feature.properties[property];
  const text = typeof value === "string" ? value.trim() : typeof value === "number" ? String(value) : "";
  if (text !== "") return { property, tag: text };
  if (tagFrom !== null || feature.called === null) return { property, tag: null };
  // A placemark's name is what it is called; then it isn't a name beside the tag.
  return { property: file.form === "KML" ? "name" : property, tag: feature.called.trim() || null };
}

/** Which kinds it may stand for, the one that a new record would be of first, any where nothing tells; or why none. */
function kindsOf({ properties }: MapFeature, { spot, outline, line }: ReadShape): readonly Mapped[] | string {
  const property = Object.keys(properties).find((name) => foldedName(name) === RECORD);
  const said = property === undefined ? null : properties[property];
  if (typeof said === "string" && said.trim() !== "") {
    const word = foldedName(said);
    const kind = MAPPED.find((one) => one === word || kindOf(one).many === word);
    if (kind) return [kind];
    return isKindName(word)
      ? say`is ${word}, which has no place on a map`
      : say`is ${said}: must be one of ${MAPPED.join(", ")}`;
  }
  if (line) return ["pathway"];
  if (outline) return ["building"];
  return spot ? ["space", "building"] : MAPPED;
}

function unfitFor(kind: Mapped, { spot, outline, line }: ReadShape): string | null {
  const takes = { building: say`a point or an outline`, space: say`a point`, pathway: say`a line` }[kind];
  const wrong =
    kind === "building"
      ? line !== null
      : kind === "space"
        ? outline !== null || line !== null
        : spot !== null || outline !== null;
  if (!wrong) return null;
  return say`is ${line ? say`a line` : outline ? say`an outline` : say`a point`}: ${withArticle(oneOf(kind))} takes ${takes}`;
}
