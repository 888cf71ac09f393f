/** Rules of single joints: where a splice or termination is kept, and what it joins. */
import { heldInTrays } from "../../glass/in-trays.ts";
import { ROOM, roomJoins } from "../../glass/rooms.ts";
import type { KindName } from "../../model/dictionary.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { CAUTION, type Case, defineRule, lifeWords, type Names, PRESENT, quote, quoted } from "../rule.ts";

interface Elsewhere {
  readonly joint_id: number;
  readonly holder: KindName;
  readonly holder_id: number;
  readonly cable_id: number;
  readonly stop_id: number;
  readonly holder_space: string | null;
  readonly end_space: string | null;
}

/** One case a holder and the place where the glass really ends: a case entered under the wrong hole is one slip. */
function folded(rows: readonly Elsewhere[], joint: KindName): Case[] {
  return [...Map.groupBy(rows, (row) => `${row.holder} ${row.holder_id} ${row.end_space}`).values()].map(
    (same): Case => {
      const [one] = same as [Elsewhere];
      const each = (kind: "cable" | "stop") =>
        [...new Set(same.map((row) => (kind === "cable" ? row.cable_id : row.stop_id)))].map(
          (id) => [kind, id] as const,
        );
      const where = [[one.holder, one.holder_id] as const, ...each("cable"), ...each("stop")];
      // A splice of two strands of the cable lies there with both ends, and is one.
      const joints = new Set(same.map(({ joint_id }) => joint_id));
      return {
        records: [...where, ...[...joints].map((id) => [joint, id] as const)],
        key: [[one.holder, one.holder_id]],
        keyword: one.end_space ?? "",
        count: joints.size,
        facts: { joints: joints.size, kept_in: one.holder_space, end_in: one.end_space },
      };
    },
  );
}

const cablesOf = (records: Case["records"], tag: Names): string =>
  quoted(
    tag,
    records.filter(([kind]) => kind === "cable"),
  );

const SPACE_TAG = (alias: string) =>
  `(select coalesce(b.tag || '/', '') || x.tag from space x left join building b on b.id = x.building_id where x.id = ${alias})`;

export const spliceElsewhere = defineRule({
  name: "truth.splice_elsewhere",
  family: "truth",
  severity: "error",
  title: say`Splice where its cable does not stop`,
  why: say`A splice can only be made where the end of glass lies. Somebody would be sent to the wrong hole.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const sides = ["a", "b"].map(
      (
        x,
      ) => `select p.id as joint_id, 'closure' as holder, c.id as holder_id, s.cable_id, s.id as stop_id, c.space_id as kept, s.space_id as ends
        from splice p join tray t on t.id = p.tray_id join closure c on c.id = t.closure_id
        join section e on e.id = p.${x}_section_id
        join stop s on s.id = case p.${x}_side when 'A' then e.a_stop_id else e.b_stop_id end
        where p.life in ${PRESENT} and c.space_id is not null and s.space_id is not null and c.space_id <> s.space_id`,
    );
    const rows = await reader.rows<Elsewhere>(
      `select joint_id, holder, holder_id, cable_id, stop_id, ${SPACE_TAG("kept")} as holder_space, ${SPACE_TAG("ends")} as end_space
       from (${sides.join(" union all ")}) order by holder_id, stop_id, joint_id`,
    );
    return folded(rows, "splice");
  },
  say: ({ records, facts, count = 1 }, tag) => ({
    sentence: say`${quote(tag, records[0])} at ${String(facts.kept_in)} holds ${counted(count, "splice")} of ${cablesOf(records, tag)}, whose glass ends at ${String(facts.end_in)}.`,
    repair: say`Move the splices to a tray at that stop, or correct the stop's place.`,
    caution: CAUTION.hole,
  }),
});

export const landedElsewhere = defineRule({
  name: "truth.landed_elsewhere",
  family: "truth",
  severity: "error",
  title: say`Landed where its cable does not stop`,
  why: say`A strand can only be landed on a panel or module in the room where it ends.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<Elsewhere>(
      `select joint_id, holder, holder_id, cable_id, stop_id, ${SPACE_TAG("kept")} as holder_space,
         ${SPACE_TAG("ends")} as end_space
       from (select t.id as joint_id, o.holder, o.holder_id, s.cable_id, s.id as stop_id, o.room as kept, s.space_id as ends
         from (select o.id, ${ROOM} as room, case when o.panel_id is not null then 'panel' when o.module_id is not null
             then 'module' else 'device' end as holder, coalesce(o.panel_id, o.module_id, o.device_id) as holder_id
           from port o ${roomJoins("o")}) o
         join position i on i.port_id = o.id join termination t on t.position_id = i.id
         join section e on e.id = t.section_id
         join stop s on s.id = case t.side when 'A' then e.a_stop_id else e.b_stop_id end
         where t.life in ${PRESENT} and o.room <> s.space_id)
       order by holder, holder_id, stop_id, joint_id`,
    );
    return folded(rows, "termination");
  },
  say: ({ records, facts, count = 1 }, tag) => ({
    sentence: plural(
      count,
      "{0} strand of {1} is landed on {2} at {3}, but ends at {4}.",
      "{0} strands of {1} are landed on {2} at {3}, but end at {4}.",
      cablesOf(records, tag),
      quote(tag, records[0]),
      String(facts.kept_in),
      String(facts.end_in),
    ),
    repair: say`Land the strands on a panel in that room, or correct the cable's stop.`,
  }),
});

