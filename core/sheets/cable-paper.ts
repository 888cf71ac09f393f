/** A cable on paper: its course with marks and coils, its legs, itself cut across, and every strand with what it does. */

import { STATES } from "../feeds/wording.ts";
import { formatNumber, type LengthUnit } from "../model/units.ts";
import { type Block, type Cell, type Column, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import type { LineDrawing } from "../paper/line.ts";
import { asNotes } from "../paper/notes.ts";
import type { SectionDrawing, SectionGroup } from "../paper/section.ts";
import type { CableAnswer, CableStop, CableStrand, CableUnit } from "../trace/cable-answer.ts";
import { LENGTH_FROM_WORDS } from "../trace/length-words.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { chipOf, coded, inkOf } from "./chips.ts";
import { sharedByContent } from "./column-shares.ts";
import { few, knownBy, lengthIn, placeText, plain } from "./in-words.ts";

const KINDS = { end: say`ends`, passing: say`passes`, opened: say`opened`, severed: say`severed` } as const;

export function cableSheetDocument(answer: CableAnswer, unit: LengthUnit, title: TitleBlock): Document {
  const { cable, name, type, facts, units } = answer;
  const length = lengthIn(unit);
  return {
    paper: "document",
    title: { ...title, what: say`Cable ${cable.tag}`, code: codeOf("cable", cable.tag) },
    blocks: [
      { is: "paragraph", text: plain(name ? `${name}: ${answer.sentence}` : answer.sentence) },
      ...asNotes(answer.cautions),
      {
        is: "values",
        rows: [
          { word: say`Type`, value: type?.tag ?? null },
          ...facts.map(({ label, value }) => ({ word: `${label.charAt(0).toUpperCase()}${label.slice(1)}`, value })),
          { word: say`Sheath in all`, value: length(answer.length_m) },
          { word: say`Of it coiled`, value: length(answer.coils_m) },
          ...(answer.lacks.length > 0 ? [{ word: say`Not known`, value: answer.lacks.map(plain) }] : []),
          { word: say`Known by`, value: knownBy(answer.basis, answer.last_visit) },
        ],
      },
      ...(units.length > 0 ? [{ is: "section", drawing: sectionOf(answer) } as const] : []),
      { is: "heading", level: 1, text: say`Course` },
      ...courseDrawing(answer),
      stopTable(answer, unit),
      {
        is: "table",
        caption: say`Legs, from stop to stop`,
        columns: [
          { head: say`From`, weight: 1.6 },
          { head: say`To`, weight: 1.6 },
          { head: say`In`, weight: 1.6 },
          { head: say`Length`, numeric: true, weight: 1.2 },
          { head: say`By`, weight: 1 },
          { head: say`Held`, weight: 1.6 },
          { head: say`Environment`, weight: 1.4 },
        ],
        rows: answer.legs.map((leg): Cell[] => [
          leg.from?.tag ?? null,
          leg.to?.tag ?? null,
          leg.conduit?.tag ?? leg.pathway?.tag ?? say`not on record`,
          leg.lacks ? [length(leg.length_m), plain(leg.lacks)] : length(leg.length_m),
          leg.length_from && LENGTH_FROM_WORDS[leg.length_from],
          leg.held,
          leg.environment,
        ]),
        none: say`No leg is on record.`,
      },
      { is: "heading", level: 1, text: say`Strands` },
      ...units.map((one) => strandTable(one, answer)),
      ...(units.length === 0 ? [{ is: "paragraph", text: say`Its strands are not on record.` } as const] : []),
    ],
  };
}

const marksOf = (stop: CableStop, unit: CableAnswer["mark_unit"]): string | null =>
  stop.marks.length === 0
    ? null
    : `${stop.marks.map((mark) => formatNumber(mark, 1)).join(", ")}${unit ? ` ${unit}` : ""}`;

const nameOf = (stop: CableStop): string => stop.place.space?.tag ?? say`nobody knows where`;

/** Its line to scale and its stops, with room for what is found there. */
export const courseBlocks = (answer: CableAnswer, unit: LengthUnit): Block[] => [
  ...courseDrawing(answer),
  stopTable(answer, unit),
];

/** A cable of one stop has no line to draw. */
function courseDrawing(answer: CableAnswer): Block[] {
  if (answer.legs.length === 0) return [];
  const drawing: LineDrawing = {
    cable: answer.cable.tag,
    stops: answer.stops.map((stop) => ({
      name: nameOf(stop),
      mark: marksOf(stop, answer.mark_unit),
      coil_m: stop.coil_m,
      spliced: stop.closure !== null && stop.kind !== "passing",
    })),
    legs: answer.legs.map(({ length_m, conduit, pathway }) => ({
      metres: length_m,
      pathway: conduit?.tag ?? pathway?.tag ?? null,
    })),
    breaks: [],
  };
  return [{ is: "line", drawing }];
}

function stopTable(answer: CableAnswer, unit: LengthUnit): Block {
  const length = lengthIn(unit);
  return {
    is: "table",
    caption: say`Stops, with marks as printed on the sheath`,
    columns: [
      { head: say`Found`, weight: 0.8 },
      { head: say`Place`, weight: 2 },
      { head: say`Here it`, weight: 1.1 },
      { head: say`In case`, weight: 1.5 },
      { head: say`Marks`, weight: 1.9 },
      { head: say`Found: marks`, weight: 1.5 },
      { head: say`Coil`, numeric: true, weight: 1 },
      { head: say`Found: coil`, weight: 1 },
      { head: say`Metal`, weight: 1.1 },
      { head: say`Strands cut`, numeric: true, weight: 0.9 },
    ],
    rows: answer.stops.map((stop): Cell[] => [
      { tick: false },
      placeText(stop.place),
      KINDS[stop.kind],
      stop.closure?.tag ?? "",
      marksOf(stop, answer.mark_unit),
      { write: true },
      length(stop.coil_m),
      { write: true },
      stop.metal,
      stop.kind === "opened" || stop.kind === "severed" ? String(stop.cut) : "",
    ]),
    none: say`No stop is on record.`,
  };
}

function strandTable({ record, layers, fibre, strands }: CableUnit, answer: CableAnswer): Block {
  const unit = layers.length === 0 ? say`In the sheath` : layers.map(coded).join(", ");
  const rows = strands.map((strand): Cell[] => [
    { tick: false },
    String(strand.number),
    strandChip(strand),
    stateLines(strand, answer),
    few([...new Set(strand.sections.flatMap(({ circuits }) => circuits.map(({ tag }) => tag)))], 4),
    { write: true },
  ]);
  return {
    is: "table",
    dense: true,
    caption: `${unit.charAt(0).toUpperCase()}${unit.slice(1)}${record ? ` (${record.tag})` : ""}: ${counted(strands.length, "strand")}${fibre ? `, ${fibre}` : ""}`,
    columns: sharedByContent(STRAND_COLUMNS, rows, { 5: OTHERWISE_ROOM }),
    rows,
  };
}

const STRAND_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Strand`, numeric: true },
  { head: say`Its colours` },
  { head: say`State` },
  { head: say`Circuits` },
  { head: say`Found otherwise` },
];

/** Characters of what a crew writes of a strand. */
const OTHERWISE_ROOM = 30;

/** The strand in its unit's colour; the unit is named above the table. */
function strandChip({ colours }: CableStrand): Cell {
  const chip = chipOf(colours);
  const own = colours.at(-1);
  return chip && own ? { ...chip, words: coded(own) } : chip;
}

/** One line, or of a strand that is cut one for each of its parts. */
function stateLines({ sections }: CableStrand, { stops }: CableAnswer): string[] {
  const at = (index: number | null): string => {
    const stop = index === null ? undefined : stops[index];
    return stop ? nameOf(stop) : say`nobody knows where`;
  };
  return sections.map(({ state, why, from, to }) => {
    const words = why ? `${STATES[state]}: ${plain(why)}` : STATES[state];
    return sections.length > 1 ? say`${at(from)} to ${at(to)}: ${words}` : words;
  });
}

function sectionOf({ cable, outer_diameter_mm, armoured, units }: CableAnswer): SectionDrawing {
  const groups = new Map<string, CableUnit[]>();
  for (const unit of units) {
    const [outer] = unit.layers;
    const key = outer ? `${outer.what} ${outer.position}` : "";
    groups.set(key, [...(groups.get(key) ?? []), unit]);
  }
  return {
    cable: cable.tag,
    diameter_mm: outer_diameter_mm,
    armoured,
    groups: [...groups.values()].map((own): SectionGroup => {
      const outer = own[0]?.layers[0];
      return {
        name: outer ? [String(outer.position), outer.code].filter(Boolean).join(" ") : null,
        fill: outer ? inkOf(outer.code, outer.name) : null,
        units: own.map(({ layers, strands }) => {
          const inner = layers.at(-1);
          return {
            ribbon: inner?.what === "ribbon",
            fill: inner ? inkOf(inner.code, inner.name) : null,
            strands: strands.map(({ colours }) => {
              const own_ = colours.at(-1);
              return own_ ? inkOf(own_.code, own_.name) : null;
            }),
          };
        }),
      };
    }),
  };
}
