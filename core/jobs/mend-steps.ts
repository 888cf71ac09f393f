/** The steps of a chosen mend, in the order in which a crew does them; each says where, and what it changes on record. */
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import type { Point } from "../repair/remain.ts";
import type { SlidStop } from "../repair/slid.ts";
import { bareWords, besideCut } from "../repair/told.ts";
import { formOf, NO_WAY } from "../repair/ways.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { clearInside, clearSteps, markGround } from "./clear-steps.ts";
import { leaveSheath, openSteps } from "./dark-steps.ts";
import { deadTold } from "./mend-dead.ts";
import { besideSteps, deadSteps, landSteps, pieceEnds, piecePlaces } from "./mend-ends.ts";
import { besideWords, listed, type MendFacts, metres, ontoOf } from "./mend-facts.ts";
import { cutStop, cutWhere, marksOf } from "./mend-marks.ts";
import { metalSteps } from "./metal-steps.ts";
import { printSteps } from "./print-steps.ts";
import { pullSteps } from "./pull-steps.ts";
import { sealSteps } from "./seal-steps.ts";
import { comesAgain, readAnew, spliceSteps } from "./splice-steps.ts";
import { byHand, DAY, type PlannedStep } from "./step.ts";
import { joinings, openings } from "./take-over.ts";

