/** The rows an act beside the table is about: those picked, shown or not, or else those of the block that is selected. */
import { useEffect, useState } from "react";
import type { KindName } from "../../../core/model/dictionary.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import type { GridRow, RowSource } from "../../grid/row-source.ts";
import type { Selection } from "./use-table.ts";

export interface Chosen {
  readonly rows: readonly GridRow[];
  /** Picked rows that the table, filtered as it is, doesn't show. */
  readonly hidden: readonly GridRow[];
}

export interface About {
  readonly kind: KindName;
  readonly source: RowSource;
  readonly selection: Selection;
  readonly picked: readonly number[];
  /** First and last row of the block, by place. */
  readonly block: readonly [number, number];
}

/** Null while it is read. The rows are read once, as they are when the act is begun. */
export function useChosen({ source, selection, picked, block }: About): Chosen | Failure | null {
  const client = useClient();
  const [chosen, setChosen] = useState<Chosen | Failure | null>(null);
  const [asked] = useState({ selection, picked, block });
  useEffect(() => {
    let ended = false;
    const read = async (): Promise<Chosen | Failure> => {
      if (asked.picked.length === 0) {
        const [from, to] = asked.block;
        return { rows: await source.rows(from, Math.min(to + 1, source.total ?? 0)), hidden: [] };
      }
      const reply = await client.call("record.chosen", { ...asked.selection, ids: [...asked.picked] });
      if (!reply.ok) return reply.error;
      const outside = new Set(reply.value.outside);
      return { rows: reply.value.rows, hidden: reply.value.rows.filter(({ id }) => outside.has(id)) };
    };
    void read().then((found) => {
      if (!ended) setChosen(found);
    });
    return () => {
      ended = true;
    };
  }, [client, source, asked]);
  return chosen;
}

/** "F-012, F-013, F-014 and 9 more" */
export function someOf(rows: readonly GridRow[], most = 4): string {
  const named = rows.slice(0, most).map(({ address }) => address);
  return rows.length > most ? say`${named.join(", ")} and ${rows.length - most} more` : named.join(", ");
}
