/** How a wrecked splice case is renewed, as text. */
import { choiceWords } from "../../core/model/wording.ts";
import type { LostCaseAnswer } from "../../core/repair/lost-case-told.ts";
import { say } from "../../core/words/say.ts";
import { lossTable } from "./mended.ts";
import { type Cell, facts, lengthTold, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number): string => lengthTold(length, 1);

const pieceTold = ({ new_cable_m, name, how }: NonNullable<LostCaseAnswer["arms"][number]["piece"]>): string =>
  how === "" ? say`${metres(new_cable_m)} from ${name}` : say`${metres(new_cable_m)} from ${name}, ${how}`;

export function caseText(answer: LostCaseAnswer, width: number): string {
  const { arms, circuits, not_in_service } = answer;
  const note = (head: string, words: string): string => `${wrap(`${head}: ${spoken(words)}`, width).join("\n")}\n`;
  const urgent = circuits
    .slice(0, 12)
    .map(({ circuit, priority }) => `${circuit.tag}${priority === null ? "" : ` (${priority})`}`);
  const head: [string, Cell][] = [
    [say`case`, answer.closure.tag],
    [say`destroyed of each sheath`, metres(answer.lost_m)],
    [say`splices in it`, answer.splices],
    [say`strands through it uncut`, answer.express],
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
    [say`hours`, answer.hours.hours ?? say`not known`],
  ];
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    facts(head, width),
    table(
      arms,
      [
        { head: say`cable`, cell: ({ cable }) => cable.tag },
        { head: say`comes from`, cell: ({ from }) => from },
        { head: say`left there`, cell: ({ has_m }) => metres(has_m), right: true },
        { head: say`a splice takes`, cell: ({ needs_m }) => metres(needs_m), right: true },
        {
          head: say`pulled from`,
          cell: ({ pulls }) =>
            pulls
              .map(
                ({ place, stop, pulled_m, left_m }) =>
                  say`${metres(pulled_m)} at ${(place ?? stop).tag}, ${metres(left_m)} stay`,
              )
              .join("; "),
        },
        { head: say`lacks`, cell: ({ short_m }) => (short_m === 0 ? "" : metres(short_m)), right: true },
        {
          head: say`new cable`,
          cell: ({ piece, left_lying }) => (left_lying ? say`left where it lies` : piece ? pieceTold(piece) : ""),
        },
      ],
      width,
    ),
    ...arms.flatMap(({ cable, piece }) =>
      (piece?.stock ?? []).map((words) => note(say`New cable for ${cable.tag}`, words)),
    ),
    lossTable(answer, width, say`circuit afterwards`),
    ...answer.assumed.map((words) => note(say`Assumed`, words)),
    table(
      answer.limits,
      [
        { head: say`reckoned by`, cell: ({ meaning, tag }) => meaning ?? tag },
        {
          head: say`value`,
          cell: ({ value, unit }) => (unit === "m" ? metres(value) : `${value} ${unit ?? ""}`),
          right: true,
        },
        { head: say`source`, cell: ({ source }) => source },
      ],
      width,
    ),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}
