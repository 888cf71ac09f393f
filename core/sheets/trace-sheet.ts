/** A trace on paper: the line drawn through the places it visits, hop by hop with what each rests on, and its loss. */

import { STATES } from "../feeds/wording.ts";
import type { LineLoss, LossAnswer } from "../light/answer.ts";
import { BASIS_WORDS } from "../light/basis-words.ts";
import type { LengthUnit } from "../model/units.ts";
import { LABEL_WORDS } from "../model/wording.ts";
import { type Block, type Cell, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import type { LineDrawing, LineLeg, LineStop } from "../paper/line.ts";
import { asNotes } from "../paper/notes.ts";
import type { Branch, Hop, HopKind, TraceAnswer, TraceEnd, TraceLine } from "../trace/answer.ts";
import { endWords } from "../trace/ends.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { chipOf } from "./chips.ts";
import { decibels, few, knownBy, lengthIn, placeText, plain } from "./in-words.ts";

const SIGNS: Readonly<Record<HopKind, string>> = {
  interface: "▣",
  port: "▌",
  cord: "∿",
  assumed: "┄",
  strand: "━",
  splice: "●",
  join: "◇",
};
const WORDS: Readonly<Record<HopKind, string>> = {
  interface: say`equipment`,
  port: say`port`,
  cord: say`cord`,
  assumed: say`assumed cord`,
  strand: say`strand`,
  splice: say`splice`,
  join: say`join in a module`,
};
const LEGEND = (Object.keys(SIGNS) as HopKind[]).map((kind) => `${SIGNS[kind]} ${WORDS[kind]}`).join(", ");

/** @param loss null where it can't be reckoned; `why` says the reason */
export function traceSheetDocument(
  answer: TraceAnswer,
  loss: LossAnswer | null,
  why: string | null,
  unit: LengthUnit,
  title: TitleBlock,
): Document {
  const kind = answer.lines[0]?.hops[answer.lines[0].at]?.record;
  return {
    paper: "document",
    lying: true,
    title: {
      ...title,
      what: say`Trace of ${answer.asked}`,
      code: kind && kind.tag === answer.asked ? codeOf(kind.kind, kind.tag) : null,
    },
    blocks: [
      { is: "paragraph", text: plain(answer.sentence) },
      ...asNotes(answer.cautions),
      ...answer.lines.flatMap((line, index) => [
        ...(answer.lines.length > 1
          ? [
              {
                is: "heading",
                level: 1,
                text: say`Line ${index + 1} of ${answer.lines.length}: ${line.asked}`,
              } as const,
            ]
          : []),
        ...lineBlocks(line, unit),
        ...lossBlocks(loss?.lines[index]),
      ]),
      ...(why === null
        ? []
        : [{ is: "note", sign: "note", text: say`The loss can't be told: ${plain(why)}` } as const]),
      { is: "sign", roles: [say`Walked or measured by`] },
    ],
  };
}

const endLine = (end: TraceEnd): string => `${endWords(end)}: ${end.words}`;

function lineBlocks(line: TraceLine, unit: LengthUnit): Block[] {
  const { totals } = line;
  const length = lengthIn(unit);
  const drawing = drawingOf(line.hops, line.asked);
  return [
    ...(drawing ? [{ is: "line", drawing } as const] : []),
    {
      is: "values",
      rows: [
        { word: say`From`, value: endLine(line.from) },
        { word: say`To`, value: endLine(line.to) },
        {
          word: say`Sheath, cords`,
          value: `${length(totals.sheath_m) ?? say`not known`}, ${length(totals.cord_m) ?? say`none`}`,
        },
        { word: say`Glass`, value: length(totals.glass_m) },
        {
          word: say`On the way`,
          value: [
            counted(totals.splices, "splice"),
            counted(totals.ports, "port"),
            counted(totals.cords, "cord"),
            ...(totals.assumed > 0 ? [say`${counted(totals.assumed, "cord")} assumed`] : []),
          ].join(", "),
        },
        ...(totals.lacks.length > 0 ? [{ word: say`Not known`, value: totals.lacks }] : []),
      ],
    },
    // Where a line without forks ends stands above.
    ...branchBlocks({ ...line.root, end: null }, say`Hop by hop`, unit),
    ...(line.behind ? branchBlocks(line.behind, say`The other way from the start`, unit) : []),
  ];
}

/** @param path which branch of which it is, counted from 1; nothing for the line itself */
function branchBlocks(branch: Branch, caption: string, unit: LengthUnit, path: readonly number[] = []): Block[] {
  const blocks: Block[] = [hopTable(branch.hops, caption, unit)];
  if (branch.end) blocks.push({ is: "paragraph", text: say`Ends: ${endLine(branch.end)}.` });
  if (branch.fork)
    blocks.push({
      is: "note",
      sign: branch.fork.why === "record" ? "caution" : "note",
      text: say`Forks here to ${counted(branch.branches.length, "branch", "branches")}: ${plain(branch.fork.words)}`,
    });
  return [
    ...blocks,
    ...branch.branches.flatMap((one, index) => {
      const own = [...path, index + 1];
      return branchBlocks(one, say`Branch ${own.join(".")}`, unit, own);
    }),
  ];
}

function hopTable(hops: readonly Hop[], caption: string, unit: LengthUnit): Block {
  return {
    is: "table",
    caption: `${caption}. ${LEGEND}.`,
    columns: [
      { head: say`Found`, weight: 0.7 },
      { head: say`Hop`, numeric: true, weight: 0.6 },
      { head: say`What`, weight: 2.6 },
      { head: say`Where`, weight: 2.6 },
      { head: say`How`, weight: 1.8 },
      { head: say`Colours`, weight: 2.8 },
      { head: say`Length`, numeric: true, weight: 1.1 },
      { head: say`State, circuits`, weight: 1.7 },
      { head: say`Label`, weight: 0.9 },
      { head: say`Known by`, weight: 1.4 },
    ],
    rows: hops.map((hop, index): Cell[] => [
      { tick: false },
      String(index + 1),
      `${SIGNS[hop.kind]} ${hop.record.tag}`,
      whereOf(hop),
      hop.how,
      chipOf(hop.colours) ?? "",
      hop.lacks
        ? [lengthIn(unit)(hop.length_m), hop.lacks]
        : hop.kind === "strand" || hop.kind === "cord"
          ? lengthIn(unit)(hop.length_m)
          : "",
      [
        hop.state ? STATES[hop.state] : "",
        few(
          hop.circuits.map(({ tag }) => tag),
          4,
        ),
      ]
        .filter(Boolean)
        .join(", "),
      hop.label === null ? "" : LABEL_WORDS[hop.label],
      knownBy(hop.basis, hop.last_visit),
    ]),
    none: say`Nothing is on record to follow.`,
  };
}

function whereOf(hop: Hop): Cell {
  const at = placeText(hop.place);
  if (hop.kind !== "strand") return at;
  const passes = hop.passes.flatMap(({ place }) => place.space?.tag ?? []);
  return [
    say`${at ?? say`a place that nobody knows`} to ${placeText(hop.to_place) ?? say`a place that nobody knows`}`,
    ...(passes.length > 0 ? [say`by ${few(passes, 5)}`] : []),
  ];
}

/** Lengths of cable as legs; what joins them stands at one place. Null where no cable lies on the line. */
function drawingOf(hops: readonly Hop[], asked: string): LineDrawing | null {
  const stops: LineStop[] = [];
  const legs: LineLeg[] = [];
  let joints: Hop[] = [];
  let coiled: readonly (number | null)[] = [];
  const stopOf = (place: Hop["place"], coils: readonly (number | null)[]): LineStop => ({
    name: place?.space?.tag ?? say`nobody knows where`,
    mark: null,
    coil_m: summed(coils),
    spliced: joints.some(({ kind }) => kind === "splice"),
  });
  for (const hop of hops) {
    if (hop.kind !== "strand") {
      joints.push(hop);
      continue;
    }
    const [here, there] = hop.end_coils_m;
    // The first place of a cable is where what came before was joined to it, and the coils of both lie there.
    stops.push(stopOf(hop.place, [...coiled, here]));
    joints = [];
    coiled = [there];
    for (const { place, coil_m } of hop.passes) stops.push(stopOf(place, [coil_m]));
    legs.push(...legsOf(hop));
  }
  const last = hops.findLast(({ kind }) => kind === "strand");
  if (!last) return null;
  stops.push(stopOf(last.to_place, coiled));
  return { cable: asked, stops, legs, breaks: [] };
}

const summed = (parts: readonly (number | null)[]): number | null =>
  parts.includes(null) ? null : parts.reduce((sum: number, one) => sum + (one ?? 0), 0);

/** Between the coils of a strand's places; a place's spot is its middle. Its first leg bears the strand's tag. */
function legsOf({ passes, length_m, end_coils_m: [here, there], record }: Hop): LineLeg[] {
  const places = [
    { at_m: 0, coil_m: here, own: 1 },
    ...passes.map(({ at_m, coil_m }) => ({ at_m, coil_m, own: 0.5 })),
    { at_m: length_m, coil_m: there, own: 1 },
  ];
  return places.slice(1).map((next, index): LineLeg => {
    const before = places[index] as (typeof places)[number];
    const coils = (before.coil_m ?? 0) * before.own + (next.coil_m ?? 0) * next.own;
    const metres = before.at_m === null || next.at_m === null ? null : Math.max(0, next.at_m - before.at_m - coils);
    return { metres, pathway: index === 0 ? record.tag : "" };
  });
}

/** The whole loss of a wavelength stands in the row of its first part. */
function lossRows({ wavelength_nm, loss_db, terms }: LineLoss["losses"][number]): Cell[][] {
  const parts = terms.map((term): Cell[] => [
    plain(term.words) + (term.lacks ? `; ${plain(term.lacks)}` : ""),
    decibels(term.loss_db),
    BASIS_WORDS[term.basis],
    term.source,
  ]);
  return (parts.length === 0 ? [["", "", "", ""]] : parts).map((part, index): Cell[] =>
    index === 0 ? [`${wavelength_nm} nm`, decibels(loss_db), ...part, { write: true }] : ["", "", ...part, ""],
  );
}

function lossBlocks(line: LineLoss | undefined): Block[] {
  if (!line) return [];
  const { losses, applications } = line;
  const wanted = applications.filter((one) => one.wanted);
  return [
    {
      is: "table",
      caption: say`Loss as a ${line.as}, ${line.ends}: what is measured, and limits where nothing was`,
      columns: [
        { head: say`Wavelength`, weight: 1, numeric: true },
        { head: say`Loss`, weight: 1, numeric: true },
        { head: say`Part`, weight: 5 },
        { head: say`Of it`, weight: 1, numeric: true },
        { head: say`Known by`, weight: 1 },
        { head: say`Source`, weight: 4 },
        { head: say`Measured`, weight: 1 },
      ],
      rows: losses.flatMap(lossRows),
      none: say`No loss can be told.`,
    },
    ...(wanted.length === 0
      ? []
      : [
          {
            is: "table",
            caption: say`What is to run on it`,
            columns: [
              { head: say`Application`, weight: 2 },
              { head: say`Runs`, weight: 1 },
              { head: say`Loss`, numeric: true },
              { head: say`Limit`, numeric: true },
              { head: say`Margin`, numeric: true },
              { head: say`Why, and sources`, weight: 4 },
            ],
            rows: wanted.map((one): Cell[] => [
              one.application,
              RUNS[one.runs_at_worst],
              decibels(one.worst_loss_db),
              decibels(one.limit_db),
              decibels(one.worst_margin_db),
              [...one.reasons, ...one.sources].map(plain).join("; "),
            ]),
          } as const,
        ]),
    ...line.doubts.map((text): Block => ({ is: "note", sign: "note", text: plain(text) })),
  ];
}

const RUNS = { yes: say`yes`, no: say`no`, cannot_tell: say`can't be told` } as const;
