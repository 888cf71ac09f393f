/** A reader without a transaction of its own: each query opens and ends one. */
import {
  type CompiledQuery,
  type DatabaseConnection,
  DummyDriver,
  Kysely,
  type QueryResult,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from "kysely";
import type { ReadonlyKysely } from "kysely/readonly";
import type { Value } from "../model/dictionary.ts";
import type { Database } from "../schema/database.ts";
import type { Reader, Store } from "./handle.ts";

export function outsideReader(store: Store): Reader {
  const rows = <T>(sql: string, parameters?: readonly Value[]) =>
    store.read((reader) => reader.rows<T>(sql, parameters));
  const connection: DatabaseConnection = {
    executeQuery: async <R>(query: CompiledQuery): Promise<QueryResult<R>> => ({
      rows: await rows<R>(query.sql, query.parameters as readonly Value[]),
    }),
    // biome-ignore lint/correctness/useYield: rows come whole; the type asks for a generator
    streamQuery: async function* () {
      throw new Error("rows are read whole here");
    },
  };
  class Driver extends DummyDriver {
    override async acquireConnection(): Promise<DatabaseConnection> {
      return connection;
    }
  }
  const db = new Kysely<Database>({
    dialect: {
      createAdapter: () => new SqliteAdapter(),
      createDriver: () => new Driver(),
      createIntrospector: (kysely) => new SqliteIntrospector(kysely),
      createQueryCompiler: () => new SqliteQueryCompiler(),
    },
  });
  const lists = (sql: string, parameters?: readonly Value[]) => store.read((reader) => reader.lists(sql, parameters));
  return { db: db as unknown as ReadonlyKysely<Database>, rows, lists };
}
