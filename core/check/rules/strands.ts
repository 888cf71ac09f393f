/** Rules of the strands of a cable: how many, where in their unit, and that they are glass. */
import type { Row } from "../../model/dictionary.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, quote, quoted } from "../rule.ts";

export const strandCount = defineRule({
  name: "truth.strand_count",
  family: "truth",
  severity: "warning",
  title: say`Another number of strands than its type`,
  why: say`The cable holds more or fewer strands than its data sheet says: one of the two is wrong.`,
  source: say`The cable's own data sheet`,
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
    sentence: say`${quote(tag, cable)} has ${counted(facts.strands as number, "strand")}; its type ${quote(tag, type)} has ${String(facts.by_type)}.`,
    repair: say`Count the strands at an end, and correct the cable or its type.`,
    caution: CAUTION.glass,
  }),
});

export const strandNumber = defineRule({
  name: "truth.strand_number",
  family: "truth",
  severity: "warning",
  title: say`Strand numbers that don't count up`,
  why: say`Strands are counted from 1 over the whole sheath. A number beyond the count, or one left out, names glass that isn't there.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; strands: number; last: number }>(
      `select cable_id as id, count(*) as strands, max(number) as last from strand
       group by cable_id having max(number) > count(*) order by cable_id`,
    );
    const cases: Case[] = [];
    for (const { id, strands, last } of rows) {
      const beyond = await reader.rows<{ id: number; number: number }>(
        "select id, number from strand where cable_id = ? and number > ? order by number limit 100",
        [id, strands],
      );
      cases.push({
        records: [["cable", id], ...beyond.map((strand) => ["strand", strand.id] as const)],
        key: [["cable", id]],
        count: last - strands,
        facts: { strands, last },
      });
    }
    return cases;
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} has ${counted(facts.strands as number, "strand")}, numbered up to ${String(facts.last)}.`,
    repair: say`Correct the numbers, or add the strands that are left out.`,
  }),
});

export const strandPlaceTwice = defineRule({
  name: "truth.strand_place_twice",
  family: "truth",
  severity: "error",
  title: say`Two strands in one place of a unit`,
  why: say`Place and colour follow from the order in the tube: two strands can't have the same.`,
  source: say`TIA-598 colour order; common practice`,
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
    sentence: say`In ${quote(tag, unit)} place ${(facts.places as number[]).join(", ")} is taken by ${strands
      .slice(0, 4)
      .map((strand) => quote(tag, strand))
      .join(", ")}.`,
    repair: say`Correct the places of the strands.`,
  }),
});

export const strandWithoutGlass = defineRule({
  name: "truth.strand_without_glass",
  family: "truth",
  severity: "gap",
  title: say`Strand without a section`,
  why: say`A strand's glass is its sections; without one it can neither be joined nor traced.`,
  source: say`How a strand is recorded; common practice, no source`,
  async find({ reader, glass }) {
    const { section, strand } = (await glass()).tables;
    const has = new Uint8Array(strand.last + 1);
    for (let id = 1; id <= section.last; id += 1) has[section.strand.get(id)] = 1;
    const bare: number[] = [];
    for (let id = 1; id <= strand.last; id += 1) if (!has[id] && strand.cable.get(id) > 0) bare.push(id);
    if (bare.length === 0) return [];
    const rows = await reader.rows<{ id: number; cable_id: number }>(
      `select t.id, t.cable_id from strand t where t.id in (select value from json_each(?)) order by t.cable_id, t.number`,
      [JSON.stringify(bare)],
    );
    return [...Map.groupBy(rows, ({ cable_id }) => cable_id)].map(
      ([cable_id, strands]): Case => ({
        records: [["cable", cable_id], ...strands.map(({ id }) => ["strand", id] as const)],
        count: strands.length,
        facts: { strands: strands.length },
      }),
    );
  },
  say: ({ records: [cable, ...strands], facts }, tag) => ({
    sentence: plural(
      facts.strands as number,
      "{0} strand of {1} has no section: {2}.",
      "{0} strands of {1} have no section: {2}.",
      quote(tag, cable),
      quoted(tag, strands),
    ),
    repair: say`Add a section from the strand's first stop to its last, or delete the strand.`,
  }),
});
