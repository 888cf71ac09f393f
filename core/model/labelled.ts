/** Which kinds of records get labels, and when a label counts as made. */
import type { KindName, Row } from "./dictionary.ts";

/** Kinds that get labels. */
export const LABELLED = [
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
] as const satisfies readonly KindName[];

/** What labels may be asked of: the above, and all that is in a building. */
export const LABELS_OF: readonly KindName[] = [...LABELLED, "building"];

/** A label that somebody printed or saw; another one's text is only written down, to be printed one day. */
export const wasMade = ({
  state,
  text_read,
  printed_on,
  basis,
}: Pick<Row<"label">, "state" | "text_read" | "printed_on" | "basis">): boolean =>
  printed_on !== null || state !== null || text_read !== null || basis === "seen";
