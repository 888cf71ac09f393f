/** KML and KMZ as features: parsed and converted by libraries; a placemark's name is what it is called. */
import { kml } from "@tmcw/togeojson";
import { DOMParser } from "@xmldom/xmldom";
import { archiveParts, unpackPart } from "../as-built/archive.ts";
import { decoded, encodingOf } from "../as-built/decode.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { isObject, type MapFeature, MOST_BYTES, MOST_FEATURES } from "./feature.ts";

/** How a placemark is drawn elsewhere: nothing that a record says. */
const DRAWN = /^(styleUrl|styleHash|styleMapHash|stroke|fill|icon|label|line|poly|visibility|open|@geometry-type)/;

/** A feature as the library hands it over. */
interface Converted {
  readonly properties: Readonly<Record<string, unknown>> | null;
  readonly geometry: unknown;
}

/** Why a text is no XML, and where, in words of ours. */
function brokenXml(faulty: { readonly line: number; readonly unclosed: string | null } | null): string {
  if (!faulty) return say`can't be parsed as XML`;
  const { line, unclosed } = faulty;
  if (unclosed !== null) return say`ends before these elements are closed: ${unclosed.slice(0, 200)}; is it whole?`;
  return line > 0 ? say`can't be parsed as XML from line ${line} on` : say`can't be parsed as XML`;
}

export function kmlFeatures(name: string, text: string): MapFeature[] {
  const no = (reason: string): never => refuse("bad_input", say`${name} is not KML.`, [{ file: name, reason }]);
  // What a DOCTYPE could define, KML doesn't need; a few lines of it can unfold to gigabytes.
  if (/<!DOCTYPE/i.test(text)) no(say`has a document type definition, which KML doesn't have`);
  let document: ReturnType<DOMParser["parseFromString"]>;
  let faulty: { readonly line: number; readonly unclosed: string | null } | null = null;
  try {
    document = new DOMParser({
      onError: (level, message, context) => {
        if (level === "warning") return;
        const unclosed = /unclosed xml tag\(s\): (.+)/.exec(message)?.[1] ?? null;
        faulty ??= { line: context?.locator?.lineNumber ?? 0, unclosed };
        throw new Error(message);
      },
    }).parseFromString(text, "text/xml");
  } catch {
    return no(brokenXml(faulty));
  }
  if (document.documentElement?.localName !== "kml")
    no(say`begins with ${document.documentElement?.localName}, not kml`);
  const features: readonly Converted[] = kml(document, { skipNullGeometry: false }).features;
  if (features.length > MOST_FEATURES) no(say`has ${features.length} placemarks; at most ${MOST_FEATURES} are read`);
  return features.map((feature, index) => {
    const properties: Record<string, unknown> = {};
    for (const [key, value] of Object.entries(feature.properties ?? {})) {
      if (DRAWN.test(key)) continue;
      properties[key] = isObject(value) && typeof value.value === "string" ? value.value : value;
    }
    const called = typeof properties.name === "string" ? properties.name : null;
    return { number: index + 1, called, properties, geometry: feature.geometry ?? null };
  });
}

/** The KML inside a KMZ: the first one in it, as its specification has it (OGC 12-007r2, annex C; from memory). */
export function unpackedKml(name: string, bytes: Uint8Array): string {
  const damaged = (): never =>
    refuse("file", say`${name} is damaged.`, [{ file: name, reason: say`can't be unpacked; save it again` }]);
  const first = (archiveParts(bytes) ?? damaged()).find((part) => /\.kml$/i.test(part.name));
  if (first === undefined || first.unpacked > MOST_BYTES)
    return refuse("file", say`${name} can't be read as a map.`, [
      {
        file: name,
        reason:
          first === undefined
            ? say`is an archive without a KML file in it`
            : say`unpacks to ${Math.ceil(first.unpacked / 1_000_000)} million bytes; at most 64 are read`,
      },
    ]);
  const part = unpackPart(bytes, first) ?? damaged();
  return decoded(part, encodingOf(part));
}
