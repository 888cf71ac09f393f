/** What cures labels that don't fit on a sheet: smaller type, or a sheet with more room. */
import type { Reader } from "../store/handle.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type LabelContent, type LaidLabel, type LayOptions, layLabel } from "./lay.ts";
import { type LabelSheet, readSheets, sheetFaults } from "./sheets.ts";

export interface Cures {
  /** How many of those that don't fit do so in smaller type. */
  readonly smaller: number;
  /** Sheets and tapes on which all of them fit in the usual type; those of the same form first. */
  readonly sheets: readonly string[];
}

export const NO_CURES: Cures = { smaller: 0, sheets: [] };

/** So many sheets are named. */
const NAMED = 3;
/** So many labels are tried on other sheets; where more don't fit, others are of the same making. */
const TRIED = 200;

export interface Unfit {
  readonly content: LabelContent;
  readonly laid: LaidLabel;
}

export async function curesOf(
  reader: Reader,
  unfit: readonly Unfit[],
  sheet: LabelSheet,
  options: LayOptions,
): Promise<Cures> {
  if (unfit.length === 0) return NO_CURES;
  const smaller = options.smaller
    ? 0
    : unfit.filter(({ laid }) => laid.over.every(({ fits_smaller }) => fits_smaller)).length;
  const tried = unfit.slice(0, TRIED);
  const usual = { ...options, smaller: false };
  const others = (await readSheets(reader)).filter((one) => one.name !== sheet.name && sheetFaults(one).length === 0);
  const sheets = [true, false]
    .flatMap((same) => others.filter(({ form }) => (form === sheet.form) === same))
    .filter((one) => tried.every(({ content }) => layLabel(content, one, usual).over.length === 0))
    .slice(0, NAMED)
    .map(({ name }) => name);
  return { smaller, sheets };
}

/** The cures in words, after the sentence that says how many don't fit; empty where there is none. */
export const curesWords = ({ smaller, sheets }: Cures): string =>
  [
    smaller === 0 ? "" : plural(smaller, " {0} of them fits in smaller type.", " {0} of them fit in smaller type."),
    sheets.length === 0 ? "" : say` In the usual type they would fit on ${sheets.join("; ")}.`,
  ].join("");
