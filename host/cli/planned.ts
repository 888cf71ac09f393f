/** A job made of what a command has planned, or shown as it would be made. */
import type { InputOf } from "../../core/operations/list.ts";
import { asking } from "./asking.ts";
import type { Given } from "./command.ts";
import { FINE } from "./exit.ts";
import { plannedText } from "./written.ts";

export function planned(
  given: Given,
  name:
    | "job.plan_breakout"
    | "job.plan_case"
    | "job.plan_closing"
    | "job.plan_lasting"
    | "job.plan_mend"
    | "job.plan_mends",
  input: InputOf<typeof name>,
): Promise<number> {
  const { terminal } = given;
  const rehearse = given.on("rehearse");
  return asking(terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask }) => {
    const written = await ask(name, input, rehearse);
    await terminal.out(given.json ? `${JSON.stringify(written, null, 2)}\n` : plannedText(written, terminal.columns));
    return FINE;
  });
}
