/** What a cable lies in, leg by leg, and the words that go with it: there is a pipe only where there is one. */
import type { Row } from "../model/dictionary.ts";
import { say } from "../words/say.ts";

export interface LegWay {
  readonly kind: Row<"pathway">["kind"];
  /** It lies in a pipe on record. */
  readonly piped: boolean;
  readonly held: Row<"leg">["held"];
}

export type WayForm = "pipe" | "trench" | "aerial" | "tray" | "riser" | "ground" | "not_known";

/** What a leg is to a crew. A pipe on record goes before the kind of its pathway, but for what hangs or climbs. */
export function formOf({ kind, piped, held }: LegWay): WayForm {
  if (kind === "aerial" || held === "lashed" || held === "self_supporting") return "aerial";
  if (kind === "riser" || kind === "sleeve") return "riser";
  if (held === "on_ground" && !piped) return "ground";
  if (piped || kind === "duct_bank") return "pipe";
  if (kind === "direct_buried" || held === "buried") return "trench";
  if (kind === "tunnel" || kind === "cable_tray" || held === "laid") return "tray";
  return "not_known";
}

/** What is waited for before cable passes the break, in words that end a sentence. */
export const ONCE: Readonly<Record<WayForm, string>> = {
  pipe: say`once the pipe is mended`,
  trench: say`once the trench is open and clear`,
  aerial: say`once the span is sound and its messenger carries`,
  tray: say`once the tray is clear`,
  riser: say`once the floor sleeve is clear`,
  ground: say`once the ground it lies on is clear`,
  not_known: say`once its way is clear`,
};

/** The same, as the thing that is waited for. */
export const WAITS_FOR: Readonly<Record<WayForm, string>> = {
  pipe: say`the pipe to be mended`,
  trench: say`the trench to be open and clear`,
  aerial: say`the span to be sound and its messenger to carry`,
  tray: say`the tray to be clear`,
  riser: say`the floor sleeve to be clear`,
  ground: say`the ground it lies on to be clear`,
  not_known: say`the way to be clear`,
};

export const NO_WAY: LegWay = { kind: null, piped: false, held: null };

/** Where no hole can be dug at a cut. */
export const NO_HOLE: Partial<Readonly<Record<WayForm, string>>> = {
  aerial: say`it hangs on a span there, and no hole can be dug`,
  tray: say`it lies on a tray there, and no hole can be dug`,
  riser: say`it climbs in a riser there, and no hole can be dug`,
  ground: say`it lies on the ground there: no hole is dug for it, and a case in the open is not planned`,
};

/** What is looked at before a whole new cable is laid, in the order in which it is said. */
const LOOK: Readonly<Record<WayForm, string>> = {
  pipe: say`prove the pipes`,
  trench: say`see where it is buried and beside what`,
  aerial: say`look at the poles and the messenger`,
  tray: say`see that the trays have room and bear it`,
  riser: say`see that the floor sleeves are free`,
  ground: say`see where on the ground it can lie, out of the way of people and vehicles`,
  not_known: say`find out what it lies in where that is not on record`,
};

/** The same for all legs, each form once. */
export function lookAt(ways: readonly LegWay[]): string[] {
  const forms = new Set(ways.map(formOf));
  return (Object.keys(LOOK) as WayForm[]).flatMap((form) => (forms.has(form) ? [LOOK[form]] : []));
}
