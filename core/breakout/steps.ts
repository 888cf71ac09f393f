/** The steps of a break-out in the order in which a crew does them; those that change the record name the act that notes it. */
import { shortRange } from "../act/numbering.ts";
import { ASKED, byHand, DAY, type OpeningKept, type PlannedStep } from "../jobs/step.ts";
import { escapeName } from "../model/address.ts";
import { formatLength } from "../model/units.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { BreakoutPlan, CutPlace, Half, Loop, UnitOpened } from "./answer.ts";
import type { Chosen } from "./cases.ts";
import type { Lateral } from "./lateral.ts";
import { pipeWords } from "./lateral-pipes.ts";
import { type PullMade, pullSteps, readSteps } from "./pull-steps.ts";
import type { Seals } from "./seals.ts";
import type { StrandHere } from "./strands.ts";
import { listed } from "./wording.ts";

/** Splices of one unit towards one side that lie in one tray. */
export interface SpliceRun {
  readonly towards: Half;
  readonly strands: readonly StrandHere[];
  /** Numbers in the lateral, as many. */
  readonly lateral: readonly number[];
  readonly tray: string;
  readonly first_place: number | null;
  /** The strands are a ribbon, spliced at once in one place of the tray. */
  readonly at_once: boolean;
}

export interface StepFacts {
  readonly cable: RecordRef;
  readonly place: RecordRef;
  readonly stop: { readonly ordinal: number; readonly opened: boolean; readonly closure: number | null };
  readonly around: readonly (RecordRef | null)[];
  /** The places at both ends of the cable. */
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
  readonly loop: Loop;
  /** What can be opened; null where nobody knows. */
  readonly window_m: number | null;
  readonly pulls: readonly PullMade[];
  readonly cut: CutPlace;
  readonly case: Chosen;
  readonly lateral: Lateral;
  readonly units: readonly UnitOpened[];
  /** How many the cable has. */
  readonly all_units: number;
  readonly strands: readonly StrandHere[];
  readonly seals: Seals;
  readonly splices: readonly SpliceRun[];
  readonly at_risk: BreakoutPlan["at_risk"];
  readonly metal: boolean;
  /** Its units lie in a reversing lay. */
  readonly reversing: boolean;
}

const metres = (value: number): string => formatLength(value, "m", 1);

/** What the packet draws, as it was when the job was planned. */
const openingOf = ({
  cable,
  place,
  ends,
  cut,
  loop,
  stop,
  units,
  all_units,
  lateral,
  ...own
}: StepFacts): OpeningKept => ({
  ...{ cable, place, ends },
  cut: { at: cut.at, edge: cut.edge, stub_a: cut.stub_a, stub_z: cut.stub_z, marks: cut.marks, glass: cut.glass },
  window_m: loop.window_m,
  opened_before: stop.opened,
  units: units.map(({ words, layers, takes, strands, live, opened_before }) => ({
    ...{ words, layers, takes, strands, live, opened_before },
  })),
  express: Math.max(0, all_units - units.length),
  case: own.case.tag,
  lateral: { tag: lateral.tag, to: lateral.to },
});

