/** Cells that hold a text: asked of the program column by column, so that a table of any length needn't be read. */
import { useEffect, useState } from "react";
import { useClient } from "../../client/context.ts";
import type { GridColumn } from "../../grid/columns.ts";
import type { Sought } from "../../grid/replacing.ts";
import type { GridRow } from "../../grid/row-source.ts";
import type { Selection } from "./use-table.ts";

/** Rows read of each column; beyond it a narrower text or filter is asked for. */
const MOST_OF_COLUMN = 5000;
const ASK_AFTER_MS = 150;

export interface Candidates {
  /** The text and columns they were asked for. */
  readonly asked: string;
  readonly rows: readonly GridRow[];
  /** There are more than were read. */
  readonly more: boolean;
}

const NONE: Candidates = { asked: "", rows: [], more: false };

export const askedOf = (sought: Sought, columns: readonly GridColumn[]): string =>
  JSON.stringify([sought.text, columns.map(({ id }) => id)]);

/** Rows that may hold it, each once, in the order of the table within a column. */
export function useCandidates(selection: Selection, columns: readonly GridColumn[], sought: Sought): Candidates {
  const client = useClient();
  const [found, setFound] = useState<Candidates>(NONE);
  const asked = askedOf(sought, columns);
  const within = JSON.stringify(selection);
  useEffect(() => {
    const [text, ids] = JSON.parse(asked) as [string, string[]];
    if (text === "") return setFound({ ...NONE, asked });
    const abort = new AbortController();
    const wait = setTimeout(async () => {
      const own: Selection = JSON.parse(within);
      const rows = new Map<number, GridRow>();
      let more = false;
      for (const field of ids) {
        const filters = [...(own.filters ?? []), { field, test: "contains" as const, value: text }];
        const reply = await client.call(
          "record.window",
          { ...own, filters, limit: MOST_OF_COLUMN },
          { signal: abort.signal },
        );
        if (abort.signal.aborted || !reply.ok) return;
        for (const row of reply.value.rows) rows.set(row.id, row);
        more ||= reply.value.total > reply.value.rows.length;
      }
      setFound({ asked, rows: [...rows.values()], more });
    }, ASK_AFTER_MS);
    return () => {
      clearTimeout(wait);
      abort.abort();
    };
  }, [client, asked, within]);
  return found;
}
