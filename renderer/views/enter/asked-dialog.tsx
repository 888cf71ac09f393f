/** The dialog of what was asked about the table. */
import type { Asked } from "../../grid/asked.ts";
import { GRID_COLUMNS } from "../../grid/columns.ts";
import type { GridCalls } from "../../grid/commit.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { shownColumns, type TableLook } from "../../grid/remembered.ts";
import type { GridRow } from "../../grid/row-source.ts";
import type { SavedView } from "../../grid/saved-views.ts";
import type { Suggest } from "../../grid/suggestions.ts";
import { AddManyDialog } from "./add-many-dialog.tsx";
import { ColumnsChoice } from "./columns-choice.tsx";
import { FileDialog } from "./file-dialog.tsx";
import { ReplaceDialog } from "./replace-dialog.tsx";
import { SetDialog } from "./set-dialog.tsx";
import type { About } from "./use-chosen.ts";
import { ViewsDialog } from "./views-dialog.tsx";

interface Props {
  readonly asked: Asked;
  readonly about: About;
  readonly look: TableLook;
  readonly onLook: (look: TableLook) => void;
  /** The field and the record one is in. */
  readonly first: string | null;
  readonly model: GridRow | null;
  /** The question, as the address says it, and in words. */
  readonly asks: Readonly<Record<string, string>>;
  readonly where: string;
  readonly calls: GridCalls;
  readonly habits: ReadingHabits;
  readonly suggest: Suggest;
  readonly readOnly: string | null;
  readonly onGo: (id: number, field: string) => void;
  /** Shows records just made; answers false where the table, as it is filtered, has none of them. */
  readonly onNew: (ids: readonly number[], field: string) => Promise<boolean>;
  readonly onView: (view: SavedView) => void;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

export function AskedDialog(props: Props) {
  const { asked, about, look, onLook, first, model, asks, where, calls, habits, suggest, readOnly } = props;
  const { kind, source, selection } = about;
  const { onGo, onNew, onView, onDone, onClose } = props;
  const all = GRID_COLUMNS[kind];
  const shown = shownColumns(kind, look);
  switch (asked) {
    case "columns":
      return <ColumnsChoice {...{ kind, look, onLook, onClose }} />;
    case "views":
      return <ViewsDialog {...{ kind, asks, look, onClose }} onOpen={onView} />;
    case "write_file":
      return <FileDialog {...{ kind, source, selection, habits, where, onDone, onClose }} columns={shown} />;
    case "replace":
      return (
        <ReplaceDialog
          {...{ about, calls, habits, readOnly, onDone, onClose }}
          columns={shown}
          onGo={(match) => onGo(match.row.id, match.field)}
        />
      );
    case "set_field":
      return (
        <SetDialog
          {...{ about, calls, habits, suggest, onDone, onClose }}
          columns={all}
          first={first ?? all[0]?.id ?? ""}
        />
      );
    case "add_many":
      return <AddManyDialog {...{ kind, model, habits, suggest, onNew, onDone, onClose }} columns={shown} />;
  }
}
