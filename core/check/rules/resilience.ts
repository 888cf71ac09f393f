/** Rules of what a loss would take: ways in, diverse circuits, spare strands, slack, repairs that were meant to be temporary. */

import { CONDITIONS, dayNumber } from "../../glass/plant-tables.ts";
import { diverseOf } from "../../impact/shared.ts";
import { type FoundWays, waysOf } from "../../impact/ways-in.ts";
import { WaysNet } from "../../impact/ways-net.ts";
import type { KindName } from "../../model/dictionary.ts";
import { METRES_PER_FOOT } from "../../model/units.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { limitsOf } from "../light-lines.ts";
import { SWITCHES } from "../policies.ts";
import { CAUTION, CannotTell, type Case, defineRule, type Ground, PRESENT, quote, quoted } from "../rule.ts";

const PRACTICE = say`Common practice, no source`;

/** A policy as a number from 0; null where the plant sets none. */
async function policy(ground: Ground, tag: string): Promise<number | null> {
  const value = (await limitsOf(ground)).get(tag)?.value;
  if (value === undefined) return null;
  if (!(value >= 0)) throw new CannotTell(say`the policy ${tag} must be a number from 0`);
  return value;
}

const WAYS = SWITCHES.ways;

/** Everything that all ways into a building share. */
const sharedBy = (net: WaysNet, { points, conduits, cables }: FoundWays): (readonly [KindName, number])[] => [
  ...points.flatMap((node) => {
    const kind = net.kinds[node];
    return kind === "space" || kind === "pathway" ? [[kind, net.records[node] as number] as const] : [];
  }),
  ...conduits.map((id) => ["conduit", id] as const),
  ...cables.map((id) => ["cable", id] as const),
];

export const fewWays = defineRule({
  name: "resilience.few_ways",
  family: "resilience",
  severity: "advice",
  title: say`Fewer separate ways into a building than are wanted`,
  why: say`Where all ways share a place or a pathway, one accident there cuts the building off.`,
  source: say`How many are wanted is on record for the building, or in the plant's policy ways.wanted; off where neither says`,
  async find(ground) {
    const usual = (await policy(ground, WAYS)) ?? 0;
    const rows = (await ground.reader.lists(
      `select id, ifnull(ways_wanted, ?) as wanted from building where wanted > 0 and life in ${PRESENT} order by id`,
      [usual],
    )) as [number, number][];
    if (rows.length === 0) return [];
    const net = await WaysNet.read(ground.reader);
    const cases: Case[] = [];
    for (const [at, [id, wanted]] of rows.entries()) {
      if (at % 20 === 19) await ground.breathe();
      const found = waysOf(net, id);
      if (found.ways.length >= wanted) continue;
      cases.push({
        records: [["building", id], ...sharedBy(net, found)],
        key: [["building", id]],
        facts: {
          ways: found.ways.length,
          wanted,
          gaps: found.ways.filter((way) => way.some((node) => net.kinds[node] === "unknown")).length,
        },
      });
    }
    return cases;
  },
  say: ({ records: [building, ...shared], facts }, tag) => ({
    sentence: plural(
      facts.wanted as number,
      "{1} has {2}, and {0} is wanted{3}{4}.",
      "{1} has {2}, and {0} are wanted{3}{4}.",
      quote(tag, building),
      facts.ways === 0
        ? say`no way in on record`
        : counted(facts.ways as number, "separate way in", "separate ways in"),
      shared.length > 0 ? say`: all of them pass ${quoted(tag, shared)}` : "",
      facts.gaps === 0
        ? ""
        : plural(
            facts.gaps as number,
            "; {0} of them is not wholly on record, and cables there count as one way",
            "; {0} of them are not wholly on record, and cables there count as one way",
          ),
    ),
    repair: say`Plan a way that shares nothing with those there are; or record the ways that are there.`,
  }),
});

