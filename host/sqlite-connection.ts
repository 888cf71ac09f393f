/** One open SQLite file: statements by text, pragmas, the engine's own backup. The only place that knows the driver. */
import Database from "better-sqlite3";
import { translated } from "./sqlite-errors.ts";
import { type Prepared, StatementCache } from "./sqlite-statements.ts";
import { shownName } from "./whole-file.ts";

export type Bindable = string | number | bigint | null | Uint8Array;

export interface ConnectionOptions {
  readonly readOnly?: boolean;
  /** Makes the file when there is none. */
  readonly create?: boolean;
  /** Called before each statement; what it throws, that statement throws. For tests of faults. */
  readonly beforeStatement?: (sql: string) => void;
}

/**
 * How long the engine itself waits for another program, in milliseconds. It is short because the engine waits without
 * letting anything else run; whoever begins or commits tries again instead (`patiently`).
 */
const ENGINE_WAIT_MS = 100;
/** Pages copied between two turns of the event loop: about two milliseconds. */
const BACKUP_PAGES = 400;

export class Connection {
  readonly path: string;
  readonly readOnly: boolean;
  readonly #db: Database.Database;
  readonly #cache: StatementCache;
  readonly #before: ((sql: string) => void) | undefined;

  constructor(path: string, options: ConnectionOptions = {}) {
    this.path = path;
    this.readOnly = options.readOnly ?? false;
    this.#before = options.beforeStatement;
    this.#db = openDatabase(path, {
      readonly: this.readOnly,
      fileMustExist: !(options.create ?? false),
      timeout: ENGINE_WAIT_MS,
    });
    this.#cache = new StatementCache((sql) => this.#db.prepare(sql));
  }

  /** The engine's version, such as `3.53.4`. */
  static engineVersion(): string {
    const db = new Database(":memory:");
    try {
      return db.prepare<[], string>("SELECT sqlite_version()").pluck().get() ?? "";
    } finally {
      db.close();
    }
  }

  get inTransaction(): boolean {
    return this.#db.inTransaction;
  }

  /** How many statements are kept prepared. */
  get prepared(): number {
    return this.#cache.size;
  }

  /** The rows that a statement answers. Unless `mayWrite`, a statement that changes something is a defect. */
  rows<T>(sql: string, parameters: readonly Bindable[] = [], mayWrite = false): T[] {
    const prepared = this.#reading(sql, mayWrite);
    return this.#guarded(sql, () => prepared.statement.all(...bound(prepared, parameters)) as T[]);
  }

  /** As `rows`, each row as the list of its columns. */
  lists(sql: string, parameters: readonly Bindable[] = [], mayWrite = false): unknown[][] {
    const prepared = this.#reading(sql, mayWrite);
    return this.#guarded(sql, () => {
      // The statement is kept, and others may ask it for rows by name.
      const statement = prepared.statement.raw(true);
      try {
        return statement.all(...bound(prepared, parameters)) as unknown[][];
      } finally {
        statement.raw(false);
      }
    });
  }

  #reading(sql: string, mayWrite: boolean): Prepared {
    const prepared = this.#get(sql);
    if (!prepared.reader) throw new Error(`a statement without rows was asked for rows: ${sql}`);
    if (!prepared.readonly && !mayWrite) throw new Error(`a read must not write: ${sql}`);
    return prepared;
  }

  /** Runs a statement; answers how many rows it changed and the id of the last one it inserted. */
  run(sql: string, parameters: readonly Bindable[] = []): { changes: number; lastId: number | bigint } {
    const prepared = this.#get(sql);
    return this.#run(sql, prepared, parameters);
  }

  /** As `run`, for those who were lent a transaction: they may change rows, but not begin or end transactions. */
  change(sql: string, parameters: readonly Bindable[] = []): { changes: number; lastId: number | bigint } {
    const prepared = this.#get(sql);
    if (prepared.readonly) throw new Error(`transactions and settings are the store's: ${sql}`);
    return this.#run(sql, prepared, parameters);
  }

  /** As `change`, once for each list of parameters; what one of them throws ends it. */
  changeEach(sql: string, each: readonly (readonly Bindable[])[]): void {
    const prepared = this.#get(sql);
    if (prepared.readonly || prepared.schema) throw new Error(`only rows are changed in bulk: ${sql}`);
    this.#guarded(null, () => {
      for (const parameters of each) {
        this.#before?.(sql);
        prepared.statement.run(...bound(prepared, parameters));
      }
    });
  }

  #run(sql: string, prepared: Prepared, parameters: readonly Bindable[]): { changes: number; lastId: number | bigint } {
    const result = this.#guarded(sql, () => prepared.statement.run(...bound(prepared, parameters)));
    if (prepared.schema) this.#cache.clear();
    return { changes: result.changes, lastId: result.lastInsertRowid };
  }

  /** Whether a statement answers rows. */
  answersRows(sql: string): boolean {
    return this.#get(sql).reader;
  }

  /** The single value of a pragma, or what setting it answers. */
  pragma(text: string): unknown {
    return this.#guarded(`PRAGMA ${text}`, () => this.#db.pragma(text, { simple: true }));
  }

  /**
   * The engine's online backup into a file that must not exist. Reads and writes of this connection may go on once
   * `begun` was called. Answers false when nothing was copied because the file was being written at the first step.
   */
  async backupTo(path: string, begun: () => void = () => {}): Promise<boolean> {
    try {
      const { totalPages } = await this.#db.backup(path, {
        progress: () => {
          begun();
          return BACKUP_PAGES;
        },
      });
      // The driver takes a source that is busy at the first step for an empty one and reports success.
      return totalPages > 0;
    } catch (error) {
      throw translated(error, shownName(path));
    }
  }

  forgetStatements(): void {
    this.#cache.clear();
  }

  close(): void {
    this.#cache.clear();
    this.#db.close();
  }

  #get(sql: string): Prepared {
    return this.#guarded(null, () => this.#cache.get(sql));
  }

  #guarded<T>(sql: string | null, act: () => T): T {
    try {
      if (sql !== null) this.#before?.(sql);
      return act();
    } catch (error) {
      throw translated(error, shownName(this.path));
    }
  }
}

function openDatabase(path: string, options: Database.Options): Database.Database {
  let db: Database.Database | null = null;
  try {
    db = new Database(path, options);
    // A file may come from anyone: nothing in its schema may call what has effects, and every page is checked.
    db.pragma("trusted_schema = OFF");
    db.pragma("cell_size_check = ON");
    db.pragma("foreign_keys = ON");
    db.pragma("synchronous = FULL");
    return db;
  } catch (error) {
    db?.close();
    throw translated(error, shownName(path));
  }
}

function bound(prepared: Prepared, parameters: readonly Bindable[]): unknown[] {
  if (!prepared.numbered) return parameters as unknown[];
  return [Object.fromEntries(parameters.map((value, index) => [index + 1, value]))];
}
