/** Where glass is broken, as text. */
import type {
  Band,
  BandTerm,
  BreakPlace,
  Candidate,
  LocateAnswer,
  ReadingAnswer,
  Spent,
  Where,
} from "../../core/locate/answer.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, lengthTold, printable, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const metres = (length: number): string => lengthTold(length);

export function locatedText(answer: LocateAnswer, width: number): string {
  const { places, disagreements, readings, ways } = answer;
  const note = (head: string, words: string): string => `${wrap(`${head}: ${spoken(words)}`, width).join("\n")}\n`;
  const several = places.length > 1;
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    ...disagreements.flatMap(({ words, means }) => [
      `${[say`${spoken(words)}. That may be:`, ...means.map((one) => `- ${spoken(one)}`)]
        .flatMap((line) => wrap(line, width))
        .join("\n")}\n`,
    ]),
    ...places.map((place) => placeText(place, several, width)),
    ...readings.map((reading) => readingText(reading, readings.length > 1, width)),
    ways.length > 0 ? table(ways, WAYS, width) : "",
    ...answer.doubts.map((words) => note(say`Doubt`, words)),
    ...answer.lacks.map((words) => note(say`Not on record`, words)),
    ...answer.notes.map((words) => note(say`Note`, words)),
    cautions(answer.cautions, width),
  ]
    .filter((part) => part !== "")
    .join("\n");
}

function placeText({ from, where, band, candidates }: BreakPlace, several: boolean, width: number): string {
  const head = several ? say`By the reading from ${from.map(({ tag }) => tag).join(say` and `)}: ${where.words}` : "";
  return [
    head === "" ? "" : `${wrap(spoken(head), width).join("\n")}\n`,
    whereText(where, width),
    bandText(band, width),
    candidates.length > 0 ? table(candidates, WITHIN, width) : "",
  ]
    .filter((part) => part !== "")
    .join("\n");
}

function whereText(where: Where, width: number): string {
  const { cable, ways, place, mark, mark_lacks, between, coordinate, coordinate_lacks } = where;
  const pairs: [string, Cell][] = [
    [say`cable`, cable?.tag],
    [say`in`, ways.map(({ tag }) => tag).join(", ")],
    [say`at`, place?.tag],
    ...(cable ? [markLine(mark, mark_lacks)] : []),
    ...between.map(({ words }): [string, Cell] => [say`beside`, words]),
  ];
  if (coordinate) {
    const { latitude, longitude, words } = coordinate;
    pairs.push([say`latitude, longitude`, `${latitude}, ${longitude}: ${words}`]);
  } else if (cable) pairs.push([say`coordinate`, coordinate_lacks && say`none: ${coordinate_lacks}`]);
  return facts(pairs, width);
}

function markLine(mark: Where["mark"], lacks: string | null): [string, Cell] {
  if (!mark) return [say`mark`, lacks && say`none: ${lacks}`];
  const { value, unit, least, most } = mark;
  const range = least === null || most === null ? "" : say`, likely ${Math.round(least)} to ${Math.round(most)}`;
  return [say`mark`, `${Math.round(value)}${unit === null ? say`, in what unit nobody recorded` : ` ${unit}`}${range}`];
}

function bandText({ likely_m, nearer_m, farther_m, all_m, terms, how }: Band, width: number): string {
  const columns = [
    { head: say`off by up to`, cell: ({ metres: off }: BandTerm) => `${off.toFixed(2)} m`, right: true },
    { head: say`because of`, cell: ({ words }: BandTerm) => words },
    { head: say`basis`, cell: ({ basis }: BandTerm) => basis.replace("_", " ") },
    { head: say`source`, cell: ({ source }: BandTerm) => source },
  ];
  const sums: [string, Cell][] = [
    [say`all of them`, say`${metres(all_m)} to either side`],
    ...(how === null
      ? []
      : [[say`never more than`, say`${metres(nearer_m)} nearer, ${metres(farther_m)} farther`] as [string, Cell]]),
    [say`in 95 of 100 cases`, say`${metres(likely_m)} to either side`],
  ];
  const told = terms.filter(({ metres: off }) => off >= 0.005);
  const joined = how === null ? "" : `\n${wrap(spoken(how), width).join("\n")}\n`;
  return `${told.length > 0 ? table(told, columns, width) : ""}${facts(sums, width)}${joined}`;
}

const WITHIN = [
  { head: say`within the band`, cell: ({ words }: Candidate) => words },
  { head: say`where`, cell: ({ place }: Candidate) => place?.tag },
  {
    head: say`off`,
    cell: ({ off_m }: Candidate) =>
      off_m === 0 ? say`here` : `${metres(Math.abs(off_m))} ${off_m < 0 ? say`nearer` : say`farther`}`,
  },
  { head: "", cell: ({ likely }: Candidate) => (likely ? say`likely` : say`only at worst`) },
];

const WAYS = [
  { head: say`if it is the way to`, cell: ({ to }: LocateAnswer["ways"][number]) => to },
  { head: say`then`, cell: ({ where }: LocateAnswer["ways"][number]) => where.words },
];

function readingText(reading: ReadingAnswer, several: boolean, width: number): string {
  const columns = [
    { head: say`spent on`, cell: ({ words }: Spent) => words },
    { head: say`length`, cell: ({ length_m }: Spent) => metres(length_m), right: true },
    { head: say`glass`, cell: ({ glass_m }: Spent) => metres(glass_m), right: true },
    { head: say`index`, cell: ({ index }: Spent) => index, right: true },
    { head: say`round trip`, cell: ({ time_us }: Spent) => say`${time_us.toFixed(4)} µs`, right: true },
  ];
  const pairs: [string, Cell][] = [
    [say`read`, reading.words],
    [say`taken as`, reading.conventions.join("; ")],
    [say`round trip from the port`, say`${reading.time_us} µs`],
  ];
  if (several) {
    pairs.push(
      [say`by itself`, `${printable(reading.where.words)}, ± ${metres(reading.band.likely_m)}`],
      [say`counts for`, say`${Math.round(reading.weight * 100)} of 100`],
    );
  }
  return `${facts(pairs, width)}${reading.spent.length > 0 ? table(reading.spent, columns, width) : ""}`;
}
