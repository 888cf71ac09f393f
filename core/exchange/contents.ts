/** Contents of attachments beside the files: one file a content, named by its SHA-256. */
import { Digest } from "../model/digest.ts";
import type { FolderPort } from "../ports.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { IDS } from "../store/relations.ts";
import { say } from "../words/say.ts";
import type { Heard } from "./told.ts";

export const CONTENT_FOLDER = "content";
const HASH = /^[0-9a-f]{64}$/;
/** Hashes looked up at a time. */
const MANY = 5_000;

/** Writes the content of every attachment that has one on record; answers how many. */
export async function writeContents(
  reader: Reader,
  port: FolderPort,
  path: string,
  heard: () => Promise<void>,
): Promise<number> {
  const hashes = await reader.rows<{ hash: string }>(
    "SELECT hash FROM content WHERE hash IN (SELECT content_hash FROM attachment) ORDER BY hash",
  );
  for (const { hash } of hashes) {
    const [content] = await reader.rows<{ bytes: Uint8Array }>("SELECT bytes FROM content WHERE hash = ?", [hash]);
    if (content) await port.write(port.inside(path, CONTENT_FOLDER), hash, once(content.bytes));
    await heard();
  }
  return hashes.length;
}

async function* once(bytes: Uint8Array): AsyncIterable<Uint8Array> {
  yield bytes;
}

/** The contents that come with a folder. */
export class Contents {
  /** Hashes by which files are named. */
  readonly there: readonly string[];
  /** Contents that are on record now and weren't. */
  readonly #new: string[] = [];
  /** How many contents are wanted, but neither on record nor in the folder. */
  missing = 0;
  readonly #wanted = new Set<string>();
  readonly #port: FolderPort;
  readonly #path: string;

  private constructor(port: FolderPort, path: string, there: readonly string[]) {
    this.#port = port;
    this.#path = path;
    this.there = there;
  }

  static async open(port: FolderPort, folder: string): Promise<Contents> {
    const path = port.inside(folder, CONTENT_FOLDER);
    const names = (await port.isFolder(path)) ? await port.list(path) : [];
    return new Contents(port, path, names.filter((name) => HASH.test(name)).sort());
  }

  /** How many contents are new. */
  get added(): number {
    return this.#new.length;
  }

  /** An attachment refers to this content. */
  want(hash: unknown): void {
    if (typeof hash === "string") this.#wanted.add(hash);
  }

  /** Finds out which contents are new; refuses a file whose content isn't what its name says. */
  async check(reader: Reader, heard: Heard): Promise<void> {
    const wanted = [...this.#wanted];
    for (let from = 0; from < wanted.length; from += MANY) {
      const list = JSON.stringify(wanted.slice(from, from + MANY));
      for (const { hash } of await reader.rows<{ hash: string }>(`SELECT hash FROM content WHERE hash IN ${IDS}`, [
        list,
      ])) {
        this.#wanted.delete(hash);
      }
    }
    const there = new Set(this.there);
    for (const hash of this.#wanted) {
      if (!there.has(hash)) {
        this.missing += 1;
        continue;
      }
      const digest = new Digest();
      for await (const piece of this.#port.read(this.#path, hash)) digest.updateBytes(piece);
      if (digest.hex() !== hash) {
        const file = `${CONTENT_FOLDER}/${hash}`;
        refuse("bad_input", say`${file} is not what its name says: it may be cut off. Nothing was changed.`, [
          { file, reason: say`has another SHA-256 than its name` },
        ]);
      }
      this.#new.push(hash);
      await heard(say`checking contents`, 0);
    }
  }

  /** Hands over the bytes of the new contents, one after the other. */
  async each(take: (hash: string, bytes: Uint8Array) => Promise<void>): Promise<void> {
    for (const hash of this.#new) {
      const bytes = new Uint8Array(await this.#port.size(this.#path, hash));
      let at = 0;
      for await (const piece of this.#port.read(this.#path, hash)) {
        // A file that grows meanwhile isn't the one that was checked.
        if (at + piece.length > bytes.length) refuse("stale", say`${CONTENT_FOLDER}/${hash} changes while it is read.`);
        bytes.set(piece, at);
        at += piece.length;
      }
      await take(hash, bytes);
    }
  }
}
