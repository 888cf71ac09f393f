/** Rules of the marks on a cable's sheath. */

import { counted } from "../../words/counted.ts";
import { listed } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, quote } from "../rule.ts";
import { STOPS, type StopMarks } from "../stop-marks.ts";

/** Edges of an opening that don't lie between the marks at its mouths, where both are known. */
function edgesOutside({ mark_in, mark_out, mark_open_from, mark_open_to }: StopMarks): number[] {
  if (mark_in === null || mark_out === null) return [];
  const [low, high] = [Math.min(mark_in, mark_out), Math.max(mark_in, mark_out)];
  return [mark_open_from, mark_open_to].filter((mark) => mark !== null && (mark < low || mark > high)) as number[];
}

/** A stop's marks in the order in which they lie on the sheath; edges outside their mouths are told by themselves. */
const marksOf = (stop: StopMarks): number[] => {
  const outside = edgesOutside(stop);
  return [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out].filter(
    (mark, i): mark is number => mark !== null && (i === 0 || i === 3 || !outside.includes(mark)),
  );
};

/** The way marks run: 1 up, -1 down; 0 when there is no telling. As most steps do, else as the first and last. */
function wayOf(marks: readonly number[]): number {
  const steps = marks.slice(1).reduce((sum, mark, index) => sum + Math.sign(mark - (marks[index] as number)), 0);
  return Math.sign(steps === 0 ? (marks.at(-1) ?? 0) - (marks[0] ?? 0) : steps);
}

export const marksBackwards = defineRule({
  name: "truth.marks_backwards",
  family: "truth",
  severity: "error",
  title: say`Marks run backwards`,
  why: say`Sheath marks run one way along a cable. Where one turns round it was misread, or the stops are in the wrong order; lengths and fault places are wrong from there.`,
  source: say`Common practice, no source`,
  async find({ reader, breathe }) {
    const cases: Case[] = [];
    for (const [cable_id, stops] of Map.groupBy(await reader.rows<StopMarks>(STOPS), (stop) => stop.cable_id)) {
      if (stops[0]?.has_breaks) continue;
      const way = wayOf(stops.flatMap(marksOf));
      let before: number | null = null;
      const wrong: { stop: StopMarks; before: number; mark: number }[] = [];
      for (const stop of stops) {
        for (const mark of marksOf(stop)) {
          if (before !== null && way !== 0 && Math.sign(mark - before) === -way) wrong.push({ stop, before, mark });
          before = mark;
        }
      }
      // All marks alike, or a first and last alike with others between, is turning round as well.
      if (way === 0) {
        const marks = stops.flatMap(marksOf);
        const other = marks.findIndex((mark) => mark !== marks[0]);
        const stop = stops.find((one) => marksOf(one).includes(marks[other] ?? Number.NaN));
        if (other > 0 && stop) wrong.push({ stop, before: marks[0] as number, mark: marks[other] as number });
      }
      if (wrong.length === 0) continue;
      cases.push({
        records: [["cable", cable_id], ...wrong.map(({ stop }) => ["stop", stop.id] as const)],
        count: wrong.length,
        facts: { turns: wrong.map(({ before: a, mark }) => [a, mark]), way },
      });
    }
    await breathe();
    return cases;
  },
  say: ({ records: [cable, stop], facts }, tag) => {
    const [turn] = facts.turns as [[number, number]];
    return {
      sentence: say`The marks of ${quote(tag, cable)} turn round at ${quote(tag, stop)}: ${turn[0]}, then ${turn[1]}.`,
      repair: say`Read the mark again, put the stops in order, or record a mark break.`,
      caution: CAUTION.hole,
    };
  },
});

export const openingOutside = defineRule({
  name: "truth.opening_outside",
  family: "truth",
  severity: "error",
  title: say`Opening outside its hole's marks`,
  why: say`The edges of an opening lie between the marks where the cable comes in and goes out.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const cases: Case[] = [];
    for (const stop of await reader.rows<StopMarks>(STOPS)) {
      const edges = edgesOutside(stop);
      if (stop.has_breaks || edges.length === 0) continue;
      cases.push({
        records: [
          ["stop", stop.id],
          ["cable", stop.cable_id],
        ],
        facts: { mouths: [stop.mark_in, stop.mark_out], edges },
      });
    }
    return cases;
  },
  say: ({ records: [stop], facts }, tag) => ({
    sentence: say`The edge of the opening at ${quote(tag, stop)} is recorded at ${listed((facts.edges as number[]).map(String))}, outside the mouths at ${listed((facts.mouths as number[]).map(String))}.`,
    repair: say`Read the marks at the opening again.`,
    caution: CAUTION.hole,
  }),
});

export const marksWithoutUnit = defineRule({
  name: "truth.marks_without_unit",
  family: "truth",
  severity: "gap",
  title: say`Marks without a unit`,
  why: say`Feet or metres: without the unit no length can be taken from the marks.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; marks: number }>(
      `select c.id, count(*) as marks from cable c join stop s on s.cable_id = c.id
       where c.mark_unit is null and (s.mark_in is not null or s.mark_out is not null) group by c.id order by c.id`,
    );
    return rows.map(({ id, marks }): Case => ({ records: [["cable", id]], facts: { stops_with_marks: marks } }));
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} has marks at ${counted(facts.stops_with_marks as number, "stop")} but not in what unit.`,
    repair: say`Say whether the sheath is printed in feet or metres.`,
  }),
});
