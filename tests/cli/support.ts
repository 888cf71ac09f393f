/** A command line whose output a test reads. */
import { join } from "node:path";
import { expect } from "vitest";
import { strandbook } from "../../host/cli/main.ts";
import { newFolder } from "../support/plant.ts";

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly notes: string;
  readonly progress: readonly (string | null)[];
  /** The answer, when it was printed as JSON. */
  json<T = Record<string, unknown>>(): T;
}

export interface Said {
  readonly input?: string;
  readonly columns?: number;
  readonly stop?: AbortController;
  /** Called with each progress shown. */
  readonly onProgress?: (text: string | null) => void;
}

/** Runs `strandbook words…` in this process. */
export async function cli(words: readonly string[], said: Said = {}): Promise<Ran> {
  let out = "";
  let notes = "";
  const progress: (string | null)[] = [];
  const code = await strandbook(words, {
    out: async (text) => {
      out += text;
    },
    note: (text) => {
      notes += text;
    },
    progress: (text) => {
      progress.push(text);
      said.onProgress?.(text);
    },
    input: async () => said.input ?? "",
    columns: said.columns ?? 120,
    signal: (said.stop ?? new AbortController()).signal,
  });
  return { code, out, notes, progress, json: <T>() => JSON.parse(out) as T };
}

/** A new plant file with nothing on record. */
export async function newFile(): Promise<string> {
  const file = join(newFolder(), "campus.strandbook");
  expect((await cli(["new", file, "--name", "Test Campus"])).code).toBe(0);
  return file;
}

/** The input that adds a building. */
export const add = (tag: string) => JSON.stringify({ kind: "building", values: { tag, name: `Building ${tag}` } });

/** A plant file with these buildings. */
export async function withBuildings(...tags: string[]): Promise<string> {
  const file = await newFile();
  for (const tag of tags) expect((await cli(["run", file, "record.add", "--input", add(tag)])).code).toBe(0);
  return file;
}