export function breakoutSteps(facts: StepFacts): PlannedStep[] {
  const { cable, place, stop, cut, strands, lateral } = facts;
  const { tag } = cable;
  const numbers = strands.map(({ number }) => number).sort((a, b) => a - b);
  const range = `${tag}:${shortRange(numbers)}`;
  const whole = strands.flatMap(({ through, number }) => (through ? [number] : [])).sort((a, b) => a - b);
  const looked = [place, ...facts.around, ...facts.pulls.map(({ pull }) => pull.place ?? pull.stop)];
  const coils = new Set(looked.flatMap((one) => one?.tag ?? []));
  const live = [...new Set(facts.at_risk.map(({ circuit }) => circuit.tag))];
  const looks: PlannedStep[] = [
    {
      ...byHand(
        say`Look at the coils of ${cable.tag} at ${listed([...coils])}; enter what was found, and ask for the plans again where it differs`,
        place,
      ),
      // For the paper: what is opened, and where it is cut.
      input: { opening: openingOf(facts) },
    },
    byHand(
      say`Identify ${cable.tag} at ${place.tag} by two independent signs; measure that ${plural(numbers.length, "{1} is dark", "{1} are dark", range)}${live.length > 0 ? say`; agree on a time with those who use ${listed(live)}` : ""}`,
      place,
    ),
  ];
  // Without glass to splice nothing is cut, and nothing is hung or laid for it.
  if (cut.glass === "no") return [...looks, byHand(cut.words.replace(/\.$/, ""), place)];
  return [
    ...looks,
    ...facts.seals.pulled.map((seal) => sealStep(seal, cable.tag)),
    ...pullSteps(facts, tag),
    ...readSteps(facts, tag),
    ...caseSteps(facts),
    ...(stop.opened && whole.length === 0 ? [] : [openStep(facts, tag, whole)]),
    ...(!stop.opened && cut.marks
      ? [
          {
            act: "record.edit",
            input: {
              kind: "stop",
              id: `${tag}@${stop.ordinal}`,
              values: { mark_open_from: cut.marks.from, mark_open_to: cut.marks.to, marks_basis: "computed" },
            },
            words: say`Note the edges of the window, about ${cut.marks.from} and ${cut.marks.to} ${cut.marks.unit}; they are worked out until somebody reads them`,
            place,
          },
        ]
      : []),
    ...(!stop.opened && cut.marks
      ? [
          {
            act: "record.edit",
            input: {
              kind: "stop",
              id: `${tag}@${stop.ordinal}`,
              values: {
                mark_in: ASKED,
                mark_open_from: ASKED,
                mark_open_to: ASKED,
                mark_out: ASKED,
                marks_basis: "read",
              },
            },
            words: say`Read the marks of ${cable.tag} at ${place.tag}, mouths and edges of the window, and enter them`,
            place,
          },
        ]
      : []),
    ...(stop.opened || cut.marks
      ? []
      : [
          byHand(
            say`Read the marks of ${cable.tag} at ${place.tag}, mouths and edges of the window, and enter them`,
            place,
          ),
        ]),
    ...(facts.metal
      ? [
          byHand(
            say`Carry the metal of ${cable.tag} through the case or bond it, as the local code asks and a licensed person decides; record which`,
            place,
          ),
        ]
      : []),
    ...lateralSteps(facts),
    ...facts.seals.lateral.map((seal) => sealStep(seal, lateral.tag)),
    ...(lateral.to?.tag.includes("/") && facts.seals.lateral.length === 0
      ? [
          byHand(
            say`Seal what ${lateral.tag} was pulled through on its way into ${lateral.to.tag} by its listed system, and record it`,
            lateral.to,
          ),
        ]
      : []),
    ...landSteps(facts),
    ...facts.splices.map((run) => spliceStep(facts, tag, run)),
    byHand(
      say`Measure the new strands from ${lateral.landing?.ports ?? lateral.to?.tag ?? say`the lateral's far end`} to their far ends and enter the readings; close the case, hang labels on ${lateral.tag}, the case and ${cable.tag}`,
      place,
    ),
  ];
}

const sealStep = (seal: RecordRef, cable: string): PlannedStep => ({
  act: "record.edit",
  input: { kind: "firestop", id: seal.id, values: { opened_on: DAY } },
  words: say`Open seal ${seal.tag} for ${cable}, seal it again by its listed system when the cable has been pulled, and record it`,
  place: null,
});

function caseSteps({ case: chosen, place }: StepFacts): PlannedStep[] {
  const { on_record: found, trays, tag } = chosen;
  if (found === null) {
    const own = tag.slice(tag.lastIndexOf("/") + 1);
    return [
      {
        act: "closure.enter",
        input: {
          tag: own,
          space: place.tag,
          trays: trays.map(({ tray, capacity }) => ({ numbers: tray.slice(tray.lastIndexOf("/") + 1), capacity })),
        },
        words: say`Hang a new case ${own} with ${counted(trays.length, "splice tray")} in ${place.tag}`,
        place,
      },
    ];
  }
  if (chosen.how === "stock") {
    return [
      {
        act: "record.change_many",
        input: {
          changes: [
            { op: "edit", kind: "closure", id: found.id, values: { space_id: place.tag, life: "in_place" } },
            ...found.trays.map(({ id }) => ({ op: "edit", kind: "tray", id, values: { life: "in_place" } })),
          ],
          summary: say`Hang case ${found.tag} in ${place.tag}`,
        },
        words: say`Take case ${found.tag} from stock and hang it in ${place.tag}`,
        place,
      },
    ];
  }
  return [
    byHand(
      say`Open case ${tag}${found.cables > 0 ? plural(found.cables, "; {0} cable enters it, and their glass may be lit", "; {0} cables enter it, and their glass may be lit") : ""}`,
      place,
    ),
  ];
}

function openStep(
  { cable, place, stop, cut, case: chosen, loop, window_m, units, reversing }: StepFacts,
  tag: string,
  whole: readonly number[],
): PlannedStep {
  const opened = listed(units.flatMap(({ words, ribbons }) => (ribbons.length > 0 ? ribbons : [words])));
  const range = shortRange(whole);
  const how = stop.opened
    ? say`In the opening of ${cable.tag} at ${place.tag}`
    : loop.along !== null
      ? say`Open ${metres(loop.window_m)} of ${cable.tag} where it lies, along ${loop.along} beside ${place.tag}`
      : loop.reaches === "in_place" || loop.reaches === "unknown"
        ? say`Open ${window_m === null ? say`as much as can be` : metres(window_m)} of ${cable.tag} where it lies at ${place.tag}`
        : say`Bring the loop of ${cable.tag} out at ${place.tag} and open ${metres(loop.window_m)}`;
  const lay = reversing && !stop.opened ? say`, where its units reverse` : "";
  return {
    act: "cable.open",
    input: {
      cable: tag,
      stop: stop.ordinal,
      ...(stop.closure === null ? { closure: chosen.tag } : {}),
      ...(whole.length > 0 ? { cut: range } : {}),
      stub_a: cut.stub_a,
      stub_b: cut.stub_z,
    },
    words:
      whole.length > 0
        ? say`${how}${lay}; take out ${opened}, all others run on uncut; ${cut.words.charAt(0).toLowerCase()}${cut.words.slice(1).replace(/\.$/, "")}: strands ${range}`
        : say`${how}${lay}; no strand is cut`,
    place,
  };
}

