/** The same done in English and in the language nobody speaks, and what both say once brackets and accents are gone. */
import { execFile } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { CLOSE, OPEN, pseudoTranslation } from "../../core/words/pseudo.ts";
import { readTranslation, type Translation } from "../../core/words/translation.ts";
import { readMessages } from "../../setup/messages.ts";
import { newFolder } from "../support/plant.ts";
import type { Came, Task, Told } from "./spoken-child.ts";

const CHILD = fileURLToPath(new URL("spoken-child.ts", import.meta.url));

/** The language nobody speaks, of the source as it stands. `bare`: without its brackets, so that every text is as long as in English. */
export function nobodys({ bare = false } = {}): Translation {
  const catalogue = readMessages();
  const file = JSON.stringify(pseudoTranslation(catalogue).messages);
  const messages = JSON.parse(file, (_, value) =>
    bare && typeof value === "string" ? value.replaceAll(OPEN, "").replaceAll(CLOSE, "") : value,
  );
  const read = readTranslation(catalogue, { ...pseudoTranslation(catalogue), messages });
  if (typeof read === "string") throw new Error(read);
  return read;
}

/** What comes of these tasks where that language is spoken; null is English. */
export async function spokenIn(translation: Translation | null, tasks: readonly Task[]): Promise<readonly Came[]> {
  const folder = newFolder();
  const [told, out] = [join(folder, "told.json"), join(folder, "out.json")];
  const asked: Told = { language: translation?.language ?? null, tasks };
  writeFileSync(told, JSON.stringify(asked));
  await promisify(execFile)(process.execPath, [CHILD, told, out]);
  return JSON.parse(readFileSync(out, "utf8")) as Came[];
}

const PLAIN: Readonly<Record<string, string>> = {
  ...{ á: "a", é: "e", í: "i", ó: "o", ú: "u", Á: "A", É: "E", Í: "I", Ó: "O", Ú: "U", ñ: "n", ç: "c", ý: "y" },
  // A sentence may begin with what stands lower-case in the catalogue.
  ...{ Ñ: "N", Ç: "C", Ý: "Y" },
};

/** A text of the language nobody speaks, as it reads in English. */
export const inPlain = (text: string): string =>
  text
    .replaceAll(OPEN, "")
    .replaceAll(CLOSE, "")
    .replace(/[áéíóúÁÉÍÓÚñçýÑÇÝ]/g, (letter) => PLAIN[letter] ?? letter);
