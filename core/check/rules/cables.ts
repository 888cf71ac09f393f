/** Rules of a cable along its way: marks, stops, legs, openings, strands. */
import type { Row } from "../../model/dictionary.ts";
import { CAUTION, type Case, counted, defineRule, listed, PRESENT, quote, quoted } from "../rule.ts";

interface StopMarks
  extends Pick<
    Row<"stop">,
    "id" | "cable_id" | "ordinal" | "kind" | "mark_in" | "mark_open_from" | "mark_open_to" | "mark_out"
  > {
  readonly has_breaks: number;
}

const STOPS = `select s.id, s.cable_id, s.ordinal, s.kind, s.mark_in, s.mark_open_from, s.mark_open_to, s.mark_out,
    c.mark_breaks is not null as has_breaks
  from stop s join cable c on c.id = s.cable_id where c.life in ${PRESENT} order by s.cable_id, s.ordinal`;

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

/** The way marks run: 1 up, -1 down; 0 when there is no telling. By the two that are farthest apart on the cable. */
const wayOf = (marks: readonly number[]): number => Math.sign((marks.at(-1) ?? 0) - (marks[0] ?? 0));

export const marksBackwards = defineRule({
  name: "truth.marks_backwards",
  family: "truth",
  severity: "error",
  title: "Marks run backwards",
  why: "Sheath marks run one way along a cable. Where one turns round it was misread, or the stops are in the wrong order; lengths and fault places are wrong from there.",
  source: "Common practice, no source",
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
      sentence: `The marks of ${quote(tag, cable)} turn round at ${quote(tag, stop)}: ${turn[0]}, then ${turn[1]}.`,
      repair: "Read the mark again, put the stops in order, or record a mark break.",
      caution: CAUTION.hole,
    };
  },
});

export const openingOutside = defineRule({
  name: "truth.opening_outside",
  family: "truth",
  severity: "error",
  title: "Opening outside its hole's marks",
  why: "The edges of an opening lie between the marks where the cable comes in and goes out.",
  source: "Common practice, no source",
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
    sentence: `The edge of the opening at ${quote(tag, stop)} is recorded at ${(facts.edges as number[]).join(" and ")}, outside the mouths at ${(
      facts.mouths as number[]
    ).join(" and ")}.`,
    repair: "Read the marks at the opening again.",
    caution: CAUTION.hole,
  }),
});

export const marksWithoutUnit = defineRule({
  name: "truth.marks_without_unit",
  family: "truth",
  severity: "gap",
  title: "Marks without a unit",
  why: "Feet or metres: without the unit no length can be taken from the marks.",
  source: "Common practice, no source",
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; marks: number }>(
      `select c.id, count(*) as marks from cable c join stop s on s.cable_id = c.id
       where c.mark_unit is null and (s.mark_in is not null or s.mark_out is not null) group by c.id order by c.id`,
    );
    return rows.map(({ id, marks }): Case => ({ records: [["cable", id]], facts: { stops_with_marks: marks } }));
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: `${quote(tag, cable)} has marks at ${counted(facts.stops_with_marks as number, "stop")} but not in what unit.`,
    repair: "Say whether the sheath is printed in feet or metres.",
  }),
});

export const endsAmiss = defineRule({
  name: "truth.ends_amiss",
  family: "truth",
  severity: "error",
  title: "Cable that ends in the middle, or not at all",
  why: "A cable has an end at its first and last stop and nowhere else. Stops are missing, doubled or out of order.",
  source: "Common practice, no source",
  async find({ reader }) {
    const cases: Case[] = [];
    for (const [cable_id, stops] of Map.groupBy(await reader.rows<StopMarks>(STOPS), (stop) => stop.cable_id)) {
      // Where a cable was cut off and its rest removed, it is severed at its last stop.
      const wrong = stops.filter(({ kind }, i) =>
        i === 0 || i === stops.length - 1 ? kind !== "end" && kind !== "severed" : kind === "end",
      );
      const gaps = stops.some(({ ordinal }, i) => ordinal !== i + 1);
      if (wrong.length === 0 && !gaps) continue;
      cases.push({
        records: [["cable", cable_id], ...wrong.map(({ id }) => ["stop", id] as const)],
        count: Math.max(1, wrong.length),
        facts: { stops: stops.map(({ ordinal, kind }) => `${ordinal} ${kind}`) },
      });
    }
    return cases;
  },
  say: ({ records: [cable, ...stops] }, tag) => ({
    sentence:
      stops.length > 0
        ? `${quote(tag, cable)} should end at its first and last stop and nowhere else; it is otherwise at ${quoted(tag, stops)}.`
        : `The stops of ${quote(tag, cable)} are not numbered without a gap.`,
    repair: "Put the stops in order, and say what the cable does at each.",
  }),
});

