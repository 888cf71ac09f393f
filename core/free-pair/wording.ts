/** What free strands say in sentences. */
import { formatNumber } from "../model/units.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { FreePairAnswer, FreeWay, SeparatePair } from "./answer.ts";

export function separateWords(pair: SeparatePair | null, application: string | null): string {
  if (!pair) return say`No two separate routes are on record in which so many strands are free.`;
  const length =
    pair.length_m === null
      ? say`their length not wholly known`
      : say`${formatNumber(Math.round(pair.length_m))} m together`;
  const losses = pair.routes.map(({ way }) => worstWords(way));
  const known = losses.every((one) => one !== null)
    ? say` By limits they lose ${losses.join(say` and `)}.`
    : say` What light loses on them is not known of both.`;
  return say`There are two separate routes, ${length}.${known}${application === null ? "" : bothRun(pair, application)}`;
}

function worstWords(way: FreeWay | null): string | null {
  const [first] = way?.loss?.wavelengths ?? [];
  if (!first || first.worst_loss_db === null) return null;
  return say`${first.complete ? "" : say`at least `}${Math.round(first.worst_loss_db * 100) / 100} dB at ${first.wavelength_nm} nm`;
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
    best.splices > 0 && counted(best.splices, "new splice"),
    best.cords > 0 && counted(best.cords, "cord"),
  ].filter(Boolean);
  const takes =
    made.length > 0 ? say`takes ${made.join(say` and `)} on the way` : say`runs through without a joint to be made`;
  const over = [...new Set(best.stretches.flatMap(({ cables }) => cables.map(({ tag }) => tag)))];
  const named =
    over.length > 4 ? say`${over.slice(0, 3).join(", ")} and ${over.length - 3} more cables` : over.join(", ");
  const length =
    best.length_m === null ? say`, its length not wholly known` : `, ${formatNumber(Math.round(best.length_m))} m`;
  return say`The best way with ${wanted} from ${from.tag} to ${to.tag}${beside} ${takes}: over ${named}${length}.${lossWords(best, application)}`;
}

function lossWords({ loss, kept_for_repair }: FreeWay, application: string | null): string {
  const [first] = loss?.wavelengths ?? [];
  const kept = kept_for_repair > 0 ? say` It takes strands that are kept for repair.` : "";
  if (!loss || !first || first.worst_loss_db === null) return say`${kept} What it loses can't be reckoned.`;
  const about = `${first.complete ? "" : say`at least `}${Math.round(first.worst_loss_db * 100) / 100} dB`;
  const says = {
    yes: say`runs on it`,
    no: say`doesn't run on it`,
    cannot_tell: say`may or may not run: not all is known`,
  };
  const runs = loss.application ? say`; ${application} ${says[loss.application.runs_at_worst]} then` : "";
  return say`${kept} By limits it loses ${about} at ${first.wavelength_nm} nm${runs}.`;
}
