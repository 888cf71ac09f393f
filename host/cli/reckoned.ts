/** A loss, as text. */
import type { ApplicationVerdict, LineLoss, LossAnswer, WavelengthLoss } from "../../core/light/answer.ts";
import { BASIS_WORDS } from "../../core/light/basis-words.ts";
import type { LossTerm } from "../../core/light/terms.ts";
import { asKnown } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, printable, spoken, table, wrap } from "./print.ts";

const decibels = (db: number | null): string => (db === null ? say`not known` : `${Math.round(db * 1000) / 1000} dB`);

export function lossText(answer: LossAnswer, width: number): string {
  const lines = answer.lines.map((line, at) => lineText(answer, line, at, width));
  return [`${wrap(spoken(answer.sentence), width).join("\n")}\n`, ...lines].join("\n");
}

const ASKED_AS: Readonly<Record<LineLoss["as"], string>> = { link: say`a link`, channel: say`a channel` };

function lineText(answer: LossAnswer, line: LineLoss, at: number, width: number): string {
  const head =
    answer.lines.length > 1 ? [say`strand ${at + 1} of ${answer.lines.length}: ${printable(line.asked)}\n`] : [];
  const sums: [string, Cell][] = [
    [say`as`, `${ASKED_AS[line.as]}, ${line.ends}`],
    [say`edition`, answer.edition_words],
    [say`from`, printable(line.from.words)],
    [say`to`, printable(line.to.words)],
    [
      say`length`,
      line.length_m === null
        ? say`not known`
        : say`${line.length_m} m of glass${line.length_complete && !line.ends_bare ? "" : say`, and more`}`,
    ],
  ];
  return [
    ...head,
    facts(sums, width),
    ...line.losses.map((loss) => wavelengthText(loss, width)),
    applicationsText(line.applications, width),
    ...line.powers.map(({ transmitter, receiver, budget_db, margin_db, overload }) =>
      facts(
        [
          [say`light`, say`${printable(transmitter.tag)} to ${printable(receiver.tag)}`],
          [say`budget`, decibels(budget_db)],
          [say`margin`, decibels(margin_db)],
          [say`overload`, overload.words],
        ],
        width,
      ),
    ),
    ...line.acceptance.map(({ wavelength_nm, limit_db, formula, parts, measurements }) =>
      facts(
        [
          [say`accepted at ${wavelength_nm} nm up to`, decibels(limit_db)],
          [say`by`, formula],
          ...parts.map(({ words, loss_db, source }): [string, Cell] => [words, `${decibels(loss_db)}; ${source}`]),
          ...measurements.map(({ words, loss_db, passes, doubt }): [string, Cell] => [
            passes ? say`passes` : say`fails`,
            [`${decibels(loss_db)}: ${printable(words)}`, doubt && printable(doubt)].filter(Boolean).join("; "),
          ]),
        ],
        width,
      ),
    ),
    ...line.disagreements.map(({ sentence, look_first, why }) => {
      const words = say`Disagrees: ${sentence} Look first at ${look_first.tag}: ${why}.`;
      return `${wrap(spoken(words), width).join("\n")}\n`;
    }),
    ...[...line.assumptions, ...line.doubts].map((note) => `${wrap(say`Note: ${spoken(note)}`, width).join("\n")}\n`),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

function wavelengthText({ wavelength_nm, loss_db, complete, terms, unknown }: WavelengthLoss, width: number): string {
  const columns = [
    { head: say`at ${wavelength_nm} nm`, cell: ({ words }: LossTerm) => words },
    { head: say`loss`, cell: (term: LossTerm) => decibels(term.loss_db), right: true },
    { head: say`basis`, cell: ({ basis }: LossTerm) => BASIS_WORDS[basis] },
    { head: say`source`, cell: ({ source, lacks }: LossTerm) => lacks ?? source },
  ];
  const sum = loss_db === null ? decibels(loss_db) : asKnown(decibels(loss_db), complete);
  const lacks: [string, Cell][] = unknown.length > 0 ? [[say`not known`, unknown.map(printable).join("; ")]] : [];
  return `${table(terms, columns, width)}${facts([[say`sum at ${wavelength_nm} nm`, sum], ...lacks], width)}`;
}

function applicationsText(applications: readonly ApplicationVerdict[], width: number): string {
  if (applications.length === 0) return "";
  const verdicts = { yes: say`yes`, no: say`no`, cannot_tell: say`can't tell` };
  // Where a cord is to come the margin is less than what is on record leaves.
  const metres = ({ margin_m, length_m, limit_m }: ApplicationVerdict) =>
    margin_m !== null
      ? `${Math.round(margin_m)} m`
      : length_m !== null && limit_m !== null
        ? say`below ${Math.round(limit_m - length_m)} m`
        : "";
  return table(
    applications,
    [
      { head: say`application`, cell: (one: ApplicationVerdict) => one.application },
      { head: say`runs`, cell: (one: ApplicationVerdict) => verdicts[one.runs] },
      { head: say`at worst`, cell: (one: ApplicationVerdict) => verdicts[one.runs_at_worst] },
      {
        head: say`bears`,
        cell: (one: ApplicationVerdict) => (one.limit_db === null ? "" : decibels(one.limit_db)),
        right: true,
      },
      {
        head: say`margin`,
        cell: (one: ApplicationVerdict) => (one.margin_db === null ? "" : decibels(one.margin_db)),
        right: true,
      },
      { head: say`and in length`, cell: (one: ApplicationVerdict) => metres(one), right: true },
      // Of what it bears the first source is that of the loss. The last column alone is wrapped, so it has both.
      {
        head: say`because, and where that is from`,
        cell: (one: ApplicationVerdict) => [...one.reasons, ...one.sources.slice(0, 1)].join("; "),
      },
    ],
    width,
  );
}
