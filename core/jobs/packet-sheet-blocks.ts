/** Splice sheets on paper: strand by strand with a box for its loss, or where ribbons are spliced at once a ribbon a row. */
import { shortRange } from "../act/numbering.ts";
import { formatNumber } from "../model/units.ts";
import type { Block, Cell } from "../paper/document.ts";
import { say } from "../words/say.ts";
import type { Packet } from "./packet.ts";
import type { SheetRow } from "./splice-sheet.ts";

/** So many boxes for losses a row: a greater ribbon takes several rows. */
const BOXES = 12;

export function sheetBlocks({ sheets: all, steps, splice_limit }: Packet): Block[] {
  const at_once = new Map(steps.map(({ ordinal, input }) => [ordinal, ribbonOf(input)]));
  return all.flatMap(({ tray, place, rows, later }, index): Block[] => {
    const parts = partsOf(rows, at_once);
    // Who splices in one case takes its sheets along; those of the next go with somebody else.
    const goes_on = index > 0 && caseOf(all[index - 1]?.tray ?? "") === caseOf(tray);
    const ribbons = parts.filter(({ length }) => length > 1);
    const single = parts.filter(({ length }) => length === 1).flat();
    return [
      ...(goes_on ? [] : [{ is: "page" } as const]),
      { is: "heading", level: 1, text: say`Splice sheet ${tray}` },
      ...(place && !tray.startsWith(`${place.tag}/`)
        ? [{ is: "paragraph", text: say`In ${place.tag}.` } as const]
        : []),
      ...(goes_on || splice_limit === null || rows.length === 0
        ? []
        : [
            {
              is: "paragraph",
              text: say`A splice that loses more than ${formatNumber(splice_limit.db, 2)} dB is made anew. Limit in use: ${splice_limit.source}.`,
            } as const,
          ]),
      ...(ribbons.length > 0 ? ribbonBlocks(tray, ribbons) : []),
      ...(single.length > 0 || ribbons.length === 0 ? [strandTable(tray, single)] : []),
      ...later.map((words): Block => ({ is: "paragraph", text: say`Strands not on record yet: ${words}` })),
    ];
  });
}

/** A splice tray's case, or the panel on which strands are landed: `MH-02/CL-42` of `MH-02/CL-42/T1`. */
export const caseOf = (tray: string): string => {
  const stroke = tray.lastIndexOf("/");
  return stroke < 0 ? tray : tray.slice(0, stroke);
};

function ribbonOf(input: unknown): number {
  const { form, ribbon } = (input ?? {}) as { readonly form?: unknown; readonly ribbon?: unknown };
  return form === "ribbon" && typeof ribbon === "number" ? ribbon : 1;
}

/** Rows that are one ribbon, or at most twelve strands of it, side by side on both cables; any other row by itself. */
function partsOf(rows: readonly SheetRow[], at_once: ReadonlyMap<number, number>): SheetRow[][] {
  const parts: SheetRow[][] = [];
  let [step, nth] = [0, 0];
  for (const row of rows) {
    nth = row.step === step ? nth + 1 : 0;
    step = row.step;
    const each = at_once.get(row.step) ?? 1;
    const last = parts.at(-1);
    const before = last?.at(-1);
    const goes_on =
      before !== undefined &&
      each > 1 &&
      before.step === row.step &&
      nth % each !== 0 &&
      (last?.length ?? 0) < BOXES &&
      follows(before.from.strand.tag, row.from.strand.tag) &&
      follows(before.to.strand.tag, row.to.strand.tag);
    if (goes_on) last?.push(row);
    else parts.push([row]);
  }
  return parts;
}

const split = (tag: string): readonly [string, number] => {
  const colon = tag.lastIndexOf(":");
  return [tag.slice(0, colon), Number(tag.slice(colon + 1))];
};

function follows(before: string, next: string): boolean {
  const [a, b] = [split(before), split(next)];
  return a[0] === b[0] && b[1] === a[1] + 1;
}

function ribbonBlocks(tray: string, ribbons: readonly (readonly SheetRow[])[]): Block[] {
  const edges = new Set(ribbons.flatMap((rows) => [edgeOf(rows, "from"), edgeOf(rows, "to")]));
  const [edge] = edges;
  // Ribbons of one colour code are told theirs once.
  const same = edges.size === 1 && edge !== undefined && edge !== "";
  const cables = alikeCables(ribbons);
  return [
    ...(same
      ? [
          {
            is: "paragraph",
            text: say`Every ribbon here has its strands in this order, on both cables: ${edge}.`,
          } as const,
        ]
      : []),
    {
      is: "table",
      caption: cables
        ? say`Ribbons in ${tray}, ${cables[0]} to ${cables[1]} number for number, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`
        : say`Ribbons in ${tray}, in the order of the steps: under 1 to ${BOXES} the loss of each strand in dB`,
      columns: [
        { head: say`Step`, numeric: true, weight: 1.6 },
        { head: say`Done`, weight: 1.5 },
        { head: cables ? say`Ribbon` : say`Ribbon to ribbon`, weight: 7.4 },
        // As wide as a figure takes that is written by hand in the rain.
        ...Array.from({ length: BOXES }, (_, nth) => ({ head: String(nth + 1), weight: 1.22 })),
      ],
      rows: ribbons.map((rows): Cell[] => {
        const [first] = rows;
        const circuits = circuitsOf(rows);
        return [
          String(first?.step ?? ""),
          { tick: first?.done ?? false },
          [...sidesOf(rows, same, cables !== null), ...(circuits === "" ? [] : [say`carries ${circuits}`])],
          ...Array.from({ length: BOXES }, (_, nth): Cell => (nth < rows.length ? { write: true } : null)),
        ];
      }),
      none: "",
    },
  ];
}

