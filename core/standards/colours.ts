/**
 * Which colour a position has, and which position a colour has. Positions count from 1 within a unit (a strand in its
 * tube, a tube among its neighbours). An explicit list, where a cable has one, goes before its sequence.
 */
import type { FIBRE_CLASSES } from "../model/lists.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { HUES, type Hue, type ListedSequence, SEQUENCES, type SequenceName, TUBES_BY_FIBRE } from "./colour-table.ts";

export interface Mark {
  /** Stripes run along, rings go round. */
  readonly kind: "stripe" | "ring";
  readonly count: number;
  readonly colour: string;
}

export interface Colour {
  /** The colour in words, such as "blue"; null where the record can't say. */
  readonly name: string | null;
  /** The two-letter code, such as BL; null for a colour outside the code. */
  readonly code: string | null;
  readonly mark: Mark | null;
}

const UNKNOWN: Colour = { name: null, code: null, mark: null };

const nameOf = (hue: Hue, sequence: SequenceName | null): string =>
  sequence === "tia_598" ? HUES[hue].tia : HUES[hue].name;

function listed(sequence: ListedSequence, position: number): Colour {
  const { hues, beyond } = SEQUENCES[sequence];
  const count = Math.floor((position - 1) / hues.length);
  const hue = hues[(position - 1) % hues.length] as Hue;
  if (count === 0) return { name: nameOf(hue, sequence), code: HUES[hue].code, mark: null };
  const marked = hue === "black" ? beyond.onBlack : { hue, mark: "black" as const };
  return {
    name: nameOf(marked.hue, sequence),
    code: HUES[marked.hue].code,
    mark: { kind: beyond.mark, count, colour: marked.mark },
  };
}

/**
 * The colour of a position. `explicit` is the list typed for the cable; positions it doesn't reach follow the sequence.
 * `sequence` is null where the record doesn't say.
 */
export function colourAt(sequence: SequenceName | null, position: number, explicit?: readonly string[] | null): Colour {
  const own = explicit?.[position - 1];
  if (own !== undefined) return colourFromText(own, sequence);
  if (sequence === null || sequence === "explicit" || !(position >= 1)) return UNKNOWN;
  return listed(sequence, position);
}

const fold = (text: string): string =>
  text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[\s_-]+/g, " ")
    .trim();

const ALL_HUES = Object.keys(HUES) as Hue[];
const namesOf = (hue: Hue): string[] => [HUES[hue].name, HUES[hue].tia, ...HUES[hue].also];

const COUNTS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
const MARK_PATTERN =
  /^(.+?)(?:\s*\+(\d*)|[\s,]+(?:with )?(?:(an?|one|two|three|four|five|six|seven|eight|nine|ten|\d+) )?(?:([a-z]+) )?(stripes?|tracers?|striped|rings?|ringed))$/;

interface MarkText {
  readonly base: string;
  readonly count: number;
  readonly kind: Mark["kind"] | null;
  readonly colour: string | null;
}

/** Takes the mark off a colour as written: "BL+1", "blue, two stripes", "brown with a ring". */
function splitMark(text: string): MarkText {
  const folded = fold(text);
  const match = MARK_PATTERN.exec(folded);
  if (!match) return { base: folded, count: 0, kind: null, colour: null };
  const [, base = "", plus, number, colour, word] = match;
  const said = plus ?? number;
  const spelled = said === undefined || said === "" || said === "a" || said === "an" ? 1 : COUNTS.indexOf(said);
  const count = spelled >= 0 ? spelled : Number(said);
  // "blue black stripe" names the stripe's colour; "light green stripe" doesn't.
  const hue = colour === undefined ? undefined : ALL_HUES.find((each) => namesOf(each).includes(colour));
  const whole = colour !== undefined && hue === undefined ? `${base} ${colour}` : base;
  return {
    base: whole,
    count,
    kind: word === undefined ? null : /^ring/.test(word) ? "ring" : "stripe",
    colour: hue ?? null,
  };
}

