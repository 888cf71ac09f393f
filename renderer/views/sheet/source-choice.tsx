/** Where the rows come from: a file chosen or dropped here, or rows pasted from a spreadsheet. */

import { type DragEvent, useState } from "react";
import { z } from "zod";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { type KeptForm, useKeptForm } from "../../forms/kept-form.ts";
import { helpSaid } from "../../frame/help-about.ts";
import type { Source } from "./mapping.ts";

const MOST_BYTES = 64_000_000;

function contentOf(file: File): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ""));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}

const rows = z.string();

/** Rows that are pasted stay in their box until they are taken over. */
export const usePasted = (): KeptForm<string> => useKeptForm("pasted rows", say`Pasted rows`, "", rows);

interface Props {
  readonly pasted: KeptForm<string>;
  /** A file was chosen and is being read: what is asked for from before comes too late. */
  readonly begin: () => void;
  readonly choose: (source: Source) => void;
}

export function SourceChoice({ pasted, begin, choose }: Props) {
  const text = pasted.value;
  const [why, setWhy] = useState("");
  const take = async (file: File | undefined) => {
    if (!file) return;
    if (file.size > MOST_BYTES) return setWhy(say`${file.name} is too big for a sheet: at most 64 MB are read.`);
    begin();
    try {
      choose({ content: await contentOf(file), name: file.name });
    } catch {
      setWhy(say`${file.name} can't be read.`);
    }
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    void take(event.dataTransfer.files[0]);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is one more way to what the field below does
    <div className="sheet-source" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <label
        className="sheet-file"
        {...helpSaid(
          say`file`,
          say`A sheet of what was built: a CSV file of any delimiter and encoding, or a workbook (.xlsx, .xlsm) of one or several sheets. It is read here, and nothing is written before its columns are matched and each row is chosen.`,
        )}
      >
        <span>{say`A CSV file or a workbook; it may be dropped here`}</span>
        <input
          type="file"
          accept=".csv,.txt,.tsv,.xlsx,.xlsm"
          onChange={(event) => void take(event.target.files?.[0])}
        />
      </label>
      {why ? (
        <p className="form-reason" role="alert">
          {why}
        </p>
      ) : null}
      <label className="sheet-paste">
        <span>{say`or rows pasted with their heading`}</span>
        <textarea
          className="form-input tag"
          rows={8}
          value={text}
          spellCheck={false}
          onChange={({ target }) => pasted.type(() => target.value)}
        />
      </label>
      <Button filled disabled={text.trim() === ""} onClick={() => choose({ text, name: say`pasted rows` })}>
        {say`Read the rows`}
      </Button>
    </div>
  );
}
