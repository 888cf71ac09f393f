/** Rules of a cable's legs: they lead from stop to stop, over ways and pipes that are there. */

import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { type Case, defineRule, lifeWords, PRESENT, quote, quoted } from "../rule.ts";

export const legsApart = defineRule({
  name: "truth.legs_apart",
  family: "truth",
  severity: "error",
  title: say`Leg over a way that leads elsewhere`,
  why: say`A leg's pathway joins the places of its two stops. Somebody would dig or pull in the wrong street.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; cable_id: number; pathway_id: number; a: number; b: number }>(
      `select l.id, a.cable_id, l.pathway_id, a.id as a, b.id as b from leg l join stop a on a.id = l.from_stop_id
       join stop b on b.id = l.to_stop_id join pathway p on p.id = l.pathway_id
       where l.life in ${PRESENT} and a.space_id is not null and b.space_id is not null
         and p.from_space_id is not null and p.to_space_id is not null
         and not (p.from_space_id = a.space_id and p.to_space_id = b.space_id)
         and not (p.from_space_id = b.space_id and p.to_space_id = a.space_id) order by a.cable_id, l.id`,
    );
    return rows.map(
      ({ cable_id, pathway_id, a, b }): Case => ({
        records: [
          ["cable", cable_id],
          ["pathway", pathway_id],
          ["stop", a],
          ["stop", b],
        ],
        key: [
          ["cable", cable_id],
          ["pathway", pathway_id],
          ["stop", a],
        ],
        inOrder: true,
        facts: {},
      }),
    );
  },
  say: ({ records: [cable, pathway, a, b] }, tag) => ({
    sentence: say`${quote(tag, cable)} is said to lie in ${quote(tag, pathway)} from ${quote(tag, a)} to ${quote(tag, b)}, but that way joins other places.`,
    repair: say`Correct the leg's pathway, or the place of a stop.`,
  }),
});

export const legSkips = defineRule({
  name: "truth.leg_skips",
  family: "truth",
  severity: "error",
  title: say`Leg that skips a stop`,
  why: say`A leg leads from one stop to the next of the same cable.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; cable_id: number; a: number; b: number }>(
      `select l.id, a.cable_id, a.id as a, b.id as b from leg l join stop a on a.id = l.from_stop_id
       join stop b on b.id = l.to_stop_id
       where l.life in ${PRESENT} and (a.cable_id <> b.cable_id or b.ordinal <= a.ordinal or exists
         (select 1 from stop m where m.cable_id = a.cable_id and m.ordinal > a.ordinal and m.ordinal < b.ordinal))
       order by a.cable_id, l.id`,
    );
    return rows.map(
      ({ id, cable_id, a, b }): Case => ({
        records: [
          ["cable", cable_id],
          ["stop", a],
          ["stop", b],
          ["leg", id],
        ],
        key: [
          ["stop", a],
          ["stop", b],
        ],
        inOrder: true,
        facts: {},
      }),
    );
  },
  say: ({ records: [cable, a, b] }, tag) => ({
    sentence: say`A leg of ${quote(tag, cable)} runs from ${quote(tag, a)} to ${quote(tag, b)}, which is not its next stop.`,
    repair: say`Let the leg end at the next stop, or take out a stop that isn't there.`,
  }),
});

export const legMissing = defineRule({
  name: "truth.leg_missing",
  family: "truth",
  severity: "gap",
  title: say`Way not on record`,
  why: say`Between these stops nobody recorded where the cable lies. Two stops side by side in one place need no way.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ cable_id: number; id: number; unknown: number }>(
      `select a.cable_id, a.id, (select count(*) from leg l where l.from_stop_id = a.id and l.life in ${PRESENT}) > 0 as unknown
       from stop a join cable c on c.id = a.cable_id and c.life in ${PRESENT}
       join stop b on b.cable_id = a.cable_id and b.ordinal = a.ordinal + 1
       where not (a.kind = 'severed' and b.kind = 'severed') and (a.space_id is null or a.space_id is not b.space_id) and not exists
         (select 1 from leg l where l.from_stop_id = a.id and l.life in ${PRESENT} and (l.pathway_id is not null or l.held = 'on_ground'))
       order by a.cable_id, a.ordinal`,
    );
    return [...Map.groupBy(rows, ({ cable_id }) => cable_id)].map(
      ([cable_id, stops]): Case => ({
        records: [["cable", cable_id], ...stops.map(({ id }) => ["stop", id] as const)],
        count: stops.length,
        facts: { stretches: stops.length },
      }),
    );
  },
  say: ({ records: [cable, stop], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} lies in an unknown way for ${counted(facts.stretches as number, "stretch", "stretches")}, the first after ${quote(tag, stop)}.`,
    repair: say`Record the pathway of each leg.`,
  }),
});

