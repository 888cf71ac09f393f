/**
 * Photos of an unfinished run in the plant file, beside what is typed of it: each file an item of the desk that is written
 * once, and what is typed of them one further item a run, so that a letter of a caption moves no picture.
 */
import { z } from "zod";
import { say } from "../../../core/words/say.ts";
import type { Client } from "../../client/client.ts";
import { settings } from "../../client/settings.ts";
import { base64Of } from "../../controls/kept-files.ts";
import { freshKey, type Staged } from "../../controls/staged-files.ts";
import { notify } from "../../frame/notices.tsx";

/** So long are letters gathered, in milliseconds. */
const GATHER_MS = 250;

const fileItem = z.object({ name: z.string(), type: z.string(), bytes: z.string() });
const words = z.object({
  files: z.array(
    z.object({
      file: z.number().int(),
      caption: z.string(),
      taken_on: z.string().nullable(),
      readable: z.boolean(),
      subject: z.string().nullable(),
    }),
  ),
});

/** What of one run lies on the desk. */
interface Lying {
  /** The item with the words; null where there is none. */
  readonly item: number | null;
  /** Items of its files, in order. */
  readonly files: readonly number[];
}
const NOTHING: Lying = { item: null, files: [] };

export class WaitingDesk {
  readonly #client: Client;
  readonly #lying = new Map<number, Lying>();
  /** The desk's number of each file that lies there, by its key in this window. */
  readonly #placed = new Map<number, number>();
  readonly #wanted = new Map<number, readonly Staged[]>();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #busy = false;

  constructor(client: Client) {
    this.#client = client;
    client.onConnection(() => {
      if (!client.lost && this.#wanted.size > 0) void this.#keep();
    });
    window.addEventListener("pagehide", () => this.#leave());
    window.addEventListener("beforeunload", (event) => {
      if ([...this.#wanted.values()].flat().some(({ key }) => !this.#placed.has(key))) event.preventDefault();
    });
  }

  /** The files of a run as they were left. */
  async read(run: number): Promise<readonly Staged[]> {
    const { item, said } = await this.#words(run);
    const files: Staged[] = [];
    for (const { file, ...typed } of said) {
      const reply = await this.#client.call("desk.open", { form: "run_file", id: file });
      const read = reply.ok ? fileItem.safeParse(reply.value.content) : null;
      if (!read?.success) continue;
      const { name, type, bytes } = read.data;
      const key = freshKey();
      this.#placed.set(key, file);
      files.push({ key, file: new File([bytesOf(bytes)], name, { type }), ...typed });
    }
    this.#lying.set(run, { item, files: said.map(({ file }) => file) });
    return files;
  }

  /** From here on these wait with the run; none: it was entered or thrown away. */
  put(run: number, files: readonly Staged[]): void {
    this.#wanted.set(run, files);
    this.#timer ??= setTimeout(() => void this.#keep(), GATHER_MS);
  }

  async #words(run: number) {
    const reply = await this.#client.call("desk.list", { form: "run_files", whole: true });
    const found = reply.ok ? reply.value.items.find(({ name }) => name === nameOf(run)) : undefined;
    const read = found ? words.safeParse(found.content) : null;
    return { item: found?.id ?? null, said: read?.success ? read.data.files : [] };
  }

  async #keep(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (this.#busy) return;
    this.#busy = true;
    let why: string | null = null;
    for (const [run, files] of this.#wanted) {
      why = await this.#sync(run, files);
      if (why !== null) break;
      if (this.#wanted.get(run) === files) this.#wanted.delete(run);
    }
    this.#busy = false;
    // What couldn't be kept is tried again with the next letter, or when the program answers again.
    if (why !== null) notify(say`Photos that wait aren't kept in the file: ${why}`);
    else if (this.#wanted.size > 0) void this.#keep();
  }

  /** Answers why it couldn't, or null. */
  async #sync(run: number, files: readonly Staged[]): Promise<string | null> {
    const before = this.#lying.get(run) ?? (await this.#before(run));
    for (const { key, file } of files) {
      if (this.#placed.has(key)) continue;
      const content = { name: file.name, type: file.type, bytes: await base64Of(file) };
      const reply = await this.#client.call("desk.keep", { form: "run_file", name: nameOf(run), content }, occasion());
      if (!reply.ok) return reply.error.message;
      this.#placed.set(key, reply.value.id);
    }
    let item: number | null = null;
    if (files.length > 0) {
      const reply = await this.#keepWords(run, files, false);
      if (!reply.ok) return reply.error.message;
      item = reply.value.id;
    } else if (before.item !== null)
      await this.#client.call("desk.throw_away", { form: "run_files", id: before.item }, occasion());
    const now = files.flatMap(({ key }) => this.#placed.get(key) ?? []);
    for (const id of before.files)
      if (!now.includes(id)) await this.#client.call("desk.throw_away", { form: "run_file", id }, occasion());
    this.#lying.set(run, { item, files: now });
    return null;
  }

  async #before(run: number): Promise<Lying> {
    const { item, said } = await this.#words(run);
    return item === null ? NOTHING : { item, files: said.map(({ file }) => file) };
  }

  #keepWords(run: number, files: readonly Staged[], leaving: boolean) {
    const said = files.flatMap(({ key, caption, taken_on, readable, subject }) => {
      const file = this.#placed.get(key);
      return file === undefined ? [] : [{ file, caption, taken_on, readable, subject }];
    });
    return this.#client.call(
      "desk.keep",
      { form: "run_files", name: nameOf(run), one: true, content: { files: said } },
      { ...occasion(), leaving },
    );
  }

  /** The page is left with letters that the file hasn't. */
  #leave(): void {
    for (const [run, files] of this.#wanted) if (files.length > 0) void this.#keepWords(run, files, true);
  }
}

/** A name of the desk's, read by this part alone. */
const nameOf = (run: number): string => `run ${run}`;

const occasion = () => ({ occasion: { author: settings.get().person || say`someone not named` } });

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let at = 0; at < text.length; at++) bytes[at] = text.charCodeAt(at);
  return bytes;
}
