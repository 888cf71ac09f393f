/** Trace: from any end, both ways, to where the glass or the record stops. */
import { across, idOf, isPosition } from "../glass/end.ts";
import { CORD, type Glass, JOIN } from "../glass/glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import { kindOf } from "../model/dictionary.ts";
import type { LengthUnit } from "../model/units.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { Branch, TraceAnswer, TraceEnd, TraceLine } from "./answer.ts";
import { endKind, endOf, endWords } from "./ends.ts";
import { addressUnder, type Landings, readLandings } from "./facts.ts";
import { Hops } from "./hops.ts";
import { elementId, everyItem, firstWay, type Line, lineThrough, type Stretch, turned, wayFromBehind } from "./line.ts";
import { type LineFacts, portTag, readLineFacts, sectionTag } from "./line-facts.ts";
import { type Start, type Target, targetOf, type What } from "./target.ts";
import { totalsOf } from "./totals.ts";
import { cautionsOf, type Named, sentenceOf } from "./wording.ts";

/**
 * @param today the day on which assignments must hold
 * Refuses `not_found`, `ambiguous`, `bad_input` (what can't be traced as a whole) and `not_possible` (no glass there).
 */
export const trace = async (reader: Reader, what: What, today: string): Promise<TraceAnswer> =>
  (await traced(reader, what, today)).answer;

export interface Traced {
  readonly answer: TraceAnswer;
  /** What the answer was told from, for questions that go on from it. */
  readonly facts: LineFacts;
}

/** As `trace`, with the facts behind the answer. */
export async function traced(reader: Reader, what: What, today: string): Promise<Traced> {
  const target = await targetOf(reader, what, today);
  const ends = target.starts.flatMap(({ first }) => [first, across(first)]);
  const landed: Landings = { positions: new Map(), terminations: new Map() };
  const glass = await glassAround(reader, ends, today, async (_, ids) => {
    await readLandings(reader, landed, ids);
    return ids.flatMap((id) => landed.positions.get(id) ?? []);
  });
  const walked = linesOf(glass, target);
  const lines = walked.map(({ line }) => line);
  const facts = await readLineFacts(reader, glass, lines, today, landed);
  const asked = target.asked ?? nameOf(facts, target);
  const told = walked.map(({ start, line }) => tellLine(facts, start, inOrder(facts, target, line)));
  return { answer: answerOf(asked, told, await unitOf(reader), facts), facts };
}

/** What a line is called by the section or position it was asked for at; refuses where that isn't on record. */
function beginning(facts: LineFacts, end: number, kind: Target["kind"]): string {
  if (!isPosition(end)) {
    const section = facts.sections.get(idOf(end));
    return section ? sectionTag(facts, section) : gone(kind);
  }
  const position = facts.positions.get(idOf(end));
  if (!position) return gone(kind);
  const tag = portTag(facts, position);
  return position.of > 1 && kind !== "port" ? addressUnder("position", tag, position.ordinal) : tag;
}

function gone(kind: Target["kind"]): never {
  const { one } = kindOf(kind);
  return refuse("not_found", say`That ${one} is no longer on record.`, [
    { field: "what", reason: say`is not on record` },
  ]);
}

const nameOf = (facts: LineFacts, { starts: [first], kind }: Target): string =>
  first ? beginning(facts, first.first, kind) : gone(kind);

interface Walked {
  readonly start: Start;
  readonly line: Line;
}

/** The lines asked for; sections of one circuit or strand that lie on one line make it once. */
function linesOf(glass: Glass, { starts, kind }: Target): Walked[] {
  const walked: Walked[] = [];
  const seen = new Set<number>();
  for (const start of starts) {
    if (
      (kind === "circuit" || kind === "strand") &&
      seen.has(idOf(start.first) * 2 + Number(isPosition(start.first)))
    ) {
      continue;
    }
    const line = lineThrough(glass, start.first);
    for (const item of everyItem(line)) {
      if (item.what === "through") seen.add(elementId(item) * 2 + Number(isPosition(item.in)));
    }
    walked.push({ start, line: withJoint(line, start) });
  }
  return walked;
}

/** Moves the place of what was asked from the glass beside a joint to the joint itself. */
function withJoint(line: Line, { joint }: Start): Line {
  if (!joint) return line;
  const near = [line.at + 1, line.at - 1].find((index) => {
    const item = line.root.items[index];
    return item?.what === "joint" && item.kind === joint.kind && item.id === joint.id;
  });
  return near === undefined ? line : { ...line, at: near };
}

/** The order a line is told in: a circuit from A, equipment from the equipment. */
function inOrder(facts: LineFacts, target: Target, line: Line): Line {
  if (target.kind === "circuit") return towardsA(facts, target, line);
  const item = line.root.items[line.at];
  const start = item?.what === "through" && isPosition(item.in) ? facts.positions.get(elementId(item)) : undefined;
  return start && start.device_id !== null && line.at > 0 ? turned(line) : line;
}