export const diverseShared = defineRule({
  name: "resilience.diverse_shared",
  family: "resilience",
  severity: "warning",
  title: say`Diverse circuits that share a way`,
  why: say`They were declared diverse so that no one accident takes both; what they share takes both.`,
  source: say`The diversity on record`,
  async find({ reader, today, glass }) {
    const [any] = await reader.lists("select 1 from diversity limit 1");
    if (!any) return [];
    const { pairs } = await diverseOf(reader, null, { today, held: await glass() });
    return pairs.flatMap(({ verdict, circuit, other, shared }): Case[] => {
      if (verdict !== "shared") return [];
      const risks = shared.filter(({ both_end_here }) => !both_end_here).map(({ record }) => record);
      const pair = [
        ["circuit", circuit.id],
        ["circuit", other.id],
      ] as const;
      return [
        {
          records: [...pair, ...risks.map(({ kind, id }) => [kind as KindName, id] as const)],
          key: pair,
          facts: { shared: risks.length },
        },
      ];
    });
  },
  say: ({ records: [one, other, ...shared] }, tag) => ({
    sentence: say`${quote(tag, one)} and ${quote(tag, other)} are declared diverse, and both run through ${quoted(tag, shared)}.`,
    repair: say`Move one of them to another way, or strike out the declaration, so that nobody relies on it.`,
  }),
});

const SPARES = SWITCHES.spares;
const BROKEN = CONDITIONS.indexOf("broken") + 1;

/** Strands of each cable that any circuit has or was promised, and those that are free, whole and not broken. */
async function spares(ground: Ground): Promise<Map<number, { used: number; free: number }>> {
  const plant = await ground.glass();
  const { section, strand } = plant.tables;
  const promised = plant.promisedOn(dayNumber(ground.today));
  const used = new Uint8Array(strand.last + 1);
  const present = new Uint8Array(strand.last + 1);
  for (let id = 1; id <= section.last; id += 1) {
    const own = section.strand.get(id);
    present[own] = 1;
    if (promised[id] === 1) used[own] = 1;
  }
  const cables = new Map<number, { used: number; free: number }>();
  for (let id = 1; id <= strand.last; id += 1) {
    if (present[id] !== 1) continue;
    const cable = strand.cable.get(id);
    const own = cables.get(cable) ?? { used: 0, free: 0 };
    if (used[id] === 1) own.used += 1;
    else if (strand.condition.get(id) !== BROKEN) own.free += 1;
    cables.set(cable, own);
  }
  return cables;
}

