/** The card of a hole or room: whoever lifts the lid knows what enters where, what passes, and what can hurt. */

import { KINDS } from "../model/dictionary.ts";
import { formatLength, formatNumber } from "../model/units.ts";
import { shownDay } from "../model/wording.ts";
import {
  type Band,
  type Block,
  type Cell,
  type Column,
  codeOf,
  type Document,
  type TitleBlock,
} from "../paper/document.ts";
import { asNotes } from "../paper/notes.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { GLASS_CAUTIONS, hazardWords, placeCautions } from "./cautions.ts";
import { sharedByContent } from "./column-shares.ts";
import {
  type Hole,
  type HoleCable,
  type HoleCase,
  type HoleWay,
  hasWalls,
  lookWords,
  wallsOf,
  wallWords,
} from "./hole-facts.ts";

const metres = (value: number | null): string | null => (value === null ? null : formatLength(value, "m", 1));

const HOLES = new Set(["maintenance_hole", "hand_hole", "pull_box"]);

export function holeCardDocument(hole: Hole, title: TitleBlock): Document {
  const { space, row, ways, cables, cases } = hole;
  const hazards = hazardWords(row);
  const walled = hasWalls(hole);
  const hole_word = HOLES.has(row.kind ?? "") ? say`Hole card` : say`Card of`;
  const light = cables.some(({ strands }) => strands > 0) ? GLASS_CAUTIONS.slice(0, 1) : [];
  return {
    paper: "document",
    title: { ...title, what: `${hole_word} ${space.tag}`, code: codeOf("space", space.tag) },
    blocks: [
      { is: "paragraph", text: sentence(hole) },
      ...asNotes([
        ...placeCautions(row),
        ...light,
        hazards.length > 0
          ? say`On record as dangerous here: ${hazards.join(", ")}.`
          : say`Nothing is on record as dangerous here: that nobody recorded a danger does not mean that there is none.`,
      ]),
      { is: "values", rows: facts(hole) },
      { is: "heading", level: 1, text: walled ? say`Walls, as seen from inside` : lookWords(hole, space.tag) },
      ...(walled ? [{ is: "walls", drawing: { walls: wallsOf(hole) } } as const] : []),
      ...wayBlocks(ways, walled),
      { is: "heading", level: 1, text: say`Cables` },
      cableTable(cables),
      { is: "heading", level: 1, text: say`Opened here` },
      {
        is: "table",
        caption: say`Splice cases and how full they are`,
        columns: [
          { head: say`Found`, weight: 0.6 },
          { head: say`Case`, weight: 2 },
          { head: say`Kind`, weight: 1.2 },
          { head: say`Hangs`, weight: 2 },
          { head: say`Joints`, numeric: true },
          { head: say`Takes`, numeric: true },
          { head: say`Cables in it`, weight: 3 },
        ],
        rows: cases.map(({ closure, kind, position, held, capacity, cables: own }): Cell[] => [
          { tick: false },
          closure.tag,
          kind && KINDS.closure.fields.kind.values[kind],
          position,
          String(held),
          capacity === null ? null : String(capacity),
          [...new Set(cables.flatMap(({ cable }) => (own.includes(cable.id) ? [cable.tag] : [])))].join(", ") ||
            say`none on record`,
        ]),
        none: say`No splice case is on record here.`,
      },
      ...openedWithoutCase(cables, cases),
      {
        is: "table",
        caption: say`What was found otherwise, the air as it was tested, and the water`,
        columns: [
          { head: say`What`, weight: 2 },
          { head: say`Found`, weight: 3 },
        ],
        rows: [say`Air before going in: gas, oxygen`, say`Water: how deep, pumped`, say`Otherwise`].map(
          (what): Cell[] => [what, { write: true }],
        ),
      },
      { is: "sign", roles: [say`Looked at by`] },
    ],
  };
}

function sentence({ space, row, ways, cables, cases }: Hole): string {
  const kind = row.kind === null ? say`A place` : `A ${KINDS.space.fields.kind.values[row.kind]}`;
  const opened = cables.filter(({ kind: what }) => what === "opened" || what === "severed").length;
  const parts = [
    counted(ways.length, "way enters", "ways enter"),
    counted(cables.length, "cable", "cables"),
    ...(opened > 0 ? [say`${opened} of them opened or severed`] : []),
    counted(cases.length, "splice case"),
  ];
  return `${kind}, ${space.tag}${row.name ? `, ${row.name}` : ""}: ${parts.join(", ")}.`;
}

function facts({ row, key_holder, last_visit }: Hole): { readonly word: string; readonly value: Cell }[] {
  const size = [row.inner_length_m, row.inner_width_m, row.inner_depth_m];
  const spot =
    row.latitude === null || row.longitude === null
      ? null
      : `${row.latitude.toFixed(6)}, ${row.longitude.toFixed(6)} (${row.accuracy_m === null ? say`accuracy not known` : `± ${metres(row.accuracy_m)}`})`;
  return [
    // A pole has no inside; what was entered of it all the same is shown.
    ...(row.kind === "pole" && size.every((one) => one === null)
      ? []
      : [
          {
            word: say`Inside: length, width, depth`,
            value: size.map((one) => metres(one) ?? say`not known`).join(" × "),
          },
        ]),
    { word: say`Crossing, mouth to mouth`, value: metres(row.crossing_m) },
    { word: say`Reach to where one splices`, value: metres(row.reach_m) },
    { word: say`Environment`, value: row.environment && KINDS.space.fields.environment.values[row.environment] },
    { word: say`Key`, value: key_holder ?? say`nobody on record` },
    { word: say`Where the record puts it`, value: spot },
    { word: say`Last visit`, value: last_visit && shownDay(last_visit) },
  ];
}

