/** Measurement results: a reading of a light source and meter, or of a reflectometer, a row. */
import { written } from "../../exchange/csv.ts";
import { KINDS } from "../../model/dictionary.ts";
import { say } from "../../words/say.ts";
import type { Shape } from "../shape.ts";
import { strandText } from "./strand-text.ts";

const METHODS = { source_meter: say`light source and meter`, otdr: say`reflectometer` } as const;

export const measurements: Shape = {
  name: "measurements",
  title: say`measurement results`,
  help: say`A reading a row: what was measured, at which wavelength, its loss or length.`,
  columns: [
    {
      ...{ name: "of", heading: "of", label: say`of`, help: say`The strand, port or circuit measured.`, needed: true },
      also: ["strand", "fiber", "fibre", "link", "circuit", "port", "subject"],
    },
    {
      name: "cable",
      heading: "cable",
      label: say`cable`,
      help: say`Where the strand's cell doesn't name it.`,
      also: ["cable no", "cable number"],
    },
    {
      name: "far_port",
      heading: "far port",
      label: say`far port`,
      help: say`The port at the far end.`,
      also: ["far end", "to port"],
    },
    {
      name: "wavelength_nm",
      heading: "wavelength",
      label: say`wavelength`,
      help: say`In nanometres.`,
      also: ["wavelength nm", "nm", "lambda"],
    },
    {
      name: "loss_db",
      heading: "loss",
      label: say`loss`,
      help: say`In decibels.`,
      needed: true,
      also: ["loss db", "db", "attenuation", "result"],
    },
    {
      name: "length_m",
      heading: "length",
      label: say`length`,
      help: say`The length measured.`,
      unit: "length",
      also: ["distance"],
    },
    {
      name: "direction",
      heading: "direction",
      label: say`direction`,
      help: say`A to B, B to A or both.`,
      also: ["dir"],
    },
    {
      name: "method",
      heading: "method",
      label: say`method`,
      help: say`Light source and meter, or reflectometer.`,
      also: ["instrument", "test"],
    },
    {
      name: "measured_on",
      heading: "measured on",
      label: say`measured on`,
      help: say`The day.`,
      also: ["date", "test date", "tested on"],
    },
    {
      name: "measured_by",
      heading: "measured by",
      label: say`measured by`,
      help: say`Who measured.`,
      also: ["by", "operator", "technician", "tester"],
    },
  ],
  claims: () => null,
  read: async (_, cells) => {
    const of = strandText(cells, "cable", "of");
    const loss = cells.number("loss_db");
    if (loss === undefined && cells.text("loss_db") === undefined) cells.problem("loss_db", say`is empty`);
    const values: Record<string, string | number | undefined> = {
      of,
      ...{ far_port: cells.text("far_port"), wavelength_nm: cells.whole("wavelength_nm"), loss_db: loss },
      ...{ length_m: cells.length_m("length_m"), measured_on: cells.day("measured_on") },
      direction: cells.choice("direction", KINDS.measurement.fields.direction.values),
      measured_by: cells.text("measured_by"),
    };
    const known = Object.entries(values).filter(([, value]) => value !== undefined);
    const csv = written([known.map(([name]) => name), known.map(([, value]) => String(value))]);
    const method = cells.choice("method", METHODS);
    return {
      words: say`Take over ${loss ?? "?"} dB of ${of}`,
      acts: [{ name: "measurement.read", input: { csv, ...(method === undefined ? {} : { method }) } }],
    };
  },
};
