/** Rules of ports and cords: what is plugged where, and what was seen. */
import { ROOM, roomJoins } from "../../glass/rooms.ts";
import type { Reader } from "../../store/handle.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, type Names, PRESENT, quote, quoted } from "../rule.ts";

const HOLDER = "coalesce('panel ' || o.panel_id, 'module ' || o.module_id, 'device ' || o.device_id)";

interface PortRow {
  readonly id: number;
  readonly tag: string;
  readonly panel_id: number | null;
  readonly module_id: number | null;
  readonly device_id: number | null;
}

/** One case a panel, module or device. */
const byHolder = (rows: readonly PortRow[]): Case[] =>
  [...Map.groupBy(rows, (row) => `${row.panel_id} ${row.module_id} ${row.device_id}`).values()].map((ports): Case => {
    const [one] = ports as [PortRow];
    const holder =
      one.panel_id !== null
        ? (["panel", one.panel_id] as const)
        : one.module_id !== null
          ? (["module", one.module_id] as const)
          : (["device", one.device_id as number] as const);
    return {
      records: [holder, ...ports.map(({ id }) => ["port", id] as const)],
      count: ports.length,
      facts: { ports: ports.map(({ tag }) => tag).slice(0, 200) },
    };
  });

const listed = (facts: { readonly [name: string]: unknown }): string => {
  const ports = facts.ports as string[];
  return `${ports.slice(0, 6).join(", ")}${ports.length > 6 ? say` and ${ports.length - 6} more` : ""}`;
};

export const frontSaysEmpty = defineRule({
  name: "truth.front_says_empty",
  family: "truth",
  severity: "error",
  title: say`Seen empty, but a cord is on record`,
  why: say`Somebody saw the port empty, and somebody recorded a cord in it: one of the two is out of date.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    return byHolder(
      await reader.rows<PortRow>(
        `select o.id, o.tag, o.panel_id, o.module_id, o.device_id from port o where o.front = 'empty' and o.id in
           (select a_port_id from cord where life in ${PRESENT} union select b_port_id from cord where life in ${PRESENT})
         order by ${HOLDER}, o.tag_key`,
      ),
    );
  },
  say: ({ records: [holder], facts, count = 1 }, tag) => ({
    sentence: say`${quote(tag, holder)} has ${counted(count, "port")} seen empty with a cord on record: ${listed(facts)}.`,
    repair: say`Look at the ports, and unplug the cords on record or correct what was seen.`,
    caution: CAUTION.glass,
  }),
});

export const frontSaysCord = defineRule({
  name: "truth.front_says_cord",
  family: "truth",
  severity: "gap",
  title: say`Cord seen, none on record`,
  why: say`A cord was seen in the port, but nobody recorded where it goes.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    return byHolder(
      await reader.rows<PortRow>(
        `select o.id, o.tag, o.panel_id, o.module_id, o.device_id from port o where o.front = 'cord' and o.id not in
           (select a_port_id from cord where a_port_id is not null and life in ${PRESENT}
            union select b_port_id from cord where b_port_id is not null and life in ${PRESENT})
         order by ${HOLDER}, o.tag_key`,
      ),
    );
  },
  say: ({ records: [holder], facts, count = 1 }, tag) => ({
    sentence: say`${quote(tag, holder)} has a cord in ${counted(count, "port")} and none on record: ${listed(facts)}.`,
    repair: say`Follow the cords, and record where they go.`,
    caution: CAUTION.glass,
  }),
});

