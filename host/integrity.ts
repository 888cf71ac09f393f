/** Whether the file itself is sound: the engine's quick check and its check of references. */
import { Refusal } from "../core/result.ts";
import { plural } from "../core/words/counted.ts";
import type { Connection } from "./sqlite-connection.ts";
import { isDamage } from "./sqlite-errors.ts";

/** One step at a time, so that a caller may let other work run between them. Answers what is damaged, or nothing. */
function* steps(connection: Connection, tables: readonly string[]): Generator<void, string | null> {
  try {
    for (const table of tables) {
      const whole = table === "";
      const quick = connection.rows<{ quick_check: string }>(`PRAGMA quick_check${whole ? "" : `('${table}')`}`);
      const said = quick.map((row) => row.quick_check).filter((text) => text !== "ok");
      if (said.length > 0) return said.slice(0, 3).join("; ");
      const keys = connection.rows<{ table: string; rowid: number; parent: string }>(
        `PRAGMA foreign_key_check${whole ? "" : `('${table}')`}`,
      );
      const [first] = keys;
      if (first) {
        return plural(
          keys.length,
          "a reference leads nowhere, in {1} {2} to {3}",
          "{0} references lead nowhere, the first in {1} {2} to {3}",
          first.table,
          first.rowid,
          first.parent,
        );
      }
      yield;
    }
    return null;
  } catch (error) {
    if (isDamage(error)) return error instanceof Refusal ? error.failure.message : String(error);
    throw error;
  }
}

/** Checks the whole file at once, about a second for 150 MB. */
export function damageNow(connection: Connection): string | null {
  for (const step = steps(connection, [""]); ; ) {
    const { done, value } = step.next();
    if (done) return value;
  }
}

/** Whether there is more to check. */
export type Step = () => "more" | "done";

/** Checks table by table through `turn`, which decides when each step may run, or stops. */
export async function damageInTurns(
  connection: Connection,
  turn: (step: Step) => Promise<"more" | "done" | "stop">,
): Promise<string | null> {
  let found: string | null = null;
  let tables: Generator<void, string | null> | null = null;
  const step: Step = () => {
    tables ??= steps(
      connection,
      connection
        .rows<{ name: string }>(
          "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'",
        )
        .map((row) => row.name),
    );
    const { done, value } = tables.next();
    if (done) found = value;
    return done ? "done" : "more";
  };
  while ((await turn(step)) === "more");
  return found;
}
