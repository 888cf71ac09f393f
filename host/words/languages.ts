/**
 * Languages on this machine: translators' files beside the catalogue and in the user's own folder, and the one that is
 * chosen. Read before anything else of the program is loaded, so it rests on nothing but the words themselves.
 */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { speak } from "../../core/words/language.ts";
import { say } from "../../core/words/say.ts";
import { type Catalogue, readTranslation, type Translation } from "../../core/words/translation.ts";
import type { OfferedLanguage, WindowWords } from "../../core/words/wire.ts";
import { keptPath } from "../machine/kept-path.ts";

/** The catalogue, and the languages that come with the program. */
const OWN = fileURLToPath(new URL("../../core/words", import.meta.url));
const CATALOGUE = "messages.json";

export const readCatalogue = (folder = OWN): Catalogue =>
  JSON.parse(readFileSync(join(folder, CATALOGUE), "utf8")) as Catalogue;

/** Where whoever works on this machine puts a translator's file. */
export const wordsFolder = (preferences = keptPath()): string => join(dirname(preferences), "words");

export interface Words {
  /** What can be chosen besides English. */
  readonly offered: readonly OfferedLanguage[];
  /** The chosen one; null where English is spoken. */
  readonly chosen: Translation | null;
  /** Files that are no translations, and a choice of a language that isn't there, as sentences. */
  readonly faults: readonly string[];
}

/** What is there and chosen, by the preferences file at this path. */
export function findWords(preferences = keptPath(), own = OWN): Words {
  const faults: string[] = [];
  const files = new Map<string, { readonly file: unknown; readonly name: string }>();
  // The user's own file of a language stands for the program's.
  for (const folder of [own, wordsFolder(preferences)]) {
    for (const entry of jsonFiles(folder)) {
      const path = join(folder, entry);
      const file = readJson(path);
      const { language, name } = (file ?? {}) as Record<string, unknown>;
      if (typeof language !== "string" || typeof name !== "string") faults.push(say`${path} is no translation.`);
      else files.set(language, { file, name });
    }
  }
  const offered = [...files].map(([code, { name }]) => ({ code, name })).sort((a, b) => (a.code < b.code ? -1 : 1));
  const wanted = wantedIn(readJson(preferences));
  if (wanted === null) return { offered, chosen: null, faults };
  const found = files.get(wanted);
  const chosen = found ? readTranslation(readCatalogue(own), found.file) : say`isn't on this machine`;
  if (typeof chosen === "string") return { offered, chosen: null, faults: [...faults, `${wanted} ${chosen}.`] };
  return { offered, chosen, faults };
}

/** Speaks the chosen language from now on; answers what was found. */
export function speakChosen(preferences = keptPath()): Words {
  const words = findWords(preferences);
  speak(words.chosen?.language ?? null);
  // What is amiss with files is said in the language that is spoken from now on.
  return words.chosen && words.faults.length > 0 ? findWords(preferences) : words;
}

const jsonFiles = (folder: string): string[] => {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith(".json") && name !== CATALOGUE)
      .sort();
  } catch {
    return [];
  }
};

function readJson(path: string): unknown {
  try {
    return JSON.parse(readFileSync(path, "utf8"));
  } catch {
    return null;
  }
}

/** The language named among the settings; null for English, and for what can't be read. */
function wantedIn(kept: unknown): string | null {
  const settings = (kept as { settings?: unknown } | null)?.settings;
  const language = (settings as { language?: unknown } | null | undefined)?.language;
  return typeof language === "string" && language !== "" && language !== "en" ? language : null;
}

export const windowWords = ({ offered, chosen }: Words): WindowWords => ({
  language: chosen?.language ?? null,
  offered,
  missing: chosen?.missing.length ?? 0,
  wrong: chosen?.wrong.length ?? 0,
});
