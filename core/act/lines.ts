/**
 * The line of glass that one start lies on: walked both ways over the graph, as sections in order with an end on each side.
 * Lines here have no forks: what is given to a circuit must be one way from A to Z.
 */
import { componentOf } from "../glass/component.ts";
import { across, elementOf, idOf, isPosition, NOWHERE, positionEnd, sectionEnd, sideOf } from "../glass/end.ts";
import { JOIN } from "../glass/glass.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { type Walk, walk } from "../glass/walk.ts";
import { refuse } from "../result.ts";
import { addressesOf, resolveOne, resolvePositions, resolveStrands, sectionWords } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { readPorts } from "../store/ports.ts";
import { readStrands } from "../store/strands.ts";
import { say } from "../words/say.ts";
import { listed } from "./ends.ts";

/** A piece of glass or an adapter on a line: the end light comes in by and the end it leaves by. */
interface Piece {
  readonly entry: number;
  readonly exit: number;
}

export interface Line {
  /** What was asked for, as an address. */
  readonly asked: string;
  readonly pieces: readonly Piece[];
  /** Number of the piece one began at, and whether that is a port: then the line is told from there. */
  readonly at: number;
  readonly fromPort: boolean;
  /** Ids of module joins passed, with the number of the piece before each. */
  readonly joins: readonly { readonly id: number; readonly after: number }[];
}

/** Where to begin, and what it is called. */
interface Start {
  readonly end: number;
  readonly words: string;
  readonly fromPort: boolean;
  /** Other sections of the strand, which must lie on the same line. */
  readonly others: readonly number[];
}

/**
 * The starts an address stands for: one a strand, one a position. Refuses `ambiguous` when it can be read as strands and
 * as ports, `not_found` when as neither.
 */
async function startsOf(reader: Reader, text: string, field: string): Promise<Start[]> {
  const strands = await readStrands(reader, text);
  const ports = await readPorts(reader, text);
  if (strands.readings.length > 0 && ports.readings.length > 0) {
    refuse("ambiguous", say`${text} can be strands or ports.`, [
      { field, record: text, reason: say`may be strands of cable ${strands.readings[0]?.cable.tag}` },
      { field, record: text, reason: say`may be ports of ${ports.readings[0]?.owner.tag}` },
    ]);
  }
  if (ports.readings.length > 0 || (strands.readings.length === 0 && ports.faults.length > 0)) {
    return fromPositions(reader, text, field);
  }
  if (strands.readings.length === 0 && strands.faults.length === 0) {
    // Neither a cable nor a panel: this refuses with the nearest tags.
    await resolveOne(reader, text, { kinds: ["strand", "port"], field });
  }
  return fromStrands(reader, text, field);
}

async function fromPositions(reader: Reader, text: string, field: string): Promise<Start[]> {
  const { positions } = await resolvePositions(reader, text, { field });
  const tags = await addressesOf(
    reader,
    "position",
    positions.map(({ id }) => id),
  );
  return positions.map(({ id }) => ({
    end: positionEnd(id, "front"),
    words: tags.get(id) ?? text,
    fromPort: true,
    others: [],
  }));
}

async function fromStrands(reader: Reader, text: string, field: string): Promise<Start[]> {
  const { cable, strands } = await resolveStrands(reader, text, { field });
  const rows = await reader.rows<{ id: number; strand_id: number; ordinal: number }>(
    "select id, strand_id, ordinal from section where strand_id in (select value from json_each(?)) order by ordinal",
    [listed(strands.map(({ id }) => id))],
  );
  const byStrand = Map.groupBy(rows, ({ strand_id }) => strand_id);
  return strands.map(({ id, number, section }) => {
    const own = byStrand.get(id) ?? [];
    const meant = section === undefined ? own : own.filter(({ ordinal }) => ordinal === section);
    const words = `${cable.tag}:${number}${section === undefined ? "" : `#${section}`}`;
    const [first, ...others] = meant;
    if (!first) {
      refuse("not_found", say`${words} has no strand section on record.`, [
        { field, record: words, reason: say`has no strand section on record` },
      ]);
    }
    return { end: sectionEnd(first.id, "B"), words, fromPort: false, others: others.map((row) => row.id) };
  });
}

/** A walk as pieces outward from the start; a cord that hangs loose ends it. */
function outward(done: Walk): { pieces: Piece[]; joins: { id: number; step: number }[] } {
  const pieces: Piece[] = [];
  const joins: { id: number; step: number }[] = [];
  for (let step = 0; step < done.steps; step++) {
    const to = done.to[step] as number;
    if (to === NOWHERE) break;
    if (done.kind[step] === JOIN) joins.push({ id: done.id[step] as number, step });
    pieces.push({ entry: to, exit: across(to) });
  }
  return { pieces, joins };
}

const turned = ({ entry, exit }: Piece): Piece => ({ entry: exit, exit: entry });

