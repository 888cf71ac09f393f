/** The study of coils, as text: cables by what is at stake; of a single cable each stretch. */
import type { CoilsAnswer, CoilsCable, CoilsCure, CoilsStretch } from "../../core/repair/coils/answer.ts";
import { say } from "../../core/words/say.ts";
import { lengthTold, printable, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number): string => lengthTold(length, 1);
const none = (length: number): string => (length === 0 ? "" : metres(length));

const STATES: Readonly<Record<CoilsStretch["state"], string>> = {
  lacks: say`not from coils`,
  to_prove: say`to prove`,
  untold: say`can't be told`,
};

const setWords = ({ coils }: CoilsCure): string =>
  coils.map(({ words, more_m }) => `${printable(words)} +${metres(more_m)}`).join(", ") || say`none helps`;

/** What would cure a cable, in one line. */
function cureWords({ cure, cure_once_proven, parts }: CoilsCable): string {
  const best = cure_once_proven ?? cure;
  const more = [
    cure_once_proven ? say`once it is proven to slide` : "",
    best.left_open_m > 0 ? say`${metres(best.left_open_m)} stay open` : "",
    best.exact ? "" : say`not proven to be the least`,
    parts > 1 ? say`in ${parts} parts with a gap between` : "",
  ].filter(Boolean);
  return `${setWords(best)}${more.length > 0 ? ` (${more.join("; ")})` : ""}`;
}

const circuitsOf = ({ circuits }: Pick<CoilsCable, "circuits">): string =>
  circuits
    .slice(0, 4)
    .map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`)
    .join(", ") + (circuits.length > 4 ? say` and ${circuits.length - 4} more` : "");

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
            { head: say`cable`, cell: ({ cable }) => cable.tag },
            { head: say`circuits`, cell: ({ circuits }) => circuits.length, right: true },
            { head: say`by priority`, cell: circuitsOf },
            { head: say`strands in service`, cell: ({ strands_in_service }) => strands_in_service, right: true },
            { head: say`not from coils`, cell: ({ lacks_m }) => none(lacks_m), right: true },
            { head: say`to prove`, cell: ({ to_prove_m }) => none(to_prove_m), right: true },
            { head: say`can't be told`, cell: ({ untold_m }) => none(untold_m), right: true },
            { head: say`of`, cell: ({ asked_m }) => metres(asked_m), right: true },
            { head: say`the smallest set of coils`, cell: cureWords },
          ],
          width,
        ),
    ...(alone ? [stretches(alone, width)] : []),
    ...[alone ? (alone.cure_once_proven ?? alone.cure).nearly : null].map((nearly) =>
      nearly ? `${wrap(spoken(nearly.words), width).join("\n")}\n` : "",
    ),
    answer.untold.length === 0
      ? ""
      : table(
          answer.untold,
          [
            { head: say`can't be told of`, cell: ({ cable }) => cable.tag },
            { head: say`because`, cell: ({ reason }) => spoken(reason) },
          ],
          width,
        ),
    answer.places.length === 0
      ? ""
      : table(
          answer.places,
          [
            { head: say`coils wanted at`, cell: ({ words }) => words },
            { head: say`coils`, cell: ({ coils }) => coils, right: true },
            { head: say`metres more in all`, cell: ({ more_m }) => metres(more_m), right: true },
          ],
          width,
        ),
    table(
      answer.limits,
      [
        { head: say`reckoned by`, cell: ({ meaning, tag }) => meaning ?? tag },
        {
          head: say`value`,
          cell: ({ value, unit }) =>
            unit === "m"
              ? metres(value)
              : unit === "ratio"
                ? `${Math.round(value * 1000) / 10} %`
                : `${value} ${unit ?? ""}`.trim(),
          right: true,
        },
        { head: say`source`, cell: ({ source }) => source },
      ],
      width,
    ),
    ...answer.assumed.map((words) => note(say`Assumed`, words)),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

const stretches = ({ stretches: own, mark_unit }: CoilsCable, width: number): string =>
  table(
    own,
    [
      { head: say`from`, cell: ({ from }) => from.words },
      { head: say`to`, cell: ({ to }) => to.words },
      {
        head: say`marks`,
        cell: ({ from, to }) =>
          from.mark === null || to.mark === null ? "" : say`${from.mark} to ${to.mark} ${mark_unit ?? ""}`.trim(),
      },
      { head: say`metres`, cell: ({ length_m }) => metres(length_m), right: true },
      { head: say`state`, cell: ({ state }) => STATES[state] },
      { head: say`circuits`, cell: ({ circuits }) => circuits.length, right: true },
      { head: say`because`, cell: ({ why }) => spoken(why) },
      { head: say`what cures it`, cell: ({ cure }) => spoken(cure) },
    ],
    width,
  );
