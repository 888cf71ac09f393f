/** The store over one connection: many reads of one moment at once, or one write alone. */
import { AsyncLocalStorage } from "node:async_hooks";
import type { Kysely } from "kysely";
import type { ReadonlyKysely } from "kysely/readonly";
import type { Value } from "../core/model/dictionary.ts";
import { refuse } from "../core/result.ts";
import type { Database } from "../core/schema/database.ts";
import type { Reader, Store, Writer } from "../core/store/handle.ts";
import { say } from "../core/words/say.ts";
import { FairLock } from "./fair-lock.ts";
import type { Connection } from "./sqlite-connection.ts";
import { builderFor } from "./sqlite-dialect.ts";
import { patiently } from "./sqlite-errors.ts";

/** A write of at least so many rows makes the planner's statistics worth renewing. */
const MANY_ROWS = 2_000;

const TAKEN_BACK = say`The disk stopped the write and it was taken back. Nothing was changed.`;

/** A handle is good inside its own transaction only. */
class Handle implements Writer {
  open = true;
  readonly writing: boolean;
  readonly #connection: Connection;
  #builder: Kysely<Database> | null = null;

  constructor(connection: Connection, writing: boolean) {
    this.#connection = connection;
    this.writing = writing;
  }

  get db(): ReadonlyKysely<Database> {
    return this.writes as unknown as ReadonlyKysely<Database>;
  }

  get writes(): Kysely<Database> {
    this.#builder ??= builderFor(this.#connection, this.writing, () => this.#check());
    return this.#builder;
  }

  async rows<T>(sql: string, parameters: readonly Value[] = []): Promise<T[]> {
    this.#check();
    return this.#connection.rows<T>(sql, parameters, this.writing);
  }

  async lists(sql: string, parameters: readonly Value[] = []): Promise<Value[][]> {
    this.#check();
    return this.#connection.lists(sql, parameters, this.writing) as Value[][];
  }

  async run(sql: string, parameters: readonly (Value | Uint8Array)[] = []): Promise<number> {
    this.#check();
    if (!this.writing) throw new Error(`a read must not write: ${sql}`);
    return this.#connection.change(sql, parameters).changes;
  }

  async runEach(sql: string, each: readonly (readonly Value[])[]): Promise<void> {
    this.#check();
    if (!this.writing) throw new Error(`a read must not write: ${sql}`);
    this.#connection.changeEach(sql, each);
  }

  #check(): void {
    if (!this.open) throw new Error("a handle was used after its transaction had ended");
    // The engine takes a transaction back by itself when the disk is full: what follows must not write outside one.
    if (!this.#connection.inTransaction) refuse("file", TAKEN_BACK);
  }
}

export class SqliteStore implements Store {
  /** Told after each write that changed rows. */
  onChanged: () => void = () => {};
  readonly #connection: Connection;
  readonly #lock = new FairLock();
  readonly #inside = new AsyncLocalStorage<Handle>();
  readonly #readOnly: () => string | null;
  /** The read transaction that all present readers share. */
  #begun: Promise<void> | null = null;
  #closed = false;
  #written = false;

  constructor(connection: Connection, readOnly: () => string | null) {
    this.#connection = connection;
    this.#readOnly = readOnly;
  }

  get readOnly(): string | null {
    return this.#readOnly();
  }

