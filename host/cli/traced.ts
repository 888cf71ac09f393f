/** A trace and the feeds of a place, as text. */
import type { FeedCable, FeedsAnswer, StateCounts } from "../../core/feeds/answer.ts";
import type { Branch, Hop, Place, TraceAnswer, TraceEnd, TraceLine } from "../../core/trace/answer.ts";
import { LENGTH_FROM_WORDS } from "../../core/trace/length-words.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, lengthTold, printable, spoken, table, wrap } from "./print.ts";

const place = (at: Place | null): string => at?.space?.tag ?? at?.building?.tag ?? "";

/** Whole centimetres say more than anybody measured; unknown stays unknown. */
const metres = (length: number | null): string => lengthTold(length);

/** A record without an address is described by what it is, which stands in the column before. */
const bare = ({ kind, record }: Hop): string =>
  record.tag.startsWith(`${kind} `) ? record.tag.slice(kind.length + 1) : record.tag;

const ending = ({ record, words }: TraceEnd): string => (record ? `${record.tag}: ${words}` : words);

interface Row {
  readonly number: string;
  readonly hop: Hop;
}

export function traceText(answer: TraceAnswer, width: number): string {
  const lines = answer.lines.map((line, at) => lineText(line, at, answer.lines.length, width));
  return [`${wrap(spoken(answer.sentence), width).join("\n")}\n`, ...lines, cautions(answer.cautions, width)].join(
    "\n",
  );
}

function lineText(line: TraceLine, at: number, of: number, width: number): string {
  const { totals, behind } = line;
  const columns = [
    { head: say`hop`, cell: ({ number }: Row) => number },
    { head: say`what`, cell: ({ hop }: Row) => hop.kind },
    { head: say`record`, cell: ({ hop }: Row) => bare(hop) },
    {
      head: say`where`,
      cell: ({ hop }: Row) => [place(hop.place), place(hop.to_place)].filter(Boolean).join(say` to `),
    },
    { head: say`length`, cell: ({ hop }: Row) => (hop.length_m === null ? "" : metres(hop.length_m)), right: true },
    { head: say`by`, cell: ({ hop }: Row) => hop.length_from && LENGTH_FROM_WORDS[hop.length_from] },
    {
      head: say`colours and how`,
      cell: ({ hop }: Row) =>
        [...hop.colours.map((colour) => colour.words), hop.how, hop.lacks].filter(Boolean).join("; "),
    },
  ];
  const sums: [string, Cell][] = [
    [say`from`, ending(line.from)],
    [say`to`, ending(line.to)],
    [say`length`, metres(totals.length_m)],
    [say`lacks`, totals.lacks.join("; ")],
    [say`splices`, totals.splices],
    [say`ports`, totals.ports],
    [say`cords`, totals.assumed > 0 ? say`${totals.cords}, and ${totals.assumed} assumed` : totals.cords],
  ];
  const head = of > 1 ? say`strand ${at + 1} of ${of}: ${printable(line.asked)}\n` : "";
  const other = behind
    ? say`\nthe other way from ${printable(line.asked)}\n${table(rowsOf(behind, ""), columns, width)}`
    : "";
  return `${head}${table(rowsOf(line.root, ""), columns, width)}${other}\n${facts(sums, width)}`;
}

/** Hops of a branch, those of its own branches under 3.1, 3.2 and so on. */
function rowsOf(branch: Branch, before: string): Row[] {
  const own = branch.hops.map((hop, at) => ({ number: `${before}${at + 1}`, hop }));
  const fork = `${before}${branch.hops.length}`;
  return [
    ...own,
    ...branch.branches.flatMap((next, at) => rowsOf(next, `${fork}${String.fromCharCode(97 + (at % 26))}.`)),
  ];
}

const STATES = [
  [say`in service`, "in_service"],
  [say`reserved`, "reserved"],
  [say`planned`, "planned"],
  [say`leased`, "leased"],
  [say`spare`, "spare"],
  [say`dead`, "dead"],
  [say`broken`, "broken"],
  [say`twice`, "assigned_twice"],
  [say`unknown`, "unknown"],
] as const satisfies readonly (readonly [string, keyof StateCounts])[];

export function feedsText(answer: FeedsAnswer, width: number): string {
  const counts = STATES.filter(([, state]) => answer.cables.some((cable) => cable.counts[state] > 0)).map(
    ([head, state]) => ({
      head,
      cell: (cable: FeedCable): Cell => cable.counts[state] || null,
      right: true,
    }),
  );
  const cables = [
    { head: say`cable`, cell: (cable: FeedCable) => cable.cable.tag },
    { head: say`from`, cell: (cable: FeedCable) => place(cable.from) },
    { head: say`enters at`, cell: (cable: FeedCable) => place(cable.entrance) },
    {
      head: say`strands`,
      cell: (cable: FeedCable) => (cable.without_strands ? say`not recorded` : cable.strands.length),
      right: true,
    },
    ...counts,
    ...(answer.cut > 0
      ? [{ head: say`in service, cut`, cell: (cable: FeedCable): Cell => cable.cut || null, right: true }]
      : []),
  ];
  const free = [
    { head: say`free to`, cell: (to: FeedsAnswer["free_to"][number]) => to.building.tag },
    { head: say`name`, cell: (to: FeedsAnswer["free_to"][number]) => to.name },
    { head: say`strands`, cell: (to: FeedsAnswer["free_to"][number]) => to.strands, right: true },
  ];
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    answer.cables.length > 0 ? table(answer.cables, cables, width) : "",
    answer.free_to.length > 0 ? table(answer.free_to, free, width) : "",
    answer.single_points.length > 0
      ? say`Every way in passes: ${answer.single_points.map((record) => printable(record.tag)).join(", ")}\n`
      : "",
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

export function cautions(sentences: readonly string[], width: number): string {
  return sentences.map((sentence) => `${wrap(say`Caution: ${spoken(sentence)}`, width).join("\n")}\n`).join("");
}