export const noSpares = defineRule({
  name: "resilience.no_spares",
  family: "resilience",
  severity: "advice",
  title: say`Cable without spare strands`,
  why: say`A strand that breaks is replaced by a spare in the same cable within hours; without one it takes a new cable.`,
  source: say`The plant's policy spares.strands, spare strands wanted in a cable that is in use; off where it sets no number`,
  async find(ground) {
    const wanted = await policy(ground, SPARES);
    if (wanted === null) return [];
    const rows = await ground.reader.lists(
      `select c.id from cable c left join party o on o.id = c.owner_id
       where c.life = 'in_place' and (c.owner_id is null or o.role is 'self') order by c.id`,
    );
    const all = await spares(ground);
    return rows.flatMap(([id]): Case[] => {
      const { used, free } = all.get(id as number) ?? { used: 0, free: 0 };
      if (used === 0 || free >= wanted) return [];
      return [{ records: [["cable", id as number]], facts: { free, used, wanted } }];
    });
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} has ${
      facts.free === 0 ? say`no spare strand` : counted(facts.free as number, "spare strand")
    } beside ${String(facts.used)} in use, and ${String(facts.wanted)} are wanted.`,
    repair: say`Release what is no longer used, or plan a further cable before the next service is promised.`,
  }),
});

const SLACK = SWITCHES.slack;

export const noSlack = defineRule({
  name: "resilience.no_slack",
  family: "resilience",
  severity: "advice",
  title: say`Cable with too little slack in a hole`,
  why: say`Without slack a cut can't be spliced where it is: a piece and a second joint must go in.`,
  source: say`The plant's policies slack.keep and, for one kind of place, slack.keep.KIND, metres kept at a stop; off where they set no number`,
  async find(ground) {
    const { reader } = ground;
    const tags = (await limitsOf(ground)).under(SLACK).map(({ tag }) => tag);
    if (tags.length === 0) return [];
    // Where a passing stop has both marks, slack is what they show less the crossing; else what was recorded.
    const crossing = "coalesce(s.crossing_m, 1.5 * (s.inner_length_m + s.inner_width_m))";
    const byMarks = `case when t.kind = 'passing' and c.mark_breaks is null and c.mark_unit is not null then
      max(0, round(abs(t.mark_out - t.mark_in) * case c.mark_unit when 'ft' then ${METRES_PER_FOOT} else 1 end - ${crossing}, 3)) end`;
    const rows = await reader.rows<{ stop_id: number; cable_id: number; slack_m: number; kind: string | null }>(
      `select * from (select t.id as stop_id, t.cable_id, t.ordinal, coalesce(${byMarks}, t.slack_m) as slack_m, s.kind
         from stop t cross join space s on s.id = t.space_id cross join cable c on c.id = t.cable_id
         where c.life = 'in_place' and s.building_id is null)
       where slack_m is not null order by cable_id, ordinal`,
    );
    const keep = new Map<string, number | null>();
    for (const kind of new Set(rows.map((row) => row.kind ?? ""))) {
      keep.set(kind, (await policy(ground, `${SLACK}.${kind}`)) ?? (await policy(ground, SLACK)));
    }
    const short = rows.filter(({ slack_m, kind }) => slack_m < (keep.get(kind ?? "") ?? 0));
    return [...Map.groupBy(short, ({ cable_id }) => cable_id)].map(
      ([cable, stops]): Case => ({
        records: [["cable", cable], ...stops.map(({ stop_id }) => ["stop", stop_id] as const)],
        key: [["cable", cable]],
        inOrder: true,
        count: stops.length,
        facts: {
          slack_m: stops.map(({ slack_m }) => slack_m),
          wanted_m: stops.map(({ kind }) => keep.get(kind ?? "") ?? 0),
        },
      }),
    );
  },
  say: ({ records: [cable, ...stops], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} has less slack than is to be kept at ${quoted(tag, stops)}: ${Math.min(
      ...(facts.slack_m as number[]),
    )} m where ${Math.max(...(facts.wanted_m as number[]))} m are wanted.`,
    repair: say`See whether a coil there was not recorded; else bring slack there at the next work on the cable.`,
    caution: CAUTION.hole,
  }),
});

/** What a job laid and still lies in none of the ways on record. */
const OVER_GROUND = `select 1 from cable c join stop s on s.cable_id = c.id join leg l on l.from_stop_id = s.id
  where c.life_job_id = j.id and c.life in ('in_place', 'out_of_use') and l.life in ('in_place', 'out_of_use')
    and l.pathway_id is null and l.conduit_id is null`;
const MAKE_PERMANENT = say`Make it permanent`;

export const temporaryLeft = defineRule({
  name: "resilience.temporary_left",
  family: "resilience",
  severity: "warning",
  title: say`Temporary repair still in place`,
  why: say`What was mended for some days is weaker than the rest, and easily stays for years: it is told until the lasting repair is done.`,
  source: PRACTICE,
  async find({ reader, today }) {
    const rows = await reader.lists(
      `select j.id, j.replace_by, exists (select 1 from job f where f.follows_id = j.id and f.state = 'done'),
         j.state = 'done' and not exists (select 1 from job f where f.follows_id = j.id and f.state <> 'abandoned')
           and exists (${OVER_GROUND}) from job j
       where j.lasting = 'temporary' and j.state in ('under_way', 'done')
         and (not exists (select 1 from job f where f.follows_id = j.id and f.state = 'done')
           or exists (${OVER_GROUND})) order by j.id`,
    );
    return (rows as [number, string | null, number, number][]).map(
      ([id, replace_by, followed, ready]): Case => ({
        records: [["job", id]],
        ready: ready === 1,
        facts: { replace_by, followed, overdue: replace_by !== null && replace_by < today ? 1 : 0 },
      }),
    );
  },
  say: ({ records: [job], facts, ready }, tag) => ({
    act:
      ready && job ? { operation: "job.plan_lasting", input: { follows: tag(...job) }, words: MAKE_PERMANENT } : null,
    sentence: say`${quote(tag, job)} is a temporary repair ${
      facts.replace_by === null
        ? say`with no day by which it is replaced`
        : facts.overdue
          ? say`that should have been replaced by ${String(facts.replace_by)}`
          : say`to be replaced by ${String(facts.replace_by)}`
    }, and ${facts.followed ? say`what it laid still lies there in none of the ways on record` : say`no job that follows it is done`}.`,
    repair: facts.followed
      ? say`Record that what it laid was taken away, or what it lies in.`
      : say`Plan the lasting repair as a job that follows it, or record it as done.`,
  }),
});
