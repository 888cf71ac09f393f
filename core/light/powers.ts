/** Transmitters and receivers at the two ends of a line: budget, margin and too much light, each way. */
import { type Limits, limitSource } from "../standards/limits/in-use.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import { say } from "../words/say.ts";
import type { Direction, Penalty, Power } from "./answer.ts";
import { type FibreClass, lowestOf, modeOf } from "./classes.ts";
import type { Optic } from "./facts.ts";
import type { LightLine, Loss } from "./line.ts";
import { overloadOf } from "./overload.ts";
import { statisticalOf } from "./statistical.ts";
import { toDecibel } from "./terms.ts";
import type { Terms } from "./values.ts";

interface End {
  readonly optic: Optic;
  readonly record: RecordRef;
  /** The position of the port that the line takes. */
  readonly ordinal: number | null;
}

function endAt(line: LightLine, hop: Hop | undefined, facts: LineFacts): End | null {
  if (hop?.kind !== "interface") return null;
  const optic = line.facts.optics.get(hop.record.id);
  const position = hop.also.find(({ kind }) => kind === "position");
  const record = hop.also.find(({ kind }) => kind === "interface");
  if (!optic || !record) return null;
  return { optic, record, ordinal: (position && facts.positions.get(position.id)?.ordinal) ?? null };
}

/** Penalties the plant sets: limits named `penalty.` and, where they hold for one mode only, that mode. */
function penaltiesOf(limits: Limits, fibre: FibreClass | null): Penalty[] {
  return limits.under("penalty.").flatMap((limit) => {
    const [, mode] = limit.tag.split(".");
    if ((mode === "multimode" || mode === "single_mode") && (fibre === null || modeOf(fibre) !== mode)) return [];
    return { what: limit.meaning ?? limit.tag, db: limit.value, source: limitSource(limit), record: limit.record };
  });
}

const takes = (position: number | null, ordinal: number | null): boolean =>
  position === null || ordinal === null || position === ordinal;

/** Both ways in which light can go between two optics; a way that the positions rule out is left out. */
export function powersOf(line: LightLine, facts: LineFacts, asked: Terms, usual_nm: number): Power[] {
  const [a, b] = [endAt(line, line.hops[0], facts), endAt(line, line.hops.at(-1), facts)];
  if (!a || !b || line.hops.length < 2) return [];
  const ways: readonly (readonly [End, End, Direction])[] = [
    [a, b, "a_to_b"],
    [b, a, "b_to_a"],
  ];
  return ways.flatMap(([from, to, direction]) =>
    takes(from.optic.transmit_position, from.ordinal) && takes(to.optic.receive_position, to.ordinal)
      ? [powerOf(line, from, to, direction, { ...asked, wavelength_nm: from.optic.wavelength_nm ?? usual_nm })]
      : [],
  );
}

function powerOf(line: LightLine, from: End, to: End, direction: Direction, asked: Terms): Power {
  const { launch_min_dbm, launch_max_dbm } = from.optic;
  const { sensitivity_dbm, overload_dbm } = to.optic;
  const way = { ...asked, direction, as: "channel", reference_method: "one_cord", by_formula: false } as const;
  const loss = line.loss({ ...way, worst: "limit" });
  const usual = line.loss({ ...way, worst: "typical" });
  const penalties = penaltiesOf(line.limits, lowestOf(loss.classes));
  const penalty_db = penalties.reduce((sum, { db }) => sum + db, 0);
  const budget_db =
    launch_min_dbm === null || sensitivity_dbm === null ? null : toDecibel(launch_min_dbm - sensitivity_dbm);
  const { loss_db, complete, least_db } = loss.sum;
  const known = complete ? loss_db : null;
  const lacks = [
    ...(launch_min_dbm === null ? [say`the least launch is not on record`] : []),
    ...(sensitivity_dbm === null ? [say`the sensitivity is not on record`] : []),
    ...(launch_min_dbm !== null && launch_max_dbm !== null && launch_min_dbm > launch_max_dbm
      ? [say`the least launch is more than the greatest`]
      : []),
    ...(sensitivity_dbm !== null && overload_dbm !== null && sensitivity_dbm > overload_dbm
      ? [say`the receiver needs more than it bears`]
      : []),
    ...loss.sum.unknown,
  ];
  const channel = { least_db, measured: isMeasured(loss), most_db: known };
  return {
    transmitter: from.record,
    receiver: to.record,
    direction,
    wavelength_nm: asked.wavelength_nm,
    budget_db,
    loss_db,
    penalties,
    margin_db: budget_db === null || known === null ? null : toDecibel(budget_db - known - penalty_db),
    statistical: statisticalOf(line.limits, usual.terms, usual.sum.complete ? usual.sum.loss_db : null, penalty_db),
    overload: overloadOf(
      { launch_min_dbm, launch_max_dbm, sensitivity_dbm, overload_dbm },
      channel,
      line.limits.get("attenuator.step")?.value ?? 1,
    ),
    lacks,
  };
}

const isMeasured = ({ terms }: Loss): boolean => terms.length > 0 && terms.every(({ basis }) => basis === "measured");
