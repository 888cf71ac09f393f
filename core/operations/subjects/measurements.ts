/** Readings as instruments list them. */
import {
  type CsvRow,
  measurementEventsInput,
  measurementReadInput,
  planMeasurementEvents,
  planMeasurementRead,
} from "../../act/measurements.ts";
import { type Delimiter, records } from "../../exchange/csv.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

/**
 * The rows, parted by what parts the heading: instruments set to a language that writes decimals with a comma part cells
 * with semicolons or tabs. A spreadsheet's line that only names the mark, such as `sep=;`, is passed over.
 */
async function rowsOf(csv: string): Promise<CsvRow[]> {
  const named = /^\uFEFF?sep=([,;\t])\r?\n/i.exec(csv);
  const heading = csv.slice(named?.[0].length ?? 0).split("\n", 1)[0] ?? "";
  const delimiter = (named?.[1] as Delimiter | undefined) ?? delimiterOf(heading);
  const rows: CsvRow[] = [];
  async function* whole() {
    yield csv;
  }
  for await (const lot of records(say`The text`, whole(), delimiter)) rows.push(...lot);
  const skipped = named ? rows.slice(1) : rows;
  return skipped.map((row) => ({ ...row, decimalComma: delimiter !== "," }));
}

/** The mark that stands most often in a heading, outside quotes; the comma where none does. */
function delimiterOf(heading: string): Delimiter {
  const bare = heading.replace(/"[^"]*"/g, "");
  const count = (mark: Delimiter) => bare.split(mark).length - 1;
  return ([",", ";", "\t"] as const).reduce((best, mark) => (count(mark) > count(best) ? mark : best));
}

export const measurementRead = defineWrite({
  name: "measurement.read",
  help: say`Takes over readings of a light source and meter from a table as text, one a row: parted by commas, or by semicolons or tabs with decimal commas.`,
  input: measurementReadInput,
  plan: async (context, input) => planMeasurementRead(context, input, await rowsOf(input.csv)),
});

export const measurementReadEvents = defineWrite({
  name: "measurement.read_events",
  help: say`Takes over one reflectometer trace from the list of its events, as a table in text.`,
  input: measurementEventsInput,
  plan: async (context, input) => planMeasurementEvents(context, input, await rowsOf(input.csv)),
});
