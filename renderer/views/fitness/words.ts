/** Words and shapes of fitness. */
import type { FitnessFigure, RuleName, Verdict } from "../../../core/fitness/answer.ts";
import type { LengthUnit } from "../../../core/model/units.ts";
import { say } from "../../../core/words/say.ts";
import { lengthIn } from "../../controls/numbers.ts";
import type { FindingShape } from "../../drawing/findings.tsx";
import { shownNumber } from "../../grid/reading-numbers.ts";

/** What a rule looks at, short enough for the head of a row. */
export const RULE_WORDS: Readonly<Record<RuleName, string>> = {
  outdoors: say`made for the place`,
  sun: say`sun`,
  water: say`water`,
  rodents: say`rodents`,
  lightning: say`lightning`,
  unlisted: say`metres indoors`,
  fire: say`fire marking`,
  out_of_use: say`out of use`,
  firestop: say`firestop`,
  metal: say`metal and bonding`,
  armour_at_case: say`armour at a case`,
  buffer: say`how strands end`,
  coil: say`coil`,
  bore: say`cable and bore`,
  fill: say`fill of the pipe`,
  jam: say`jamming`,
  tension: say`pulling`,
  depth: say`depth`,
  warranty: say`warranty`,
  pipe_state: say`state of the pipe`,
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  does_not: say`does not fit`,
  caution: say`wants care`,
  cannot_tell: say`can't tell`,
  fits: say`fits`,
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
  measured: say`measured`,
  recorded: say`on record`,
  typical: say`typical`,
  limit: say`limit`,
  derived: say`worked out`,
  unknown: say`not known`,
};

const decimals = (value: number): number => (Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 3);

/** "36.4 %", "2700 N"; a length in the unit this person reads; null is said. */
export const figureWords = ({ value, unit }: Pick<FitnessFigure, "value" | "unit">, read: LengthUnit): string =>
  value === null
    ? say`not known`
    : unit === "m" && read === "ft"
      ? lengthIn(value, "ft", 1)
      : `${shownNumber(Number(value.toFixed(decimals(value))))}${unit === "ratio" ? "" : `\u202f${unit}`}`;
