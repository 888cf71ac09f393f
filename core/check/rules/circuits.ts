/** Rules of circuits: they run from A to Z over the glass they are given, and over no other. */

import { counted, plural } from "../../words/counted.ts";
import { asInSource } from "../../words/language.ts";
import { say } from "../../words/say.ts";
import { type CircuitLines, circuitLines } from "../circuit-lines.ts";
import { CAUTION, type Case, defineRule, listed, quote, quoted } from "../rule.ts";

const words = ({ stops }: CircuitLines): string[] => [
  ...new Set(stops.map((stop) => stop.words).sort((a, b) => (asInSource(a) < asInSource(b) ? -1 : 1))),
];

/** A circuit of which too few lines arrive; told apart by whether all of them stop for want of knowledge. */
function shortOf(lines: readonly CircuitLines[], unknown: boolean): Case[] {
  return lines.flatMap((one): Case[] => {
    const { circuit, arrive, needed, stops, hasGlass } = one;
    if (arrive === null || arrive >= needed || !hasGlass) return [];
    if (stops.every((stop) => stop.unknown) !== unknown) return [];
    return [
      {
        records: [["circuit", circuit.id], ...stops.flatMap(({ record }) => (record ? [record] : []))],
        count: needed - arrive,
        facts: { arrive, needed, stops: words(one) },
      },
    ];
  });
}

/** "none of 2 strands", "1 of 2 strands". */
const arriving = ({ arrive, needed }: { readonly [name: string]: unknown }): string =>
  say`${String(arrive === 0 ? say`none` : arrive)} of ${counted(needed as number, "strand")}`;

export const circuitApart = defineRule({
  name: "truth.circuit_apart",
  family: "truth",
  severity: "error",
  title: say`Circuit that doesn't run from A to Z`,
  why: say`A circuit in service needs glass without a break from one end to the other. Something on its way is recorded otherwise than it is.`,
  source: say`Common practice, no source`,
  find: async (ground) => shortOf(await circuitLines(ground), false),
  say: ({ records: [circuit, ...where], facts }, tag) => ({
    sentence: plural(
      facts.needed as number,
      "{1} is in service, but doesn't run from A to Z: {2}{3}.",
      "{1} is in service, but {4} run from A to Z: {2}{3}.",
      quote(tag, circuit),
      listed(facts.stops as string[]),
      where.length > 0 ? ` (${quoted(tag, where)})` : "",
      arriving(facts),
    ),
    repair: say`Trace the circuit from both ends, and record what joins its glass, or give it the glass it really uses.`,
    caution: CAUTION.glass,
  }),
});

