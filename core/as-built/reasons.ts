/** Every reason why a row is refused at once: what can't be read in it, what an act says, and each name that isn't on record. */

import type { Problem } from "../result.ts";
import type { Trial } from "../store/trial.ts";
import { say } from "../words/say.ts";
import { type PlanAct, refused } from "./carry.ts";
import type { Missing } from "./missing.ts";
import { namesIn } from "./names-in.ts";
import type { RowCells } from "./row-cells.ts";
import type { Act, Shape, ShapeColumn } from "./shape.ts";

/**
 * What the acts of a row say against other cells than those that can't be read. They are only planned: what was read of
 * the row lacks those cells, so that whatever they say of the rest of the act follows from that and isn't told.
 */
export async function alsoRefused(
  trial: Trial,
  plan: PlanAct,
  shape: Shape,
  acts: readonly Act[],
  known: readonly Problem[],
): Promise<Problem[]> {
  const found: Problem[] = [];
  for (const act of acts) {
    try {
      await plan(trial, act);
    } catch (error) {
      found.push(...refused(error).problems);
    }
  }
  return found.filter(({ field }) => {
    const column = shape.columns.find(({ name }) => name === field);
    return column !== undefined && !known.some((one) => one.field === column.label);
  });
}

const named = (cells: RowCells, { name, names }: ShapeColumn): readonly string[] => {
  const text = names && cells.text(name);
  return names && text ? namesIn(text, names) : [];
};

/** The names of a refused row that the record hasn't and that no reason tells of yet. */
export function alsoMissing(
  shape: Shape,
  cells: RowCells,
  missing: readonly Missing[],
  problems: readonly Problem[],
): Problem[] {
  const told = (address: string) =>
    problems.some(({ record, reason }) => record === address || reason.includes(address));
  const own = missing.filter(({ rows }) => rows.includes(cells.row)).map(({ address }) => address);
  const within = (address: string, text: string) =>
    text === address || text.startsWith(`${address}/`) || text.startsWith(`${address}:`);
  // Of a building, its room and its panel that are all missing, the room or panel that the cell names says it.
  const last = own.filter((address) => !own.some((other) => other !== address && within(address, other)));
  return shape.columns.flatMap((column) =>
    named(cells, column).flatMap((text) => {
      const address = last.find((one) => within(one, text));
      if (address === undefined || told(address) || told(text)) return [];
      return [{ row: cells.row, field: column.label, record: address, reason: say`is not on record` }];
    }),
  );
}
