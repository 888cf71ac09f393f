/** Loss of every circuit in service, as one list: which won't run what they carry, and which nobody can tell of. */
import { Refusal } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { addressUnder } from "../trace/facts.ts";
import type { ApplicationVerdict, As, LineLoss, Overload, Verdict } from "./answer.ts";
import { applicationNamed } from "./applications.ts";
import { lossBy } from "./loss.ts";
import type { Worst } from "./values.ts";

export interface CircuitLoss {
  readonly circuit: RecordRef;
  readonly application: string | null;
  /** Why nothing could be reckoned, such as glass that is not on record; null where it could. */
  readonly why_not: string | null;
  readonly as: As | null;
  /** Of the strand that loses most, at its first wavelength. */
  readonly wavelength_nm: number | null;
  readonly loss_db: number | null;
  readonly complete: boolean;
  readonly length_m: number | null;
  /** Whether what it carries runs over each of its strands; null where it names nothing that has limits. */
  readonly runs: Verdict | null;
  readonly runs_at_worst: Verdict | null;
  readonly margin_db: number | null;
  readonly reasons: readonly string[];
  readonly overload: Overload["severity"] | null;
  readonly unknown: number;
}

export interface CircuitLosses {
  readonly worst: Worst;
  readonly circuits: readonly CircuitLoss[];
}

interface CircuitRow {
  readonly id: number;
  readonly tag: string;
  readonly application: string | null;
}

const ORDER: readonly Verdict[] = ["no", "cannot_tell", "yes"];
const worstOf = (verdicts: readonly Verdict[]): Verdict | null =>
  ORDER.find((verdict) => verdicts.includes(verdict)) ?? null;

/** @param heard called before each, to report and to stop. */
export async function lossOfCircuits(
  reader: Reader,
  worst: Worst,
  today: string,
  heard: (done: number, total: number) => Promise<void>,
): Promise<CircuitLosses> {
  const limits = await limitsInUse(reader);
  const rows = await reader.rows<CircuitRow>(
    "select id, tag, application from circuit where state = 'in_service' order by tag_key, id",
  );
  const circuits: CircuitLoss[] = [];
  for (const [at, row] of rows.entries()) {
    if (at % 50 === 0) await heard(at, rows.length);
    const { id } = row;
    const application = row.application === null ? undefined : applicationNamed(limits, row.application);
    const asked = {
      application,
      what: { kind: "circuit", id },
      direction: "a_to_b",
      worst,
      reference_method: "one_cord",
    } as const;
    try {
      const { lines, as } = await lossBy(reader, limits, { ...asked, wanted_only: true, brief: true }, today);
      circuits.push(told(row, as, lines));
    } catch (error) {
      // A circuit without glass on record is an answer here, not the end of the list.
      if (!(error instanceof Refusal)) throw error;
      circuits.push({ ...blank(row), why_not: error.failure.message });
    }
  }
  return { worst, circuits };
}

const blank = ({ id, tag, application }: CircuitRow): CircuitLoss => ({
  circuit: { kind: "circuit", id, tag: addressUnder("circuit", null, tag) },
  application,
  why_not: null,
  as: null,
  wavelength_nm: null,
  loss_db: null,
  complete: false,
  length_m: null,
  runs: null,
  runs_at_worst: null,
  margin_db: null,
  reasons: [],
  overload: null,
  unknown: 0,
});

function told(row: CircuitRow, as: As, lines: readonly LineLoss[]): CircuitLoss {
  const losses = lines.flatMap((line) => (line.losses[0] ? [{ line, loss: line.losses[0] }] : []));
  const most = losses.toSorted((a, b) => (b.loss.loss_db ?? -1) - (a.loss.loss_db ?? -1))[0];
  // Other circuits on the same glass name applications of their own, which are theirs to answer for.
  const wanted = row.application?.trim().toLowerCase();
  const own = lines.flatMap((line) => line.applications.filter((one) => one.application.toLowerCase() === wanted));
  const margins = own.flatMap(({ margin_db }) => margin_db ?? []);
  const overloads = lines.flatMap(({ powers }) => powers.map(({ overload }) => overload.severity));
  return {
    ...blank(row),
    as,
    wavelength_nm: most?.loss.wavelength_nm ?? null,
    loss_db: most?.loss.loss_db ?? null,
    complete: losses.length > 0 && losses.every(({ loss }) => loss.complete),
    length_m: most?.line.length_m ?? null,
    runs: worstOf(own.map(({ runs }) => runs)),
    runs_at_worst: worstOf(own.map(({ runs_at_worst }) => runs_at_worst)),
    margin_db: margins.length === own.length && own.length > 0 ? Math.min(...margins) : null,
    reasons: [...new Set(own.flatMap(({ reasons }: ApplicationVerdict) => reasons))],
    overload: (["error", "warning", "cannot_tell", "none"] as const).find((one) => overloads.includes(one)) ?? null,
    unknown: losses.reduce((sum, { loss }) => sum + loss.unknown.length, 0),
  };
}
