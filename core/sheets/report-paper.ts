/** The consistency report on paper: findings by severity, what was accepted and by whom, and what the report rests on. */

import { factWords } from "../check/fact-words.ts";
import {
  type CheckAnswer,
  FAMILIES,
  type Finding,
  type RuleDescription,
  SEVERITIES,
  SEVERITY_NAMES,
  type Severity,
} from "../check/finding.ts";
import { printed, standing } from "../check/paper-csv.ts";
import { shownDay } from "../model/wording.ts";
import type { Band, Block, Cell, Document, TitleBlock } from "../paper/document.ts";
import { counted } from "../words/counted.ts";
import { formatNumber } from "../words/number.ts";
import { say } from "../words/say.ts";
import { few, knownBy, plain } from "./in-words.ts";

const HEADS: Readonly<Record<Severity, string>> = {
  hazard: say`Hazards: somebody may be hurt`,
  error: say`Errors: two records can't both be true`,
  warning: say`Warnings`,
  gap: say`Gaps: not known, or not looked at`,
  advice: say`Advice`,
};

export function reportDocument(report: CheckAnswer, title: TitleBlock): Document {
  const { new_since, rules, policies } = report;
  const findings = printed(report.findings);
  const open = findings.filter(({ exception }) => !exception?.holds);
  const accepted = findings.filter(({ exception }) => exception?.holds);
  const byName = new Map(rules.map((rule) => [rule.name, rule]));
  const told = new Set(open.map(({ rule }) => rule));
  return {
    paper: "document",
    lying: true,
    title,
    blocks: [
      { is: "paragraph", text: plain(report.sentence) },
      {
        is: "values",
        rows: [
          ...(report.part === null ? [] : [{ word: say`Only`, value: report.part }]),
          {
            word: report.part === null ? say`Verdict` : say`Verdict on this part`,
            value: report.passes ? say`passes` : say`fails: a hazard or an error is open`,
          },
          {
            word: say`Open`,
            value: SEVERITIES.map((one) => `${SEVERITY_NAMES[one]} ${report.counts[one]}`).join(", "),
          },
          { word: say`Accepted`, value: formatNumber(report.accepted) },
          {
            word: say`Last sign-off`,
            value: new_since
              ? say`${shownDay(new_since.signed_on)} by ${new_since.signed_by}; new since then: ${formatNumber(new_since.count)}`
              : say`none`,
          },
          { word: say`Content hash`, value: report.content_hash },
          { word: say`Version of the rules`, value: report.rules_version },
        ],
      },
      ...SEVERITIES.flatMap((severity) => severityBlocks(severity, open, byName)),
      ...acceptedBlocks(accepted),
      { is: "heading", level: 1, text: say`What the report rests on` },
      {
        is: "table",
        caption: say`Policies of the plant that rules use`,
        columns: [
          { head: say`Policy`, weight: 3 },
          { head: say`Value`, weight: 2 },
        ],
        rows: Object.entries(policies).map(([name, value]): Cell[] => [
          name,
          value === null ? say`not set: the rules that need it are off` : String(value),
        ]),
        none: say`No rule uses one.`,
      },
      {
        is: "table",
        caption: say`Rules, with how many findings each made before anything was accepted`,
        columns: [
          { head: say`Rule`, weight: 4.4 },
          { head: say`Severity`, weight: 0.9 },
          { head: say`Found`, numeric: true, weight: 0.7 },
          { head: say`Why it matters`, weight: 4 },
          { head: say`Source`, weight: 2 },
        ],
        rows: rules.map((rule): Cell[] => [
          `${rule.title} (${rule.name}, ${FAMILIES[rule.family]})`,
          SEVERITY_NAMES[rule.severity],
          rule.could_not_run === null ? formatNumber(rule.found) : "",
          ...whyCells(rule, told.has(rule.name)),
        ]),
      },
      { is: "sign", roles: [say`Looked through by`] },
    ],
  };
}

function whyCells({ why, source, could_not_run }: CheckAnswer["rules"][number], told: boolean): Cell[] {
  if (could_not_run !== null) return [[why, say`Could not run: ${could_not_run}`], source];
  return told ? [say`said above its findings`, ""] : [why, source];
}

