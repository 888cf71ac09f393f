/** Accepted findings and the last sign-off, held against what is found now. */
import type { Row } from "../model/dictionary.ts";
import { digestOf } from "../model/digest.ts";
import type { Reader } from "../store/handle.ts";
import type { Finding } from "./finding.ts";

/** Whether a finding was there as it stands: with no less in it, and accepted (`holds`) or open as it is now. */
type WasSigned = (one: Facts, holds: boolean) => boolean;
type Facts = Pick<Finding, "rule" | "key" | "facts_digest" | "count">;

export class Exceptions {
  readonly lastSignOff: Row<"sign_off"> | null;
  readonly #today: string;
  readonly #byFinding: ReadonlyMap<string, Row<"exception">>;
  /** Says whether a finding was there at the last sign-off; null when nothing was signed. */
  readonly #wasSigned: WasSigned | null;

  private constructor(rows: readonly Row<"exception">[], signOff: Row<"sign_off"> | null, today: string) {
    this.#byFinding = new Map(rows.map((row) => [keyOf(row.rule, row.finding), row]));
    this.lastSignOff = signOff;
    this.#wasSigned = signOff && signedIn(signOff.findings);
    this.#today = today;
  }

  static async read(reader: Reader, today: string): Promise<Exceptions> {
    const rows = await reader.rows<Row<"exception">>("select * from exception");
    const [signOff] = await reader.rows<Row<"sign_off">>(
      "select * from sign_off order by change_set desc, id desc limit 1",
    );
    return new Exceptions(rows, signOff ?? null, today);
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
      review_due: row.review_on !== null && row.review_on <= this.#today,
    };
  }

  /**
   * Not there at the last sign-off, more or about something else since, or accepted then and no longer; false when
   * nothing was ever signed.
   */
  isNew(one: Facts): boolean {
    if (this.#wasSigned === null) return false;
    return !this.#wasSigned(one, this.#byFinding.get(keyOf(one.rule, one.key))?.facts_digest === one.facts_digest);
  }
}

const keyOf = (rule: string, key: string): string => `${rule} | ${key}`;

/** So much structured content fits into one field. */
const ROOM = 3_900_000;
const shortOf = (rule: string, key: string): string => digestOf(keyOf(rule, key)).slice(0, 16);

type Signed = Facts & Pick<Finding, "exception">;

/** What was in a finding: how much, and a digest of it. */
const contentOf = ({ count, facts_digest }: Facts): string => `${count} ${facts_digest.slice(0, 8)}`;

/**
 * The findings of a sign-off as they are kept: keys by rule; where they are too many to fit, digests of them. Beside them
 * what was in each, in their order, and digests of those that were accepted.
 */
export function signedFindings(findings: readonly Signed[]): Record<string, unknown> {
  const groups = Map.groupBy(findings, ({ rule }) => rule);
  const keys = Object.fromEntries([...groups].map(([rule, own]) => [rule, own.map(({ key }) => key)]));
  const short = ({ rule, key }: Signed): string => shortOf(rule, key);
  const accepted = findings.filter(({ exception }) => exception?.holds).map(short);
  const held = Object.fromEntries([...groups].map(([rule, own]) => [rule, own.map(contentOf)]));
  return JSON.stringify([keys, held]).length + 20 * accepted.length < ROOM
    ? { keys, held, accepted }
    : { digests: findings.map(short).slice(0, ROOM / 40), accepted: accepted.slice(0, ROOM / 40) };
}

function signedIn(stored: string | null): WasSigned {
  const { keys, held, digests, accepted } = JSON.parse(stored ?? "{}") as {
    keys?: Record<string, string[]>;
    held?: Record<string, string[]>;
    digests?: string[];
    accepted?: string[];
  };
  const aside = new Set(accepted);
  const short = new Set(digests);
  const known = new Map(
    Object.entries(keys ?? {}).map(([rule, own]) => [rule, new Map(own.map((key, at) => [key, held?.[rule]?.[at]]))]),
  );
  const there = (one: Facts): boolean => {
    if (digests) return short.has(shortOf(one.rule, one.key));
    const own = known.get(one.rule);
    if (!own?.has(one.key)) return false;
    const content = own.get(one.key);
    // Less of it than when it was signed is nothing new.
    return content === undefined || content === contentOf(one) || one.count < Number.parseInt(content, 10);
  };
  // What was set aside when it was signed, and no longer is, was not open then.
  return (one, holds) => there(one) && (holds || !aside.has(shortOf(one.rule, one.key)));
}
