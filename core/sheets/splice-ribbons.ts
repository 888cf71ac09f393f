/**
 * Ribbons on a case's splice sheet: what lies strand by strand in order on both sides of its joints is one ribbon, with a box
 * a strand for the loss each way; and units of which nothing else is to be said stand together by the unit they lie in.
 */
import { shortRange } from "../act/numbering.ts";
import type { Block, Cell, Column } from "../paper/document.ts";
import { colourShort, colourWords } from "../standards/colours.ts";
import type { Layer } from "../standards/strand-colours.ts";
import { say } from "../words/say.ts";
import { chipOf } from "./chips.ts";
import type { SheetEnd, SheetLine, SheetUnit } from "./splice-sheet.ts";

/** So many boxes for losses a row: a greater ribbon takes several rows. */
const BOXES = 12;

interface Split {
  /** Ribbons of two strands and more, each at most as long as a row has boxes. */
  readonly ribbons: readonly (readonly SheetLine[])[];
  readonly single: readonly SheetLine[];
}

/** @param lines of one tray, in its order */
export function ribbonsOf(lines: readonly SheetLine[]): Split {
  const runs: SheetLine[][] = [];
  for (const line of lines) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    if (run && before && run.length < BOXES && goesOn(before, line)) run.push(line);
    else runs.push([line]);
  }
  return {
    ribbons: runs.filter(({ length }) => length > 1),
    single: runs.filter(({ length }) => length === 1).flat(),
  };
}

function goesOn(before: SheetLine, line: SheetLine): boolean {
  if (line.fate !== before.fate || line.place !== before.place || !nextInRibbon(before.from, line.from)) return false;
  if (line.to && before.to) return nextInRibbon(before.to, line.to);
  return line.port !== null && before.port !== null && nextPort(before.port, line.port);
}