export const passingCut = defineRule({
  name: "truth.passing_cut",
  family: "truth",
  severity: "error",
  title: "Strands cut where the cable only passes",
  why: "Glass can only end where the sheath is open. The stop is opened and not recorded so, or the strands run on.",
  source: "Common practice, no source",
  async find({ reader }) {
    const rows = await reader.rows<{ stop_id: number; cable_id: number; ends: number }>(
      `select s.id as stop_id, s.cable_id, count(*) as ends from (
         select a_stop_id as stop from section union all select b_stop_id from section) e
       join stop s on s.id = e.stop where s.kind = 'passing' group by s.id order by s.id`,
    );
    return rows.map(
      ({ stop_id, cable_id, ends }): Case => ({
        records: [
          ["stop", stop_id],
          ["cable", cable_id],
        ],
        count: ends,
        facts: { ends },
      }),
    );
  },
  say: ({ records: [stop], facts }, tag) => ({
    sentence: `${counted(facts.ends as number, "end of glass", "ends of glass")} lie at ${quote(tag, stop)}, where the cable only passes.`,
    repair: "Say that the cable is opened there, or join the sections again.",
    caution: CAUTION.glass,
  }),
});

const ASTRAY: Readonly<Record<string, string>> = {
  "another cable": "a stop is of another cable",
  "wrong order": "the end comes before the beginning",
  overlap: "it overlaps the section before it",
};

export const sectionAstray = defineRule({
  name: "truth.section_astray",
  family: "truth",
  severity: "error",
  title: "Section that does not lie on its cable",
  why: "A section runs from one stop of its own cable to a later one.",
  source: "How a strand is recorded; common practice, no source",
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; cable_id: number; why: string }>(
      `select e.id, t.cable_id, case when a.cable_id <> t.cable_id or b.cable_id <> t.cable_id
           then 'another cable' else 'wrong order' end as why
       from section e join strand t on t.id = e.strand_id join stop a on a.id = e.a_stop_id join stop b on b.id = e.b_stop_id
       where a.cable_id <> t.cable_id or b.cable_id <> t.cable_id or a.ordinal >= b.ordinal
       union all
       select e.id, t.cable_id, 'overlap' from section e join section f on f.strand_id = e.strand_id and f.ordinal = e.ordinal - 1
         join strand t on t.id = e.strand_id join stop a on a.id = e.a_stop_id join stop b on b.id = f.b_stop_id
       where e.ordinal > 1 and a.cable_id = b.cable_id and a.ordinal < b.ordinal`,
    );
    return [...Map.groupBy(rows, ({ cable_id }) => cable_id)].map(([cable_id, same]): Case => {
      const ids = new Set(same.map(({ id }) => id));
      return {
        records: [["cable", cable_id], ...[...ids].map((id) => ["section", id] as const)],
        count: ids.size,
        facts: { why: [...new Set(same.map(({ why }) => why))].sort(), sections: ids.size },
      };
    });
  },
  say: ({ records: [cable, section], facts, count = 1 }, tag) => ({
    sentence: `${quote(tag, section)}${count > 1 ? ` and ${count - 1} more` : ""} ${count > 1 ? "don't" : "doesn't"} lie on ${quote(tag, cable)} as glass can: ${listed((facts.why as string[]).map((why) => ASTRAY[why] as string))}.`,
    repair: "Correct the stops of the sections.",
  }),
});

