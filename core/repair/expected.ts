/**
 * What a crew should read once a cut is mended: for each circuit the ports at both ends of its glass, how much glass lies
 * between them, and what it should lose from port to port, both end pairs included (one-cord reference).
 */
import { impactByGlass } from "../impact/impact.ts";
import { modeOf } from "../light/classes.ts";
import { LightLine } from "../light/line.ts";
import { editionOf, USUAL } from "../light/loss.ts";
import { Refusal } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, NotBack } from "./answer.ts";
import { linesOverCut, readHalves } from "./cut-lines.ts";
import { circuitsOf, serves } from "./dark.ts";
import { factsAfter, type LossesAsked, mended } from "./loss-after.ts";
import type { MendReckoned } from "./mend.ts";
import { notBack } from "./not-back.ts";
import type { MendPlan } from "./plans.ts";
import { strandsCut } from "./strands.ts";
import { changeOf } from "./whole.ts";

export interface Expected extends MendCircuit {
  /** So many strands of it lie between the same ports. */
  readonly strands: number;
  /** Where an instrument is plugged in, at either end; null where no port is on record there. */
  readonly ports: readonly [RecordRef | null, RecordRef | null];
  /** Metres of sheath and cords from port to port, and of glass; null where a length or the excess of glass lacks. */
  readonly length_m: number | null;
  readonly glass_m: number | null;
  readonly wavelength_nm: number | null;
  /** As usual, and at most by the limits in use; null where something is not known. */
  readonly loss_db: number | null;
  readonly worst_db: number | null;
  /** Why nothing can be said; null otherwise. */
  readonly why_not: string | null;
}

/** In the order of the circuits, strands between the same ports in one row. Of several changes the first counts. */
export async function expectedAfter(reader: Reader, asked: LossesAsked): Promise<Expected[]> {
  const rows: Expected[] = [];
  for (const one of asked.circuits) {
    const none = {
      ...one,
      strands: 0,
      ports: [null, null] as const,
      length_m: null,
      glass_m: null,
      wavelength_nm: null,
    };
    try {
      const own = together(await ofCircuit(reader, one, asked));
      const why_not = say`no line of it that is on record runs over the cut`;
      rows.push(...(own.length > 0 ? own : [{ ...none, loss_db: null, worst_db: null, why_not }]));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      rows.push({ ...none, loss_db: null, worst_db: null, why_not: error.failure.message });
    }
  }
  return rows;
}

async function ofCircuit(reader: Reader, one: MendCircuit, asked: LossesAsked): Promise<Expected[]> {
  const { order, halves, changes, limits, today } = asked;
  const [change] = changes;
  if (!change) return [];
  const lines = await linesOverCut(reader, one.circuit.id, order, halves, today);
  return lines.map(({ hops, at, light }): Expected => {
    const [first, last] = between(hops, at);
    const after = mended(hops, at, change);
    const part = after.slice(first, last + 1 + (after.length - hops.length));
    const line = new LightLine(part, factsAfter(light, hops, [at], change), limits);
    const { edition } = editionOf(limits, undefined);
    const way = { edition, as: "link", reference_method: "one_cord", by_formula: false, direction: "a_to_b" } as const;
    const { classes } = line.loss({ ...way, worst: "typical", wavelength_nm: 1310 });
    const wavelength_nm = USUAL[classes[0] ? modeOf(classes[0]) : "single_mode"][0] as number;
    const [usual, worst] = (["typical", "limit"] as const).map(
      (of) => line.loss({ ...way, worst: of, wavelength_nm }).sum,
    );
    return {
      ...one,
      strands: 1,
      ports: [portOf(hops[first]), portOf(hops[last])],
      length_m: metresOf(part, "length_m"),
      glass_m: metresOf(part, "glass_m"),
      wavelength_nm,
      loss_db: usual?.complete ? usual.loss_db : null,
      worst_db: worst?.complete ? worst.loss_db : null,
      why_not: null,
    };
  });
}

/** Of strands between the same ports the longest and the one that may lose most stand for all. */
function together(rows: readonly Expected[]): Expected[] {
  const most = (values: readonly (number | null)[]): number | null =>
    values.reduce(
      (one, other) => (one === null || other === null ? null : Math.max(one, other)),
      Number.NEGATIVE_INFINITY,
    );
  const byPorts = Map.groupBy(rows, ({ ports }) => ports.map((port) => port?.id ?? 0).join());
  return [...byPorts.values()].map(
    (own): Expected => ({
      ...(own[0] as Expected),
      strands: own.length,
      length_m: most(own.map(({ length_m }) => length_m)),
      glass_m: most(own.map(({ glass_m }) => glass_m)),
      loss_db: most(own.map(({ loss_db }) => loss_db)),
      worst_db: most(own.map(({ worst_db }) => worst_db)),
    }),
  );
}

/** The ports farthest out from the cut: cords to equipment beyond them are unplugged to measure. */
function between(hops: readonly Hop[], at: number): [number, number] {
  const first = hops.findIndex(({ kind }, index) => kind === "port" && index < at);
  const last = hops.findLastIndex(({ kind }, index) => kind === "port" && index > at);
  return [Math.max(0, first), last < 0 ? hops.length - 1 : last];
}

const portOf = (hop: Hop | undefined): RecordRef | null => (hop?.kind === "port" ? hop.record : null);

function metresOf(hops: readonly Hop[], of: "length_m" | "glass_m"): number | null {
  let sum = 0;
  for (const hop of hops) {
    if (hop.kind !== "strand" && hop.kind !== "cord") continue;
    // A cord's glass is as long as the cord.
    const metres = hop[of] ?? (hop.kind === "cord" ? hop.length_m : null);
    if (metres === null) return null;
    sum += metres;
  }
  return toMillimetre(sum);
}

/** What an instrument should read once the plan is carried out, circuit by circuit, the most urgent first. */
export async function expectedOf(
  reader: Reader,
  today: string,
  { cable, cables, on, waiting, limits, cut, lay, dark }: MendReckoned,
  plan: MendPlan,
  before: number,
  over_ground: boolean,
): Promise<{ readonly expected: readonly Expected[]; readonly not_back: readonly NotBack[] }> {
  const [a, b] = [on.stops[before], on.stops[before + 1]];
  const between_stops = [a?.stop.id ?? 0, waiting?.stop_id ?? b?.stop.id ?? 0] as const;
  const lost = await impactByGlass(reader, [{ cable: cable.id, between_stops }], { today, held: null });
  const all = await strandsCut(reader, cables, lost);
  // What runs on whole has the glass it had.
  const order = plan.dark_only && dark !== null ? all.filter(({ number }) => dark.has(number)) : all;
  const touched = new Set(circuitsOf(order).map(({ circuit }) => circuit.id));
  const halves = waiting
    ? await readHalves(
        reader,
        order.map(({ section }) => section),
        waiting.stop_id,
        lay,
      )
    : null;
  const circuits = lost.answer.circuits
    .filter(({ circuit }) => !plan.dark_only || touched.has(circuit.id))
    .map(({ circuit, priority, state }): MendCircuit => ({ circuit, priority, state }));
  const held = { today, held: null };
  const not_back = await notBack(reader, { order, cut_stop: waiting?.stop_id ?? null }, held);
  const expected = await expectedAfter(reader, {
    // Nobody waits for what is not in service yet.
    circuits: [...circuits.filter(serves), ...circuits.filter((one) => !serves(one))],
    order,
    halves,
    changes: [changeOf(plan, { on, cut }, over_ground ? "mechanical" : "fusion")],
    limits,
    today,
  });
  return { expected, not_back };
}
