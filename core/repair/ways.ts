/** What a cable lies in, leg by leg, and the words that go with it: there is a pipe only where there is one. */
import type { Row } from "../model/dictionary.ts";

export interface LegWay {
  readonly kind: Row<"pathway">["kind"];
  /** It lies in a pipe on record. */
  readonly piped: boolean;
  readonly held: Row<"leg">["held"];
}

export type WayForm = "pipe" | "trench" | "aerial" | "tray" | "riser" | "not_known";

/** What a leg is to a crew. A pipe on record goes before the kind of its pathway, but for what hangs or climbs. */
export function formOf({ kind, piped, held }: LegWay): WayForm {
  if (kind === "aerial" || held === "lashed" || held === "self_supporting") return "aerial";
  if (kind === "riser" || kind === "sleeve") return "riser";
  if (piped || kind === "duct_bank") return "pipe";
  if (kind === "direct_buried" || held === "buried") return "trench";
  if (kind === "tunnel" || kind === "cable_tray" || held === "laid") return "tray";
  return "not_known";
}

/** What is waited for before cable passes the break, in words that end a sentence. */
export const ONCE: Readonly<Record<WayForm, string>> = {
  pipe: "once the pipe is mended",
  trench: "once the trench is open and clear",
  aerial: "once the span is sound and its messenger carries",
  tray: "once the tray is clear",
  riser: "once the floor sleeve is clear",
  not_known: "once its way is clear",
};

/** How a piece of cable comes into its way. */
export const LAID: Readonly<Record<WayForm, string>> = {
  pipe: "pulled through the pipe",
  trench: "laid in the trench and covered",
  aerial: "hung on the span, lashed or self-supporting as the old one was",
  tray: "laid on the tray",
  riser: "drawn through the floor sleeves and clamped floor by floor",
  not_known: "laid as its way asks",
};

export const NO_WAY: LegWay = { kind: null, piped: false, held: null };
