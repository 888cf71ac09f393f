/**
 * Record that a splice case was wrecked with all glass in it, by a digger, a wheel, water or fire: what was spliced there is
 * taken off on the day, cables that run through it are severed there, and no end in it has glass left to work with.
 */
import { z } from "zod";
import { escapeName } from "../model/address.ts";
import { choiceWords } from "../model/wording.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cutStrands } from "./cable-cut.ts";
import { isOuter } from "./cable-open.ts";
import { cableStretch } from "./cable-stretch.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";

export const closureLostInput = z.strictObject({
  closure: address(say`The splice case, such as MH-03/CL-1.`),
});

export interface CaseLost {
  readonly closure: string;
  /** Joints that were taken off: splices, and pigtails of ports. */
  readonly joints: number;
  /** Strands that ran through it and are cut there. */
  readonly cut: number;
}

const LIES = "('in_place', 'out_of_use')";

/** Refuses `not_possible` for a case that isn't in place. */
export async function planClosureLost(
  context: ActContext,
  input: z.output<typeof closureLostInput>,
): Promise<Plan<CaseLost>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { id, tag } = await named(reader, input.closure, ["closure"], "closure");
  const [own] = await reader.rows<{ life: "in_place" | "out_of_use" | "planned" | "removed" | "in_stock" }>(
    "select life from closure where id = ?",
    [id],
  );
  if (own && own.life !== "in_place" && own.life !== "out_of_use") {
    const reason = say`is ${choiceWords("closure", "life", own.life)}`;
    refuse("not_possible", say`${tag} ${reason}: nothing in it can be lost.`, [
      { field: "closure", record: tag, reason },
    ]);
  }
  // What was lost had been there, also where it is recorded late: it is taken off and never deleted.
  const gone = { life: "removed", life_until: dayOf(context) } as const;
  const inTrays = (kind: "splice" | "termination") =>
    reader.rows<{ id: number; life: string }>(
      `select p.id, p.life from ${kind} p join tray t on t.id = p.tray_id
       where t.closure_id = ? and p.life <> 'removed' order by p.id`,
      [id],
    );
  const joints = [
    ...(await inTrays("splice")).map((row) => ({ kind: "splice" as const, ...row })),
    ...(await inTrays("termination")).map((row) => ({ kind: "termination" as const, ...row })),
  ];
  const planned = joints.filter(({ life }) => life === "planned").length;
  if (planned > 0)
    draft.notice(
      say`${counted(planned, "joint")} planned in ${tag} can't be made there any more: the jobs that plan them are to be planned anew.`,
    );
  const made = joints.filter(({ life }) => life !== "planned");
  for (const one of made) draft.update(one.kind, one.id, gone);
  // What is joined in its trays ends there, also where no stop says that its cable enters the case.
  const joined = (end: "a" | "b"): string =>
    `select iif(p.${end}_side = 'A', s.a_stop_id, s.b_stop_id) from splice p join tray t on t.id = p.tray_id
       join section s on s.id = p.${end}_section_id where t.closure_id = ?1 and p.life in ${LIES}`;
  const stops = await reader.rows<{ id: number; cable: string }>(
    `select st.id, c.tag as cable from stop st join cable c on c.id = st.cable_id
     where (st.closure_id = ?1 or st.id in (${joined("a")} union ${joined("b")})) and c.life in ${LIES}
     order by c.tag_key, st.ordinal`,
    [id],
  );
  let cut = 0;
  for (const { id: stop_id, cable } of stops) cut += await loseAt(draft, stop_id, cable);
  for (const { id: tray } of await reader.rows<{ id: number }>(
    `select id from tray where closure_id = ? and life in ${LIES} order by id`,
    [id],
  ))
    draft.update("tray", tray, gone);
  draft.update("closure", id, gone);
  return draft.plan(say`Record that ${tag} was wrecked with ${counted(made.length, "joint")} in it`, {
    ...{ closure: tag, joints: made.length, cut },
  });
}

/** Severs what runs on there, and takes the stubs of what ends there. */
async function loseAt(draft: PlanDraft, stop_id: number, tag: string): Promise<number> {
  const { reader } = draft.context;
  const stretch = await cableStretch(reader, escapeName(tag, ""));
  const stop = stretch.stops.find(({ id }) => id === stop_id);
  if (!stop) return 0;
  const ends = await reader.rows<{ id: number; a_stop_id: number | null; b_stop_id: number | null }>(
    "select id, a_stop_id, b_stop_id from section where a_stop_id = ?1 or b_stop_id = ?1 order by id",
    [stop_id],
  );
  for (const { id, a_stop_id, b_stop_id } of ends) {
    draft.update("section", id, {
      ...(a_stop_id === stop_id ? { a_stub: "no" as const } : {}),
      ...(b_stop_id === stop_id ? { b_stub: "no" as const } : {}),
    });
  }
  if (isOuter(stretch, stop.ordinal)) return 0;
  const strands = await reader.rows<{ id: number; number: number }>(
    `select distinct t.id, t.number from strand t join section s on s.strand_id = t.id
       left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where t.cable_id = ?1 and coalesce(a.ordinal < ?2, 1) and coalesce(b.ordinal > ?2, 1) order by t.number`,
    [stretch.cable.id, stop.ordinal],
  );
  draft.update("stop", stop_id, { kind: "severed" });
  const done = await cutStrands(draft, {
    ...{ stop, strands: { cable: stretch.cable, strands, unit: null } },
    ...{ stub_a: "no", stub_b: "no", lenient: true },
  });
  return done.numbers.length;
}
