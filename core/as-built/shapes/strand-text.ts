/** Strands of a row: written with their cable in one cell, or number and cable in two. */
import type { RowCells } from "../row-cells.ts";

/** `F-012:25`, from `F-012` and `25`, or as it stands where the cell names the cable itself. */
export function strandText(cells: RowCells, cable: string, strand: string): string {
  const list = cells.needed(strand);
  const tag = cells.text(cable);
  if (tag === undefined || list === "" || list.includes(":")) return list;
  return `${tag}:${list.replace(/^(strands?|fib(?:er|re)s?|#)\s*/i, "")}`;
}