  async read<T>(work: (reader: Reader) => Promise<T>): Promise<T> {
    const outer = this.#inside.getStore();
    // Inside a write, a read sees what is being written.
    if (outer?.open && outer.writing) return work(outer);
    await this.#enterRead(outer);
    try {
      this.#refuseClosed();
      this.#begun ??= this.#begin("BEGIN").catch((error) => {
        this.#begun = null;
        throw error;
      });
      await this.#begun;
      return await this.#lend(new Handle(this.#connection, false), work);
    } finally {
      this.#leaveRead();
    }
  }

  async write<T>(work: (writer: Writer) => Promise<T>): Promise<T> {
    if (this.#inside.getStore()?.open) throw new Error("a write was begun inside another transaction");
    await this.#lock.enterWrite();
    try {
      this.#refuseClosed();
      const reason = this.readOnly;
      if (reason !== null) refuse("read_only", reason);
      await this.#begin("BEGIN IMMEDIATE");
      const { answer, changes } = await this.#carryOut(work);
      if (changes > 0) this.onChanged();
      this.#written ||= changes > 0;
      if (changes >= MANY_ROWS) this.#renewStatistics();
      return answer;
    } finally {
      this.#lock.leaveWrite();
    }
  }

  /** Runs while nothing writes, outside any transaction; `done` lets writes go on before the work has ended. */
  async undisturbed<T>(work: (done: () => void) => Promise<T>): Promise<T> {
    const outer = this.#inside.getStore();
    if (outer?.open && outer.writing) throw new Error("what must not be disturbed was begun inside a write");
    await this.#enterRead(outer);
    let inside = true;
    const done = () => {
      if (inside) this.#leaveRead();
      inside = false;
    };
    try {
      this.#refuseClosed();
      return await work(done);
    } finally {
      done();
    }
  }

  /** Waits for whatever runs; refuses whatever comes later. */
  async close(): Promise<void> {
    await this.#lock.enterWrite();
    this.#closed = true;
    if (this.#written) this.#renewStatistics();
    this.#lock.leaveWrite();
  }

  async #carryOut<T>(work: (writer: Writer) => Promise<T>): Promise<{ answer: T; changes: number }> {
    try {
      const before = this.#totalChanges();
      const answer = await this.#lend(new Handle(this.#connection, true), work);
      if (!this.#connection.inTransaction) refuse("file", TAKEN_BACK);
      const changes = this.#totalChanges() - before;
      await patiently(() => this.#connection.run("COMMIT"));
      return { answer, changes };
    } catch (error) {
      this.#rollBack();
      throw error;
    }
  }

  async #lend<T>(handle: Handle, work: (handle: Handle) => Promise<T>): Promise<T> {
    try {
      return await this.#inside.run(handle, () => work(handle));
    } finally {
      handle.open = false;
    }
  }

  #begin(how: "BEGIN" | "BEGIN IMMEDIATE"): Promise<void> {
    return patiently(() => {
      this.#connection.run(how);
      try {
        // A plain BEGIN takes no lock yet; this read does, so that the moment read is the moment of the beginning.
        if (how === "BEGIN") this.#connection.rows("SELECT 1 FROM sqlite_schema LIMIT 1");
      } catch (error) {
        this.#rollBack();
        throw error;
      }
    });
  }

  /** Inside a read, a further one joins it: waiting in line behind a writer, it would wait for itself. */
  async #enterRead(outer: Handle | undefined): Promise<void> {
    if (outer?.open) this.#lock.joinRead();
    else await this.#lock.enterRead();
  }

  #leaveRead(): void {
    try {
      if (this.#lock.readers === 1) {
        this.#begun = null;
        if (this.#connection.inTransaction) this.#connection.run("COMMIT");
      }
    } catch (error) {
      this.#rollBack();
      throw error;
    } finally {
      this.#lock.leaveRead();
    }
  }

  /** The engine may have done it already, as it does when the disk is full. */
  #rollBack(): void {
    if (this.#connection.inTransaction) this.#connection.run("ROLLBACK");
  }

  #totalChanges(): number {
    return this.#connection.rows<{ n: number }>("SELECT total_changes() AS n")[0]?.n ?? 0;
  }

  /**
   * Renews what the planner knows of the tables, where they changed much. The limit keeps the engine from filling its
   * table of samples, which would make it prepare index look-ups again at every call (measured: seven times slower).
   */
  #renewStatistics(): void {
    try {
      this.#connection.pragma("analysis_limit = 400");
      this.#connection.pragma("optimize");
      this.#connection.forgetStatements();
    } catch {
      // The write stands; without new statistics the planner only guesses a little worse.
    }
  }

  #refuseClosed(): void {
    if (this.#closed) refuse("file", say`The plant file is closed.`);
  }
}
