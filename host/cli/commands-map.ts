/** Places and ways from a map (GeoJSON, KML, KMZ) and to GeoJSON. */
import { writeFileSync } from "node:fs";
import { resolve } from "node:path";
import type { InputOf } from "../../core/operations/list.ts";
import { counted, plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { makeWhole } from "../whole-file.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE, REFUSED, UsageError } from "./exit.ts";
import { mapText } from "./maps-told.ts";
import { numbers } from "./options.ts";
import { printable } from "./print.ts";
import { writtenText } from "./written.ts";

export const mapCommand: Command = {
  name: "map",
  words: ["FILE", "MAP"],
  writes: true,
  help: say`Takes buildings, spaces and ways over from a map: GeoJSON, KML or KMZ, WGS 84, matched by tag. One change that can be undone; a feature that can't be read refuses all of them, unless it is left out.`,
  options: {
    rehearse: { help: say`tells the fate of each feature and changes nothing; ends with 1 when any would be refused` },
    "tag-from": {
      value: "PROPERTY",
      help: say`the property that holds the tag; tag, or a placemark's name, where left out`,
    },
    swapped: { help: say`latitude stands before longitude in this file` },
    turn: { value: "FEATURES", help: say`features that are read the other way round than the rest of the file` },
    "as-written": { value: "FEATURES", help: say`features that look swapped and are meant as they are written` },
    "leave-out": { value: "FEATURES", help: say`features that are left out, such as 4,7-9` },
    "leave-out-refused": { help: say`leaves out the features that can't be read` },
  },
  run: (given) => {
    const tag = given.option("tag-from");
    const input: InputOf<"map.rehearse"> = {
      file: resolve(given.words[1] ?? ""),
      swapped: given.on("swapped"),
      turn: numbers(given, "turn"),
      as_written: numbers(given, "as-written"),
      leave_out: numbers(given, "leave-out"),
      ...(tag === undefined ? {} : { tag_from: tag }),
    };
    const rehearse = given.on("rehearse");
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask }) => {
      const print = (value: unknown, text: string) =>
        given.terminal.out(given.json ? `${JSON.stringify(value, null, 2)}\n` : text);
      if (rehearse) {
        const rehearsal = await ask("map.rehearse", input);
        await print(rehearsal, mapText(rehearsal, given.terminal.columns));
        return rehearsal.totals.refused > 0 ? REFUSED : FINE;
      }
      const written = await ask("map.import", { ...input, valid_only: given.on("leave-out-refused") });
      await print(written, `${writtenText(written, given.terminal.columns)}\n${printable(written.answer.sentence)}\n`);
      return FINE;
    });
  },
};

export const mapExportCommand: Command = {
  name: "map-export",
  words: ["FILE", "NEW.geojson"],
  help: say`Writes every building, space and way to a new GeoJSON file (RFC 7946). Read back unchanged, it changes nothing.`,
  run: (given) => {
    const path = given.words[1] ?? "";
    if (!/\.(geo)?json$/i.test(path)) throw new UsageError(say`The new file's name ends in .geojson or .json.`);
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const { collection, features, without } = await ask("map.export", {});
      await makeWhole(resolve(path), (unfinished) => writeFileSync(unfinished, `${JSON.stringify(collection)}\n`));
      const told = { path: resolve(path), features, without };
      const lacking =
        without === 0
          ? ""
          : plural(without, " {0} of them has no place on record.", " {0} of them have no place on record.");
      await given.terminal.out(
        given.json
          ? `${JSON.stringify(told, null, 2)}\n`
          : say`Wrote ${path}: ${counted(features, "feature")}.${lacking}\n`,
      );
      return FINE;
    });
  },
};
