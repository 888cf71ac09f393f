/** Prints what an operation answers as a document to a PDF, on the paper this person uses; says what became of it. */
import { useState } from "react";
import type { InputOf, OperationName } from "../../core/operations/list.ts";
import type { PaperMade } from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";
import { useClient } from "../client/context.ts";
import { settings, useSettings } from "../client/settings.ts";
import { say, sayRefused } from "../frame/notices.tsx";
import { Button } from "./button.tsx";
import { counted } from "./figures.ts";
import "./print-button.css";

const SIZES: Readonly<Record<PaperSize, string>> = { a4: "A4", letter: "Letter" };
const SIZE_NAMES = Object.keys(SIZES) as PaperSize[];

export function PrintButton<N extends OperationName>({
  name,
  input,
  children,
}: {
  /** A reading operation that answers a document. */
  readonly name: N;
  readonly input: InputOf<N>;
  /** "Print the packet". */
  readonly children: string;
}) {
  const client = useClient();
  const { paper } = useSettings();
  const [busy, setBusy] = useState(false);
  const print = async (): Promise<void> => {
    setBusy(true);
    try {
      const reply = await client.paper(name, input, paper);
      if (!reply.ok) sayRefused(reply.error);
      else if (reply.value) say(madeWords(reply.value));
    } finally {
      setBusy(false);
    }
  };
  return (
    <span className="print-button">
      <Button
        onClick={() => void print()}
        busy={busy ? "Printing" : null}
        title={`A PDF on ${SIZES[paper]} paper, to be saved and printed`}
      >
        {children}
      </Button>
      <select
        className="form-input"
        aria-label="Paper"
        title="The paper your printer takes"
        value={paper}
        onChange={({ target }) => settings.set({ paper: SIZE_NAMES.find((size) => size === target.value) ?? "a4" })}
      >
        {SIZE_NAMES.map((size) => (
          <option key={size} value={size}>
            {SIZES[size]}
          </option>
        ))}
      </select>
    </span>
  );
}

function madeWords({ name, pages, missing, path }: PaperMade): string {
  const many = counted(pages, "page", "pages");
  const where =
    path === null ? `${name}, ${many}: your browser keeps it with its downloads.` : `Saved ${path}, ${many}.`;
  return missing.length === 0
    ? where
    : `${where} The fonts lack ${missing.join(" ")}; on the paper they stand by their codes.`;
}
