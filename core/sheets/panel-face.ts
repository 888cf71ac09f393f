/** A panel's face: its ports in their layout, what is plugged in front and landed behind, what rides, where it leads. */

import { shortRange } from "../act/numbering.ts";
import { idOf, isPosition, NOWHERE, positionEnd } from "../glass/end.ts";
import { CARRIES, jointsAt } from "../glass/glass.ts";
import { KINDS, type Row } from "../model/dictionary.ts";
import { CONNECTORS } from "../model/lists.ts";
import { choiceWords } from "../model/wording.ts";
import { type Block, type Cell, type Column, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import type { FaceDrawing, FacePort } from "../paper/face.ts";
import { asNotes } from "../paper/notes.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import { portTag, sectionTag } from "../trace/line-facts.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { chipOf } from "./chips.ts";
import { sharedByContent } from "./column-shares.ts";
import { type FarEnds, farEnds } from "./far-ends.ts";
import { farInBrief } from "./in-words.ts";

interface PortRow
  extends Pick<
    Row<"port">,
    "id" | "tag" | "face_row" | "connector" | "polish" | "adapter_colour" | "condition" | "front" | "former_tags"
  > {
  readonly module: string | null;
  readonly slot: string | null;
}

export interface FacePosition {
  readonly id: number;
  readonly ordinal: number;
  readonly front: string;
  readonly back: string | null;
  readonly strand: { readonly cable: string; readonly number: number } | null;
  readonly colours: readonly ColourLayer[];
  readonly circuits: readonly string[];
  /** The same for the small boxes of the drawing: in brackets where it is not in service. */
  readonly drawn_circuits: readonly string[];
  readonly far: string | null;
  readonly plugged: boolean;
}

export interface PanelFace {
  readonly panel: RecordRef;
  readonly row: Row<"panel">;
  readonly space: string | null;
  /** By row from the top. */
  readonly rows: readonly (readonly { readonly port: PortRow; readonly positions: readonly FacePosition[] }[])[];
  /** Rows are on record, or there is only one; else they were made by dividing the ports evenly. */
  readonly rows_known: boolean;
}

export async function panelFace(reader: Reader, panel: RecordRef, today: string): Promise<PanelFace> {
  const [row] = await reader.rows<Row<"panel">>("select * from panel where id = ?", [panel.id]);
  if (!row) throw new Error(`panel ${panel.id} was resolved and is not there`);
  const ports = await reader.rows<PortRow>(
    `select p.id, p.tag, p.face_row, p.connector, p.polish, p.adapter_colour, p.condition, p.front, p.former_tags,
       m.tag as module, m.slot from port p left join module m on m.id = p.module_id
     where (p.panel_id = ? or m.panel_id = ?) and p.life in ${CARRIES}
     order by p.face_row, m.tag_key is not null, m.tag_key, p.tag_key, p.id`,
    [panel.id, panel.id],
  );
  const positions = await reader.rows<{ id: number; port_id: number; ordinal: number }>(
    `select id, port_id, ordinal from position where port_id in (select value from json_each(?)) order by port_id, ordinal`,
    [JSON.stringify(ports.map(({ id }) => id))],
  );
  const ends = positions.flatMap(({ id }) => [positionEnd(id, "back"), positionEnd(id, "front")]);
  const found = await farEnds(reader, ends, today);
  const fronts = new Map(ports.map(({ id, front }) => [id, front]));
  const told = positions.map((one) => ({ ...one, ...positionTold(found, one.id, fronts.get(one.port_id) ?? null) }));
  const byPort = Map.groupBy(told, ({ port_id }) => port_id);
  const all = ports.map((port) => ({ port, positions: byPort.get(port.id) ?? [] }));
  return {
    panel,
    row,
    space: panel.tag.includes("/") ? panel.tag.slice(0, panel.tag.lastIndexOf("/")) : null,
    ...laid(all, row.rows),
  };
}

function positionTold({ glass, facts, leads }: FarEnds, id: number, seen: Row<"port">["front"]) {
  const [back, front] = [positionEnd(id, "back"), positionEnd(id, "front")];
  const named = (end: number): string => {
    const position = isPosition(end) ? facts.positions.get(idOf(end)) : undefined;
    return position
      ? `${portTag(facts, position)}${position.of > 1 ? `#${position.ordinal}` : ""}`
      : say`nobody knows where`;
  };
  const cords = jointsAt(glass, front).map(({ kind, id: cord, to }) => {
    const where = to === NOWHERE ? say`hangs loose` : say`to ${named(to)}`;
    if (kind === "assumed") return say`assumed cord ${where}`;
    const tag = facts.cords.get(cord)?.tag;
    return tag ? say`cord ${tag} ${where}` : say`cord ${where}`;
  });
  const behind = jointsAt(glass, back);
  const landed = behind.flatMap(({ kind, to }) =>
    kind === "termination" && to !== NOWHERE && !isPosition(to) ? (facts.sections.get(idOf(to)) ?? []) : [],
  );
  const joined = behind.flatMap(({ kind, to }) =>
    kind !== "termination" && to !== NOWHERE ? [say`joined to ${named(to)}`] : [],
  );
  const lead = leads.get(back);
  const given = landed.flatMap(({ id: section }) => facts.service.circuitsOf(section));
  const circuits = given.map(({ tag, state }) =>
    state === "in_service" ? tag : `${tag} (${choiceWords("circuit", "state", state)})`,
  );
  const drawn = given.map(({ tag, state }) => (state === "in_service" ? tag : `(${tag})`));
  const [first] = landed;
  const cable = first && facts.cables.byId.get(first.cable_id)?.ref.tag;
  const backs = [...landed.map((section) => sectionTag(facts, section)), ...joined];
  return {
    front: cords.length > 0 ? cords.join("; ") : SEEN[seen ?? "unseen"],
    plugged: cords.length > 0 || seen === "cord",
    back: backs.length > 0 ? backs.join("; ") : null,
    strand: first && cable && landed.length === 1 ? { cable, number: first.number } : null,
    colours: first ? facts.cables.coloursOf(first) : [],
    circuits: [...new Set(circuits)],
    drawn_circuits: [...new Set(drawn)],
    far: behind.length === 0 ? null : lead?.end ? farInBrief(lead.end) : say`${lead?.ends ?? 0} ends`,
  };
}

const SEEN = {
  cord: say`a cord was seen, none is on record`,
  empty: say`seen empty`,
  unseen: say`not looked at`,
} as const;

type Placed = PanelFace["rows"][number][number];

/** By the rows on record; where none is, evenly over as many rows as the panel has. */
function laid(all: readonly Placed[], rows: number | null): Pick<PanelFace, "rows" | "rows_known"> {
  if (all.every(({ port }) => port.face_row !== null)) {
    const byRow = [...Map.groupBy(all, ({ port }) => port.face_row ?? 0)].sort(([a], [b]) => a - b);
    return { rows: byRow.map(([, row]) => row), rows_known: true };
  }
  const each = Math.max(1, Math.ceil(all.length / (rows ?? 1)));
  const parts = Array.from({ length: Math.ceil(all.length / each) }, (_, index) =>
    all.slice(index * each, (index + 1) * each),
  );
  return { rows: parts, rows_known: rows === 1 };
}

const label = ({ port }: Placed): string => (port.module === null ? port.tag : `${port.module}:${port.tag}`);

export function panelFaceDocument({ panel, row, space, rows, rows_known }: PanelFace, title: TitleBlock): Document {
  const all = rows.flat();
  const positions = all.flatMap((one) => one.positions);
  const [landed, lit] = [
    positions.filter(({ back }) => back !== null),
    positions.filter(({ circuits }) => circuits.length > 0),
  ];
  const taken = new Set(all.map(({ port }) => takesOf(port)));
  // What every port takes is said once, above, and not in each row.
  const alike = taken.size === 1 ? ([...taken][0] ?? null) : null;
  const columns = alike === null ? POSITION_COLUMNS : POSITION_COLUMNS.filter((column) => column !== TAKES);
  const rowsOfPositions = all.flatMap((one) => positionRows(one, alike === null));
  const former = formerWords(row.former_tags);
  const where = [
    space ?? say`nobody knows where`,
    row.rack && say`rack ${row.rack}`,
    row.rack_unit && say`from unit ${row.rack_unit}`,
    row.height_u && say`${row.height_u} U high`,
  ];
  return {
    paper: "document",
    lying: true,
    title: { ...title, what: say`Panel face ${panel.tag}`, code: codeOf("panel", panel.tag) },
    blocks: [
      {
        is: "paragraph",
        text: say`${counted(all.length, "port")} with ${counted(positions.length, "position")}: ${landed.length} landed behind, ${lit.length} given to circuits.`,
      },
      ...asNotes([
        say`Treat every port as lit: this light cannot be seen. Don't look into a port or a plug; cap what you unplug, and unplug nothing whose circuit you don't know.`,
      ]),
      {
        is: "values",
        rows: [
          // Few lines, so that front and back of a tall panel stand on one page.
          { word: say`Stands in`, value: where.filter(Boolean).join(", ") },
          { word: say`Model`, value: modelWords(row.kind, alike) },
          ...(former === "" ? [] : [{ word: say`Former tags`, value: former }]),
        ],
      },
      ...(rows_known
        ? []
        : [note(say`Rows of ports are not on record; they were divided evenly here. Look, and record them.`)]),
      { is: "heading", level: 1, text: say`Front` },
      { is: "face", drawing: drawn(panel.tag, rows, "front") },
      { is: "heading", level: 1, text: say`Back` },
      { is: "face", drawing: drawn(panel.tag, rows, "back") },
      { is: "heading", level: 1, text: say`Position by position` },
      {
        is: "table",
        caption: say`What is in front, what is landed behind, what rides, and where the glass behind leads`,
        dense: true,
        columns: sharedByContent(columns, rowsOfPositions),
        rows: rowsOfPositions,
        none: say`No port is on record.`,
      },
      { is: "sign", roles: [say`Looked at by`] },
    ],
  };
}

const TAKES: Column = { head: say`Takes` };
const POSITION_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Position` },
  TAKES,
  { head: say`In front` },
  { head: say`Circuit` },
  { head: say`Behind` },
  { head: say`Its colours` },
  { head: say`Leads to` },
];

const note = (text: string): Block => ({ is: "note", sign: "note", text });
function modelWords(model: string | null, alike: string | null): string | null {
  const takes = alike === null ? "" : say`each port takes ${alike}`;
  return [model ?? "", takes].filter(Boolean).join("; ") || null;
}

const formerWords = (tags: string | null): string => (tags === null ? "" : (JSON.parse(tags) as string[]).join(", "));

function takesOf({ connector, polish, adapter_colour, condition }: PortRow): string {
  const ground = polish && KINDS.port.fields.polish.values[polish];
  const takes = [connector && CONNECTORS[connector], ground, adapter_colour].filter(Boolean).join(" ");
  return [takes || say`not known`, ...(condition === null || condition === "good" ? [] : [condition])].join(", ");
}

/** @param each whether each row says what its port takes */
function positionRows(one: Placed, each: boolean): Cell[][] {
  const { port, positions } = one;
  return positions.map(({ ordinal, front, circuits, back, colours, far }): Cell[] => [
    { tick: false },
    positions.length > 1 ? `${label(one)}#${ordinal}` : label(one),
    ...(each ? [takesOf(port)] : []),
    front,
    circuits.join(", "),
    back ?? say`nothing on record`,
    chipOf(colours) ?? "",
    far ?? "",
  ]);
}

