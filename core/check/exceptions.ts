/**
 * Accepted findings, held against what is found now. An exception belongs to the records its finding was about, not to
 * whatever bears their names later: in the file it was made in it is known by them, in another by their names, as long as
 * nothing there has been named anew since.
 */
import { KIND_NAMES, type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { lastChangeSet } from "../store/change-set.ts";
import type { Reader } from "../store/handle.ts";
import type { Finding } from "./finding.ts";

type Known = Pick<Finding, "rule" | "key" | "about" | "facts_digest">;
export type Accepted = Row<"exception">;

/** What an exception keeps of its finding, beside its name and digest. */
interface Ground {
  readonly facts: unknown;
  /** The finding's `about`, of use in the file whose history this is. */
  readonly about: string;
  /** Digest of the last change set before it was accepted. */
  readonly history: string;
}

/** What to keep of a finding with its exception. */
export async function groundOf(reader: Reader, finding: Finding): Promise<string> {
  const history = (await lastChangeSet(reader))?.hash ?? "";
  return JSON.stringify({ facts: finding.facts, about: finding.about, history } satisfies Ground);
}

export class Exceptions {
  readonly #today: string;
  readonly #byRecords = new Map<string, Accepted>();
  readonly #byName = new Map<string, Accepted>();
  /** Exceptions known by names alone, whose names may stand for something else by now. */
  readonly #doubtful: ReadonlySet<number>;

  private constructor(own: readonly (readonly [Accepted, string])[], others: readonly Accepted[], rest: Rest) {
    for (const [row, about] of own) this.#byRecords.set(nameOf(row.rule, about), row);
    for (const row of others) this.#byName.set(nameOf(row.rule, row.finding), row);
    this.#doubtful = rest.doubtful;
    this.#today = rest.today;
  }

  /** The exceptions on record, told apart for these findings. */
  static async read(reader: Reader, today: string, findings: readonly Known[]): Promise<Exceptions> {
    const rows = await reader.rows<Accepted>("select * from exception order by id");
    const grounds = rows.map(({ facts }) => JSON.parse(facts ?? "null") as Partial<Ground> | null);
    const here = await ownHistory(
      reader,
      grounds.flatMap((ground) => ground?.history ?? []),
    );
    const own: [Accepted, string][] = [];
    const others: Accepted[] = [];
    for (const [index, row] of rows.entries()) {
      const ground = grounds[index];
      if (ground?.about && here.has(ground.history ?? "")) own.push([row, ground.about]);
      else others.push(row);
    }
    return new Exceptions(own, others, { today, doubtful: await namedAnew(reader, others, findings) });
  }

  /** The record of an exception to this finding, whether or not it still holds. */
  rowOf({ rule, key, about }: Known): Accepted | undefined {
    return this.#byRecords.get(nameOf(rule, about)) ?? this.#byName.get(nameOf(rule, key));
  }

  /** The exception of a finding: it holds as long as the facts are those it was accepted with. */
  of(finding: Known): Finding["exception"] {
    const row = this.rowOf(finding);
    if (!row) return null;
    return {
      id: row.id,
      reason: row.reason,
      accepted_by: row.accepted_by,
      accepted_on: row.accepted_on,
      review_on: row.review_on,
      holds: row.facts_digest === finding.facts_digest && !this.#doubtful.has(row.id),
      review_due: row.review_on !== null && row.review_on <= this.#today,
    };
  }
}

interface Rest {
  readonly today: string;
  readonly doubtful: ReadonlySet<number>;
}

const nameOf = (rule: string, name: string): string => `${rule} | ${name}`;

/** Of these digests of change sets those in this file's own history. */
export async function ownHistory(reader: Reader, hashes: readonly string[]): Promise<ReadonlySet<string>> {
  if (hashes.length === 0) return new Set();
  const rows = await reader.rows<{ hash: string }>(
    "select hash from change_set where hash in (select value from json_each(?))",
    [JSON.stringify(hashes)],
  );
  return new Set(rows.map(({ hash }) => hash));
}

/** `tray 12; strand 4 word`: its records again. */
const recordsIn = (about: string): [KindName, number][] =>
  about.split("; ").flatMap((part) => {
    const [kind, id] = part.split(" ");
    return KIND_NAMES.includes(kind as KindName) && Number(id) > 0 ? [[kind as KindName, Number(id)]] : [];
  });

/** Exceptions known by name whose findings are about a record that came, moved or was renamed after they were written. */
async function namedAnew(
  reader: Reader,
  rows: readonly Accepted[],
  findings: readonly Known[],
): Promise<ReadonlySet<number>> {
  if (rows.length === 0) return new Set();
  const byName = new Map(findings.map((one) => [nameOf(one.rule, one.key), one]));
  const asked = rows.flatMap((row) =>
    recordsIn(byName.get(nameOf(row.rule, row.finding))?.about ?? "").map(([kind, id]) => {
      const { address, key } = kindOf(kind);
      return { exception: row.id, kind, id, fields: address ? [...address.parents, address.name] : key };
    }),
  );
  const found = await reader.rows<{ exception: number }>(
    `with asked as (select value ->> 'exception' exception, value ->> 'kind' kind, value ->> 'id' id, value -> 'fields' fields
       from json_each(?)),
     written as (select e.record_id exception, max(e.change_set_id) since from change_entry e
       where e.kind = 'exception' group by e.record_id)
     select distinct a.exception from asked a join written w on w.exception = a.exception
     join change_entry c on c.kind = a.kind and c.record_id <= a.id and c.last_id >= a.id and c.change_set_id > w.since
     where c.op in ('insert', 'insert_range')
       or c.op = 'update' and exists (select 1 from json_each(a.fields) f join json_each(c.data) d on d.key = f.value)
       or c.op = 'update_page' and exists (select 1 from json_each(c.data, '$.ids') i where i.value = a.id)
         and exists (select 1 from json_each(a.fields) f join json_each(c.data, '$.fields') d on d.value = f.value)`,
    [JSON.stringify(asked)],
  );
  return new Set(found.map(({ exception }) => exception));
}
