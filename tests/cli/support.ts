/** A command line whose output a test reads. */
import { strandbook } from "../../host/cli/main.ts";

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
