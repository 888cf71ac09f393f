/**
 * Opens plant files by a double click where the desktop follows the freedesktop specifications (Shared MIME-info Database,
 * Desktop Entry, MIME Applications, Icon Theme; from memory): four things in the user's own folders, all of which are taken
 * away again.
 */
import { execFile } from "node:child_process";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { homedir } from "node:os";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { say } from "../../core/words/say.ts";

export const MIME_TYPE = "application/x-strandbook";
const DESKTOP_FILE = "strandbook.desktop";
const DEFAULTS = "[Default Applications]";

export interface Places {
  readonly data: string;
  readonly config: string;
}

/** As the base directory specification says: a folder that is not absolute counts as none. */
export function xdgPlaces(env: NodeJS.ProcessEnv = process.env): Places {
  const own = (value: string | undefined, usual: string) =>
    value?.startsWith("/") ? value : join(env.HOME ?? homedir(), usual);
  return { data: own(env.XDG_DATA_HOME, ".local/share"), config: own(env.XDG_CONFIG_HOME, ".config") };
}

/** By its ending, and by its first bytes where that was lost: an SQLite file whose `application_id` is ours. */
const MIME_PACKAGE = `<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="${MIME_TYPE}">
    <comment>Strandbook plant</comment>
    <sub-class-of type="application/vnd.sqlite3"/>
    <icon name="strandbook"/>
    <glob pattern="*.strandbook"/>
    <magic priority="60">
      <match type="string" offset="0" value="SQLite format 3">
        <match type="big32" offset="68" value="0x53424F4B"/>
      </match>
    </magic>
  </mime-type>
</mime-info>
`;

/** A word of an Exec line: quoted, then written as a string of the file; a percent sign of its own is doubled. */
const execWord = (word: string): string =>
  `"${word
    .replaceAll(/["`$\\]/g, "\\$&")
    .replaceAll("\\", "\\\\")
    .replaceAll("%", "%%")}"`;

export const desktopEntry = (command: readonly string[]): string => `[Desktop Entry]
Type=Application
Name=Strandbook
Comment=${say`The record book of a campus fibre plant`}
Exec=${command.map(execWord).join(" ")} %f
Icon=strandbook
Terminal=false
Categories=Office;Engineering;
MimeType=${MIME_TYPE};
`;

/** The text of `mimeapps.list` with (or without) our line; whatever else stands in it stays. */
export function withDefault(text: string, program: string | null): string {
  const lines = text.split("\n").filter((line) => !line.startsWith(`${MIME_TYPE}=${DESKTOP_FILE}`));
  if (program === null) return lines.join("\n");
  const others = lines.filter((line) => !line.startsWith(`${MIME_TYPE}=`));
  const at = others.findIndex((line) => line.trim() === DEFAULTS);
  const own = `${MIME_TYPE}=${program}`;
  if (at >= 0) return others.toSpliced(at + 1, 0, own).join("\n");
  const before = others.join("\n").trimEnd();
  return `${before === "" ? "" : `${before}\n\n`}${DEFAULTS}\n${own}\n`;
}

const filesOf = ({ data, config }: Places) => ({
  mime: join(data, "mime/packages/strandbook.xml"),
  entry: join(data, "applications", DESKTOP_FILE),
  icon: join(data, "icons/hicolor/scalable/apps/strandbook.svg"),
  defaults: join(config, "mimeapps.list"),
});

async function put(path: string, text: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const temporary = `${path}.${process.pid}.tmp`;
  await writeFile(temporary, text);
  await rename(temporary, path);
}

/** Tells the desktop's own indexes; answers the programs that this machine hasn't. */
async function refresh({ data }: Places): Promise<readonly string[]> {
  const missing: string[] = [];
  for (const [program, folder] of [
    ["update-mime-database", join(data, "mime")],
    ["update-desktop-database", join(data, "applications")],
  ] as const)
    await promisify(execFile)(program, [folder]).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== "ENOENT") throw error;
      missing.push(program);
    });
  return missing;
}

export interface Associated {
  readonly files: readonly string[];
  /** Programs that would make it known at once; without them it is known after the next log-in, or not at all. */
  readonly missing: readonly string[];
}

const read = (path: string): Promise<string> => readFile(path, "utf8").catch(() => "");

/**
 * @param command the program and its first words; the plant file comes behind them
 * @param icon a scalable picture
 */
export async function associate(places: Places, command: readonly string[], icon: string): Promise<Associated> {
  const files = filesOf(places);
  await put(files.mime, MIME_PACKAGE);
  await put(files.entry, desktopEntry(command));
  await put(files.icon, await readFile(icon, "utf8"));
  await put(files.defaults, withDefault(await read(files.defaults), DESKTOP_FILE));
  return { files: Object.values(files), missing: await refresh(places) };
}

/** Takes all of it away, and nothing else. */
export async function dissociate(places: Places): Promise<Associated> {
  const { defaults, ...own } = filesOf(places);
  for (const file of Object.values(own)) await rm(file, { force: true });
  const before = await read(defaults);
  const after = withDefault(before, null);
  const empty = after.trim() === "" || after.trim() === DEFAULTS;
  if (empty) await rm(defaults, { force: true });
  else if (after !== before) await put(defaults, after);
  await mkdir(join(places.data, "mime/packages"), { recursive: true });
  await mkdir(join(places.data, "applications"), { recursive: true });
  return { files: Object.values(own), missing: await refresh(places) };
}
