/** A tour of three minutes on the demo campus: each step says what to press, and sees that it was done. */

import { say } from "../../core/words/say.ts";
import type { Changed } from "../client/client.ts";
import { addressOf, type Route } from "./router.ts";

/** The plant whose tags the steps name. */
export const TOURED_PLANT = "Vennholm Marine College";

export interface Seen {
  readonly route: Route;
  /** Changes written since the step began. */
  readonly changes: readonly Changed[];
  /** Where the walk stood when the step began. */
  readonly began: Route;
}

export interface TourStep {
  readonly title: string;
  /** What to press, with keys between asterisks. */
  readonly words: string;
  readonly isDone: (seen: Seen) => boolean;
  /** Where it leads, for who would rather be shown. */
  readonly address: string | null;
}

const at = (path: string, of: string) => ({
  isDone: ({ route }: Seen): boolean => route.path === path && (route.values.of ?? "").startsWith(of),
  address: addressOf(path, { of }),
});

const PORT = "LMP/ER/A:01";
const isUndo = ({ verb }: Changed): boolean => verb === "undo";

export const TOUR_STEPS: readonly TourStep[] = [
  {
    title: say`Where does a strand go?`,
    words: say`Press *Ctrl K*, type *${PORT}*, a port in the Lamp House, and press *Enter*.`,
    ...at("find", PORT),
  },
  {
    title: say`Walk along the glass`,
    words: say`Press *F6* until a row of the line is marked, then *↓*: drawing and leaf follow, place by place.`,
    isDone: ({ route, began }) =>
      route.path === "find" && route.values.at !== undefined && route.values.at !== began.values.at,
    address: null,
  },
  {
    title: say`What feeds a building?`,
    words: say`Press *Ctrl K*, type *BKR*, the Book Room, and choose *What feeds it?* with *↓* and *Enter*.`,
    ...at("feeds", "BKR"),
  },
  {
    title: say`Somebody cut a cable`,
    words: say`Press *Ctrl K*, type *F-006* and choose *How is it mended where it is cut?*: every way is told, the least first.`,
    ...at("mend", "F-006"),
  },
  {
    title: say`Enter something`,
    words: say`Press *Alt 2* and choose the first question, the tables, with *Tab* and *Enter*. Go to any cell of a name with *F6* and the arrows, type something and press *Enter*: it is saved.`,
    isDone: ({ changes }) => changes.some((change) => change.summary !== null && !isUndo(change)),
    address: addressOf("enter", { kind: "cable" }),
  },
  {
    title: say`Take it back`,
    words: say`Press *Ctrl Z*: whatever was entered can be taken back, and stands in the history.`,
    isDone: ({ changes }) => changes.some(isUndo),
    address: null,
  },
  {
    title: say`Does it all agree?`,
    words: say`Press *Alt 3* and choose the first question with *Tab* and *Enter*: each finding names its records, reason and source.`,
    isDone: ({ route }) => route.path === "check",
    address: addressOf("check"),
  },
];