export const stopUnplaced = defineRule({
  name: "truth.stop_unplaced",
  family: "truth",
  severity: "gap",
  title: say`Stop at a place nobody recorded`,
  why: say`The cable stops there and nobody knows where that is: nobody finds its coil, its case or its end.`,
  source: say`Common practice, no source`,
  // A cut in the middle of a way has its place in that way, and so has the broken end of sheath that lies dead in it.
  async find({ reader }) {
    const rows = await reader.rows<{ cable_id: number; id: number }>(
      `select a.cable_id, a.id from stop a join cable c on c.id = a.cable_id and c.life in ${PRESENT}
       where a.space_id is null and not (a.kind = 'severed' and exists
         (select 1 from leg i join leg o on o.from_stop_id = a.id and o.pathway_id = i.pathway_id
          where i.to_stop_id = a.id and i.life in ${PRESENT} and o.life in ${PRESENT}))
         and not (a.kind = 'severed' and c.life = 'out_of_use'
           and (exists (select 1 from leg i where i.to_stop_id = a.id and i.life in ${PRESENT} and i.pathway_id is not null)
             or exists (select 1 from leg o where o.from_stop_id = a.id and o.life in ${PRESENT} and o.pathway_id is not null)))
       order by a.cable_id, a.ordinal`,
    );
    return [...Map.groupBy(rows, ({ cable_id }) => cable_id)].map(
      ([cable_id, stops]): Case => ({
        records: [["cable", cable_id], ...stops.map(({ id }) => ["stop", id] as const)],
        count: stops.length,
        facts: { stops: stops.length },
      }),
    );
  },
  say: ({ records: [cable, ...stops] }, tag) => ({
    sentence: say`Nobody recorded where ${quote(tag, cable)} stops at ${quoted(tag, stops)}.`,
    repair: say`Find the place, and record it with the stop.`,
  }),
});

export const conduitElsewhere = defineRule({
  name: "truth.conduit_elsewhere",
  family: "truth",
  severity: "error",
  title: say`Pipe of another way`,
  why: say`The pipe a leg lies in belongs to the leg's own pathway.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ cable_id: number; conduit_id: number; pathway_id: number; stop: number }>(
      `select a.cable_id, l.conduit_id, l.pathway_id, a.id as stop from leg l join conduit d on d.id = l.conduit_id
       join stop a on a.id = l.from_stop_id
       where l.life in ${PRESENT} and l.pathway_id is not null and d.pathway_id <> l.pathway_id order by a.cable_id, l.id`,
    );
    return rows.map(
      ({ cable_id, conduit_id, pathway_id, stop }): Case => ({
        records: [
          ["cable", cable_id],
          ["conduit", conduit_id],
          ["pathway", pathway_id],
          ["stop", stop],
        ],
        key: [
          ["conduit", conduit_id],
          ["stop", stop],
        ],
        facts: {},
      }),
    );
  },
  say: ({ records: [cable, conduit, pathway] }, tag) => ({
    sentence: say`${quote(tag, cable)} is said to lie in ${quote(tag, pathway)} and in pipe ${quote(tag, conduit)}, which belongs to another way.`,
    repair: say`Correct the pipe or the pathway of the leg.`,
  }),
});

export const legOnRemovedWay = defineRule({
  name: "truth.leg_on_removed_way",
  family: "truth",
  severity: "error",
  title: say`Cable in a way that is not there`,
  why: say`A cable in place lies in a way that is planned, in stock or removed.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ cable_id: number; pathway_id: number; life: string }>(
      `select a.cable_id, l.pathway_id, p.life from leg l join pathway p on p.id = l.pathway_id
       join stop a on a.id = l.from_stop_id join cable c on c.id = a.cable_id
       where l.life in ${PRESENT} and c.life in ${PRESENT} and p.life not in ${PRESENT} order by a.cable_id, l.id`,
    );
    return [...Map.groupBy(rows, ({ pathway_id }) => pathway_id)].map(([pathway_id, legs]): Case => {
      const cables = new Set(legs.map(({ cable_id }) => cable_id));
      return {
        records: [["pathway", pathway_id], ...[...cables].map((id) => ["cable", id] as const)],
        count: cables.size,
        facts: { life: legs[0]?.life ?? null, cables: cables.size },
      };
    });
  },
  say: ({ records: [pathway, ...cables], facts }, tag) => ({
    sentence: plural(
      cables.length,
      "{1} is {2}, but {3} lies in it.",
      "{1} is {2}, but {3} lie in it.",
      quote(tag, pathway),
      lifeWords(facts.life),
      quoted(tag, cables),
    ),
    repair: say`Correct the life of the way, or where the cable lies.`,
  }),
});

