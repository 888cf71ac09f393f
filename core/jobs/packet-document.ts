/** A job's packet as a document: from it alone, a crew that never saw the plant does the work. */

import { formatLength, formatNumber } from "../model/units.ts";
import { shownDay } from "../model/wording.ts";
import { type Block, type Cell, codeOf, type Document } from "../paper/document.ts";
import type { LineDrawing } from "../paper/line.ts";
import { WAITS_FOR } from "../repair/ways.ts";
import { numberRuns } from "../store/addresses.ts";
import { say } from "../words/say.ts";
import type { Packet, PacketMend, PacketPlace } from "./packet.ts";
import { measureFrom, switchOff } from "./packet-light-blocks.ts";
import { sheetBlocks } from "./packet-sheet-blocks.ts";
import type { Situation } from "./situation.ts";

const metres = (value: number): string => formatLength(value, "m", 1);

/** @param revision the record's, so that a paper can be held against what was recorded since */
export function packetDocument(packet: Packet, revision: number | null, who: string | null): Document {
  const { job } = packet;
  return {
    paper: "document",
    title: {
      what: say`Packet for job ${job.tag}`,
      plant: packet.plant,
      made_on: packet.today,
      revision,
      who,
      code: codeOf("job", job.tag),
    },
    blocks: [
      ...packet.cautions.map((text): Block => ({ is: "note", sign: "danger", text })),
      ...packet.left_out.map(
        ({ cable, reason, doubtful }): Block => ({
          is: "note",
          sign: "danger",
          text: doubtful
            ? say`${cable.tag} is not in this job and may carry light there: ${cable.tag} ${reason}.`
            : say`${cable.tag} is cut there too and is not in this job: leave it as it lies. ${sentenceOf(reason)}`,
        }),
      ),
      ...owners(packet),
      ...switchOff(packet),
      { is: "heading", level: 1, text: knownWords(packet) },
      { is: "values", rows: facts(packet) },
      ...packet.mends.flatMap((one): Block[] => [
        ...(packet.mends.length > 1
          ? [{ is: "heading", level: 2, text: say`The cut of ${one.situation.cable.tag}` } as const]
          : []),
        { is: "values", rows: cutFacts(one) },
        ...cutBlocks(one.situation),
      ]),
      ...clashes(packet),
      ...circuits(packet),
      ...measureFrom(packet),
      ...places(packet),
      ...stepBlocks(packet),
      ...sheetBlocks(packet.sheets, packet.steps),
      { is: "heading", level: 1, text: say`Done and signed` },
      { is: "paragraph", text: say`What differed from the plan, and what is left in which hole:` },
      {
        is: "table",
        caption: null,
        columns: [
          { head: say`Place`, weight: 1 },
          { head: say`What`, weight: 3 },
        ],
        rows: Array.from({ length: 6 }, (): Cell[] => [{ write: true }, { write: true }]),
      },
      { is: "sign", roles: [say`Spliced by`, say`Measured by`, say`Entered on the record by`] },
    ],
  };
}

const sentenceOf = (words: string): string =>
  `${words.charAt(0).toUpperCase()}${words.slice(1)}${words.endsWith(".") ? "" : "."}`;

/** A paper is read days later: when what it says was known stands on it. */
const knownWords = ({ situation }: Packet): string =>
  situation?.known_on ? say`Situation, as known on ${shownDay(situation.known_on)}` : say`Situation`;

/** How a stop's marks were known, and when somebody last looked. */
function knownBy({ mark_in, mark_out, marks_basis, seen_on }: Situation["stops"][number]): string {
  const marks =
    mark_in === null && mark_out === null
      ? say`no marks`
      : marks_basis === "computed"
        ? say`worked out`
        : marks_basis === "read"
          ? "read"
          : say`as told`;
  return seen_on ? say`${marks}; seen ${shownDay(seen_on)}` : say`${marks}; no visit on record`;
}

type Value = { readonly word: string; readonly value: Cell };