export const circuitRecordEnds = defineRule({
  name: "truth.circuit_record_ends",
  family: "truth",
  severity: "gap",
  title: say`Circuit that can't be followed from A to Z`,
  why: say`The circuit is in service, so it must run through; the record ends on the way.`,
  source: say`Common practice, no source`,
  find: async (ground) => shortOf(await circuitLines(ground), true),
  say: ({ records: [circuit, ...where], facts }, tag) => ({
    sentence: `${quote(tag, circuit)} ${
      facts.needed === 1 ? say`can't be followed from A to Z` : say`can be followed from A to Z on ${arriving(facts)}`
    }: ${listed(facts.stops as string[])}${where.length > 0 ? ` (${quoted(tag, where)})` : ""}.`,
    repair: say`Look there, and record what is joined.`,
    caution: CAUTION.glass,
  }),
});

export const circuitWithoutGlass = defineRule({
  name: "truth.circuit_without_glass",
  family: "truth",
  severity: "gap",
  title: say`Circuit in service without glass`,
  why: say`Nobody recorded which strands it uses; they look free.`,
  source: say`Common practice, no source`,
  async find(ground) {
    const lines = await circuitLines(ground);
    return lines
      .filter(({ hasGlass, arrive, needed }) => !hasGlass && (arrive ?? 0) < needed)
      .map(({ circuit }): Case => ({ records: [["circuit", circuit.id]], facts: {} }));
  },
  say: ({ records: [circuit] }, tag) => ({
    sentence: say`${quote(tag, circuit)} is in service, but no glass is given to it today.`,
    repair: say`Trace one of its ends, and give it the strands found.`,
  }),
});

export const cordAssumed = defineRule({
  name: "truth.cord_assumed",
  family: "truth",
  severity: "gap",
  title: say`Cord assumed`,
  why: say`Two ports of the circuit are in one room and no cord is on record: there must be one, but nobody recorded it.`,
  source: say`Common practice, no source`,
  async find(ground) {
    const lines = await circuitLines(ground);
    return lines.flatMap(({ circuit, assumed }): Case[] =>
      assumed.length === 0
        ? []
        : [
            {
              records: [
                ["circuit", circuit.id],
                ...[...new Set(assumed.flat())].map((port) => ["port", port] as const),
              ],
              count: assumed.length,
              facts: { cords: assumed.length },
            },
          ],
    );
  },
  say: ({ records: [circuit, ...ports], facts }, tag) => ({
    sentence: plural(
      facts.cords as number,
      "{1} needs {0} cord that is not on record, at {2}.",
      "{1} needs {0} cords that are not on record, at {2}.",
      quote(tag, circuit),
      quoted(tag, ports),
    ),
    repair: say`Look at the ports, and record the cords.`,
    caution: CAUTION.glass,
  }),
});

export const assignedAside = defineRule({
  name: "truth.assigned_aside",
  family: "truth",
  severity: "warning",
  title: say`Glass given to a circuit that doesn't use it`,
  why: say`The circuit runs from A to Z without this glass: it is spare, or the circuit runs otherwise than recorded.`,
  source: say`Common practice, no source`,
  async find(ground) {
    const lines = await circuitLines(ground);
    return lines.flatMap(({ circuit, given, onLine, arrive, needed }): Case[] => {
      if (arrive === null || arrive < needed) return [];
      const aside = given.filter((section) => !onLine.has(section));
      if (aside.length === 0) return [];
      return [
        {
          records: [["circuit", circuit.id], ...aside.map((id) => ["section", id] as const)],
          count: aside.length,
          facts: { sections: aside.length },
        },
      ];
    });
  },
  say: ({ records: [circuit, ...sections] }, tag) => ({
    sentence: plural(
      sections.length,
      "{1} is given {2}, which is not on its way from A to Z.",
      "{1} is given {2}, which are not on its way from A to Z.",
      quote(tag, circuit),
      quoted(tag, sections),
    ),
    repair: say`Free the glass, or correct how the circuit runs.`,
  }),
});

export const circuitNoEnd = defineRule({
  name: "truth.circuit_no_end",
  family: "truth",
  severity: "gap",
  title: say`Circuit without an end on record`,
  why: say`Without its A and Z nobody can say whether it runs.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; a: number; z: number }>(
      `select id, coalesce(a_port_id, a_party_id) is not null as a, coalesce(z_port_id, z_party_id) is not null as z
       from circuit where state = 'in_service'
         and (coalesce(a_port_id, a_party_id) is null or coalesce(z_port_id, z_party_id) is null) order by id`,
    );
    return rows.map(
      ({ id, a, z }): Case => ({
        records: [["circuit", id]],
        facts: { lacks: [...(a ? [] : ["A"]), ...(z ? [] : ["Z"])] },
      }),
    );
  },
  say: ({ records: [circuit], facts }, tag) => ({
    sentence: say`${quote(tag, circuit)} is in service, but its ${listed(facts.lacks as string[])} end is not on record.`,
    repair: say`Record the port, or the party it is handed over to.`,
  }),
});

export const circuitAIsZ = defineRule({
  name: "truth.circuit_a_is_z",
  family: "truth",
  severity: "error",
  title: say`Circuit whose A is its Z`,
  why: say`A circuit joins two ports: one of them was mistyped.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; port: number }>(
      "select id, a_port_id as port from circuit where a_port_id = z_port_id and state <> 'retired' order by id",
    );
    return rows.map(
      ({ id, port }): Case => ({
        records: [
          ["circuit", id],
          ["port", port],
        ],
        facts: {},
      }),
    );
  },
  say: ({ records: [circuit, port] }, tag) => ({
    sentence: say`${quote(tag, circuit)} has its A and its Z at the same port, ${quote(tag, port)}.`,
    repair: say`Correct the end that was mistyped.`,
  }),
});

