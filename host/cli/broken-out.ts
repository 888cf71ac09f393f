/** A break-out and its reverse, as text. */

import type {
  BreakoutAnswer,
  BreakoutPlan,
  CaseChoice,
  CircuitLoss,
  ClosingAnswer,
} from "../../core/breakout/answer.ts";
import { fitWords } from "../../core/breakout/fit.ts";
import { pipeWords } from "../../core/breakout/lateral-pipes.ts";
import type { BreakoutPlaces } from "../../core/breakout/places.ts";
import { counted } from "../../core/words/counted.ts";
import { asKnown } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, lengthTold, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number | null): string => lengthTold(length, 1);
const decibels = (loss: number | null, complete = true): string =>
  loss === null ? say`not known` : asKnown(`${loss.toFixed(2)} dB`, complete);

const said = (words: string, width: number): string => `${wrap(spoken(words), width).join("\n")}\n`;
const note = (head: string, words: string, width: number): string => said(`${head}: ${words}`, width);

export function breakoutText(answer: BreakoutAnswer, width: number): string {
  const { loop, cut, lateral, plans, ends, limits } = answer;
  const [best] = plans;
  const head: [string, Cell][] = [
    [
      say`cable`,
      say`${answer.cable.tag}, from ${ends.a?.tag ?? say`a place not known`} (A) to ${ends.z?.tag ?? say`a place not known`} (Z)`,
    ],
    [say`opened at`, answer.place.tag],
    [
      say`wanted`,
      say`${counted(answer.strands, "strand")} towards ${answer.side === "both" ? say`A and Z` : answer.side.toUpperCase()}`,
    ],
    [say`free there`, `${answer.free}${answer.not_free.map(({ reason, count }) => `; ${count} ${reason}`).join("")}`],
    [say`ribbons`, answer.ribbon?.words ?? null],
    [say`loop`, loop.words],
    [say`fits`, answer.plans[0] ? fitWords(answer.plans[0].fit) : null],
    [say`cut`, cut.words],
    [say`window`, cut.marks ? say`about mark ${cut.marks.from} to ${cut.marks.to} ${cut.marks.unit}` : null],
    [
      say`lateral`,
      say`${lateral.tag}, ${counted(lateral.strands, "strand")}${lateral.type ? say` of ${lateral.type.tag}` : ""}, to ${lateral.to?.tag ?? say`a place not known`}${lateral.pathways.length > 0 ? say` through ${lateral.pipes.map(pipeWords).join(", ")}` : ""}`,
    ],
    [
      say`its length`,
      lateral.length_m === null
        ? say`not known`
        : say`${metres(lateral.length_m)}: ${metres(lateral.way_m)} of way, ${metres(lateral.near_m)} and ${metres(lateral.far_m)} at its ends; ${metres(lateral.order_m)} are cut off, waste included`,
    ],
    [say`from stock`, lateral.stock_words],
    [
      say`landed`,
      lateral.landing &&
        say`on ${lateral.landing.ports}${lateral.landing.how === "new" ? say`, a new panel,` : ""} with ${lateral.landing.method_words}`,
    ],
  ];
  return [
    said(answer.sentence, width),
    facts(head, width),
    loop.pulls.length === 0
      ? ""
      : table(
          loop.pulls,
          [
            { head: say`pulled at`, cell: ({ place, stop }) => place?.tag ?? stop.tag },
            { head: say`metres`, cell: ({ pulled_m }) => metres(pulled_m), right: true },
            { head: say`stays`, cell: ({ left_m }) => metres(left_m), right: true },
          ],
          width,
        ),
    table(
      plans.map((plan, index) => ({ ...plan, number: index + 1 })),
      [
        { head: say`set`, cell: ({ number }) => number, right: true },
        { head: say`strands`, cell: ({ strands }) => strands },
        { head: say`units`, cell: ({ units }) => units.map(({ words }) => words).join("; ") },
        {
          head: say`circuits at risk`,
          cell: ({ at_risk }) => atRisk([...new Set(at_risk.map(({ circuit }) => circuit.tag))]),
        },
        { head: say`case`, cell: (plan) => caseWords(plan.case) },
        {
          head: say`to be told`,
          cell: ({ short, promised }) => [...short, ...promised].map(({ words }) => words).join("; "),
        },
      ],
      width,
    ),
    ...(best ? planText(best, width) : []),
    table(
      limits,
      [
        { head: say`reckoned by`, cell: ({ meaning, tag }) => meaning ?? tag },
        { head: say`value`, cell: ({ value, unit }) => (unit === "m" ? metres(value) : `${value}`), right: true },
        { head: say`source`, cell: ({ source }) => source },
      ],
      width,
    ),
    loop.stuck.map((words) => note(say`Stuck`, words, width)).join(""),
    answer.assumed.map((words) => note(say`Assumed`, words, width)).join(""),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

const atRisk = (tags: readonly string[]): string =>
  tags.length === 0
    ? say`none`
    : tags.slice(0, 4).join(", ") + (tags.length > 4 ? say` and ${tags.length - 4} more` : "");

const caseWords = ({ how, tag }: CaseChoice): string =>
  how === "new" ? say`${tag}, new` : how === "stock" ? say`${tag}, from stock` : tag;

function planText(plan: BreakoutPlan, width: number): string[] {
  return [
    table(
      plan.splices,
      [
        { head: say`set 1: strand`, cell: ({ strand }) => strand.tag },
        { head: say`colours`, cell: ({ strand }) => strand.words },
        { head: say`lateral`, cell: ({ lateral }) => lateral.tag },
        { head: say`colours`, cell: ({ lateral }) => lateral.words },
        { head: say`tray`, cell: ({ tray }) => tray },
        { head: say`place`, cell: ({ place }) => place, right: true },
      ],
      width,
    ),
    table(
      plan.losses.flatMap((one) => one.wavelengths.map((at) => ({ ...one, ...at }))),
      [
        { head: say`towards`, cell: ({ towards }) => towards.toUpperCase() },
        { head: say`ends at`, cell: ({ far, far_record }) => [far_record?.tag, far].filter(Boolean).join(": ") },
        { head: say`glass`, cell: ({ length_m }) => metres(length_m), right: true },
        { head: say`at`, cell: ({ wavelength_nm }) => `${wavelength_nm} nm`, right: true },
        { head: say`loss`, cell: ({ loss_db, complete }) => decibels(loss_db, complete), right: true },
        { head: say`at worst`, cell: ({ worst_loss_db, complete }) => decibels(worst_loss_db, complete), right: true },
        { head: say`not known`, cell: ({ unknown }) => unknown.join("; ") },
      ],
      width,
    ),
    plan.losses.map((loss) => applications(loss, width)).join(""),
    note(say`Room`, plan.room.words, width),
    plan.beyond.map(({ words }) => note(say`Beyond`, words, width)).join(""),
    plan.to_prove.map((words) => note(say`To prove`, words, width)).join(""),
    table(
      plan.steps.map((step, index) => ({ ...step, number: index + 1 })),
      [
        { head: say`step`, cell: ({ number }) => number, right: true },
        { head: say`recorded by`, cell: ({ act }) => act },
        { head: say`what`, cell: ({ words }) => words },
      ],
      width,
    ),
  ];
}

function applications({ towards, applications: all }: CircuitLoss, width: number): string {
  const runs = all.filter(({ runs_at_worst }) => runs_at_worst === "yes").map(({ application }) => application);
  const others = all.filter(({ wanted, runs_at_worst }) => wanted && runs_at_worst !== "yes");
  return [
    ...(runs.length > 0
      ? [note(say`Runs towards ${towards.toUpperCase()}, at worst too`, runs.join(", "), width)]
      : []),
    ...others.map(({ application, runs: usually, reasons }) =>
      note(
        say`${application} towards ${towards.toUpperCase()}`,
        `${usually === "cannot_tell" ? say`can't be told` : usually === "yes" ? say`runs as things usually are` : say`doesn't run`}: ${reasons.join("; ")}`,
        width,
      ),
    ),
  ].join("");
}

export function closingText(answer: ClosingAnswer, width: number): string {
  return [
    said(answer.sentence, width),
    table(
      answer.strands,
      [
        { head: say`strand`, cell: ({ strand }) => strand.tag },
        { head: say`colours`, cell: ({ strand }) => strand.words },
        { head: say`towards A`, cell: ({ a }) => a },
        { head: say`towards Z`, cell: ({ z }) => z },
        { head: say`joined again`, cell: ({ refused }) => (refused === null ? say`yes` : say`no: ${refused}`) },
      ],
      width,
    ),
    answer.circuits.length === 0
      ? ""
      : note(say`Goes down`, answer.circuits.map(({ circuit }) => circuit.tag).join(", "), width),
    ...answer.laterals.map(({ cable, strands, whole }) =>
      note(cable.tag, whole ? say`leads nowhere afterwards` : say`is freed of ${strands}`, width),
    ),
    answer.to_prove.map((words) => note(say`To prove`, words, width)).join(""),
    table(
      answer.steps.map((step, index) => ({ ...step, number: index + 1 })),
      [
        { head: say`step`, cell: ({ number }) => number, right: true },
        { head: say`recorded by`, cell: ({ act }) => act },
        { head: say`what`, cell: ({ words }) => words },
      ],
      width,
    ),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

/** The places on a cable's way, the best first. */
export function placesText({ places, refused, sentence }: BreakoutPlaces, width: number): string {
  return [
    said(sentence, width),
    table(
      places.map((one, index) => ({ ...one, number: index + 1 })),
      [
        { head: say`place`, cell: ({ place }) => place.tag },
        { head: say`fits`, cell: ({ words }) => words },
        { head: say`strands`, cell: ({ strands }) => strands },
        { head: say`circuits at risk`, cell: ({ at_risk }) => at_risk, right: true },
        { head: say`pulled`, cell: ({ pulled_m }) => metres(pulled_m), right: true },
        {
          head: say`lateral, cut off`,
          cell: ({ order_m }) => (order_m === null ? say`not known` : metres(order_m)),
          right: true,
        },
      ],
      width,
    ),
    refused.length === 0
      ? ""
      : table(
          refused,
          [
            { head: say`not at`, cell: ({ name }) => name },
            { head: say`because`, cell: ({ reason }) => reason },
          ],
          width,
        ),
  ]
    .filter((part) => part !== "")
    .join("\n");
}