function facts({ reason, people, starts_on, replace_by }: Packet): Value[] {
  const rows: Value[] = [
    { word: say`Job`, value: reason },
    { word: say`People`, value: people },
    { word: say`Begins`, value: starts_on && shownDay(starts_on) },
  ];
  if (replace_by) rows.push({ word: say`Temporary, to be replaced by`, value: shownDay(replace_by) });
  return rows;
}

function cutFacts({ situation, make, neighbours }: PacketMend): Value[] {
  const { cable, between, pathway, kind, new_cable_m, points } = situation;
  return [
    {
      word: say`Cable`,
      value: make ? say`${cable.tag}, ${make.strands} strands, ${make.type ?? say`type not known`}` : cable.tag,
    },
    situation.inside
      ? { word: say`Cut inside`, value: say`${situation.inside.name}, between ${between.join(say` and `)}` }
      : { word: say`Cut between`, value: between.join(say` and `) },
    { word: say`In`, value: pathway?.tag ?? null },
    {
      word: say`Beside it there`,
      value: neighbours.length > 0 ? listed(neighbours.map(({ tag }) => tag)) : say`no other cable on record`,
    },
    { word: say`How far`, value: whereOf(situation) },
    { word: say`Mark at the cut`, value: markAtCut(situation) },
    situation.somewhere
      ? { word: say`Given up`, value: say`all ${metres(lost_m(situation))} between them` }
      : {
          word: situation.whole ? say`Taken as strained` : say`Lost on each side`,
          value: say`${metres(situation.lost_left_m)} and ${metres(situation.lost_right_m)}`,
        },
    ...(situation.whole
      ? [
          {
            word: say`Left whole`,
            value: say`strands ${numberRuns(situation.whole)}, which still shine: the sheath isn't parted, and they aren't touched`,
          },
        ]
      : []),
    { word: say`Mended by`, value: situation.loops ? DARK_ALONE : KINDS[kind] },
    ...points.map(
      ({ words, work_m }, index): Value => ({
        word: say`Splice point`,
        value: situation.loops?.[index] ?? say`${words}, ${metres(work_m)} of sheath on each side to work with`,
      }),
    ),
    ...(new_cable_m > 0 ? [{ word: say`New cable, waste included`, value: metres(new_cable_m) }] : []),
    ...(situation.waits_for_pipe ? [{ word: say`Waits for`, value: WAITS_FOR[situation.form ?? "not_known"] }] : []),
  ];
}

const KINDS = {
  one_point: say`one splice point`,
  two_points: say`two splice points and a piece of new cable between them`,
  to_end: say`one splice point, and new cable from there to the end, landed in the place of the old`,
  new_cable: say`a new cable from end to end`,
} as const;

const DARK_ALONE = say`the dark strands alone, cut in a window of the sheath at two places, and a piece of new cable between them`;

const lost_m = ({ lost_left_m, lost_right_m }: Situation): number => lost_left_m + lost_right_m;

/** Metres along the way from the mouths beside the cut. */
function whereOf({ stops, cut_m, between, somewhere, half, inside }: Situation): string | null {
  if (inside) return null;
  if (somewhere)
    return say`not known when this was planned; where it is found, write it here and ask for the ways again`;
  const index = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
  const [before, beyond] = [stops[index], stops[index + 1]];
  if (!before || !beyond) return null;
  if (half)
    return say`not known when this was planned; taken as half-way, ${metres(cut_m - before.at_m - before.through_m)} from ${between[0]}; where it is found, write it here and ask for the ways again`;
  return say`${metres(cut_m - before.at_m - before.through_m)} from ${between[0]}, ${metres(beyond.at_m - cut_m)} from ${between[1]}, along the way`;
}

