/** Rules of how glass is joined: one end, one joint; and no ring. They read the plant's glass in memory. */
import { across, elementOf, idOf, isFront, isPosition, positionEnd, sectionEnd, sideOf } from "../../glass/end.ts";
import { type Glass, handlesAt, JOIN, kindName } from "../../glass/glass.ts";
import type { PlantGlass } from "../../glass/plant-glass.ts";
import type { KindName } from "../../model/dictionary.ts";
import { counted } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, type Ground, listed, quote, quoted } from "../rule.ts";

const JOINT_RECORD: Readonly<Record<string, KindName>> = {
  splice: "splice",
  termination: "termination",
  cord: "cord",
  join: "module_join",
};

/** Ends where more than one thing is joined, but for what splitters and filters join by design. */
async function forkedEnds(
  ground: Ground,
  wanted: (end: number) => boolean,
): Promise<{ end: number; handles: number[] }[]> {
  const glass = await ground.glass();
  const { section, position } = glass.tables;
  const forked: { end: number; handles: number[] }[] = [];
  const look = (end: number): void => {
    const first = glass.first(end);
    if (first < 0 || glass.next(first) < 0 || !wanted(end)) return;
    const handles = handlesAt(glass, end);
    // A crossed cord with both plugs in one port is a doubt of its own.
    const records = new Set(handles.map((handle) => `${glass.kind(handle)} ${glass.id(handle)}`));
    if (records.size > 1 && !handles.every((handle) => glass.kind(handle) === JOIN)) forked.push({ end, handles });
  };
  for (let id = 1; id <= section.last; id += 1) {
    look(sectionEnd(id, "A"));
    look(sectionEnd(id, "B"));
    if (id % 200_000 === 0) await ground.breathe();
  }
  for (let id = 1; id <= position.last; id += 1) {
    look(positionEnd(id, "back"));
    look(positionEnd(id, "front"));
  }
  return forked;
}

const jointRecords = (glass: Glass, handles: readonly number[]): (readonly [KindName, number])[] =>
  handles.map((handle) => [JOINT_RECORD[kindName(glass.kind(handle))] as KindName, glass.id(handle)] as const);

/** The port an end is behind, or the cable and the stop it lies at. */
function placeOf(glass: PlantGlass, end: number): (readonly [KindName, number])[] {
  const id = idOf(end);
  if (isPosition(end)) return [["port", glass.tables.position.port.get(id)]];
  const stop = glass.stopOf(id, sideOf(end));
  return [["cable", glass.cableOf(id)], ...(stop > 0 ? [["stop", stop] as const] : [])];
}

/** One case a cable and place: a block of strands entered twice is one slip. */
async function joinedTwiceCases(ground: Ground): Promise<Case[]> {
  const glass = await ground.glass();
  const forked = await forkedEnds(ground, (end) => !isFront(end));
  const folded = Map.groupBy(forked, ({ end }) =>
    isPosition(end)
      ? `port ${glass.tables.position.port.get(idOf(end))}`
      : `cable ${glass.cableOf(idOf(end))} ${glass.stopOf(idOf(end), sideOf(end))}`,
  );
  return [...folded.values()].map((ends): Case => {
    const joints = new Map<string, readonly [KindName, number]>();
    for (const { handles } of ends)
      for (const record of jointRecords(glass, handles)) joints.set(record.join(" "), record);
    const [{ end: first }] = ends as [(typeof ends)[number]];
    return {
      records: [
        ...ends.map(({ end }) => [isPosition(end) ? "position" : "section", idOf(end)] as const),
        ...joints.values(),
      ],
      key: placeOf(glass, first),
      count: ends.length,
      facts: {
        ends: ends.length,
        joints: joints.size,
        sides: ends.map(({ end }) => (isPosition(end) ? "back" : sideOf(end))).sort(),
      },
    };
  });
}

export const joinedTwice = defineRule({
  name: "truth.joined_twice",
  family: "truth",
  severity: "error",
  title: say`End joined twice`,
  why: say`One end of glass can be in one joint only. A trace shows both ways; one of the records is wrong.`,
  source: say`How glass is joined; common practice, no source`,
  find: joinedTwiceCases,
  say: (one, tag) => {
    const [first] = one.records;
    const joints = one.records.filter(([kind]) => kind !== "section" && kind !== "position");
    const what = first ? `\`${tag(...first)}\`` : say`An end`;
    const more = (one.count ?? 1) - 1;
    const by = `${joints
      .slice(0, 3)
      .map((joint) => quote(tag, joint))
      .join(", ")}${joints.length > 3 ? say` and more` : ""}`;
    return {
      sentence:
        more > 0
          ? say`${what} and ${more} more are joined more than once: ${by}.`
          : say`${what} is joined more than once: ${by}.`,
      repair: say`Look which joint is there, and take the other out of the record.`,
      caution: CAUTION.glass,
    };
  },
});

