/**
 * `npm run bench`: what the program costs, as ratios within one run on generated plants, and how the cost grows.
 * Options: `--strands 10000,100000` (by default 10 thousand, 100 thousand and a million), `--only trace,feeds`.
 * Exit status 1 when a bound is broken.
 */
import { parseArgs } from "node:util";
import { coiling } from "./coiling.ts";
import { pasting, searching } from "./desk.ts";
import { engineering } from "./engineering.ts";
import { felt } from "./felt.ts";
import { type Ground, groundOf } from "./ground.ts";
import { labelling } from "./labelling.ts";
import { locating } from "./locating.ts";
import type { Line } from "./measure.ts";
import { mending } from "./mending.ts";
import { mendingTogether } from "./mending-together.ts";
import { planning } from "./plan.ts";
import { feeds, memory, report, tableWindow, traceFresh } from "./questions.ts";
import { sheets } from "./sheets.ts";
import { exchange, oneEdit } from "./writing.ts";

const MEASURES: Readonly<Record<string, (ground: Ground) => Promise<Line | Line[]> | Line | Line[]>> = {
  trace: traceFresh,
  feeds,
  report,
  window: tableWindow,
  edit: oneEdit,
  search: searching,
  paste: pasting,
  sheets,
  felt,
  plan: planning,
  exchange,
  engineering,
  labels: labelling,
  locate: locating,
  coils: coiling,
  mend: mending,
  together: mendingTogether,
  memory,
};

const { values } = parseArgs({
  options: { strands: { type: "string", default: "10000,100000,1000000" }, only: { type: "string" } },
});
const sizes = values.strands.split(",").map(Number);
const wanted = values.only?.split(",") ?? Object.keys(MEASURES);
for (const name of wanted) {
  if (!Object.hasOwn(MEASURES, name)) {
    console.error(`There is no measure named ${name}. There are ${Object.keys(MEASURES).join(", ")}.`);
    process.exit(2);
  }
}

const figure = (value: number): string =>
  value < 10 ? value.toFixed(2) : value < 1000 ? value.toFixed(1) : value.toFixed(0);
const lines: Line[] = [];
for (const strands of sizes) {
  const ground = await groundOf(strands);
  console.log(`\n${strands.toLocaleString("en")} strands, made in ${(ground.made_ms / 1000).toFixed(1)} s`);
  for (const name of wanted) {
    const measured = await MEASURES[name]?.(ground);
    for (const line of measured === undefined ? [] : [measured].flat()) {
      lines.push(line);
      const verdict = line.ratio <= line.bound ? "holds" : "OVER ";
      console.log(
        `  ${verdict}  ${figure(line.ratio).padStart(7)} of ${String(line.bound).padStart(4)}  ${line.name.padEnd(40)} ${figure(
          line.ours,
        ).padStart(8)} ${line.unit} against ${figure(line.theirs)} ${line.unit}: ${line.against}`,
      );
    }
  }
  ground.done();
}

console.log(`\nHow it grows: ${lines[0]?.unit ?? ""} by number of strands`);
console.log(`  ${"".padEnd(40)} ${sizes.map((size) => size.toLocaleString("en").padStart(12)).join("")}`);
for (const name of new Set(lines.map((line) => line.name))) {
  const row = sizes.map((size) => {
    const line = lines.find((one) => one.name === name && one.strands === size);
    return (line ? `${figure(line.ours)} ${line.unit}` : "").padStart(12);
  });
  console.log(`  ${name.padEnd(40)} ${row.join("")}`);
}
const over = lines.filter((line) => line.ratio > line.bound);
console.log(over.length === 0 ? "\nEvery bound holds." : `\n${over.length} of ${lines.length} bounds are broken.`);
process.exitCode = over.length === 0 ? 0 : 1;
