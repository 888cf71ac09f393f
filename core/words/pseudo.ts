/**
 * A language nobody speaks: every message of the catalogue between brackets, its letters with accents. On a page spoken in
 * it, whatever stands without brackets was never sent through the catalogue.
 */
import { type Catalogue, formsOf, type TranslationFile } from "./translation.ts";

/** Of no country, by BCP 47's private use. */
export const PSEUDO_CODE = "en-x-pseudo";
export const OPEN = "⟦";
export const CLOSE = "⟧";

const ACCENTS: Readonly<Record<string, string>> = {
  ...{ a: "á", e: "é", i: "í", o: "ó", u: "ú", A: "Á", E: "É", I: "Í", O: "Ó", U: "Ú", n: "ñ", c: "ç", y: "ý" },
};

const accented = (text: string): string => text.replace(/[aeiouncyAEIOU]/g, (letter) => ACCENTS[letter] ?? letter);

export const pseudoText = (pattern: string): string =>
  `${OPEN}${pattern
    .split(/(\{[\w.]+\})/)
    .map((piece, at) => (at % 2 === 1 ? piece : accented(piece)))
    .join("")}${CLOSE}`;

export function pseudoTranslation(catalogue: Catalogue): TranslationFile {
  return {
    language: PSEUDO_CODE,
    name: "Pseudo",
    messages: Object.fromEntries(
      Object.keys(catalogue).map((key) => {
        const forms = formsOf(key);
        return [key, forms ? { one: pseudoText(forms[0]), other: pseudoText(forms[1]) } : pseudoText(key)];
      }),
    ),
  };
}
