/** Has the desktop open plant files by a double click, for this user; and no longer. */
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { type Associated, associate, dissociate, xdgPlaces } from "../association/freedesktop.ts";
import { registryAdds, registryDeletes } from "../association/windows.ts";
import type { Command } from "./command.ts";
import { FINE } from "./exit.ts";

const ICON = fileURLToPath(new URL("../../renderer/icon.svg", import.meta.url));
const START = fileURLToPath(new URL("../../setup/start.ts", import.meta.url));

/** What opens a plant file: this very program, on the Node it runs on. */
const opening = (): readonly string[] => [process.execPath, START];

async function registry(calls: readonly (readonly string[])[], undo: boolean): Promise<Associated> {
  for (const words of calls)
    await promisify(execFile)("reg.exe", [...words]).catch((error: unknown) => {
      // What isn't there needn't be taken away.
      if (!undo) throw error;
    });
  return { files: [...new Set(calls.map(([, key]) => key ?? ""))], missing: [] };
}

const change = (undo: boolean): Promise<Associated> => {
  switch (process.platform) {
    case "win32":
      return registry(undo ? registryDeletes() : registryAdds(opening()), undo);
    case "darwin":
      return refuse(
        "not_possible",
        say`On macOS only an application bundle can claim an ending: its Info.plist names it under CFBundleDocumentTypes. Until there is one, drag the plant file onto the open window, or open it from the File menu.`,
      );
    default:
      return undo ? dissociate(xdgPlaces()) : associate(xdgPlaces(), opening(), ICON);
  }
};

export const associateCommand: Command = {
  name: "associate",
  words: [],
  help: say`Has the desktop open .strandbook files with this program by a double click, for this user only. With --undo it no longer does; plant files stay as they are.`,
  options: { undo: { help: say`takes it back` } },
  run: async (given) => {
    const undo = given.on("undo");
    const { files, missing } = await change(undo);
    await given.terminal.out(
      given.json
        ? `${JSON.stringify({ associated: !undo, files, missing }, null, 2)}\n`
        : `${undo ? say`Plant files are no longer opened with this program. Taken away` : say`Plant files are opened with this program. Written`}:\n${files.map((file) => `  ${file}\n`).join("")}`,
    );
    for (const program of missing)
      given.terminal.note(say`There is no ${program} here: the desktop may learn of it only at the next log-in.\n`);
    return FINE;
  },
};
