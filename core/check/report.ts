/** The consistency report: every rule's cases, named, with provenance and exceptions, in one order. */
import { KINDS, type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { digestOf } from "../model/digest.ts";
import { naturalKey } from "../model/natural-key.ts";
import { refuse } from "../result.ts";
import { refsOf, sectionWords } from "../store/addresses.ts";
import { lastContent } from "../store/change-set.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { asInSource, inEnglish } from "../words/language.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { Exceptions } from "./exceptions.ts";
import { type CheckAnswer, type Finding, SEVERITIES, type Severity } from "./finding.ts";
import { readPolicies, statedPolicies } from "./policies.ts";
import { provenanceOf } from "./provenance.ts";
import { CAUTION, CannotTell, type Case, type Ground, type Rule } from "./rule.ts";
import { RULES, RULES_VERSION } from "./rules.ts";
import { LastSignOff } from "./signed.ts";

export interface Wanted {
  readonly families?: readonly string[] | undefined;
  readonly rules?: readonly string[] | undefined;
  readonly severities?: readonly string[] | undefined;
  /** Id of a building, and what it is called. */
  readonly building?: number | undefined;
  readonly place?: string | undefined;
  /** A record that findings name. */
  readonly record?: { readonly kind: KindName; readonly id: number } | undefined;
}

export interface Asked {
  readonly reader: Reader;
  readonly today: string;
  readonly glass: Ground["glass"];
  /** Called before each rule, and inside long ones. */
  readonly heard: (what: string, done: number, total: number) => Promise<void>;
}

type Bare = Omit<Finding, "exception" | "is_new">;

/** What the rules found, before it is held against exceptions and the last sign-off. */
export interface Found {
  readonly findings: readonly Bare[];
  /** As they are stated; null where a rule is off for want of one. */
  readonly policies: Readonly<Record<string, number | null>>;
  readonly couldNotRun: ReadonlyMap<string, string>;
}

/** Every finding of every rule, in the order of the report: what a filter shows never depends on the filter. */
export async function findAll(asked: Asked, rules: readonly Rule[] = RULES): Promise<Found> {
  const { reader, today, glass } = asked;
  const [plant] = await reader.rows<Row<"plant">>("select * from plant order by id limit 1");
  if (!plant) refuse("not_found", say`The file has no plant record.`);
  const policies = await readPolicies(reader);
  const cases: { rule: Rule; one: Case }[] = [];
  const couldNotRun = new Map<string, string>();
  const made = new Map<string, Promise<unknown>>();
  const once = <T>(name: string, make: () => Promise<T>): Promise<T> => {
    const own = (made.get(name) as Promise<T> | undefined) ?? make();
    made.set(name, own);
    return own;
  };
  for (const [index, rule] of rules.entries()) {
    const breathe = () => asked.heard(rule.title, index, rules.length);
    await breathe();
    const ground: Ground = { reader, plant, policies, today, glass, once, breathe };
    try {
      for (const one of await rule.find(ground)) cases.push({ rule, one });
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      couldNotRun.set(rule.name, error.message);
    }
  }
  await asked.heard(say`Names`, rules.length, rules.length);
  const findings = inOrder(await named(reader, cases), rules);
  return { findings, policies: await statedPolicies(reader), couldNotRun };
}

/** One finding names no more records than anyone reads; its count says how many there are. */
const MOST_RECORDS = 100;
/** Of a cause with more records than these only so many are looked up. */
const MOST_NAMED = 2_000;

async function named(reader: Reader, cases: readonly { rule: Rule; one: Case }[]): Promise<Bare[]> {
  const wanted = new Map<KindName, Set<number>>();
  for (const { one } of cases) {
    for (const [kind, id] of [...one.records.slice(0, MOST_NAMED), ...(one.key ?? [])]) {
      wanted.set(kind, (wanted.get(kind) ?? new Set()).add(id));
    }
  }
  const refs = new Map<KindName, Map<number, RecordRef>>();
  for (const [kind, ids] of wanted) {
    // A section is called by its strand alone while that is uncut.
    if (kind !== "section") refs.set(kind, await refsOf(reader, kind, ids));
    else refs.set(kind, new Map([...(await sectionWords(reader, ids))].map(([id, tag]) => [id, { kind, id, tag }])));
  }
  const refOf = (kind: KindName, id: number): RecordRef =>
    refs.get(kind)?.get(id) ?? { kind, id, tag: `${KINDS[kind].one} ${id}` };
  const provenance = await provenanceOf(
    reader,
    cases.map(({ one }) => one),
  );
  const keys = new Map<string, number>();
  const abouts = new Map<string, number>();

  return cases.map(({ rule, one }, index): Bare => {
    const refsGiven = one.records.slice(0, MOST_NAMED).map(([kind, id]) => refOf(kind, id));
    const records = one.inOrder ? refsGiven : alike(refsGiven);
    const keyed = one.key?.map(([kind, id]) => refOf(kind, id)) ?? records.slice(0, 1);
    const own = keyed
      .map(called)
      .concat(one.keyword ?? [])
      .join("; ")
      .slice(0, 380);
    // Exact repeats of one name are told apart by their order.
    const again = repeats(keys, `${rule.name} ${own}`);
    const same = keyed
      .map(({ kind, id }) => `${kind} ${id}`)
      .concat(one.keyword ?? [])
      .join("; ");
    const sameAgain = repeats(abouts, `${rule.name} ${same}`);
    const about = { ...one, records: records.map(({ kind, id }) => [kind, id] as const) };
    const { sentence, repair, act = null, caution } = rule.say(about, (kind, id) => refOf(kind, id).tag);
    const { basis, last_visit, building, hole } = provenance[index] as (typeof provenance)[number];
    const count = one.count ?? 1;
    return {
      rule: rule.name,
      family: rule.family,
      severity: rule.severity,
      key: again === 1 ? own : `${own} (${again})`,
      about: sameAgain === 1 ? same : `${same} (${sameAgain})`,
      records: records.slice(0, MOST_RECORDS),
      count,
      facts: one.facts,
      facts_digest: digestOf(
        JSON.stringify([one.held ?? inSource(one.facts), count, records.slice(0, MOST_RECORDS).map(called)]),
      ).slice(0, 32),
      sentence,
      repair,
      act,
      basis,
      last_visit,
      building,
      // Whoever is sent to look in a hole is told so.
      caution: hole && (caution || rule.family === "labels") ? withHole(caution) : (caution ?? null),
    };
  });
}

/** How often a name has come by now. */
function repeats(seen: Map<string, number>, name: string): number {
  const times = (seen.get(name) ?? 0) + 1;
  seen.set(name, times);
  return times;
}

const withHole = (caution: string | null | undefined): string =>
  [caution, caution === CAUTION.hole ? null : CAUTION.hole].filter(Boolean).join(" ");

/** "cable F-012"; a description says itself what it is. */
/** Facts with their words as the source has them: a case that was accepted stands in whatever language it is looked at. */
const inSource = (facts: Case["facts"]): unknown =>
  inEnglish()
    ? facts
    : JSON.parse(JSON.stringify(facts), (_, value) => (typeof value === "string" ? asInSource(value) : value));

function called({ kind, tag }: RecordRef): string {
  const one = asInSource(kindOf(kind).one);
  return tag.startsWith(one) || kindOf(kind).address === null ? tag : `${one} ${tag}`;
}

/** Neighbours of one kind in the order of their tags, so that nothing depends on the order of ids. */
function alike(records: readonly RecordRef[]): RecordRef[] {
  const runs: RecordRef[][] = [];
  for (const ref of records) {
    const run = runs.at(-1);
    if (run?.[0]?.kind === ref.kind) run.push(ref);
    else runs.push([ref]);
  }
  return runs.flatMap((run) => (run.length < 2 ? run : byName(run, ({ tag }) => tag)));
}

/** Sorted as people sort tags. */
function byName<T>(items: readonly T[], nameOf: (item: T) => string): T[] {
  return items
    .map((item) => ({ item, name: nameOf(item), key: naturalKey(nameOf(item)) }))
    .sort((a, b) => compare(a.key, b.key) || compare(a.name, b.name))
    .map(({ item }) => item);
}

const compare = (a: string | number, b: string | number): number => (a < b ? -1 : a > b ? 1 : 0);

function inOrder(findings: readonly Bare[], rules: readonly Rule[]): Bare[] {
  const order = new Map(rules.map((rule, index) => [rule.name, index]));
  const rank = ({ severity, rule }: Bare): number => SEVERITIES.indexOf(severity) * 1000 + (order.get(rule) as number);
  return byName(findings, ({ key }) => key).sort((a, b) => rank(a) - rank(b));
}

/** The report as it stands today. */
export async function reportOf(reader: Reader, today: string, found: Found): Promise<CheckAnswer> {
  const exceptions = await Exceptions.read(reader, today, found.findings);
  const last = await LastSignOff.read(reader);
  const findings = found.findings.map((bare): Finding => {
    const one = { ...bare, exception: exceptions.of(bare) };
    return { ...one, is_new: last.isNew(one) };
  });
  const counts = new Map<string, number>();
  for (const { rule } of findings) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return {
    ...summed(findings, last.signed),
    rules: RULES.map(({ name, family, severity, title, why, source }) => ({
      name,
      family,
      severity,
      title,
      why,
      source,
      found: counts.get(name) ?? 0,
      could_not_run: found.couldNotRun.get(name) ?? null,
    })),
    rules_version: RULES_VERSION,
    content_hash: (await lastContent(reader))?.hash ?? "",
    policies: found.policies,
    part: null,
  };
}

type Summed = Pick<CheckAnswer, "findings" | "counts" | "accepted" | "new_since" | "passes" | "sentence">;

function summed(
  findings: readonly Finding[],
  signed: { readonly signed_on: string; readonly signed_by: string } | null,
): Summed {
  const open = findings.filter((finding) => !finding.exception?.holds);
  const counts = Object.fromEntries(
    SEVERITIES.map((severity) => [severity, open.filter((finding) => finding.severity === severity).length]),
  ) as Record<Severity, number>;
  const accepted = findings.length - open.length;
  return {
    findings,
    counts,
    accepted,
    new_since: signed && {
      signed_on: signed.signed_on,
      signed_by: signed.signed_by,
      count: open.filter((finding) => finding.is_new).length,
    },
    passes: counts.hazard === 0 && counts.error === 0,
    sentence: sentenceOf(counts, accepted),
  };
}

/** Counts in words: "The record does not agree: 212 findings, 3 hazards, 33 errors, …". */
function sentenceOf(counts: Readonly<Record<Severity, number>>, accepted: number): string {
  const total = SEVERITIES.reduce((sum, severity) => sum + counts[severity], 0);
  const parts = SEVERITIES.filter((severity) => counts[severity] > 0).map((severity) =>
    SEVERITY_COUNTED[severity](counts[severity]),
  );
  const tail = accepted > 0 ? say` ${counted(accepted, "finding")} accepted.` : "";
  if (total === 0) return say`Nothing is found.${tail}`;
  const found = [counted(total, "finding"), ...parts].join(", ");
  const verdict =
    counts.hazard + counts.error > 0 ? say`The record does not agree: ${found}.` : say`The record agrees: ${found}.`;
  return `${verdict}${tail}`;
}

const SEVERITY_COUNTED: Readonly<Record<Severity, (n: number) => string>> = {
  hazard: (n) => counted(n, "hazard"),
  error: (n) => counted(n, "error"),
  warning: (n) => counted(n, "warning"),
  gap: (n) => counted(n, "gap"),
  advice: (n) => say`${n} advice`,
};

/** The part of a report that was asked for; the counts are of that part. */
export function part(report: CheckAnswer, wanted: Wanted): CheckAnswer {
  const { families, rules, severities, building, record } = wanted;
  const findings = report.findings.filter(
    (finding) =>
      (families?.includes(finding.family) ?? true) &&
      (rules?.includes(finding.rule) ?? true) &&
      (severities?.includes(finding.severity) ?? true) &&
      (building === undefined || finding.building?.id === building) &&
      (record === undefined || finding.records.some(({ kind, id }) => kind === record.kind && id === record.id)),
  );
  const asked = wordsOf(wanted);
  if (asked === null) return report;
  const own = summed(findings, report.new_since);
  const counts = SEVERITIES.flatMap((severity) =>
    own.counts[severity] > 0 ? [SEVERITY_COUNTED[severity](own.counts[severity])] : [],
  );
  const accepted = own.accepted > 0 ? say` ${counted(own.accepted, "finding")} accepted.` : "";
  const sentence = say`Only ${asked}: ${counts.join(", ") || say`nothing is found`}.${accepted} This says nothing of the rest.`;
  return { ...report, ...own, part: asked, sentence };
}

/** What a part was asked by, in words; null where the whole was asked for. */
function wordsOf({ families, rules, severities, building, record, place }: Wanted): string | null {
  const words = [
    families && plural(families.length, "the family {1}", "the families {1}", families.join(", ")),
    rules && plural(rules.length, "the rule {1}", "the rules {1}", rules.join(", ")),
    severities && say`the severity ${severities.join(", ")}`,
    building === undefined ? undefined : say`the building ${place ?? building}`,
    record && say`one ${kindOf(record.kind).one}`,
  ].filter((one) => one !== undefined);
  return words.length === 0 ? null : listed(words);
}
