/**
 * A translator's file, held against the catalogue. Nothing of it is trusted: an entry whose holes or blanks differ from the
 * source's is left out and told, what is empty or absent stays English and is counted.
 */
import type { Language, Plurals } from "./language.ts";
import { blanksOf, holesOf } from "./pattern.ts";
import { say } from "./say.ts";

/** A message of the catalogue: where it stands, and what its holes hold where the source has a name for it. */
export interface CatalogueEntry {
  readonly in: readonly string[];
  readonly holes?: readonly string[];
}
/** By source pattern. Keys of two patterns parted by ` | ` hang on a number: the form for one, and the form for many. */
export type Catalogue = Readonly<Record<string, CatalogueEntry>>;

/** What a translator fills in. Texts are patterns; of what hangs on a number one for each plural category of the language. */
export interface TranslationFile {
  readonly language: string;
  readonly name: string;
  readonly messages: Readonly<Record<string, string | Readonly<Record<string, string>>>>;
}

export interface Translation {
  readonly language: Language;
  /** Keys of the catalogue without a text in this file; English stands in. */
  readonly missing: readonly string[];
  /** Entries that can't be used, each with why. */
  readonly wrong: readonly { readonly key: string; readonly reason: string }[];
  /** Entries for messages that the program no longer has. */
  readonly unknown: readonly string[];
}

/** The two forms of a key that hangs on a number; null of every other. */
export function formsOf(key: string): readonly [one: string, many: string] | null {
  const [one = "", many = "", ...more] = key.split(" | ");
  return one !== "" && many !== "" && more.length === 0 ? [one, many] : null;
}

/** Plural categories of a language, such as one, few, other. */
export const categoriesOf = (code: string): readonly Intl.LDMLPluralRule[] =>
  new Intl.PluralRules(code).resolvedOptions().pluralCategories;

/** Whether a name is one that languages are called by. */
export function isLanguageCode(code: string): boolean {
  try {
    return new Intl.Locale(code).toString() === code;
  } catch {
    return false;
  }
}

/** An empty file for a language, to be filled in. */
export function emptyTranslation(catalogue: Catalogue, code: string): TranslationFile {
  const plurals = Object.fromEntries(categoriesOf(code).map((category) => [category, ""]));
  return {
    language: code,
    name: new Intl.DisplayNames([code], { type: "language" }).of(code) ?? code,
    messages: Object.fromEntries(Object.keys(catalogue).map((key) => [key, formsOf(key) ? plurals : ""])),
  };
}

const isObject = (one: unknown): one is Readonly<Record<string, unknown>> =>
  typeof one === "object" && one !== null && !Array.isArray(one);

/** A translator's file as read from JSON, or a sentence that says why it is none. */
export function readTranslation(catalogue: Catalogue, file: unknown): Translation | string {
  if (!isObject(file) || !isObject(file.messages)) return say`has no messages`;
  const { language: code, name, messages: given } = file;
  if (typeof code !== "string" || !isLanguageCode(code)) return say`names no language, such as de or fr-CA`;
  if (typeof name !== "string" || name.trim() === "") return say`doesn't say what its language is called`;
  const messages: Record<string, string> = {};
  const counted: Record<string, Plurals> = {};
  const missing: string[] = [];
  const wrong: { key: string; reason: string }[] = [];
  for (const key of Object.keys(catalogue)) {
    const text = given[key];
    const forms = formsOf(key);
    const judged = forms ? pluralsOf(forms, text) : plainOf(key, text);
    if (judged === null) missing.push(key);
    else if ("reason" in judged) wrong.push({ key, reason: judged.reason });
    else if (typeof judged.text === "string") messages[key] = judged.text;
    else counted[key] = judged.text;
  }
  const unknown = Object.keys(given).filter((key) => !Object.hasOwn(catalogue, key));
  return { language: { code, name, messages, counted }, missing, wrong, unknown };
}

type Judged<T> = { readonly text: T } | { readonly reason: string } | null;

const listed = (holes: readonly (number | string)[]): string =>
  holes.length === 0 ? say`no holes` : holes.map((hole) => `{${hole}}`).join(" ");

const every = (pattern: string): string => listed([...holesOf(pattern), ...blanksOf(pattern)]);

function plainOf(key: string, text: unknown): Judged<string> {
  if (text === undefined || text === "") return null;
  if (typeof text !== "string") return { reason: say`is no text` };
  const [wanted, has] = [every(key), every(text)];
  return wanted === has ? { text } : { reason: say`has ${has} where the source has ${wanted}` };
}

/** Each form has the holes that both forms of the source have; the number may be missing where one of those lacks it. */
function pluralsOf(forms: readonly [string, string], given: unknown): Judged<Plurals> {
  if (given === undefined) return null;
  if (!isObject(given)) return { reason: say`needs one text for each plural form` };
  const texts = Object.entries(given).filter(([, text]) => text !== "");
  if (texts.length === 0) return null;
  const [one, many] = forms.map(holesOf) as [readonly number[], readonly number[]];
  const needed = many.filter((hole) => one.includes(hole));
  const known = [...new Set([...one, ...many])];
  for (const [form, text] of texts) {
    const has = typeof text === "string" ? holesOf(text) : [];
    if (needed.every((hole) => has.includes(hole)) && has.every((hole) => known.includes(hole))) continue;
    return { reason: say`has ${listed(has)} in its form ${form} where the source has ${listed(many)}` };
  }
  const plurals = Object.fromEntries(texts) as Record<string, string>;
  return plurals.other === undefined ? { reason: say`lacks the form other` } : { text: plurals as Plurals & object };
}