/** `F-012:25#1`, in its parts. */
const strandOf = (strand: string) => {
  const [, cable = "", number = "", part = ""] = /^(.*):(\d+)(#\d+)?$/.exec(strand) ?? [];
  return { cable, number: Number(number), part };
};

function nextInRibbon(before: SheetEnd, next: SheetEnd): boolean {
  if (next.layers.at(-2)?.what !== "ribbon" || unitKey(before.layers) !== unitKey(next.layers)) return false;
  const [a, b] = [strandOf(before.strand), strandOf(next.strand)];
  return a.cable === b.cable && a.part === b.part && before.side === next.side && b.number === a.number + 1;
}

const unitKey = (layers: readonly Layer[]): string =>
  layers
    .slice(0, -1)
    .map(({ what, position }) => `${what} ${position}`)
    .join(" ");

/** `LIB/101/A:07#2`, in its parts: the panel, the port's number, the position in it. */
function portOf(address: string): { readonly panel: string; readonly port: number; readonly position: number } | null {
  const [, panel, port, position = "1"] = /^(.*:\D*?)(\d+)(?:#(\d+))?$/.exec(address) ?? [];
  return panel === undefined ? null : { panel, port: Number(port), position: Number(position) };
}

/** The next position of the same port, or the first of the port beside it. */
function nextPort(before: string, next: string): boolean {
  const [a, b] = [portOf(before), portOf(next)];
  if (!a || !b || a.panel !== b.panel) return false;
  return b.port === a.port ? b.position === a.position + 1 : b.port === a.port + 1 && b.position === 1;
}

const COLUMNS: readonly Column[] = [
  { head: say`Done`, weight: 6 },
  { head: say`Position`, numeric: true, weight: 8 },
  { head: say`Ribbon to ribbon`, weight: 46 },
  { head: say`Loss, dB`, weight: 12 },
  ...Array.from({ length: BOXES }, (_, nth): Column => ({ head: String(nth + 1), weight: 7.5 })),
];

/** "1 blue BL, 2 orange OR": the strands of a ribbon in the order of the boxes; empty where no colour is known. */
function orderOf(lines: readonly SheetLine[], side: "from" | "to"): string {
  const own = lines.flatMap((line) => line[side]?.layers.at(-1) ?? []);
  if (own.every(({ name }) => name === null)) return "";
  return own.map((layer) => [colourWords(layer) ?? "?", colourShort(layer)].filter(Boolean).join(" ")).join(", ");
}

/** Whether every ribbon of a sheet has its strands in the same order of colours; that order is said once then. */
export function commonOrder(ribbons: readonly (readonly SheetLine[])[]): string | null {
  const orders = new Set(
    ribbons.flatMap((lines) => [orderOf(lines, "from"), ...(lines[0]?.to ? [orderOf(lines, "to")] : [])]),
  );
  const longest = [...orders].reduce((most, one) => (one.length > most.length ? one : most), "");
  return longest !== "" && [...orders].every((one) => one === longest || longest.startsWith(`${one}, `))
    ? longest
    : null;
}

/** @param common said above already */
export function ribbonTable(
  caption: string,
  ribbons: readonly (readonly SheetLine[])[],
  common: string | null,
  circuitsOf: (lines: readonly SheetLine[]) => string,
): Block {
  return {
    is: "table",
    caption,
    columns: COLUMNS,
    rows: ribbons.flatMap((lines) => ribbonRows(lines, common, circuitsOf)),
  };
}

function ribbonRows(
  lines: readonly SheetLine[],
  common: string | null,
  circuitsOf: (lines: readonly SheetLine[]) => string,
): Cell[][] {
  const [first] = lines as [SheetLine, ...SheetLine[]];
  const circuits = circuitsOf(lines);
  // What is on record of all strands alike is said once, and leaves their boxes free.
  const losses = (loss: "loss_ab_db" | "loss_ba_db", way: string): Cell[] => {
    const known = new Set(lines.map((line) => line[loss]));
    const [alike] = known;
    const once = known.size === 1 && alike != null;
    const boxes = Array.from({ length: BOXES }, (_, nth): Cell => {
      const line = lines[nth];
      return line ? boxFor(once ? null : line[loss]) : "";
    });
    return [once ? say`${way}: ${alike} each` : way, ...boxes];
  };
  const order = (side: "from" | "to"): string[] => {
    const own = common === null ? orderOf(lines, side) : "";
    return own === "" ? [] : [say`strands ${own}`];
  };
  const from = [sideWords(lines, "from"), ...order("from")];
  const carried = circuits === "" ? [] : [say`carries ${circuits}`];
  const place = first.place === null ? "" : String(first.place);
  if (!first.to) {
    const [port, last] = [first.port ?? "", lines.at(-1)?.port ?? ""];
    const at = say`landed on ${port} to ${last.slice(last.lastIndexOf(":") + 1)}`;
    return [[{ tick: false }, place, [...from, at, ...carried], ...losses("loss_ab_db", say`A to B`)]];
  }
  return [
    [{ tick: false }, place, [...from, ...carried], ...losses("loss_ab_db", say`A to B`)],
    ["", "", [say`to ${sideWords(lines, "to")}`, ...order("to")], ...losses("loss_ba_db", say`B to A`)],
  ];
}

/** "F-016:97-108 from LMP/ER, tube 2 orange OR, ribbon 3". */
function sideWords(lines: readonly SheetLine[], side: "from" | "to"): string {
  const ends = lines.flatMap((line) => line[side] ?? []);
  const [one] = ends as [SheetEnd, ...SheetEnd[]];
  const { cable, part } = strandOf(one.strand);
  const strands = `${cable}:${shortRange(ends.map(({ strand }) => strandOf(strand).number))}${part}`;
  const unit = chipOf(one.layers.slice(0, -1))?.words;
  return [one.side === null ? strands : say`${strands} from ${one.side}`, unit].filter(Boolean).join(", ");
}

const boxFor = (loss: number | null): Cell => (loss === null ? { write: true } : { write: true, beside: String(loss) });

/** Each circuit with the boxes of its strands. */
export function circuitBoxes(lines: readonly SheetLine[]): readonly string[] {
  const boxes = new Map<string, number[]>();
  for (const [nth, { circuits }] of lines.entries())
    for (const tag of circuits) boxes.set(tag, [...(boxes.get(tag) ?? []), nth + 1]);
  return [...boxes].map(([tag, own]) => `${tag} (${shortRange(own)})`);
}

/** Units told in one line: one, or the ribbons of one tube that carry nothing and met the same fate. */
export interface UnitsTogether extends SheetUnit {
  /** In words where it is several. */
  readonly several: string | null;
}

export function unitsTogether(units: readonly SheetUnit[]): UnitsTogether[] {
  const groups = Map.groupBy(units, (unit) => togetherKey(unit) ?? unit);
  return [...groups.values()].flatMap((same): UnitsTogether[] => {
    const [first, ...others] = same as [SheetUnit, ...SheetUnit[]];
    if (others.length === 0) return [{ ...first, several: null }];
    const positions = same.flatMap(({ layers }) => layers.at(-1)?.position ?? []);
    const { cable, part } = strandOf(first.strands.split(",")[0]?.replace(/:(\d+)-\d+/, ":$1") ?? "");
    const numbers = same.flatMap((unit) => unit.numbers).sort((a, b) => a - b);
    const around = chipOf(first.layers.slice(0, -1))?.words;
    return [
      {
        ...first,
        numbers,
        strands: `${cable}:${shortRange(numbers)
          .split(",")
          .map((run) => `${run}${part}`)
          .join(",")}`,
        several: [around, say`ribbons ${shortRange(positions)}`].filter(Boolean).join(", "),
      },
    ];
  });
}

/** Null for a unit that stands alone: one that is no ribbon, or of which circuits are to be named. */
function togetherKey({ cable, layers, side, fate, where, remarks, circuits, strands }: SheetUnit): string | null {
  if (layers.at(-1)?.what !== "ribbon" || circuits.length > 0) return null;
  const part = /#\d+$/.exec(strands)?.[0] ?? "";
  return [cable, ...layers.slice(0, -1).map(({ what, position }) => `${what} ${position}`), part, side, fate]
    .concat(where, remarks)
    .join(" ");
}
