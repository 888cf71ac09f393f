/** The blank that says by which rules: all, one family, or one rule. */
import { useMemo, useState } from "react";
import { FAMILIES, type Family } from "../../../core/check/finding.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Combobox, type Option } from "../../controls/combobox.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import type { PickerProps } from "../view.ts";
import { byWords } from "./rules.ts";

export const ruleWords = byWords;

interface RuleOption extends Option {
  readonly value: string;
  readonly words: string;
}

export function RulePicker({ value, typed, choose }: PickerProps) {
  const [text, setText] = useState(typed);
  const { value: known } = useAnswer("check.rules", {}, { kinds: [] });
  const options = useMemo(() => {
    const rules = known?.rules ?? [];
    const all: RuleOption[] = [{ key: "", value: "", words: say`every rule`, show: say`every rule` }];
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
    const asked = text.trim().toLowerCase();
    return all.filter((option) => option.words.toLowerCase().includes(asked));
  }, [known, text, value]);
  return (
    <Combobox
      label={say`By which rules`}
      text={text}
      onText={setText}
      options={options}
      open
      onChoose={(option) => choose(option.value)}
      nothing={say`No rule has this in its name.`}
      className="picker"
      inputRef={(field) => field?.focus()}
    />
  );
}
