/** Readings of instruments, as the instrument or a sheet lists them. */
import { defineAct } from "../act.ts";
import { counted, field, record } from "../blanks.ts";

const CAUTIONS = [
  "An instrument sends laser light, and so may what is at the far end: cap what you don't measure, and never look into a plug.",
  "No instrument pulse into a receiver that is lit: unplug the equipment first.",
];

const table = (example: string, columns: string) => ({
  as: "text" as const,
  lines: true,
  required: true,
  label: "the table",
  help: `The rows with their heading, with commas or semicolons between. ${columns}`,
  example,
});

const SUBJECTS = ["strand", "section", "port", "circuit"] as const;

const shared = {
  wavelength_nm: field("measurement", "wavelength_nm", {
    label: "wavelength",
    help: "In nanometres; a column of the table goes before it.",
  }),
  direction: field("measurement", "direction"),
  reference_method: field("measurement", "reference_method"),
  cords_included: field("measurement", "cords_included"),
  group_index: field("measurement", "group_index"),
  measured_on: field("measurement", "measured_on", {
    label: "day",
    help: "The day it was measured; a column of the table goes before it.",
  }),
  measured_by: field("measurement", "measured_by", { label: "measured by" }),
} as const;

export const readMeter = defineAct("measurement.read", {
  title: "Take over a meter's readings",
  sentence: "Take over a meter's readings at {wavelength_nm} of {measured_on}",
  blanks: {
    csv: table(
      "of,loss_db\nF-012:25,0.42\nF-012:26,0.44",
      "Needed: of, loss_db. May be there: far_port, wavelength_nm, direction, reference_method, length_m, measured_on, measured_by, tag.",
    ),
    method: {
      as: "choice",
      values: { source_meter: "light source and meter", otdr: "reflectometer" },
      label: "measured with",
      help: "What it was measured with.",
    },
    ...shared,
  },
  more: [["csv"], ["method", "measured_by"], ["direction", "reference_method", "cords_included", "group_index"]],
  button: ({ added }) => `Take over ${counted(added, "reading")}`,
  cautions: CAUTIONS,
});

export const readTrace = defineAct("measurement.read_events", {
  title: "Take over the events of a reflectometer trace",
  sentence: "Take over a trace of {of} to {far_port} at {wavelength_nm}",
  blanks: {
    of: record(SUBJECTS, "strand or port", "The strand, section, port or circuit measured.", {
      required: true,
      example: "F-012:25",
    }),
    far_port: record("port", "far port", "The port at the far end."),
    csv: table(
      "kind,distance_m,loss_db,reflectance_db\nconnector,0,0.3,-45\nsplice,412.5,0.06,\nend,801.3,,-14",
      "Needed: distance_m. May be there: kind, loss_db, reflectance_db.",
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
  button: ({ events }) => `Take over the trace with ${counted(events, "event")}`,
  cautions: CAUTIONS,
});
