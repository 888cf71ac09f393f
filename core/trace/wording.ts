/** The answer of a trace in one plain sentence, and the cautions for whoever goes there. */
import { formatLength, type LengthUnit } from "../model/units.ts";
import { type CautionId, cautionsSaid } from "../standards/cautions.ts";
import { counted } from "../words/counted.ts";
import { asInSource } from "../words/language.ts";
import { asKnown } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Hop, Totals, TraceLine } from "./answer.ts";

/** "14 hops, 4 839 m of sheath" */
function measures(totals: Totals, unit: LengthUnit): string {
  const words = [counted(totals.hops, "hop")];
  if (totals.sheath_m !== null) {
    const lacking =
      totals.lacks.length > 0 && totals.lacks.some((lack) => !/cord is not on record/.test(asInSource(lack)));
    words.push(say`${asKnown(formatLength(totals.sheath_m, unit), !lacking)} of sheath`);
  } else if (totals.lacks.length > 0) words.push(say`length not on record`);
  if (totals.cord_m !== null && totals.cord_m > 0) words.push(say`${formatLength(totals.cord_m, unit)} of cord`);
  if (totals.assumed > 0) words.push(counted(totals.assumed, "cord assumed", "cords assumed"));
  return words.join(", ");
}

export interface Named {
  /** "LIB/2A/P1:07 in Library" */
  readonly from: string;
  readonly to: string;
  /** "an open port" */
  readonly toKind: string;
}

function lineSentence(line: TraceLine, names: Named, unit: LengthUnit): string {
  const sums = measures(line.totals, unit);
  if (line.behind !== null) {
    return say`${line.asked} forks both ways: ${leafCount(line)} ends; by the first branches from ${names.from} to ${names.to}, ${names.toKind}: ${sums}.`;
  }
  if (line.root.fork !== null) {
    return say`From ${names.from} the line forks to ${leafCount(line)} ends, ${line.root.fork.words}; by the first branch to ${names.to}, ${names.toKind}: ${sums}.`;
  }
  if (line.to.kind === "ring" && line.from.kind === "ring") return say`${line.asked} lies on a ring: ${sums}.`;
  return say`From ${names.from} to ${names.to}, ${names.toKind}: ${sums}.`;
}

function leafCount(line: TraceLine): number {
  let leaves = 0;
  const open = line.behind ? [line.root, line.behind] : [line.root];
  for (let branch = open.pop(); branch !== undefined; branch = open.pop()) {
    if (branch.branches.length === 0) leaves += 1;
    open.push(...branch.branches);
  }
  return leaves;
}

export function sentenceOf(
  asked: string,
  lines: readonly TraceLine[],
  names: readonly Named[],
  unit: LengthUnit,
): string {
  const [line, ...others] = lines;
  const [named] = names;
  if (!line || !named) return say`Nothing is on record to follow from ${asked}.`;
  if (others.length === 0) return lineSentence(line, named, unit);
  return say`${asked} is ${counted(lines.length, "line")} side by side. ${lineSentence(line, named, unit)}`;
}

/** Cautions by what the line passes: ends that may be lit, glass, holes and what the records of places name. */
export function cautionsOf(
  lines: readonly TraceLine[],
  hazards: ReadonlySet<string>,
  hazardLevels: readonly string[],
): string[] {
  const hops = lines.flatMap(everyHop);
  const ends = lines.flatMap((line) => [line.from.kind, line.to.kind]);
  const kinds = new Set(hops.flatMap(({ place, to_place }) => [place?.space_kind, to_place?.space_kind]));
  const bare = hops.some(({ kind }) => kind === "splice") || ends.includes("open_end");
  const hole = ["maintenance_hole", "hand_hole", "pull_box"].some((kind) => kinds.has(kind));
  const minded: readonly [CautionId, boolean][] = [
    ["lit", hops.length > 0],
    ["shards", bare],
    ["hole", hole || hazards.has("confined") || hazards.has("gas")],
    ["climbing", kinds.has("pole") || hazards.has("height")],
    ["traffic", hazards.has("traffic")],
    ["asbestos", hazards.has("asbestos")],
  ];
  return [
    ...hazardLevels.map((level) => say`Equipment on this line is marked laser hazard level ${level}.`),
    ...(hazards.has("laser") ? [say`Strong laser light is on record for a place on this line.`] : []),
    ...cautionsSaid(minded.flatMap(([id, there]) => (there ? [id] : []))),
  ];
}

function everyHop(line: TraceLine): Hop[] {
  const hops: Hop[] = [];
  const open = line.behind ? [line.root, line.behind] : [line.root];
  for (let branch = open.pop(); branch !== undefined; branch = open.pop()) {
    hops.push(...branch.hops);
    open.push(...branch.branches);
  }
  return hops;
}
