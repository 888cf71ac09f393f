/**
 * Splice sheets on paper, those of one place together: units that meet strand for strand a row with a box for each loss, as
 * do ribbons that are spliced at once; any other strand a row.
 */
import { shortRange } from "../act/numbering.ts";
import { formatNumber } from "../model/units.ts";
import type { Band, Block, Cell } from "../paper/document.ts";
import { say } from "../words/say.ts";
import type { Packet } from "./packet.ts";
import type { SheetRow, SpliceSheet } from "./splice-sheet.ts";

/** So many boxes for losses a row: a greater ribbon takes several rows. */
const BOXES = 12;

interface Row extends SheetRow {
  readonly tray: string;
}
type Part = readonly Row[];

export function sheetBlocks({ sheets: all, steps, splice_limit }: Packet): Block[] {
  const at_once = new Map(steps.map(({ ordinal, input }) => [ordinal, ribbonOf(input)]));
  // Who splices in one place takes its sheets along; those of the next go with somebody else.
  const places = Map.groupBy(all, ({ place, case: own }) => place?.tag ?? own);
  return [...places.values()].flatMap((sheets): Block[] => [
    { is: "page" },
    ...(splice_limit === null || sheets.every(({ rows }) => rows.length === 0)
      ? []
      : [
          {
            is: "paragraph",
            text: say`A splice that loses more than ${formatNumber(splice_limit.db, 2)} dB is made anew. Limit in use: ${splice_limit.source}.`,
          } as const,
        ]),
    ...onceInTurn(
      [...Map.groupBy(sheets, (sheet) => sheet.case)].flatMap(([own, trays]) => caseBlocks(own, trays, at_once)),
    ),
  ]);
}

/** What the sheet before said in the same words isn't said again. */
function onceInTurn(blocks: readonly Block[]): Block[] {
  let said = "";
  return blocks.filter((block) => {
    if (block.is !== "paragraph") return true;
    const again = block.text === said;
    said = block.text;
    return !again;
  });
}

function caseBlocks(own: string, trays: readonly SpliceSheet[], at_once: ReadonlyMap<number, number>): Block[] {
  const rows = trays
    .flatMap(({ tray, rows: inTray }) => inTray.map((row): Row => ({ ...row, tray })))
    .sort((a, b) => a.step - b.step);
  const parts = partsOf(rows, at_once);
  const each = ([first]: Part): number => at_once.get(first?.step ?? 0) ?? 1;
  const ribbons = parts.filter((part) => part.length > 1 && each(part) > 1);
  const units = parts.filter((part) => part.length > 1 && each(part) === 1);
  const single = parts.filter(({ length }) => length === 1).flat();
  const place = trays[0]?.place;
  const where = trays.length === 1 ? (trays[0]?.tray ?? own) : own;
  return [
    { is: "heading", level: 1, text: say`Splice sheet ${own}` },
    ...(place && !own.startsWith(place.tag) ? [{ is: "paragraph", text: say`In ${place.tag}.` } as const] : []),
    ...(ribbons.length > 0 ? unitBlocks(where, ribbons, true) : []),
    ...(units.length > 0 ? unitBlocks(where, units, false) : []),
    ...(single.length > 0 || parts.length === 0 ? [strandTable(where, single)] : []),
    ...trays.flatMap(({ later }) =>
      later.map((words): Block => ({ is: "paragraph", text: say`Strands not on record yet: ${words}` })),
    ),
  ];
}

/** Says the tray before its rows, where there are several. */
function bandsOf(parts: readonly Part[]): readonly Band[] | null {
  const bands = parts.flatMap(([first], at): Band[] =>
    first && parts[at - 1]?.[0]?.tray !== first.tray ? [{ at, title: say`Splice tray ${first.tray}` }] : [],
  );
  return bands.length > 1 ? bands : null;
}

function ribbonOf(input: unknown): number {
  const { form, ribbon } = (input ?? {}) as { readonly form?: unknown; readonly ribbon?: unknown };
  return form === "ribbon" && typeof ribbon === "number" ? ribbon : 1;
}

/**
 * Rows that are one ribbon, or strands of one unit that meet those of the same places and colours, at most twelve; any other
 * row by itself.
 */
