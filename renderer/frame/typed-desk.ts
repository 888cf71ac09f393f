/**
 * What was typed into tables and forms and not written lies on the desk of the plant file with each letter, and outlives the window,
 * the program and the machine. Each window has an item of its own there and holds a lock of its name as long as it lives:
 * what a window left behind is taken up by the next one, what another window holds is only told of.
 */
import { z } from "zod";
import { fieldOf, isKindName, type KindName, kindOf } from "../../core/model/dictionary.ts";
import { counted } from "../../core/words/counted.ts";
import { listed } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import type { Client } from "../client/client.ts";
import { settings } from "../client/settings.ts";
import { formsAway, onForms, restoreForms, type TypedForm } from "../forms/kept-form.ts";
import { readCell } from "../grid/reading.ts";
import { today } from "../grid/today.ts";
import { idOf, onTyped, type TypedAway, typedAway, typedOf } from "../grid/typed.ts";
import { when } from "./ages.ts";
import { isOnlyWindow, straySheets } from "./desk-strays.ts";
import { notify, sayToStay } from "./notices.tsx";
import { siftOnRecord } from "./on-record.ts";

/** So long are letters gathered, in milliseconds. */
const GATHER_MS = 250;
/** Before the name of a window, in the name of the lock it holds. */
const LOCK = "strandbook.typed.";
/** A window that is read anew gives its lock back within this, in milliseconds. */
const GONE_MS = 1_000;
/** What this window couldn't put into the file when it was left, in its own storage. */
const AWAY = "typed";

/** What one window has typed and not written. */
interface Typing {
  readonly tables: Tables;
  readonly forms: readonly TypedForm[];
}
type Tables = readonly (readonly [KindName, readonly TypedAway[]])[];

