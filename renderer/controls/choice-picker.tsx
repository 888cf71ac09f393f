/** A blank that takes one of a known list: all of it stands open, what is typed keeps those that have it in their words. */
import { useState } from "react";
import type { PickerProps } from "../views/view.ts";
import { Combobox, type Option } from "./combobox.tsx";

export interface Choice extends Option {
  readonly value: string;
  /** By which it is found. */
  readonly words: string;
}

interface Props extends Pick<PickerProps, "typed" | "choose" | "leave"> {
  readonly label: string;
  readonly options: readonly Choice[];
  /** Said where no option has what is typed in its words. */
  readonly nothing: string;
  readonly hint?: string;
}

export function ChoicePicker({ typed, choose, leave, label, options, nothing, hint }: Props) {
  const [text, setText] = useState(typed);
  const asked = text.trim().toLowerCase();
  return (
    <Combobox
      label={label}
      text={text}
      onText={setText}
      options={options.filter(({ words }) => words.toLowerCase().includes(asked))}
      open
      onChoose={(option) => choose(option.value)}
      onLeave={leave}
      nothing={nothing}
      {...(hint === undefined ? {} : { hint })}
      className="picker"
      inputRef={(field) => field?.focus()}
    />
  );
}
