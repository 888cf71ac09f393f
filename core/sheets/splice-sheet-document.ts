/** A case's splice sheet on paper: what enters it, each unit with its fate, each joint in the order of the trays. */

import { FATES_SAID } from "../as-built/shapes/splice-fates.ts";
import { KINDS } from "../model/dictionary.ts";
import { type Block, type Cell, type Column, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import { asOneNote } from "../paper/notes.ts";
import { counted } from "../words/counted.ts";
import { formatNumber } from "../words/number.ts";
import { say } from "../words/say.ts";
import { GLASS_CAUTIONS, hazardWords, placeCautions } from "./cautions.ts";
import { chipOf } from "./chips.ts";
import { sharedByContent } from "./column-shares.ts";
import {
  circuitBoxes,
  commonOrder,
  ribbonsOf,
  ribbonTable,
  type UnitsTogether,
  unitsTogether,
} from "./splice-ribbons.ts";
import type { SheetEnd, SheetLine, SpliceSheet } from "./splice-sheet.ts";

export function spliceSheetDocument(sheet: SpliceSheet, title: TitleBlock): Document {
  const { glass, cables, units, lines, twice } = sheet;
  const { closure, ref, space, hazards: place } = glass;
  const hazards = place ? hazardWords(place) : [];
  const joints = counted(lines.length, "joint");
  const unitRows = unitsTogether(units).map(unitRow);
  return {
    paper: "document",
    lying: true,
    title: { ...title, what: say`Splice sheet ${ref.tag}`, code: codeOf("closure", ref.tag) },
    blocks: [
      {
        is: "paragraph",
        text: say`${joints} in ${counted(glass.trays.length, "splice tray")}, ${counted(cables.length, "cable")} in the case. Every strand of them is accounted for below: tick what you find, write what you measure. #1, #2 are the halves of a cut strand; “from” is the end of the cable on that side.`,
      },
      ...asOneNote([
        ...(hazards.length > 0 ? [say`On record for ${space?.tag}: ${hazards.join(", ")}.`] : []),
        ...GLASS_CAUTIONS,
        ...(place ? placeCautions(place) : []),
      ]),
      ...twice.map(
        (strand): Block => ({
          is: "note",
          sign: "caution",
          text: say`${strand} is joined more than once on record: one of these lines is wrong. Look which.`,
        }),
      ),
      {
        is: "values",
        rows: [
          { word: say`In`, value: space?.tag ?? null },
          { word: say`Kind`, value: closure.kind && KINDS.closure.fields.kind.values[closure.kind] },
          { word: say`Hangs`, value: closure.position },
          { word: say`Takes`, value: closure.capacity === null ? null : counted(closure.capacity, "splice") },
          { word: say`Cable entries`, value: closure.entries === null ? null : String(closure.entries) },
        ],
      },
      {
        is: "table",
        caption: say`Cables in the case`,
        columns: [
          { head: say`Found`, weight: 0.6 },
          { head: say`Cable`, weight: 1.4 },
          { head: say`Strands`, numeric: true, weight: 0.8 },
          { head: say`Here it`, weight: 1.6 },
          { head: say`From`, weight: 1.6 },
          { head: say`To`, weight: 1.6 },
          { head: say`Metal`, weight: 2 },
        ],
        rows: cables.map(({ cable, strands, what, from, to, metal }): Cell[] => [
          { tick: false },
          cable,
          formatNumber(strands),
          what,
          from,
          to,
          metal && KINDS.stop.fields.metal.values[metal as keyof typeof KINDS.stop.fields.metal.values],
        ]),
        none: say`No cable is on record in this case.`,
      },
      { is: "heading", level: 1, text: say`Units and what became of them` },
      {
        is: "table",
        caption: say`Each unit of each cable, in the order of the splice trays`,
        dense: true,
        columns: sharedByContent(UNIT_COLUMNS, unitRows),
        rows: unitRows,
        none: say`No strand is on record here.`,
      },
      ...trayTables(sheet),
      { is: "sign", roles: [say`Spliced or looked at by`, say`Measured by`, say`Entered on the record by`] },
    ],
  };
}

const MOST_CIRCUITS = 6;
const circuitWords = (circuits: readonly string[]): string =>
  circuits.length > MOST_CIRCUITS
    ? say`${circuits.slice(0, MOST_CIRCUITS).join(", ")} and ${circuits.length - MOST_CIRCUITS} more`
    : circuits.join(", ");

const fromWords = (strands: string, side: string | null): string =>
  side === null ? strands : say`${strands} from ${side}`;

const UNIT_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Cable` },
  { head: say`Unit` },
  { head: say`Strands` },
  { head: say`Fate` },
  { head: say`Splice tray` },
  { head: say`Circuits` },
];

const unitRow = ({ cable, layers, several, strands, side, fate, where, remarks, circuits }: UnitsTogether): Cell[] => [
  { tick: false },
  cable,
  several ?? (layers.length === 0 ? say`in the sheath` : chipOf(layers)),
  fromWords(strands, side),
  [FATES_SAID[fate], ...remarks].join("; "),
  where.join(", "),
  circuitWords(circuits),
];

/** In the order of the table that a crew fills in and the record reads again; there they are headed as it reads them. */
const LINE_COLUMNS: readonly Column[] = [
  { head: say`Done` },
  { head: say`Position`, numeric: true },
  { head: say`Cable A strand` },
  { head: say`Colours A` },
  { head: say`Cable B strand` },
  { head: say`Colours B` },
  { head: say`Circuit` },
  { head: say`Loss A to B, dB`, numeric: true },
  { head: say`Loss B to A, dB`, numeric: true },
];

function trayTables({ glass, lines }: SpliceSheet): Block[] {
  const used = Map.groupBy(lines, ({ tray }) => tray);
  const known = glass.trays.map(({ address, capacity, position }) => ({ tray: address, capacity, position }));
  const further = [...used.keys()].filter((tray) => tray !== null && !known.some((one) => one.tray === tray));
  const trays = [...known, ...further.map((tray) => ({ tray, capacity: null, position: null }))];
  const unknown = used.get(null) ?? [];
  const parts = new Map([...used].map(([tray, own]) => [tray, ribbonsOf(own)]));
  const ribbons = [...parts.values()].flatMap((one) => one.ribbons);
  const common = commonOrder(ribbons);
  const single = [...parts.values()].flatMap((one) => one.single);
  const table = tableIn(sharedByContent(LINE_COLUMNS, single.map(lineRow), { 7: LOSS_ROOM, 8: LOSS_ROOM }));
  const tables = (caption: string, tray: string | null): Block[] => {
    const own = parts.get(tray) ?? { ribbons: [], single: [] };
    const together = own.ribbons.length > 0 ? [ribbonTable(caption, own.ribbons, common, ribbonCircuits)] : [];
    if (own.single.length === 0 && together.length > 0) return together;
    return [...together, table(together.length > 0 ? say`${caption}; strand by strand` : caption, own.single)];
  };
  return [
    { is: "heading", level: 1, text: say`Joints, tray by tray` },
    ...(ribbons.length > 0 ? [{ is: "paragraph", text: ribbonWords(common) } as const] : []),
    ...trays.flatMap(({ tray, capacity, position }): Block[] => {
      const own = used.get(tray) ?? [];
      const facts = [
        position === null ? "" : say`position ${position} from the bottom`,
        `${counted(own.length, "joint")}${placesTaken(own)}${capacity === null ? "" : say`, takes ${capacity}`}`,
        ...(known.some((one) => one.tray === tray) ? [] : [say`kept in another case`]),
      ].filter(Boolean);
      return tables(say`Splice tray ${tray}: ${facts.join("; ")}`, tray);
    }),
    ...(unknown.length > 0 ? tables(say`Splice tray not known`, null) : []),
  ];
}

const ribbonWords = (common: string | null): string =>
  common === null
    ? say`A ribbon has one line on each side of its joints: under 1 to 12 the loss of each of its strands.`
    : say`A ribbon has one line on each side of its joints: under 1 to 12 the loss of each of its strands. Every ribbon here has its strands in this order, on both sides: ${common}.`;

const ribbonCircuits = (lines: readonly SheetLine[]): string => circuitWords(circuitBoxes(lines));

/** Ribbons spliced at once take one place each: what the tray takes is places. */
function placesTaken(lines: readonly SheetLine[]): string {
  const places = new Set(lines.map(({ place }) => place));
  return places.size < lines.length && !places.has(null) ? say` in ${counted(places.size, "place")}` : "";
}

/** Characters of a loss on record and of the one that is measured now. */
const LOSS_ROOM = 12;

const tableIn =
  (columns: readonly Column[]) =>
  (caption: string, lines: readonly SheetLine[]): Block => ({
    is: "table",
    caption,
    columns,
    rows: lines.map(lineRow),
    none: say`Nothing is kept in it on record.`,
  });

function lineRow({ place, from, to, port, circuits, loss_ab_db, loss_ba_db, fate }: SheetLine): Cell[] {
  return [
    { tick: false },
    place === null ? "" : String(place),
    strandCell(from),
    chipOf(from.layers) ?? "",
    to ? strandCell(to) : (port ?? null),
    to ? (chipOf(to.layers) ?? "") : FATES_SAID[fate],
    circuitWords(circuits),
    lossCell(loss_ab_db),
    to ? lossCell(loss_ba_db) : "",
  ];
}

const strandCell = ({ strand, side }: SheetEnd): Cell => fromWords(strand, side);

/** Room for what is measured, beside what is on record: a joint is measured again, too. */
const lossCell = (loss: number | null): Cell =>
  loss === null ? { write: true } : { write: true, beside: String(loss) };
