/** What was found when the report was last signed, held against what is found now. */
import type { Row } from "../model/dictionary.ts";
import { digestOf } from "../model/digest.ts";
import type { Reader } from "../store/handle.ts";
import { ownHistory } from "./exceptions.ts";
import type { Finding } from "./finding.ts";

type Facts = Pick<Finding, "rule" | "key" | "about" | "facts_digest" | "count">;
type Signed = Facts & Pick<Finding, "exception">;
type SignOff = Pick<Row<"sign_off">, "signed_on" | "signed_by">;

/** So much structured content fits into one field. */
const ROOM = 3_900_000;
const shortOf = (rule: string, name: string): string => digestOf(`${rule} | ${name}`).slice(0, 16);

/** What was in a finding: how much, and a digest of it. */
const contentOf = ({ count, facts_digest }: Facts): string => `${count} ${facts_digest.slice(0, 8)}`;

interface Kept {
  /** By rule: names of the findings, the records they were about, and what was in each; in one order. */
  readonly keys?: Readonly<Record<string, readonly string[]>>;
  readonly about?: Readonly<Record<string, readonly string[]>>;
  readonly held?: Readonly<Record<string, readonly string[]>>;
  /** In place of those, where they are too many to fit: digests of the names, and of the records. */
  readonly digests?: readonly string[];
  readonly own?: readonly string[];
  /** Digests of the names of those that were accepted. */
  readonly accepted?: readonly string[];
}

/** The findings of a sign-off as they are kept. */
export function signedFindings(findings: readonly Signed[]): Kept {
  const groups = Map.groupBy(findings, ({ rule }) => rule);
  const each = (what: (one: Signed) => string) =>
    Object.fromEntries([...groups].map(([rule, own]) => [rule, own.map(what)]));
  const short = ({ rule, key }: Signed): string => shortOf(rule, key);
  const accepted = findings.filter(({ exception }) => exception?.holds).map(short);
  const whole = { keys: each(({ key }) => key), about: each(({ about }) => about), held: each(contentOf) };
  if (JSON.stringify(whole).length + 20 * accepted.length < ROOM) return { ...whole, accepted };
  const most = Math.floor(ROOM / 60);
  return {
    digests: findings.map(short).slice(0, most),
    own: findings.map(({ rule, about }) => shortOf(rule, about)).slice(0, most),
    accepted: accepted.slice(0, most),
  };
}

/** The last sign-off: who made it, and whether a finding was there then. */
export class LastSignOff {
  readonly signed: SignOff | null;
  readonly #was: (one: Signed) => boolean;

  private constructor(row: Row<"sign_off"> | null, here: boolean) {
    this.signed = row;
    this.#was = row ? wasThere(JSON.parse(row.findings ?? "{}") as Kept, here) : () => true;
  }

  static async read(reader: Reader): Promise<LastSignOff> {
    const [row] = await reader.rows<Row<"sign_off">>(
      "select * from sign_off order by change_set desc, id desc limit 1",
    );
    const here = row !== undefined && (await ownHistory(reader, [row.content_hash])).size > 0;
    return new LastSignOff(row ?? null, here);
  }

  /**
   * Not there at the last sign-off, more or about something else since, or accepted then and no longer; false when
   * nothing was ever signed.
   */
  isNew(one: Signed): boolean {
    return !this.#was(one);
  }
}

/** In the file that was signed findings are known again by their records, in another by their names. */
function wasThere(kept: Kept, here: boolean): (one: Signed) => boolean {
  const aside = new Set(kept.accepted);
  const names = here && kept.about ? kept.about : kept.keys;
  const short = new Set(here && kept.own ? kept.own : kept.digests);
  const nameOf = (one: Signed): string => (here && (kept.about ?? kept.own) ? one.about : one.key);
  const known = new Map(
    Object.entries(names ?? {}).map(([rule, own]) => [
      rule,
      new Map(own.map((name, at) => [name, { content: kept.held?.[rule]?.[at], key: kept.keys?.[rule]?.[at] }])),
    ]),
  );
  return (one) => {
    const name = nameOf(one);
    const own = known.get(one.rule)?.get(name);
    if (kept.digests ? !short.has(shortOf(one.rule, name)) : !own) return false;
    // Less of it than when it was signed is nothing new.
    if (own?.content && own.content !== contentOf(one) && one.count >= Number.parseInt(own.content, 10)) return false;
    // What was set aside when it was signed, and no longer is, was not open then.
    return one.exception?.holds === true || !aside.has(shortOf(one.rule, own?.key ?? one.key));
  };
}
