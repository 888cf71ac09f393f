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
import { type Cell, facts, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number | null): string => (length === null ? "not known" : `${Math.round(length * 10) / 10} m`);
const decibels = (loss: number | null, complete = true): string =>
  loss === null ? "not known" : `${complete ? "" : "at least "}${loss.toFixed(2)} dB`;

const said = (words: string, width: number): string => `${wrap(spoken(words), width).join("\n")}\n`;
const note = (head: string, words: string, width: number): string => said(`${head}: ${words}`, width);

export function breakoutText(answer: BreakoutAnswer, width: number): string {
  const { loop, cut, lateral, plans, ends, limits } = answer;
  const [best] = plans;
  const head: [string, Cell][] = [
    [
      "cable",
      `${answer.cable.tag}, from ${ends.a?.tag ?? "a place not known"} (A) to ${ends.z?.tag ?? "a place not known"} (Z)`,
    ],
    ["opened at", answer.place.tag],
    ["wanted", `${answer.strands} strands towards ${answer.side === "both" ? "A and Z" : answer.side.toUpperCase()}`],
    ["free there", `${answer.free}${answer.not_free.map(({ reason, count }) => `; ${count} ${reason}`).join("")}`],
    ["ribbons", answer.ribbon?.words ?? null],
    ["loop", loop.words],
    ["fits", answer.plans[0] ? fitWords(answer.plans[0].fit) : null],
    ["cut", cut.words],
    ["window", cut.marks ? `about mark ${cut.marks.from} to ${cut.marks.to} ${cut.marks.unit}` : null],
    [
      "lateral",
      `${lateral.tag}, ${lateral.strands} strands${lateral.type ? ` of ${lateral.type.tag}` : ""}, to ${lateral.to?.tag ?? "a place not known"}${lateral.pathways.length > 0 ? ` through ${lateral.pipes.map(pipeWords).join(", ")}` : ""}`,
    ],
    [
      "its length",
      lateral.length_m === null
        ? "not known"
        : `${metres(lateral.length_m)}: ${metres(lateral.way_m)} of way, ${metres(lateral.near_m)} and ${metres(lateral.far_m)} at its ends; ${metres(lateral.order_m)} are cut off, waste included`,
    ],
    ["from stock", lateral.stock_words],
    [
      "landed",
      lateral.landing &&
        `on ${lateral.landing.ports}${lateral.landing.how === "new" ? ", a new panel," : ""} with ${lateral.landing.method_words}`,
    ],
  ];
  return [
    said(answer.sentence, width),
    facts(head),
    loop.pulls.length === 0
      ? ""
      : table(
          loop.pulls,
          [
            { head: "pulled at", cell: ({ place, stop }) => place?.tag ?? stop.tag },
            { head: "metres", cell: ({ pulled_m }) => metres(pulled_m), right: true },
            { head: "stays", cell: ({ left_m }) => metres(left_m), right: true },
          ],
          width,
        ),
    table(
      plans.map((plan, index) => ({ ...plan, number: index + 1 })),
      [
        { head: "set", cell: ({ number }) => number, right: true },
        { head: "strands", cell: ({ strands }) => strands },
        { head: "units", cell: ({ units }) => units.map(({ words }) => words).join("; ") },
        {
          head: "circuits at risk",
          cell: ({ at_risk }) => atRisk([...new Set(at_risk.map(({ circuit }) => circuit.tag))]),
        },
        { head: "case", cell: (plan) => caseWords(plan.case) },
      ],
      width,
    ),
    ...(best ? planText(best, width) : []),
    table(
      limits,
      [
        { head: "reckoned by", cell: ({ meaning, tag }) => meaning ?? tag },
        { head: "value", cell: ({ value, unit }) => (unit === "m" ? metres(value) : `${value}`), right: true },
        { head: "source", cell: ({ source }) => source },
      ],
      width,
    ),
    loop.stuck.map((words) => note("Stuck", words, width)).join(""),
    answer.assumed.map((words) => note("Taken for granted", words, width)).join(""),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

const atRisk = (tags: readonly string[]): string =>
  tags.length === 0 ? "none" : tags.slice(0, 4).join(", ") + (tags.length > 4 ? ` and ${tags.length - 4} more` : "");

const caseWords = ({ how, tag }: CaseChoice): string =>
  how === "new" ? `${tag}, new` : how === "stock" ? `${tag}, from stock` : tag;

function planText(plan: BreakoutPlan, width: number): string[] {
  return [
    table(
      plan.splices,
      [
        { head: "set 1: strand", cell: ({ strand }) => strand.tag },
        { head: "colours", cell: ({ strand }) => strand.words },
        { head: "lateral", cell: ({ lateral }) => lateral.tag },
        { head: "colours", cell: ({ lateral }) => lateral.words },
        { head: "tray", cell: ({ tray }) => tray },
        { head: "place", cell: ({ place }) => place, right: true },
      ],
      width,
    ),
    table(
      plan.losses.flatMap((one) => one.wavelengths.map((at) => ({ ...one, ...at }))),
      [
        { head: "towards", cell: ({ towards }) => towards.toUpperCase() },
        { head: "ends at", cell: ({ far, far_record }) => [far_record?.tag, far].filter(Boolean).join(": ") },
        { head: "glass", cell: ({ length_m }) => metres(length_m), right: true },
        { head: "at", cell: ({ wavelength_nm }) => `${wavelength_nm} nm`, right: true },
        { head: "loss", cell: ({ loss_db, complete }) => decibels(loss_db, complete), right: true },
        { head: "at worst", cell: ({ worst_loss_db, complete }) => decibels(worst_loss_db, complete), right: true },
        { head: "not known", cell: ({ unknown }) => unknown.join("; ") },
      ],
      width,
    ),
    plan.losses.map((loss) => applications(loss, width)).join(""),
    note("Room", plan.room.words, width),
    plan.beyond.map(({ words }) => note("Beyond", words, width)).join(""),
    plan.to_prove.map((words) => note("To prove", words, width)).join(""),
    table(
      plan.steps.map((step, index) => ({ ...step, number: index + 1 })),
      [
        { head: "step", cell: ({ number }) => number, right: true },
        { head: "recorded by", cell: ({ act }) => act },
        { head: "what", cell: ({ words }) => words },
      ],
      width,
    ),
  ];
}

function applications({ towards, applications: all }: CircuitLoss, width: number): string {
  const runs = all.filter(({ runs_at_worst }) => runs_at_worst === "yes").map(({ application }) => application);
  const others = all.filter(({ wanted, runs_at_worst }) => wanted && runs_at_worst !== "yes");
  return [
    ...(runs.length > 0 ? [note(`Runs towards ${towards.toUpperCase()}, at worst too`, runs.join(", "), width)] : []),
    ...others.map(({ application, runs: usually, reasons }) =>
      note(
        `${application} towards ${towards.toUpperCase()}`,
        `${usually === "cannot_tell" ? "can't be told" : usually === "yes" ? "runs as things usually are" : "doesn't run"}: ${reasons.join("; ")}`,
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
        { head: "strand", cell: ({ strand }) => strand.tag },
        { head: "colours", cell: ({ strand }) => strand.words },
        { head: "towards A", cell: ({ a }) => a },
        { head: "towards Z", cell: ({ z }) => z },
        { head: "joined again", cell: ({ refused }) => (refused === null ? "yes" : `no: ${refused}`) },
      ],
      width,
    ),
    answer.circuits.length === 0
      ? ""
      : note("Goes down", answer.circuits.map(({ circuit }) => circuit.tag).join(", "), width),
    ...answer.laterals.map(({ cable, strands, whole }) =>
      note(cable.tag, whole ? "leads nowhere afterwards" : `is freed of ${strands}`, width),
    ),
    answer.to_prove.map((words) => note("To prove", words, width)).join(""),
    table(
      answer.steps.map((step, index) => ({ ...step, number: index + 1 })),
      [
        { head: "step", cell: ({ number }) => number, right: true },
        { head: "recorded by", cell: ({ act }) => act },
        { head: "what", cell: ({ words }) => words },
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
        { head: "place", cell: ({ place }) => place.tag },
        { head: "fits", cell: ({ words }) => words },
        { head: "strands", cell: ({ strands }) => strands },
        { head: "circuits at risk", cell: ({ at_risk }) => at_risk, right: true },
        { head: "pulled", cell: ({ pulled_m }) => metres(pulled_m), right: true },
        {
          head: "lateral, cut off",
          cell: ({ order_m }) => (order_m === null ? "not known" : metres(order_m)),
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
            { head: "not at", cell: ({ name }) => name },
            { head: "because", cell: ({ reason }) => reason },
          ],
          width,
        ),
  ]
    .filter((part) => part !== "")
    .join("\n");
}
