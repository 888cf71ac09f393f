/** One command's talk with a plant: opens it, asks operations by name, says refusals in words. */
import { hostname, userInfo } from "node:os";
import type { Reply, Request } from "../../core/operations/dispatch.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import { type Failure, Refusal } from "../../core/result.ts";
import type { Occasion } from "../../core/store/plan.ts";
import { say } from "../../core/words/say.ts";
import { openApplication } from "../application.ts";
import { KeptFile } from "../machine/kept.ts";
import { keptPath } from "../machine/kept-path.ts";
import { DEFECT, REFUSED } from "./exit.ts";
import { printable, problemsText } from "./print.ts";
import type { Terminal } from "./terminal.ts";

/** What every command understands. */
export interface Manner {
  readonly json: boolean;
  readonly author: string | undefined;
  readonly reason: string | undefined;
  readonly meaning: string | undefined;
  readonly day: string | undefined;
  /** Writes although another machine left its lock beside the file. */
  readonly takeOver: boolean;
}

export interface Asking {
  /** The answer; a refusal ends the command. */
  ask<N extends OperationName>(name: N, input: InputOf<N>, rehearse?: boolean): Promise<AnswerOf<N>>;
  /** The reply to a request as it stands. */
  reply(request: Request): Promise<Reply>;
  /** Whose name stands beside what is written. */
  readonly author: string;
  /** Whether someone else writes the file, or other news about this opening, as a sentence. */
  readonly notice: string | null;
}

/** The name that was typed once in a window on this machine; null where none was. */
async function nameKept(): Promise<string | null> {
  const person = (await new KeptFile(keptPath()).read()).settings?.person;
  return typeof person === "string" && person.trim() !== "" ? person.trim() : null;
}

const nameGiven = (manner: Manner): string | null => manner.author ?? process.env.STRANDBOOK_AUTHOR ?? null;

function occasionOf(manner: Manner, author: string): Occasion {
  return {
    author,
    ...(manner.reason === undefined ? {} : { reason: manner.reason }),
    // Dispatch decodes both and refuses what it doesn't know.
    ...(manner.meaning === undefined ? {} : { meaning: manner.meaning as "change" | "correction" }),
    ...(manner.day === undefined ? {} : { day: manner.day }),
  };
}

function accountName(): string {
  try {
    return userInfo().username;
  } catch {
    // An account without a name, as in some containers.
    return say`command line`;
  }
}

const isWritten = (answer: Reply): boolean =>
  answer.ok && typeof (answer.value as { change_set?: unknown } | null)?.change_set === "number";

export interface Opening {
  readonly file: string;
  /** A command that only reads leaves the file free for whoever writes it. */
  readonly write: boolean;
}

/** Opens the plant, does `work`, closes the plant; answers the exit code. */
export async function asking(
  terminal: Terminal,
  manner: Manner,
  opening: Opening,
  work: (asking: Asking) => Promise<number>,
): Promise<number> {
  const defects: string[] = [];
  const application = await openApplication(opening.file, {
    readOnly: !opening.write,
    takeOver: manner.takeOver,
    onDefect: (name, error) => {
      defects.push(name);
      terminal.note(say`Defect in ${name}: ${error instanceof Error ? error.stack : String(error)}\n`);
    },
  });
  const { writer } = await application.file.status();
  if (opening.write && writer && writer.machine !== hostname()) {
    terminal.note(say`If nobody has it open there any more, --take-over writes all the same.\n`);
  }
  const given = nameGiven(manner);
  const kept = given === null ? await nameKept() : null;
  const occasion = occasionOf(manner, given ?? kept ?? accountName());
  let told = kept === null || !opening.write;
  const reply = async (request: Request): Promise<Reply> => {
    const answer = await application.session.dispatch(
      { occasion, ...request },
      {
        signal: terminal.signal,
        onProgress: ({ what, done, total }) =>
          terminal.progress(total === null ? `${what}: ${done}` : say`${what}: ${done} of ${total}`),
      },
    );
    terminal.progress(null);
    // A name that nobody gave here is said where it was written.
    if (!told && request.occasion === undefined && isWritten(answer)) {
      told = true;
      terminal.note(say`Written as ${kept}, the name kept on this machine; --author names another.\n`);
    }
    return answer;
  };
  let code = DEFECT;
  try {
    code = await work({
      author: occasion.author,
      notice: opening.write ? application.store.readOnly : null,
      reply,
      async ask(name, input, rehearse = false) {
        const answer = await reply({ name, input, rehearse });
        if (!answer.ok) throw new Refusal(answer.error);
        return answer.value as AnswerOf<typeof name>;
      },
    });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    code = await sayNo(terminal, manner.json, error.failure);
  } finally {
    await application.close();
  }
  return defects.length > 0 ? DEFECT : code;
}

/** A refusal: the sentence and its problems for people, the failure as JSON for programs. */
export async function sayNo(terminal: Terminal, json: boolean, failure: Failure): Promise<number> {
  if (json) await terminal.out(`${JSON.stringify({ error: failure }, null, 2)}\n`);
  terminal.note(`${printable(failure.message)}\n`);
  if (failure.problems.length > 0) terminal.note(problemsText(failure.problems, terminal.columns));
  return failure.code === "internal" ? DEFECT : REFUSED;
}