function lateralSteps({ lateral, place, case: chosen }: StepFacts): PlannedStep[] {
  const { groups, type, to, pathways, pipes, passed, way_m, near_m, far_m, length_m, order_m, reel } = lateral;
  const through = (index: number) => {
    const pathway = pathways[index];
    const pipe = pipes[index]?.pipe;
    return pathway ? { way: pipe ? { conduit: pipe.tag } : { pathway: pathway.tag } } : {};
  };
  const long =
    length_m === null
      ? ""
      : say`, ${metres(length_m)} (${metres(way_m ?? 0)} of way, ${metres(near_m)} and ${metres(far_m)} at its ends)`;
  return [
    ...(order_m === null
      ? []
      : [
          byHand(
            reel
              ? say`Take reel ${reel.tag} from stock and cut ${metres(order_m)} off; enter what is left on it`
              : say`Have ${metres(order_m)} of cable for ${lateral.tag} at hand: none in stock is known to do`,
            place,
          ),
        ]),
    {
      act: "cable.enter",
      input: {
        tag: lateral.tag,
        ...(type ? { type: type.tag } : {}),
        units: groups,
        ...(reel ? { reel: reel.tag } : {}),
        stops: [
          { space: place.tag, closure: chosen.tag, slack_m: near_m, ...through(0) },
          ...passed.map(({ tag }, index) => ({ space: tag, ...through(index + 1) })),
          to ? { space: to.tag, slack_m: far_m } : {},
        ],
      },
      words: say`Lay ${lateral.tag}, ${counted(lateral.strands, "strand")}${long}, from ${place.tag} to ${to?.tag ?? say`its far end`}${pathways.length > 0 ? say` through ${listed(pipes.map(pipeWords))}` : ""}; enter it with its marks`,
      place,
    },
  ];
}

/** The strands that are used become pluggable in the new building. */
function landSteps({ lateral: { landing, tag, to }, splices }: StepFacts): PlannedStep[] {
  if (landing === null || to === null) return [];
  const used = splices.reduce((sum, run) => sum + run.lateral.length, 0);
  const strands = `${escapeName(tag, "")}:${used === 1 ? 1 : `1-${used}`}`;
  return [
    ...(landing.new_ports === null
      ? [byHand(say`Open panel ${landing.tag} from behind: what is patched on it may be lit`, to)]
      : [
          {
            act: "panel.enter",
            input: {
              tag: landing.tag.slice(landing.tag.lastIndexOf("/") + 1),
              space: to.tag,
              ports: [{ numbers: landing.new_ports.numbers, connector: "lc_duplex" }],
            },
            words: say`Set a new panel ${landing.tag} with ${landing.new_ports.count} LC duplex ports`,
            place: to,
          },
        ]),
    {
      act: "strand.land",
      input: {
        strands,
        ports: landing.ports,
        method: landing.method,
        ...(landing.drawer === null ? {} : { tray: landing.drawer }),
      },
      words: say`Land ${strands} on ${landing.ports} with ${landing.method_words}${landing.drawer === null ? "" : say`, their splices in ${landing.drawer}`}`,
      place: to,
    },
  ];
}

function spliceStep({ lateral, place, ends }: StepFacts, tag: string, run: SpliceRun): PlannedStep {
  const from = `${tag}:${withSections(run)}`;
  const to = `${escapeName(lateral.tag, "")}:${shortRange(run.lateral)}`;
  return {
    act: "splice.range",
    input: {
      from,
      to,
      tray: run.tray,
      ...(run.first_place === null ? {} : { first_place: run.first_place }),
      from_end: run.towards === "a" ? "B" : "A",
      to_end: "A",
      method: "fusion",
      ...(run.at_once ? { form: "ribbon", ribbon: run.strands.length } : {}),
    },
    words: say`Splice ${from} to ${to} in ${run.tray}${run.at_once ? say`, all ${run.strands.length} at once; enter the loss of each strand` : ""}: the glass that comes from ${ends[run.towards]?.tag ?? (run.towards === "a" ? say`the first stop` : say`the last stop`)}`,
    place,
  };
}

/** `25-28#1,31#2`: each strand with the order its half will have. */
function withSections({ strands, towards }: SpliceRun): string {
  const runs: { from: number; to: number; section: number }[] = [];
  for (const { number, halves } of strands) {
    const section = halves[towards]?.ordinal ?? 1;
    const last = runs.at(-1);
    if (last && last.to === number - 1 && last.section === section) last.to = number;
    else runs.push({ from: number, to: number, section });
  }
  return runs.map(({ from, to, section }) => `${from === to ? from : `${from}-${to}`}#${section}`).join(",");
}
