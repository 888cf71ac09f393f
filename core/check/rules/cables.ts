/** Rules of a cable and its glass along its stops. */

import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, listed, quote, quoted } from "../rule.ts";
import { STOPS, type StopMarks } from "../stop-marks.ts";

export const endsAmiss = defineRule({
  name: "truth.ends_amiss",
  family: "truth",
  severity: "error",
  title: say`Cable that ends in the middle, or not at all`,
  why: say`A cable has an end at its first and last stop and nowhere else. Stops are missing, doubled or out of order.`,
  source: say`Common practice, no source`,
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
        ? say`${quote(tag, cable)} should end at its first and last stop and nowhere else; it is otherwise at ${quoted(tag, stops)}.`
        : say`The stops of ${quote(tag, cable)} are not numbered without a gap.`,
    repair: say`Put the stops in order, and say what the cable does at each.`,
  }),
});

export const passingCut = defineRule({
  name: "truth.passing_cut",
  family: "truth",
  severity: "error",
  title: say`Strands cut where the cable only passes`,
  why: say`Glass can only end where the sheath is open. The stop is opened and not recorded so, or the strands run on.`,
  source: say`Common practice, no source`,
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
    sentence: say`${counted(facts.ends as number, "end of glass", "ends of glass")} lie at ${quote(tag, stop)}, where the cable only passes.`,
    repair: say`Say that the cable is opened there, or join the sections again.`,
    caution: CAUTION.glass,
  }),
});

const ASTRAY: Readonly<Record<string, string>> = {
  "another cable": say`a stop is of another cable`,
  "wrong order": say`the end comes before the beginning`,
  overlap: say`it overlaps the section before it`,
};

export const sectionAstray = defineRule({
  name: "truth.section_astray",
  family: "truth",
  severity: "error",
  title: say`Section that does not lie on its cable`,
  why: say`A section runs from one stop of its own cable to a later one.`,
  source: say`How a strand is recorded; common practice, no source`,
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
    sentence: plural(
      count,
      "{1} doesn't lie on {2} as glass can: {3}.",
      "{1} and {4} more don't lie on {2} as glass can: {3}.",
      quote(tag, section),
      quote(tag, cable),
      listed((facts.why as string[]).map((why) => ASTRAY[why] as string)),
      count - 1,
    ),
    repair: say`Correct the stops of the sections.`,
  }),
});

export const severedUncut = defineRule({
  name: "truth.severed_uncut",
  family: "truth",
  severity: "warning",
  title: say`Strands that run through a severed stop`,
  why: say`Where a cable is severed its glass is gone. Strands that still run through were not cut on record.`,
  source: say`Common practice, no source`,
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
    sentence: say`${counted(facts.sections as number, "strand")} run through ${quote(tag, stop)}, where the cable is severed.`,
    repair: say`Cut the strands there on record, or say that the cable is opened and not severed.`,
    caution: CAUTION.glass,
  }),
});
