/**
 * The loss of circuits in service, as far as something may be amiss with it. A bound from memory says of which nothing
 * can be; only the others are reckoned term by term.
 */
import { type GlassPath, linesThrough, positionsOn } from "../glass/path.ts";
import type { LineLoss } from "../light/answer.ts";
import { applicationNamed } from "../light/applications.ts";
import { LightBounds } from "../light/bounds.ts";
import { lossBy } from "../light/loss.ts";
import { Refusal } from "../result.ts";
import { type Limits, limitsInUse } from "../standards/limits/in-use.ts";
import { givenOn } from "./circuit-lines.ts";
import type { Ground } from "./rule.ts";

export interface OpticPosition {
  readonly interface_id: number;
  readonly port_id: number;
  readonly position_id: number;
  readonly ordinal: number;
  readonly transmit: number | null;
  readonly receive: number | null;
  readonly launch_min_dbm: number | null;
  readonly launch_max_dbm: number | null;
  readonly sensitivity_dbm: number | null;
  readonly overload_dbm: number | null;
}

const OPTICS = `select i.id as interface_id, i.port_id, po.id as position_id, po.ordinal, i.transmit_position as transmit,
    i.receive_position as receive, i.launch_min_dbm, i.launch_max_dbm, i.sensitivity_dbm, i.overload_dbm
  from interface i cross join position po on po.port_id = i.port_id order by i.id, po.ordinal`;

/** Optics by the positions of their ports. */
export const opticsByPosition = (ground: Ground): Promise<ReadonlyMap<number, OpticPosition>> =>
  ground.once("optics", async () => {
    const rows = await ground.reader.rows<OpticPosition>(OPTICS);
    return new Map(rows.map((row) => [row.position_id, row]));
  });

/** The limits in use, read once a report. */
export const limitsOf = (ground: Ground): Promise<Limits> => ground.once("limits", () => limitsInUse(ground.reader));

/** The lines of each circuit in service over the glass it is given today, each out to where it stops. */
export const wholeLines = (ground: Ground): Promise<ReadonlyMap<number, readonly GlassPath[]>> =>
  ground.once("whole lines", async () => {
    const { reader, today } = ground;
    const plant = await ground.glass();
    const glass = await plant.on(reader, today);
    const rows = await reader.lists("select id from circuit where state = 'in_service' order by id");
    const lines = new Map<number, GlassPath[]>();
    for (const [at, [id]] of (rows as [number][]).entries()) {
      lines.set(id, linesThrough(glass, givenOn(plant, id, today)));
      if (at % 1000 === 999) await ground.breathe();
    }
    return lines;
  });

/** Bounds of all lines of circuits, and the classes of all sections. */
export const lightBounds = (ground: Ground): Promise<LightBounds> =>
  ground.once("light bounds", async () => {
    const paths = [...(await wholeLines(ground)).values()].flat();
    return LightBounds.read(ground.reader, await ground.glass(), await limitsOf(ground), paths);
  });

export interface Reckoned {
  readonly circuit: number;
  readonly application: string | null;
  readonly lines: readonly LineLoss[];
}

/** Circuits of which something may be amiss, each with its loss by typical values where nothing was measured. */
export const doubtfulLosses = (ground: Ground): Promise<readonly Reckoned[]> =>
  ground.once("doubtful losses", () => reckonDoubtful(ground));

async function reckonDoubtful(ground: Ground): Promise<Reckoned[]> {
  const { reader, today } = ground;
  const [limits, bounds, optics] = [await limitsOf(ground), await lightBounds(ground), await opticsByPosition(ground)];
  const rows = await reader.lists("select id, application from circuit where application is not null");
  const named = new Map((rows as [number, string][]).map(([id, text]) => [id, applicationNamed(limits, text)]));
  const found: Reckoned[] = [];
  for (const [id, lines] of await wholeLines(ground)) {
    const application = named.get(id);
    if (!mayBeAmiss(bounds, optics, id, lines, application)) continue;
    if (found.length % 20 === 0) await ground.breathe();
    const asked = { what: { kind: "circuit", id }, direction: "a_to_b", worst: "typical" } as const;
    try {
      const answer = await lossBy(
        reader,
        limits,
        { ...asked, application, reference_method: "one_cord", wanted_only: true, brief: true },
        today,
      );
      found.push({ circuit: id, application: application ?? null, lines: answer.lines });
    } catch (error) {
      // What can't be traced as one line is told by the rules of circuits.
      if (!(error instanceof Refusal)) throw error;
    }
  }
  return found;
}

function mayBeAmiss(
  bounds: LightBounds,
  optics: ReadonlyMap<number, OpticPosition>,
  circuit: number,
  lines: readonly GlassPath[],
  application: string | undefined,
): boolean {
  return lines.some((line) => {
    const bound = bounds.of(line, circuit, application);
    if (application !== undefined && bounds.mayFail(bound, application)) return true;
    if (optics.size === 0) return false;
    const [one, other] = positionsOn(line).flatMap((position) => optics.get(position) ?? []);
    if (!one || !other) return false;
    const most_db = bounds.withLimits(bound);
    return [one, other].some((from) => {
      const to = from === one ? other : one;
      return isTooMuch(from, to) || isTooLittle(from, to, most_db);
    });
  });
}

const isTooMuch = ({ launch_max_dbm }: OpticPosition, { overload_dbm }: OpticPosition): boolean =>
  launch_max_dbm !== null && overload_dbm !== null && launch_max_dbm > overload_dbm;

const isTooLittle = ({ launch_min_dbm }: OpticPosition, { sensitivity_dbm }: OpticPosition, most_db: number): boolean =>
  launch_min_dbm !== null && sensitivity_dbm !== null && launch_min_dbm - sensitivity_dbm < most_db;
