/** Where a map comes from: a file of this machine, a file dropped on the window, or text that was pasted. */
import { decoded, encodingOf, fromBase64 } from "../as-built/decode.ts";
import { fileBytes, placed } from "../as-built/file-bytes.ts";
import { isZip } from "../as-built/workbook.ts";
import type { FolderPort } from "../ports.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { type MapFile, MOST_BYTES } from "./feature.ts";
import { geojsonFeatures } from "./geojson.ts";
import { kmlFeatures, unpackedKml } from "./kml.ts";

export interface MapSource {
  readonly file?: string | undefined;
  readonly content?: string | undefined;
  readonly text?: string | undefined;
  readonly name?: string | undefined;
}

export async function readMap(folders: FolderPort, source: MapSource): Promise<MapFile> {
  const given = [source.file, source.content, source.text].filter((one) => one !== undefined);
  if (given.length !== 1)
    refuse("bad_input", say`Which map is meant?`, [
      { field: "source", reason: say`must be one of a file, a file's content, or text` },
    ]);
  const name = source.name ?? (source.file === undefined ? "pasted" : placed(source.file).name);
  const text = source.text ?? (await textOf(folders, source, name));
  const begins = text.replace(/^\uFEFF/, "").trimStart();
  if (begins === "") refuse("file", say`${name} is empty.`, [{ file: name, reason: say`holds nothing` }]);
  if (begins.startsWith("<")) return { name, form: "KML", features: kmlFeatures(name, begins) };
  return { name, form: "GeoJSON", features: geojsonFeatures(name, begins) };
}

async function textOf(folders: FolderPort, source: MapSource, name: string): Promise<string> {
  const bytes =
    source.content === undefined
      ? await fileBytes(folders, source.file ?? "", MOST_BYTES, say`a map`)
      : fromBase64(source.content);
  if (isZip(bytes)) return unpackedKml(name, bytes);
  return decoded(bytes, encodingOf(bytes));
}
