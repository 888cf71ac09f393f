/**
 * Cells that count on from those above them: tags, port numbers, ranges of strands, days. Rules are common spreadsheet
 * practice (no source) and the shapes of the plant's own addresses.
 */

interface Counting {
  /** What stands between the numbers; one more than there are numbers. */
  readonly between: readonly string[];
  readonly numbers: readonly string[];
}

const split = (text: string): Counting => ({
  between: text.split(/\d+/),
  numbers: text.match(/\d+/g) ?? [],
});

const join = ({ between, numbers }: Counting): string => between.map((part, at) => part + (numbers[at] ?? "")).join("");

/** `07` goes on as `08`; `7` as `8`. */
const likeIt = (value: number, model: string): string =>
  String(value).padStart(model.startsWith("0") ? model.length : 1, "0");

const DAY = /^\d{4}-\d\d-\d\d$/;
const DAY_MS = 86_400_000;
const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;
const dayOf = (number: number): string => new Date(number * DAY_MS).toISOString().slice(0, 10);

const NUMBER = /^-?\d+(?:\.\d+)?$/;
const decimals = (text: string): number => text.split(".")[1]?.length ?? 0;

/** The one step between neighbours, or null; a single value has none. */
function stepOf(values: readonly number[]): number | null {
  const [first = 0, second = 0] = values;
  const step = second - first;
  return values.every((value, at) => at === 0 || Math.abs(value - (values[at - 1] ?? 0) - step) < 1e-9) ? step : null;
}

/** By how much each number of a single cell goes on: a range by its own width, else the last number by one. */
function stepsOfOne(text: string): number[] | null {
  const { numbers } = split(text);
  if (numbers.length === 0) return null;
  const range = /(?:^|[:\s])(\d+)\s*[-–]\s*(\d+)$/.exec(text);
  if (range && Number(range[1]) < Number(range[2])) {
    const wide = Number(range[2]) - Number(range[1]) + 1;
    return numbers.map((_, at) => (at >= numbers.length - 2 ? wide : 0));
  }
  // `F-014:25#1` is a piece of strand 25, `P1:07#2` a position of port 07: it is the strand or port that goes on.
  const last = /#\d+$/.test(text) && numbers.length > 1 ? numbers.length - 2 : numbers.length - 1;
  return numbers.map((_, at) => (at === last ? 1 : 0));
}

const isSafe = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;

/**
 * So many cells more after those given; null where they don't count on: without a number, at uneven steps, or below
 * nought. Words that differ come round again.
 */
export function countOn(given: readonly string[], count: number): string[] | null {
  const last = given.at(-1);
  if (last === undefined || given.some((text) => text.trim() === "")) return null;
  const times = Array.from({ length: count }, (_, at) => at + 1);
  if (given.every((text) => DAY.test(text))) {
    const step = given.length === 1 ? 1 : stepOf(given.map(dayNumber));
    return step === null ? null : times.map((time) => dayOf(dayNumber(last) + step * time));
  }
  if (given.every((text) => NUMBER.test(text)) && !given.some((text) => /^0\d/.test(text))) {
    const step = given.length === 1 ? 1 : stepOf(given.map(Number));
    const most = Math.max(...given.map(decimals));
    return step === null ? null : times.map((time) => (Number(last) + step * time).toFixed(most));
  }
  const parts = given.map(split);
  const shape = JSON.stringify(parts[0]?.between);
  if (parts.some(({ between }) => JSON.stringify(between) !== shape))
    return times.map((time) => given[(time - 1) % given.length] ?? "");
  const { between, numbers } = split(last);
  const steps =
    given.length === 1
      ? stepsOfOne(last)
      : numbers.map((_, at) => stepOf(parts.map((part) => Number(part.numbers[at]))));
  if (steps === null || steps.length === 0 || steps.includes(null)) return null;
  const goesOn = times.map((time) => numbers.map((number, at) => Number(number) + (steps[at] ?? 0) * time));
  if (!goesOn.flat().every(isSafe)) return null;
  return goesOn.map((values) =>
    join({ between, numbers: values.map((value, at) => likeIt(value, numbers[at] ?? "")) }),
  );
}

/**
 * Which cells of a column count on: the filled ones at its top are what is counted on from; where all are filled, the
 * first alone is.
 */
export function seedOf(texts: readonly string[]): number {
  const empty = texts.findIndex((text) => text.trim() === "");
  return empty === -1 ? Math.min(1, texts.length) : empty;
}