function drawn(panel: string, rows: PanelFace["rows"], seen: "front" | "back"): FaceDrawing {
  return {
    panel,
    seen,
    rows: rows.map((row) => row.map((one): FacePort => (seen === "front" ? frontPort(one) : backPort(one)))),
    legend:
      seen === "front"
        ? say`● a plug in it, ○ seen empty, ? not looked at; below the number the circuits on the glass behind, in brackets one that is not in service: the list below says what it is.`
        : say`■ glass landed, □ none on record; below the number the strands.`,
  };
}

function frontPort(one: Placed): FacePort {
  const { port, positions } = one;
  const sign = positions.some(({ plugged }) => plugged) ? "●" : port.front === "empty" ? "○" : "?";
  const circuits = [...new Set(positions.flatMap((position) => position.drawn_circuits))];
  return {
    tag: label(one),
    sign,
    lines: circuits.length > 2 ? [circuits[0] ?? "", say`and ${circuits.length - 1} more`] : circuits,
  };
}

function backPort(one: Placed): FacePort {
  const strands = one.positions.flatMap(({ strand }) => strand ?? []);
  const byCable = Map.groupBy(strands, ({ cable }) => cable);
  const lines = [...byCable].flatMap(([cable, own]) => [
    cable,
    shortRange(own.map(({ number }) => number).sort((a, b) => a - b)),
  ]);
  const others = one.positions.flatMap(({ back, strand }) => (back !== null && strand === null ? [back] : []));
  return {
    tag: label(one),
    sign: one.positions.some(({ back }) => back !== null) ? "■" : "□",
    lines: [...lines, ...others],
  };
}
