/** Lays lines one after another from A to Z, each turned so that it goes on in the room where the one before ended. */

import { say } from "../words/say.ts";
import { type EndFacts, firstEnd, type Line, lastEnd, reversed } from "./lines.ts";

export interface Chained {
  readonly lines: readonly Line[];
  readonly from: EndFacts | undefined;
  readonly to: EndFacts | undefined;
  /** Where two lines don't meet, in sentences. */
  readonly doubts: readonly string[];
}

interface Ends {
  readonly a_port_id: number | null;
  readonly z_port_id: number | null;
}

/**
 * What turns a line, the strongest first: the circuit's own ports; the room where it meets its neighbour; the port one
 * began at; else it runs as its strand does, from the cable's A end.
 */
export function chain(lines: readonly Line[], facts: ReadonlyMap<number, EndFacts>, circuit: Ends): Chained {
  const portAt = (end: number) => facts.get(end)?.port_id ?? null;
  const roomAt = (end: number) => facts.get(end)?.space_id ?? null;
  const meet = (a: number, b: number) => roomAt(a) !== null && roomAt(a) === roomAt(b);
  const doubts: string[] = [];
  const turnedLines: Line[] = [];
  for (const [i, line] of lines.entries()) {
    const before = turnedLines.at(-1);
    const next = lines[i + 1];
    const back = reversed(line);
    let turn: boolean;
    if (before) {
      const forward = meet(lastEnd(before), firstEnd(line));
      const backward = meet(lastEnd(before), firstEnd(back));
      if (!forward && !backward) doubts.push(say`${before.asked} and ${line.asked} don't meet in one room on record.`);
      turn = backward && !forward;
    } else turn = turnsFirst(line, next);
    turnedLines.push(turn ? back : line);
  }
  const [first] = turnedLines;
  const last = turnedLines.at(-1);
  return {
    lines: turnedLines,
    from: first && facts.get(firstEnd(first)),
    to: last && facts.get(lastEnd(last)),
    doubts,
  };

  function turnsFirst(line: Line, next: Line | undefined): boolean {
    const { a_port_id, z_port_id } = circuit;
    if (a_port_id !== null && portAt(firstEnd(line)) === a_port_id) return false;
    if (a_port_id !== null && portAt(lastEnd(line)) === a_port_id) return true;
    if (!next && z_port_id !== null && portAt(lastEnd(line)) === z_port_id) return false;
    if (!next && z_port_id !== null && portAt(firstEnd(line)) === z_port_id) return true;
    if (next) {
      const touches = (end: number) => meet(end, firstEnd(next)) || meet(end, lastEnd(next));
      if (touches(lastEnd(line)) !== touches(firstEnd(line))) return touches(firstEnd(line));
    }
    return line.fromPort && line.at > 0 && line.at === line.pieces.length - 1;
  }
}
