/** A rule of whole splices between two cables: blocks that changed places in an otherwise straight one. */
import { numberRuns } from "../../store/addresses.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, PRESENT, quote } from "../rule.ts";

/** Splices between two cables at one place that run with one distance between the numbers. */
interface Run {
  readonly one: number;
  readonly other: number;
  readonly space_id: number;
  readonly apart: number;
  readonly splices: number;
}

interface Joined {
  readonly splice_id: number;
  readonly one: number;
  readonly other: number;
  readonly space_id: number;
  readonly one_tag: string;
  readonly other_tag: string;
  readonly a: number;
  readonly b: number;
}

/** Splices of two cables, the cable with the smaller id first, at the stop of that splice's end A. */
const JOINED = `select p.id as splice_id, x.space_id,
    min(sa.cable_id, sb.cable_id) as one, max(sa.cable_id, sb.cable_id) as other,
    case when sa.cable_id < sb.cable_id then sa.number else sb.number end as a,
    case when sa.cable_id < sb.cable_id then sb.number else sa.number end as b
  from splice p
  join section ea on ea.id = p.a_section_id join strand sa on sa.id = ea.strand_id
  join section eb on eb.id = p.b_section_id join strand sb on sb.id = eb.strand_id
  join stop x on x.id = case p.a_side when 'A' then ea.a_stop_id else ea.b_stop_id end
  where p.life in ${PRESENT} and x.space_id is not null and sa.cable_id <> sb.cable_id`;

const keyOf = ({ one, other, space_id }: Pick<Run, "one" | "other" | "space_id">): string =>
  `${one} ${other} ${space_id}`;

/** Places where most splices of two cables run with one distance, and as many or fewer with others. */
function doubtful(runs: readonly Run[]): Map<string, number> {
  const found = new Map<string, number>();
  for (const [key, own] of Map.groupBy(runs, keyOf)) {
    const [most, ...others] = own.toSorted((a, b) => b.splices - a.splices || a.apart - b.apart);
    const rest = others.reduce((sum, { splices }) => sum + splices, 0);
    if (most && rest > 1 && most.splices >= rest) found.set(key, most.apart);
  }
  return found;
}

/** The splices out of line, where they only changed places among themselves; null where they go elsewhere. */
function changedPlaces(joined: readonly Joined[], apart: number): Joined[] | null {
  const crossed = joined.filter(({ a, b }) => b - a !== apart);
  const wanted = new Set(crossed.map(({ a }) => a + apart));
  const taken = new Set(crossed.map(({ b }) => b));
  return wanted.size === taken.size && [...wanted].every((number) => taken.has(number)) ? crossed : null;
}

export const blockCrossed = defineRule({
  name: "truth.block_crossed",
  family: "truth",
  severity: "advice",
  title: say`A block out of line in a straight splice`,
  why: say`Two cables are spliced straight but for strands that changed places: often two units were taken for each other, at the bench or on paper.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const runs = await reader.rows<Run>(
      `select one, other, space_id, b - a as apart, count(*) as splices from (${JOINED}) group by 1, 2, 3, 4`,
    );
    const places = doubtful(runs);
    if (places.size === 0) return [];
    const cables = [...places.keys()].map((key) => Number(key.split(" ")[0]));
    const rows = await reader.rows<Joined>(
      `select j.*, c.tag as one_tag, d.tag as other_tag from (${JOINED}) j
       join cable c on c.id = j.one join cable d on d.id = j.other
       where j.one in (select value from json_each(?)) order by j.one, j.other, j.space_id, j.a, j.b`,
      [JSON.stringify([...new Set(cables)])],
    );
    return [...Map.groupBy(rows, keyOf)].flatMap(([key, joined]): Case[] => {
      const apart = places.get(key);
      const crossed = apart === undefined ? null : changedPlaces(joined, apart);
      const [first] = crossed ?? [];
      if (!crossed || !first) return [];
      // Told from the cable whose tag comes first: ids differ after an exchange.
      const turned = first.other_tag < first.one_tag;
      const from = (row: Joined) => (turned ? row.b : row.a);
      const to = (row: Joined) => (turned ? row.a : row.b);
      const inOrder = crossed.toSorted((x, y) => from(x) - from(y));
      const records = [["cable", first.one] as const, ["cable", first.other] as const];
      return [
        {
          records: [
            ...(turned ? records.toReversed() : records),
            ["space", first.space_id] as const,
            ...inOrder.map(({ splice_id }) => ["splice", splice_id] as const),
          ],
          key: [...records, ["space", first.space_id]],
          inOrder: true,
          count: crossed.length,
          facts: {
            straight: joined.length - crossed.length,
            from: numberRuns(inOrder.map(from)),
            to: numberRuns(inOrder.map(to)),
          },
        },
      ];
    });
  },
  say: ({ records: [one, other, space], facts, count = 1 }, tag) => ({
    sentence: plural(
      count,
      "{0} splice of {1} to {2} in {3} is out of line: {4} to {5}, while {6} run straight.",
      "{0} splices of {1} to {2} in {3} are out of line: {4} to {5}, while {6} run straight.",
      quote(tag, one),
      quote(tag, other),
      quote(tag, space),
      String(facts.from),
      String(facts.to),
      String(facts.straight),
    ),
    repair: say`Where they changed places by mistake, swap the two ranges; where they were meant to, accept it with the reason.`,
    caution: CAUTION.glass,
  }),
});