const hueNamed = (base: string): Hue | undefined => ALL_HUES.find((hue) => namesOf(hue).includes(base));
const hueCoded = (base: string): Hue | undefined =>
  ALL_HUES.find((hue) => HUES[hue].code?.toLowerCase() === base) ??
  ALL_HUES.find((hue) => HUES[hue].iec?.toLowerCase() === base);

/** A colour somebody typed, as a colour where it is one we know, otherwise by its own words. */
export function colourFromText(text: string, sequence: SequenceName | null = null): Colour {
  const { base, count, kind, colour } = splitMark(text);
  const hue = hueNamed(base) ?? hueCoded(base);
  if (hue === undefined) return { name: text, code: null, mark: null };
  const beyond = sequence === null || sequence === "explicit" ? null : SEQUENCES[sequence].beyond;
  const usual = hue === "black" && (kind ?? beyond?.mark ?? "stripe") === "stripe" ? "yellow" : "black";
  return {
    name: hueNamed(base) === undefined || sequence === "tia_598" ? nameOf(hue, sequence) : base,
    code: HUES[hue].code,
    mark: count === 0 ? null : { kind: kind ?? beyond?.mark ?? "stripe", count, colour: colour ?? usual },
  };
}

const sameColour = (colour: Colour, hue: Hue, mark: MarkText): boolean =>
  colour.name !== null &&
  (hueNamed(fold(colour.name)) ?? null) === hue &&
  (colour.mark?.count ?? 0) === mark.count &&
  (mark.kind === null || colour.mark?.kind === mark.kind) &&
  (mark.colour === null || colour.mark?.colour === mark.colour);

/**
 * Positions, counted from 1, that a colour as written can mean among neighbours of the given colours; none when it is no
 * colour of theirs, several when it can be read in more than one way. Under TIA-598 its own letters decide (BL is blue,
 * BK black); elsewhere two letters may be those of TIA-598, of IEC 60757 or the beginning of a name, so that BL can be
 * blue or black and GR green or grey. `typed` holds colours as somebody typed them for a position; equal words go first.
 */
export function readColour(
  text: string,
  colours: readonly Colour[],
  sequence: SequenceName | null,
  typed: readonly (string | null | undefined)[] = [],
): number[] {
  const wanted = fold(text);
  if (wanted === "") return [];
  const positions = (test: (colour: Colour, index: number) => boolean): number[] =>
    colours.flatMap((colour, index) => (test(colour, index) ? [index + 1] : []));

  const same = positions((_, index) => {
    const own = typed[index];
    return own !== undefined && own !== null && fold(own) === wanted;
  });
  if (same.length > 0) return same;

  const mark = splitMark(text);
  const { base } = mark;
  const starting = ALL_HUES.filter((hue) => namesOf(hue).some((name) => name.startsWith(base)));
  const coded = ALL_HUES.filter((hue) => HUES[hue].code?.toLowerCase() === base);
  const codedByIec = ALL_HUES.filter((hue) => HUES[hue].iec?.toLowerCase() === base);
  const exactly = hueNamed(base);
  const tiers: readonly (readonly Hue[])[] = [
    exactly === undefined ? [] : [exactly],
    ...(sequence === "tia_598" ? [coded, codedByIec, starting] : [[...coded, ...codedByIec, ...starting]]),
  ];
  for (const hues of tiers) {
    const found = positions((colour) => hues.some((hue) => sameColour(colour, hue, mark)));
    if (found.length > 0) return found;
  }
  return [];
}

/** Positions from 1 to `count` of a sequence or explicit list that a colour as written can mean; see `readColour`. */
export const positionsOf = (
  sequence: SequenceName | null,
  text: string,
  count: number,
  explicit?: readonly string[] | null,
): number[] =>
  readColour(
    text,
    Array.from({ length: count }, (_, index) => colourAt(sequence, index + 1, explicit)),
    sequence,
    explicit ?? [],
  );