export const splicedToItself = defineRule({
  name: "truth.spliced_to_itself",
  family: "truth",
  severity: "error",
  title: say`Splice of a section to itself`,
  why: say`Both ends of the joint are of one length of glass: one of them was mistyped.`,
  source: say`How glass is joined; common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; section: number; a_side: string; b_side: string }>(
      `select id, a_section_id as section, a_side, b_side from splice
       where a_section_id = b_section_id and life in ${PRESENT} order by id`,
    );
    return rows.map(
      ({ id, section, a_side, b_side }): Case => ({
        records: [
          ["section", section],
          ["splice", id],
        ],
        facts: { sides: [a_side, b_side] },
      }),
    );
  },
  say: ({ records: [section], facts }, tag) => ({
    sentence: say`\`${section ? tag(...section) : ""}\` is spliced to itself, ${(facts.sides as string[]).join(say` to `)}.`,
    repair: say`Correct the end that was mistyped.`,
  }),
});

export const trayPlaceTwice = defineRule({
  name: "truth.tray_place_twice",
  family: "truth",
  severity: "error",
  title: say`Two joints in one place of a tray`,
  why: say`A place of a tray holds one splice. Whoever opens the case reads the wrong colour.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ tray_id: number; place: number; kind: KindName; id: number }>(
      `with kept as (
         select tray_id, place, 'splice' as kind, id, coalesce(form, 'single') as form from splice
           where tray_id is not null and place is not null and life in ${PRESENT}
         union all select tray_id, place, 'termination', id, 'single' from termination
           where tray_id is not null and place is not null and life in ${PRESENT})
       select tray_id, place, kind, id from kept where (tray_id, place) in
         (select tray_id, place from kept group by tray_id, place having sum(form <> 'ribbon') + max(form = 'ribbon') > 1)
       order by tray_id, place, kind, id`,
    );
    return [...Map.groupBy(rows, ({ tray_id }) => tray_id)].map(([tray_id, joints]): Case => {
      const taken = [...new Set(joints.map(({ place }) => place))];
      return {
        records: [["tray", tray_id], ...joints.map(({ kind, id }) => [kind, id] as const)],
        count: taken.length,
        facts: { places: taken, joints: joints.length },
      };
    });
  },
  say: ({ records: [tray], facts }, tag) => ({
    sentence: say`\`${tray ? tag(...tray) : ""}\` has more than one joint in place ${(facts.places as number[]).slice(0, 6).join(", ")}.`,
    repair: say`Look in the tray, and correct the places.`,
    caution: CAUTION.glass,
  }),
});

export const trayOver = defineRule({
  name: "truth.tray_over",
  family: "truth",
  severity: "warning",
  title: say`Tray over its capacity`,
  why: say`More splices are on record than the tray takes: some are kept elsewhere, or its capacity is wrong.`,
  source: say`The tray's own capacity`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; capacity: number; held: number }>(
      `select t.id, t.capacity, k.held from tray t join (${heldInTrays()}) k on k.tray_id = t.id
       where k.held > t.capacity order by t.id`,
    );
    return rows.map(({ id, capacity, held }): Case => ({ records: [["tray", id]], facts: { capacity, held } }));
  },
  say: ({ records: [tray], facts }, tag) => ({
    sentence: say`\`${tray ? tag(...tray) : ""}\` takes ${String(facts.capacity)} splices and has ${String(facts.held)} on record.`,
    repair: say`Move some splices to the tray they are in, or correct its capacity.`,
  }),
});

export const jointOfAbsent = defineRule({
  name: "truth.joint_of_absent",
  family: "truth",
  severity: "error",
  title: say`Joint in place on a cable that is not`,
  why: say`Glass that is planned, in stock or removed can't be joined today.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const GONE = "('planned', 'in_stock', 'removed')";
    const of = (table: string, section: string) =>
      `select '${table}' as kind, j.id as id, c.id as cable_id, c.life from ${table} j join section e on e.id = j.${section}
       join strand t on t.id = e.strand_id join cable c on c.id = t.cable_id
       where j.life in ${PRESENT} and c.life in ${GONE}`;
    const [few] = await reader.rows<{ n: number }>(`select count(*) as n from cable where life in ${GONE}`);
    if (few?.n === 0) return [];
    const rows = await reader.rows<{ kind: KindName; id: number; cable_id: number; life: string }>(
      `${of("splice", "a_section_id")} union ${of("splice", "b_section_id")} union ${of("termination", "section_id")}
       order by cable_id, kind, id`,
    );
    return [...Map.groupBy(rows, ({ cable_id }) => cable_id)].map(
      ([cable_id, joints]): Case => ({
        records: [["cable", cable_id], ...joints.map(({ kind, id }) => [kind, id] as const)],
        count: joints.length,
        facts: { life: joints[0]?.life ?? null, joints: joints.length },
      }),
    );
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: plural(
      facts.joints as number,
      "{1} is {2}, yet {0} joint of it is in place.",
      "{1} is {2}, yet {0} joints of it are in place.",
      quote(tag, cable),
      lifeWords(facts.life),
    ),
    repair: say`Correct the life of the cable or of its joints.`,
  }),
});