function partsOf(rows: readonly Row[], at_once: ReadonlyMap<number, number>): Part[] {
  const parts: Row[][] = [];
  let [step, nth] = [0, 0];
  for (const row of rows) {
    nth = row.step === step ? nth + 1 : 0;
    step = row.step;
    const each = at_once.get(row.step) ?? 1;
    const last = parts.at(-1);
    const before = last?.at(-1);
    const goes_on =
      before !== undefined &&
      before.step === row.step &&
      before.tray === row.tray &&
      follows(before.from.strand.tag, row.from.strand.tag) &&
      follows(before.to.strand.tag, row.to.strand.tag) &&
      (each > 1
        ? nth % each !== 0 && (last?.length ?? 0) < BOXES
        : samePlaces(before) && samePlaces(row) && goesOn(before, row));
    if (goes_on) last?.push(row);
    else parts.push([row]);
  }
  return parts;
}

/** The box of a strand by its place in its unit, from 0. */
const boxOf = ({ from }: SheetRow): number => ((from.position ?? 1) - 1) % BOXES;

/** Which strand meets which is seen without a look at its colours. */
const samePlaces = ({ from, to }: SheetRow): boolean =>
  (from.position ?? null) !== null && from.position === to.position && from.colour === to.colour;

const goesOn = (before: SheetRow, row: SheetRow): boolean =>
  before.from.unit === row.from.unit && before.to.unit === row.to.unit && boxOf(row) === boxOf(before) + 1;

const split = (tag: string): readonly [string, number] => {
  const colon = tag.lastIndexOf(":");
  return [tag.slice(0, colon), Number(tag.slice(colon + 1))];
};

function follows(before: string, next: string): boolean {
  const [a, b] = [split(before), split(next)];
  return a[0] === b[0] && b[1] === a[1] + 1;
}

/** The colour of each box, where no two rows differ in it; null where they do. */
function coloursOf(parts: readonly Part[]): readonly (SheetRow["from"] | undefined)[] | null {
  const boxes: (SheetRow["from"] | undefined)[] = [];
  for (const row of parts.flat()) {
    const box = boxOf(row);
    if ((boxes[box] ?? row.from).colour !== row.from.colour || row.from.colour == null) return null;
    boxes[box] ??= row.from;
  }
  return boxes;
}

const named = (box: number, { colour, short }: SheetRow["from"]): string =>
  [box, colour, short].filter(Boolean).join(" ");

function unitBlocks(where: string, parts: readonly Part[], ribbons: boolean): Block[] {
  const edges = new Set(parts.flatMap((rows) => [edgeOf(rows, "from"), edgeOf(rows, "to")]));
  const [edge] = edges;
  // What is of one colour code is told it once.
  const boxes = ribbons ? null : coloursOf(parts);
  const same = ribbons ? edges.size === 1 && edge !== undefined && edge !== "" : boxes !== null;
  const order = boxes ? boxes.flatMap((one, box) => (one ? named(box + 1, one) : [])).join(", ") : edge;
  const cables = alikeCables(parts);
  const bands = bandsOf(parts);
  return [
    ...(same
      ? [
          {
            is: "paragraph",
            text: ribbons
              ? say`Every ribbon here has its strands in this order, on both cables: ${order}.`
              : say`Every unit here has its strands in this order, on both sides, and each meets its like: ${order}.`,
          } as const,
        ]
      : []),
    {
      is: "table",
      caption: captionOf(where, ribbons, cables),
      columns: [
        { head: say`Step`, numeric: true, weight: 1.6 },
        { head: say`Done`, weight: 1.5 },
        { head: headOf(ribbons, cables !== null), weight: 7.4 },
        // As wide as a figure takes that is written by hand in the rain.
        ...Array.from({ length: BOXES }, (_, box) => ({
          head: [box + 1, boxes?.[box]?.short].filter(Boolean).join("\n"),
          weight: 1.22,
        })),
      ],
      ...(bands ? { bands } : {}),
      rows: parts.map((rows): Cell[] => {
        const [first] = rows;
        const taken = rows.map((row, nth) => (ribbons ? nth : boxOf(row)));
        const circuits = circuitsOf(rows, taken);
        return [
          String(first?.step ?? ""),
          { tick: first?.done ?? false },
          [...sidesOf(rows, same, cables !== null), ...(circuits === "" ? [] : [say`carries ${circuits}`])],
          ...Array.from({ length: BOXES }, (_, box): Cell => (taken.includes(box) ? { write: true } : "")),
        ];
      }),
      none: "",
    },
  ];
}

const headOf = (ribbons: boolean, alike: boolean): string =>
  ribbons ? (alike ? say`Ribbon` : say`Ribbon to ribbon`) : alike ? say`Unit` : say`Unit to unit`;

