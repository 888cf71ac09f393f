/** A mend, as text. */

import { choiceWords } from "../../core/model/wording.ts";
import type { MendAnswerPlan, MendCircuit, MendWhole, MendWholePlan } from "../../core/repair/answer.ts";
import type { LaidFill, LaidLeg } from "../../core/repair/laid-leg.ts";
import type { MendSeveralAnswer } from "../../core/repair/several-answer.ts";
import { numberRuns } from "../../core/store/addresses.ts";
import type { RecordRef } from "../../core/trace/answer.ts";
import { asKnown } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, lengthTold, printable, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number): string => lengthTold(length, 1);

const circuitWords = (circuits: readonly MendCircuit[]): string =>
  circuits
    .slice(0, 6)
    .map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`)
    .join(", ") + (circuits.length > 6 ? say` and ${circuits.length - 6} more` : "");

const amount = (value: number, unit: string | null): string =>
  unit === "m" ? metres(value) : unit === "ratio" ? `${Math.round(value * 1000) / 10} %` : `${value} ${unit ?? ""}`;

export function mendText(answer: MendWhole, width: number): string {
  const { cut, plans, refused, circuits, not_in_service, assumed, limits } = answer;
  const note = (head: string, words: string): string => `${wrap(`${head}: ${spoken(words)}`, width).join("\n")}\n`;
  const urgent = circuits
    .slice(0, 12)
    .map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`);
  const head: [string, Cell][] = [
    [say`between`, cut.between.map((place) => place?.tag ?? say`a place not known`).join(say` and `)],
    ...(cut.inside
      ? [[say`inside`, say`${cut.inside.tag}: what is coiled there is taken as lost`] as [string, Cell]]
      : []),
    ...placeRows(answer),
    [say`strands`, answer.strands],
    [
      say`circuits by priority`,
      urgent.join(", ") + (circuits.length > urgent.length ? say` and ${circuits.length - urgent.length} more` : ""),
    ],
    ...(not_in_service.length > 0
      ? [
          [
            say`not in service yet`,
            not_in_service
              .map(({ circuit, state }) => `${circuit.tag} (${choiceWords("circuit", "state", state ?? "")})`)
              .join(", "),
          ] as [string, Cell],
        ]
      : []),
  ];
  const { theirs } = answer;
  if (theirs) {
    const call: [string, Cell][] = [
      [say`call first`, printable(theirs.name ?? theirs.party.tag)],
      [say`by day`, printable(theirs.day ?? say`not on record`)],
      [say`by night`, printable(theirs.night ?? say`not on record`)],
    ];
    return [
      `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
      facts([...call, ...head], width),
      ...assumed.map((words) => note(say`Assumed`, words)),
      cautions(answer.cautions, width),
    ].join("\n");
  }
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    facts(head, width),
    table(
      plans.map((plan, index) => ({ ...plan, number: index + 1 })),
      [
        { head: say`way`, cell: ({ number }) => number, right: true },
        { head: say`what`, cell: ({ sentence }) => sentence },
        { head: say`pulled`, cell: ({ pulled_m }) => metres(pulled_m), right: true },
        { head: say`new cable`, cell: ({ new_cable_m }) => metres(new_cable_m), right: true },
        { head: say`splices a strand`, cell: ({ joints }) => joints, right: true },
        { head: say`hours`, cell: ({ hours }) => hours.hours ?? "", right: true },
        { head: say`fails after`, cell: ({ fails, failed_before }) => printable(failsOf(fails, failed_before)) },
        ...(answer.shining || plans.some(({ takes_down }) => takes_down.length > 0)
          ? [{ head: say`takes down`, cell: takesDown }]
          : []),
        { head: say`to prove`, cell: ({ to_prove, guesses }) => [...to_prove, ...guesses].join("; ") },
      ],
      width,
    ),
    answer.ranked === null || answer.ranked.look_first.length > 0 ? "" : note(say`In this order`, answer.ranked.words),
    narrowedText(answer, width),
    ...plans.flatMap(({ bare }, index) => (bare === null ? [] : [note(say`Way ${index + 1}`, bare)])),
    ...plans.flatMap(({ crowded }, index) => crowded.map((words) => note(say`No room, way ${index + 1}`, words))),
    laidTable(plans, width),
    ...(answer.shining
      ? [
          note(say`Still whole`, answer.shining.words),
          ...answer.shining.beside.map((words) => note(say`In one unit`, words)),
          ...(plans[0]?.loops ?? []).map(({ words }) => note(say`Way 1`, words)),
        ]
      : []),
    ...answer.doubts.map((words) => note(say`In doubt`, words)),
    note(say`For the time being`, answer.temporary.words),
    ...(plans[0]
      ? [
          ...plans[0].stock.words.map((words) => note(say`Way 1`, words)),
          lossTable(plans[0], width, say`circuit after way 1`),
        ]
      : []),
    ...answer.stuck.map((words) => note(say`Not to be pulled`, words)),
    ...plans.slice(0, 1).map((plan) => pulls(plan, width)),
    ...plans.slice(0, 1).flatMap((plan) => keptWords(plan).map((words) => note(say`Way 1`, words))),
    unitsInOrder(answer, width),
    refused.length > 0
      ? table(
          refused,
          [
            {
              head: plans[0]?.loops.length ? say`no dark strand taken out at` : say`no single splice at`,
              cell: ({ words }) => words,
            },
            { head: say`because`, cell: ({ reason }) => reason },
          ],
          width,
        )
      : "",
    table(
      limits,
      [
        { head: say`reckoned by`, cell: ({ meaning, tag }) => meaning ?? tag },
        {
          head: say`value`,
          cell: ({ value, unit }) => amount(value, unit),
          right: true,
        },
        { head: say`source`, cell: ({ source }) => source },
      ],
      width,
    ),
    ...assumed.map((words) => note(say`Assumed`, words)),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

function placeRows({ theirs, cut, shining }: MendWhole) {
  const { from_mouth_m, stretch_m, mark, mark_unit, lost_left_m, lost_right_m } = cut;
  const rows: [string, Cell][] =
    stretch_m === null
      ? [
          [say`from its mouth`, from_mouth_m === null ? say`not known` : metres(from_mouth_m)],
          [say`mark`, mark === null ? say`none on record` : `${mark} ${mark_unit ?? ""}`.trim()],
          [shining ? say`taken as strained` : say`lost`, say`${metres(lost_left_m)} and ${metres(lost_right_m)}`],
        ]
      : [
          [say`where`, say`not known`],
          theirs
            ? [say`somewhere on`, say`the ${metres(stretch_m)} between them`]
            : [say`given up`, say`all ${metres(stretch_m)} between them`],
        ];
  return rows;
}

const NO_BETTER = say`Finding the break allows no better way: wherever it is, these are all there are.`;

/** What finding the break would allow, part by part of the leg. */
function narrowedText({ narrowed, cut }: MendWhole, width: number): string {
  if (cut.stretch_m === null) return "";
  if (narrowed.length === 0) return `${wrap(NO_BETTER, width).join("\n")}\n`;
  const range = ([least, most]: readonly [number, number]): string =>
    metres(least) === metres(most) ? metres(least) : say`${metres(least)} to ${metres(most)}`;
  return table(
    narrowed,
    [
      {
        head: say`if it is found from ${cut.between[0]?.tag ?? say`the first`}`,
        cell: ({ from_m, to_m }) => range([from_m, to_m]),
      },
      { head: say`a better way`, cell: ({ words }) => printable(words) },
      { head: say`pulled`, cell: ({ pulled_m }) => range(pulled_m), right: true },
      { head: say`new cable`, cell: ({ new_cable_m }) => range(new_cable_m), right: true },
      { head: say`to prove`, cell: ({ to_prove }) => to_prove.join("; ") },
    ],
    width,
  );
}

const failsOf = (fails: readonly RecordRef[], before: readonly RecordRef[]): string =>
  fails.map(({ id, tag }) => (before.some((one) => one.id === id) ? say`${tag} (nor before the cut)` : tag)).join(", ");

/** What shines still and does so no more once a way is taken. */
const takesDown = ({ severs, takes_down }: MendWholePlan): string =>
  takes_down.length > 0 ? circuitWords(takes_down) : severs ? say`no circuit on record` : "";

/** What stays as a coil at the splice, and what is cut off. */
const keptWords = ({ sides }: MendAnswerPlan): string[] =>
  sides.flatMap(({ from, kept_m, over_m, trimmed_m, needless_m }) => {
    const stuck_m = trimmed_m - over_m - needless_m;
    const parts = [
      kept_m > 0 ? say`${metres(kept_m)} stays as a coil` : "",
      over_m > 0 ? say`${metres(over_m)} is more than is kept and cut off` : "",
      needless_m > 0.05 ? say`${metres(needless_m)} isn't needed for the splice and is cut off where it lies` : "",
      stuck_m > 0.05 ? say`${metres(stuck_m)} can't come back and is cut off where it lies` : "",
    ].filter(Boolean);
    return parts.length > 0 ? [say`of what comes from ${from?.tag ?? say`its end`}, ${parts.join("; ")}.`] : [];
  });

