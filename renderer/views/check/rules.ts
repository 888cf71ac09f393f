/** Rules as the window knows them, and which of their findings are asked for. */
import { FAMILIES, type Family, type Finding, SEVERITIES, type Severity } from "../../../core/check/finding.ts";
import type { KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";

export type Report = AnswerOf<"check.run">;
export type Rule = Report["rules"][number];

/** Titles of rules by name, once a report has told them. */
const titles = new Map<string, string>();

export function noteRules(rules: readonly Pick<Rule, "name" | "title">[]): void {
  for (const { name, title } of rules) titles.set(name, title);
}

const isFamily = (text: string): text is Family => Object.hasOwn(FAMILIES, text);

/** What the blank says: a family, a rule, or that rule's name until its title is known. */
export const byWords = (by: string): string =>
  isFamily(by) ? say`the rules of ${FAMILIES[by]}` : (titles.get(by)?.toLowerCase() ?? by);

/** `error`, `accepted`, or nothing. */
export type Only = Severity | "accepted" | null;

export const readOnly = (text: string | undefined): Only =>
  text === "accepted" || SEVERITIES.includes(text as Severity) ? (text as Only) : null;

const holds = (finding: Finding): boolean => finding.exception?.holds ?? false;

/** Whether a finding belongs to what is asked. What was accepted stays listed with its rule. */
export function isAsked(finding: Finding, by: string, only: Only): boolean {
  if (by && !(isFamily(by) ? finding.family === by : finding.rule === by)) return false;
  if (only === "accepted") return holds(finding);
  return only === null || (finding.severity === only && !holds(finding));
}

export interface RuleGroup {
  readonly rule: Rule;
  readonly findings: readonly Finding[];
}

/**
 * Findings by rule, as the report orders them: worst first. Newest first puts rules with something new before the others,
 * and in each rule what is new before what was there at the last sign-off. What was accepted comes last in its rule.
 */
export function groupsOf(report: Report, by: string, only: Only, newFirst: boolean): RuleGroup[] {
  const byRule = Map.groupBy(
    report.findings.filter((finding) => isAsked(finding, by, only)),
    (finding) => finding.rule,
  );
  const rank = (finding: Finding): number => (holds(finding) ? 2 : newFirst && !finding.is_new ? 1 : 0);
  const groups = report.rules
    .flatMap((rule): RuleGroup[] => {
      const findings = byRule.get(rule.name);
      return findings ? [{ rule, findings: findings.toSorted((one, other) => rank(one) - rank(other)) }] : [];
    })
    .toSorted((one, other) => worst(one) - worst(other));
  if (!newFirst) return groups;
  const hasNew = (group: RuleGroup): number => (group.findings.some((one) => one.is_new && !holds(one)) ? 0 : 1);
  return groups.toSorted((one, other) => hasNew(one) - hasNew(other));
}

const worst = (group: RuleGroup): number =>
  Math.min(...group.findings.map((finding) => SEVERITIES.indexOf(finding.severity)));

/** How many cases of a kind the report has open, for the index of kinds: the worst of them, and how many. */
export function openByKind(report: Report): Map<KindName, { severity: Severity; count: number }> {
  const found = new Map<KindName, { severity: Severity; count: number }>();
  for (const finding of report.findings) {
    const kind = finding.records[0]?.kind;
    if (!kind || holds(finding)) continue;
    const before = found.get(kind);
    const severity =
      before && SEVERITIES.indexOf(before.severity) <= SEVERITIES.indexOf(finding.severity)
        ? before.severity
        : finding.severity;
    found.set(kind, { severity, count: (before?.count ?? 0) + 1 });
  }
  return found;
}
