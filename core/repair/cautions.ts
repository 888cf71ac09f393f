/** Cautions of a mend by what the cable lies in where it is cut. */
import { type CautionId, cautionsSaid } from "../standards/cautions.ts";
import { formOf, type LegWay, type WayForm } from "./ways.ts";

const ALWAYS: readonly CautionId[] = ["identify", "lit", "dark", "pulse", "shards"];

const BY_FORM: Readonly<Record<WayForm, readonly CautionId[]>> = {
  pipe: ["hole", "traffic", "digging", "voltage", "asbestos"],
  trench: ["hole", "traffic", "digging", "voltage", "asbestos"],
  aerial: ["climbing", "span", "hole", "traffic", "voltage"],
  tray: ["climbing", "firestop", "voltage"],
  riser: ["floors", "firestop", "voltage"],
  ground: ["ground", "hole", "traffic", "voltage"],
  not_known: ["hole", "traffic", "digging", "voltage", "asbestos"],
};

export const cautionsOf = (ways: readonly LegWay[]): string[] =>
  cautionsSaid([...ALWAYS, ...ways.flatMap((way) => BY_FORM[formOf(way)])]);
