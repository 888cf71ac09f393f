/** What the page of labels asks, from its address and what this person typed and keeps on this machine. */

import type { KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { LabelPrinter } from "../../client/settings.ts";
import { readMany } from "../../controls/many.ts";

export const LABELLED_KINDS: readonly KindName[] = [
  "cable",
  "panel",
  "port",
  "closure",
  "tray",
  "pathway",
  "conduit",
  "space",
  "busbar",
  "firestop",
  "device",
  "module",
  "building",
];

export type Lay = AnswerOf<"label.lay">;
export type LaidOne = Lay["labels"][number];
export type Draft = NonNullable<InputOf<"label.lay">["draft"]>;

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
}

export function printInput({ values, draft, printer, smaller }: Asked): InputOf<"label.print"> {
  const of = readMany(values.of);
  return {
    ...(of.length > 0 ? { of: [...of] } : {}),
    ...(values.at ? { at: values.at } : {}),
    ...(values.sheet ? { sheet: values.sheet } : {}),
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
