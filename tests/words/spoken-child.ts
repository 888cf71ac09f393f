/**
 * Does what it is told in one language and prints what came of it. A process of its own, because a language is spoken from the
 * start: many sentences are made while modules load.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { type Language, speak } from "../../core/words/language.ts";

/** One thing to do: an operation on a plant file, or a command line. */
export type Task =
  /** `day`: what the clock says, where that matters. */
  | { readonly file: string; readonly name: string; readonly input: unknown; readonly day?: string }
  | { readonly line: readonly string[]; readonly typed?: string };

export interface Told {
  /** Null for English. */
  readonly language: Language | null;
  readonly tasks: readonly Task[];
}

/** What came of a task: the reply, or what was written with its exit status. */
export type Came =
  | { readonly reply: unknown; readonly defects: readonly string[] }
  | { readonly out: string; readonly notes: string; readonly code: number };

const [told = "", out = ""] = process.argv.slice(2);
const { language, tasks } = JSON.parse(readFileSync(told, "utf8")) as Told;
speak(language);
const { openApplication } = await import("../../host/application.ts");
const { strandbook } = await import("../../host/cli/main.ts");

const clockOf = (day: string | undefined) =>
  day === undefined ? {} : { clock: { today: () => day, now: () => `${day}T09:00:00.000Z` } };

async function doTask(task: Task): Promise<Came> {
  if ("line" in task) {
    let [out, notes] = ["", ""];
    const code = await strandbook(task.line, {
      out: async (text) => {
        out += text;
      },
      note: (text) => {
        notes += text;
      },
      progress: () => {},
      input: async () => task.typed ?? "",
      columns: 2000,
      signal: new AbortController().signal,
    });
    return { out, notes, code };
  }
  const defects: string[] = [];
  const onDefect = (_: string, error: unknown) =>
    void defects.push(error instanceof Error ? (error.stack ?? "") : `${error}`);
  const application = await openApplication(task.file, { backupAtClose: false, onDefect, ...clockOf(task.day) });
  const occasion = { author: "Test Person" };
  const { revision: _, ...reply } = await application.session.dispatch({
    name: task.name,
    input: task.input,
    occasion,
  });
  await application.close();
  return { reply, defects };
}

const came: Came[] = [];
for (const task of tasks) came.push(await doTask(task));
writeFileSync(out, JSON.stringify(came));
