/** Prints what an operation answers as a document to a PDF, on the paper this person uses; says what became of it. */
import { useRef, useState } from "react";
import type { Progress } from "../../core/operations/define.ts";
import type { InputOf, OperationName } from "../../core/operations/list.ts";
import type { PaperMade } from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { useClient } from "../client/context.ts";
import { PAPERS, settings, useSettings } from "../client/settings.ts";
import { notify, sayRefused } from "../frame/notices.tsx";
import { Button } from "./button.tsx";
import { Waiting } from "./waiting.tsx";
import "./print-button.css";

const SIZE_NAMES = Object.keys(PAPERS) as PaperSize[];

/** Asks the program for a paper, tells how far it is, and can be stopped; answers whether there is a file now. */
export function usePrinting() {
  const client = useClient();
  const { paper } = useSettings();
  const [running, setRunning] = useState<{ readonly since: number; readonly progress: Progress | null } | null>(null);
  const abort = useRef<AbortController | null>(null);
  /** `more` is said after what became of it. */
  const print = async <N extends OperationName>(name: N, input: InputOf<N>, more = ""): Promise<boolean> => {
    abort.current = new AbortController();
    setRunning({ since: Date.now(), progress: null });
    try {
      const reply = await client.paper(name, input, paper, {
        signal: abort.current.signal,
        onProgress: (progress) => setRunning((before) => before && { ...before, progress }),
      });
      if (!reply.ok) sayRefused(reply.error);
      else if (reply.value) notify(`${madeWords(reply.value)}${more}`);
      return reply.ok && reply.value !== null;
    } finally {
      setRunning(null);
    }
  };
  return { print, running, stop: () => abort.current?.abort() };
}

export interface PrintButtonProps<N extends OperationName> {
  /** An operation that answers a document. */
  readonly name: N;
  readonly input: InputOf<N>;
  /** "Print the packet". */
  readonly children: string;
  /** The page has one choice of paper for all its buttons. */
  readonly sizeless?: boolean;
}

export function PrintButton<N extends OperationName>({ name, input, children, sizeless = false }: PrintButtonProps<N>) {
  const { paper } = useSettings();
  const { print, running, stop } = usePrinting();
  return (
    <span className="print-button">
      <Button
        onClick={() => void print(name, input)}
        busy={running ? say`Printing` : null}
        title={say`A PDF on ${PAPERS[paper]} paper, to be saved and printed`}
      >
        {children}
      </Button>
      {running ? <Waiting word={say`Printing`} {...running} stop={stop} /> : sizeless ? null : <PaperChoice />}
    </span>
  );
}

export function PaperChoice() {
  const { paper } = useSettings();
  return (
    <select
      className="form-input"
      aria-label={say`Paper`}
      title={say`The paper your printer takes`}
      value={paper}
      onChange={({ target }) => settings.set({ paper: SIZE_NAMES.find((size) => size === target.value) ?? "a4" })}
    >
      {SIZE_NAMES.map((size) => (
        <option key={size} value={size}>
          {PAPERS[size]}
        </option>
      ))}
    </select>
  );
}

function madeWords({ name, pages, missing, path }: PaperMade): string {
  const many = counted(pages, "page", "pages");
  const where =
    path === null ? say`${name}, ${many}: your browser keeps it with its downloads.` : say`Saved ${path}, ${many}.`;
  return missing.length === 0
    ? where
    : say`${where} The fonts lack ${missing.join(" ")}; on the paper they stand by their codes.`;
}
