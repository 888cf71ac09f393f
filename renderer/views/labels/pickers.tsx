/** The blanks of the page of labels: what they are for, and which sheet they lie on. */
import { useEffect, useMemo, useRef, useState } from "react";
import { LABELS_OF } from "../../../core/model/labelled.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Combobox, type Option } from "../../controls/combobox.tsx";
import { ManyPicker } from "../../controls/many-picker.tsx";
import type { PickerProps } from "../view.ts";
import { tableOf, tenths } from "./asked.ts";

export const WhatPicker = (props: PickerProps) => (
  <ManyPicker
    {...props}
    // Things by name take the place of a table.
    value={tableOf(props.value) ? "" : props.value}
    kinds={LABELS_OF}
    label={say`Find what is labelled`}
    labelMore={say`Find what else is labelled`}
    placeholder={say`A cable, panel, room, hole, way…`}
  />
);

type Sheet = AnswerOf<"label.sheets">["sheets"][number];
interface SheetOption extends Option {
  readonly name: string;
}

const FORMS = { sheet: say`sheet`, wrap: say`wraps round`, tape: say`tape` } as const;

const measures = ({ label_width_mm: width, label_height_mm: height, per_page }: Sheet): string =>
  width === null
    ? say`${tenths(height)} mm wide, as long as its text`
    : say`${tenths(width)} × ${tenths(height)} mm, ${per_page} a page`;

export function SheetPicker({ typed, choose, leave }: PickerProps) {
  const [text, setText] = useState(typed);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const sheets = useAnswer("label.sheets", {}, { kinds: ["label_sheet"] }).value?.sheets;
  const options = useMemo(
    () =>
      (sheets ?? [])
        .filter(({ name }) => name.toLowerCase().includes(text.trim().toLowerCase()))
        .map(
          (sheet): SheetOption => ({
            key: sheet.name,
            name: sheet.name,
            show: (
              <span className="hit">
                <span className="hit-what">
                  {sheet.name} <span className="hit-beside">{FORMS[sheet.form]}</span>
                </span>
                <span className="hit-where">
                  {sheet.faults[0] ? say`can't be used: ${sheet.faults[0].reason}` : measures(sheet)}
                </span>
              </span>
            ),
          }),
        ),
    [sheets, text],
  );
  return (
    <Combobox
      inputRef={field}
      className="picker"
      open
      label={say`Find a label sheet`}
      placeholder={say`A size, such as 102 x 25, or tape`}
      text={text}
      onText={setText}
      options={options}
      onChoose={({ name }) => choose(name)}
      onLeave={leave}
      nothing={sheets ? say`No sheet of that name. Add it under Enter, label sheets.` : null}
    />
  );
}