function markAtCut({ stops, cut_m, unit, somewhere, half, inside }: Situation): string | null {
  if (somewhere || half) return null;
  if (inside)
    return inside.mark === null
      ? null
      : say`${formatNumber(inside.mark, 1)}${unit === null ? "" : ` ${unit}`}, as it was read there`;
  const index = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
  const [before, beyond] = [stops[index], stops[index + 1]];
  if (!before || !beyond || before.mark_out === null || beyond.mark_in === null || unit === null) return null;
  const from = before.at_m + before.through_m;
  const share = (cut_m - from) / Math.max(0.001, beyond.at_m - from);
  const mark = before.mark_out + share * (beyond.mark_in - before.mark_out);
  return say`about ${formatNumber(mark, 0)} ${unit}, worked out from the marks beside it: the marks on the sheath decide`;
}

/** So many stops on each side of the cut are drawn and listed. */
const NEAR = 5;

function cutBlocks(situation: Situation): Block[] {
  const { stops, cut_m } = situation;
  const at = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
  const from = Math.max(0, at - NEAR + 1);
  const to = Math.min(stops.length, at + 1 + NEAR);
  const part = from > 0 || to < stops.length ? say` Drawn from ${stops[from]?.name} to ${stops[to - 1]?.name}.` : "";
  const mark = (one: number | null): Cell => (one === null ? null : formatNumber(one, 2));
  const blocks: Block[] = [
    { is: "line", drawing: drawingOf(situation, from, to) },
    {
      is: "paragraph",
      text: say`The line of ${situation.cable.tag}, with what was coiled where when the job was planned.${part}`,
    },
    {
      is: "table",
      caption: say`Marks and coils of ${situation.cable.tag}`,
      columns: [
        { head: say`Place`, weight: 2 },
        { head: say`Mark in`, numeric: true },
        { head: say`Mark out`, numeric: true },
        { head: say`Coil on record`, numeric: true },
        { head: say`Stays coiled`, numeric: true },
        { head: say`Known by`, weight: 1.6 },
        { head: say`Found: in`, weight: 1 },
        { head: say`Found: out`, weight: 1 },
        { head: say`Found: coil`, weight: 1 },
      ],
      rows: stops
        .slice(from, to)
        .map((stop): Cell[] => [
          stop.name,
          mark(stop.mark_in),
          mark(stop.mark_out),
          stop.coil_m === null ? null : metres(stop.coil_m),
          (stop.left_m ?? stop.coil_m) === null ? null : metres(stop.left_m ?? stop.coil_m ?? 0),
          knownBy(stop),
          { write: true },
          { write: true },
          { write: true },
        ]),
    },
  ];
  for (const words of situation.assumed)
    blocks.push({ is: "note", sign: "note", text: say`Taken for granted: ${words}.` });
  if (situation.to_prove)
    blocks.push({
      is: "note",
      sign: "caution",
      text: say`The plan rests on what nobody has proven: look before the cable is cut.`,
    });
  return blocks;
}

const breakWords = ({ somewhere, half, whole }: Situation): string => {
  if (somewhere) return say`cut`;
  if (whole) return half ? say`cut in part, taken as half-way` : say`cut in part`;
  return half ? say`cut, taken as half-way` : say`cut`;
};

function drawingOf(situation: Situation, from: number, to: number): LineDrawing {
  const { cable, stops, legs, cut_m, whole, somewhere, lost_left_m, lost_right_m, points, unit } = situation;
  const shown = stops.slice(from, to);
  const at = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
  const before = stops[at];
  return {
    cable: cable.tag,
    stops: shown.map((stop) => {
      const mark = stop.mark_out ?? stop.mark_in;
      return {
        name: stop.name,
        mark: mark === null ? null : `${formatNumber(mark, 1)}${unit ? ` ${unit}` : ""}`,
        coil_m: stop.coil_m,
        spliced: points.some(({ words }) => words === stop.name),
      };
    }),
    legs: legs.slice(from, to - 1).map(({ length_m, pathway }) => ({ metres: length_m, pathway })),
    breaks: [
      {
        leg: at - from,
        at_m: before && !somewhere ? cut_m - before.at_m - before.through_m : null,
        // How much of a sheath that is cut in part is destroyed nobody said.
        destroyed_m: whole ? null : lost_left_m + lost_right_m,
        words: breakWords(situation),
      },
    ],
  };
}

