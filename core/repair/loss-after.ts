/**
 * What circuits lose once a plan is carried out: the line as it is traced today with the cut strand's glass made as long
 * as it will be, and the new splices in it. Readings that ran over it no longer stand for anything.
 */
import type { Verdict } from "../light/answer.ts";
import { applicationNamed, verdictOn } from "../light/applications.ts";
import { modeOf } from "../light/classes.ts";
import type { LightFacts } from "../light/facts.ts";
import { LightLine } from "../light/line.ts";
import { editionOf, USUAL } from "../light/loss.ts";
import { stretchOf } from "../light/measured.ts";
import { wavelengthsOf } from "../light/wavelengths.ts";
import { Refusal } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop } from "../trace/answer.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import type { MendCircuit, MendLoss, MendStrand } from "./answer.ts";
import { type Halves, linesOverCut } from "./cut-lines.ts";

/** What a plan does to each strand. */
export interface Change {
  /** Sheath that is more than before; less is negative. */
  readonly more_m: number;
  readonly splices: number;
  readonly method: "fusion" | "mechanical";
}

/** No splice on record has this number. */
const TO_MAKE = -1;

/** A splice that is made anew, in the place of one that is on record or where there was none. */
export const spliceToMake = (hop: Hop): Hop => ({
  ...hop,
  kind: "splice",
  record: { kind: "splice", id: TO_MAKE, tag: say`a splice to be made` },
  also: [],
  circuits: [],
  length_m: null,
  glass_m: null,
  lacks: null,
});

/** The hops with the cut strand mended. */
export function mended(hops: readonly Hop[], at: number, { more_m, splices }: Change): Hop[] {
  const own = hops[at] as Hop;
  const pieces = splices + 1;
  const share = (metres: number | null, more: number): number | null =>
    metres === null ? null : toMillimetre(Math.max(0, metres + more) / pieces);
  const ratio = own.length_m && own.glass_m ? own.glass_m / own.length_m : 1;
  const piece: Hop = {
    ...own,
    length_m: share(own.length_m, more_m),
    glass_m: share(own.glass_m, more_m * ratio),
  };
  const splice = spliceToMake(own);
  const made = Array.from({ length: pieces }, (_, index) => (index === 0 ? [piece] : [splice, piece])).flat();
  return [...hops.slice(0, at), ...made, ...hops.slice(at + 1)];
}

/** The facts without readings of what is touched, and with how the new splices are made. */
export function factsAfter(
  light: LightFacts,
  hops: readonly Hop[],
  at: readonly number[],
  { method }: Pick<Change, "method">,
): LightFacts {
  const splice = {
    ...{ id: TO_MAKE, method, loss_ab_db: null, loss_ba_db: null, loss_basis: null, made_on: null, life_from: null },
    ...{ a_side: "B" as const, b_side: "A" as const, a_section_id: TO_MAKE, b_section_id: TO_MAKE },
  };
  return {
    ...light,
    splices: new Map([...light.splices, [TO_MAKE, splice]]),
    readings: light.readings.filter((reading) => {
      const stretch = stretchOf(reading, hops, light);
      return stretch === null || at.every((one) => one < stretch.first || one > stretch.last);
    }),
  };
}

interface Told {
  readonly loss_db: number | null;
  readonly worst_db: number | null;
  readonly complete: boolean;
  readonly runs: Verdict | null;
  readonly runs_at_worst: Verdict | null;
  readonly margin_db: number | null;
  readonly reasons: readonly string[];
  readonly wavelength_nm: number;
}

function toldOf(line: LightLine, application: string | undefined): Told {
  const { edition } = editionOf(line.limits, undefined);
  const way = { edition, as: "channel", reference_method: "one_cord", by_formula: false, direction: "a_to_b" } as const;
  const { classes } = line.loss({ ...way, worst: "typical", wavelength_nm: 1310 });
  const own = application === undefined ? [] : wavelengthsOf(line.limits, application);
  const mode = classes[0] ? modeOf(classes[0]) : "single_mode";
  const wavelengths = own.length > 0 ? own : USUAL[mode];
  const wavelength_nm = wavelengths[0] as number;
  const [usual, worst] = (["typical", "limit"] as const).map(
    (of) => line.loss({ ...way, worst: of, wavelength_nm }).sum,
  );
  const verdict =
    application === undefined
      ? null
      : verdictOn(line, application, {
          asked: { worst: "typical", edition, wavelength_nm },
          wavelengths_nm: wavelengths,
          wanted: true,
        });
  return {
    loss_db: usual?.loss_db ?? null,
    worst_db: worst?.loss_db ?? null,
    complete: (usual?.complete ?? false) && (worst?.complete ?? false),
    runs: verdict?.runs ?? null,
    runs_at_worst: verdict?.runs_at_worst ?? null,
    margin_db: verdict?.worst_margin_db ?? null,
    reasons: verdict?.reasons ?? [],
    wavelength_nm,
  };
}

