/** Readings as instruments list them. */
import {
  type CsvRow,
  measurementEventsInput,
  measurementReadInput,
  planMeasurementEvents,
  planMeasurementRead,
} from "../../act/measurements.ts";
import { records } from "../../exchange/csv.ts";
import { defineWrite } from "../define.ts";

async function rowsOf(csv: string): Promise<CsvRow[]> {
  const rows: CsvRow[] = [];
  async function* whole() {
    yield csv;
  }
  for await (const lot of records("The text", whole())) rows.push(...lot);
  return rows;
}

export const measurementRead = defineWrite({
  name: "measurement.read",
  help: "Takes over readings of a light source and meter from comma-separated text, one a row.",
  input: measurementReadInput,
  plan: async (context, input) => planMeasurementRead(context, input, await rowsOf(input.csv)),
});

export const measurementReadEvents = defineWrite({
  name: "measurement.read_events",
  help: "Takes over one reflectometer trace from the list of its events, as comma-separated text.",
  input: measurementEventsInput,
  plan: async (context, input) => planMeasurementEvents(context, input, await rowsOf(input.csv)),
});
