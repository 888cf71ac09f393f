/** What limits are about, for the blanks of the question and the words beside each value. */
import type { AnswerOf } from "../../../core/operations/list.ts";
import { EDITION_TAG } from "../../../core/standards/limits/acceptance.ts";
import { TRUST } from "../../../core/standards/source.ts";
import { say } from "../../../core/words/say.ts";
import type { WrittenOn } from "../../forms/written-on.tsx";
import { shownNumber } from "../../grid/reading-numbers.ts";

export type Limit = AnswerOf<"standards.limits">["limits"][number];

/** The one row that holds a choice and no number. */
export type EditionRow = AnswerOf<"standards.limits">["acceptance"];
export type Row = Limit | EditionRow;

/** The plant's own record of it, at the version that was read. */
export const recordOf = ({ record, changed }: Row): WrittenOn => record && { id: record.id, rev: changed?.rev ?? 0 };

export const isEdition = (row: Row): row is EditionRow => row.tag === EDITION_TAG;

export const editionName = ({ edition, editions }: EditionRow): string =>
  editions.find((one) => one.edition === edition)?.words ?? edition;

export const editionHow = ({ own }: EditionRow): string =>
  own ? say`chosen by the plant` : say`the newest on the list`;

/** The edition stands before the limits. */
export const rowsOf = ({ acceptance, limits }: AnswerOf<"standards.limits">): readonly Row[] => [acceptance, ...limits];

/** By the first part of a limit's tag; what isn't named here is a policy. */
const SUBJECTS = [
  { value: "glass", words: say`what glass loses`, first: ["attenuation", "mode_field", "mismatch"] },
  { value: "joints", words: say`joints and parts`, first: ["pair", "splice", "splitter", "furcation", "attenuator"] },
  { value: "applications", words: say`applications`, first: ["application", "wavelength"] },
  { value: "acceptance", words: say`the acceptance of links`, first: ["acceptance"] },
  {
    value: "fitness",
    words: say`cables where they lie`,
    first: ["fill", "jam", "bend", "unlisted", "depth", "pull", "order", "crossing"],
  },
  {
    value: "locating",
    words: say`finding and mending a break`,
    first: ["locate", "repair", "breakout", "index", "excess"],
  },
] as const;

export const POLICIES = "policies";

export const SUBJECT_CHOICES = [
  { value: "", words: say`every subject` },
  ...SUBJECTS.map(({ value, words }) => ({ value, words })),
  { value: POLICIES, words: say`the plant's policies` },
];

export const HOW_WORDS: Readonly<Record<Limit["how_known"], string>> = { ...TRUST, policy: say`common practice` };

export const KNOWN_CHOICES = [
  { value: "", words: say`however they are known` },
  { value: "own", words: say`set by the plant` },
  ...Object.entries(HOW_WORDS).map(([value, words]) => ({ value, words })),
];

const subjectOf = (tag: string): string => {
  const first = tag.split(".")[0] ?? "";
  return SUBJECTS.find((subject) => (subject.first as readonly string[]).includes(first))?.value ?? POLICIES;
};

/** Rows that the blanks ask for. */
export function askedFor(rows: readonly Row[], values: Readonly<Record<string, string>>): readonly Row[] {
  const { about = "", known = "", named = "" } = values;
  const words = named.toLowerCase().split(/\s+/).filter(Boolean);
  return rows.filter((row) => {
    const text = textOf(row).join(" ").toLowerCase();
    const how = isEdition(row) ? null : row.how_known;
    return (
      (about === "" || subjectOf(row.tag) === about) &&
      (known === "" || (known === "own" ? row.own : !row.own && how === known)) &&
      words.every((word) => text.includes(word))
    );
  });
}

const textOf = (row: Row) =>
  isEdition(row)
    ? [row.tag, row.meaning, editionName(row), row.reason]
    : [row.tag, row.meaning, row.source, row.edition, row.reason];

/** "0.3 dB/km"; a ratio and a count stand alone. */
export const valueWords = (value: number, unit: string | null): string =>
  `${shownNumber(value)}${unit && unit !== "ratio" && unit !== "none" ? `\u202f${unitWords(unit)}` : ""}`;

/** Units that are words; the others are symbols, and stand as they are stored. */
const UNIT_WORDS: ReadonlyMap<string, string> = new Map([
  ["1 or 0", say`1 or 0`],
  ["diameters", say`diameters`],
  ["dots", say`dots`],
  ["modules", say`modules`],
  ["ports", say`ports`],
  ["splices", say`splices`],
]);

const unitWords = (unit: string): string => UNIT_WORDS.get(unit) ?? unit;

/** How a value is known: the plant's own is its policy, whatever it was taken from. */
export const howWords = ({ own, how_known }: Limit): string =>
  own && how_known === "policy" ? say`the plant's own policy` : HOW_WORDS[how_known];