export const severedUncut = defineRule({
  name: "truth.severed_uncut",
  family: "truth",
  severity: "warning",
  title: "Strands that run through a severed stop",
  why: "Where a cable is severed its glass is gone. Strands that still run through were not cut on record.",
  source: "Common practice, no source",
  async find({ reader }) {
    const rows = await reader.rows<{ stop_id: number; cable_id: number; id: number }>(
      `select s.id as stop_id, s.cable_id, e.id from stop s join stop a on a.cable_id = s.cable_id and a.ordinal < s.ordinal
       join section e on e.a_stop_id = a.id join stop b on b.id = e.b_stop_id and b.ordinal > s.ordinal
       where s.kind = 'severed' order by s.id, e.id`,
    );
    return [...Map.groupBy(rows, ({ stop_id }) => stop_id)].map(
      ([stop_id, sections]): Case => ({
        records: [
          ["stop", stop_id],
          ["cable", sections[0]?.cable_id as number],
          ...sections.map(({ id }) => ["section", id] as const),
        ],
        count: sections.length,
        facts: { sections: sections.length },
      }),
    );
  },
  say: ({ records: [stop], facts }, tag) => ({
    sentence: `${counted(facts.sections as number, "strand")} run through ${quote(tag, stop)}, where the cable is severed.`,
    repair: "Cut the strands there on record, or say that the cable is opened and not severed.",
    caution: CAUTION.glass,
  }),
});

export const strandCount = defineRule({
  name: "truth.strand_count",
  family: "truth",
  severity: "warning",
  title: "Another number of strands than its type",
  why: "The cable holds more or fewer strands than its data sheet says: one of the two is wrong.",
  source: "The cable's own data sheet",
  async find({ reader }) {
    const units = await reader.rows<Row<"unit_type">>("select * from unit_type order by cable_type_id, ordinal");
    const totals = new Map<number, number>();
    for (const [type, own] of Map.groupBy(units, ({ cable_type_id }) => cable_type_id)) {
      const below = (parent: number | null): number =>
        own
          .filter(({ parent_id }) => parent_id === parent)
          .reduce((sum, { id, repeats, strands }) => sum + repeats * (strands + below(id)), 0);
      totals.set(type, below(null));
    }
    const rows = await reader.rows<{ id: number; type_id: number; strands: number }>(
      `select c.id, c.type_id, count(*) as strands from cable c join strand t on t.cable_id = c.id
       where c.type_id is not null group by c.id order by c.id`,
    );
    return rows.flatMap(({ id, type_id, strands }): Case[] => {
      const total = totals.get(type_id);
      if (total === undefined || total === strands) return [];
      return [
        {
          records: [
            ["cable", id],
            ["cable_type", type_id],
          ],
          facts: { strands, by_type: total },
        },
      ];
    });
  },
  say: ({ records: [cable, type], facts }, tag) => ({
    sentence: `${quote(tag, cable)} has ${counted(facts.strands as number, "strand")}; its type ${quote(tag, type)} has ${facts.by_type}.`,
    repair: "Count the strands at an end, and correct the cable or its type.",
    caution: CAUTION.glass,
  }),
});

export const strandPlaceTwice = defineRule({
  name: "truth.strand_place_twice",
  family: "truth",
  severity: "error",
  title: "Two strands in one place of a unit",
  why: "Place and colour follow from the order in the tube: two strands can't have the same.",
  source: "TIA-598 colour order; common practice",
  async find({ reader }) {
    const rows = await reader.rows<{ unit_id: number; place: number; id: number }>(
      `select unit_id, place, id from strand where (unit_id, place) in
         (select unit_id, place from strand where unit_id is not null and place is not null
          group by unit_id, place having count(*) > 1) order by unit_id, place, number`,
    );
    return [...Map.groupBy(rows, ({ unit_id }) => unit_id)].map(
      ([unit_id, strands]): Case => ({
        records: [["unit", unit_id], ...strands.map(({ id }) => ["strand", id] as const)],
        count: new Set(strands.map(({ place }) => place)).size,
        facts: { places: [...new Set(strands.map(({ place }) => place))] },
      }),
    );
  },
  say: ({ records: [unit, ...strands], facts }, tag) => ({
    sentence: `In ${quote(tag, unit)} place ${(facts.places as number[]).join(", ")} is taken by ${strands
      .slice(0, 4)
      .map((strand) => quote(tag, strand))
      .join(", ")}.`,
    repair: "Correct the places of the strands.",
  }),
});
