/** What stands in each field of a new cable run: said of the input, and as the window's help on the field. */
import { say } from "../words/say.ts";

export const RUN_HELP = {
  "stops.space": say`Where the cable comes through, such as MH-03; empty where nobody knows.`,
  "stops.mark_in": say`Sheath mark at the mouth where it comes in, as printed.`,
  "stops.mark_open_from": say`Sheath mark at the near edge of the opening.`,
  "stops.mark_open_to": say`Sheath mark at the far edge of the opening.`,
  "stops.mark_out": say`Sheath mark at the mouth where it goes out.`,
  "stops.slack": say`Coiled length where no marks say it, such as 15 m or 50 ft.`,
  "stops.coil_diameter": say`Diameter of the coil in millimetres.`,
  "stops.closure": say`The case it enters here, by its address or its number in that place.`,
  "stops.cut": say`Strands cut here, such as 25-36; all others run on.`,
  "stops.way": say`The pipe or way on to the next stop, such as DB-04/2.`,
  "landings.strands": say`Strands in the order in which they land, such as 1-24.`,
  "landings.panel": say`The panel, by its address or its number in that room.`,
  "landings.ports": say`Ports in order, such as 01-12.`,
  "landings.method": say`How they are landed; left open where nobody knows.`,
  "landings.end": say`A is the first stop, B the last.`,
  "splices.at": say`The place of the splices: one of the cable's stops.`,
  "splices.strands": say`Strands of this cable in order, such as 25-36.`,
  "splices.to": say`As many strands in order, such as F-021:1-12.`,
  "splices.tray": say`The splice tray, such as CL-3/T2; empty where nobody knows.`,
  "splices.side": say`Where the cable is cut there: the half towards its first place, or towards its last.`,
  "make.address": say`Its address.`,
  "make.numbers": say`Numbers of its ports or trays, such as 01..24 or T1..T4.`,
  "make.connector": say`The plug that the panel's ports take.`,
  "make.capacity": say`How many splices a tray takes.`,
  tag: say`The cable's number.`,
  name: say`What it is called.`,
  type: say`Its data sheet, by the type's tag.`,
  strands: say`How many strands, where no type says.`,
  per_tube: say`How many lie in each tube, where no type says.`,
  installed_on: say`The day it was pulled in, such as 3 Apr 2026.`,
  run: say`What it is called together with the cables it is spliced to.`,
  reel: say`The reel it came from.`,
  notes: say`Anything else.`,
  printed_on: say`The day the labels were printed; empty while they are still to be.`,
  mark_unit: say`What its marks are printed in.`,
  stops: say`Its places in order, both ends included.`,
  landings: say`Strands landed on panels at its ends.`,
  splices: say`Strands spliced to those of other cables.`,
  make: say`Panels and cases that are to be made, one by one.`,
  labels: say`Labels wherever the plant wants one, with the plant's wording.`,
} as const;

/** By the field's path as problems name it: `stops.2.mark_in`. */
export const runHelp = (at: string): string =>
  (RUN_HELP as Readonly<Record<string, string>>)[at.replace(/\.\d+\./, ".")] ?? "";
