/** Programs of their own that work on a plant file, to be killed, starved or asked from a test. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";

export interface Child {
  readonly process: ChildProcess;
  /** The next line it prints, as JSON; null when it ended. */
  next(): Promise<Record<string, unknown> | null>;
  /** Ends it at once, as a loss of power to the program would; resolves when it is gone. */
  kill(): Promise<void>;
  /** Asks it to close properly; resolves when it is gone. */
  finish(): Promise<void>;
}

/** Starts `tests/file/programs/<program>.ts`, if need be under a shell that limits it first. */
export function start(program: string, args: readonly string[], limit?: string): Child {
  const script = fileURLToPath(new URL(`./programs/${program}.ts`, import.meta.url));
  const command = [process.execPath, script, ...args];
  const child = limit
    ? spawn("sh", ["-c", `${limit}; exec "$@"`, "sh", ...command], { stdio: ["pipe", "pipe", "inherit"] })
    : spawn(command[0] as string, command.slice(1), { stdio: ["pipe", "pipe", "inherit"] });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const gone = once(child, "exit");
  return {
    process: child,
    async next() {
      const { value, done } = await lines.next();
      return done ? null : (JSON.parse(value) as Record<string, unknown>);
    },
    async kill() {
      child.kill("SIGKILL");
      await gone;
    },
    async finish() {
      child.stdin.end();
      await gone;
    },
  };
}
