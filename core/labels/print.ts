/** Labels laid out on a sheet: what fits where, what doesn't and why; and the pages to be printed. */

import type { PaperSize } from "../paper/document.ts";
import type { LabelPaper } from "../paper/label-paper.ts";
import type { Lettering } from "../ports.ts";
import { type Problem, refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type Cures, curesOf, curesWords, type Unfit } from "./cures.ts";
import type { LabelToMake } from "./labels.ts";
import { type LabelStyle, type LaidLabel, labelStyle, layLabel, type Overflow } from "./lay.ts";
import { outlinePage, type Printer, pagesOf, perPage, TRUE_PRINTER } from "./pages.ts";
import { type LabelSheet, sheetNamed } from "./sheets.ts";

export interface PrintAsked {
  readonly sheet?: string | undefined;
  /** Which sheet is the usual one, where none is named. */
  readonly paper?: PaperSize | undefined;
  /** The first place that is still free, from 1. */
  readonly start?: number | undefined;
  readonly smaller?: boolean | undefined;
  readonly printer?: Partial<{ readonly [P in keyof Printer]: Printer[P] | undefined }> | undefined;
}

export interface PrintContext {
  readonly reader: Reader;
  readonly today: string;
  lettering(): Promise<Lettering>;
  progress(what: string, done: number, total: number | null): Promise<void>;
}

/** A label with its layout; without a place where it can't be printed. */
export interface PlacedLabel {
  readonly label: LabelToMake;
  readonly laid: LaidLabel | null;
  /** From 0, through all pages; null for one that doesn't fit or lacks a blank. */
  readonly place: number | null;
}

export interface Laid {
  readonly sheet: LabelSheet;
  readonly start: number;
  readonly printer: Printer;
  readonly style: LabelStyle;
  readonly labels: readonly PlacedLabel[];
  /** Of those that don't fit. */
  readonly cures: Cures;
}

/** Labels are laid out so many at a time before other work breathes. */
const BREATH = 100;

export async function layOut(context: PrintContext, labels: readonly LabelToMake[], asked: PrintAsked): Promise<Laid> {
  const sheet = await sheetNamed(context.reader, asked.sheet, asked.paper);
  const start = asked.start ?? 1;
  if (start > perPage(sheet)) {
    const problem = { field: "start", record: sheet.name };
    if (sheet.form === "tape")
      refuse("bad_input", say`${sheet.name} is a tape: it begins with label 1.`, [
        { ...problem, reason: say`is ${start}: a tape has no places to leave free` },
      ]);
    refuse("bad_input", say`A sheet of ${sheet.name} has no label ${start}.`, [
      { ...problem, reason: say`is ${start}: the sheet has ${counted(perPage(sheet), "label")}` },
    ]);
  }
  const given = Object.entries(asked.printer ?? {}).filter(([, value]) => value !== undefined);
  const printer: Printer = { ...TRUE_PRINTER, ...Object.fromEntries(given) };
  const style = labelStyle(await limitsInUse(context.reader));
  const lettering = await context.lettering();
  const options = { style, lettering, smaller: asked.smaller ?? false, dots_per_inch: printer.dots_per_inch };
  const placed: PlacedLabel[] = [];
  const unfit: Unfit[] = [];
  let place = start - 1;
  for (const [index, label] of labels.entries()) {
    if (index % BREATH === 0) await context.progress(say`Laying out labels`, index, labels.length);
    const { lines, code, says } = label;
    const content = lines && { lines, code, says };
    const laid = content && layLabel(content, sheet, options);
    const fits = laid !== null && laid.over.length === 0;
    if (laid && !fits) unfit.push({ content, laid });
    placed.push({ label, laid, place: fits ? place++ : null });
  }
  await context.progress(say`Laying out labels`, labels.length, labels.length);
  const cures = await curesOf(context.reader, unfit, sheet, options);
  return { sheet, start, printer, style, labels: placed, cures };
}

/** "line 2 is 6.5 mm too long: …". */
export function overflowWords({ what, line, text, by_mm }: Overflow): string {
  if (what === "line") return say`line ${line} is ${by_mm} mm too long: ${text}`;
  return what === "code" ? say`its code needs ${by_mm} mm more` : say`its lines need ${by_mm} mm more height`;
}

const nameOf = ({ record, place }: LabelToMake): string =>
  place === null || place === record ? record : say`${record} at ${place}`;

/** Why labels have no place, one line each. */
export const unplaced = (labels: readonly PlacedLabel[]): Problem[] =>
  labels.flatMap(({ label, laid, place }): Problem[] =>
    place !== null
      ? []
      : laid === null
        ? [
            {
              record: nameOf(label),
              field: "text",
              reason: say`lacks ${label.lacks.join(", ")}, which its wording asks for and the record doesn't know`,
            },
          ]
        : laid.over.map((over) => ({ record: nameOf(label), field: "sheet", reason: overflowWords(over) })),
  );

/** The most problems that a refusal lists. */
const SHOWN = 100;

/**
 * Pages of labels. What can't be printed is refused, each with its reason, unless it is to be left out.
 * A tape has a page for each label.
 */
export function labelPaper(laid: Laid, title: string, made_on: string, leaveOut: boolean): LabelPaper {
  const faults = unplaced(laid.labels);
  const without = laid.labels.filter(({ place }) => place === null).length;
  const drawn = laid.labels.flatMap(({ laid: label, place }) => (label && place !== null ? [{ label, place }] : []));
  // Where nothing would be left to print, why not is told as well.
  if (faults.length > 0 && (!leaveOut || drawn.length === 0)) {
    refuse(
      "not_possible",
      `${plural(
        without,
        "1 label doesn't fit on {1}, or can't be worded.",
        "{0} labels don't fit on {1}, or can't be worded.",
        laid.sheet.name,
      )}${curesWords(laid.cures)}`,
      faults.slice(0, SHOWN),
      { cures: laid.cures },
    );
  }
  if (drawn.length === 0)
    refuse("not_possible", say`There is no label to print.`, [
      { field: "of", reason: say`means no label that can be printed` },
    ]);
  return {
    paper: "labels",
    title,
    made_on,
    pages: pagesOf(laid.sheet, drawn, laid.printer),
    labels: drawn.length,
    missing: [...new Set(drawn.flatMap(({ label }) => label.missing))],
    left_out: {
      labels: without,
      why: faults.slice(0, SHOWN).map(({ record = "", reason }) => ({ record, reason })),
    },
  };
}

export async function outlinePaper(context: PrintContext, asked: PrintAsked): Promise<LabelPaper> {
  const { sheet, printer } = await layOut(context, [], asked);
  return {
    paper: "labels",
    title: say`Test page of ${sheet.name}`,
    made_on: context.today,
    pages: [outlinePage(sheet, printer)],
    labels: 0,
    missing: [],
    left_out: { labels: 0, why: [] },
  };
}
