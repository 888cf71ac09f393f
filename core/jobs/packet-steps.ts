/** The steps of a packet: one a row; joints that follow one another and stand on splice sheets take one row together. */
import { shownDay } from "../model/wording.ts";
import type { Block, Cell } from "../paper/document.ts";
import { say } from "../words/say.ts";
import type { Packet } from "./packet.ts";
import type { JobStep } from "./stored.ts";

/** From so many joints on the list sends to their sheet: fewer stand in it each. */
const MANY = 3;

export function stepBlocks({ steps, sheets }: Packet): Block[] {
  const sheetOf = new Map(sheets.flatMap((sheet) => sheet.rows.map(({ step }) => [step, sheet.case] as const)));
  return [
    { is: "heading", level: 1, text: say`Steps` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: say`Step`, numeric: true, weight: 0.7 },
        { head: say`Done`, weight: 0.6 },
        { head: say`Where`, weight: 1.1 },
        { head: say`What`, weight: 7.2 },
        { head: say`By, at`, weight: 1.5 },
      ],
      rows: runsOf(steps, sheetOf).map((run): Cell[] => {
        const [first] = run as [JobStep];
        return run.length < MANY ? stepRow(first) : runRow(run, sheetOf.get(first.ordinal) ?? "");
      }),
    },
  ];
}

const stepRow = ({ ordinal, state, place, words, input, done_on, done_by }: JobStep): Cell[] => [
  String(ordinal),
  { tick: state === "done" },
  place?.tag ?? "",
  state === "skipped" ? say`Left out: ${words}` : (linesOf(input) ?? words),
  done_on ? `${shownDay(done_on)}${done_by ? `, ${done_by}` : ""}` : { write: true },
];

/** A list to fetch is read line by line. */
const linesOf = (input: unknown): readonly string[] | null =>
  (input as { readonly at_hand?: readonly string[] } | null)?.at_hand ?? null;

const runRow = (run: readonly JobStep[], sheet: string): Cell[] => [
  `${run[0]?.ordinal}-${run.at(-1)?.ordinal}`,
  { tick: false },
  run[0]?.place?.tag ?? "",
  say`${run.length} steps: splice by the splice sheet of ${sheet} in this packet, row by row in its order, the most urgent first; tick each there and write down its loss`,
  { write: true },
];

/** Open joints on the sheet of one case that follow one another, from `MANY` on; every other step by itself. */
function runsOf(steps: readonly JobStep[], sheetOf: ReadonlyMap<number, string>): JobStep[][] {
  const runs: JobStep[][] = [];
  for (const step of steps) {
    const last = runs.at(-1);
    const sheet = step.state === "open" ? sheetOf.get(step.ordinal) : undefined;
    const before = last?.[0];
    if (last && before?.state === "open" && sheet !== undefined && sheetOf.get(before.ordinal) === sheet)
      last.push(step);
    else runs.push([step]);
  }
  return runs.flatMap((run) => (run.length < MANY ? run.map((step) => [step]) : [run]));
}
