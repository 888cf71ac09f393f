/** Remarks of danger on a paper. */
import type { Block } from "./document.ts";

/** All in one frame, each beginning on a line of its own: a paper on which every remark shouts warns of none. */
export const asOneNote = (cautions: readonly string[]): Block[] =>
  cautions.length === 0
    ? []
    : [{ is: "note", sign: "danger", text: cautions.map((caution) => `• ${caution}`).join("\n") }];

/** One stands by itself; several stand in one frame. */
export const asNotes = (cautions: readonly string[]): Block[] =>
  cautions.length > 1 ? asOneNote(cautions) : cautions.map((text) => ({ is: "note", sign: "danger", text }));
