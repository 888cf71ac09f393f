/** The consistency report as one page that stands by itself and prints: no script, nothing loaded from elsewhere. */

import { basisWords, shownDay } from "../model/wording.ts";
import { spokenCode } from "../words/language.ts";
import { say } from "../words/say.ts";
import { FAMILIES, type Finding, SEVERITIES, SEVERITY_NAMES } from "./finding.ts";
import { type Paper, printed, standing } from "./paper-csv.ts";

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};
const escaped = (text: string): string => text.replace(/[&<>"']/g, (character) => ESCAPES[character] as string);
/** A sentence with its tags set apart; what stands between backquotes is a tag. */
const worded = (sentence: string): string => escaped(sentence).replace(/`([^`]*)`/g, "<code>$1</code>");

const STYLE = `
:root { color-scheme: light; }
body { font: 10.5pt/1.45 system-ui, sans-serif; color: #111; background: #fff; margin: 2rem auto; max-width: 60rem; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin: 0 0 .25rem; }
h2 { font-size: 1.1rem; margin: 1.75rem 0 .5rem; border-bottom: 1px solid #777; }
code { font-family: ui-monospace, monospace; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem .35rem 0; border-bottom: 1px solid #ccc; overflow-wrap: anywhere; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .1rem 1rem; }
dd { margin: 0; overflow-wrap: anywhere; }
.caution { border-left: 3px solid #111; padding-left: .5rem; }
.quiet { color: #555; }
td:first-child, th:first-child { width: 14rem; }
td p { margin: .2rem 0 0; }
tr { break-inside: avoid; }
thead { display: table-header-group; }
@media print { body { margin: 0; max-width: none; } h2 { break-after: avoid; } }
`;

const heads = (...words: readonly string[]): string =>
  words.map((word) => `<th scope="col">${escaped(word)}</th>`).join("");

function line(finding: Finding): string {
  const { severity, rule, sentence, repair, caution, exception, basis, last_visit, building } = finding;
  const known = [
    building && say`building ${building.tag}`,
    basis.length > 0 && say`known by: ${basisWords(basis)}`,
    last_visit && say`last visit ${shownDay(last_visit)}`,
  ].filter(Boolean);
  const accepted =
    exception &&
    say`${standing(finding)}. ${exception.accepted_by} on ${shownDay(exception.accepted_on)}: ${exception.reason}${
      exception.review_on ? say` (look again on ${shownDay(exception.review_on)})` : ""
    }`;
  return `<tr><td>${escaped(SEVERITY_NAMES[severity])}<p class="quiet">${escaped(rule)}</p></td><td>${worded(sentence)}${
    repair ? `<p>${worded(repair)}</p>` : ""
  }${caution ? `<p class="caution">${escaped(caution)}</p>` : ""}${
    accepted ? `<p class="quiet">${escaped(accepted)}</p>` : ""
  }${known.length > 0 ? `<p class="quiet">${escaped(known.join("; "))}</p>` : ""}</td></tr>`;
}

function section(title: string, findings: readonly Finding[]): string {
  if (findings.length === 0) return "";
  return `<section><h2>${escaped(title)} (${findings.length})</h2><table><thead><tr>${heads(say`Severity`, say`Finding`)}</tr></thead><tbody>${findings
    .map(line)
    .join("\n")}</tbody></table></section>`;
}

export function htmlReport({ plant, day, report }: Paper): string {
  const findings = printed(report.findings);
  const accepted = findings.filter(({ exception }) => exception?.holds);
  const open = findings.filter(({ exception }) => !exception?.holds);
  const fresh = open.filter(({ is_new }) => is_new);
  const known = open.filter(({ is_new }) => !is_new);
  const { new_since } = report;
  const facts = [
    [say`Plant`, plant],
    [say`Day`, shownDay(day)],
    ...(report.part === null ? [] : [[say`Only`, report.part]]),
    [
      report.part === null ? say`Verdict` : say`Verdict on this part`,
      report.passes ? say`passes` : say`fails: a hazard or an error is open`,
    ],
    [say`Counted`, SEVERITIES.map((severity) => `${SEVERITY_NAMES[severity]} ${report.counts[severity]}`).join(", ")],
    [say`Accepted`, String(report.accepted)],
    [say`Last sign-off`, new_since ? say`${shownDay(new_since.signed_on)} by ${new_since.signed_by}` : say`none`],
    [say`Content hash`, report.content_hash],
    [say`Rules version`, report.rules_version],
    ...Object.entries(report.policies).map(([name, value]) => [say`Policy ${name}`, String(value ?? say`not set`)]),
  ];
  const unfinished = report.rules.filter(({ could_not_run }) => could_not_run !== null);
  return `<!doctype html>
<html lang="${spokenCode()}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(say`Consistency report of ${plant}, ${shownDay(day)}`)}</title><style>${STYLE}</style></head><body><main>
<h1>${escaped(say`Consistency report of ${plant}`)}</h1><p>${escaped(report.sentence)}</p>
<dl>${facts.map(([name, value]) => `<dt>${escaped(name as string)}</dt><dd>${escaped(value as string)}</dd>`).join("")}</dl>
${new_since ? section(say`New since ${shownDay(new_since.signed_on)}`, fresh) : ""}
${section(new_since ? say`Known at the last sign-off` : say`Found`, known)}
${section(say`Accepted`, accepted)}
<section><h2>${escaped(say`Rules`)}</h2>${unfinished.map(({ name, could_not_run }) => `<p>${escaped(say`${name} could not run: ${could_not_run}`)}</p>`).join("")}
<table><thead><tr>${heads(say`Rule`, say`Found in all`, say`Why, and from where`)}</tr></thead><tbody>${report.rules
    .map(
      ({ name, family, severity, title, why, source, found }) =>
        `<tr><td>${escaped(title)}<br><span class="quiet">${escaped(name)}, ${escaped(FAMILIES[family])}, ${escaped(SEVERITY_NAMES[severity])}</span></td><td>${found}</td><td>${escaped(why)} <span class="quiet">${escaped(source)}.</span></td></tr>`,
    )
    .join("\n")}</tbody></table></section>
</main></body></html>
`;
}
