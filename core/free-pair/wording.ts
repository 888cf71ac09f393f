/** What free strands say in sentences. */
import { formatNumber } from "../model/units.ts";
import type { FreePairAnswer, FreeWay, SeparatePair } from "./answer.ts";

export function separateWords(pair: SeparatePair | null, application: string | null): string {
  if (!pair) return "No two separate routes are on record in which so many strands are free.";
  const length =
    pair.length_m === null ? "their length not wholly known" : `${formatNumber(Math.round(pair.length_m))} m together`;
  const losses = pair.routes.map(({ way }) => worstWords(way));
  const known = losses.every((one) => one !== null)
    ? ` By limits they lose ${losses.join(" and ")}.`
    : " What light loses on them is not known of both.";
  return `There are two separate routes, ${length}.${known}${application === null ? "" : bothRun(pair, application)}`;
}

function worstWords(way: FreeWay | null): string | null {
  const [first] = way?.loss?.wavelengths ?? [];
  if (!first || first.worst_loss_db === null) return null;
  return `${first.complete ? "" : "at least "}${Math.round(first.worst_loss_db * 100) / 100} dB at ${first.wavelength_nm} nm`;
}

/** Circuits that are to be diverse need both: whether the application runs on both by limits. */
function bothRun({ routes }: SeparatePair, application: string): string {
  const verdicts = routes.map(({ way }) => way?.loss?.application?.runs_at_worst ?? "cannot_tell");
  const run = verdicts.filter((one) => one === "yes").length;
  if (run === verdicts.length) return ` ${application} runs on both then.`;
  if (verdicts.includes("no")) {
    return verdicts.every((one) => one === "no")
      ? ` ${application} runs on neither then.`
      : ` ${application} doesn't run on one of them then.`;
  }
  return ` Whether ${application} runs on both can't be told: not all is known.`;
}

export function sentenceOf({
  from,
  to,
  strands,
  avoid,
  application,
  ways,
}: Omit<FreePairAnswer, "sentence" | "cautions">): string {
  const wanted = strands === 1 ? "1 free strand" : `${formatNumber(strands)} free strands`;
  const beside = avoid ? ` away from ${avoid.tag}` : "";
  const [best] = ways;
  if (!best) return `No way with ${wanted} from ${from.tag} to ${to.tag}${beside} is on record.`;
  const made = [
    best.splices > 0 && `${formatNumber(best.splices)} new ${best.splices === 1 ? "splice" : "splices"}`,
    best.cords > 0 && `${formatNumber(best.cords)} ${best.cords === 1 ? "cord" : "cords"}`,
  ].filter(Boolean);
  const takes = made.length > 0 ? `takes ${made.join(" and ")} on the way` : "runs through without a joint to be made";
  const over = [...new Set(best.stretches.flatMap(({ cables }) => cables.map(({ tag }) => tag)))];
  const named = over.length > 4 ? `${over.slice(0, 3).join(", ")} and ${over.length - 3} more cables` : over.join(", ");
  const length =
    best.length_m === null ? ", its length not wholly known" : `, ${formatNumber(Math.round(best.length_m))} m`;
  return `The best way with ${wanted} from ${from.tag} to ${to.tag}${beside} ${takes}: over ${named}${length}.${lossWords(best, application)}`;
}

function lossWords({ loss, kept_for_repair }: FreeWay, application: string | null): string {
  const [first] = loss?.wavelengths ?? [];
  const kept = kept_for_repair > 0 ? " It takes strands that are kept for repair." : "";
  if (!loss || !first || first.worst_loss_db === null) return `${kept} What it loses can't be reckoned.`;
  const about = `${first.complete ? "" : "at least "}${Math.round(first.worst_loss_db * 100) / 100} dB`;
  const says = { yes: "runs on it", no: "doesn't run on it", cannot_tell: "may or may not run: not all is known" };
  const runs = loss.application ? `; ${application} ${says[loss.application.runs_at_worst]} then` : "";
  return `${kept} By limits it loses ${about} at ${first.wavelength_nm} nm${runs}.`;
}
