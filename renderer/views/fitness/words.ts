/** Words and shapes of fitness. */
import type { FitnessFigure, RuleName, Verdict } from "../../../core/fitness/answer.ts";
import type { LengthUnit } from "../../../core/model/units.ts";
import { lengthIn } from "../../controls/numbers.ts";
import type { FindingShape } from "../../drawing/findings.tsx";
import { shownNumber } from "../../grid/reading-numbers.ts";

/** What a rule looks at, short enough for the head of a row. */
export const RULE_WORDS: Readonly<Record<RuleName, string>> = {
  outdoors: "made for the place",
  sun: "sun",
  water: "water",
  rodents: "rodents",
  lightning: "lightning",
  unlisted: "metres indoors",
  fire: "fire marking",
  out_of_use: "out of use",
  firestop: "firestop",
  metal: "metal and bonding",
  armour_at_case: "armour at a case",
  buffer: "how strands end",
  coil: "coil",
  bore: "cable and bore",
  fill: "fill of the pipe",
  jam: "jamming",
  tension: "pulling",
  depth: "depth",
  warranty: "warranty",
  pipe_state: "state of the pipe",
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  does_not: "does not fit",
  caution: "wants care",
  cannot_tell: "can't tell",
  fits: "fits",
};

/** The worst first. */
export const VERDICTS = Object.keys(VERDICT_WORDS) as readonly Verdict[];

/** What may hurt a person has its triangle; fill of optical cable alone is advice. What fits has no mark. */
export function shapeOf(rule: RuleName, verdict: Verdict): FindingShape | null {
  if (verdict === "fits") return null;
  if (verdict === "cannot_tell") return "gap";
  if (verdict === "caution") return "warning";
  if (rule === "metal") return "hazard";
  if (rule === "fill") return "advice";
  return rule === "jam" || rule === "armour_at_case" || rule === "out_of_use" || rule === "firestop"
    ? "warning"
    : "error";
}

export const BASIS_WORDS: Readonly<Record<FitnessFigure["basis"], string>> = {
  measured: "measured",
  recorded: "on record",
  typical: "typical",
  limit: "limit",
  derived: "worked out",
  unknown: "not known",
};

const decimals = (value: number): number => (Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 3);

/** "36.4 %", "2700 N"; a length in the unit this person reads; null is said. */
export const figureWords = ({ value, unit }: Pick<FitnessFigure, "value" | "unit">, read: LengthUnit): string =>
  value === null
    ? "not known"
    : unit === "m" && read === "ft"
      ? lengthIn(value, "ft", 1)
      : `${shownNumber(Number(value.toFixed(decimals(value))))}${unit === "ratio" ? "" : `\u2009${unit}`}`;