function owners({ owners: all }: Packet): Block[] {
  if (all.length === 0) return [];
  return [
    { is: "heading", level: 1, text: say`Whom to call` },
    {
      is: "table",
      caption: say`Owners in the broken way and of the circuits, and how to reach them`,
      columns: [
        { head: say`Who`, weight: 2 },
        { head: say`For`, weight: 2 },
        { head: say`By day`, weight: 2 },
        { head: say`By night`, weight: 2 },
      ],
      rows: all.map(({ party, name, role, day, night, of }): Cell[] => [
        name ? `${name} (${party.tag})` : party.tag,
        of.length > 0 ? listed(of.map(({ tag }) => tag)) : role === "self" ? say`the plant itself` : say`asking leave`,
        day,
        night,
      ]),
    },
  ];
}

const MOST = 8;
const listed = (tags: readonly string[]): string =>
  tags.length > MOST ? say`${tags.slice(0, MOST).join(", ")} and ${tags.length - MOST} more` : tags.join(", ");

const clashes = ({ clashes: all }: Packet): Block[] =>
  all.map(({ job, words, wanted }) => ({
    is: "note",
    sign: "caution",
    text: say`Job ${job.tag} wants the same ${words}: ${listed(wanted.map(({ tag }) => tag))}. Talk to each other first.`,
  }));

function circuits({ circuits: all }: Packet): Block[] {
  if (all.length === 0) return [];
  return [
    {
      is: "table",
      caption: say`Circuits on this glass, the most urgent first`,
      columns: [
        { head: say`Priority`, numeric: true },
        { head: say`Circuit`, weight: 2 },
        { head: say`Whose`, weight: 2 },
        { head: say`Back at`, weight: 2 },
      ],
      rows: all.map(({ circuit, priority, owner }): Cell[] => [
        priority === null ? "" : String(priority),
        circuit.tag,
        owner?.tag ?? say`the plant's own`,
        { write: true },
      ]),
    },
  ];
}

function places({ places: all }: Packet): Block[] {
  if (all.length === 0) return [];
  return [
    { is: "heading", level: 1, text: say`Places` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: say`Place`, weight: 2 },
        { head: say`What it is`, weight: 2 },
        { head: say`On record as dangerous`, weight: 3 },
        { head: say`Key`, weight: 2 },
        { head: say`Where`, weight: 3 },
      ],
      rows: all.map((one): Cell[] => [
        one.name ? `${one.place.tag}, ${one.name}` : one.place.tag,
        one.kind,
        one.hazards.length > 0 ? one.hazards.join(", ") : say`nothing on record`,
        one.key_holder ? (one.key_holder.name ?? one.key_holder.party.tag) : "",
        spotOf(one),
      ]),
    },
    {
      is: "note",
      sign: "note",
      text: say`A coordinate is where the record puts the place; marks on the ground and on the sheath decide.`,
    },
  ];
}

function spotOf({ spot, along }: PacketPlace): Cell {
  if (!spot) return along;
  const off = spot.accuracy_m === null ? say`accuracy not known` : `± ${metres(spot.accuracy_m)}`;
  const there = `${spot.latitude.toFixed(6)}, ${spot.longitude.toFixed(6)} (${off})`;
  return along === null ? there : say`${along}; by the line of that way ${there}`;
}

function stepBlocks({ steps }: Packet): Block[] {
  return [
    { is: "heading", level: 1, text: say`Steps` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: say`Step`, numeric: true, weight: 0.7 },
        { head: say`Done`, weight: 0.7 },
        { head: say`Where`, weight: 1.6 },
        { head: say`What`, weight: 6 },
        { head: say`By, at`, weight: 2 },
      ],
      rows: steps.map(({ ordinal, state, place, words, done_on, done_by }): Cell[] => [
        String(ordinal),
        { tick: state === "done" },
        place?.tag ?? "",
        state === "skipped" ? say`Left out: ${words}` : words,
        done_on ? `${shownDay(done_on)}${done_by ? `, ${done_by}` : ""}` : { write: true },
      ]),
    },
  ];
}
