/** What a packet says of the cut: where it is, how it is mended, the line with its marks and coils. */
import { formatLength, formatNumber } from "../model/units.ts";
import { shownDay } from "../model/wording.ts";
import type { Block, Cell } from "../paper/document.ts";
import type { LineDrawing, LineNew, LinePlace } from "../paper/line.ts";
import { WAITS_FOR } from "../repair/ways.ts";
import { numberRuns } from "../store/addresses.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Packet, PacketMend } from "./packet.ts";
import type { Situation } from "./situation.ts";

const metres = (value: number): string => formatLength(value, "m", 1);

const MOST = 8;
const listed = (tags: readonly string[]): string =>
  tags.length > MOST ? say`${tags.slice(0, MOST).join(", ")} and ${tags.length - MOST} more` : tags.join(", ");

/** A paper is read days later: when what it says was known stands on it. */
export const knownWords = ({ situation }: Packet): string =>
  situation?.known_on ? say`Situation, as known on ${shownDay(situation.known_on)}` : say`Situation`;

/** How a stop's marks were known, and when somebody last looked. */
function knownBy(
  { mark_in, mark_out, marks_basis, both_coils_m, seen_on }: Situation["stops"][number],
  unit: Situation["unit"],
): string {
  const marks =
    mark_in === null && mark_out === null
      ? unit === null && marks_basis
        ? say`marks on record, but not whether they are metres or feet`
        : say`no marks`
      : marks_basis === "computed"
        ? say`worked out`
        : marks_basis === "read"
          ? say`read`
          : say`as told`;
  const seen = seen_on ? say`${marks}; seen ${shownDay(seen_on)}` : say`${marks}; no visit on record`;
  return both_coils_m === undefined ? seen : say`${seen}; not on which side of its opening`;
}

function coilCell({ coil_m, both_coils_m }: Situation["stops"][number]): string | null {
  if (coil_m !== null) return metres(coil_m);
  return both_coils_m === undefined ? null : say`${metres(both_coils_m)} in all`;
}

type Value = { readonly word: string; readonly value: Cell };

export function facts({ reason, people, starts_on, replace_by }: Packet): Value[] {
  const rows: Value[] = [
    { word: say`Job`, value: reason },
    { word: say`People`, value: people },
    { word: say`Begins`, value: starts_on && shownDay(starts_on) },
  ];
  if (replace_by) rows.push({ word: say`Temporary, to be replaced by`, value: shownDay(replace_by) });
  return rows;
}

/** What is to be said of each cut; what is true of all of several stands apart, said once. */
export function factsOfCuts({ mends }: Packet): { readonly common: Value[]; readonly each: readonly Value[][] } {
  const own = new Set(mends.map(({ situation }) => situation.cable.id));
  const all = mends.map((mend) =>
    // Each is told of above all of them: beside them is what the job doesn't mend.
    cutFacts(mends.length > 1 ? { ...mend, neighbours: mend.neighbours.filter(({ id }) => !own.has(id)) } : mend),
  );
  if (all.length < 2) return { common: [], each: all };
  const key = (row: Value): string => JSON.stringify(row);
  const others = all.slice(1).map((rows) => new Set(rows.map(key)));
  const common = (all[0] ?? []).filter((row) => others.every((rows) => rows.has(key(row))));
  const told = new Set(common.map(key));
  return { common, each: all.map((rows) => rows.filter((row) => !told.has(key(row)))) };
}

