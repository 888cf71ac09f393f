/** One cable's units and strands as a tree, to find a strand by colours, numbers and prints. */
import type { Row } from "../model/dictionary.ts";
import { splitRange } from "../model/strand-list.ts";
import { colourWords, readColour } from "../standards/colours.ts";
import { type ColourScheme, schemeOf, strandColour, unitColour } from "../standards/strand-colours.ts";
import { say } from "../words/say.ts";
import type { Reader } from "./handle.ts";

export interface StrandRow {
  readonly id: number;
  readonly number: number;
  readonly unit_id: number | null;
  readonly place: number | null;
  readonly colour: string | null;
}
type UnitRow = Pick<Row<"unit">, "id" | "parent_id" | "ordinal" | "kind" | "colour" | "mark">;

export interface Node {
  /** Null for the sheath. */
  readonly unit: UnitRow | null;
  readonly units: Node[];
  readonly strands: StrandRow[];
}

export interface CableGlass {
  readonly scheme: ColourScheme;
  readonly root: Node;
}

type Scheme = Pick<Row<"cable">, "colour_sequence" | "unit_colours" | "strand_colours">;

export async function schemeOfCable(reader: Reader, cableId: number): Promise<ColourScheme> {
  const fields = "colour_sequence, unit_colours, strand_colours";
  const [cable] = await reader.rows<Scheme & { type_id: number | null }>(
    `select type_id, ${fields} from cable where id = ?`,
    [cableId],
  );
  const [type] = await reader.rows<Scheme>(`select ${fields} from cable_type where id = ?`, [cable?.type_id ?? null]);
  return schemeOf(cable ?? { colour_sequence: null, unit_colours: null, strand_colours: null }, type);
}

/** Strands of a cable in order of their numbers. */
export const strandsOf = (reader: Reader, cableId: number): Promise<StrandRow[]> =>
  reader.rows<StrandRow>("select id, number, unit_id, place, colour from strand where cable_id = ? order by number", [
    cableId,
  ]);

export async function cableGlass(reader: Reader, cableId: number): Promise<CableGlass> {
  const units = await reader.rows<UnitRow>(
    "select id, parent_id, ordinal, kind, colour, mark from unit where cable_id = ? order by ordinal, id",
    [cableId],
  );
  const root: Node = { unit: null, units: [], strands: [] };
  // A unit of kind sheath is no layer: what lies in it lies in the sheath itself.
  const nodes = new Map<number, Node>(
    units.map((unit) => [unit.id, unit.kind === "sheath" ? root : { unit, units: [], strands: [] }]),
  );
  for (const { id, parent_id } of units) {
    const node = nodes.get(id);
    const parent = parent_id === null ? root : (nodes.get(parent_id) ?? root);
    if (node !== undefined && node !== root && node !== parent) parent.units.push(node);
  }
  for (const strand of await strandsOf(reader, cableId)) {
    const node = strand.unit_id === null ? root : (nodes.get(strand.unit_id) ?? root);
    node.strands.push(strand);
  }
  return { scheme: await schemeOfCable(reader, cableId), root };
}

/** One way to understand a text: strands in order, and the unit where a whole unit was named. */
export interface Reading {
  readonly strands: readonly StrandRow[];
  readonly unit: UnitRow | null;
  /** How to write it so that it can be read in one way, after the cable's tag. */
  readonly words: string;
}

const UNIT_LETTERS: Partial<Record<UnitRow["kind"], string>> = { tube: "T", ribbon: "R", sub_cable: "S", bundle: "B" };
const LETTER_PATTERN = /^(?:([TRSB])|tube |ribbon |sub-?cable |bundle )?\s?0*(\d{1,5})$/i;

const below = (node: Node): StrandRow[] =>
  [...node.strands, ...node.units.flatMap(below)].sort((a, b) => a.number - b.number);

const fold = (text: string): string => text.toLowerCase().replace(/[\s_-]+/g, "");

/** Positions in a list of neighbours that one word can mean. */
type Meaning = (word: string) => number[];

/** Spans of neighbours that a level can mean, each as first and last index; a range needs both ends. */
function spans(level: string, meaning: Meaning): { from: number; to: number }[] {
  const whole = meaning(level).map((index) => ({ from: index, to: index }));
  if (whole.length > 0) return whole;
  const range = splitRange(level);
  if (range === null) return [];
  return meaning(range[0]).flatMap((from) => meaning(range[1]).map((to) => ({ from, to })));
}

