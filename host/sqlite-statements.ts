/** Statements given as text: a bounded cache of prepared ones, and the splitting of a migration into single ones. */
import type Database from "better-sqlite3";

export interface Prepared {
  readonly statement: Database.Statement<unknown[]>;
  /** It answers rows. */
  readonly reader: boolean;
  /** It changes nothing in the file. */
  readonly readonly: boolean;
  /** Its places are numbered (`?1`): the engine's binding wants those by name, not in a list. */
  readonly numbered: boolean;
  /** It changes the schema, so that whatever was prepared before may be out of date. */
  readonly schema: boolean;
}

/**
 * Keeps the statements used most recently. Preparing one costs tens of microseconds, running it a few
 * (measured), so without this the query builder would spend most of its time preparing.
 */
export class StatementCache {
  readonly #kept = new Map<string, Prepared>();
  readonly #prepare: (sql: string) => Database.Statement<unknown[]>;
  readonly #limit: number;

  constructor(prepare: (sql: string) => Database.Statement<unknown[]>, limit = 400) {
    this.#prepare = prepare;
    this.#limit = limit;
  }

  get(sql: string): Prepared {
    const kept = this.#kept.get(sql);
    if (kept) {
      // A map keeps the order of insertion: moving an entry to the end makes the first the least recently used.
      this.#kept.delete(sql);
      this.#kept.set(sql, kept);
      return kept;
    }
    const statement = this.#prepare(sql);
    const prepared = {
      statement,
      reader: statement.reader,
      readonly: statement.readonly,
      // Looked for in the whole text first: taking quoted parts out of a long one costs as much as preparing it.
      numbered: /\?\d/.test(sql) && /\?\d/.test(withoutQuoted(sql)),
      schema: /^\s*(create|drop|alter|analyze|reindex)\b/i.test(sql),
    };
    this.#kept.set(sql, prepared);
    if (this.#kept.size > this.#limit) {
      const oldest = this.#kept.keys().next().value;
      if (oldest !== undefined) this.#kept.delete(oldest);
    }
    return prepared;
  }

  get size(): number {
    return this.#kept.size;
  }

  clear(): void {
    this.#kept.clear();
  }
}

const QUOTED = /'(?:[^']|'')*'|"(?:[^"]|"")*"|--[^\n]*/g;
const withoutQuoted = (sql: string): string => (/['"-]/.test(sql) ? sql.replace(QUOTED, " ") : sql);

/** One statement after the other, without comments. Bodies of triggers are not understood and therefore refused. */
export function statementsOf(script: string): string[] {
  if (/\bcreate\s+(temp\w*\s+)?trigger\b/i.test(withoutQuoted(script))) {
    throw new Error("a migration must not contain a trigger: history and derived rows are the gateway's work");
  }
  const statements: string[] = [];
  let current = "";
  for (const [piece] of script.matchAll(/'(?:[^']|'')*'|"(?:[^"]|"")*"|--[^\n]*|;|[^'";-]+|-/g)) {
    if (piece.startsWith("--")) continue;
    if (piece !== ";") {
      current += piece;
      continue;
    }
    if (current.trim()) statements.push(current.trim());
    current = "";
  }
  if (current.trim()) statements.push(current.trim());
  return statements;
}
