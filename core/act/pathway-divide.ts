/**
 * A pathway divided at a place set into it, such as a hole dug on its way: from now on two pathways meet there. Its pipes
 * run on beyond, coupled where nobody opened them, and every cable in it passes the place.
 */
import { z } from "zod";
import { KINDS, type KindName, type Row, type Values } from "../model/dictionary.ts";
import { dividedAt, type LonLat } from "../model/lines.ts";
import { alongSheath, type MarkBreak } from "../model/marks.ts";
import { formatLength } from "../model/units.ts";
import { refuse } from "../result.ts";
import { refsOf } from "../store/addresses.ts";
import type { Plan } from "../store/plan.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";

export const pathwayDivideInput = z.strictObject({
  pathway: address(say`The pathway, such as DB-04.`),
  at: address(say`The place set into it.`),
  from_m: z
    .number()
    .positive(say`must be more than nothing`)
    .optional()
    .describe(say`Metres from its from end to the place; left out, neither part has a length.`),
  tag: z.string().trim().min(1, say`is empty`).max(60).describe(say`The number of the part beyond the place.`),
});

export interface PathwayDivided {
  readonly near: string;
  readonly far: string;
  readonly cables: number;
}

export async function planPathwayDivide(
  context: ActContext,
  input: z.output<typeof pathwayDivideInput>,
): Promise<Plan<PathwayDivided>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { id, tag } = await named(reader, input.pathway, ["pathway"], "pathway");
  const at = await named(reader, input.at, ["space"], "at");
  const [row] = await reader.rows<Row<"pathway">>("select * from pathway where id = ?", [id]);
  if (!row) throw new Error(`pathway ${id} is gone`);
  if (at.id === row.from_space_id || at.id === row.to_space_id) {
    refuse("not_possible", say`${tag} ends at ${at.tag} already.`, [
      { field: "at", record: at.tag, reason: say`is an end of ${tag} already` },
    ]);
  }
  const from_m = input.from_m ?? null;
  if (from_m !== null && row.length_m !== null && from_m >= row.length_m) {
    const reason = say`must be less than the ${formatLength(row.length_m, "m")} of ${tag}`;
    refuse("bad_input", `${from_m} m ${reason}.`, [{ field: "from_m", record: tag, reason }]);
  }
  const same = valuesOf("pathway", row);
  const line = row.geometry === null ? null : (JSON.parse(row.geometry) as LonLat[]);
  const share = from_m !== null && row.length_m ? from_m / row.length_m : null;
  const lines = line && share !== null ? dividedAt(line, share) : null;
  const enters = (row.entrance_m ?? 0) > (from_m ?? Number.POSITIVE_INFINITY);
  const far = await draft.insertOne("pathway", {
    ...same,
    tag: input.tag,
    from_space_id: at.id,
    from_wall: null,
    length_m: from_m === null || row.length_m === null ? null : row.length_m - from_m,
    entrance_m: enters && row.entrance_m !== null && from_m !== null ? row.entrance_m - from_m : null,
    geometry: lines ? JSON.stringify(lines[1]) : null,
  });
  draft.update("pathway", id, {
    to_space_id: at.id,
    to_wall: null,
    length_m: from_m,
    ...(enters ? { entrance_m: null } : {}),
    ...(line ? { geometry: lines ? JSON.stringify(lines[0]) : null } : {}),
  });
  const pipes = await dividePipes(draft, id, far, at.id);
  const cables = await divideLegs(draft, { near: id, far, at: at.id, row, pipes, share });
  const seals = await reader.rows<{ tag: string }>("select tag from firestop where pathway_id = ? order by id", [id]);
  if (seals.length > 0)
    draft.notice(
      say`${seals.map((seal) => `${tag}/${seal.tag}`).join(", ")} stays with ${tag}; say so where it is in ${input.tag}.`,
    );
  return draft.plan(say`Divide ${tag} at ${at.tag}: beyond it ${input.tag}`, { near: tag, far: input.tag, cables });
}

/** The fields of a kind, of a row that has more. */
const valuesOf = <K extends KindName>(kind: K, row: Values<K>): Values<K> =>
  Object.fromEntries(Object.entries(row).filter(([field]) => field in KINDS[kind].fields)) as Values<K>;

/** Each pipe goes on beyond the place; answers the new one of each. */
async function dividePipes(draft: PlanDraft, near: number, far: number, at: number): Promise<Map<number, number>> {
  const { reader } = draft.context;
  const pipes = await reader.rows<Row<"conduit">>("select * from conduit where pathway_id = ? order by id", [near]);
  // A pipe is open at the place where a cable that lies in it stops there and can be reached.
  const open = new Set(
    (
      await reader.rows<{ id: number }>(
        `select distinct l.conduit_id as id from leg l join stop s on s.id in (l.from_stop_id, l.to_stop_id)
         where s.space_id = ? and l.conduit_id is not null`,
        [at],
      )
    ).map(({ id }) => id),
  );
  const ids = await draft.insert(
    "conduit",
    pipes.map((pipe) => ({
      ...valuesOf("conduit", pipe),
      pathway_id: far,
      parent_id: null,
      from_coupled_id: open.has(pipe.id) ? null : pipe.id,
    })),
  );
  const beyond = new Map(pipes.map(({ id }, index) => [id, ids[index] as number]));
  for (const { id, parent_id, to_coupled_id } of pipes) {
    const other = beyond.get(id) as number;
    const parent = parent_id === null ? undefined : beyond.get(parent_id);
    if (parent !== undefined) draft.update("conduit", other, { parent_id: parent });
    draft.update("conduit", id, { to_coupled_id: open.has(id) ? null : other });
    if (to_coupled_id === null) continue;
    // What was coupled to it at its far end is coupled to the new one now.
    const [next] = await reader.rows<Pick<Row<"conduit">, "id" | "from_coupled_id" | "to_coupled_id">>(
      "select id, from_coupled_id, to_coupled_id from conduit where id = ?",
      [to_coupled_id],
    );
    if (next?.from_coupled_id === id) draft.update("conduit", next.id, { from_coupled_id: other });
    else if (next?.to_coupled_id === id) draft.update("conduit", next.id, { to_coupled_id: other });
  }
  return beyond;
}

