/** Readings of instruments, as the instrument or a sheet lists them. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { field, record } from "../blanks.ts";

const CAUTIONS = [
  say`An instrument sends laser light, and so may what is at the far end: cap what you don't measure, and never look into a plug.`,
  say`No instrument pulse into a receiver that is lit: unplug the equipment first.`,
];

/** @param needed columns that must be there, and `others` that may be, by the names programs read */
const table = (example: string, needed: string, others: string) => ({
  as: "text" as const,
  lines: true,
  required: true,
  label: say`the table`,
  help: say`The rows with their heading, with commas or semicolons between. Needed: ${needed}. May be there: ${others}.`,
  example,
});

const SUBJECTS = ["strand", "section", "port", "circuit"] as const;

const shared = {
  wavelength_nm: field("measurement", "wavelength_nm", {
    label: say`wavelength`,
    help: say`In nanometres; a column of the table goes before it.`,
  }),
  direction: field("measurement", "direction"),
  reference_method: field("measurement", "reference_method"),
  cords_included: field("measurement", "cords_included"),
  group_index: field("measurement", "group_index"),
  measured_on: field("measurement", "measured_on", {
    label: say`day`,
    help: say`The day it was measured; a column of the table goes before it.`,
  }),
  measured_by: field("measurement", "measured_by", { label: say`measured by` }),
} as const;

export const readMeter = defineAct("measurement.read", {
  title: say`Take over a meter's readings`,
  sentence: say`Take over a meter's readings at {wavelength_nm} of {measured_on}`,
  blanks: {
    csv: table(
      "of,loss_db\nF-012:25,0.42\nF-012:26,0.44",
      "of, loss_db",
      "far_port, wavelength_nm, direction, reference_method, length_m, measured_on, measured_by, tag",
    ),
    method: {
      as: "choice",
      values: { source_meter: say`light source and meter`, otdr: say`reflectometer` },
      label: say`measured with`,
      help: say`What it was measured with.`,
    },
    ...shared,
  },
  more: [["csv"], ["method", "measured_by"], ["direction", "reference_method", "cords_included", "group_index"]],
  button: ({ added }) => say`Take over ${counted(added, "reading")}`,
  cautions: CAUTIONS,
});

export const readTrace = defineAct("measurement.read_events", {
  title: say`Take over the events of a reflectometer trace`,
  sentence: say`Take over a trace of {of} to {far_port} at {wavelength_nm}`,
  blanks: {
    of: record(SUBJECTS, say`strand or port`, say`The strand, section, port or circuit measured.`, {
      required: true,
      example: "F-012:25",
    }),
    far_port: record("port", say`far port`, say`The port at the far end.`),
    csv: table(
      "kind,distance_m,loss_db,reflectance_db\nconnector,0,0.3,-45\nsplice,412.5,0.06,\nend,801.3,,-14",
      "distance_m",
      "kind, loss_db, reflectance_db",
    ),
    loss_db: field("measurement", "loss_db"),
    length_m: field("measurement", "length_m"),
    ...shared,
  },
  more: [
    ["csv"],
    ["loss_db", "length_m", "group_index"],
    ["measured_on", "measured_by", "direction"],
    ["reference_method", "cords_included"],
  ],
  button: ({ events }) => say`Take over the trace with ${counted(events, "event")}`,
  cautions: CAUTIONS,
});
