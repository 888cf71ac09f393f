/** Which column of a sheet is which of a shape, found by the heading; and which shape a sheet has. */
import type { LengthUnit } from "../model/units.ts";
import { type Problem, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import type { Shape, ShapeColumn } from "./shape.ts";
import { columnLetters, type SheetRow, type SheetTable } from "./table.ts";

export interface Heading {
  /** Row of the heading in the sheet; what stands above it is a title. */
  readonly row: number;
  readonly columns: readonly HeadingColumn[];
}

export interface HeadingColumn {
  /** A, B, ...: how a column without a heading is named. */
  readonly letters: string;
  readonly heading: string;
  /** The first few cells under it. */
  readonly first: readonly string[];
}

/** Small letters, no marks, no unit in brackets: `Length (ft)` is `length`. */
export const folded = (heading: string): string =>
  heading
    .replace(/[([].*[)\]]/g, " ")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();

const meant = (column: ShapeColumn, heading: string): boolean => {
  const fold = folded(heading);
  return (
    fold !== "" &&
    ([column.name, column.heading, column.label].some((one) => fold === folded(one)) || column.also.includes(fold))
  );
};

/** A first guess of where each column of a shape stands, by the heading; the first that means it. */
export function guessed(shape: Shape, heading: readonly string[]): Map<string, number> {
  const places = new Map<string, number>();
  const taken = new Set<number>();
  for (const column of shape.columns) {
    const at = heading.findIndex((cell, index) => !taken.has(index) && meant(column, cell));
    if (at < 0) continue;
    places.set(column.name, at);
    taken.add(at);
  }
  return places;
}

/** A port is written with its panel before it, as `LIB/101/A:07`; a place never has such a colon. */
const PORT_LIKE = /:/;

/**
 * How well a heading fits a shape, by the columns it reads and those it would leave; null where a needed one is lacking.
 * Needed ones weigh double, but not where the cells below are no ports: `from` and `to` are headings of places too.
 */
function likeness(shape: Shape, heading: readonly string[], below: readonly SheetRow[]): number | null {
  const places = guessed(shape, heading);
  const needed = shape.columns.filter((column) => column.needed);
  if (needed.some(({ name }) => !places.has(name))) return null;
  const filled = (name: string) =>
    below.flatMap(({ cells }) => {
      const cell = cells[places.get(name) ?? -1]?.trim() ?? "";
      return cell === "" ? [] : [cell];
    });
  const isOther = ({ name, names }: ShapeColumn): boolean => {
    const cells = names === "port" ? filled(name) : [];
    return cells.length > 0 && !cells.some((cell) => PORT_LIKE.test(cell));
  };
  const named = heading.filter((cell) => cell.trim() !== "").length;
  return needed.filter((column) => !isOther(column)).length + places.size - (named - places.size) / 4;
}

/** Rows that are looked at for a heading: titles and dates may stand above it. */
const ABOVE = 15;
/** Rows under it that tell whether its cells are ports. */
const BELOW = 5;

/** The row and shape that fit best; the first row with two cells or more where none fits. */
export function recognised(rows: readonly SheetRow[], shapes: readonly Shape[]): { at: number; shape: Shape | null } {
  let best: { at: number; shape: Shape; likeness: number } | null = null;
  for (const [at, { cells }] of rows.slice(0, ABOVE).entries())
    for (const shape of shapes) {
      const found = likeness(shape, cells, rows.slice(at + 1, at + 1 + BELOW));
      if (found !== null && (best === null || found > best.likeness)) best = { at, shape, likeness: found };
    }
  if (best) return best;
  const first = rows.findIndex(({ cells }) => cells.filter((cell) => cell.trim() !== "").length > 1);
  return { at: Math.max(0, first), shape: null };
}

export function headingOf(table: SheetTable, at: number): Heading {
  const row = table.rows[at];
  const below = table.rows.slice(at + 1, at + 4);
  const width = Math.max(row?.cells.length ?? 0, ...below.map(({ cells }) => cells.length));
  return {
    row: row?.row ?? 1,
    columns: Array.from({ length: width }, (_, index) => ({
      letters: columnLetters(index),
      heading: row?.cells[index]?.trim() ?? "",
      first: below.map(({ cells }) => cells[index]?.trim() ?? ""),
    })),
  };
}

/** Units that a heading names, such as `Slack (ft)`: for columns of lengths. */
export function unitsNamed(
  shape: Shape,
  heading: readonly string[],
  places: ReadonlyMap<string, number>,
): Map<string, LengthUnit> {
  const units = new Map<string, LengthUnit>();
  for (const { name, unit } of shape.columns) {
    const cell = heading[places.get(name) ?? -1] ?? "";
    if (unit === undefined) continue;
    if (/\b(ft|feet|foot)\b/i.test(cell)) units.set(name, "ft");
    else if (/\b(m|met(er|re)s?)\b/i.test(cell)) units.set(name, "m");
  }
  return units;
}

/** Where the columns stand that somebody mapped, each by its heading or its letters. Refuses what isn't there. */
export function placesSaid(
  shape: Shape,
  said: Readonly<Record<string, string>>,
  heading: Heading,
): Map<string, number> {
  const problems: Problem[] = [];
  const places = new Map<string, number>();
  for (const [name, where] of Object.entries(said)) {
    const column = shape.columns.find((one) => one.name === name);
    if (!column) {
      problems.push({ field: name, reason: say`is not a column of the ${shape.title}` });
      continue;
    }
    const same = heading.columns.findIndex((one) => one.heading !== "" && folded(one.heading) === folded(where));
    const exact = heading.columns.findIndex((one) => one.heading === where);
    const lettered = heading.columns.findIndex(({ letters }) => letters === where.toUpperCase());
    const at = exact >= 0 ? exact : same >= 0 ? same : lettered;
    if (at < 0)
      problems.push({
        row: heading.row,
        field: column.label,
        record: where,
        reason: say`is not a column of the sheet`,
      });
    else places.set(name, at);
  }
  if (problems.length > 0) refuse("bad_input", say`The columns don't fit this sheet.`, problems);
  return places;
}

/** Refuses what was said beside the sheet and fits nothing in it: silence would look as if it had been heeded. */
export function refuseUnfit(
  shape: Shape,
  said: {
    readonly fixed: Readonly<Record<string, string>>;
    readonly units: Readonly<Record<string, LengthUnit>>;
    readonly leave_out: readonly number[];
  },
  rows: readonly SheetRow[],
): void {
  const known = (name: string) => shape.columns.find((one) => one.name === name);
  const names = (some: readonly ShapeColumn[]) => some.map(({ name }) => name).join(", ");
  const lengths = shape.columns.filter(({ unit }) => unit !== undefined);
  const last = rows.at(-1)?.row ?? 0;
  const problems: Problem[] = [
    ...Object.keys(said.fixed).flatMap((name) =>
      known(name)
        ? []
        : [
            {
              field: "fixed",
              record: name,
              reason: say`is not a column of the ${shape.title}; its columns: ${names(shape.columns)}`,
            },
          ],
    ),
    ...Object.keys(said.units).flatMap((name) => {
      const what = lengths.length === 0 ? say`it has none` : names(lengths);
      return known(name)?.unit
        ? []
        : [{ field: "units", record: name, reason: say`is not a column of lengths of the ${shape.title}: ${what}` }];
    }),
    ...said.leave_out.flatMap((row) =>
      row > last || row < 1
        ? [{ row, field: "leave_out", reason: say`is not a row of the sheet, which ends with row ${last}` }]
        : [],
    ),
  ];
  if (problems.length > 0) refuse("bad_input", say`What was said of this sheet doesn't fit it.`, problems);
}

/** Columns of the sheet that stand for nothing, each by its heading, or by its letters where it has none. */
export function unreadIn(heading: Heading, places: ReadonlyMap<string, number>, seen: Shape["seen"] = []): string[] {
  const taken = new Set(places.values());
  return heading.columns.flatMap((column, index) => {
    const holds = column.heading !== "" || column.first.some((cell) => cell !== "");
    return taken.has(index) || !holds || seen.includes(folded(column.heading))
      ? []
      : [column.heading || column.letters];
  });
}