export const cordsOnOneFront = defineRule({
  name: "truth.cords_on_one_front",
  family: "truth",
  severity: "error",
  title: say`Two cords in one port`,
  why: say`A position's front takes one plug. One of the cords was moved, or never was there.`,
  source: say`How glass is joined; common practice, no source`,
  async find(ground) {
    const glass = await ground.glass();
    const forked = await forkedEnds(ground, isFront);
    const ports = Map.groupBy(forked, ({ end }) => glass.tables.position.port.get(idOf(end)));
    return [...ports].map(([port, ends]): Case => {
      const cords = new Map(
        ends.flatMap(({ handles }) => jointRecords(glass, handles)).map((record) => [record.join(" "), record]),
      );
      return {
        records: [["port", port], ...cords.values()],
        count: ends.length,
        facts: { positions: ends.map(({ end }) => glass.tables.position.ordinal.get(idOf(end))), cords: cords.size },
      };
    });
  },
  say: ({ records: [port, ...cords] }, tag) => ({
    sentence: say`${port ? `\`${tag(...port)}\`` : say`A port`} has ${cords.length} cords on record: ${cords
      .map((cord) => `\`${tag(...cord)}\``)
      .join(", ")}.`,
    repair: say`Look which cord is plugged, and unplug the other on record.`,
    caution: CAUTION.glass,
  }),
});

/**
 * Elements on a way of light that comes back to itself. A state is an end that light leaves by; it goes on to the ends
 * across those it is joined to. States that lead nowhere are taken away until none is left; light runs both ways, so an
 * element whose both states stay is on a ring, or between two.
 */
async function onRings(ground: Ground): Promise<{ glass: PlantGlass; rings: (end: number) => boolean }> {
  const glass = await ground.glass();
  const { section, position } = glass.tables;
  // An end as its place in the array: sections and positions take turns.
  const left = new Uint16Array((Math.max(section.last, position.last) + 1) * 4);
  const open: number[] = [];
  const take = (end: number): void => {
    let ways = 0;
    for (let handle = glass.first(end); handle >= 0; handle = glass.next(handle))
      ways += glass.to(handle) === 0 ? 0 : 1;
    left[end] = ways;
    if (ways === 0) open.push(end);
  };
  for (let id = 1; id <= section.last; id += 1) {
    take(sectionEnd(id, "A"));
    take(sectionEnd(id, "B"));
    if (id % 200_000 === 0) await ground.breathe();
  }
  for (let id = 1; id <= position.last; id += 1) {
    take(positionEnd(id, "back"));
    take(positionEnd(id, "front"));
  }
  for (let end = open.pop(); end !== undefined; end = open.pop()) {
    // Whoever led here leads nowhere by this way: what is joined at the other side of the same glass.
    for (let handle = glass.first(across(end)); handle >= 0; handle = glass.next(handle)) {
      const before = glass.to(handle);
      if (before === 0 || left[before] === 0) continue;
      left[before] = (left[before] as number) - 1;
      if (left[before] === 0) open.push(before);
    }
  }
  return { glass, rings: (end) => (left[end] as number) > 0 && (left[across(end)] as number) > 0 };
}

export const ring = defineRule({
  name: "truth.ring",
  family: "truth",
  severity: "error",
  title: say`Glass in a ring`,
  why: say`A line of glass that comes back to itself leads nowhere: a splice or cord is recorded between the wrong ends.`,
  source: say`How glass is joined; common practice, no source`,
  async find(ground) {
    const { glass, rings } = await onRings(ground);
    const { section, position } = glass.tables;
    const seen = new Set<number>();
    /** Everything of a ring, from one end of it. */
    const flood = (from: number): number[] => {
      const members: number[] = [];
      const open = [from];
      for (let end = open.pop(); end !== undefined; end = open.pop()) {
        if (seen.has(elementOf(end)) || !rings(end)) continue;
        seen.add(elementOf(end));
        members.push(end);
        for (const side of [end, across(end)]) {
          for (let handle = glass.first(side); handle >= 0; handle = glass.next(handle)) open.push(glass.to(handle));
        }
      }
      return members;
    };
    const cases: Case[] = [];
    const look = (end: number): void => {
      if (!rings(end) || seen.has(elementOf(end))) return;
      const members = flood(end);
      // One piece of glass joined to itself is told by the joint.
      if (members.length === 1) return;
      const sections = members.filter((one) => !isPosition(one)).map(idOf);
      const ports = new Set(members.filter(isPosition).map((one) => position.port.get(idOf(one))));
      cases.push({
        records: [...sections.map((id) => ["section", id] as const), ...[...ports].map((id) => ["port", id] as const)],
        facts: { sections: sections.length, ports: ports.size },
      });
    };
    for (let id = 1; id <= section.last; id += 1) look(sectionEnd(id, "A"));
    for (let id = 1; id <= position.last; id += 1) look(positionEnd(id, "back"));
    return cases;
  },
  say: ({ records, facts }, tag) => ({
    sentence: say`${quoted(tag, records)} form a ring without an end: ${listed([
      ...(facts.sections === 0 ? [] : [counted(facts.sections as number, "strand section")]),
      ...(facts.ports === 0 ? [] : [counted(facts.ports as number, "port")]),
    ])}.`,
    repair: say`Follow the ring, and correct the joint that closes it.`,
  }),
});
