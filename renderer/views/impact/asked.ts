/** What can be lost. */
import type { KindName } from "../../../core/model/dictionary.ts";

/** Kinds that can be lost whole; of a cable also a stretch, `F-012 1200..1450`. */
export const LOSABLE: readonly KindName[] = ["building", "space", "pathway", "conduit", "cable"];