/** Names of the code as they are said; what a crew calls a colour otherwise stays as it was typed. */
const SAID: Readonly<Record<string, string>> = {
  blue: say`blue`,
  orange: say`orange`,
  green: say`green`,
  brown: say`brown`,
  grey: say`grey`,
  slate: say`slate`,
  white: say`white`,
  red: say`red`,
  black: say`black`,
  yellow: say`yellow`,
  violet: say`violet`,
  pink: say`pink`,
  rose: say`rose`,
  turquoise: say`turquoise`,
  aqua: say`aqua`,
  transparent: say`transparent`,
  "light green": say`light green`,
};

/** A colour's name as it is said: one of the code in the language spoken, any other as it was typed. */
export const colourSaid = (name: string): string => SAID[name] ?? name;

/** Marks of one to three, said with and without a colour of their own. */
const MARKS: Readonly<Record<Mark["kind"], readonly (readonly [plain: MarkSaid, coloured: MarkSaid])[]>> = {
  stripe: [
    [(base) => say`${base}, one stripe`, (base, own) => say`${base}, one ${own} stripe`],
    [(base) => say`${base}, two stripes`, (base, own) => say`${base}, two ${own} stripes`],
    [(base) => say`${base}, three stripes`, (base, own) => say`${base}, three ${own} stripes`],
  ],
  ring: [
    [(base) => say`${base}, one ring`, (base, own) => say`${base}, one ${own} ring`],
    [(base) => say`${base}, two rings`, (base, own) => say`${base}, two ${own} rings`],
    [(base) => say`${base}, three rings`, (base, own) => say`${base}, three ${own} rings`],
  ],
};
type MarkSaid = (base: string, own: string) => string;

/** "blue", "blue, one stripe", "black, one yellow stripe", "transparent, one black ring". */
export function colourWords(colour: Colour): string | null {
  if (colour.name === null) return null;
  const base = colourSaid(colour.name);
  if (colour.mark === null) return base;
  const { kind, count, colour: own } = colour.mark;
  const shown = own !== "black" || colour.name === "transparent";
  const few = MARKS[kind][count - 1]?.[shown ? 1 : 0];
  if (few) return few(base, colourSaid(own));
  const marks = kind === "stripe" ? counted(count, "stripe") : counted(count, "ring");
  return shown ? say`${base}, ${marks} of ${colourSaid(own)}` : say`${base}, ${marks}`;
}

/** The short form for addresses and narrow places: "BL", "BL+1"; null for a colour outside the code. */
export const colourShort = (colour: Colour): string | null =>
  colour.code === null ? null : colour.mark === null ? colour.code : `${colour.code}+${colour.mark.count}`;

/** Unit (tube) and position of strand `number` where every unit holds `each` strands. Both count from 1. */
export const unitAndPlace = (number: number, each: number): { unit: number; place: number } => ({
  unit: Math.ceil(number / each),
  place: ((number - 1) % each) + 1,
});

/** The inverse of `unitAndPlace`. */
export const strandNumber = (unit: number, place: number, each: number): number => (unit - 1) * each + place;

/** An explicit list for loose tubes by Central-European practice, which tells the fibre and not the order. */
export function tubesByFibre(count: number, fibreClass: keyof typeof FIBRE_CLASSES | null): string[] | null {
  if (fibreClass === null) return null;
  const further =
    fibreClass === "om1"
      ? TUBES_BY_FIBRE.multimode_62
      : fibreClass.startsWith("om")
        ? TUBES_BY_FIBRE.multimode_50
        : TUBES_BY_FIBRE.single_mode;
  return Array.from({ length: count }, (_, index) =>
    index === 0 ? TUBES_BY_FIBRE.first : index === 1 ? TUBES_BY_FIBRE.second : further,
  );
}
