/** Kysely over one connection. Transactions are the store's, so the builder can't open any. */
import {
  type CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  Kysely,
  type QueryResult,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from "kysely";
import type { Database } from "../core/schema/database.ts";
import type { Bindable, Connection } from "./sqlite-connection.ts";

class Adapter extends SqliteAdapter {
  /** The store already keeps writes alone; a second lock inside the builder would only cost time. */
  override get supportsMultipleConnections(): boolean {
    return true;
  }
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

const noTransactions = async (): Promise<never> => {
  throw new Error("the query builder opens no transactions: use store.read and store.write");
};

/** A query builder whose queries `allow` may forbid by throwing; only with `mayWrite` do they change anything. */
export function builderFor(connection: Connection, mayWrite: boolean, allow: () => void): Kysely<Database> {
  const wire: DatabaseConnection = {
    async executeQuery<R>({ sql, parameters }: CompiledQuery): Promise<QueryResult<R>> {
      allow();
      const values = parameters as readonly Bindable[];
      if (!mayWrite || connection.answersRows(sql)) return { rows: connection.rows<R>(sql, values, mayWrite) };
      const { changes, lastId } = connection.change(sql, values);
      return { rows: [], numAffectedRows: BigInt(changes), insertId: BigInt(lastId) };
    },
    streamQuery(): AsyncIterableIterator<never> {
      throw new Error("rows are read in pages, not streamed");
    },
  };
  const driver: Driver = {
    init: async () => {},
    acquireConnection: async () => wire,
    releaseConnection: async () => {},
    beginTransaction: noTransactions,
    commitTransaction: noTransactions,
    rollbackTransaction: noTransactions,
    destroy: async () => {},
  };
  const dialect: Dialect = {
    createDriver: () => driver,
    createAdapter: () => new Adapter(),
    createQueryCompiler: () => new SqliteQueryCompiler(),
    createIntrospector: (db) => new SqliteIntrospector(db),
  };
  return new Kysely<Database>({ dialect });
}
