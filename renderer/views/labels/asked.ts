/** What the page of labels asks, from its address and what this person typed and keeps on this machine. */

import { isKindName, KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { PaperSize } from "../../../core/paper/document.ts";
import { say } from "../../../core/words/say.ts";
import type { LabelPrinter } from "../../client/settings.ts";
import { manyWords, readMany } from "../../controls/many.ts";

export type Lay = AnswerOf<"label.lay">;
export type LaidOne = Lay["labels"][number];
export type Draft = NonNullable<InputOf<"label.lay">["draft"]>;

/** What a table shows, in place of things by name. */
type Table = NonNullable<InputOf<"label.lay">["table"]>;

export const labelsOfTable = (table: Table): string => JSON.stringify(table);

/** Null for anything but what `labelsOfTable` wrote; the program reads its parts itself. */
export function tableOf(of: string | undefined): Table | null {
  if (!of?.startsWith("{")) return null;
  try {
    const table: unknown = JSON.parse(of);
    return typeof table === "object" && table !== null && "kind" in table && isKindName(String(table.kind))
      ? (table as Table)
      : null;
  } catch {
    return null;
  }
}

/** What stands in the sentence. */
export function wordsOfWhat(of: string): string {
  const table = tableOf(of);
  return table ? say`the ${KINDS[table.kind as KindName].many} that a table shows` : manyWords(of);
}

/** The number of a text of the address; null for text that is none. */
export function startOf(text: string | undefined): number | null {
  if (!text) return 1;
  return /^\d{1,5}$/.test(text.trim()) && Number(text) > 0 ? Number(text) : null;
}

export interface Asked {
  readonly values: Readonly<Record<string, string>>;
  readonly draft: Draft | null;
  readonly printer: LabelPrinter;
  readonly smaller: boolean;
  /** What this person's printer takes: it has a usual sheet, where none is named. */
  readonly paper: PaperSize;
}

export function printInput({ values, draft, printer, smaller, paper }: Asked): InputOf<"label.print"> {
  const table = tableOf(values.of);
  const of = table ? [] : readMany(values.of);
  return {
    ...(table ? { table } : {}),
    ...(of.length > 0 ? { of: [...of] } : {}),
    ...(values.at ? { at: values.at } : {}),
    ...(values.sheet ? { sheet: values.sheet } : { paper }),
    start: startOf(values.start) ?? 1,
    ...(smaller ? { smaller: true } : {}),
    ...(draft ? { draft } : {}),
    printer: { ...printer },
  };
}

/** One label told from another while the list changes. */
export const keyOf = ({ kind, id, space_id }: Pick<LaidOne, "kind" | "id" | "space_id">): string =>
  `${kind} ${id} ${space_id ?? ""}`;

/** At a tenth of a millimetre, the finest a rule on paper shows. */
export const tenths = (mm: number): string => (Math.round(mm * 10) / 10).toFixed(1);
