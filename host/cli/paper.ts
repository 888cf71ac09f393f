/** What a read answers as a document, written to a PDF. */
import { statSync } from "node:fs";
import { resolve } from "node:path";
import type { InputOf, OperationName } from "../../core/operations/list.ts";
import { isDocument, type PaperSize } from "../../core/paper/document.ts";
import { plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Given, Option } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";

/** Options of a command that can print. */
export const PAPER_OPTIONS: Readonly<Record<string, Option>> = {
  out: { value: "FILE.pdf", help: say`writes it to this new PDF, to be printed` },
  paper: { value: "a4|letter", help: say`the size of its sheets; A4, where left out` },
  replace: { help: say`lets --out put the new PDF in the place of an older one` },
};

export interface ToPaper {
  readonly path: string;
  readonly size: PaperSize;
  readonly replace: boolean;
}

/** What `--out` and its like say; null without `--out`. */
export function toPaper(given: Given): ToPaper | null {
  const out = given.option("out");
  const size = given.option("paper");
  const replace = given.on("replace");
  if (out === undefined) {
    if (size !== undefined) throw new UsageError(say`--paper belongs to --out.`);
    if (replace) throw new UsageError(say`--replace belongs to --out.`);
    return null;
  }
  if (out === "") throw new UsageError(say`--out needs the name of a file.`);
  if (size !== undefined && size !== "a4" && size !== "letter")
    throw new UsageError(say`--paper is a4 or letter, not "${size}".`);
  return { path: resolve(out), size: size ?? "a4", replace };
}

/** Asks one reading operation whose answer is a document, writes it, and says where it is and how many pages it has. */
export function printed<N extends OperationName>(
  given: Given,
  name: N,
  input: InputOf<N>,
  { path, size, replace }: ToPaper,
): Promise<number> {
  const { terminal, json } = given;
  return asking(terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
    const document: unknown = await ask(name, input);
    if (!isDocument(document)) throw new Error(`${name} answers no document`);
    // Loaded only when asked for: other commands need neither fonts nor codes.
    const { writePdf } = await import("../paper/pdf.ts");
    const { pages, missing } = await writePdf(document, size, path, { replace });
    const { size: bytes } = statSync(path);
    if (json) await terminal.out(`${JSON.stringify({ path, pages, paper: size, bytes, missing }, null, 2)}\n`);
    else
      await terminal.out(
        plural(
          pages,
          "Wrote {1}: {0} page ({2} kB).\n",
          "Wrote {1}: {0} pages ({2} kB).\n",
          path,
          Math.ceil(bytes / 1024),
        ),
      );
    if (missing.length > 0)
      terminal.note(say`The fonts lack ${missing.join(" ")}; on the paper they stand by their codes.\n`);
    return FINE;
  });
}
