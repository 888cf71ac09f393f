/** Fitness, as text. */
import type {
  FitnessAnswer,
  FitnessFigure,
  FitnessVerdict,
  Verdict,
  WouldFitAnswer,
} from "../../core/fitness/answer.ts";
import { say } from "../../core/words/say.ts";
import { spoken, table, wrap } from "./print.ts";

const VERDICTS = {
  fits: say`fits`,
  does_not: say`does not fit`,
  cannot_tell: say`can't tell`,
  caution: say`take care`,
} as const satisfies Record<Verdict, string>;

const paragraph = (text: string, width: number): string => `${wrap(spoken(text), width).join("\n")}\n`;

export const fitnessText = (answer: FitnessAnswer, width: number): string =>
  [paragraph(answer.sentence, width), ...verdictsText(answer, width)].join("\n");

export function wouldFitText(answer: WouldFitAnswer, width: number): string {
  const { order } = answer;
  const parts = table(
    order.parts,
    [
      { head: say`to order`, cell: ({ words }: FitnessFigure) => words },
      { head: "m", cell: ({ value }: FitnessFigure) => value, right: true },
      { head: say`of`, cell: ({ rests_on }: FitnessFigure) => rests_on.map(({ tag }) => tag).join(", ") },
      { head: say`source`, cell: ({ source }: FitnessFigure) => source },
    ],
    width,
  );
  const lacks = order.lacks.map((one) => paragraph(say`Not known: ${one}`, width)).join("");
  return [paragraph(answer.sentence, width), ...verdictsText(answer, width), parts, lacks].filter(Boolean).join("\n");
}

function verdictsText(
  { verdicts, unknown, caution }: Pick<FitnessAnswer, "verdicts" | "unknown" | "caution">,
  width: number,
): string[] {
  const told = verdicts.filter(({ verdict }) => verdict !== "fits");
  return [
    verdicts.length === 0
      ? ""
      : table(
          verdicts,
          [
            { head: say`verdict`, cell: ({ verdict }: FitnessVerdict) => VERDICTS[verdict] },
            { head: say`fact`, cell: ({ fact }: FitnessVerdict) => spoken(fact) },
            { head: say`source`, cell: ({ source }: FitnessVerdict) => source },
          ],
          width,
        ),
    [...new Set(told.flatMap(({ remedy }) => remedy ?? []))]
      .map((one) => paragraph(say`To do: ${one}`, width))
      .join(""),
    unknown.map((one) => paragraph(say`Not known: ${one}`, width)).join(""),
    paragraph(caution, width),
  ].filter(Boolean);
}
