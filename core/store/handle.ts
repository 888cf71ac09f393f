/**
 * What core asks of a database: one handle to read, one to write, and transactions. The host supplies them over a plant
 * file; core never sees the driver.
 */
import type { Kysely } from "kysely";
import type { ReadonlyKysely } from "kysely/readonly";
import type { Value } from "../model/dictionary.ts";
import type { Database } from "../schema/database.ts";

export interface Reader {
  /** Query builder for reads. Use it where a query depends on what the user asked. */
  readonly db: ReadonlyKysely<Database>;
  /** Runs a SELECT given as text, prepared once and kept. Use it for fixed and for hot queries. */
  rows<T>(sql: string, parameters?: readonly Value[]): Promise<T[]>;
  /** As `rows`, each row a list of its columns in the order in which they are selected: for very many rows. */
  lists(sql: string, parameters?: readonly Value[]): Promise<Value[][]>;
}

/** Only `core/store/gateway.ts` writes with it (an architecture test holds that). */
export interface Writer extends Reader {
  readonly writes: Kysely<Database>;
  /** Runs a statement given as text, prepared once and kept; answers how many rows it changed. */
  run(sql: string, parameters?: readonly (Value | Uint8Array)[]): Promise<number>;
  /** Runs one statement for each list of parameters, in their order: for very many rows. */
  runEach(sql: string, each: readonly (readonly Value[])[]): Promise<void>;
}

export interface Store {
  /** Why nothing can be written, or null. */
  readonly readOnly: string | null;
  /** One read transaction: everything `work` reads is of one moment. */
  read<T>(work: (reader: Reader) => Promise<T>): Promise<T>;
  /** One write transaction (BEGIN IMMEDIATE, foreign keys deferred to the commit); any throw rolls all of it back. */
  write<T>(work: (writer: Writer) => Promise<T>): Promise<T>;
}

/** Another plant file, opened for reading only. */
export interface OtherPlant {
  /** What its file is called. */
  readonly name: string;
  readonly store: Store;
  close(): Promise<void>;
}

export interface OtherPlants {
  /** Refuses what is no plant file, and the file that is open already. */
  open(path: string): Promise<OtherPlant>;
}