function captionOf(where: string, ribbons: boolean, cables: readonly [string, string] | null): string {
  if (!ribbons)
    return cables
      ? say`Splices in ${where}, ${cables[0]} to ${cables[1]} number for number, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`
      : say`Splices in ${where}, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`;
  return cables
    ? say`Ribbons in ${where}, ${cables[0]} to ${cables[1]} number for number, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`
    : say`Ribbons in ${where}, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`;
}

/** The two cables, where every ribbon of one meets the ribbon of the same numbers and unit of the other. */
function alikeCables(parts: readonly Part[]): readonly [string, string] | null {
  const pairs = new Set<string>();
  for (const { from, to } of parts.flat()) {
    const [a, b] = [split(from.strand.tag), split(to.strand.tag)];
    if (a[0] === b[0] || a[1] !== b[1] || from.unit !== to.unit || from.colour !== to.colour) return null;
    pairs.add(`${a[0]}\n${b[0]}`);
  }
  const [pair = ""] = pairs;
  const [from, to] = pair.split("\n");
  return pairs.size === 1 && from && to ? [from, to] : null;
}

/** Both sides of a ribbon; what they have in common is said once, and the cables not at all where the caption names them. */
function sidesOf(rows: readonly SheetRow[], same: boolean, alike: boolean): string[] {
  const [first] = rows;
  const [from, to] = (["from", "to"] as const).map((side) => rangeOf(rows.map((row) => row[side].strand.tag)));
  if (alike) {
    const numbers = shortRange(rows.map(({ from: one }) => split(one.strand.tag)[1]));
    const strands = same ? "" : edgeOf(rows, "from");
    return [
      [numbers, first?.from.unit ?? "", strands === "" ? "" : say`strands ${strands}`].filter(Boolean).join(", "),
    ];
  }
  const [own, other] = [first?.from.unit ?? "", first?.to.unit ?? ""];
  const edges = (["from", "to"] as const).map((side) => {
    const edge = same ? "" : edgeOf(rows, side);
    return edge === "" ? "" : say`, strands ${edge}`;
  });
  const unit = (words: string): string => (words === "" ? "" : `, ${words}`);
  if (from === to && own === other && edges[0] === edges[1]) return [say`${from}${unit(own)}${edges[0]}, to itself`];
  if (own === other && edges[0] === edges[1]) return [say`${from} to ${to}${unit(own)}${edges[0]}`];
  return [`${from}${unit(own)}${edges[0]}`, say`to ${to}${unit(other)}${edges[1]}`];
}

/** "blue, orange, green …": the colours of its strands in the order of the boxes; empty where none is known. */
function edgeOf(rows: readonly SheetRow[], side: "from" | "to"): string {
  const own = rows.map((row) => row[side].colour ?? null);
  return own.every((colour) => colour === null) ? "" : own.map((one) => one ?? "?").join(", ");
}

function rangeOf(tags: readonly string[]): string {
  const [cable] = split(tags[0] ?? "");
  return `${cable}:${shortRange(tags.map((tag) => split(tag)[1]))}`;
}

/** Each circuit with the boxes of its strands. */
function circuitsOf(rows: readonly SheetRow[], taken: readonly number[]): string {
  const boxes = new Map<string, number[]>();
  for (const [nth, { circuits }] of rows.entries())
    for (const { tag } of circuits) boxes.set(tag, [...(boxes.get(tag) ?? []), (taken[nth] ?? nth) + 1]);
  return [...boxes].map(([tag, own]) => `${tag} (${shortRange(own)})`).join(", ");
}

function strandTable(where: string, rows: readonly Row[]): Block {
  const bands = bandsOf(rows.map((row) => [row]));
  return {
    is: "table",
    caption: say`Splices in ${where}, strand by strand in the order of the steps`,
    ...(bands ? { bands } : {}),
    columns: [
      { head: say`Step`, numeric: true, weight: 0.8 },
      { head: say`Done`, weight: 0.8 },
      { head: say`From`, weight: 1.6 },
      { head: say`Its colours`, weight: 3.8 },
      { head: say`To`, weight: 1.6 },
      { head: say`Its colours`, weight: 3.8 },
      { head: say`Circuit`, weight: 1.3 },
      { head: say`Loss, dB`, weight: 1.2 },
    ],
    rows: rows.map(({ step, done, from, to, circuits: on }): Cell[] => [
      String(step),
      { tick: done },
      from.strand.tag,
      from.colours,
      to.strand.tag,
      to.colours,
      on.map(({ tag }) => tag).join(", "),
      { write: true },
    ]),
    none: say`No strand of these steps is on record yet.`,
  };
}
