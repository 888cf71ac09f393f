/** The blank that says whose changes: anyone's, or one of those who wrote. */
import { useMemo, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Combobox, type Option } from "../../controls/combobox.tsx";
import { counted } from "../../controls/figures.ts";
import type { PickerProps } from "../view.ts";

interface PersonOption extends Option {
  readonly value: string;
  readonly words: string;
}

export function PersonPicker({ value, typed, choose }: PickerProps) {
  const [text, setText] = useState(typed);
  const { value: known } = useAnswer("history.people", {});
  const options = useMemo(() => {
    const all: PersonOption[] = [{ key: "", value: "", words: say`anyone`, show: "anyone" }];
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
    const asked = text.trim().toLowerCase();
    return all.filter((option) => option.words.toLowerCase().includes(asked));
  }, [known, text, value]);
  return (
    <Combobox
      label={say`Who changed it`}
      text={text}
      onText={setText}
      options={options}
      open
      onChoose={(option) => choose(option.value)}
      nothing={say`Nobody of this name wrote anything.`}
      className="picker"
      inputRef={(field) => field?.focus()}
    />
  );
}
