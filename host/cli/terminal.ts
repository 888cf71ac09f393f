/** What a command line runs in: words out, notes, input, and the wish to stop. Tests give their own. */
export interface Terminal {
  /** Answers, to standard output; resolves when more may be written. */
  out(text: string): Promise<void>;
  /** Notes, progress and refusals, to standard error. */
  note(text: string): void;
  /** Shows progress on one line of the terminal, where there is one; null takes it away. */
  progress(text: string | null): void;
  /** All of standard input. */
  input(): Promise<string>;
  readonly columns: number;
  /** Aborted by Ctrl+C. */
  readonly signal: AbortSignal;
}

export function processTerminal(): Terminal {
  const stop = new AbortController();
  process.on("SIGINT", () => {
    if (stop.signal.aborted) process.exit(130);
    stop.abort();
  });
  // A reader that has seen enough (`| head`) is no defect.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    throw error;
  });
  let shown = "";
  return {
    out: (text) =>
      new Promise((resolve) => {
        if (process.stdout.write(text)) resolve();
        else process.stdout.once("drain", resolve);
      }),
    note: (text) => void process.stderr.write(text),
    progress(text) {
      if (!process.stderr.isTTY) return;
      const line = (text ?? "").slice(0, (process.stderr.columns ?? 80) - 1);
      process.stderr.write(`\r${line.padEnd(shown.length)}${text === null ? "\r" : ""}`);
      shown = line;
    },
    async input() {
      const pieces: Buffer[] = [];
      for await (const piece of process.stdin) pieces.push(piece);
      return Buffer.concat(pieces).toString("utf8");
    },
    columns: process.stdout.columns ?? 120,
    signal: stop.signal,
  };
}