const content = z.object({
  /** The window it belongs to. */
  window: z.string(),
  forms: z.array(z.object({ key: z.string(), title: z.string(), value: z.unknown() })).default([]),
  tables: z.array(
    z.tuple([
      z.string(),
      z.array(
        z.object({
          row: z.string().regex(/^[#+]\d+$/),
          field: z.string(),
          cell: z.looseObject({
            text: z.string(),
            state: z.enum(["saving", "waiting", "refused"]),
            reason: z.string().nullable(),
            rev: z.number().int().optional(),
          }),
        }),
      ),
    ]),
  ),
});
const away = z.object({ ...content.shape, path: z.string() });

/** Cells of kinds and fields that this program knows. */
const known = (tables: z.output<typeof content>["tables"]): Tables =>
  tables.flatMap(([kind, cells]) => {
    if (!isKindName(kind)) return [];
    const { fields } = kindOf(kind);
    return [[kind, cells.filter(({ field }) => Object.hasOwn(fields, field)) as readonly TypedAway[]] as const];
  });

interface Lying extends Typing {
  readonly id: number;
  readonly window: string;
  readonly at: string;
  readonly by: string;
}

const cellsIn = (tables: Tables): number => tables.reduce((sum, [, cells]) => sum + cells.length, 0);
const wordsOf = ({ tables, forms }: Typing): string =>
  listed([
    ...(tables.length > 0
      ? [say`${counted(cellsIn(tables), "cell", "cells")} of ${listed(tables.map(([kind]) => kindOf(kind).many))}`]
      : []),
    ...forms.map(({ title }) => say`the form “${title}”`),
  ]);
const typing = (): Typing => ({ tables: typedAway(), forms: formsAway() });
const isNothing = ({ tables, forms }: Typing): boolean => tables.length + forms.length === 0;

/** What was left in the middle of a word may not be anything that can be written: then its reason stands with it. */
function readAnew(kind: KindName, cells: readonly TypedAway[]): readonly TypedAway[] {
  const habits = { today: today(), lengths: settings.get().unit, wholeWords: true };
  return cells.map((one): TypedAway => {
    const { row, field: name, cell } = one;
    const field = fieldOf(kind, name);
    // A row being made lacks what isn't typed yet.
    if (!field || cell.state === "refused" || (idOf(row) === null && cell.text.trim() === "")) return one;
    const reading = readCell(kind, name, field, cell.text, habits);
    return reading.is === "refused"
      ? { ...one, cell: { text: cell.text, state: "refused", reason: reading.reason } }
      : one;
  });
}

/**
 * Answers whether the window of that name is gone; its name is then held by this one until it ends. Its own name, which
 * nobody else holds, a window has however long a busy machine takes to give it.
 */
function hold(window: string, own = false): Promise<boolean> {
  return new Promise((resolve) => {
    navigator.locks
      .request(`${LOCK}${window}`, own ? {} : { signal: AbortSignal.timeout(GONE_MS) }, () => {
        resolve(true);
        return new Promise<never>(() => {});
      })
      .catch(() => resolve(false));
  });
}

/** Nobody is asked for a name to keep what they type. */
const occasion = () => ({ author: settings.get().person || say`someone not named` });

const fresh = (): string => Math.random().toString(36).slice(2, 12);

export class TypedDesk {
  readonly #client: Client;
  readonly #path: string;
  #window = fresh();
  #id: number | null = null;
  /** Until this window holds its name. */
  #held: Promise<unknown> = Promise.resolve();
  /** Something was typed that the file hasn't been given. */
  #dirty = false;
  #busy = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** Why the last keeping was refused, said once. */
  #why: string | null = null;
  #ends: (() => void)[] = [];

  constructor(client: Client, path: string) {
    this.#client = client;
    this.#path = path;
  }

  /** @param last the last change on record: what is put back was typed after it */
  async begin(last: number, readOnly: boolean): Promise<void> {
    const leave = () => this.#leave();
    window.addEventListener("pagehide", leave);
    this.#ends = [
      () => window.removeEventListener("pagehide", leave),
      this.#client.onConnection(() => {
        if (!this.#client.lost && this.#dirty) this.#soon();
      }),
    ];
    await this.#takeUp(last, readOnly);
    this.#ends.push(
      ...[onTyped, onForms].map((hear) =>
        hear(() => {
          this.#dirty = true;
          this.#soon();
        }),
      ),
    );
    // What was typed before that.
    if (!isNothing(typing())) {
      this.#dirty = true;
      this.#soon();
    }
  }

  end(): void {
    clearTimeout(this.#timer);
    for (const end of this.#ends) end();
  }

  async #lying(): Promise<readonly Lying[]> {
    const reply = await this.#client.call("desk.list", { form: "typed", whole: true });
    if (!reply.ok) return [];
    return reply.value.items.flatMap((item): Lying[] => {
      const read = content.safeParse(item.content);
      if (!read.success) return [];
      const { window, tables, forms } = read.data;
      return [{ id: item.id, window, tables: known(tables), forms, at: item.kept_at, by: item.kept_by }];
    });
  }

  async #takeUp(last: number, readOnly: boolean): Promise<void> {
    const all = await this.#lying();
    const newestOf = (name: string) => all.find(({ window }) => window === name);
    const lying = all.filter((one) => one === newestOf(one.window));
    if (readOnly) {
      // Whoever writes this file may have them on screen; nothing could be written here anyway.
      for (const one of lying)
        sayToStay(
          say`Typed by ${one.by} and not written (${when(one.at)}): ${wordsOf(one)}. What lies in this file comes back when it is opened for writing.`,
        );
      return;
    }
    const stored = this.#stored();
    const gone = await Promise.all(lying.map(({ window }) => hold(window)));
    for (const one of lying.filter((_, index) => !gone[index]))
      sayToStay(say`Another window of this file holds ${wordsOf(one)} that ${one.by} typed and didn't write.`);
    const left = lying.filter((_, index) => gone[index]);
    const [first, ...others] = left;
    if (first) {
      this.#window = first.window;
      this.#id = first.id;
    } else this.#held = hold(this.#window, true);

    // What a window couldn't hand on when it was left is newer than what lies in the file.
    const newest = (one: Lying): Lying =>
      one.window === stored?.window ? { ...one, tables: known(stored.tables), forms: stored.forms } : one;
    const strays: readonly Lying[] =
      stored && !lying.some(({ window }) => window === stored.window)
        ? [{ id: 0, ...stored, tables: known(stored.tables), at: new Date().toISOString(), by: "you" }]
        : [];
    // A window that was left while it wrote may have written twice.
    const emptied = all.filter((one) => !lying.includes(one)).map(({ id }) => id);
    let fewer = others.length > 0 || stored !== null;
    for (const one of [...left.map(newest), ...strays]) {
      const sifted = await this.#sifted(one);
      fewer ||= cellsIn(sifted.tables) < cellsIn(one.tables);
      const over = this.#putBack(sifted, last);
      if (one === strays[0] || one.id === first?.id) continue;
      if (isNothing(over)) emptied.push(one.id);
      else await this.#keepAs(one.id, one.window, over);
    }
    if (fewer) {
      this.#dirty = true;
      await this.#keep();
      if (this.#dirty) return;
      sessionStorage.removeItem(AWAY);
    }
    // Only now that they lie in this window's own item.
    for (const id of emptied) await this.#throwAway(id);
    void this.#sweep([...all.flatMap((one) => one.forms), ...(stored?.forms ?? [])]);
  }

  async #sweep(lying: readonly TypedForm[]): Promise<void> {
    await this.#held;
    // Another window may have kept a sheet that it has yet to name.
    if (!isOnlyWindow(await navigator.locks.query(), LOCK, `${LOCK}${this.#window}`)) return;
    for (const id of await straySheets(this.#client, [...lying, ...formsAway()]))
      await this.#client.call("desk.throw_away", { form: "source", id }, { occasion: occasion() });
  }

  /** What one window had, without the cells that stand on record by now, which is said. */
  async #sifted(one: Lying): Promise<Lying> {
    const { left, onRecord } = await siftOnRecord(this.#client, one.tables);
    if (onRecord.length > 0)
      sayToStay(say`On record already as typed: ${wordsOf({ tables: onRecord, forms: [] })}, by ${one.by}.`);
    return { ...one, tables: left };
  }

  /** Puts back what one window had and says so; answers that in whose place something else was typed. */
  #putBack({ tables, forms, at, by }: Lying, last: number): Typing {
    const later: (readonly [KindName, readonly TypedAway[]])[] = [];
    for (const [kind, cells] of tables) {
      const left = typedOf(kind).restore(readAnew(kind, cells), last);
      if (left.length > 0) later.push([kind, left]);
    }
    const over: Typing = { tables: later, forms: restoreForms(forms) };
    if (cellsIn(tables) > cellsIn(later) || forms.length > over.forms.length)
      sayToStay(say`Back as typed and not written: ${wordsOf({ tables, forms })}, by ${by} (${when(at)}).`);
    if (!isNothing(over))
      sayToStay(say`Typed in two windows: ${wordsOf(over)}. The newer stands; the older is kept for the next start.`);
    return over;
  }

  #soon(): void {
    this.#timer ??= setTimeout(() => void this.#keep(), GATHER_MS);
  }

  async #keep(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (this.#busy) return;
    this.#busy = true;
    while (this.#dirty) {
      this.#dirty = false;
      if (!(await this.#put())) {
        this.#dirty = true;
        break;
      }
    }
    this.#busy = false;
  }

  /** Gives the file what is typed now; answers whether it has it. */
  async #put(): Promise<boolean> {
    const now = typing();
    const id = this.#id;
    if (isNothing(now)) {
      if (id === null) return true;
      this.#id = null;
      const reply = await this.#throwAway(id);
      return reply.ok || reply.error.code === "not_found";
    }
    const reply = await this.#keepAs(id, this.#window, now);
    if (reply.ok) {
      this.#id = reply.value.id;
      this.#why = null;
      return true;
    }
    if (id !== null && reply.error.code === "not_found") {
      this.#id = null;
      return this.#put();
    }
    // A file that can only be read, and a program that is gone, are told elsewhere.
    if (!this.#client.lost && reply.error.code !== "read_only" && this.#why !== reply.error.message)
      notify(say`What is typed isn't kept in the file: ${reply.error.message}`);
    this.#why = reply.error.message;
    return false;
  }

  #keepAs(id: number | null, window: string, { tables, forms }: Typing, leaving = false) {
    return this.#client.call(
      "desk.keep",
      {
        form: "typed",
        // One a window: left while its first is on its way, it doesn't keep a second.
        name: `typed in window ${window}`,
        one: true,
        content: { window, tables, forms },
        ...(id === null ? {} : { id }),
      },
      { occasion: occasion(), leaving },
    );
  }

  #throwAway(id: number, leaving = false) {
    return this.#client.call("desk.throw_away", { form: "typed", id }, { occasion: occasion(), leaving });
  }

  /** The page is left with letters that the file hasn't: they go there still, and into this window's own storage. */
  #leave(): void {
    if (!this.#dirty && !this.#busy) return;
    const now = typing();
    if (!isNothing(now)) void this.#keepAs(this.#id, this.#window, now, true);
    else if (this.#id !== null) void this.#throwAway(this.#id, true);
    try {
      sessionStorage.setItem(AWAY, JSON.stringify({ path: this.#path, window: this.#window, ...now }));
    } catch {
      // It holds five megabytes; the file has what was typed up to a moment ago.
    }
  }

  #stored(): z.output<typeof away> | null {
    const text = sessionStorage.getItem(AWAY);
    if (text === null) return null;
    const read = away.safeParse(JSON.parse(text));
    return read.success && read.data.path === this.#path ? read.data : null;
  }
}