export const conduitCircle = defineRule({
  name: "truth.conduit_circle",
  family: "truth",
  severity: "error",
  title: say`Pipe inside itself`,
  why: say`A pipe lies in another of the same way, and never, through others, in itself.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; parent_id: number; pathway_id: number; of: number }>(
      `select d.id, d.parent_id, d.pathway_id, p.pathway_id as "of" from conduit d join conduit p on p.id = d.parent_id order by d.id`,
    );
    const parents = new Map(rows.map(({ id, parent_id }) => [id, parent_id]));
    const inItself = (id: number): boolean => {
      const seen = new Set<number>();
      for (let at = parents.get(id); at !== undefined && !seen.has(at); at = parents.get(at)) {
        if (at === id) return true;
        seen.add(at);
      }
      return false;
    };
    const told = new Set<number>();
    return rows.flatMap(({ id, parent_id, pathway_id, of }): Case[] => {
      if (told.has(id)) return [];
      if (inItself(id)) {
        const circle: number[] = [];
        for (let at = id; !told.has(at); at = parents.get(at) as number) {
          told.add(at);
          circle.push(at);
        }
        return [{ records: circle.map((one) => ["conduit", one] as const), facts: { why: "itself" } }];
      }
      if (of === pathway_id) return [];
      return [
        {
          records: [
            ["conduit", id],
            ["conduit", parent_id],
          ],
          inOrder: true,
          facts: { why: "another way" },
        },
      ];
    });
  },
  say: ({ records: [conduit, ...others], facts }, tag) => ({
    sentence:
      facts.why === "itself"
        ? others.length > 0
          ? say`${quote(tag, conduit)} lies in ${quoted(tag, others)}, and through that in itself.`
          : say`${quote(tag, conduit)} lies in itself.`
        : say`${quote(tag, conduit)} is said to lie in ${quoted(tag, others)}, a pipe of another way.`,
    repair: say`Correct which pipe it lies in.`,
  }),
});

export const coupledOneWay = defineRule({
  name: "truth.coupled_one_way",
  family: "truth",
  severity: "warning",
  title: say`Pipe coupled one way only`,
  why: say`Two pipes are coupled to each other or not at all.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; other: number }>(
      `select d.id, d.other from (select id, from_coupled_id as other from conduit where from_coupled_id is not null
         union select id, to_coupled_id from conduit where to_coupled_id is not null) d
       where not exists (select 1 from conduit o where o.id = d.other and (o.from_coupled_id = d.id or o.to_coupled_id = d.id))
       order by d.id`,
    );
    return rows.map(
      ({ id, other }): Case => ({
        records: [
          ["conduit", id],
          ["conduit", other],
        ],
        key: [
          ["conduit", id],
          ["conduit", other],
        ],
        inOrder: true,
        facts: {},
      }),
    );
  },
  say: ({ records: [conduit, other] }, tag) => ({
    sentence: say`${quote(tag, conduit)} is coupled to ${quote(tag, other)}, which is not coupled to it.`,
    repair: say`Record the coupling at both pipes, or at neither.`,
  }),
});