/** What the new cable of the first way that needs any is laid beside. */
function laidTable(plans: readonly MendWholePlan[], width: number): string {
  const index = plans.findIndex(({ laid }) => laid.length > 0);
  const laid = plans[index]?.laid ?? [];
  if (laid.length === 0) return "";
  const part = (of: LaidFill | null): string =>
    of === null
      ? say`not known`
      : `${Math.round(of.fill * 100)} %${of.limit === null ? "" : say` of ${Math.round(of.limit * 100)} %`}`;
  const source = (leg: LaidLeg): string =>
    [...new Set([leg.with_old?.source, leg.without_old?.source].flatMap((one) => one ?? []))].join("; ");
  return table(
    laid,
    [
      { head: say`way ${index + 1} lays`, cell: ({ between }) => printable(between.join(say` to `)) },
      { head: say`in`, cell: ({ pipe, pathway }) => printable((pipe ?? pathway)?.tag ?? say`not on record`) },
      { head: say`beside`, cell: ({ neighbours }) => printable(neighbours.map(({ tag }) => tag).join(", ")) },
      { head: say`full, old one in`, cell: ({ with_old }) => part(with_old), right: true },
      { head: say`old one out`, cell: ({ without_old }) => part(without_old), right: true },
      { head: say`limit from`, cell: source },
    ],
    width,
  );
}