function unitMeaning(node: Node, scheme: ColourScheme): Meaning {
  const rows = node.units.map(({ unit }) => unit as UnitRow);
  const colours = rows.map((unit) => unitColour(scheme, unit));
  const typed = rows.map((unit) => unit.colour ?? scheme.unitColours?.[unit.ordinal - 1]);
  return (word) => {
    const printed = rows.flatMap((unit, index) =>
      unit.mark !== null && fold(unit.mark) === fold(word) ? [index] : [],
    );
    if (printed.length > 0) return printed;
    const numbered = LETTER_PATTERN.exec(word);
    if (numbered) {
      const letter = (numbered[1] ?? (/^[a-z]/i.test(word) ? word[0] : undefined))?.toUpperCase();
      return rows.flatMap((unit, index) =>
        unit.ordinal === Number(numbered[2]) && (letter === undefined || letter === UNIT_LETTERS[unit.kind])
          ? [index]
          : [],
      );
    }
    return readColour(word, colours, scheme.sequence, typed).map((position) => position - 1);
  };
}

function strandMeaning(node: Node, scheme: ColourScheme): Meaning {
  const colours = node.strands.map((strand) => strandColour(scheme, strand));
  const typed = node.strands.map(
    (strand) => strand.colour ?? scheme.strandColours?.[(strand.place ?? strand.number) - 1],
  );
  return (word) =>
    /^\d{1,6}$/.test(word)
      ? node.strands.flatMap((strand, index) => ((strand.place ?? strand.number) === Number(word) ? [index] : []))
      : readColour(word, colours, scheme.sequence, typed).map((position) => position - 1);
}

const unitWords = (unit: UnitRow, scheme: ColourScheme): string => {
  const colour = colourWords(unitColour(scheme, unit));
  return `${UNIT_LETTERS[unit.kind] ?? ""}${unit.ordinal}${colour === null ? "" : ` (${colour})`}`;
};

/** Every way to read levels, from the outside in, below a node. A range that runs backwards is named in `faults`. */
export function readLevels(glass: CableGlass, levels: readonly string[], faults: Set<string>): Reading[] {
  const { scheme } = glass;
  const inside = (node: Node, rest: readonly string[], trail: string): Reading[] => {
    const [level, ...deeper] = rest;
    if (level === undefined) {
      return [{ strands: below(node), unit: node.unit, words: trail }];
    }
    const readings: Reading[] = [];
    const numbers = /^\d/.test(level);
    if (node.units.length > 0) {
      for (const { from, to } of spans(level, unitMeaning(node, scheme))) {
        if (to < from) faults.add(say`${level} runs backwards`);
        const chosen = node.units.slice(from, to + 1);
        const perUnit = chosen.map((child) => {
          const words = `${trail}${trail === "" ? "" : "/"}${unitWords(child.unit as UnitRow, scheme)}`;
          return inside(child, deeper, words);
        });
        const [only] = perUnit;
        if (perUnit.length === 1 && only) readings.push(...only);
        else if (perUnit.length > 1 && perUnit.every((each) => each.length === 1)) {
          const flat = perUnit.flat();
          readings.push({
            strands: flat.flatMap(({ strands }) => strands),
            unit: null,
            words: flat.map(({ words }) => words).join(","),
          });
        }
      }
      // Where there is but one unit, crews leave it out.
      const [single] = node.units;
      if (node.units.length === 1 && single && !(numbers && readings.length > 0))
        readings.push(...inside(single, rest, trail));
    }
    if (node.strands.length > 0 && deeper.length === 0) {
      for (const { from, to } of spans(level, strandMeaning(node, scheme))) {
        if (to < from) faults.add(say`${level} runs backwards`);
        const strands = node.strands.slice(from, to + 1);
        if (strands.length === 0) continue;
        const colour = strands.length === 1 && strands[0] ? colourWords(strandColour(scheme, strands[0])) : null;
        const words = say`${trail}${trail === "" ? "" : "/"}strand ${strands.map(({ number }) => number).join(",")}${colour === null ? "" : ` (${colour})`}`;
        readings.push({ strands, unit: null, words });
      }
    }
    return readings;
  };
  return inside(glass.root, levels, "");
}
