/** Records: all of a kind, or one with what is known of it. */
import { KIND_NAMES, KINDS, type KindName, type Value } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { shownValue } from "../../core/model/wording.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { refuse } from "../../core/result.ts";
import { counted } from "../../core/words/counted.ts";
import { withArticle } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { type Asking, asking } from "./asking.ts";
import type { Command, Given } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { facts, momentTold, table } from "./print.ts";

/** Records fetched at once; a list of any length passes through in pieces. */
const PAGE = 1000;

type Window = AnswerOf<"record.window">;
type WindowRow = Window["rows"][number];

/** A kind of record as people write it. */
export function kindNamed(word: string): KindName {
  const name = word.toLowerCase().replaceAll(" ", "_").replaceAll("-", "_");
  const found = KIND_NAMES.find((kind) => kind === name || KINDS[kind].one === word || KINDS[kind].many === word);
  if (!found) throw new UsageError(say`There is no record kind "${word}". The kinds are: ${KIND_NAMES.join(", ")}.`);
  return found;
}

export const listCommand: Command = {
  name: "list",
  words: ["FILE", "KIND"],
  help: say`All records of a kind. As JSON it is an array: each record with its id, address and rev, its fields as stored, and beside each reference the address it points at.`,
  options: {
    text: { value: "WORDS", help: say`only records in which these words stand` },
    sort: { value: "FIELD", help: say`in the order of a field, such as tag or length_m` },
    descending: { help: say`in the reverse of that order` },
  },
  run: (given) => {
    const kind = kindNamed(given.words[1] ?? "");
    return asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const pages = recordPages(ask, kind, given);
      return given.json ? asJson(given, pages) : asTable(given, kind, pages);
    });
  },
};

async function* recordPages(ask: Asking["ask"], kind: KindName, given: Given): AsyncGenerator<readonly WindowRow[]> {
  const sort = given.option("sort");
  const order = sort === undefined ? [] : [{ field: sort, descending: given.on("descending") }];
  const text = given.option("text") ?? "";
  for (let offset = 0; ; offset += PAGE) {
    const { rows, total } = await ask("record.window", { kind, sort: order, text, offset, limit: PAGE });
    if (rows.length > 0) yield rows;
    if (offset + PAGE >= total) return;
  }
}

async function asJson({ terminal }: Given, pages: AsyncGenerator<readonly WindowRow[]>): Promise<number> {
  let first = true;
  for await (const page of pages) {
    await terminal.out(`${first ? "[\n" : ",\n"}${page.map((row) => JSON.stringify(flat(row))).join(",\n")}`);
    first = false;
  }
  await terminal.out(first ? "[]\n" : "\n]\n");
  return FINE;
}

/** `from_space_id: 4` gets `from_space: "LIB/101"` beside it. */
function flat({ id, address, rev, values, shown }: WindowRow): Record<string, Value> {
  const pointed = Object.entries(shown).map(([field, tag]) => [field.replace(/_id$/, ""), tag] as const);
  return { id, address, rev, ...Object.fromEntries(pointed.filter(([name]) => !(name in values))), ...values };
}

async function asTable(
  { terminal }: Given,
  kind: KindName,
  pages: AsyncGenerator<readonly WindowRow[]>,
): Promise<number> {
  const { one, many, address } = KINDS[kind];
  const fields = Object.entries<Field>(KINDS[kind].fields).filter(
    ([name, field]) => name !== address?.name && field.type !== "kind",
  );
  let listed = 0;
  for await (const page of pages) {
    listed += page.length;
    const columns = [
      { head: one, cell: (row: WindowRow) => row.address },
      ...fields
        // A column in which nothing is known only takes room from the others.
        .filter(([name]) => page.some((row) => (row.values[name] ?? null) !== null))
        .map(([name, field]) => ({
          head: field.label,
          cell: (row: WindowRow) => row.shown[name] ?? shownValue(field, row.values[name], String, row.values),
          right: field.type === "integer" || field.type === "number",
        })),
    ];
    await terminal.out(table(page, columns, terminal.columns));
  }
  await terminal.out(listed === 0 ? say`No ${many} on record.\n` : `\n${counted(listed, one, many)}\n`);
  return FINE;
}

export const showCommand: Command = {
  name: "show",
  words: ["FILE", "ADDRESS"],
  rest: "MORE",
  help: say`One record, by its address, or by its kind and its address: its fields, what it rests on, what rests on it, its labels and last changes.`,
  run: (given) => {
    const [file = "", first = "", ...more] = given.words;
    return asking(given.terminal, given, { file, write: false }, async ({ ask }) => {
      const page = await ask(
        "record.page",
        more.length === 1
          ? { kind: kindNamed(first), id: more[0] ?? "" }
          : await named(ask, [first, ...more].join(" ")),
      );
      await given.terminal.out(
        given.json ? `${JSON.stringify(page, null, 2)}\n` : pageText(page, given.terminal.columns),
      );
      return FINE;
    });
  },
};

/** The one record that an address means; where it can mean several, the kind before it says which. */
async function named(ask: Asking["ask"], address: string): Promise<{ kind: KindName; id: number }> {
  const { matches, nearest } = await ask("address.resolve", { text: address });
  const [only] = matches;
  if (only && matches.length === 1) return { kind: only.kind, id: only.id };
  if (only)
    return refuse(
      "ambiguous",
      say`Which ${address} is meant? Say its kind before it.`,
      matches.map(({ kind, tag }) => ({ record: tag, reason: say`is ${withArticle(KINDS[kind].one)}` })),
    );
  return refuse(
    "not_found",
    say`Nothing on record is called ${address}.`,
    nearest.map((record) => ({ record, reason: say`comes close` })),
  );
}

function pageText(page: AnswerOf<"record.page">, width: number): string {
  const fields: Readonly<Record<string, Field>> = KINDS[page.kind].fields;
  type Resting = (typeof page.resting)[number];
  type Change = (typeof page.history)[number];
  const resting = [
    { head: say`rests on it`, cell: (group: Resting) => KINDS[group.kind].many },
    { head: say`as`, cell: (group: Resting) => group.label },
    { head: say`count`, cell: (group: Resting) => group.count, right: true },
    {
      head: say`the first`,
      cell: (group: Resting) =>
        group.first
          .slice(0, 8)
          .map((record) => record.tag)
          .join(", "),
    },
  ];
  const history = [
    { head: say`change`, cell: (change: Change) => change.id, right: true },
    { head: say`when`, cell: (change: Change) => momentTold(change.at) },
    { head: say`who`, cell: (change: Change) => change.author },
    { head: say`what`, cell: (change: Change) => change.summary },
  ];
  return [
    `${KINDS[page.kind].one} ${page.address}\n`,
    facts(
      page.fields.map(({ field, shown }) => [fields[field]?.label ?? field, shown] as const),
      width,
    ),
    page.resting.length > 0 ? table(page.resting, resting, width) : "",
    page.history.length > 0 ? table(page.history, history, width) : "",
  ]
    .filter((part) => part !== "")
    .join("\n");
}
