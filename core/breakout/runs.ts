/** Whether an application would run on a line that is still to be made. */

import { limitsFor, meets } from "../light/applications.ts";
import { classWords, type FibreClass, modeOf } from "../light/classes.ts";
import { type Sum, toDecibel } from "../light/terms.ts";
import { wavelengthsOf } from "../light/wavelengths.ts";
import { type Limits, limitSource } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { CircuitLoss } from "./answer.ts";

export interface RunsAsked {
  readonly limits: Limits;
  /** As limits have it; null where none is wanted. */
  readonly application: string | null;
}

export interface At {
  readonly typical: Sum;
  readonly limit: Sum;
}

/** What an application makes of the line; nothing of one that isn't made for its glass and that nobody asked for. */
export function verdictOf(
  application: string,
  asked: RunsAsked,
  fibre: FibreClass,
  classes: readonly FibreClass[],
  channel: { readonly length_m: number | null; readonly length_complete: boolean },
  usual: readonly number[],
  at: (wavelength_nm: number) => At,
): CircuitLoss["applications"] {
  const wanted = asked.application === application;
  const own = limitsFor(asked.limits, application, fibre);
  const none = { application, wanted, limit_db: null, margin_db: null, limit_m: null, sources: [] };
  if (new Set(classes.map(modeOf)).size > 1)
    return wanted
      ? [{ ...none, runs: "no", runs_at_worst: "no", reasons: [say`single-mode and multimode glass would be joined`] }]
      : [];
  if (!own)
    return wanted
      ? [{ ...none, runs: "no", runs_at_worst: "no", reasons: [say`it isn't made for ${classWords(fibre)}`] }]
      : [];
  const named = wavelengthsOf(asked.limits, application);
  const all = (named.length > 0 ? named : usual).map(at);
  const told = (of: "typical" | "limit") => {
    const known = all.flatMap((one) => one[of].loss_db ?? []);
    return meets(
      {
        loss_db: known.length > 0 ? Math.max(...known) : null,
        // What is allowed for joints may not be there: the least is what glass alone loses, told by the line's own terms.
        least_db: Math.min(...all.map((one) => one[of].least_db)),
        complete: all.length > 0 && all.every((one) => one[of].complete),
        ...channel,
      },
      own,
    );
  };
  const [usually, atWorst] = [told("typical"), told("limit")];
  const least_db = Math.min(...all.map((one) => one.typical.least_db));
  const complete = all.every((one) => one.typical.complete && one.limit.complete);
  const little = own.least !== undefined && complete && least_db < own.least.value;
  const worst = Math.max(...all.flatMap((one) => one.limit.loss_db ?? []));
  return [
    {
      application,
      wanted,
      runs: little ? "no" : usually.verdict,
      runs_at_worst: little ? "no" : atWorst.verdict,
      limit_db: own.loss?.value ?? null,
      margin_db: own.loss && complete && Number.isFinite(worst) ? toDecibel(own.loss.value - worst) : null,
      limit_m: own.length?.value ?? null,
      reasons: [
        ...(little
          ? [say`it may lose no more than ${least_db} dB, which is less than the ${own.least?.value} dB it needs`]
          : []),
        ...usually.reasons,
        ...atWorst.reasons.filter((one) => !usually.reasons.includes(one)).map((one) => say`at worst: ${one}`),
      ],
      sources: [own.loss, own.length, own.least].flatMap((limit) =>
        limit ? [`${limit.value} ${limit.unit ?? ""}: ${limitSource(limit)}`] : [],
      ),
    },
  ];
}
