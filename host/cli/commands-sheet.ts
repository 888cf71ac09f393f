/** As-built sheets and crews' notes, from files of this machine. */
import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { notesOf } from "../../core/as-built/no-text.ts";
import { SHAPES } from "../../core/as-built/shapes.ts";
import type { InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { FINE, REFUSED, UsageError } from "./exit.ts";
import { numbers } from "./options.ts";
import { printable } from "./print.ts";
import { notesText, noticesText, sheetReadText, sheetText } from "./sheets-told.ts";
import { writtenText } from "./written.ts";

type SheetInput = InputOf<"sheet.rehearse">;

async function print(given: Given, value: unknown, text: (width: number) => string): Promise<void> {
  const { terminal, json } = given;
  await terminal.out(json ? `${JSON.stringify(value, null, 2)}\n` : text(terminal.columns));
}

/** `a=b,c=d` as pairs. */
function pairs(given: Given, option: string): Record<string, string> {
  const text = given.option(option);
  if (text === undefined) return {};
  return Object.fromEntries(
    text.split(",").map((pair) => {
      const at = pair.indexOf("=");
      if (at < 1) throw new UsageError(say`--${option} is written NAME=VALUE, parted by commas, not "${pair}".`);
      return [pair.slice(0, at).trim(), pair.slice(at + 1).trim()];
    }),
  );
}

/** What was kept for this source: anything that the mapping of a sheet says. */
function profileOf(given: Given): Partial<SheetInput> {
  const path = given.option("profile");
  if (path === undefined) return {};
  try {
    return JSON.parse(readFileSync(path, "utf8")) as Partial<SheetInput>;
  } catch (error) {
    throw new UsageError(
      say`The profile ${path} can't be read: ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}

function sheetInput(given: Given): SheetInput {
  const profile = profileOf(given);
  const columns = pairs(given, "columns");
  const said = (name: string, option = name) => {
    const value = given.option(option);
    return value === undefined ? {} : { [name]: value };
  };
  const create = pairs(given, "create");
  const made = Object.entries(create).map(([address, what]) => {
    const [kind = "", more] = what.split(":");
    return { kind, address, ...(more ? { [kind === "panel" ? "connector" : "space_kind"]: more } : {}) };
  });
  return {
    ...profile,
    file: resolve(given.words[1] ?? ""),
    ...said("sheet"),
    ...said("shape"),
    ...said("days"),
    ...said("decimal", "decimals"),
    ...(Object.keys(columns).length > 0 ? { columns: { ...profile.columns, ...columns } } : {}),
    fixed: { ...profile.fixed, ...pairs(given, "fixed") },
    units: { ...profile.units, ...(pairs(given, "units") as Record<string, "m" | "ft">) },
    leave_out: numbers(given, "leave-out"),
    ...(made.length > 0 ? { create: made as SheetInput["create"] } : {}),
  } as SheetInput;
}

export const sheetCommand: Command = {
  name: "sheet",
  words: ["FILE", "SHEET"],
  writes: true,
  help: say`Takes an as-built sheet over, a CSV file or a workbook: cable schedule, splice matrix, landing list, port-to-port list, strand usage, labels, measurements. One change that can be undone; a row that can't be read refuses all of them, unless it is left out.`,
  options: {
    read: { help: say`only says what the sheet seems to be, and which column is which` },
    rehearse: { help: say`tells the fate of each row and changes nothing; ends with 1 when rows would be refused` },
    sheet: { value: "NAME", help: say`the worksheet; the first where left out` },
    shape: { value: "SHAPE", help: say`what the sheet is; by its heading where left out` },
    columns: { value: "NAME=HEADING,...", help: say`which column is which, by heading or letters` },
    fixed: { value: "NAME=VALUE,...", help: say`what stands for every row, such as cable=F-012` },
    units: { value: "NAME=m|ft,...", help: say`what bare numbers of a column count` },
    days: { value: "day_first|month_first", help: say`what 3/4/2026 means` },
    decimals: { value: "comma|point", help: say`how the sheet writes decimals; by its cells where left out` },
    create: {
      value: "ADDRESS=KIND,...",
      help: say`missing places to make: GYM=building, GYM/1=space:telecom_room, GYM/1/P=panel:lc_duplex`,
    },
    "leave-out": { value: "ROWS", help: say`rows that are left out, such as 4,7-9` },
    "leave-out-refused": { help: say`leaves out the rows that can't be read` },
    details: { help: say`lists every record that was changed, field by field` },
    profile: { value: "JSON", help: say`a file that says columns, units and the like for this source` },
  },
  lists: {
    title: say`The shapes and the names of their columns, as --shape, --columns, --fixed and --units take them; those with a star are needed, those in brackets hold lengths:`,
    lines: SHAPES.map(({ name, columns }) => [
      name,
      columns.map((one) => `${one.unit ? `(${one.name})` : one.name}${one.needed ? "*" : ""}`).join(", "),
    ]),
  },
  run: (given) => {
    const look = given.on("read");
    const rehearse = given.on("rehearse");
    const input = sheetInput(given);
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: !look }, async ({ ask }) => {
      if (look) {
        const { file, sheet, shape } = input;
        const read = await ask("sheet.read", { file, ...(sheet ? { sheet } : {}), ...(shape ? { shape } : {}) });
        await print(given, read, (width) => sheetReadText(read, width));
        return FINE;
      }
      if (rehearse) {
        const rehearsal = await ask("sheet.rehearse", input);
        await print(given, rehearsal, (width) => sheetText(rehearsal, width));
        return rehearsal.totals.refused > 0 ? REFUSED : FINE;
      }
      const written = await ask("sheet.apply", { ...input, valid_rows_only: given.on("leave-out-refused") });
      // A cable of 96 strands is hundreds of records: how many of each kind is enough, unless more is asked for.
      const told = given.on("details") ? written : { ...written, changes: [] };
      await print(
        given,
        written,
        (width) =>
          `${writtenText(told, width)}\n${noticesText(written.answer.notices)}${printable(written.answer.sentence)}\n`,
      );
      return FINE;
    });
  },
};

export const notesCommand: Command = {
  name: "notes",
  words: ["FILE", "NOTES"],
  writes: true,
  help: say`Takes a crew's notes over, a text file with a line for each thing done: understood line by line, one change that can be undone. A line that can be read two ways must be answered; unsure lines are kept as told.`,
  options: {
    rehearse: {
      help: say`shows what each line is understood as and changes nothing; ends with 1 when lines are open or refused`,
    },
    of: { value: "CABLE", help: say`the cable the first lines are about` },
    at: { value: "PLACE", help: say`the case or place they are about` },
    answers: { value: "LINE=WAY,...", help: say`which way a line is meant, from 1` },
    "leave-out": { value: "LINES", help: say`lines that are left out` },
    tell: { value: "LINES", help: say`lines that are kept as told although they were understood` },
    visit: { value: "NUMBER", help: say`the visit in whose notes told lines are kept` },
  },
  run: (given) => {
    const rehearse = given.on("rehearse");
    const path = given.words[1] ?? "";
    let bytes: Uint8Array;
    try {
      bytes = readFileSync(path);
    } catch (error) {
      throw new UsageError(say`${path} can't be read: ${error instanceof Error ? error.message : String(error)}`);
    }
    const text = notesOf(basename(path), bytes);
    const answers = Object.fromEntries(
      Object.entries(pairs(given, "answers")).map(([line, way]) => [line, Number(way)]),
    );
    const [of, at, visit] = [given.option("of"), given.option("at"), given.option("visit")];
    const input = {
      ...{ text, answers, leave_out: numbers(given, "leave-out"), tell: numbers(given, "tell") },
      ...(of === undefined ? {} : { cable: of }),
      ...(at === undefined ? {} : { at }),
      ...(visit === undefined ? {} : { visit }),
    };
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: true }, async ({ ask }) => {
      if (rehearse) {
        const rehearsal = await ask("notes.rehearse", input);
        await print(given, rehearsal, (width) => notesText(rehearsal, width));
        return rehearsal.open + rehearsal.refused > 0 ? REFUSED : FINE;
      }
      const written = await ask("notes.apply", input);
      await print(given, written, (width) => `${writtenText(written, width)}\n${notesText(written.answer, width)}`);
      return FINE;
    });
  },
};
