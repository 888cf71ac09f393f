/** Jobs as text: those on record, and one with its steps. */
import type { JobAnswer, JobListed, JobStepShown } from "../../core/jobs/show.ts";
import { say } from "../../core/words/say.ts";
import { type Cell, facts, spoken, table, wrap } from "./print.ts";
import { asksText } from "./step-done.ts";

export function jobsText({ jobs }: { readonly jobs: readonly JobListed[] }, width: number): string {
  if (jobs.length === 0) return say`No open job is on record.\n`;
  return table(
    jobs,
    [
      { head: say`job`, cell: ({ job }) => job.tag },
      { head: say`state`, cell: ({ state }) => state },
      { head: say`steps open`, cell: ({ open }) => open, right: true },
      { head: say`replace by`, cell: ({ replace_by }) => replace_by },
      { head: say`reason`, cell: ({ reason }) => reason },
    ],
    width,
  );
}

/** What is done, remarked, and asked of whoever does it. */
function whatOf(step: JobStepShown): string {
  const asks = asksText(step);
  const what = step.notes ? `${step.words} (${step.notes})` : step.words;
  return asks === "" ? what : say`${what} [asks --say ${asks}]`;
}

export function jobText(answer: JobAnswer, width: number): string {
  const head: [string, Cell][] = [
    [say`reason`, answer.reason],
    [say`people`, answer.people],
    [say`from`, answer.starts_on],
    [say`until`, answer.ends_on],
    [say`replace by`, answer.replace_by],
    [say`follows`, answer.follows?.tag],
    [say`planned`, answer.planned.map(({ tag }) => tag).join(", ")],
  ];
  return [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    facts(head, width),
    answer.review === null ? "" : `${wrap(answer.review, width).join("\n")}\n`,
    table(
      answer.steps,
      [
        { head: say`step`, cell: ({ ordinal }) => ordinal, right: true },
        { head: say`state`, cell: ({ state }) => (state === "skipped" ? say`left out` : state) },
        { head: say`where`, cell: ({ place }) => place?.tag },
        { head: say`done`, cell: ({ done_on, done_by }) => (done_on ? `${done_on} ${done_by ?? ""}`.trim() : "") },
        { head: say`what`, cell: whatOf },
      ],
      width,
    ),
  ]
    .filter(Boolean)
    .join("\n");
}
