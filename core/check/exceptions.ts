/** Accepted findings and the last sign-off, held against what is found now. */
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { Finding } from "./finding.ts";

export class Exceptions {
  readonly lastSignOff: Row<"sign_off"> | null;
  readonly #byFinding: ReadonlyMap<string, Row<"exception">>;
  /** Keys of the findings at the last sign-off; null when nothing was signed. */
  readonly #signed: ReadonlySet<string> | null;

  private constructor(rows: readonly Row<"exception">[], signOff: Row<"sign_off"> | null) {
    this.#byFinding = new Map(rows.map((row) => [keyOf(row.rule, row.finding), row]));
    this.lastSignOff = signOff;
    this.#signed = signOff ? new Set(JSON.parse(signOff.findings ?? "[]") as string[]) : null;
  }

  static async read(reader: Reader): Promise<Exceptions> {
    const rows = await reader.rows<Row<"exception">>("select * from exception");
    const [signOff] = await reader.rows<Row<"sign_off">>(
      "select * from sign_off order by change_set desc, id desc limit 1",
    );
    return new Exceptions(rows, signOff ?? null);
  }

  /** The exception of a finding: it holds as long as the facts are those it was accepted with. */
  of(rule: string, key: string, digest: string): Finding["exception"] {
    const row = this.#byFinding.get(keyOf(rule, key));
    if (!row) return null;
    return {
      id: row.id,
      reason: row.reason,
      accepted_by: row.accepted_by,
      accepted_on: row.accepted_on,
      review_on: row.review_on,
      holds: row.facts_digest === digest,
    };
  }

  /** Not there at the last sign-off; false when nothing was ever signed. */
  isNew(rule: string, key: string): boolean {
    return this.#signed !== null && !this.#signed.has(keyOf(rule, key));
  }
}

export const keyOf = (rule: string, key: string): string => `${rule} | ${key}`;