export function mendSteps(facts: MendFacts): PlannedStep[] {
  const { reckoned, plan } = facts;
  const { cable, on } = reckoned;
  const here = cable.tag;
  const before = on.stops[facts.before];
  const after = on.stops[facts.before + (facts.inside === null ? 1 : 2)];
  const around = [before?.name ?? say`the first stop`, after?.name ?? say`the last stop`];
  const placeOf = (at: Point): RecordRef | null =>
    at === "cut"
      ? facts.hole && { kind: "space", id: facts.hole.id, tag: facts.hole.tag }
      : (on.stops[at]?.place ?? null);
  const marks = marksOf(facts);
  const severed = facts.before + 1;
  /** A stop's order once the cut is on record: in a place it is that place's own stop. */
  const moves = facts.cutOrder === null && facts.inside === null ? 1 : 0;
  const recorded = (at: Point): number =>
    at === "cut"
      ? (facts.cutOrder ??
        (facts.inside === null ? null : facts.orders[facts.inside]) ??
        (facts.orders[facts.before] ?? severed) + 1)
      : (facts.orders[at] ?? 0) + (at > facts.before ? moves : 0);
  const runsOn = facts.dark !== null && !facts.dark.severs;
  const held = runsOn ? [] : plan.points.flatMap((point) => (point.held && point.at !== "cut" ? [point.at] : []));
  /** Beside a case or panel the splice is a stop of its own: those that come before an order. */
  const addedBefore = (order: number): number =>
    held.filter((at) => (at <= facts.before ? recorded(at) < order : recorded(at) <= order)).length;
  const ownOrder = (at: Point): number => recorded(at) + addedBefore(recorded(at));
  /** Where a remain ends: beside the case or panel where it is held, else the stop itself. */
  const orderOf = (at: Point): number =>
    at !== "cut" && held.includes(at) ? ownOrder(at) + (at <= facts.before ? 1 : -1) : ownOrder(at);

  // What shines is in service: no instrument is put to it.
  const every = facts.dark ? say`strands ${facts.dark.range}` : say`every strand`;
  const steps: PlannedStep[] = [
    byHand(
      say`At ${listed(coilsRestedOn(facts, around))} look at the coils of ${cable.tag}; measure ${every} of it from both far ends towards the break; enter what was found, and ask for the ways to mend it again before going on`,
      before?.place ?? null,
    ),
    ...(reckoned.somewhere
      ? [
          byHand(
            // Said once for all cables of a job that are cut there, whichever way they run.
            say`Where between ${around.toSorted().join(say` and `)} the break lies is not known, and all between them is given up; if it is found before new cable is ordered or laid, ask for the ways to mend it again with its mark or metres: less may do`,
            before?.place ?? null,
          ),
        ]
      : []),
    byHand(
      say`Identify ${cable.tag} by two independent signs on both sides of the break; measure that a strand is dark before cutting it`,
      before?.place ?? null,
      ["identify", "glass"],
    ),
  ];
  if (facts.cutOrder === null) {
    steps.push({
      act: "cable.sever",
      input: {
        cable: here,
        ...cutStop(facts),
        ...(facts.dark ? { cut: facts.dark.range } : {}),
        ...marks.severed(),
      },
      words: say`Record that ${cable.tag} is cut ${cutWhere(facts)}${facts.dark ? say`: strands ${facts.dark.range} are dark, the others still shine` : ""}`,
      place: before?.place ?? null,
    });
  }
  if (facts.dark?.severs) {
    const down = facts.dark.takes_down;
    steps.push({
      act: "cable.sever",
      input: {
        cable: here,
        stop: recorded("cut"),
        ...marks.severed(),
      },
      words: say`Sever the strands of ${cable.tag} that still shine${down.length > 0 ? say`, which takes down ${listed(down)}` : ""}: only when whoever answers for it has said so`,
      place: before?.place ?? null,
    });
  }
  const uncut = reckoned.waiting?.strands.on;
  if (facts.dark === null && uncut && uncut.size > 0) {
    const range = shortRange([...uncut].sort((a, b) => a - b));
    steps.push({
      act: "cable.sever",
      input: { cable: here, stop: recorded("cut"), cut: range, ...marks.severed() },
      words: say`Sever strands ${range} of ${cable.tag}, which run on through the cut on record: where light is in them, only when whoever answers for it has said so`,
      place: before?.place ?? null,
    });
  }
  if (facts.hole) {
    steps.push(markGround(around), {
      act: "record.edit",
      input: { kind: "space", id: facts.hole.id, values: { life: "in_place", life_from: DAY } },
      words: say`Dig hole ${facts.hole.tag} ${whereDug(facts, around)} and set it`,
      place: placeOf("cut"),
    });
  }
  steps.push(...besideSteps(facts, marks, held, recorded, placeOf));
  if (runsOn) steps.push(...leaveSheath(facts));
  const dead = runsOn ? [] : deadSteps(facts, placeOf);
  if (plan.waits_for_pipe && !facts.over_ground) {
    const form = formOf(on.ways[facts.before] ?? NO_WAY);
    steps.push(
      ...(facts.inside === null
        ? clearSteps(around, form, dead, facts.hole?.tag ?? facts.passes?.hole, runsOn ? cable.tag : null)
        : [
            ...clearInside(
              on.stops[facts.inside]?.name ?? say`the place`,
              around,
              on.stops[facts.inside]?.place ?? null,
            ),
            ...dead,
          ]),
    );
  } else steps.push(...dead);
  // A case hangs before a cable is said to enter it.
  for (const one of facts.cases) steps.push(one.step);
  const orderAt = ({ at, beside }: SlidStop): number => (beside ? orderOf(at) : ownOrder(at));
  steps.push(...(runsOn ? openSteps(facts, orderOf, placeOf) : pullSteps(facts, marks, orderOf, orderAt, placeOf)));
  if (facts.hole && facts.divided) {
    const { pathway, from_m, tag } = facts.divided;
    steps.push({
      act: "pathway.divide",
      input: { pathway, at: facts.hole.tag, tag, ...(from_m === null ? {} : { from_m }) },
      words: say`Record that ${pathway} is divided at ${facts.hole.tag}: beyond it ${tag}; every cable in it passes ${facts.hole.tag}. Read there the marks of those that only pass and enter them, for they are worked out`,
      place: placeOf("cut"),
    });
  }
  if (facts.piece && facts.laid.length > 0)
    steps.push(byHand(besideWords(facts, facts.piece.tag), placeOf(plan.points[0]?.at ?? "cut")));
  if (facts.piece) {
    const { tag, changes } = facts.piece;
    const ends = pieceEnds(facts, placeOf);
    steps.push({
      act: "record.change_many",
      input: { changes, summary: say`Lay ${tag}` },
      words:
        plan.kind === "new_cable"
          ? say`Lay cable ${tag}, ${metres(plan.new_cable_m)}, from end to end`
          : facts.over_ground
            ? say`Lay ${tag}, ${metres(plan.new_cable_m)} by the way and more where the ground asks for it, over the ground between ${ends[0]} and ${ends[1]}; guard and mark it against wheels, feet and blades`
            : facts.make
              ? say`Lay ${tag}, ${metres(plan.new_cable_m)} of ${facts.make.type}, between ${ends[0]} and ${ends[1]}: ${counted(facts.dark?.numbers.size ?? 0, "strand", "strands")} would do, and where another make is laid it is entered with its type and strands`
              : say`Lay ${tag}, ${metres(plan.new_cable_m)}, between ${ends[0]} and ${ends[1]}${coilWords(facts)}`,
      place: placeOf(plan.points[0]?.at ?? "cut"),
    });
  }
  steps.push(...sealSteps(facts, placeOf));
  if (facts.piece && facts.through) {
    // What branches off on the way is moved unit by unit, and with it its circuits; what is joined nowhere is given the same.
    steps.push(...openings(facts, facts.through, facts.piece.tag), ...joinings(facts, facts.through, facts.piece.tag));
  }
  const moved = new Set(facts.through?.joints.map(({ number }) => number));
  const free = facts.units
    .flatMap(({ numbers }) => numbers.filter((number) => !moved.has(number)))
    .toSorted((a, b) => a - b);
  if (facts.piece && (!facts.through || free.length > 0)) {
    steps.push({
      act: "cable.carry",
      input: {
        cable: here,
        by: escapeName(facts.piece.tag, ""),
        ...(facts.through
          ? { strands: shortRange(free) }
          : facts.waiting.length > 0
            ? { strands: shortRange(facts.units.flatMap(({ numbers }) => numbers).sort((a, b) => a - b)) }
            : runsOn && facts.dark
              ? { strands: shortRange(free) }
              : {}),
        ...(facts.onto ? { onto: ontoOf(facts, free) } : {}),
        // Up to the cut their glass is left as it lies: nothing runs there any more.
        ...(runsOn ? { aside: orderOf("cut") + comesAgain(facts, "cut") } : {}),
      },
      words: facts.onto
        ? say`Give ${facts.piece.tag}:${ontoOf(facts, free)} the circuits of ${cable.tag}:${shortRange(free)}, and free their glass up to the cut, which stays dark`
        : say`Give ${facts.piece.tag} the circuits of ${cable.tag}, number for number`,
      place: null,
    });
  }
  if (facts.piece) {
    steps.push(...landSteps(facts, orderOf, placeOf));
  }
  steps.push(...spliceSteps(facts, orderOf, placeOf));
  if (!runsOn) steps.push(...deadTold(reckoned, facts.dead_lengths, facts.over_ground));
  if (facts.waiting.length > 0) {
    const waiting = shortRange(facts.waiting.toSorted((a, b) => a - b));
    steps.push(
      byHand(
        say`Leave strands ${waiting} of ${cable.tag} stored in ${listed(facts.cases.map(({ tag }) => tag))}: they carry no circuit in service, and wait for the job that makes this one permanent`,
      ),
    );
  }
  const ofPiece = facts.piece ? piecePlaces(facts, facts.piece.stops, placeOf) : [];
  steps.push(...metalSteps(facts, ofPiece, orderOf, placeOf));
  if (facts.piece) steps.push(...printSteps(facts.piece.tag, ofPiece));
  if (!runsOn) steps.push(...readAnew(facts, marks.slid, marks.printed, orderOf, orderAt, placeOf));
  steps.push(
    byHand(
      plural(
        facts.cases.length,
        "Measure {1} of {2} from both ends and enter the readings; close the case, hang labels, write down what was left in the holes",
        "Measure {1} of {2} from both ends and enter the readings; close the cases, hang labels, write down what was left in the holes",
        runsOn ? every : say`every strand`,
        cable.tag,
      ),
    ),
  );
  return steps;
}