function refuseCrooked(done: Walk, start: Start, field: string): void {
  const problem = (reason: string): never =>
    refuse("not_possible", `${start.words} ${reason}.`, [{ field, record: start.words, reason }]);
  if (!done.isStraight) {
    problem(say`lies on glass that forks; begin beyond the fork, at the one end that is meant`);
  }
  if (done.lastStop === "ring") problem(say`lies on a ring; it has no ends`);
}

/** The lines an address stands for, one a strand or position, side by side. */
export async function linesOf(reader: Reader, text: string, field: string): Promise<Line[]> {
  const starts = await startsOf(reader, text, field);
  const glass = await componentOf(
    reader,
    starts.flatMap(({ end }) => [end, across(end)]),
  );
  return starts.map((start) => {
    const ahead = walk(glass, start.end);
    refuseCrooked(ahead, start, field);
    const behind = walk(glass, across(start.end));
    refuseCrooked(behind, start, field);
    const before = outward(behind);
    const after = outward(ahead);
    const pieces = [
      ...before.pieces.toReversed().map(turned),
      { entry: across(start.end), exit: start.end },
      ...after.pieces,
    ];
    const at = before.pieces.length;
    const on = new Set(pieces.map(({ entry }) => elementOf(entry)));
    const lost = start.others.filter((id) => !on.has(elementOf(sectionEnd(id, "A"))));
    if (lost.length > 0) {
      refuse("ambiguous", say`${start.words} is cut: which of its sections is meant?`, [
        { field, record: start.words, reason: say`is cut; say ${start.words}#1, #2 and so on` },
      ]);
    }
    return {
      asked: start.words,
      pieces,
      at,
      fromPort: start.fromPort,
      joins: [
        ...before.joins.map(({ id, step }) => ({ id, after: at - 1 - step })),
        ...after.joins.map(({ id, step }) => ({ id, after: at + step })),
      ],
    };
  });
}

/** The same line told from its other end. */
export const reversed = (line: Line): Line => ({
  ...line,
  pieces: line.pieces.toReversed().map(turned),
  at: line.pieces.length - 1 - line.at,
  joins: line.joins.map(({ id, after }) => ({ id, after: line.pieces.length - 2 - after })),
});

export const firstEnd = ({ pieces }: Line): number => pieces[0]?.entry ?? NOWHERE;
export const lastEnd = ({ pieces }: Line): number => pieces.at(-1)?.exit ?? NOWHERE;

/** Sections of a line in order. */
export const sectionsOf = ({ pieces }: Line): number[] =>
  pieces.flatMap(({ entry }) => (isPosition(entry) ? [] : [idOf(entry)]));

export interface EndFacts {
  readonly port_id: number | null;
  /** Order of the position in its port. */
  readonly ordinal: number | null;
  readonly space_id: number | null;
  readonly words: string;
}

/** What the ends of lines are: a port's position or bare glass, and the room. */
export async function endFacts(reader: Reader, ends: readonly number[]): Promise<Map<number, EndFacts>> {
  const positions = ends.filter(isPosition);
  const sections = ends.filter((end) => !isPosition(end));
  const ports = await reader.rows<{ id: number; port_id: number; ordinal: number; space_id: number | null }>(
    `select o.id, o.port_id, o.ordinal, ${ROOM} as space_id
     from position o join port p on p.id = o.port_id ${ROOM_JOINS}
     where o.id in (select value from json_each(?))`,
    [listed(positions.map(idOf))],
  );
  const stops = await reader.rows<{ id: number; a: number | null; b: number | null }>(
    `select s.id, a.space_id as a, b.space_id as b from section s left join stop a on a.id = s.a_stop_id
       left join stop b on b.id = s.b_stop_id where s.id in (select value from json_each(?))`,
    [listed(sections.map(idOf))],
  );
  const portTags = await addressesOf(
    reader,
    "port",
    ports.map(({ port_id }) => port_id),
  );
  const glassTags = await sectionWords(reader, sections.map(idOf));
  const portOf = new Map(ports.map((row) => [row.id, row]));
  const stopOf = new Map(stops.map((row) => [row.id, row]));
  return new Map(
    ends.map((end): [number, EndFacts] => {
      const id = idOf(end);
      if (isPosition(end)) {
        const row = portOf.get(id);
        const words = row ? (portTags.get(row.port_id) ?? say`a port`) : say`a port`;
        return [
          end,
          { port_id: row?.port_id ?? null, ordinal: row?.ordinal ?? null, space_id: row?.space_id ?? null, words },
        ];
      }
      const row = stopOf.get(id);
      const side = sideOf(end);
      const space_id = (side === "A" ? row?.a : row?.b) ?? null;
      return [
        end,
        { port_id: null, ordinal: null, space_id, words: say`end ${side} of ${glassTags.get(id) ?? say`a strand`}` },
      ];
    }),
  );
}