/** A circuit is told from A: from its A port, or from where its first section lies. */
function towardsA({ positions, service, sections }: LineFacts, target: Target, line: Line): Line {
  const items = line.root.items.filter((item) => item.what === "through");
  const portAt = (item: (typeof items)[number] | undefined): number | undefined =>
    item && isPosition(item.in) ? positions.get(elementId(item))?.port_id : undefined;
  const circuit = service.circuits.get(target.id);
  const [first, last] = [portAt(items[0]), portAt(items.at(-1))];
  if (circuit?.a_port_id != null && first !== last) {
    if (first === circuit.a_port_id) return line;
    if (last === circuit.a_port_id) return turned(line);
  }
  if (circuit?.z_port_id != null && first !== last) {
    if (last === circuit.z_port_id) return line;
    if (first === circuit.z_port_id) return turned(line);
  }
  const orders = items.flatMap((item) => {
    if (isPosition(item.in) || !sections.has(elementId(item))) return [];
    const own = service.holding(elementId(item)).find(({ circuit_id }) => circuit_id === target.id);
    return own?.ordinal ?? [];
  });
  return (orders[0] ?? 0) > (orders.at(-1) ?? 0) ? turned(line) : line;
}

interface Told {
  readonly line: TraceLine;
  readonly names: Named;
}

function tellLine(facts: LineFacts, start: Start, line: Line): Told {
  const hops = new Hops(facts);
  const root = branchOf(facts, hops, line.root);
  const behind = line.behind && branchOf(facts, hops, line.behind);
  // Of a forked line, one way from end to end: always by the first branch.
  const back = line.behind && wayFromBehind(line.behind);
  const ahead = firstWay(line.root);
  const head = back?.items ?? [];
  const { hops: trunk, at } = hops.of([...head, ...line.root.items], head.length + line.at);
  const shown = [...trunk, ...ahead.stretches.slice(1).flatMap(({ items }) => hops.of(items).hops)];
  const from = endOf(facts, back?.stop ?? line.from);
  const to = endOf(facts, ahead.stop);
  return {
    line: {
      asked: start.asked ?? beginning(facts, start.first, "position"),
      from,
      to,
      root,
      behind,
      hops: shown,
      at,
      totals: totalsOf(shown),
    },
    names: {
      from: endWords(from),
      to: endWords(to),
      toKind: endKind(to),
    },
  };
}

/** Branches are nested no deeper than the walk goes, so this doesn't run out of stack. */
function branchOf(facts: LineFacts, hops: Hops, stretch: Stretch): Branch {
  return {
    hops: hops.of(stretch.items).hops,
    end: stretch.stop && endOf(facts, stretch.stop),
    fork: forkOf(facts, stretch),
    branches: stretch.branches.map((branch) => branchOf(facts, hops, branch)),
  };
}

/** A fork is as built where one splitter or filter makes all of it; any other is a doubt in the record. */
function forkOf({ joins }: LineFacts, { branches }: Stretch): Branch["fork"] {
  if (branches.length === 0) return null;
  const modules = new Map<number, "splitter" | "filter">();
  for (const { items } of branches) {
    const [first] = items;
    const join = first?.what === "joint" && first.kind === JOIN ? joins.get(first.id) : undefined;
    if (join?.kind !== "splitter" && join?.kind !== "filter") return doubt(branches);
    modules.set(join.module_id, join.kind);
  }
  const [why, ...more] = modules.values();
  if (!why || more.length > 0) return doubt(branches);
  const words =
    why === "splitter"
      ? say`a splitter with ${branches.length} outputs`
      : say`a wavelength filter with ${branches.length} channels`;
  return { why, words };
}

function doubt(branches: readonly Stretch[]): Branch["fork"] {
  const cords = branches.every(({ items: [first] }) => first?.what === "joint" && first.kind === CORD);
  const what = cords ? say`cords in one place` : say`joints on one end of glass`;
  return { why: "record", words: say`${branches.length} ${what}: the record is in doubt` };
}

async function unitOf(reader: Reader): Promise<LengthUnit> {
  const [plant] = await reader.rows<{ length_unit: LengthUnit }>("select length_unit from plant limit 1");
  return plant?.length_unit ?? "m";
}

const NOTHING: TraceEnd = { kind: "record_ends", record: null, place: null, words: say`nothing is on record` };

function answerOf(asked: string, told: readonly Told[], unit: LengthUnit, facts: LineFacts): TraceAnswer {
  const lines = told.map(({ line }) => line);
  const [first] = lines;
  const hazards = new Set([...facts.cables.spaces.values()].flatMap(({ hazards }) => hazards?.split(" ") ?? []));
  const levels = new Set([...facts.interfaces.values()].flatMap(({ hazard_level }) => hazard_level ?? []));
  return {
    asked,
    from: first?.from ?? NOTHING,
    to: first?.to ?? NOTHING,
    hops: first?.hops ?? [],
    length_m: first?.totals.length_m ?? null,
    glass_m: first?.totals.glass_m ?? null,
    lines,
    sentence: sentenceOf(
      asked,
      lines,
      told.map(({ names }) => names),
      unit,
    ),
    cautions: cautionsOf(lines, hazards, [...levels]),
  };
}