interface Division {
  readonly near: number;
  readonly far: number;
  readonly at: number;
  readonly row: Row<"pathway">;
  readonly pipes: ReadonlyMap<number, number>;
  /** What of its length lies before the place; null where nobody knows. */
  readonly share: number | null;
}
interface LegRow extends Row<"leg"> {
  readonly cable_id: number;
  readonly from_space: number | null;
  readonly to_space: number | null;
  readonly from_ordinal: number;
}

type StopRow = Pick<Row<"stop">, "id" | "ordinal" | "mark_in" | "mark_open_from" | "mark_open_to" | "mark_out">;

/**
 * The mark on the sheath at a share of the way from one stop to the next, worked out to a tenth; null where a mouth has none on
 * record, and where the print begins anew between the two.
 */
function marksOn(stops: readonly StopRow[], breaks: readonly MarkBreak[]) {
  const along = alongSheath(
    stops.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]),
    breaks,
  );
  return (from_id: number, to_id: number, share: number): number | null => {
    const [from, to] = [from_id, to_id].map((id) => stops.findIndex((stop) => stop.id === id)) as [number, number];
    const [a, b] = [stops[from]?.mark_out ?? null, stops[to]?.mark_in ?? null];
    const [first, last] = [along[4 * from + 3] ?? null, along[4 * to] ?? null];
    if (a === null || b === null || first === null || last === null) return null;
    if (Math.abs(Math.abs(b - a) - Math.abs(last - first)) > 0.01) return null;
    return Math.round((a + share * (b - a)) * 10) / 10;
  };
}

/** Legs in the pathway: those that end at the place lie in one part, the others get a stop there. */
async function divideLegs(draft: PlanDraft, { near, far, at, row, pipes, share }: Division): Promise<number> {
  const { reader } = draft.context;
  const legs = await reader.rows<LegRow>(
    `select l.*, a.cable_id, a.space_id as from_space, b.space_id as to_space, a.ordinal as from_ordinal
     from leg l join stop a on a.id = l.from_stop_id join stop b on b.id = l.to_stop_id
     where l.pathway_id = ? and l.life <> 'removed' order by a.cable_id, a.ordinal`,
    [near],
  );
  const beyond = (leg: LegRow) => ({
    pathway_id: far,
    conduit_id: leg.conduit_id === null ? null : (pipes.get(leg.conduit_id) ?? null),
  });
  const passes: LegRow[] = [];
  const reckoned = new Set<number>();
  for (const leg of legs) {
    const far_side = (space: number | null): boolean => space !== null && space === row.to_space_id;
    if (leg.from_space === at || leg.to_space === at) {
      const other = leg.from_space === at ? leg.to_space : leg.from_space;
      if (far_side(other)) draft.update("leg", leg.id, beyond(leg));
    } else passes.push(leg);
  }
  for (const [cable_id, own] of Map.groupBy(passes, (leg) => leg.cable_id)) {
    const stops = await reader.rows<StopRow>("select * from stop where cable_id = ? order by ordinal", [cable_id]);
    const [sheet] = await reader.rows<{ mark_breaks: string | null }>("select mark_breaks from cable where id = ?", [
      cable_id,
    ]);
    const markBetween = marksOn(stops, JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[]);
    const added = own.map(({ from_ordinal }) => from_ordinal);
    for (const { id, ordinal } of stops) {
      const before = added.filter((order) => order < ordinal).length;
      if (before > 0) draft.update("stop", id, { ordinal: ordinal + before });
    }
    for (const [index, leg] of own.entries()) {
      const { id, from_space, to_space } = leg;
      const backwards = from_space !== null && from_space === row.to_space_id;
      // Only what runs from end to end has its share there; a cable that is cut on the way has another.
      const whole = [from_space, to_space].every((one) => one === row.from_space_id || one === row.to_space_id);
      const before = share === null || !whole ? null : backwards ? 1 - share : share;
      const mark = before === null ? null : markBetween(leg.from_stop_id, leg.to_stop_id, before);
      if (mark !== null) reckoned.add(cable_id);
      const stop = await draft.insertOne("stop", {
        cable_id,
        ordinal: leg.from_ordinal + index + 1,
        space_id: at,
        kind: "passing",
        reachable: "no",
        storage: "none",
        ...(mark === null ? {} : { mark_in: mark, mark_out: mark, marks_basis: "computed" as const }),
      });
      const [first, second] = backwards ? [beyond(leg), {}] : [{}, beyond(leg)];
      // How much of its own sheath lies on either side nobody said.
      const own = { length_m: null, length_basis: null };
      draft.update("leg", id, { to_stop_id: stop, ...own, ...first });
      await draft.insert("leg", [{ ...valuesOf("leg", leg), ...own, from_stop_id: stop, ...second }]);
    }
  }
  if (reckoned.size > 0) {
    const tags = [...(await refsOf(reader, "cable", reckoned)).values()].map(({ tag }) => tag).join(", ");
    draft.notice(
      plural(
        reckoned.size,
        "The mark of {1} at the place is worked out from those beside it: read it there.",
        "The marks of {1} at the place are worked out from those beside it: read them there.",
        tags,
      ),
    );
  }
  return new Set(legs.map(({ cable_id }) => cable_id)).size;
}
