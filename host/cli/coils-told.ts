/** The study of coils, as text: cables by what is at stake; of a single cable each stretch. */
import type { CoilsAnswer, CoilsCable, CoilsCure, CoilsStretch } from "../../core/repair/coils/answer.ts";
import { printable, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number): string => `${Math.round(length * 10) / 10} m`;
const none = (length: number): string => (length === 0 ? "" : metres(length));

const STATES: Readonly<Record<CoilsStretch["state"], string>> = {
  lacks: "not from coils",
  to_prove: "to prove",
  untold: "can't be told",
};

const setWords = ({ coils }: CoilsCure): string =>
  coils.map(({ words, more_m }) => `${printable(words)} +${metres(more_m)}`).join(", ") || "none helps";

/** What would cure a cable, in one line. */
function cureWords({ cure, cure_once_proven, parts }: CoilsCable): string {
  const best = cure_once_proven ?? cure;
  const more = [
    cure_once_proven ? "once it is proven to slide" : "",
    best.left_open_m > 0 ? `${metres(best.left_open_m)} stay open` : "",
    best.exact ? "" : "not proven to be the least",
    parts > 1 ? `in ${parts} parts with a gap between` : "",
  ].filter(Boolean);
  return `${setWords(best)}${more.length > 0 ? ` (${more.join("; ")})` : ""}`;
}

const circuitsOf = ({ circuits }: Pick<CoilsCable, "circuits">): string =>
  circuits
    .slice(0, 4)
    .map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`)
    .join(", ") + (circuits.length > 4 ? ` and ${circuits.length - 4} more` : "");

export function coilsText(answer: CoilsAnswer, width: number): string {
  const note = (head: string, words: string): string => `${wrap(`${head}: ${spoken(words)}`, width).join("\n")}\n`;
  const [only] = answer.cables;
  const alone = answer.of?.kind === "cable" && only;
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    answer.cables.length === 0
      ? ""
      : table(
          answer.cables,
          [
            { head: "cable", cell: ({ cable }) => cable.tag },
            { head: "circuits", cell: ({ circuits }) => circuits.length, right: true },
            { head: "by priority", cell: circuitsOf },
            { head: "strands in service", cell: ({ strands_in_service }) => strands_in_service, right: true },
            { head: "not from coils", cell: ({ lacks_m }) => none(lacks_m), right: true },
            { head: "to prove", cell: ({ to_prove_m }) => none(to_prove_m), right: true },
            { head: "of", cell: ({ asked_m }) => metres(asked_m), right: true },
            { head: "the smallest set of coils", cell: cureWords },
          ],
          width,
        ),
    ...(alone ? [stretches(alone, width)] : []),
    answer.untold.length === 0
      ? ""
      : table(
          answer.untold,
          [
            { head: "can't be told of", cell: ({ cable }) => cable.tag },
            { head: "because", cell: ({ reason }) => spoken(reason) },
          ],
          width,
        ),
    answer.places.length === 0
      ? ""
      : table(
          answer.places,
          [
            { head: "coils wanted at", cell: ({ words }) => words },
            { head: "coils", cell: ({ coils }) => coils, right: true },
            { head: "metres more in all", cell: ({ more_m }) => metres(more_m), right: true },
          ],
          width,
        ),
    table(
      answer.limits,
      [
        { head: "reckoned by", cell: ({ meaning, tag }) => meaning ?? tag },
        {
          head: "value",
          cell: ({ value, unit }) =>
            unit === "m"
              ? metres(value)
              : unit === "ratio"
                ? `${Math.round(value * 1000) / 10} %`
                : `${value} ${unit ?? ""}`.trim(),
          right: true,
        },
        { head: "source", cell: ({ source }) => source },
      ],
      width,
    ),
    ...answer.assumed.map((words) => note("Taken for granted", words)),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

const stretches = ({ stretches: own, mark_unit }: CoilsCable, width: number): string =>
  table(
    own,
    [
      { head: "from", cell: ({ from }) => from.words },
      { head: "to", cell: ({ to }) => to.words },
      {
        head: "marks",
        cell: ({ from, to }) =>
          from.mark === null || to.mark === null ? "" : `${from.mark} to ${to.mark} ${mark_unit ?? ""}`.trim(),
      },
      { head: "metres", cell: ({ length_m }) => metres(length_m), right: true },
      { head: "state", cell: ({ state }) => STATES[state] },
      { head: "circuits", cell: ({ circuits }) => circuits.length, right: true },
      { head: "because", cell: ({ why }) => spoken(why) },
      { head: "what cures it", cell: ({ cure }) => spoken(cure) },
    ],
    width,
  );
