/** Going to cells found elsewhere: by the record and the field, whatever the table's order. */
import { useState } from "react";
import { useClient } from "../../client/context.ts";
import { sayRefused } from "../../frame/notices.tsx";
import type { GoTo } from "../../grid/grid-props.ts";
import type { RowSource } from "../../grid/row-source.ts";
import type { Selection } from "./use-table.ts";

export function useGoTo(selection: Selection, source: RowSource) {
  const client = useClient();
  const [toCell, setToCell] = useState<GoTo | null>(null);
  const go = (row: number, field: string, rows = 1) =>
    setToCell((before) => ({ row, field, rows, turn: (before?.turn ?? 0) + 1 }));

  const placeOf = async (id: number): Promise<number | null> => {
    const reply = await client.call("record.find_row", { ...selection, id });
    if (reply.ok) return reply.value.offset;
    sayRefused(reply.error);
    return null;
  };
  const goToCell = async (id: number, field: string): Promise<void> => {
    const row = await placeOf(id);
    if (row !== null) go(row, field);
  };
  /** Goes to records just written, all of them selected where they stand together. Answers false where none is in the table. */
  const goToNew = async (ids: readonly number[], field: string): Promise<boolean> => {
    await source.refresh();
    const [first, last] = [ids[0], ids.at(-1)];
    if (first === undefined || last === undefined) return false;
    const [from, to] = await Promise.all([placeOf(first), placeOf(last)]);
    if (from === null) return false;
    go(from, field, to !== null && to - from === ids.length - 1 ? ids.length : 1);
    return true;
  };
  return { toCell, goToCell, goToNew };
}