export const cordToItself = defineRule({
  name: "truth.cord_to_itself",
  family: "truth",
  severity: "error",
  title: say`Cord from a port to itself`,
  why: say`Both plugs are said to be in one port: one of them was mistyped.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; port: number }>(
      `select id, a_port_id as port from cord where a_port_id = b_port_id and life in ${PRESENT}
         and max(a_first, b_first) < min(a_first, b_first) + fibres order by id`,
    );
    return rows.map(
      ({ id, port }): Case => ({
        records: [
          ["port", port],
          ["cord", id],
        ],
        key: [
          ["port", port],
          ["cord", id],
        ],
        facts: {},
      }),
    );
  },
  say: ({ records: [port, cord] }, tag) => ({
    sentence: say`${quote(tag, cord)} has both ends in ${quote(tag, port)}.`,
    repair: say`Correct the end that was mistyped.`,
  }),
});

interface Apart {
  readonly id: number;
  readonly a_port: number;
  readonly b_port: number;
  readonly a_space: number;
  readonly b_space: number;
  readonly a_building: number | null;
  readonly b_building: number | null;
}

/** Cords whose ends are in two rooms, one case for each pair of rooms: a panel under the wrong room is one slip. */
async function cordsApart(reader: Reader, which: (cord: Apart) => boolean): Promise<Case[]> {
  const rooms = `select o.id, ${ROOM} as space_id from port o ${roomJoins("o")}`;
  const rows = await reader.rows<Apart>(
    `with placed as materialized (${rooms})
     select c.id, c.a_port_id as a_port, c.b_port_id as b_port, x.id as a_space, y.id as b_space,
       x.building_id as a_building, y.building_id as b_building
     from cord c join placed a on a.id = c.a_port_id join placed b on b.id = c.b_port_id
     join space x on x.id = a.space_id join space y on y.id = b.space_id
     where c.life in ${PRESENT} and x.id <> y.id order by c.id`,
  );
  const pairs = Map.groupBy(rows.filter(which), ({ a_space, b_space }) =>
    [a_space, b_space].sort((one, other) => one - other).join(" "),
  );
  return [...pairs.values()].map((cords): Case => {
    const [{ a_space, b_space }] = cords as [Apart];
    const spaces = [
      ["space", a_space],
      ["space", b_space],
    ] as const;
    const ports = [...new Set(cords.flatMap(({ a_port, b_port }) => [a_port, b_port]))];
    return {
      records: [
        ...cords.map(({ id }) => ["cord", id] as const),
        ...spaces,
        ...ports.map((id) => ["port", id] as const),
      ],
      key: spaces,
      count: cords.length,
      facts: { cords: cords.length },
    };
  });
}

/** "`cord C-9 from … to …` runs …", for one cord or several between two rooms. */
function apartWords({ records, count = 1 }: Case, tag: Names, between: string): string {
  const cords = records.filter(([kind]) => kind === "cord");
  const [a, b] = records.filter(([kind]) => kind === "space");
  if (count === 1) return say`${quote(tag, cords[0])} runs between two ${between}.`;
  return say`${counted(count, "cord")} run between two ${between}, from ${quote(tag, a)} to ${quote(tag, b)}, such as ${quote(tag, cords[0])}.`;
}

const APART_REPAIR = say`Correct the end or the panel that is in the wrong room, or record the cable that is really there.`;

export const cordBetweenBuildings = defineRule({
  name: "truth.cord_between_buildings",
  family: "truth",
  severity: "error",
  title: say`Cord between buildings`,
  why: say`A patch cord does not leave its building: an end was mistyped, or a cable is not on record as one.`,
  source: say`Common practice, no source`,
  find: ({ reader }) =>
    cordsApart(reader, ({ a_building, b_building }) => a_building === null || a_building !== b_building),
  say: (one, tag) => ({ sentence: apartWords(one, tag, "buildings"), repair: APART_REPAIR, caution: CAUTION.glass }),
});

export const cordBetweenRooms = defineRule({
  name: "truth.cord_between_rooms",
  family: "truth",
  severity: "warning",
  title: say`Cord between rooms`,
  why: say`A cord that leaves its room is rare, and often a slip; what really runs there should be on record as a cable.`,
  source: say`Common practice, no source`,
  find: ({ reader }) =>
    cordsApart(reader, ({ a_building, b_building }) => a_building !== null && a_building === b_building),
  say: (one, tag) => ({ sentence: apartWords(one, tag, say`rooms of one building`), repair: APART_REPAIR }),
});

export const cordBeyond = defineRule({
  name: "truth.cord_beyond",
  family: "truth",
  severity: "error",
  title: say`Cord with more fibres than the port has`,
  why: say`Some of the cord's fibres face no position: the cord, the port or its first position is wrong.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const side = (port: string, first: string) =>
      `select c.id, c.${port} as port, c.${first} + c.fibres - 1 as needs,
         (select max(i.ordinal) from position i where i.port_id = c.${port}) as has
       from cord c where c.life in ${PRESENT} and c.${port} is not null`;
    const rows = await reader.rows<{ id: number; port: number; needs: number; has: number | null }>(
      `select * from (${side("a_port_id", "a_first")} union all ${side("b_port_id", "b_first")})
       where coalesce(has, 0) < needs order by port, id`,
    );
    return [...Map.groupBy(rows, ({ id }) => id)].map(([id, ports]): Case => {
      const [{ needs, has }] = ports as [(typeof ports)[number]];
      return {
        records: [["cord", id], ...ports.map(({ port }) => ["port", port] as const)],
        facts: { needs, has: has ?? 0 },
      };
    });
  },
  say: ({ records: [cord, ...ports], facts }, tag) => ({
    sentence: plural(
      ports.length,
      "{1} needs {2} of {3}, which has {4}.",
      "{1} needs {2} of {3}, which have {4}.",
      quote(tag, cord),
      counted(facts.needs as number, "position"),
      quoted(tag, ports),
      String(facts.has),
    ),
    repair: say`Correct the cord's fibres, its first position, or the port.`,
  }),
});

