/** Labels: which are to be made, and their sheets as a PDF; with `--record` they are put on record as printed. */
import { statSync } from "node:fs";
import { LABEL_CLASS_NAMES, type LabelClass } from "../../core/model/label-blanks.ts";
import { choiceWords } from "../../core/model/wording.ts";
import type { AnswerOf, InputOf } from "../../core/operations/list.ts";
import { Refusal } from "../../core/result.ts";
import { counted, plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { type Asking, asking } from "./asking.ts";
import type { Command, Given, Option } from "./command.ts";
import { wholeNumber } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { PAPER_OPTIONS, toPaper } from "./paper.ts";
import { table } from "./print.ts";

const { out, replace } = PAPER_OPTIONS as Readonly<Record<"out" | "replace", Option>>;

/** Numbers with a sign and a fraction, within what the operation takes; the reason names the option. */
function measure(given: Given, option: string): number | undefined {
  const text = given.option(option);
  if (text === undefined) return undefined;
  const number = Number(text);
  if (text.trim() === "" || !Number.isFinite(number))
    throw new UsageError(say`--${option} is a number, not "${text}".`);
  return number;
}

const PERCENT = 100;

function printerOf(given: Given): InputOf<"label.print">["printer"] {
  const scale = (option: string) => {
    const percent = measure(given, option);
    return percent === undefined ? undefined : percent / PERCENT;
  };
  const printer = {
    shift_x_mm: measure(given, "shift-right"),
    shift_y_mm: measure(given, "shift-down"),
    scale_x: scale("scale-across"),
    scale_y: scale("scale-down"),
    dots_per_inch: given.option("dots") === undefined ? undefined : wholeNumber(given, "dots", 100, 2400),
  };
  const said = Object.entries(printer).filter(([, value]) => value !== undefined);
  return said.length === 0 ? undefined : Object.fromEntries(said);
}

function whatOf(given: Given): InputOf<"label.list"> {
  const named = [...given.words.slice(1), ...(given.option("of") === undefined ? [] : [given.option("of") as string])];
  const only = given
    .option("only")
    ?.split(",")
    .map((one) => one.trim());
  const strange = only?.find((one) => !(LABEL_CLASS_NAMES as readonly string[]).includes(one));
  if (strange !== undefined)
    throw new UsageError(say`--only is any of ${LABEL_CLASS_NAMES.join(", ")}, not "${strange}".`);
  const [at, template] = [given.option("at"), given.option("template")];
  return {
    ...(named.length > 0 ? { of: named } : {}),
    ...(at === undefined ? {} : { at }),
    ...(only === undefined ? {} : { only: only as LabelClass[] }),
    ...(given.on("needed") ? { needed: true } : {}),
    ...(template === undefined ? {} : { template }),
  };
}

export const labelsCommand: Command = {
  name: "labels",
  words: ["FILE"],
  rest: "WHAT",
  writes: true,
  help: say`Labels: of things named (a cable at each end and each access, a panel with its ports, a space with what is in it), or whatever needs one. Without --out they are listed; with it they are written to a PDF, one page a sheet. A label that doesn't fit is refused by name, line and millimetres.`,
  options: {
    of: { value: "WHAT", help: say`a thing by its address, as if it were named among the words` },
    at: { value: "SPACE", help: say`only labels at this space` },
    only: { value: "CLASS,...", help: say`only these classes: ${LABEL_CLASS_NAMES.join(", ")}` },
    needed: { help: say`only those not on record, due, not printed, or that say something else now` },
    template: { value: "NAME", help: say`a label template in use, wherever its class fits` },
    sheet: { value: "NAME", help: say`the label sheet or tape; --sheets lists them` },
    sheets: { help: say`lists the label sheets and tapes, and does nothing else` },
    start: { value: "N", help: say`the first label of the sheet that is still free` },
    smaller: { help: say`lets type go below the usual size where a label needs it` },
    "leave-out": { help: say`prints the others where some don't fit or can't be worded` },
    "shift-right": { value: "MM", help: say`moves everything right, for a printer that is off` },
    "shift-down": { value: "MM", help: say`moves everything down` },
    "scale-across": { value: "PERCENT", help: say`101 where all comes out a hundredth too narrow` },
    "scale-down": { value: "PERCENT", help: say`101 where all comes out a hundredth too low` },
    dots: { value: "N", help: say`the printer's dots to the inch; 300 unless said` },
    outline: { help: say`with --out: a test page of the sheet's outlines instead of labels` },
    record: { help: say`with --out: puts them on record as printed, in one change` },
    out: out as Option,
    paper: {
      value: "a4|letter",
      help: say`with --out and no --sheet: whose usual sheet of labels; A4, where left out`,
    },
    replace: replace as Option,
  },
  run: (given) => {
    const paper = toPaper(given);
    const file = given.words[0] ?? "";
    const record = given.on("record");
    if (!paper && (record || given.on("outline")))
      throw new UsageError(say`--${record ? "record" : "outline"} belongs to --out.`);
    if (record && given.on("outline")) throw new UsageError(say`A test page has no labels to record.`);
    return asking(given.terminal, given, { file, write: record }, async ({ ask }) => {
      if (given.on("sheets")) return sheets(given, ask);
      if (paper === null) return listed(given, ask);
      return given.on("outline") ? outlined(given, ask, paper) : printed(given, ask, paper);
    });
  },
};

type Ask = Asking["ask"];
type Paper = NonNullable<ReturnType<typeof toPaper>>;
type Label = AnswerOf<"label.list">["labels"][number];

async function sheets(given: Given, ask: Ask): Promise<number> {
  const answer = await ask("label.sheets", {});
  type Sheet = (typeof answer.sheets)[number];
  const columns = [
    { head: say`sheet`, cell: (sheet: Sheet) => sheet.name },
    { head: say`form`, cell: ({ form }: Sheet) => choiceWords("label_sheet", "form", form) },
    {
      head: say`label, mm`,
      cell: ({ label_width_mm: width, label_height_mm: height }: Sheet) =>
        `${width === null ? say`by its text` : hundredths(width)} × ${hundredths(height)}`,
    },
    { head: say`a page`, cell: (sheet: Sheet) => sheet.per_page, right: true },
    {
      head: say`from`,
      cell: ({ faults: [fault], source }: Sheet) =>
        fault ? say`can't be used: ${fault.field} ${fault.reason}` : source,
    },
  ];
  await given.terminal.out(
    given.json ? `${JSON.stringify(answer, null, 2)}\n` : table(answer.sheets, columns, given.terminal.columns),
  );
  return FINE;
}

const hundredths = (mm: number): string => String(Math.round(mm * 100) / 100);

async function listed(given: Given, ask: Ask): Promise<number> {
  const answer = await ask("label.list", whatOf(given));
  if (given.json) {
    await given.terminal.out(`${JSON.stringify(answer, null, 2)}\n`);
    return FINE;
  }
  const columns = [
    { head: say`on`, cell: ({ record }: Label) => record },
    { head: say`at`, cell: ({ place, record }: Label) => (place === record ? "" : (place ?? "")) },
    {
      head: say`says`,
      cell: ({ lines, lacks }: Label) =>
        lines?.join(" / ") ?? say`can't be worded: ${lacks.join(", ")} is not on record`,
    },
    { head: say`to be made because`, cell: ({ needed }: Label) => needed ?? "" },
  ];
  const { count, needed } = answer;
  await given.terminal.out(count === 0 ? "" : table(answer.labels, columns, given.terminal.columns));
  await given.terminal.out(
    `${count === 0 ? say`No label is needed.` : say`\n${counted(count, "label")}, ${needed} to be made.`}\n`,
  );
  return FINE;
}

async function outlined(given: Given, ask: Ask, paper: Paper): Promise<number> {
  const sheet = given.option("sheet");
  const printer = printerOf(given);
  const made = await ask("label.outline", {
    ...(sheet === undefined ? { paper: paper.size } : { sheet }),
    ...(printer ? { printer } : {}),
  });
  return written(given, made, paper, null);
}

async function printed(given: Given, ask: Ask, paper: Paper): Promise<number> {
  const [sheet, printer, what] = [given.option("sheet"), printerOf(given), whatOf(given)];
  const lie = {
    ...(sheet === undefined ? { paper: paper.size } : { sheet }),
    ...(given.option("start") === undefined ? {} : { start: wholeNumber(given, "start", 1, 20_000) }),
    ...(given.on("smaller") ? { smaller: true } : {}),
    ...(printer ? { printer } : {}),
  };
  const made = await ask("label.print", {
    ...what,
    ...lie,
    ...(given.on("leave-out") ? { leave_out: true } : {}),
  }).catch(withOptions);
  if (!given.on("record")) return written(given, made, paper, null);
  // Which labels they are is asked before anything is written: recording them changes what is needed.
  const { labels } = await ask("label.lay", { ...what, ...lie });
  const code = await written(given, made, paper, made.labels);
  const { template } = what;
  await ask("label.printed", {
    labels: labels.flatMap(({ at, kind, id, space_id }) => (at ? [{ kind: kind as "cable", id, space_id }] : [])),
    ...(template === undefined ? {} : { template }),
  });
  return code;
}

/** A refusal of labels that don't fit, with the options that cure it. */
function withOptions(error: unknown): never {
  if (!(error instanceof Refusal)) throw error;
  const { cures } = (error.failure.details ?? {}) as { readonly cures?: AnswerOf<"label.lay">["cures"] };
  const [sheet] = cures?.sheets ?? [];
  const options = [
    ...(cures && cures.smaller > 0 ? ["--smaller"] : []),
    ...(sheet === undefined ? [] : [`--sheet "${sheet}"`]),
  ];
  if (options.length === 0) throw error;
  const message = say`${error.failure.message} The options for that: ${options.join(", or ")}.`;
  throw new Refusal({ ...error.failure, message });
}

/** So many of the labels that are left out are named; all of them stand in the answer as JSON. */
const MOST_TOLD = 10;

async function written(
  { terminal, json }: Given,
  made: AnswerOf<"label.print">,
  { path, replace: over }: Paper,
  recorded: number | null,
): Promise<number> {
  // Loaded only when asked for: other commands need neither fonts nor codes.
  const [{ labelsPdf }, { keepPdf }] = await Promise.all([import("../paper/label-pdf.ts"), import("../paper/keep.ts")]);
  const { bytes, pages, missing } = await labelsPdf(made);
  await keepPdf(bytes, path, { replace: over });
  const told = {
    path,
    labels: made.labels,
    left_out: made.left_out,
    pages,
    bytes: statSync(path).size,
    missing,
    recorded,
  };
  const words = plural(
    pages,
    "{1} on {0} page",
    "{1} on {0} pages",
    made.labels === 0 ? say`a test page` : counted(made.labels, "label"),
  );
  await terminal.out(
    json
      ? `${JSON.stringify(told, null, 2)}\n`
      : say`Wrote ${path}: ${words}. Print it at actual size.${recorded === null ? "" : say` Recorded as printed: ${counted(recorded, "label")}.`}\n`,
  );
  const { left_out } = made;
  if (left_out.labels > 0) {
    const why = left_out.why.slice(0, MOST_TOLD).map(({ record, reason }) => `  ${record}: ${reason}\n`);
    terminal.note(
      plural(
        left_out.labels,
        "{0} label is left out, which doesn't fit on its sheet or can't be worded:\n{1}",
        "{0} labels are left out, which don't fit on their sheet or can't be worded:\n{1}",
        `${why.join("")}${left_out.why.length > why.length ? say`  and more\n` : ""}`,
      ),
    );
  }
  if (missing.length > 0)
    terminal.note(say`The fonts lack ${missing.join(" ")}; on the labels they stand by their codes.\n`);
  return FINE;
}
