/** The blank that says by which rules: all, one family, or one rule. */
import { useMemo } from "react";
import { FAMILIES, type Family } from "../../../core/check/finding.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { type Choice, ChoicePicker } from "../../controls/choice-picker.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import type { PickerProps } from "../view.ts";
import { byWords } from "./rules.ts";

export const ruleWords = byWords;

export function RulePicker({ value, typed, choose, leave }: PickerProps) {
  const { value: known } = useAnswer("check.rules", {}, { kinds: [] });
  const options = useMemo(() => {
    const rules = known?.rules ?? [];
    const all: Choice[] = [{ key: "", value: "", words: say`every rule`, show: say`every rule` }];
    for (const family of Object.keys(FAMILIES) as Family[]) {
      const own = rules.filter((rule) => rule.family === family);
      if (own.length === 0) continue;
      const words = say`the rules of ${FAMILIES[family]}`;
      all.push({ key: family, value: family, words, show: <b>{words}</b>, group: FAMILIES[family] });
      for (const rule of own)
        all.push({
          key: rule.name,
          value: rule.name,
          words: rule.title,
          group: FAMILIES[family],
          show: (
            <span className="rule-option">
              <FindingMark shape={rule.severity} />
              <span className={rule.name === value ? "strong" : ""}>{rule.title}</span>
            </span>
          ),
        });
    }
    return all;
  }, [known, value]);
  return (
    <ChoicePicker
      label={say`By which rules`}
      typed={typed}
      choose={choose}
      leave={leave}
      options={options}
      nothing={say`No rule has this in its name.`}
    />
  );
}
