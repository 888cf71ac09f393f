/** The consistency report: every rule's cases, named, with provenance and exceptions, in one order. */
import type { KindName, Row } from "../model/dictionary.ts";
import { digestOf } from "../model/digest.ts";
import { naturalKey } from "../model/natural-key.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { Exceptions } from "./exceptions.ts";
import { type CheckAnswer, type Finding, SEVERITIES, type Severity } from "./finding.ts";
import { type Policies, readPolicies } from "./policies.ts";
import { provenanceOf } from "./provenance.ts";
import { CannotTell, type Case, type Ground, type Rule } from "./rule.ts";
import { RULES, RULES_VERSION } from "./rules.ts";

export interface Wanted {
  readonly families?: readonly string[] | undefined;
  readonly rules?: readonly string[] | undefined;
  readonly severities?: readonly string[] | undefined;
  /** Id of a building. */
  readonly building?: number | undefined;
}

export interface Asked {
  readonly reader: Reader;
  readonly today: string;
  readonly glass: Ground["glass"];
  /** Called before each rule, and inside long ones. */
  readonly heard: (what: string, done: number, total: number) => Promise<void>;
}

/** Every finding of every rule, before anything is filtered: what a filter shows never depends on the filter. */
export async function wholeReport(asked: Asked): Promise<CheckAnswer> {
  const { reader, today } = asked;
  const [plant] = await reader.rows<Row<"plant">>("select * from plant order by id limit 1");
  const policies = await readPolicies(reader);
  const cases: { rule: Rule; one: Case }[] = [];
  const could_not_run = new Map<string, string>();
  for (const [index, rule] of RULES.entries()) {
    const heard = () => asked.heard(rule.title, index, RULES.length);
    await heard();
    const ground: Ground = {
      reader,
      plant: plant as Row<"plant">,
      policies,
      today,
      glass: asked.glass,
      breathe: heard,
    };
    try {
      for (const one of await rule.find(ground)) cases.push({ rule, one });
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      could_not_run.set(rule.name, error.message);
    }
  }
  const findings = await named(reader, cases);
  return answered(reader, findings, policies, could_not_run);
}

async function named(reader: Reader, cases: readonly { rule: Rule; one: Case }[]): Promise<Finding[]> {
  const wanted = new Map<KindName, Set<number>>();
  for (const { one } of cases) {
    for (const [kind, id] of one.records) wanted.set(kind, (wanted.get(kind) ?? new Set()).add(id));
  }
  const refs = new Map<KindName, Map<number, RecordRef>>();
  for (const [kind, ids] of wanted) refs.set(kind, await refsOf(reader, kind, ids));
  const refOf = (kind: KindName, id: number): RecordRef =>
    refs.get(kind)?.get(id) ?? { kind, id, tag: `${kind.replaceAll("_", " ")} ${id}` };
  const provenance = await provenanceOf(
    reader,
    cases.map(({ one }) => one),
  );
  const exceptions = await Exceptions.read(reader);
  const keys = new Map<string, number>();

  return cases.map(({ rule, one }, index): Finding => {
    const records = one.records.map(([kind, id]) => refOf(kind, id));
    const own = records
      .map(({ kind, tag }) => `${kind} ${tag}`)
      .join("; ")
      .slice(0, 380);
    // Exact repeats of one name are told apart by their order.
    const again = (keys.get(`${rule.name} ${own}`) ?? 0) + 1;
    keys.set(`${rule.name} ${own}`, again);
    const key = again === 1 ? own : `${own} (${again})`;
    const facts_digest = digestOf(JSON.stringify(one.facts)).slice(0, 32);
    const { sentence, repair, caution } = rule.say(one, (kind, id) => refOf(kind, id).tag);
    const { basis, last_visit, building } = provenance[index] as (typeof provenance)[number];
    return {
      rule: rule.name,
      family: rule.family,
      severity: rule.severity,
      key,
      records,
      count: one.count ?? 1,
      facts: one.facts,
      facts_digest,
      sentence,
      repair,
      basis,
      last_visit,
      building,
      caution: caution ?? null,
      exception: exceptions.of(rule.name, key, facts_digest),
      is_new: exceptions.isNew(rule.name, key),
    };
  });
}

