/** A kind's table on paper, as it is filtered and sorted: every row of it, read in lots. */

import { KINDS, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { formatLength, formatNumber, type LengthUnit } from "../model/units.ts";
import { shownValue, unitSymbol } from "../model/wording.ts";
import type { Cell, Column, Document, TitleBlock } from "../paper/document.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { WindowRow } from "../store/window.ts";
import { counted } from "../words/counted.ts";
import { capital, withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { chipOf } from "./chips.ts";
import { isGlassKind, layersOf } from "./glass-layers.ts";

/** More is a stack of paper nobody reads, and more than one file holds at once; the folder of tables has no such end. */
export const MOST_ROWS = 10_000;
const LOT = 1000;

export interface TableWish {
  readonly kind: KindName;
  /** Fields in the order shown. */
  readonly columns: readonly string[];
  readonly lengths: LengthUnit;
  /** What is filtered and where, in words; empty for the whole table. */
  readonly where: string;
}

export type ReadRows = (
  offset: number,
  limit: number,
) => Promise<{ readonly total: number; readonly rows: readonly WindowRow[] }>;

/** Refuses `bad_input` for a column that isn't a field, and `too_many` for more rows than one paper takes. */
export async function tableDocument(
  reader: Reader,
  { kind, columns, lengths, where }: TableWish,
  read: ReadRows,
  heard: (done: number, total: number) => Promise<void>,
  title: TitleBlock,
): Promise<Document> {
  const { one, many } = KINDS[kind];
  const own = kindOf(kind).fields;
  const fields = columns.map((name): [string, Field] => {
    const field = own[name];
    if (!field)
      return refuse("bad_input", say`${capital(withArticle(one))} has no field ${name}.`, [
        { field: name, reason: say`is not a field` },
      ]);
    return [name, field];
  });
  const { total } = await read(0, 0);
  if (total > MOST_ROWS)
    refuse(
      "bad_input",
      say`${counted(total, one, many)} are more than one paper takes: filter them to ${MOST_ROWS} or fewer, or write a file.`,
      [{ field: "filters", reason: say`leave ${total} rows, more than ${MOST_ROWS}` }],
    );
  const rows: Cell[][] = [];
  for (let at = 0; at < total; at += LOT) {
    const lot = (await read(at, LOT)).rows;
    const glass = isGlassKind(kind)
      ? await layersOf(
          reader,
          kind,
          lot.map(({ id }) => id),
        )
      : null;
    for (const row of lot)
      rows.push(
        fields.map(([name, field]): Cell => {
          const layers = name === "colour" ? glass?.get(row.id) : undefined;
          return layers ? chipOf(layers) : cellOf(field, row.values[name] ?? null, row.shown[name] ?? null, lengths);
        }),
      );
    await heard(Math.min(at + LOT, total), total);
  }
  // A column without a single value takes paper and says nothing.
  const some = fields.map((_, index) => rows.some((row) => row[index] !== "" && row[index] !== null));
  const filled = some.includes(true) ? some : fields.map(() => true);
  const keep = (_: unknown, index: number): boolean => filled[index] ?? false;
  const empty = fields.filter((_, index) => !filled[index]).map(([, field]) => field.label);
  return {
    paper: "document",
    lying: true,
    title: { ...title, what: `${capital(many)}${where}` },
    blocks: [
      // Before the table: after it, it might stand on a page by itself.
      ...(empty.length > 0 && total > 0
        ? [{ is: "paragraph", text: say`Empty in every row, and so left out: ${empty.join(", ")}.` } as const]
        : []),
      {
        is: "table",
        caption: `${counted(total, one, many)}${where}`,
        columns: fields.filter(keep).map(([name, field]): Column => headOf(name, field, lengths)),
        rows: rows.map((row) => row.filter(keep)),
        none: say`No ${one} is like that.`,
      },
    ],
  };
}

const isNumber = (field: Field): boolean => field.type === "number" || field.type === "integer";

function headOf(name: string, field: Field, lengths: LengthUnit): Column {
  const unit = !isNumber(field)
    ? ""
    : "unit" in field && field.unit === "m"
      ? lengths
      : unitSymbol(("unit" in field && field.unit) || "none").trim();
  const weight = isNumber(field) ? 0.8 : field.type === "text" ? 1.6 : 1.2;
  return {
    head: [field.label, unit].filter(Boolean).join(", "),
    weight: name === "colour" ? 2.4 : weight,
    ...(isNumber(field) ? { numeric: true } : {}),
  };
}

/** Empty where nothing is known: in a table of hundreds of rows words for it would hide the rest. */
function cellOf(field: Field, value: Value, name: string | null, lengths: LengthUnit): Cell {
  if (value === null) return "";
  if (typeof value === "number" && isNumber(field)) {
    const unit = "unit" in field ? field.unit : undefined;
    // The unit stands in the head.
    return unit === "m"
      ? formatLength(value, lengths, 1).replace(/\s*(m|ft)$/u, "")
      : formatNumber(value, decimalsOf(value));
  }
  return shownValue(field, value, () => name ?? "") ?? "";
}

const decimalsOf = (value: number): number => Math.min(4, String(value).split(".")[1]?.length ?? 0);