/** The two cables, where every ribbon of one meets the ribbon of the same numbers and unit of the other. */
function alikeCables(ribbons: readonly (readonly SheetRow[])[]): readonly [string, string] | null {
  const pairs = new Set<string>();
  for (const { from, to } of ribbons.flat()) {
    const [a, b] = [split(from.strand.tag), split(to.strand.tag)];
    if (a[0] === b[0] || a[1] !== b[1] || from.unit !== to.unit || from.colour !== to.colour) return null;
    pairs.add(`${a[0]}\n${b[0]}`);
  }
  const [pair = ""] = pairs;
  const [from, to] = pair.split("\n");
  return pairs.size === 1 && from && to ? [from, to] : null;
}

/** Both sides of a ribbon; what they have in common is said once, and the cables not at all where the caption names them. */
function sidesOf(rows: readonly SheetRow[], same: boolean, alike: boolean): string[] {
  const [first] = rows;
  const [from, to] = (["from", "to"] as const).map((side) => rangeOf(rows.map((row) => row[side].strand.tag)));
  if (alike) {
    const numbers = shortRange(rows.map(({ from: one }) => split(one.strand.tag)[1]));
    const strands = same ? "" : edgeOf(rows, "from");
    return [
      [numbers, first?.from.unit ?? "", strands === "" ? "" : say`strands ${strands}`].filter(Boolean).join(", "),
    ];
  }
  const [own, other] = [first?.from.unit ?? "", first?.to.unit ?? ""];
  const edges = (["from", "to"] as const).map((side) => {
    const edge = same ? "" : edgeOf(rows, side);
    return edge === "" ? "" : say`, strands ${edge}`;
  });
  const unit = (words: string): string => (words === "" ? "" : `, ${words}`);
  if (from === to && own === other && edges[0] === edges[1]) return [say`${from}${unit(own)}${edges[0]}, to itself`];
  if (own === other && edges[0] === edges[1]) return [say`${from} to ${to}${unit(own)}${edges[0]}`];
  return [`${from}${unit(own)}${edges[0]}`, say`to ${to}${unit(other)}${edges[1]}`];
}

/** "blue, orange, green …": the colours of its strands in the order of the boxes; empty where none is known. */
function edgeOf(rows: readonly SheetRow[], side: "from" | "to"): string {
  const own = rows.map((row) => row[side].colour ?? null);
  return own.every((colour) => colour === null) ? "" : own.map((one) => one ?? "?").join(", ");
}

function rangeOf(tags: readonly string[]): string {
  const [cable] = split(tags[0] ?? "");
  return `${cable}:${shortRange(tags.map((tag) => split(tag)[1]))}`;
}

/** Each circuit with the boxes of its strands. */
function circuitsOf(rows: readonly SheetRow[]): string {
  const boxes = new Map<string, number[]>();
  for (const [nth, { circuits }] of rows.entries())
    for (const { tag } of circuits) boxes.set(tag, [...(boxes.get(tag) ?? []), nth + 1]);
  return [...boxes].map(([tag, own]) => `${tag} (${shortRange(own)})`).join(", ");
}

function strandTable(tray: string, rows: readonly SheetRow[]): Block {
  return {
    is: "table",
    caption: say`Splices in ${tray}, in the order of the steps`,
    columns: [
      { head: say`Step`, numeric: true, weight: 0.8 },
      { head: say`Done`, weight: 0.8 },
      { head: say`From`, weight: 1.6 },
      { head: say`Its colours`, weight: 3.8 },
      { head: say`To`, weight: 1.6 },
      { head: say`Its colours`, weight: 3.8 },
      { head: say`Circuit`, weight: 1.3 },
      { head: say`Loss, dB`, weight: 1.2 },
    ],
    rows: rows.map(({ step, done, from, to, circuits: on }): Cell[] => [
      String(step),
      { tick: done },
      from.strand.tag,
      from.colours,
      to.strand.tag,
      to.colours,
      on.map(({ tag }) => tag).join(", "),
      { write: true },
    ]),
    none: say`No strand of these steps is on record yet.`,
  };
}
