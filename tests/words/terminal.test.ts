/**
 * The command line and the papers go through the catalogue: on the demo campus each says what it says in the language nobody
 * speaks, and is searched for words outside of the brackets. Papers are read back from their PDF.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { SWITCHES } from "../../core/check/policies.ts";
import { RULES } from "../../core/check/rules.ts";
import { OPERATIONS } from "../../core/operations/list.ts";
import { PUBLISHED } from "../../core/standards/limits/published.ts";
import { optionsOf } from "../../host/cli/command.ts";
import { COMMANDS } from "../../host/cli/commands.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { newSample } from "../support/made.ts";
import { newFolder } from "../support/plant.ts";
import { isMissed, outsideOf, type PlantTexts, textsOf } from "./missed.ts";
import { nobodys, spokenIn } from "./spoken.ts";
import type { Came, Task } from "./spoken-child.ts";

/** Command lines on the demo campus; what they write stands in their own output. */
const LINES: readonly string[] = [
  "status FILE",
  "find FILE F-006",
  "trace FILE F-006:1",
  "trace FILE LMP/ER/A:01",
  "feeds FILE BKR",
  "loss FILE K-001",
  "edition FILE",
  "locate FILE K-001 300 --index 1.4682",
  "mend FILE F-006 --after MH-04",
  "coils FILE",
  "job FILE",
  "job FILE J-5",
  "breakout FILE F-006 MH-04 --strands 4 --side z",
  "fitness FILE F-006",
  "plan FILE",
  "impact FILE F-006",
  "impact FILE --ways-in",
  "freepair FILE BKR GLS",
  "check FILE",
  "check FILE --format html",
  "labels FILE --of MH-04",
  "labels FILE --of F-006",
  "list FILE cables",
  "show FILE F-006",
  "history FILE 12",
  "compare FILE 1 3",
  "trace FILE F-999:1",
  "trace FILE",
  "mend FILE F-006 --after NOWHERE",
];

const PAPERS: Readonly<Record<string, string>> = {
  trace: "trace FILE F-006:1 --out OUT",
  feeds: "feeds FILE BKR --out OUT",
  job: "job FILE J-5 --out OUT",
  holecard: "holecard FILE MH-04 --out OUT",
  face: "face FILE LMP/ER/A --out OUT",
  cablesheet: "cablesheet FILE F-006 --out OUT",
  plan: "plan FILE F-006 --out OUT",
  splices: "splicesheet FILE MH-04/CL-1 --out OUT",
  report: "check FILE --out OUT",
};

let came: readonly Came[];
let texts: PlantTexts;
const papers = Object.entries(PAPERS);
let folder: string;
let plantPath: string;

beforeAll(async () => {
  const plant = await newSample();
  await plant.close();
  folder = newFolder();
  plantPath = plant.path;
  texts = await textsOf(plant.path);
  const lineOf = (line: string, out = ""): Task => ({
    line: line.split(" ").map((word) => (word === "FILE" ? plant.path : word === "OUT" ? out : word)),
  });
  came = await spokenIn(nobodys(), [
    ...LINES.map((line) => lineOf(line)),
    ...papers.map(([name, line]) => lineOf(line, join(folder, `${name}.pdf`))),
  ]);
});

const said = (one: Came | undefined): { out: string; notes: string; code: number } => {
  if (!one || !("out" in one)) throw new Error("it was no command line");
  return one;
};
/** What whoever works at a terminal types, and whatever else is named the same in every language. */
const CODES = new Set<string>([
  ...COMMANDS.flatMap((command) => [command.name, ...Object.keys(optionsOf(command)).map((name) => `--${name}`)]),
  ...OPERATIONS.flatMap(({ name, effect }) => [name, effect]),
  ...RULES.map(({ name }) => name),
  // The plant's policies by their tags; a fire marking as a sheath has it.
  ...PUBLISHED.map(({ tag }) => tag),
  ...Object.values(SWITCHES),
  "general",
]);
/** Sources are told as they are written beside rules and limits. */
const SOURCES = [...RULES, ...PUBLISHED].map(({ source }) => source).sort((a, b) => b.length - a.length);
/** What labels say, which is the same whoever prints them. Names of records without a tag of their own, what an input is called, and units, which are named as the colour code has them. */
const NAMES =
  /(\d+ strands)?, G\.\d+\.\w+( \/ \S+ to \S+)?( \/)?|\d[\d, -]* to \S+;?|\/ Emergency gate 1|\d+ [µμ]m|(splice|leg|join|termination) \S+ to \S+( in \S+)?|\S+ on \S+:\S+|Tube \d+|\S+ from \S+ to \S+|label on \S+ at \S+|(?<=^|\s)(what|after) (?=\s|$)/g;

/** A report to be kept is a page of its own: what is read of it stands between its marks. */
const withoutMarks = (text: string): string =>
  text.startsWith("<!doctype")
    ? text.replace(/<style>[\s\S]*?<\/style>|<[^>]+>/g, "\n").replace(/&(amp|lt|gt|quot|#39);/g, " ")
    : text;

function missedIn(text: string): string[] {
  const own = SOURCES.reduce((left, known) => left.replaceAll(known, "  "), outsideOf(withoutMarks(text)));
  const typed = own.replace(/\S+/g, (word) => (CODES.has(word.replace(/[(),:]/g, "")) ? "" : word));
  // Names and summaries in the plant stand within lines of the program's.
  const rest = texts.long
    .reduce(
      // What a label says stands in one line on papers.
      (left, known) => left.replaceAll(known, "  ").replaceAll(known.replaceAll("\n", " / "), "  "),
      typed,
    )
    .replace(NAMES, "  ");
  return [...new Set(rest.split(/\n|\s{2,}/).filter((part) => isMissed(part, texts)))];
}

describe("a command line in the language nobody speaks says nothing of its own outside a message", () => {
  it.each(LINES.map((line, at) => ({ line, at })))("$line", ({ at }) => {
    const { out, notes, code } = said(came[at]);
    expect(code, notes).not.toBe(3);
    expect(`${out}${notes}`).toContain("⟦");
    expect(missedIn(out).join(" | ")).toBe("");
    expect(missedIn(notes).join(" | ")).toBe("");
  });
});

describe("what stands on a label", () => {
  it("is the same whoever prints it, for it is held against the record in any language", async () => {
    const line = ["labels", plantPath, "--of", "LMP/ER", "--json"];
    const [spoken, english] = [await spokenIn(nobodys(), [{ line }]), await spokenIn(null, [{ line }])].map(([one]) =>
      (JSON.parse(said(one).out) as { labels: { lines: readonly string[] }[] }).labels.map(({ lines }) => lines),
    );
    expect(english?.flat().some((text) => / to LMP\/CR|; .* to /.test(text))).toBe(true);
    expect(spoken).toEqual(english);
  });
});

describe("a paper in the language nobody speaks says nothing of its own outside a message", () => {
  it.each(papers.map(([name], at) => ({ name, at })))("$name", async ({ name, at }) => {
    const { notes, code } = said(came[LINES.length + at]);
    expect(code, notes).toBe(0);
    const { text } = await readPdf(readFileSync(join(folder, `${name}.pdf`)));
    expect(missedIn(text.replaceAll("\n", " ")).join(" | ")).toBe("");
  });
});
