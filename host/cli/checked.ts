/** The consistency report as text: worst first, each finding with its rule, sentence and repair. */
import { type CheckAnswer, type Finding, SEVERITIES, SEVERITY_NAMES } from "../../core/check/finding.ts";
import { say } from "../../core/words/say.ts";
import { facts, spoken, table, wrap } from "./print.ts";

export function checkText(answer: CheckAnswer, width: number): string {
  const open = answer.findings.filter((finding) => !finding.exception?.holds);
  const listed = SEVERITIES.flatMap((severity) => open.filter((finding) => finding.severity === severity));
  const columns = [
    { head: say`severity`, cell: (finding: Finding) => SEVERITY_NAMES[finding.severity] },
    { head: say`rule`, cell: (finding: Finding) => finding.rule },
    { head: say`new`, cell: (finding: Finding) => (finding.is_new && answer.new_since ? say`new` : "") },
    { head: say`count`, cell: (finding: Finding) => (finding.count === 1 ? null : finding.count), right: true },
    {
      head: say`finding`,
      cell: (finding: Finding) =>
        spoken(
          [finding.sentence, finding.repair, finding.caution && say`Caution: ${finding.caution}`]
            .filter(Boolean)
            .join(" "),
        ),
    },
  ];
  const unfinished = answer.rules.filter((rule) => rule.could_not_run !== null);
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n\n`,
    listed.length > 0 ? `${table(listed, columns, width)}\n` : "",
    ...unfinished.map((rule) => say`${rule.name} could not run: ${spoken(rule.could_not_run ?? "")}\n`),
    facts(
      [
        ...SEVERITIES.map((severity) => [SEVERITY_NAMES[severity], answer.counts[severity]] as const),
        [say`accepted`, answer.accepted],
        [say`rules`, answer.rules_version],
        [say`content`, answer.content_hash],
      ],
      width,
    ),
    `${verdict(answer)}\n`,
  ].join("");
}

function verdict({ part, passes }: CheckAnswer): string {
  if (part === null) return passes ? say`The report passes.` : say`The report fails: a hazard or an error is open.`;
  return passes
    ? say`This part of the report passes.`
    : say`This part of the report fails: a hazard or an error is open.`;
}
