/** What a column's filter offers when it is opened: the values the other filters leave, with how often each occurs. */
import { useCallback, useState } from "react";
import { type KindName, kindOf, type Value } from "../../../core/model/dictionary.ts";
import type { Field } from "../../../core/model/field.ts";
import { useClient } from "../../client/context.ts";
import type { GridColumn } from "../../grid/columns.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { copyText } from "../../grid/showing.ts";
import { asked as asFilters, readFilters } from "./question.ts";
import type { Selection } from "./use-table.ts";

export interface Offered {
  /** What is typed to filter by it. */
  readonly words: string;
  /** Rows that have it; null where it begins a filter on a field of the record that is named. */
  readonly count: number | null;
}

const MOST_VALUES = 60;
const MOST_FIELDS = 24;

/** As the filter reads it back, and that value alone. */
function typedFor(field: Field, value: Value, shown: string | null, habits: ReadingHabits): string | null {
  if (value === null) return "empty";
  const text = copyText(field, value, shown, habits.lengths);
  // What a stroke or a line break parts can't be typed as one value.
  if (text === "" || /[|\n]/.test(text)) return null;
  return field.type === "choice" ? text : `= ${text}`;
}

/** Fields with a closed list of the record that a column names. */
const fieldsOf = (field: Field): readonly Offered[] =>
  field.type !== "reference"
    ? []
    : Object.values(kindOf(field.to as KindName).fields)
        .filter((own) => own.type === "choice")
        .slice(0, MOST_FIELDS)
        .map((own) => ({ words: `${own.label}: `, count: null }));

export function useOffers(selection: Selection, typed: Readonly<Record<string, string>>, habits: ReadingHabits) {
  const client = useClient();
  const [known, setKnown] = useState<Readonly<Record<string, readonly Offered[]>>>({});
  const asked = JSON.stringify([selection, typed]);
  const open = useCallback(
    ({ field, id }: GridColumn) => {
      if (field.type === "shape" || field.type === "subject") return;
      const [own, others] = JSON.parse(asked) as [Selection, Record<string, string>];
      // Its own filter aside: one sees what else there would be.
      delete others[id];
      const filters = asFilters(readFilters(own.kind as KindName, others, habits).filters);
      void client.call("record.values", { ...own, filters, sort: [], field: id, limit: MOST_VALUES }).then((reply) => {
        if (!reply.ok) return;
        const values = reply.value.values.flatMap(({ value, shown, count }): Offered[] => {
          const words = typedFor(field, value, shown, habits);
          return words === null ? [] : [{ words, count }];
        });
        setKnown((before) => ({ ...before, [id]: [...values, ...fieldsOf(field)] }));
      });
    },
    [client, asked, habits],
  );
  const of = useCallback((column: GridColumn) => known[column.id] ?? [], [known]);
  return { of, open };
}