function cutFacts({ situation, make, neighbours }: PacketMend): Value[] {
  const { cable, between, pathway, kind, new_cable_m, points } = situation;
  return [
    {
      word: say`Cable`,
      value: make
        ? say`${cable.tag}, ${counted(make.strands, "strand")}, ${make.type ?? say`type not known`}`
        : cable.tag,
    },
    situation.inside
      ? { word: say`Cut inside`, value: say`${situation.inside.name}, between ${between.join(say` and `)}` }
      : { word: situation.lasting ? say`Bridged between` : say`Cut between`, value: between.join(say` and `) },
    { word: say`In`, value: pathway?.tag ?? null },
    {
      word: say`Beside it there`,
      value: neighbours.length > 0 ? listed(neighbours.map(({ tag }) => tag)) : say`no other cable on record`,
    },
    ...(situation.lasting
      ? []
      : [
          { word: say`How far`, value: whereOf(situation) },
          { word: say`Mark at the cut`, value: markAtCut(situation) },
        ]),
    ...downWords(situation),
    ...(situation.not_back ?? []).map(
      ({ circuit, words }): Value => ({ word: say`Not brought back`, value: say`${circuit.tag}: ${words}` }),
    ),
    ...lostWords(situation),
    ...(situation.whole
      ? [
          {
            word: say`Left whole`,
            value: say`strands ${numberRuns(situation.whole)}, which still shine: the sheath isn't parted, and they aren't touched`,
          },
        ]
      : []),
    { word: say`Mended by`, value: situation.loops ? (kind === "to_end" ? DARK_TO_END : DARK_ALONE) : KINDS[kind] },
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

function lostWords(situation: Situation): Value[] {
  if (situation.lasting) return [];
  return [
    situation.somewhere
      ? { word: say`Given up`, value: say`all ${metres(lost_m(situation))} between them` }
      : {
          word: situation.whole ? say`Taken as strained` : say`Lost on each side`,
          value: say`${metres(situation.lost_left_m)} and ${metres(situation.lost_right_m)}`,
        },
  ];
}

/** The circuits it took down, the most urgent first; those that were only planned or reserved aren't down. */
function downWords({ expected = [], lasting }: Situation): Value[] {
  const down = new Map(
    expected.flatMap(({ circuit, priority, state = "in_service" }) =>
      state === "in_service" ? [[circuit.tag, priority === null ? circuit.tag : `${circuit.tag} (${priority})`]] : [],
    ),
  );
  return down.size === 0
    ? []
    : [
        {
          word: lasting ? say`Circuits on the piece` : say`Circuits, by priority`,
          value: say`${down.size}: ${listed([...down.values()])}`,
        },
      ];
}

const KINDS = {
  one_point: say`one splice point`,
  two_points: say`two splice points and a piece of new cable between them`,
  to_end: say`one splice point, and new cable from there to the end, landed in the place of the old`,
  new_cable: say`a new cable from end to end`,
} as const;

const DARK_ALONE = say`the dark strands alone, cut in a window of the sheath at two places, and a piece of new cable between them`;
const DARK_TO_END = say`the dark strands alone, cut in a window of the sheath at one place, and new cable from there to the end, landed in their place`;

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

export function cutBlocks(situation: Situation): Block[] {
  const { stops, cut_m } = situation;
  const at = stops.findLastIndex((stop) => stop.at_m + stop.through_m <= cut_m);
  const from = Math.max(0, at - NEAR + 1);
  const to = Math.min(stops.length, at + 1 + NEAR);
  const part = from > 0 || to < stops.length ? say` Drawn from ${stops[from]?.name} to ${stops[to - 1]?.name}.` : "";
  const mark = (one: number | null): Cell => (one === null ? null : formatNumber(one, 2));
  const unit = situation.unit === null ? "" : `, ${situation.unit}`;
  const blocks: Block[] = [
    { is: "line", drawing: drawingOf(situation, from, to) },
    {
      is: "table",
      caption: say`Marks and coils of ${situation.cable.tag} on record when the job was planned.${part}`,
      columns: [
        { head: say`Place`, weight: 1.5 },
        { head: say`Mark in${unit}`, numeric: true },
        { head: say`Mark out${unit}`, numeric: true },
        { head: say`Coil on record`, numeric: true },
        { head: say`Stays coiled`, numeric: true },
        { head: say`Known by`, weight: 2.4 },
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
          coilCell(stop),
          (stop.left_m ?? stop.coil_m) === null ? null : metres(stop.left_m ?? stop.coil_m ?? 0),
          knownBy(stop, situation.unit),
          { write: true },
          { write: true },
          { write: true },
        ]),
    },
  ];
  for (const words of situation.assumed)
    blocks.push({ is: "note", sign: "note", text: say`Taken for granted: ${words.replace(/\.$/, "")}.` });
  if (situation.to_prove)
    blocks.push({
      is: "note",
      sign: "caution",
      text: say`The plan rests on what nobody has proven: look before the cable is cut.`,
    });
  return blocks;
}

const breakWords = ({ somewhere, half, whole, lasting }: Situation): string => {
  if (lasting) return say`the cut, bridged over the ground`;
  if (somewhere) return say`cut`;
  if (whole) return half ? say`cut in part, taken as half-way` : say`cut in part`;
  return half ? say`cut, taken as half-way` : say`cut`;
};

function drawingOf(situation: Situation, from: number, to: number): LineDrawing {
  const { cable, stops, legs, cut_m, whole, somewhere, lasting, lost_left_m, lost_right_m, points, unit } = situation;
  const fresh = freshOf(situation, from, to);
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
        destroyed_m: whole ? null : lasting ? 0 : lost_left_m + lost_right_m,
        words: breakWords(situation),
      },
    ],
    ...(fresh.length > 0 ? { fresh } : {}),
  };
}

/** Holes to be dug for a splice, and the piece between two of them, as far as what is drawn reaches. */
function freshOf({ stops, points, kind, new_cable_m }: Situation, from: number, to: number): LineNew[] {
  const placeOf = ({ words, at_m }: Situation["points"][number]): LinePlace | null => {
    const stop = stops.findIndex(({ name }) => name === words);
    if (stop >= 0) return stop >= from && stop < to ? { stop: stop - from } : null;
    const leg = stops.findLastIndex((one) => one.at_m + one.through_m <= at_m);
    const before = stops[leg];
    if (!before || leg < from || leg >= to - 1) return null;
    return { leg: leg - from, at_m: at_m - before.at_m - before.through_m };
  };
  const spots = points.map((point) => ({ point, place: placeOf(point) }));
  const holes = spots.flatMap(({ point, place }): LineNew[] =>
    place && "leg" in place ? [{ from: place, words: say`◆ splice in ${point.words}` }] : [],
  );
  const [first, second] = spots;
  const words = say`new cable, ${metres(new_cable_m)}`;
  if (kind === "two_points" && first?.place && second?.place)
    return [...holes, { from: first.place, to: second.place, words }];
  if (kind === "new_cable") return [...holes, { from: { stop: 0 }, to: { stop: to - from - 1 }, words }];
  return holes;
}
