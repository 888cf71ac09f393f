/** Rules down, the cable's course across: where each rule was asked, and what came of it. */
import type { FitnessVerdict } from "../../../core/fitness/answer.ts";
import type { CableAnswer } from "../../../core/trace/cable-answer.ts";
import { say } from "../../../core/words/say.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { keyOf, VerdictMark } from "./verdicts.tsx";
import { matrixOf } from "./where.ts";
import { RULE_WORDS, VERDICT_WORDS } from "./words.ts";

export interface MatrixProps {
  readonly verdicts: readonly FitnessVerdict[];
  readonly sheet: CableAnswer;
  readonly selected: FitnessVerdict | null;
  readonly onSelect: (key: string) => void;
}

export function Matrix({ verdicts, sheet, selected, onSelect }: MatrixProps) {
  const { spots, rules, cell } = matrixOf(verdicts, sheet);
  const chosen = selected ? keyOf(selected) : null;
  return (
    <table className="fitness-matrix" aria-label={say`Where ${sheet.cable.tag} was held against what`}>
      <thead>
        <tr>
          <td />
          {spots.map((spot) => (
            <th key={spot.key} scope="col" className={`spot-${spot.what}`}>
              {spot.record ? <TagLink record={spot.record} words={spot.words} /> : spot.words}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rules.map((rule) => (
          <tr key={rule}>
            <th scope="row">{RULE_WORDS[rule]}</th>
            {spots.map((spot) => {
              const found = cell(rule, spot);
              const key = found ? keyOf(found.one) : undefined;
              return (
                <td
                  key={spot.key}
                  className={[`spot-${spot.what}`, key !== undefined && key === chosen ? "chosen" : ""].join(" ")}
                >
                  {found && key !== undefined ? (
                    // The rows below are walked with the arrows; here a pointer may choose.
                    <button
                      type="button"
                      tabIndex={-1}
                      aria-label={VERDICT_WORDS[found.verdict]}
                      title={found.one.fact.replaceAll("`", "")}
                      onClick={() => onSelect(key)}
                    >
                      <VerdictMark rule={rule} verdict={found.verdict} />
                    </button>
                  ) : null}
                </td>
              );
            })}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
