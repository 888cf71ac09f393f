/** The blank that says whose changes: anyone's, or one of those who wrote. */
import { useMemo } from "react";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { type Choice, ChoicePicker } from "../../controls/choice-picker.tsx";
import type { PickerProps } from "../view.ts";

export function PersonPicker({ value, typed, choose, leave }: PickerProps) {
  const { value: known } = useAnswer("history.people", {});
  const options = useMemo(() => {
    const all: Choice[] = [{ key: "", value: "", words: say`anyone`, show: say`anyone` }];
    for (const { author, change_sets } of known?.people ?? [])
      all.push({
        key: author,
        value: author,
        words: author,
        show: (
          <>
            <span className={author === value ? "strong" : ""}>{author}</span>{" "}
            <span className="soft">{counted(change_sets, "change", "changes")}</span>
          </>
        ),
      });
    return all;
  }, [known, value]);
  return (
    <ChoicePicker
      label={say`Who changed it`}
      typed={typed}
      choose={choose}
      leave={leave}
      options={options}
      nothing={say`Nobody of this name has made a change.`}
    />
  );
}