/** Several cables at once, the one with the most at stake first: the best way for each. */
export function severalText(answer: MendSeveralAnswer, width: number): string {
  const note = (words: string): string => `${wrap(spoken(words), width).join("\n")}\n`;
  return [
    note(answer.sentence),
    answer.theirs.length > 0
      ? table(
          answer.theirs,
          [
            { head: say`not ours to mend`, cell: ({ cable }) => printable(cable.tag) },
            { head: say`call first`, cell: ({ owner }) => printable(owner.name ?? owner.party.tag) },
            { head: say`by day`, cell: ({ owner }) => printable(owner.day ?? say`not on record`) },
            { head: say`by night`, cell: ({ owner }) => printable(owner.night ?? say`not on record`) },
            { head: say`circuits by priority`, cell: ({ circuits }) => circuitWords(circuits) },
          ],
          width,
        )
      : "",
    table(
      answer.cuts.map((cut, index) => ({ ...cut, number: index + 1, job: answer.together[index] })),
      [
        { head: say`turn`, cell: ({ number }) => number, right: true },
        { head: say`cable`, cell: ({ cable }) => printable(cable.tag) },
        {
          head: say`circuits by priority`,
          cell: ({ circuits }) => circuitWords(circuits),
        },
        { head: say`in one job for all`, cell: ({ job }) => job?.way.sentence ?? say`none` },
        {
          head: say`by itself`,
          cell: ({ job, plans }) => (job?.differs ? (plans[0]?.sentence ?? say`none`) : say`the same`),
        },
        { head: say`hours`, cell: ({ job }) => job?.way.hours.hours ?? "", right: true },
        { head: say`to prove`, cell: ({ job }) => job?.way.to_prove.join("; ") ?? "" },
      ],
      width,
    ),
    answer.refused.length > 0
      ? table(
          answer.refused,
          [
            { head: say`no plan for`, cell: ({ cable }) => printable(cable.tag) },
            { head: say`because`, cell: ({ reason }) => reason },
          ],
          width,
        )
      : "",
    ...(answer.cuts.length > 0 ? [oneJobText(answer, width)] : []),
    ...answer.together.flatMap(({ why }) => (why === null ? [] : [note(say`In one job for all: ${why}`)])),
    ...answer.together.flatMap(({ cable, way }) =>
      way.crowded.map((words) => note(say`No room for new cable of ${printable(cable.tag)}: ${words}`)),
    ),
    ...answer.shared.map(({ words }) => note(say`Each by itself: ${words}`)),
    ...answer.cuts.flatMap(({ cable, assumed }) =>
      assumed.map((words) => note(say`Taken for granted of ${printable(cable.tag)}: ${words}`)),
    ),
    ...[...answer.unknown, ...answer.doubts].map(note),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

/** What the one job takes, and in which order what is cut comes back. */
function oneJobText({ one_job: job }: MendSeveralAnswer, width: number): string {
  const takes: [string, Cell][] = [
    [say`pulled from coils`, metres(job.pulled_m)],
    [say`new cable`, metres(job.new_cable_m)],
    [say`holes to dig`, job.new_holes],
    [say`cases`, job.cases],
    [say`hours`, job.hours === null ? say`not known` : say`${job.hours}, what cables share set up and dug once`],
    ...job.shared.map(({ words }): [string, Cell] => [say`shared`, printable(words)]),
  ];
  return [
    say`In one job for all\n\n${facts(takes, width)}`,
    table(
      job.turns.map((turn, index) => ({ ...turn, number: index + 1 })),
      [
        { head: say`comes back`, cell: ({ number }) => number, right: true },
        { head: say`cable`, cell: ({ cable }) => printable(cable.tag) },
        { head: say`unit`, cell: ({ unit }) => printable(unit ?? say`no unit`) },
        { head: say`strands`, cell: ({ strands }) => strands },
        { head: say`circuits by priority`, cell: ({ circuits }) => circuitWords(circuits) },
      ],
      width,
    ),
  ].join("\n");
}

function pulls({ sides, loops }: MendAnswerPlan, width: number): string {
  const rows = [...sides, ...loops].flatMap((one) => one.pulls);
  if (rows.length === 0) return "";
  return table(
    rows,
    [
      { head: say`way 1 pulls at`, cell: ({ place, stop }) => printable(place?.tag ?? stop.tag) },
      { head: say`metres`, cell: ({ pulled_m }) => metres(pulled_m), right: true },
      { head: say`stays`, cell: ({ left_m }) => metres(left_m), right: true },
    ],
    width,
  );
}

/** The units in the order in which they come back; each splice by itself is in the answer as JSON. */
function unitsInOrder({ order, plans: [best], shining }: MendWhole, width: number): string {
  const spliced = shining && best?.severs === false ? order.filter(({ shines }) => !shines) : order;
  const units = [...Map.groupBy(spliced, ({ unit_order }) => unit_order).values()];
  return table(
    units.map((strands, index) => ({
      number: index + 1,
      unit: strands[0]?.unit ?? say`no unit`,
      strands: numberRuns(strands.map(({ number }) => number)).replaceAll(" ", ""),
      circuits: [
        ...new Set(
          strands.flatMap(({ circuits }) =>
            circuits.map(
              ({ circuit, priority, state = "in_service" }) =>
                `${circuit.tag}${state !== "in_service" ? ` (${choiceWords("circuit", "state", state)})` : priority === null ? "" : ` (${priority})`}`,
            ),
          ),
        ),
      ].join(", "),
    })),
    [
      { head: say`splice`, cell: ({ number }) => number, right: true },
      { head: say`unit`, cell: ({ unit }) => printable(unit) },
      { head: say`strands`, cell: ({ strands }) => strands },
      { head: say`circuits by priority`, cell: ({ circuits }) => printable(circuits) },
    ],
    width,
  );
}

/** What each circuit loses once that is carried out. @param circuit the head of the column in which it stands */
export function lossTable({ losses }: Pick<MendWholePlan, "losses">, width: number, circuit: string): string {
  if (!losses || losses.length === 0) return "";
  const decibels = (db: number | null, complete = true): string =>
    db === null ? say`not known` : asKnown(`${db.toFixed(2)} dB`, complete);
  return table(
    losses,
    [
      { head: circuit, cell: (loss) => printable(loss.circuit.tag) },
      { head: say`before the cut`, cell: ({ before_db }) => decibels(before_db), right: true },
      { head: say`usual`, cell: ({ loss_db, complete }) => decibels(loss_db, complete), right: true },
      { head: say`at worst`, cell: ({ worst_db, complete }) => decibels(worst_db, complete), right: true },
      { head: say`carries`, cell: ({ application }) => printable(application ?? say`not on record`) },
      {
        head: say`runs at worst`,
        cell: ({ runs_at_worst, reasons }) =>
          [runs_at_worst === null ? "" : VERDICTS[runs_at_worst], ...reasons.slice(0, 1)].filter(Boolean).join(": "),
      },
    ],
    width,
  );
}

const VERDICTS = { yes: say`yes`, no: say`no`, cannot_tell: say`can't tell` } as const;
