/** Crews' notes: understood line by line, asked where they can be read two ways, and carried out as one change. */
import { z } from "zod";
import { refuseNoText } from "../../as-built/no-text.ts";
import { MOST_LINES, type NotesRehearsal, type NotesWork, tryNotes } from "../../as-built/notes/rehearse.ts";
import { refuse } from "../../result.ts";
import { counted } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineLong, type LongContext } from "../define.ts";
import { tryActs } from "./crew-acts.ts";

const lineNumbers = z.array(z.int().min(1)).max(MOST_LINES).default([]);

const notesInput = z.strictObject({
  text: z.string().max(200_000).describe(say`The lines as the crew wrote them.`),
  cable: z.string().trim().max(60).optional().describe(say`The cable the first lines are about, where they don't say.`),
  at: z.string().trim().max(400).optional().describe(say`The case or place they are about, where they don't say.`),
  answers: z
    .record(z.string().regex(/^\d+$/, say`is not the number of a line`), z.int().min(1))
    .default({})
    .describe(say`For lines that can be read in several ways, by their numbers: which of the ways, from 1.`),
  leave_out: lineNumbers.describe(say`Lines that are left out.`),
  tell: lineNumbers.describe(say`Lines that are kept as told although they were understood.`),
  visit: z
    .string()
    .trim()
    .min(1)
    .max(60)
    .optional()
    .describe(say`Number of the visit in whose notes told lines are kept.`),
});
type Input = z.output<typeof notesInput>;

function workOf(context: LongContext, input: Input): NotesWork {
  refuseNoText(input.text);
  const count = input.text.split("\n").length;
  if (count > MOST_LINES)
    refuse("bad_input", say`The notes have more than ${MOST_LINES} lines.`, [
      { field: "text", reason: say`has ${count} lines; take them over in parts` },
    ]);
  return {
    text: input.text,
    ...{ cable: input.cable || null, at: input.at || null, visit: input.visit ?? null },
    answers: new Map(Object.entries(input.answers).map(([line, way]) => [Number(line), way])),
    ...{ leaveOut: new Set(input.leave_out), tell: new Set(input.tell) },
    ...{ day: context.occasion.day ?? context.today, who: context.occasion.author },
  };
}

const tried = (context: LongContext, input: Input) =>
  tryActs(context, (plan, trial, revision) => tryNotes(trial, revision, plan, workOf(context, input)));

export const notesRehearse = defineLong({
  name: "notes.rehearse",
  help: say`Says of each line of crews' notes which act it was understood as, and what must be asked. Nothing is written.`,
  writes: true,
  input: notesInput,
  run: async (context, input): Promise<NotesRehearsal> => (await tried(context, input)).answer,
});

export const notesApply = defineLong({
  name: "notes.apply",
  help: say`Carries crews' notes out as they were rehearsed, as one change that can be undone; unsure lines are kept as told.`,
  writes: true,
  input: notesInput.extend({
    digest: z.string().max(64).optional().describe(say`Of the rehearsal: another plan than that is refused.`),
  }),
  run: async (context, { digest, ...input }) => {
    const outcome = await tried(context, input);
    const { answer } = outcome;
    if (digest !== undefined && digest !== answer.digest)
      refuse(
        "stale",
        say`The notes or the plant changed since the rehearsal. Rehearse them again. Nothing was changed.`,
      );
    const open = answer.lines.filter(({ fate }) => fate === "ask" || fate === "refused");
    const [first] = open;
    if (first)
      refuse(
        first.fate === "ask" ? "ambiguous" : "bad_input",
        first.fate === "ask"
          ? say`Line ${first.line} can be read in several ways. Nothing was changed.`
          : say`Line ${first.line} can't be carried out. Nothing was changed.`,
        open.flatMap(({ line, text, ways, problems }) =>
          problems.length > 0
            ? problems.map((problem) => ({ ...problem, row: line }))
            : ways.map((way) => ({ row: line, record: text, reason: say`may mean: ${way}` })),
        ),
      );
    return context.gateway.carryOutTried("notes.apply", summaryOf(answer), context.occasion, outcome);
  },
});

/** What was done and what was only kept, as the history tells it. */
function summaryOf({ lines, visit }: NotesRehearsal): string {
  const done = lines.filter(({ fate }) => fate === "new" || fate === "changed").length;
  const told = lines.filter(({ fate }) => fate === "told").length;
  const some = (count: number): string => counted(count, "line");
  if (told === 0) return say`Take over ${some(done)} of a crew's notes`;
  if (done === 0) return say`Keep ${some(told)} of a crew's notes as told in visit ${visit}`;
  return say`Take over ${some(done)} of a crew's notes, keep ${some(told)} as told in visit ${visit}`;
}
