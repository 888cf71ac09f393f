/** Rules by family, with how much each found; one chosen shows its findings alone. */

import { FAMILIES, type Family } from "../../../core/check/finding.ts";
import { plural } from "../../../core/words/counted.ts";
import { capital } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import type { Report, Rule } from "./rules.ts";

interface Props {
  readonly report: Report;
  readonly by: string;
  readonly values: Readonly<Record<string, string>>;
}

/** The longest bar, in pixels; bars grow with the square root, so that one beside a hundred is still seen. */
const LONGEST = 42;

export function RuleList({ report, by, values }: Props) {
  const most = Math.max(1, ...report.rules.map((rule) => rule.found));
  return (
    <nav className="rule-list" aria-label={say`Rules`}>
      {(Object.keys(FAMILIES) as Family[]).map((family) => {
        const rules = report.rules.filter((rule) => rule.family === family);
        if (rules.length === 0) return null;
        const sum = rules.reduce((total, rule) => total + rule.found, 0);
        return (
          <section key={family}>
            <a
              className="rule-family"
              href={addressOf("check", { ...values, by: by === family ? "" : family })}
              {...(by === family ? { "aria-current": "true" } : {})}
            >
              <b>{capital(FAMILIES[family])}</b>
              <b>{count(sum)}</b>
            </a>
            <RuleItems rules={rules.filter((rule) => isLoud(rule, by))} {...{ by, values, most }} />
            <Quiet rules={rules.filter((rule) => !isLoud(rule, by))} {...{ by, values, most }} />
          </section>
        );
      })}
    </nav>
  );
}

/** Found something, could not run, or is the one asked for. */
const isLoud = (rule: Rule, by: string): boolean => rule.found > 0 || rule.could_not_run !== null || rule.name === by;

interface ItemsProps {
  readonly rules: readonly Rule[];
  readonly by: string;
  readonly values: Readonly<Record<string, string>>;
  readonly most: number;
}

function RuleItems({ rules, by, values, most }: ItemsProps) {
  return (
    <ul>
      {rules.map((rule) => (
        <li key={rule.name}>
          <a
            className={rule.found === 0 ? "rule none" : "rule"}
            href={addressOf("check", { ...values, by: by === rule.name ? "" : rule.name })}
            title={rule.could_not_run ?? rule.why}
            {...(by === rule.name ? { "aria-current": "true" } : {})}
          >
            <FindingMark shape={rule.severity} />
            <span className="rule-title">{rule.title}</span>
            {rule.found > 0 ? (
              <span className="rule-bar" aria-hidden="true">
                <span style={{ width: Math.max(3, LONGEST * Math.sqrt(rule.found / most)) }} />
              </span>
            ) : null}
            <span className="rule-count">
              {rule.could_not_run ? say`could not run` : rule.found === 0 ? say`none` : count(rule.found)}
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

/** Rules that found nothing, folded away: that they ran is worth knowing, not worth a screen. */
function Quiet(props: ItemsProps) {
  const { rules } = props;
  if (rules.length === 0) return null;
  return (
    <details className="rule-quiet">
      <summary>{plural(rules.length, "{0} rule found nothing", "{0} rules found nothing")}</summary>
      <RuleItems {...props} />
    </details>
  );
}
