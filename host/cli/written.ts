/** What a write did, or would do, as text. */
import { KINDS } from "../../core/model/dictionary.ts";
import type { ChangeView, Written } from "../../core/store/written.ts";
import { say } from "../../core/words/say.ts";
import { printable, table } from "./print.ts";

const DID = { insert: say`added`, update: say`changed`, delete: say`deleted` } as const;

interface Row {
  readonly change: ChangeView;
  readonly field: ChangeView["fields"][number] | null;
}

export function writtenText(written: Written<unknown>, width: number): string {
  return headText(written) + (written.changes.length > 0 ? `\n${changesText(written.changes, width)}` : "");
}

/** A job that is planned: its steps in place of the many records it plans. */
export function plannedText(written: Written<{ readonly steps: readonly string[] }>, width: number): string {
  const steps = written.answer.steps.map((what, index) => ({ step: index + 1, what }));
  const columns = [
    { head: say`step`, cell: ({ step }: (typeof steps)[number]) => step, right: true },
    { head: say`what`, cell: ({ what }: (typeof steps)[number]) => what },
  ];
  return `${headText(written)}\n${table(steps, columns, width)}`;
}

function headText(written: Written<unknown>): string {
  const counted = written.counts
    .flatMap(({ kind, added, changed, deleted }) =>
      Object.entries({ added, changed, deleted }).flatMap(([did, count]) =>
        count === 0 ? [] : [`${count} ${count === 1 ? KINDS[kind].one : KINDS[kind].many} ${did}`],
      ),
    )
    .join(", ");
  const head = written.change_set === null ? say`Would be done` : say`Change ${written.change_set}`;
  return [
    // Said alike of a rehearsal and of a write that came to nothing: both leave the file as it is.
    counted === "" && written.change_set === null
      ? say`Nothing to change: the record already says this.\n`
      : `${head}: ${printable(written.summary)}\n${counted === "" ? say`No record was changed by it` : counted}.\n`,
    ...written.notices.map((notice) => say`Note: ${printable(notice)}\n`),
  ].join("");
}

/** Its kind and what it is called, unless that says its kind by itself ("cord from …", "new splice"). */
function calledOf({ kind, record }: ChangeView): string {
  const { one } = KINDS[kind];
  return new RegExp(`^(new )?${one}\\b`).test(record) ? record : `${one} ${record}`;
}

/** Each record that was changed, field by field. */
export function changesText(changes: readonly ChangeView[], width: number): string {
  const rows: Row[] = changes.flatMap((change): Row[] =>
    change.fields.length === 0 ? [{ change, field: null }] : change.fields.map((field) => ({ change, field })),
  );
  const columns = [
    { head: say`record`, cell: (row: Row) => calledOf(row.change) },
    { head: "", cell: (row: Row) => DID[row.change.op] },
    { head: say`field`, cell: (row: Row) => row.field?.label },
    { head: say`before`, cell: (row: Row) => row.field?.before },
    { head: say`after`, cell: (row: Row) => row.field?.after },
  ];
  return table(rows, columns, width);
}