export const ridesOnItself = defineRule({
  name: "truth.rides_on_itself",
  family: "truth",
  severity: "error",
  title: say`Circuit that rides on itself`,
  why: say`One circuit rides on another and that one, through others, on the first: nothing is left that has the glass.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; on: number }>(
      `select id, rides_on_id as "on" from circuit where rides_on_id is not null order by id`,
    );
    const carrier = new Map(rows.map(({ id, on }) => [id, on]));
    const told = new Set<number>();
    const cases: Case[] = [];
    for (const { id } of rows) {
      const way: number[] = [];
      for (let at: number | undefined = id; at !== undefined && !told.has(at); at = carrier.get(at)) {
        told.add(at);
        way.push(at);
        const begin = way.indexOf(carrier.get(at) ?? -1);
        if (begin < 0) continue;
        cases.push({ records: way.slice(begin).map((one) => ["circuit", one] as const), facts: {} });
      }
    }
    return cases;
  },
  say: ({ records }, tag) => ({
    sentence:
      records.length === 1
        ? say`${quoted(tag, records)} is said to ride on itself.`
        : say`${quoted(tag, records)} ride on each other in a circle.`,
    repair: say`Say which of them has the glass; it rides on none.`,
  }),
});

export const reservationPast = defineRule({
  name: "truth.reservation_past",
  family: "truth",
  severity: "warning",
  title: say`Reservation past its day`,
  why: say`The strands are kept for nobody.`,
  source: say`Common practice, no source`,
  async find({ reader, today }) {
    const rows = await reader.rows<{ id: number; reserved_until: string }>(
      "select id, reserved_until from circuit where state = 'reserved' and reserved_until < ? order by id",
      [today],
    );
    return rows.map(({ id, reserved_until }): Case => ({ records: [["circuit", id]], facts: { reserved_until } }));
  },
  say: ({ records: [circuit], facts }, tag) => ({
    sentence: say`${quote(tag, circuit)} was reserved until ${String(facts.reserved_until)} and still is.`,
    repair: say`Put it in service, reserve it longer, or release its glass.`,
  }),
});

export const brokenInService = defineRule({
  name: "truth.broken_in_service",
  family: "truth",
  severity: "error",
  title: say`Broken strand in service`,
  why: say`A broken strand carries nothing: it is whole, or the circuit runs over another or is down.`,
  source: say`Common practice, no source`,
  async find({ reader, today }) {
    const rows = await reader.rows<{ strand_id: number; circuit_id: number }>(
      `select distinct t.id as strand_id, c.id as circuit_id
       from strand t join section e on e.strand_id = t.id join assignment a on a.section_id = e.id
       join circuit c on c.id = a.circuit_id
       where t.condition = 'broken' and c.state = 'in_service' and (a.from_on is null or a.from_on <= ?)
         and (a.until_on is null or a.until_on > ?) order by c.id, t.id`,
      [today, today],
    );
    return [...Map.groupBy(rows, ({ circuit_id }) => circuit_id)].map(
      ([circuit_id, strands]): Case => ({
        records: [["circuit", circuit_id], ...strands.map(({ strand_id }) => ["strand", strand_id] as const)],
        count: strands.length,
        facts: { strands: strands.length },
      }),
    );
  },
  say: ({ records: [circuit, ...strands] }, tag) => ({
    sentence: say`${quote(tag, circuit)} is in service over ${quoted(tag, strands)}, on record as broken.`,
    repair: say`Measure the strand, and correct its condition, or give the circuit the strand it runs over.`,
    caution: CAUTION.glass,
  }),
});
