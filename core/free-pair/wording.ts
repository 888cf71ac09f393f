/** What free strands say in sentences. */
import { formatNumber } from "../model/units.ts";
import { counted } from "../words/counted.ts";
import { asKnown, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { FreePairAnswer, FreeWay, SeparatePair } from "./answer.ts";

export function separateWords(pair: SeparatePair | null, application: string | null): string {
  if (!pair) return say`No two separate routes are on record in which so many strands are free.`;
  const length =
    pair.length_m === null
      ? say`There are two separate routes, their length not wholly known.`
      : say`There are two separate routes, ${formatNumber(Math.round(pair.length_m))} m together.`;
  const losses = pair.routes.map(({ way }) => worstWords(way));
  const known = losses.every((one) => one !== null)
    ? say` By limits they lose ${listed(losses)}.`
    : say` What light loses is not known of both.`;
  return `${length}${known}${application === null ? "" : bothRun(pair, application)}`;
}

function worstWords(way: FreeWay | null): string | null {
  const [first] = way?.loss?.wavelengths ?? [];
  if (!first || first.worst_loss_db === null) return null;
  return say`${asKnown(`${Math.round(first.worst_loss_db * 100) / 100} dB`, first.complete)} at ${first.wavelength_nm} nm`;
}

/** Circuits that are to be diverse need both: whether the application runs on both by limits. */
function bothRun({ routes }: SeparatePair, application: string): string {
  const verdicts = routes.map(({ way }) => way?.loss?.application?.runs_at_worst ?? "cannot_tell");
  const run = verdicts.filter((one) => one === "yes").length;
  if (run === verdicts.length) return say` ${application} runs on both then.`;
  if (verdicts.includes("no")) {
    return verdicts.every((one) => one === "no")
      ? say` ${application} runs on neither then.`
      : say` ${application} doesn't run on one of them then.`;
  }
  return say` Whether ${application} runs on both can't be told: not all is known.`;
}

export function sentenceOf({
  from,
  to,
  strands,
  avoid,
  application,
  ways,
}: Omit<FreePairAnswer, "sentence" | "cautions">): string {
  const wanted = counted(strands, "free strand");
  const beside = avoid ? say` away from ${avoid.tag}` : "";
  const [best] = ways;
  if (!best) return say`No way with ${wanted} from ${from.tag} to ${to.tag}${beside} is on record.`;
  const made = [
    ...(best.splices > 0 ? [counted(best.splices, "new splice")] : []),
    ...(best.cords > 0 ? [counted(best.cords, "new cord")] : []),
  ];
  const way = say`The best way with ${wanted} from ${from.tag} to ${to.tag}${beside}`;
  const over = [...new Set(best.stretches.flatMap(({ cables }) => cables.map(({ tag }) => tag)))];
  const named =
    over.length > 4 ? say`${over.slice(0, 3).join(", ")} and ${over.length - 3} more cables` : over.join(", ");
  const length =
    best.length_m === null ? say`, its length not wholly known` : `, ${formatNumber(Math.round(best.length_m))} m`;
  const told =
    made.length > 0
      ? say`${way} takes ${listed(made)}: over ${named}${length}.`
      : say`${way} runs through without a joint to be made: over ${named}${length}.`;
  return `${told}${lossWords(best, application)}`;
}

function lossWords(way: FreeWay, application: string | null): string {
  const { loss, kept_for_repair } = way;
  const kept = kept_for_repair > 0 ? say` It takes strands that are kept for repair.` : "";
  const loses = worstWords(way);
  if (!loss || loses === null) return `${kept}${say` What it loses can't be reckoned.`}`;
  const says = {
    yes: say` ${application} runs on it then.`,
    no: say` ${application} doesn't run on it then.`,
    cannot_tell: say` Whether ${application} runs on it can't be told: not all is known.`,
  };
  const runs = loss.application ? says[loss.application.runs_at_worst] : "";
  return `${kept}${say` By limits it loses ${loses}.`}${runs}`;
}
