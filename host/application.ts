/** One open plant: its file, store and session, wired together; every transport starts here. */
import { statSync } from "node:fs";
import { setImmediate as pause, setTimeout as sleep } from "node:timers/promises";
import { loadPlantGlass } from "../core/glass/plant-glass.ts";
import { createSession, type Session } from "../core/operations/dispatch.ts";
import { OPERATIONS } from "../core/operations/list.ts";
import type { Clock, FilePort, FileStatus } from "../core/ports.ts";
import type { Store } from "../core/store/handle.ts";
import { say } from "../core/words/say.ts";
import { shownPast, writeAsOf } from "./as-of.ts";
import { backupsOf, copyTo } from "./backup.ts";
import { BackupKeeper } from "./backup-keeper.ts";
import { machineClock } from "./clock.ts";
import { folders } from "./folders.ts";
import { damageInTurns } from "./integrity.ts";
import { openOther } from "./other-plant.ts";
import { createPlant, type OpenOptions, openPlant, type PlantFile } from "./plant-file.ts";
import type { Connection } from "./sqlite-connection.ts";
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

/** How often a file that another program writes is looked at, in milliseconds. */
const LOOK_MS = 2_000;

/** The check in the background begins when the first questions after opening have been answered, in milliseconds. */
const CALM_MS = 1_500;

/** Changes when another program has written the file. Each answer asks, so the statement is kept prepared. */
const dataVersion = (connection: Connection): unknown =>
  connection.rows<{ data_version: number }>("PRAGMA data_version")[0]?.data_version;

const WRITES: ReadonlySet<unknown> = new Set(
  OPERATIONS.filter(({ effect }) => effect === "write").map(({ name }) => name),
);
const isWrite = (request: unknown): boolean =>
  typeof request === "object" && request !== null && "name" in request && WRITES.has(request.name);

class OpenPlant implements Application {
  readonly session: Session;
  readonly store: SqliteStore;
  readonly file: ApplicationFile;
  readonly #plant: PlantFile;
  readonly #onDefect: (name: string, error: unknown) => void;
  readonly #backups: BackupKeeper;
  readonly #backupAtClose: boolean;
  readonly #running = new Set<Promise<unknown>>();
  readonly #calm = new AbortController();
  readonly #looking: NodeJS.Timeout | null;
  /** What a file of the past shows; null for the plant itself. */
  readonly #past: string | null;
  #integrity: string;
  /** The engine's mark of the last write by another program. */
  #seen: unknown;
  #closing: Promise<void> | null = null;

  constructor(plant: PlantFile, options: ApplicationOptions) {
    const { connection } = plant;
    const clock = options.clock ?? machineClock;
    this.#plant = plant;
    this.#onDefect = options.onDefect ?? (() => {});
    this.#backupAtClose = options.backupAtClose ?? true;
    this.#integrity = plant.checked ? "fine" : "checking";
    this.#past = shownPast(connection);
    this.store = new SqliteStore(connection, () => this.#readOnly());
    this.#backups = new BackupKeeper(connection, clock, (work) => this.store.undisturbed(work));
    this.store.onChanged = () => this.#backups.noteChange();
    this.file = {
      path: plant.path,
      upgradedFrom: plant.upgradedFrom,
      status: async () => this.#status(),
      backup: () => this.#backups.make("asked"),
      saveCopy: (to) => copyTo(connection, to, (work) => this.store.undisturbed(work)),
      asOf: (day, knowledge, author, path) =>
        writeAsOf(this.file, clock, { day, knowledge, author, ...(path === undefined ? {} : { path }) }),
    };
    this.session = this.#watched(
      createSession({
        store: this.store,
        folders,
        file: this.file,
        // Fonts and codes are loaded when a label is laid out for the first time.
        lettering: async () => (await import("./paper/lettering.ts")).lettering,
        others: { open: (other) => openOther(plant.path, other) },
        clock,
        pause,
        loadGlass: loadPlantGlass,
        operations: OPERATIONS,
        onDefect: this.#onDefect,
      }),
    );
    this.#seen = dataVersion(connection);
    this.#looking = plant.readOnly === null ? null : setInterval(() => this.#look(), LOOK_MS).unref();
    if (!plant.checked) void this.#track(this.#checkInTurns());
    this.#backUpAtIntervals(options.backupEvery_min ?? 20);
  }

  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    this.#calm.abort();
    this.#backups.stop();
    if (this.#looking) clearInterval(this.#looking);
    while (this.#running.size > 0) await Promise.allSettled(this.#running);
    try {
      if (this.#backupAtClose) await this.#backups.atClosing();
    } catch (error) {
      // The plant itself is safe on the disk; closing must not hang on a full backup disk.
      this.#onDefect(say`backup at closing`, error);
    } finally {
      await this.store.close();
      this.#plant.close();
    }
  }

  #readOnly(): string | null {
    if (this.#past !== null) return say`${this.#past}. It is only read.`;
    if (this.#plant.readOnly !== null) return this.#plant.readOnly;
    if (this.#integrity === "fine" || this.#integrity === "checking") return null;
    return say`The file is damaged (${this.#integrity}), so nothing more is written to it. Open a backup of it.`;
  }

  #status(): FileStatus {
    const { path, writer } = this.#plant;
    const [newest] = backupsOf(path);
    return {
      path,
      read_only: this.#readOnly(),
      past: this.#past,
      writer: writer && { user: writer.user, machine: writer.machine, since: writer.since },
      last_backup: newest?.at ?? null,
      bytes: statSync(path).size,
      integrity: this.#integrity,
    };
  }

  #backUpAtIntervals(minutes: number): void {
    if (minutes === 0 || this.#plant.readOnly !== null) return;
    this.#backups.every(minutes, (backup) => {
      void this.#track(backup.catch((error) => this.#onDefect(say`backup at intervals`, error)));
    });
  }

  async #checkInTurns(): Promise<void> {
    try {
      await sleep(CALM_MS, undefined, { ref: false, signal: this.#calm.signal }).catch(() => {});
      const damage = await damageInTurns(this.#plant.connection, async (step) => {
        await pause();
        return this.#closing ? "stop" : this.store.read(async () => step());
      });
      if (!this.#closing || damage !== null) this.#integrity = damage ?? "fine";
    } catch (error) {
      this.#onDefect(say`check of the file`, error);
    }
  }

  /** The session, with its running calls known to `close`, and told of what another program wrote before each call. */
  #watched(session: Session): Session {
    return {
      ...session,
      dispatch: (request, call) => {
        if (this.#closing) {
          const message = say`The plant file is being closed.`;
          return Promise.resolve({ ok: false, error: { code: "file", message, problems: [] }, revision: 0 });
        }
        const answer = async () => {
          // A write reads afresh inside its own transaction: whoever only asks must hear first of what others wrote.
          if (!isWrite(request) && this.#writtenOutside()) await session.writtenOutside();
          return session.dispatch(request, call);
        };
        return this.#track(answer());
      },
    };
  }

  #look(): void {
    if (this.#closing || !this.#writtenOutside()) return;
    void this.#track(this.session.writtenOutside().catch((error) => this.#onDefect(say`looking at the file`, error)));
  }

  #writtenOutside(): boolean {
    let mark: unknown;
    try {
      mark = dataVersion(this.#plant.connection);
    } catch {
      // The other program is writing just now; the next look will see what.
      return false;
    }
    const written = mark !== this.#seen;
    this.#seen = mark;
    return written;
  }

  #track<T>(work: Promise<T>): Promise<T> {
    this.#running.add(work);
    const done = () => this.#running.delete(work);
    work.then(done, done);
    return work;
  }
}