const RANK: readonly (Verdict | null)[] = ["no", "cannot_tell", "yes", null];
const harder = (a: Told, b: Told): number =>
  RANK.indexOf(a.runs_at_worst) - RANK.indexOf(b.runs_at_worst) || (b.worst_db ?? -1) - (a.worst_db ?? -1);

export interface LossesAsked {
  readonly circuits: readonly MendCircuit[];
  /** The strands that are cut. */
  readonly order: readonly MendStrand[];
  /** Where the cut is on record: the glass beyond it. */
  readonly halves: Halves | null;
  readonly changes: readonly Change[];
  readonly limits: Limits;
  readonly today: string;
}

/** For each change, what each circuit loses after it; of a circuit on several strands, the one that is worst off. */
export const lossesAfter = (reader: Reader, asked: LossesAsked): Promise<MendLoss[][]> => {
  const { order, halves, changes, limits, today } = asked;
  return lossesBothWays(reader, { ...asked, ways: changes.length }, async (circuit) =>
    (await linesOverCut(reader, circuit, order, halves, today)).map(({ hops, at, light }) => ({
      before: new LightLine(hops, light, limits),
      after: changes.map(
        (change) => new LightLine(mended(hops, at, change), factsAfter(light, hops, [at], change), limits),
      ),
    })),
  );
};

/** A line as it is, and as it is by each way to mend it. */
export interface BothWays {
  readonly before: LightLine;
  readonly after: readonly LightLine[];
}
type LinesOf = (circuit: number) => Promise<readonly BothWays[]>;

/** The same of lines that are had otherwise. @param ways in how many ways each may be mended */
export async function lossesBothWays(
  reader: Reader,
  asked: Pick<LossesAsked, "circuits" | "limits"> & { readonly ways: number },
  linesOf: LinesOf,
): Promise<MendLoss[][]> {
  const rows = await reader.rows<{ id: number; application: string | null }>(
    "select id, application from circuit where id in (select value from json_each(?))",
    [JSON.stringify(asked.circuits.map(({ circuit }) => circuit.id))],
  );
  const applications = new Map(rows.map(({ id, application }) => [id, application]));
  const all: MendLoss[][] = Array.from({ length: asked.ways }, () => []);
  for (const one of asked.circuits) {
    const named = applications.get(one.circuit.id) ?? null;
    const told = await ofCircuit(one, named, asked, linesOf);
    for (const [index, loss] of told.entries()) all[index]?.push(loss);
  }
  return all;
}

async function ofCircuit(
  { circuit, priority }: MendCircuit,
  named: string | null,
  { limits, ways }: Pick<LossesAsked, "limits"> & { readonly ways: number },
  linesOf: LinesOf,
): Promise<MendLoss[]> {
  const application = named === null ? undefined : applicationNamed(limits, named);
  const before: Told[] = [];
  const after: Told[][] = Array.from({ length: ways }, () => []);
  let why_not: string | null = null;
  try {
    for (const line of await linesOf(circuit.id)) {
      before.push(toldOf(line.before, application));
      for (const [index, mend] of line.after.entries()) after[index]?.push(toldOf(mend, application));
    }
    if (before.length === 0) why_not = say`no line of it that is on record runs over the cut`;
  } catch (error) {
    // A circuit without glass on record is an answer here, not the end of the list.
    if (!(error instanceof Refusal)) throw error;
    why_not = error.failure.message;
  }
  const now = before.sort(harder)[0] ?? null;
  return after.map((own): MendLoss => {
    const then = own.sort(harder)[0] ?? null;
    return {
      circuit,
      priority,
      application: named,
      wavelength_nm: then?.wavelength_nm ?? null,
      before_db: now?.loss_db ?? null,
      loss_db: then?.loss_db ?? null,
      worst_db: then?.worst_db ?? null,
      complete: then?.complete ?? false,
      runs: then?.runs ?? null,
      runs_at_worst: then?.runs_at_worst ?? null,
      ran: now?.runs_at_worst ?? null,
      margin_db: then?.margin_db ?? null,
      reasons: why_not === null ? (then?.reasons ?? []) : [why_not],
    };
  });
}
