/** Photos and files kept with records: taken in, listed, and written out again. */
import { existsSync, statSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { say } from "../../core/words/say.ts";
import { makeWhole } from "../whole-file.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { known } from "./options.ts";
import { printable, table } from "./print.ts";
import { writtenText } from "./written.ts";

export const attachCommand: Command = {
  name: "attach",
  words: ["FILE", "RECORD", "PHOTO"],
  writes: true,
  help: say`Keeps a photo or file with a record, inside the plant file: at most 20 MB. A JPEG's own day is taken over unless another is said.`,
  options: {
    caption: { value: "TEXT", help: say`what it shows` },
    "taken-on": { value: "YYYY-MM-DD", help: say`the day it was taken` },
    "taken-by": { value: "NAME", help: say`who took it` },
  },
  run: (given) =>
    asking(given.terminal, given, { file: given.words[0] ?? "", write: true }, async ({ ask }) => {
      const written = await ask("attachment.add", {
        of: given.words[1] ?? "",
        file: resolve(given.words[2] ?? ""),
        ...known({
          caption: given.option("caption"),
          taken_on: given.option("taken-on"),
          taken_by: given.option("taken-by"),
        }),
      });
      await given.terminal.out(
        given.json ? `${JSON.stringify(written, null, 2)}\n` : `${writtenText(written, given.terminal.columns)}\n`,
      );
      return FINE;
    }),
};

export const attachmentsCommand: Command = {
  name: "attachments",
  words: ["FILE", "RECORD"],
  help: say`The photos and files kept with a record; --save writes them to a folder, never over what is there.`,
  options: { save: { value: "FOLDER", help: say`writes them out, each under its own name` } },
  run: (given) => {
    const folder = given.option("save");
    if (folder !== undefined && !statSync(resolve(folder), { throwIfNoEntry: false })?.isDirectory())
      throw new UsageError(say`There is no folder ${folder}.`);
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const { attached } = await ask("attachment.list", { of: given.words[1] ?? "" });
      const saved: { id: number; path: string }[] = [];
      for (const { id, there } of folder === undefined ? [] : attached) {
        if (!there) continue;
        const { name, content } = await ask("attachment.content", { id });
        const path = freePath(resolve(folder as string), name);
        await makeWhole(path, (unfinished) => writeFileSync(unfinished, Buffer.from(content, "base64")));
        saved.push({ id, path });
      }
      type Row = (typeof attached)[number];
      const columns = [
        { head: say`name`, cell: (one: Row) => one.name },
        { head: say`type`, cell: (one: Row) => one.media_type },
        { head: "kB", cell: (one: Row) => (one.bytes === null ? null : Math.ceil(one.bytes / 1024)), right: true },
        { head: say`taken on`, cell: (one: Row) => one.taken_on },
        { head: say`by`, cell: (one: Row) => one.taken_by },
        {
          head: say`what it shows`,
          cell: (one: Row) => (one.there ? one.caption : say`its content is not in this file`),
        },
      ];
      const text =
        attached.length === 0
          ? say`Nothing is kept with it.\n`
          : `${table(attached, columns, given.terminal.columns)}${saved.map(({ path }) => printable(say`Wrote ${path}\n`)).join("")}`;
      await given.terminal.out(given.json ? `${JSON.stringify({ attached, saved }, null, 2)}\n` : text);
      return FINE;
    });
  },
};

/** Two photos of one name are both wanted. */
function freePath(folder: string, name: string): string {
  const [, stem = name, ending = ""] = /^(.*?)(\.[^.]{1,10})?$/s.exec(name) ?? [];
  for (let n = 1; ; n++) {
    const path = join(folder, n === 1 ? name : `${stem} (${n})${ending}`);
    if (!existsSync(path)) return path;
  }
}