/** Findings of one rule stand together, and what holds for all of them is said once above them. */
function severityBlocks(
  severity: Severity,
  open: readonly Finding[],
  rules: ReadonlyMap<string, RuleDescription>,
): Block[] {
  const own = open.filter((finding) => finding.severity === severity);
  if (own.length === 0) return [];
  const bands: Band[] = [];
  const rows: Cell[][] = [];
  for (const [name, findings] of Map.groupBy(own, ({ rule }) => rule)) {
    const shared = sharedBy(findings);
    bands.push({ at: rows.length, ...bandOf(name, rules.get(name), findings.length, shared) });
    rows.push(...findings.map((finding) => findingRow(finding, shared)));
  }
  return [
    { is: "heading", level: 1, text: `${HEADS[severity]} (${formatNumber(own.length)})` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: say`Done`, weight: 0.6 },
        { head: say`Finding`, weight: 6 },
        { head: say`Records`, weight: 3.4 },
        { head: say`Facts`, weight: 4 },
        { head: say`Known by`, weight: 1.8 },
      ],
      rows,
      bands,
    },
  ];
}

type Shared = Readonly<Pick<Finding, "repair" | "caution">>;

/** What would repair them and what endangers whoever does, where all findings of a rule say the same. */
function sharedBy(findings: readonly Finding[]): Shared {
  const one = (field: "repair" | "caution"): string | null =>
    findings.every((finding) => finding[field] === findings[0]?.[field]) ? (findings[0]?.[field] ?? null) : null;
  return { repair: one("repair"), caution: one("caution") };
}

function bandOf(name: string, rule: RuleDescription | undefined, count: number, shared: Shared): Omit<Band, "at"> {
  const words = [
    ...(rule ? [`${rule.why} ${rule.source}.`] : []),
    ...(shared.repair === null ? [] : [repairWords(shared.repair)]),
  ].join(" ");
  const text = [words, shared.caution === null ? "" : `⚠ ${shared.caution}`].filter(Boolean);
  return { title: `${rule ? `${rule.title} (${name})` : name}: ${counted(count, "finding")}`, text };
}

const repairWords = (repair: string): string => say`What would repair it: ${plain(repair)}`;

const findingRow = (finding: Finding, shared: Shared): Cell[] => [
  { tick: false },
  [
    finding.is_new ? say`New: ${plain(finding.sentence)}` : plain(finding.sentence),
    ...(finding.exception ? [standing(finding)] : []),
    ...(finding.repair === null || shared.repair !== null ? [] : [repairWords(finding.repair)]),
    ...(finding.caution === null || shared.caution !== null ? [] : [`⚠ ${finding.caution}`]),
  ],
  recordWords(finding),
  factWords(finding.facts),
  knownBy(finding.basis, finding.last_visit),
];

const recordWords = ({ records, count }: Finding): string[] => [
  few(
    records.map(({ tag }) => tag),
    8,
  ),
  ...(count > 1 ? [counted(count, "case")] : []),
];

function acceptedBlocks(accepted: readonly Finding[]): Block[] {
  return [
    { is: "heading", level: 1, text: say`Accepted (${formatNumber(accepted.length)})` },
    {
      is: "table",
      caption: say`Findings that somebody accepted; each comes back when its facts change`,
      columns: [
        { head: say`Finding`, weight: 5 },
        { head: say`Severity`, weight: 1 },
        { head: say`Reason`, weight: 3 },
        { head: say`By`, weight: 1.6 },
        { head: say`On`, weight: 1.2 },
        { head: say`Look again`, weight: 1.4 },
      ],
      rows: accepted.map(({ sentence, severity, exception }): Cell[] => [
        plain(sentence),
        SEVERITY_NAMES[severity],
        exception?.reason ?? null,
        exception?.accepted_by ?? null,
        exception ? shownDay(exception.accepted_on) : null,
        exception?.review_on
          ? exception.review_due
            ? say`${shownDay(exception.review_on)}: due`
            : shownDay(exception.review_on)
          : say`no day set`,
      ]),
      none: say`Nothing is accepted.`,
    },
  ];
}
