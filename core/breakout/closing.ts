/** The reverse of a break-out: the splices to the lateral are taken out, and the halves of each strand joined again. */
import { strandsToCut } from "../act/cable-open.ts";
import type { EndJoint } from "../act/joints.ts";
import { shortRange } from "../act/numbering.ts";
import { byHand, type PlannedStep } from "../jobs/step.ts";
import { refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { placeOf } from "../trace/places.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { ClosingAnswer } from "./answer.ts";
import { type Chosen as ChosenCase, casesFor, chooseCase } from "./cases.ts";
import {
  type ClosingRun,
  type CutStrand,
  cutStrandsAt,
  lateralsOf,
  linesOf,
  runsOf,
  strandTold,
} from "./closing-glass.ts";
import { breakoutCautions, builtAs } from "./construction.ts";
import { limitOf } from "./limits.ts";
import { type StopAsked, stopOfCable } from "./openable.ts";

export interface ClosingAsked extends StopAsked {
  /** As a list or range; null for all that are cut there and not joined again. */
  readonly strands: string | null;
  /** The case of splices that have no tray yet. */
  readonly closure: string | null;
}

/** Refuses `not_possible` where the cable isn't opened, `not_found` and `bad_input` as the names of strands do. */
export async function closing(reader: Reader, asked: ClosingAsked, today: string): Promise<ClosingAnswer> {
  const { stretch, stop, cable, cables } = await stopOfCable(reader, asked);
  const { tag } = cable.ref;
  const ref: RecordRef = { kind: "stop", id: stop.id, tag: `${tag}@${stop.ordinal}` };
  const place = placeOf(cables.spaces.get(stop.space_id ?? 0)).space;
  const cut = await cutStrandsAt(reader, cables, cable, stop.id);
  const named = asked.strands === null ? null : await strandsToCut(reader, stretch.cable.tag, asked.strands);
  const wanted = named && new Set(named.strands.map(({ number }) => number));
  const missing = [...(wanted ?? [])].filter((number) => !cut.some((one) => one.number === number));
  if (cut.length === 0 || missing.length > 0) {
    const reason =
      cut.length === 0
        ? say`has no strand that is cut at ${stop.place}`
        : plural(missing.length, "{1} is not cut at {2}", "{1} are not cut at {2}", shortRange(missing), stop.place);
    refuse("not_possible", say`Nothing can be joined again: ${cable.ref.tag} ${reason}.`, [
      { field: cut.length === 0 ? "at" : "strands", record: cut.length === 0 ? ref.tag : cable.ref.tag, reason },
    ]);
  }
  const strands = cut.filter(({ number }) => wanted === null || wanted.has(number));
  const closable = strands.filter(({ refused }) => refused === null);
  const removed = [...new Map(closable.flatMap(({ joints }) => joints.map((one) => [one.id, one] as const))).values()];
  const lines = await linesOf(reader, closable, today);
  const laterals = await lateralsOf(reader, closable, removed, cable.ref.id, stop.space_id);
  const runs = await runsOf(reader, closable, removed);
  const loose = runs.filter(({ tray }) => tray === null);
  const caseAsked = {
    place: place ?? ref,
    own: stop.closure_id,
    named: asked.closure,
    fresh: null,
    tray_splices: limitOf(await limitsInUse(reader), "breakout.tray_splices", 12),
    entering: false,
  };
  const held =
    loose.length === 0
      ? null
      : chooseCase(
          await casesFor(reader, caseAsked),
          caseAsked,
          // A ribbon spliced at once takes one place of a tray.
          loose.map(({ numbers, ribbon }) => (ribbon === null ? numbers.length : 1)),
        );
  const trayed = [...runs.filter(({ tray }) => tray !== null), ...(held ? placedIn(held, loose) : [])];
  const built = await builtAs(reader, cable.ref.id);
  const told = await Promise.all(strands.map((one) => strandTold(reader, one, cables, tag)));
  const to_prove = closable.flatMap(({ number, near, far, joints }) =>
    [
      ...(near.b_stub === null && !joints.some(({ section_id }) => section_id === near.id) ? ["A"] : []),
      ...(far.a_stub === null && !joints.some(({ section_id }) => section_id === far.id) ? ["Z"] : []),
    ].map((side) => say`whether a stub of ${tag}:${number} is left on its ${side} side`),
  );
  const parted = [...new Set(runs.flatMap(({ ribbon, numbers }) => (ribbon === null ? numbers : [])))].flatMap(
    (number) => closable.find((one) => one.number === number && one.ribbon !== null)?.ribbon?.words ?? [],
  );
  for (const words of new Set(parted))
    to_prove.push(
      say`whether ${words} can be joined in part: not all its strands are joined here, so they are spliced one by one`,
    );
  const { on_record: _, placed: __, ...caseTold } = held ?? { on_record: null, placed: [] };
  return {
    cable: cable.ref,
    stop: ref,
    place,
    strands: told,
    opened: removed.length,
    closed: closable.length,
    laterals,
    circuits: lines,
    case: held ? (caseTold as ClosingAnswer["case"]) : null,
    to_prove,
    steps:
      closable.length === 0
        ? []
        : closingSteps({ tag, stop: stop.ordinal, place, removed, trayed, laterals, circuits: lines }),
    sentence: sentenceOf(cable.ref.tag, stop.place, strands, closable, laterals, lines),
    cautions: breakoutCautions(built, cables.spaces.get(stop.space_id ?? 0), lines.length),
  };
}

/** What lies in no tray yet, in the trays of a case. */
function placedIn({ placed, trays }: ChosenCase, loose: readonly ClosingRun[]): ClosingRun[] {
  const next = new Map(trays.map(({ tray, first_place }) => [tray, first_place]));
  return loose.flatMap((run, index) =>
    (placed[index] ?? []).map(({ tray, from, count }): ClosingRun => {
      const first_place = next.get(tray) ?? null;
      next.set(tray, first_place === null ? null : first_place + count);
      return run.ribbon === null
        ? { ...run, tray, numbers: run.numbers.slice(from, from + count) }
        : { ...run, tray, first_place };
    }),
  );
}

interface ClosingFacts {
  readonly tag: string;
  readonly stop: number;
  readonly place: RecordRef | null;
  readonly removed: readonly EndJoint[];
  readonly trayed: readonly ClosingRun[];
  readonly laterals: ClosingAnswer["laterals"];
  readonly circuits: ClosingAnswer["circuits"];
}

function closingSteps({ tag, stop, place, removed, trayed, laterals, circuits }: ClosingFacts): PlannedStep[] {
  const all = trayed.flatMap(({ numbers }) => numbers).sort((a, b) => a - b);
  const urgent = circuits.map(({ circuit }) => circuit.tag).join(", ");
  return [
    byHand(
      plural(
        all.length,
        "Identify {1} at {2} by two independent signs; measure that {1}:{3} is dark on both sides{4}",
        "Identify {1} at {2} by two independent signs; measure that {1}:{3} are dark on both sides{4}",
        tag,
        place?.tag ?? say`the place`,
        shortRange(all),
        urgent ? say`; first move or end ${urgent}, and release the glass on record` : "",
      ),
      place,
      ["identify", "glass"],
    ),
    ...(removed.length === 0
      ? []
      : [
          {
            act: "record.change_many",
            input: {
              changes: removed.map(({ id }) => ({ op: "edit", kind: "splice", id, values: { life: "removed" } })),
              summary: plural(removed.length, "Take {0} splice of {1} out", "Take {0} splices of {1} out", tag),
            },
            words: plural(
              removed.length,
              "Take out {0} splice of {1}:{2}{3}",
              "Take out {0} splices of {1}:{2}{3}",
              tag,
              shortRange(all),
              laterals.length > 0 ? say`, from ${laterals.map(({ strands }) => strands).join(say` and `)}` : "",
            ),
            place,
          },
        ]),
    ...trayed.map(
      ({ tray, numbers, ribbon, first_place }): PlannedStep => ({
        act: "splice.close",
        input: {
          strands: `${tag}:${shortRange(numbers)}`,
          stop,
          tray,
          ...(first_place === null ? {} : { first_place }),
          method: "fusion",
          ...(ribbon === null ? {} : { form: "ribbon", ribbon: numbers.length }),
        },
        words:
          ribbon === null
            ? say`Splice both halves of ${tag}:${shortRange(numbers)} through again in ${tray}`
            : say`Splice both halves of ${ribbon}, ${tag}:${shortRange(numbers)}, through again in ${tray}, all ${numbers.length} at once; enter the loss of each strand`,
        place,
      }),
    ),
    ...laterals.flatMap(({ cable, whole }): PlannedStep[] =>
      whole
        ? [
            {
              act: "record.edit",
              input: { kind: "cable", id: cable.id, values: { life: "out_of_use" } },
              words: say`${cable.tag} is out of use: take it out, or hang a label on it that keeps it for later, as the local code asks`,
              place,
            },
          ]
        : [],
    ),
    byHand(
      say`Measure ${tag}:${shortRange(all)} from end to end and enter the readings; close the case, hang labels`,
      place,
    ),
  ];
}

function sentenceOf(
  tag: string,
  place: string,
  strands: readonly CutStrand[],
  closable: readonly CutStrand[],
  laterals: ClosingAnswer["laterals"],
  circuits: ClosingAnswer["circuits"],
): string {
  const numbers = closable.map(({ number }) => number).sort((a, b) => a - b);
  if (numbers.length === 0)
    return strands.length === 1
      ? say`${tag} at ${place}: strand ${strands[0]?.number} can't be joined again as it is.`
      : say`${tag} at ${place}: none of the ${strands.length} strands cut there can be joined again as they are.`;
  const out = laterals.flatMap(({ cable, whole }) => (whole ? [cable.tag] : []));
  const left = strands.length - closable.length;
  return [
    plural(
      numbers.length,
      "{1} at {2}: {1}:{3} is joined again",
      "{1} at {2}: {1}:{3} are joined again",
      tag,
      place,
      shortRange(numbers),
    ),
    out.length > 0
      ? plural(out.length, "{1} goes out of use", "{1} go out of use", out.join(", "))
      : say`no lateral goes out of use`,
    circuits.length === 0
      ? say`no circuit in service goes down`
      : plural(circuits.length, "{0} circuit in service goes down", "{0} circuits in service go down"),
    ...(left > 0 ? [say`${left} can't be joined as they are`] : []),
  ]
    .join("; ")
    .concat(".");
}