export const joinElsewhere = defineRule({
  name: "truth.join_elsewhere",
  family: "truth",
  severity: "error",
  title: say`Join to a port of another module`,
  why: say`Glass inside a module joins its own positions only.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const side = (position: string) =>
      `select j.id, j.module_id, o.id as port from module_join j join position i on i.id = j.${position}
       join port o on o.id = i.port_id where o.module_id is null or o.module_id <> j.module_id`;
    const rows = await reader.rows<{ id: number; module_id: number; port: number }>(
      `select * from (${side("a_position_id")} union ${side("b_position_id")}) order by module_id, id`,
    );
    return [...Map.groupBy(rows, ({ module_id }) => module_id)].map(
      ([module_id, joins]): Case => ({
        records: [
          ["module", module_id],
          ...joins.map(({ port }) => ["port", port] as const),
          ...joins.map(({ id }) => ["module_join", id] as const),
        ],
        count: joins.length,
        facts: { joins: joins.length },
      }),
    );
  },
  say: ({ records: [module, port], count = 1 }, tag) => ({
    sentence: say`${quote(tag, module)} has ${counted(count, "join")} to a port that is not its own, such as ${quote(tag, port)}.`,
    repair: say`Correct the positions of the joins.`,
  }),
});

export const portOfNothing = defineRule({
  name: "truth.port_of_nothing",
  family: "truth",
  severity: "error",
  title: say`Port of nothing, or of two things`,
  why: say`A port is on one panel, module or device.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; holders: number }>(
      `select id, (panel_id is not null) + (module_id is not null) + (device_id is not null) as holders from port
       where (panel_id is not null) + (module_id is not null) + (device_id is not null) <> 1 order by id`,
    );
    return rows.map(({ id, holders }): Case => ({ records: [["port", id]], facts: { holders } }));
  },
  say: ({ records: [port], facts }, tag) => ({
    sentence: say`${quote(tag, port)} is on ${facts.holders === 0 ? say`no panel, module or device` : say`more than one thing`}.`,
    repair: say`Say what the port is on.`,
  }),
});

export const portWithoutPositions = defineRule({
  name: "truth.port_without_positions",
  family: "truth",
  severity: "gap",
  title: say`Port without positions`,
  why: say`Strands land on positions and cords plug into them: a port that has none takes neither.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    return byHolder(
      await reader.rows<PortRow>(
        `select o.id, o.tag, o.panel_id, o.module_id, o.device_id from port o where o.life <> 'removed'
           and (o.panel_id is not null) + (o.module_id is not null) + (o.device_id is not null) = 1
           and not exists (select 1 from position i where i.port_id = o.id)
         order by ${HOLDER}, o.tag_key`,
      ),
    );
  },
  say: ({ records: [holder], facts, count = 1 }, tag) => ({
    sentence: say`${quote(tag, holder)} has ${counted(count, "port")} without positions: ${listed(facts)}.`,
    repair: say`Give the ports their positions, as many as their plugs say.`,
    act: holder
      ? { operation: "port.add_positions", input: { on: tag(...holder) }, words: say`Give them their positions` }
      : null,
  }),
});
