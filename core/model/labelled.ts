/** Which kinds of records get labels. */
import type { KindName } from "./dictionary.ts";

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
