/** The consistency report on paper: findings by severity, what was accepted and by whom, and what the report rests on. */
import { counted } from "../act/numbering.ts";
import {
  type CheckAnswer,
  FAMILIES,
  type Finding,
  type RuleDescription,
  SEVERITIES,
  type Severity,
} from "../check/finding.ts";
import { printed, standing } from "../check/paper-csv.ts";
import { shownDay } from "../model/wording.ts";
import type { Block, Cell, Document, TitleBlock } from "../paper/document.ts";
import { few, knownBy, plain } from "./in-words.ts";

const HEADS: Readonly<Record<Severity, string>> = {
  hazard: "Hazards: somebody may be hurt",
  error: "Errors: two records can't both be true",
  warning: "Warnings",
  gap: "Gaps: not known, or not looked at",
  advice: "Advice",
};

export function reportDocument(report: CheckAnswer, title: TitleBlock): Document {
  const { new_since, rules, policies } = report;
  const findings = printed(report.findings);
  const open = findings.filter(({ exception }) => !exception?.holds);
  const accepted = findings.filter(({ exception }) => exception?.holds);
  const byName = new Map(rules.map((rule) => [rule.name, rule]));
  return {
    paper: "document",
    lying: true,
    title,
    blocks: [
      { is: "paragraph", text: plain(report.sentence) },
      {
        is: "values",
        rows: [
          ...(report.part === null ? [] : [{ word: "Only", value: report.part }]),
          {
            word: report.part === null ? "Verdict" : "Verdict on this part",
            value: report.passes ? "passes" : "fails: a hazard or an error is open",
          },
          { word: "Open", value: SEVERITIES.map((one) => `${one} ${report.counts[one]}`).join(", ") },
          { word: "Accepted", value: String(report.accepted) },
          {
            word: "Last sign-off",
            value: new_since
              ? `${shownDay(new_since.signed_on)} by ${new_since.signed_by}; new since then: ${new_since.count}`
              : "none",
          },
          { word: "Content hash", value: report.content_hash },
          { word: "Version of the rules", value: report.rules_version },
        ],
      },
      ...SEVERITIES.flatMap((severity) => severityBlocks(severity, open, byName)),
      ...acceptedBlocks(accepted),
      { is: "heading", level: 1, text: "What the report rests on" },
      {
        is: "table",
        caption: "Policies of the plant that rules use",
        columns: [
          { head: "Policy", weight: 3 },
          { head: "Value", weight: 2 },
        ],
        rows: Object.entries(policies).map(([name, value]): Cell[] => [
          name,
          value === null ? "not set: the rules that need it are off" : String(value),
        ]),
        none: "No rule uses one.",
      },
      {
        is: "table",
        caption: "Rules, with how many findings each made before anything was accepted",
        columns: [
          { head: "Rule", weight: 2.4 },
          { head: "Severity", weight: 1 },
          { head: "Found", numeric: true, weight: 0.8 },
          { head: "Why it matters", weight: 4.5 },
          { head: "Source", weight: 3 },
        ],
        rows: rules.map((rule): Cell[] => [
          [rule.title, `${rule.name}, ${FAMILIES[rule.family]}`],
          rule.severity,
          rule.could_not_run === null ? String(rule.found) : "",
          rule.could_not_run === null ? rule.why : [rule.why, `Could not run: ${rule.could_not_run}`],
          rule.source,
        ]),
      },
      { is: "sign", roles: ["Looked through by"] },
    ],
  };
}

function severityBlocks(
  severity: Severity,
  open: readonly Finding[],
  rules: ReadonlyMap<string, RuleDescription>,
): Block[] {
  const own = open.filter((finding) => finding.severity === severity);
  if (own.length === 0) return [];
  return [
    { is: "heading", level: 1, text: `${HEADS[severity]} (${own.length})` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: "Done", weight: 0.7 },
        { head: "Finding", weight: 5 },
        { head: "Records", weight: 2.4 },
        { head: "Facts", weight: 2.6 },
        { head: "What would repair it", weight: 2.8 },
        { head: "Reason, source", weight: 3.2 },
      ],
      rows: own.map((finding): Cell[] => [
        { tick: false },
        [
          finding.is_new ? `New: ${plain(finding.sentence)}` : plain(finding.sentence),
          ...(finding.exception ? [standing(finding)] : []),
          ...(finding.caution ? [`⚠ ${finding.caution}`] : []),
          knownBy(finding.basis, finding.last_visit),
        ],
        recordWords(finding),
        factWords(finding.facts),
        finding.repair === null ? "" : plain(finding.repair),
        reasonWords(finding.rule, rules.get(finding.rule)),
      ]),
    },
  ];
}

const reasonWords = (name: string, rule: RuleDescription | undefined): string[] =>
  rule ? [`${rule.title} (${name})`, rule.why, rule.source] : [name];

const recordWords = ({ records, count }: Finding): string[] => [
  few(
    records.map(({ tag }) => tag),
    8,
  ),
  ...(count > 1 ? [counted(count, "case")] : []),
];

const MOST_FACTS = 6;

/** What the finding rests on; an unknown fact says so. */
function factWords(facts: Finding["facts"]): string[] {
  const all = Object.entries(facts).map(([name, value]) => `${name.replaceAll("_", " ")}: ${valueWords(value)}`);
  return all.length > MOST_FACTS ? [...all.slice(0, MOST_FACTS), `and ${all.length - MOST_FACTS} more`] : all;
}

function valueWords(value: unknown): string {
  if (value === null || value === undefined) return "not known";
  if (Array.isArray(value)) return few(value.map(valueWords), 8) || "none";
  if (typeof value !== "object") return String(value);
  const parts = Object.entries(value).map(([name, own]) => `${name.replaceAll("_", " ")} ${valueWords(own)}`);
  return parts.join(", ") || "none";
}

function acceptedBlocks(accepted: readonly Finding[]): Block[] {
  return [
    { is: "heading", level: 1, text: `Accepted (${accepted.length})` },
    {
      is: "table",
      caption: "Findings that somebody accepted; each comes back when its facts change",
      columns: [
        { head: "Finding", weight: 5 },
        { head: "Severity", weight: 1 },
        { head: "Reason", weight: 3 },
        { head: "By", weight: 1.6 },
        { head: "On", weight: 1.2 },
        { head: "Look again", weight: 1.4 },
      ],
      rows: accepted.map(({ sentence, severity, exception }): Cell[] => [
        plain(sentence),
        severity,
        exception?.reason ?? null,
        exception?.accepted_by ?? null,
        exception ? shownDay(exception.accepted_on) : null,
        exception?.review_on ? `${shownDay(exception.review_on)}${exception.review_due ? ": due" : ""}` : "no day set",
      ]),
      none: "Nothing is accepted.",
    },
  ];
}