function wayBlocks(ways: readonly HoleWay[], walled: boolean): Block[] {
  const notes: string[] = [];
  if (walled && ways.some(({ by_map }) => by_map))
    notes.push(say`A wall “by the map”, its window's edges dashed, is recorded by nobody: look, and record it.`);
  if (walled && ways.some(({ mirrored }) => mirrored))
    notes.push(say`From the other end a window is the mirror of what is drawn here.`);
  const all = ways.map((way) => ({ way, rows: wayRows(way) }));
  const rows = all.flatMap((one) => one.rows);
  const bands = all.map(({ way }, index): Band => {
    const at = all.slice(0, index).reduce((sum, one) => sum + one.rows.length, 0);
    const wall = `${wallWords(way.wall)}${way.by_map ? say`, by the map` : ""}`;
    const to = way.to?.tag ?? say`a place that nobody knows`;
    return { at, title: walled ? say`${wall}: ${way.pathway.tag} to ${to}` : say`${way.pathway.tag} to ${to}` };
  });
  return [
    ...(notes.length > 0 ? [{ is: "note", sign: "note", text: notes.join(" ") } as const] : []),
    {
      is: "table",
      caption: walled ? say`What enters where` : say`Which ways lead to it`,
      dense: true,
      columns: sharedByContent(WAY_COLUMNS, rows, { 2: ROW_ROOM }),
      rows,
      bands,
      none: say`No way is on record as entering here.`,
    },
  ];
}

/** Characters of a head of several words, so that it doesn't stand three lines tall over "1, 2". */
const ROW_ROOM = 11;

const WAY_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Pipe` },
  { head: say`Row, column from left` },
  { head: say`State` },
  { head: say`Bore`, numeric: true },
  { head: say`In it` },
];

function wayRows(way: HoleWay): Cell[][] {
  const pipes = way.pipes.map((pipe): Cell[] => [
    { tick: false },
    `${pipe.conduit.tag.slice(way.pathway.tag.length + 1)}${pipe.inside ? say` in ${pipe.inside.tag.slice(way.pathway.tag.length + 1)}` : ""}`,
    pipe.inside ? "" : pipe.row === null || pipe.seen_column === null ? null : `${pipe.row}, ${pipe.seen_column}`,
    pipe.state && KINDS.conduit.fields.state.values[pipe.state],
    pipe.inner_diameter_mm === null ? null : `${formatNumber(pipe.inner_diameter_mm, 1)} mm`,
    [
      ...pipe.occupants.map(({ cable, strands }) => `${cable.tag}, ${counted(strands, "strand")}`),
      ...(pipe.pull_line ? [say`pull line`] : []),
    ].join("; ") || say`nothing on record`,
  ]);
  if (pipes.length > 0 && way.loose.length === 0) return pipes;
  const loose = way.loose.join(", ");
  return [
    ...pipes,
    [
      { tick: false },
      pipes.length > 0 ? say`pipe not known` : way.kind,
      "",
      "",
      "",
      loose === "" ? say`nothing on record` : loose,
    ],
  ];
}

const WHAT = { end: say`ends`, passing: say`passes`, opened: say`opened`, severed: say`severed` } as const;

const CABLE_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Cable` },
  { head: say`Strands`, numeric: true },
  { head: say`Here` },
  { head: say`From` },
  { head: say`On to` },
  { head: say`Marks` },
  { head: say`Coil`, numeric: true },
  { head: say`Stored` },
  { head: say`Metal` },
];

function cableTable(cables: readonly HoleCable[]): Block {
  const rows = cables.map((one): Cell[] => [
    { tick: false },
    one.owner ? [one.cable.tag, say`of ${one.owner}`] : one.cable.tag,
    one.strands === 0 ? null : formatNumber(one.strands),
    WHAT[one.kind],
    one.before ?? (one.kind === "end" ? say`begins here` : null),
    one.beyond ?? (one.kind === "end" ? say`ends here` : null),
    one.marks.length === 0
      ? null
      : `${one.marks.map((mark) => formatNumber(mark, 1)).join(", ")}${one.mark_unit ? ` ${one.mark_unit}` : ""}`,
    metres(one.coil_m),
    storedWords(one),
    one.metal,
  ]);
  return {
    is: "table",
    caption: say`What passes or ends here, and its coil`,
    dense: true,
    columns: sharedByContent(CABLE_COLUMNS, rows, { 9: METAL_ROOM }),
    rows,
    none: say`No cable is on record here.`,
  };
}

/** Characters of "not known", which a cell of nothing is printed as. */
const METAL_ROOM = 9;

function storedWords({ storage, coil_diameter_mm }: HoleCable): string | null {
  if (storage === null) return null;
  const words = KINDS.stop.fields.storage.values[storage];
  return coil_diameter_mm === null ? words : say`${words}, ${formatNumber(coil_diameter_mm, 0)} mm across`;
}

function openedWithoutCase(cables: readonly HoleCable[], cases: readonly HoleCase[]): Block[] {
  const inside = new Set(cases.flatMap((one) => one.cables));
  const open = cables.filter(({ kind, cable }) => (kind === "opened" || kind === "severed") && !inside.has(cable.id));
  return open.map(({ cable, kind }) => ({
    is: "note",
    sign: "caution",
    text: say`${cable.tag} is ${WHAT[kind]} here, and no case is on record for it: look for bare strands.`,
  }));
}
