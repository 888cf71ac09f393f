/** A case's splice sheet on paper: what enters it, each unit with its fate, each joint in the order of the trays. */

import { counted } from "../act/numbering.ts";
import { FATES_SAID } from "../as-built/shapes/splice-fates.ts";
import { KINDS } from "../model/dictionary.ts";
import { type Block, type Cell, type Column, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import { asOneNote } from "../paper/notes.ts";
import { say } from "../words/say.ts";
import { GLASS_CAUTIONS, hazardWords, placeCautions } from "./cautions.ts";
import { chipOf } from "./chips.ts";
import { sharedByContent } from "./column-shares.ts";
import { LINE_HEADS } from "./splice-csv.ts";
import type { SheetEnd, SheetLine, SheetUnit, SpliceSheet } from "./splice-sheet.ts";

export function spliceSheetDocument(sheet: SpliceSheet, title: TitleBlock): Document {
  const { glass, cables, units, lines, twice } = sheet;
  const { closure, ref, space, hazards: place } = glass;
  const hazards = place ? hazardWords(place) : [];
  const joints = counted(lines.length, "joint");
  const unitRows = units.map(unitRow);
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
          String(strands),
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

const unitRow = ({ cable, layers, strands, side, fate, where, remarks, circuits }: SheetUnit): Cell[] => [
  { tick: false },
  cable,
  layers.length === 0 ? say`in the sheath` : chipOf(layers),
  fromWords(strands, side),
  [FATES_SAID[fate], ...remarks].join("; "),
  where.join(", "),
  circuitWords(circuits),
];

function headed(label: string): string {
  return `${label.charAt(0).toUpperCase()}${label.slice(1)}`;
}

/** As they stand in the table that a crew fills in and the record reads again. */
const LINE_COLUMNS: readonly Column[] = [
  { head: say`Done` },
  { head: headed(LINE_HEADS.place), numeric: true },
  { head: headed(LINE_HEADS.from) },
  { head: headed(LINE_HEADS.from_colours) },
  { head: headed(LINE_HEADS.to) },
  { head: headed(LINE_HEADS.to_colours) },
  { head: headed(LINE_HEADS.circuit) },
  { head: `${headed(LINE_HEADS.loss_ab_db)}, dB`, numeric: true },
  { head: `${headed(LINE_HEADS.loss_ba_db)}, dB`, numeric: true },
];

function trayTables({ glass, lines }: SpliceSheet): Block[] {
  const used = Map.groupBy(lines, ({ tray }) => tray);
  const known = glass.trays.map(({ address, capacity, position }) => ({ tray: address, capacity, position }));
  const further = [...used.keys()].filter((tray) => tray !== null && !known.some((one) => one.tray === tray));
  const trays = [...known, ...further.map((tray) => ({ tray, capacity: null, position: null }))];
  const unknown = used.get(null) ?? [];
  const table = tableIn(sharedByContent(LINE_COLUMNS, lines.map(lineRow), { 7: LOSS_ROOM, 8: LOSS_ROOM }));
  return [
    { is: "heading", level: 1, text: say`Joints, tray by tray` },
    ...trays.map(({ tray, capacity, position }): Block => {
      const own = used.get(tray) ?? [];
      const facts = [
        position === null ? "" : say`position ${position} from the bottom`,
        `${counted(own.length, "joint")}${placesTaken(own)}${capacity === null ? "" : say`, takes ${capacity}`}`,
        ...(known.some((one) => one.tray === tray) ? [] : [say`kept in another case`]),
      ].filter(Boolean);
      return table(say`Splice tray ${tray}: ${facts.join("; ")}`, own);
    }),
    ...(unknown.length > 0 ? [table(say`Splice tray not known`, unknown)] : []),
  ];
}

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
