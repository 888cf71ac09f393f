/**
 * The splice sheet as a table to fill in: the columns of a splice matrix, as the record reads it again. What comes back
 * unchanged changes nothing; what was filled in is exactly what is recorded.
 */
import { FATES } from "../as-built/shapes/splice-fates.ts";
import { splices } from "../as-built/shapes/splices.ts";
import { shielded } from "../exchange/cells.ts";
import { written } from "../exchange/csv.ts";
import type { Layer } from "../standards/strand-colours.ts";
import { coded } from "./chips.ts";
import type { SpliceSheet } from "./splice-sheet.ts";

const label = (name: string): string => {
  const column = splices.columns.find((one) => one.name === name);
  if (!column) throw new Error(`a splice matrix has no column ${name}`);
  return column.heading;
};

/** Headings that the reader of splice matrices knows, and between them what people need to see. */
export const LINE_HEADS = {
  tray: label("tray"),
  place: label("place"),
  at: label("at"),
  from: label("from"),
  from_colours: "colours A",
  fate: label("fate"),
  to: label("to"),
  to_colours: "colours B",
  circuit: "circuit",
  method: label("method"),
  loss_ab_db: label("loss_ab_db"),
  loss_ba_db: label("loss_ba_db"),
  loss_basis: label("loss_basis"),
  made_on: label("made_on"),
  made_by: label("made_by"),
  notes: label("notes"),
} as const;

type Line = Partial<Record<keyof typeof LINE_HEADS, string | number | null>>;

const colours = (layers: readonly Layer[]): string => layers.map(coded).join(", ");

export function spliceCsv({ glass, lines, units }: SpliceSheet): string {
  const at = glass.space?.tag ?? null;
  const joined = lines.map(
    ({ from, to, port, fate, circuits, ...line }): Line => ({
      ...line,
      method: fate === "spliced" ? line.method : null,
      at,
      from: from.strand,
      from_colours: colours(from.layers),
      fate: FATES[fate],
      to: to?.strand ?? port,
      to_colours: to ? colours(to.layers) : "",
      circuit: circuits.join(" "),
    }),
  );
  const rest = units
    .filter(({ fate }) => fate !== "spliced" && fate !== "landed")
    .map(
      ({ strands, layers, fate, circuits }): Line => ({
        at,
        from: strands,
        from_colours: colours(layers),
        fate: FATES[fate],
        circuit: circuits.join(" "),
      }),
    );
  const heads = Object.keys(LINE_HEADS) as (keyof typeof LINE_HEADS)[];
  return written([
    heads.map((head) => LINE_HEADS[head]),
    ...[...joined, ...rest].map((line) => heads.map((head) => shielded(String(line[head] ?? "")))),
  ]);
}