/**
 * On each side of the break the nearest place with a coil, or of which nobody knows whether it has one, for a digger empties
 * that one first; and those from whose coils the plan draws, in the order in which it comes by.
 */
function coilsRestedOn(
  { plan, dark, before, inside, reckoned: { on } }: MendFacts,
  around: readonly string[],
): string[] {
  const drawn = [...plan.left.drawn, ...plan.right.drawn].map(({ stop }) => stop);
  // A loop is opened where it lies, whatever lies between it and the break.
  if (dark && !dark.severs) drawn.push(...plan.points.flatMap(({ at }) => (at === "cut" ? [] : [at])));
  const after = before + (inside === null ? 1 : 2);
  const { stops: all } = on.course;
  // Less than half a metre is how the cable is dressed along the wall.
  const coiled = (coil_m: number | null): boolean => coil_m === null || coil_m > 0.5;
  const left = all.findLastIndex((stop, at) => at <= before && coiled(stop.coil_right_m));
  const right = all.findIndex((stop, at) => at >= after && coiled(stop.coil_left_m));
  // Where no coil is on record on a side, the place next to the break is looked at all the same.
  const nearest = [left < 0 ? before : left, right < 0 ? after : right];
  const stops = [...new Set([...nearest, ...drawn])].sort((a, b) => a - b);
  const [near = "", far = ""] = around;
  return [
    ...new Set(stops.map((at) => (at === before ? near : at === after ? far : (on.stops[at]?.name ?? say`a stop`)))),
  ];
}

/** What is left coiled of a piece at the places it passes, and where nothing of it is. */
function coilWords({ plan, before, reckoned: { on } }: MendFacts): string {
  const bare = bareWords(plan, on, before);
  if (bare !== null) return `; ${bare}`;
  const coils = plan.coils_m.flatMap(({ stop, coil_m }) =>
    coil_m > 0.05 ? [say`${metres(coil_m)} at ${on.stops[stop]?.name ?? say`a place not known`}`] : [],
  );
  return coils.length === 0 ? "" : say`; leave coiled ${listed(coils)}`;
}

/** Where a hole is dug, in metres of way from the places on both sides; where that is beside the cut, by how much. */
function whereDug({ divided, plan, reckoned: { cut } }: MendFacts, [before, after]: readonly string[]): string {
  const hole = plan.points.find(({ at }) => at === "cut");
  const beyond_m = hole ? besideCut(hole, cut) : 0;
  const beside =
    beyond_m === 0
      ? say`at the cut`
      : say`${metres(Math.abs(beyond_m))} nearer to ${beyond_m < 0 ? before : after} than the cut`;
  if (!divided?.apart_m) return beside;
  const [near_m, far_m] = divided.apart_m;
  return say`${beside}, in ${divided.pathway} ${metres(near_m)} from ${before} and ${metres(far_m)} from ${after} along the way (look for the break itself: the record may be off)`;
}
