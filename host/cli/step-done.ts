/** One step of a job done, or left out, as its crew tells it: losses of joints, marks read, what became of the metal. */
import type { JobStepShown } from "../../core/jobs/show.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { type Given, wholeNumber } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { writtenText } from "./written.ts";

export const STEP_OPTIONS = {
  step: { value: "N", help: say`this step is done: records it, by whom --author says and on --day` },
  loss: {
    value: "DB,DB",
    help: say`with --step: loss of its joints, one for all or one a joint in the order of the sheet; - where it is not known; kept as the splicer's estimate unless --loss-back or --loss-by says otherwise`,
  },
  "loss-back": {
    value: "DB,DB",
    help: say`with --loss: the same joints measured from the other direction, in the same order; the loss is their mean`,
  },
  "loss-by": {
    value: "estimate|one_way|both_ways",
    help: say`with --loss: how it is known; left out, measured both ways with --loss-back, else the splicer's estimate`,
  },
  say: {
    value: "FIELD=VALUE,...",
    help: say`with --step: what the step asks or what differs, such as mark_in=1234.5 or metal=bonded`,
  },
  note: { value: "TEXT", help: say`with --step: a remark` },
  skip: { help: say`with --step: it is left out` },
  rehearse: { help: say`with --step: shows what would be written and writes nothing` },
} as const;

/** What a step asks, as it is given on the command line; empty where it asks nothing. */
export const asksText = ({ asks }: Pick<JobStepShown, "asks">): string =>
  asks.map(({ field, choices }) => `${field}=${choices.length > 0 ? choices.join("|") : "…"}`).join(",");

const OF_STEP = ["loss", "loss-back", "loss-by", "say", "note"] as const;
const KNOWN_BY = ["estimate", "one_way", "both_ways"] as const;

/** Refuses options that belong to a step where none is named. */
export function refuseWithoutStep(given: Given): void {
  if (given.option("step") !== undefined) return;
  const odd =
    OF_STEP.find((option) => given.option(option) !== undefined) ?? ["skip", "rehearse"].find((one) => given.on(one));
  if (odd) throw new UsageError(say`--${odd} belongs to --step.`);
}

export function stepDone(given: Given, job: string): Promise<number> {
  const step = wholeNumber(given, "step", 1, 10_000);
  const { terminal } = given;
  const rehearse = given.on("rehearse");
  const losses = given
    .option("loss")
    ?.split(",")
    .map((text) => lossOf(text, "loss"));
  const back = given
    .option("loss-back")
    ?.split(",")
    .map((text) => lossOf(text, "loss-back"));
  const known = given.option("loss-by");
  if (!losses && (back || known !== undefined))
    throw new UsageError(say`--${back ? "loss-back" : "loss-by"} belongs to --loss.`);
  if (known !== undefined && !KNOWN_BY.some((one) => one === known))
    throw new UsageError(say`--loss-by is ${KNOWN_BY.join(", ")}, not "${known}".`);
  const said = saidOf(given.option("say"));
  return asking(terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask }) => {
    const { steps } = await ask("job.show", { job });
    const shown = steps.find(({ ordinal }) => ordinal === step);
    const otherwise = {
      ...(losses ? lossesOf(shown, losses, back, known) : {}),
      ...(said ? fieldsOf(shown, said) : {}),
    };
    const note = given.option("note");
    const written = await ask(
      "job.do",
      {
        job,
        step,
        ...(Object.keys(otherwise).length > 0 ? { otherwise } : {}),
        ...(note === undefined ? {} : { notes: note }),
        ...(given.on("skip") ? { skip: true } : {}),
      },
      rehearse,
    );
    await terminal.out(given.json ? `${JSON.stringify(written, null, 2)}\n` : writtenText(written, terminal.columns));
    return FINE;
  });
}

function lossOf(text: string, option: string): number | null {
  const trimmed = text.trim();
  if (trimmed === "-") return null;
  const loss = Number(trimmed);
  if (trimmed === "" || !Number.isFinite(loss))
    throw new UsageError(say`--${option} is decibels such as 0.04,0.06, not "${text}".`);
  return loss;
}

function saidOf(text: string | undefined): Record<string, number | string> | null {
  if (text === undefined) return null;
  return Object.fromEntries(
    text.split(",").map((one) => {
      const [field, value] = one.split("=").map((part) => part.trim());
      if (!field || !value) throw new UsageError(say`--say is such as mark_in=1234.5, not "${one}".`);
      return [field, Number.isFinite(Number(value)) ? Number(value) : value];
    }),
  );
}

function lossesOf(
  step: JobStepShown | undefined,
  losses: readonly (number | null)[],
  back: readonly (number | null)[] | undefined,
  known: string | undefined,
): Record<string, unknown> {
  const listed = (all: readonly (number | null)[]) => (all.length === 1 ? all[0] : all);
  const field = step?.act === "cable.replace" ? "loss_db" : step?.act?.startsWith("splice.") ? "loss_ab_db" : null;
  if (field === null) throw new UsageError(say`This step makes no joints: it takes no --loss.`);
  if (back && field === "loss_db")
    throw new UsageError(
      say`This step takes one loss a joint: give the mean of both directions, and --loss-by both_ways.`,
    );
  return {
    [field]: listed(losses),
    ...(back ? { loss_ba_db: listed(back) } : {}),
    loss_basis: known ?? (back ? "both_ways" : "estimate"),
  };
}

/** A record's values stand among its values; all else are fields of the act. */
const fieldsOf = (step: JobStepShown | undefined, said: Record<string, number | string>): Record<string, unknown> =>
  step?.act === "record.edit" ? { values: said } : said;
