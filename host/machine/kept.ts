/**
 * What a person prefers on this machine: their name, unit and theme, how tables stand, named views. One small JSON file in
 * the user's own folder, shared by every plant and by every way to open one; never in a plant file, and nothing secret.
 */
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname } from "node:path";
import { decode } from "../../core/operations/dispatch.ts";
import {
  changedEntries,
  KEPT_NAMES,
  type Kept,
  type KeptName,
  type RecentPlant,
  wireKeep,
} from "../../core/operations/wire.ts";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";

/** Greatest size of the file in bytes: views and tables of every kind stay far below it. */
export const KEPT_LIMIT = 1024 * 1024;

type Entries = Readonly<Record<string, unknown>>;

const isEntries = (one: unknown): one is Entries => typeof one === "object" && one !== null && !Array.isArray(one);

const isRecent = (entry: [string, unknown]): entry is [string, RecentPlant] =>
  isEntries(entry[1]) && typeof entry[1].name === "string" && typeof entry[1].at === "string";

/** So many plant files opened lately are offered again. */
const MOST_RECENT = 12;

export class KeptFile {
  readonly #path: string;
  /** What this program last knew, which stands in for a file that can't be written. */
  #known: Kept = {};
  #writable = true;
  #last: Promise<unknown> = Promise.resolve();

  constructor(path: string) {
    this.#path = path;
  }

  /** What is kept; what can't be read or understood counts as nothing. */
  async read(): Promise<Kept> {
    if (!this.#writable) return this.#known;
    this.#known = await this.#found();
    return this.#known;
  }

  /**
   * Keeps a change of one name's entries, an entry of null is dropped. Another start of the program may write as well: the
   * file is read anew before each write, and is whole at every moment.
   * Refuses `bad_input` for what is no such change, and for more than fits.
   */
  keep(raw: unknown): Promise<{ readonly name: KeptName; readonly change: Entries }> {
    const kept = this.#last.then(() => this.#keep(raw));
    this.#last = kept.catch(() => undefined);
    return kept;
  }

  /** Notes that a plant file was opened; the oldest of many is forgotten. */
  noteOpened(path: string, at: string): Promise<void> {
    const noted = this.#last.then(async () => {
      const all = await this.read();
      const own: RecentPlant = { name: basename(path), at };
      const recent = Object.entries(all.recent ?? {}).filter(([other]) => other !== path);
      await this.#replace({
        ...all,
        recent: Object.fromEntries([...recent, [path, own] as const].slice(-MOST_RECENT)),
      });
    });
    this.#last = noted.catch(() => undefined);
    return noted;
  }

  async #replace(next: Kept): Promise<void> {
    this.#known = next;
    await this.#write(JSON.stringify(next, null, 1));
  }

  async #keep(raw: unknown): Promise<{ readonly name: KeptName; readonly change: Entries }> {
    const { name, change } = decode(wireKeep, raw, "preferences");
    const all = await this.read();
    const next: Kept = { ...all, [name]: changedEntries(all[name], change) };
    const text = JSON.stringify(next, null, 1);
    if (Buffer.byteLength(text) > KEPT_LIMIT) {
      refuse(
        "bad_input",
        say`Preferences on this machine may take up ${KEPT_LIMIT / 1024} kB in all; drop some views first.`,
      );
    }
    await this.#replace(next);
    return { name, change };
  }

  async #found(): Promise<Kept> {
    const text = await readFile(this.#path, "utf8").catch(() => null);
    if (text === null) return {};
    try {
      const read: unknown = JSON.parse(text);
      if (!isEntries(read)) throw new SyntaxError("it is no object");
      const known = KEPT_NAMES.flatMap((name) => (isEntries(read[name]) ? [[name, read[name]] as const] : []));
      const recent = isEntries(read.recent) ? Object.entries(read.recent).filter(isRecent) : [];
      return { ...Object.fromEntries(known), ...(recent.length > 0 ? { recent: Object.fromEntries(recent) } : {}) };
    } catch {
      // Set aside, so that what somebody mistyped in it is not written over.
      await rename(this.#path, `${this.#path}.unreadable`).catch(() => undefined);
      return {};
    }
  }

  async #write(text: string): Promise<void> {
    const temporary = `${this.#path}.${process.pid}.tmp`;
    try {
      await mkdir(dirname(this.#path), { recursive: true });
      await writeFile(temporary, text, { mode: 0o600 });
      await rename(temporary, this.#path);
    } catch {
      // A folder that can't be written to costs only that it is forgotten at the end.
      this.#writable = false;
      await rm(temporary, { force: true }).catch(() => undefined);
    }
  }
}
