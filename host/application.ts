/** One open plant: its file, store and session, wired together; every transport starts here. */
import { statSync } from "node:fs";
import { setImmediate as pause } from "node:timers/promises";
import { loadPlantGlass } from "../core/glass/plant-glass.ts";
import { createSession, type Session } from "../core/operations/dispatch.ts";
import { OPERATIONS } from "../core/operations/list.ts";
import type { Clock, FilePort } from "../core/ports.ts";
import type { Store } from "../core/store/handle.ts";
import { backupsOf, copyTo, makeBackup } from "./backup.ts";
import { machineClock } from "./clock.ts";
import { folders } from "./folders.ts";
import { damageInTurns } from "./integrity.ts";
import { createPlant, type OpenOptions, openPlant, type PlantFile } from "./plant-file.ts";
import { SqliteStore } from "./sqlite-store.ts";

export interface ApplicationOptions extends OpenOptions {
  /** Makes the file first; refused when it exists. */
  readonly create?: { readonly name: string } | undefined;
  /** Told of each defect, with the operation's name, or what the program did by itself. */
  readonly onDefect?: ((name: string, error: unknown) => void) | undefined;
  readonly clock?: Clock | undefined;
  /** Minutes between automatic backups while there are changes; 0 makes none. */
  readonly backupEvery_min?: number | undefined;
  /** Whether closing makes a backup of what changed; it does unless told otherwise. */
  readonly backupAtClose?: boolean | undefined;
}

export interface ApplicationFile extends FilePort {
  /** The real path. */
  readonly path: string;
  /** The version it was upgraded from at this opening, or null. */
  readonly upgradedFrom: number | null;
  /** Writes a sound copy to a path where nothing is yet. */
  saveCopy(path: string): Promise<void>;
}

export interface Application {
  readonly session: Session;
  readonly store: Store;
  readonly file: ApplicationFile;
  /** Waits for what is running, backs up what changed, and lets go of the file. */
  close(): Promise<void>;
}

export async function openApplication(path: string, options: ApplicationOptions = {}): Promise<Application> {
  if (options.create) await createPlant(path, options.create.name, options.migrations);
  const plant = await openPlant(path, options);
  return new OpenPlant(plant, options);
}

class OpenPlant implements Application {
  readonly session: Session;
  readonly store: SqliteStore;
  readonly file: ApplicationFile;
  readonly #plant: PlantFile;
  readonly #clock: Clock;
  readonly #onDefect: (name: string, error: unknown) => void;
  readonly #timer: NodeJS.Timeout | null;
  readonly #backupAtClose: boolean;
  readonly #running = new Set<Promise<unknown>>();
  #integrity: string;
  #changed = false;
  #lastBackup: Promise<void> = Promise.resolve();
  #closing: Promise<void> | null = null;

  constructor(plant: PlantFile, options: ApplicationOptions) {
    this.#plant = plant;
    this.#clock = options.clock ?? machineClock;
    this.#onDefect = options.onDefect ?? (() => {});
    this.#backupAtClose = options.backupAtClose ?? true;
    this.#integrity = plant.checked ? "fine" : "checking";
    this.store = new SqliteStore(plant.connection, () => this.#readOnly());
    this.store.onChanged = () => {
      this.#changed = true;
    };
    this.file = {
      path: plant.path,
      upgradedFrom: plant.upgradedFrom,
      status: async () => this.#status(),
      backup: () => this.#backup("asked"),
      saveCopy: (to) => copyTo(plant.connection, to, (work) => this.store.undisturbed(work)),
    };
    this.session = this.#counted(
      createSession({
        store: this.store,
        folders,
        file: this.file,
        clock: this.#clock,
        pause,
        loadGlass: loadPlantGlass,
        operations: OPERATIONS,
        onDefect: this.#onDefect,
      }),
    );
    if (!plant.checked) void this.#track(this.#checkInTurns());
    this.#timer = this.#everyMinutes(options.backupEvery_min ?? 20);
  }

  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    if (this.#timer) clearInterval(this.#timer);
    while (this.#running.size > 0) await Promise.allSettled(this.#running);
    try {
      if (this.#changed && this.#backupAtClose) await this.#backup("close");
    } catch (error) {
      // The plant itself is safe on the disk; closing must not hang on a full backup disk.
      this.#onDefect("backup at closing", error);
    } finally {
      await this.store.close();
      this.#plant.close();
    }
  }

  #readOnly(): string | null {
    if (this.#plant.readOnly !== null) return this.#plant.readOnly;
    if (this.#integrity === "fine" || this.#integrity === "checking") return null;
    return `The file is damaged (${this.#integrity}), so nothing more is written to it. Open a backup of it.`;
  }

  #status() {
    const { path, writer } = this.#plant;
    const [newest] = backupsOf(path);
    return {
      path,
      read_only: this.#readOnly(),
      writer: writer && { user: writer.user, machine: writer.machine, since: writer.since },
      last_backup: newest?.at ?? null,
      bytes: statSync(path).size,
      integrity: this.#integrity,
    };
  }

  /** One after the other: two at once would take the same name. */
  #backup(reason: "interval" | "close" | "asked"): Promise<string> {
    const made = this.#lastBackup.then(() => this.#makeBackup(reason));
    this.#lastBackup = made.then(
      () => {},
      () => {},
    );
    return made;
  }

  async #makeBackup(reason: "interval" | "close" | "asked"): Promise<string> {
    this.#changed = false;
    try {
      return await makeBackup(this.#plant.connection, reason, this.#clock.now(), (work) =>
        this.store.undisturbed(work),
      );
    } catch (error) {
      this.#changed = true;
      throw error;
    }
  }

  #everyMinutes(minutes: number): NodeJS.Timeout | null {
    if (minutes === 0 || this.#plant.readOnly !== null) return null;
    const tick = () => {
      if (!this.#changed) return;
      void this.#track(this.#backup("interval").catch((error) => this.#onDefect("backup at intervals", error)));
    };
    return setInterval(tick, minutes * 60_000).unref();
  }

  async #checkInTurns(): Promise<void> {
    try {
      const damage = await damageInTurns(this.#plant.connection, async (step) => {
        await pause();
        return this.#closing ? "stop" : this.store.read(async () => step());
      });
      if (!this.#closing || damage !== null) this.#integrity = damage ?? "fine";
    } catch (error) {
      this.#onDefect("check of the file", error);
    }
  }

  /** The session, with its running calls known, so that closing can wait for them. */
  #counted(session: Session): Session {
    return {
      ...session,
      dispatch: (request, call) => {
        if (this.#closing) {
          const message = "The plant file is being closed.";
          return Promise.resolve({ ok: false, error: { code: "file", message, problems: [] }, revision: 0 });
        }
        return this.#track(session.dispatch(request, call));
      },
    };
  }

  #track<T>(work: Promise<T>): Promise<T> {
    this.#running.add(work);
    const done = () => this.#running.delete(work);
    work.then(done, done);
    return work;
  }
}