async function answered(
  reader: Reader,
  findings: Finding[],
  policies: Policies,
  couldNotRun: ReadonlyMap<string, string>,
): Promise<CheckAnswer> {
  const exceptions = await Exceptions.read(reader);
  const [last] = await reader.rows<{ hash: string }>("select hash from change_set order by id desc limit 1");
  const order = new Map(RULES.map((rule, index) => [rule.name, index]));
  const rank = (finding: Finding): number => SEVERITIES.indexOf(finding.severity);
  const sortKeys = new Map(findings.map((finding) => [finding, naturalKey(finding.key)]));
  findings.sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (order.get(a.rule) as number) - (order.get(b.rule) as number) ||
      compare(sortKeys.get(a) as string, sortKeys.get(b) as string) ||
      compare(a.key, b.key),
  );
  const open = findings.filter((finding) => !finding.exception?.holds);
  const counts = Object.fromEntries(
    SEVERITIES.map((severity) => [severity, open.filter((finding) => finding.severity === severity).length]),
  ) as Record<Severity, number>;
  const found = new Map<string, number>();
  for (const { rule } of findings) found.set(rule, (found.get(rule) ?? 0) + 1);
  const signed = exceptions.lastSignOff;
  return {
    findings,
    counts,
    accepted: findings.length - open.length,
    new_since: signed && {
      signed_on: signed.signed_on,
      signed_by: signed.signed_by,
      count: open.filter((finding) => finding.is_new).length,
    },
    passes: counts.hazard === 0 && counts.error === 0,
    rules: RULES.map(({ name, family, severity, title, why, source }) => ({
      name,
      family,
      severity,
      title,
      why,
      source,
      found: found.get(name) ?? 0,
      could_not_run: couldNotRun.get(name) ?? null,
    })),
    rules_version: RULES_VERSION,
    content_hash: last?.hash ?? "",
    policies,
    sentence: sentenceOf(counts, findings.length - open.length),
  };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Counts in words: "212 findings: 3 hazards, 33 errors, …". */
export function sentenceOf(counts: Readonly<Record<Severity, number>>, accepted: number): string {
  const total = SEVERITIES.reduce((sum, severity) => sum + counts[severity], 0);
  const parts = SEVERITIES.filter((severity) => counts[severity] > 0).map((severity) =>
    plural(counts[severity], severity),
  );
  const tail = accepted > 0 ? ` ${plural(accepted, "finding")} accepted.` : "";
  if (total === 0) return `Nothing is found.${tail}`;
  const verdict = counts.hazard + counts.error > 0 ? "The record does not agree" : "The record agrees";
  return `${verdict}: ${plural(total, "finding")}, ${parts.join(", ")}.${tail}`;
}

const plural = (n: number, word: string): string =>
  word === "advice" ? `${n} advice` : `${n} ${word}${n === 1 ? "" : "s"}`;

/** The part of a report that was asked for; the counts are of that part. */
export function part(report: CheckAnswer, wanted: Wanted): CheckAnswer {
  const fits = (finding: Finding): boolean =>
    (wanted.families?.includes(finding.family) ?? true) &&
    (wanted.rules?.includes(finding.rule) ?? true) &&
    (wanted.severities?.includes(finding.severity) ?? true) &&
    (wanted.building === undefined || finding.building?.id === wanted.building);
  const findings = report.findings.filter(fits);
  if (findings.length === report.findings.length) return report;
  const open = findings.filter((finding) => !finding.exception?.holds);
  const counts = Object.fromEntries(
    SEVERITIES.map((severity) => [severity, open.filter((finding) => finding.severity === severity).length]),
  ) as Record<Severity, number>;
  return {
    ...report,
    findings,
    counts,
    accepted: findings.length - open.length,
    new_since: report.new_since && { ...report.new_since, count: open.filter((one) => one.is_new).length },
    passes: counts.hazard === 0 && counts.error === 0,
    sentence: sentenceOf(counts, findings.length - open.length),
  };
}
