/** The last blank of the table's question: by which columns it is sorted. */
import { useMemo } from "react";
import { fieldOf, KIND_NAMES } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { type Choice, ChoicePicker } from "../../controls/choice-picker.tsx";
import { useRoute } from "../../frame/router.ts";
import { GRID_COLUMNS } from "../../grid/columns.ts";
import type { PickerProps } from "../view.ts";
import { kindAsked, readSorts, sortedBy, sortWords } from "./question.ts";

/** The label of a field of that name; where several kinds have one, they call it alike. */
const labelOf = (field: string): string =>
  KIND_NAMES.flatMap((kind) => fieldOf(kind, field)?.label ?? []).at(0) ?? field;

/** Words of an order, without knowing the kind. */
export const orderWords = (value: string): string =>
  value
    .split(",")
    .map((part) => sortedBy(labelOf(part.replace(/^-/, "")), part.startsWith("-")))
    .join(say`, then `);

export function OrderPicker({ value, typed, choose, leave }: PickerProps) {
  const route = useRoute();
  const kind = kindAsked(route.values);
  const options = useMemo(() => {
    const all: Choice[] = [{ key: "", value: "", words: say`tag and place`, show: say`tag and place` }];
    for (const { id } of GRID_COLUMNS[kind])
      for (const sign of ["", "-"]) {
        const order = `${sign}${id}`;
        const words = sortWords(kind, readSorts(kind, order));
        all.push({
          key: order,
          value: order,
          words,
          show: <span className={order === value ? "strong" : ""}>{words}</span>,
        });
      }
    return all;
  }, [kind, value]);
  return (
    <ChoicePicker
      label={say`Sort by`}
      typed={typed}
      choose={choose}
      leave={leave}
      options={options}
      nothing={say`No column has this in its name.`}
      hint={say`Press a column's head to sort by it; with Shift after another.`}
    />
  );
}
