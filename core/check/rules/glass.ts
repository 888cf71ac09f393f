/** Rules of how glass is joined: one end, one joint; and no ring. They read the plant's glass in memory. */
import { across, elementOf, idOf, isFront, isPosition, positionEnd, sectionEnd, sideOf } from "../../glass/end.ts";
import { type Glass, handlesAt, JOIN, kindName } from "../../glass/glass.ts";
import type { KindName } from "../../model/dictionary.ts";
import { CAUTION, type Case, defineRule, type Ground } from "../rule.ts";

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
    if (!handles.every((handle) => glass.kind(handle) === JOIN)) forked.push({ end, handles });
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
    return {
      records: [
        ...ends.slice(0, 48).map(({ end }) => [isPosition(end) ? "position" : "section", idOf(end)] as const),
        ...[...joints.values()].slice(0, 96),
      ],
      count: ends.length,
      facts: {
        ends: ends.length,
        joints: joints.size,
        sides: ends.map(({ end }) => (isPosition(end) ? "back" : sideOf(end))),
      },
    };
  });
}

export const joinedTwice = defineRule({
  name: "truth.joined_twice",
  family: "truth",
  severity: "error",
  title: "End joined twice",
  why: "One end of glass can be in one joint only. A trace shows both ways; one of the records is wrong.",
  source: "How glass is joined; common practice, no source",
  find: joinedTwiceCases,
  say: (one, tag) => {
    const [first] = one.records;
    const joints = one.records.filter(([kind]) => kind !== "section" && kind !== "position");
    const what = first ? `\`${tag(...first)}\`` : "An end";
    const rest = (one.count ?? 1) > 1 ? ` and ${(one.count ?? 1) - 1} more` : "";
    return {
      sentence: `${what}${rest} ${rest ? "are" : "is"} joined more than once: ${joints
        .slice(0, 3)
        .map((joint) => `\`${tag(...joint)}\``)
        .join(", ")}${joints.length > 3 ? " and more" : ""}.`,
      repair: "Look which joint is there, and take the other out of the record.",
      caution: CAUTION.glass,
    };
  },
});

export const cordsOnOneFront = defineRule({
  name: "truth.cords_on_one_front",
  family: "truth",
  severity: "error",
  title: "Two cords in one port",
  why: "A position's front takes one plug. One of the cords was moved, or never was there.",
  source: "How glass is joined; common practice, no source",
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
    sentence: `${port ? `\`${tag(...port)}\`` : "A port"} has ${cords.length} cords on record: ${cords
      .map((cord) => `\`${tag(...cord)}\``)
      .join(", ")}.`,
    repair: "Look which cord is plugged, and unplug the other on record.",
    caution: CAUTION.glass,
  }),
});

export const ring = defineRule({
  name: "truth.ring",
  family: "truth",
  severity: "error",
  title: "Glass in a ring",
  why: "A line of glass that comes back to itself leads nowhere: a splice or cord is recorded between the wrong ends.",
  source: "How glass is joined; common practice, no source",
  async find(ground) {
    const glass = await ground.glass();
    const { section, position } = glass.tables;
    const seen = new Uint8Array((Math.max(section.last, position.last) + 1) * 2 + 2);
    const there = (end: number): boolean =>
      isPosition(end) ? position.port.get(idOf(end)) > 0 : section.strand.get(idOf(end)) > 0;
    /** Marks everything joined to an element, whichever way; answers what it marked. */
    const flood = (from: number): number[] => {
      const marked: number[] = [];
      const open = [from];
      for (let end = open.pop(); end !== undefined; end = open.pop()) {
        const element = elementOf(end);
        if (seen[element]) continue;
        seen[element] = 1;
        marked.push(end);
        for (const side of [end, across(end)]) {
          for (let handle = glass.first(side); handle >= 0; handle = glass.next(handle)) {
            const to = glass.to(handle);
            if (to !== 0 && !seen[elementOf(to)]) open.push(to);
          }
        }
      }
      return marked;
    };
    const bare = (end: number): boolean => glass.first(end) < 0;
    for (let id = 1; id <= section.last; id += 1) {
      const a = sectionEnd(id, "A");
      if (section.strand.get(id) > 0 && (bare(a) || bare(across(a)))) flood(a);
      if (id % 200_000 === 0) await ground.breathe();
    }
    for (let id = 1; id <= position.last; id += 1) {
      const back = positionEnd(id, "back");
      if (position.port.get(id) > 0 && (bare(back) || bare(across(back)))) flood(back);
    }
    const cases: Case[] = [];
    for (let id = 1; id <= section.last; id += 1) {
      const a = sectionEnd(id, "A");
      if (!there(a) || seen[elementOf(a)]) continue;
      const sections = flood(a)
        .filter((end) => !isPosition(end))
        .map(idOf)
        .sort((x, y) => x - y);
      cases.push({
        records: sections.slice(0, 60).map((section_id) => ["section", section_id] as const),
        count: 1,
        facts: { sections: sections.length },
      });
    }
    return cases;
  },
  say: ({ records, facts }, tag) => ({
    sentence: `${records
      .slice(0, 4)
      .map((record) => `\`${tag(...record)}\``)
      .join(
        ", ",
      )}${records.length > 4 ? " and more" : ""} form a ring of ${facts.sections} strand sections without an end.`,
    repair: "Follow the ring, and correct the joint that closes it.",
  }),
});
