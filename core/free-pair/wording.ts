/** What free strands say in sentences. */
import { formatNumber } from "../model/units.ts";
import type { FreePairAnswer, FreeWay, SeparatePair } from "./answer.ts";

export function separateWords(pair: SeparatePair | null): string {
  if (!pair) return "No two separate routes are on record in which so many strands are free.";
  if (pair.length_m === null) return "There are two separate routes, their length not wholly known.";
  return `There are two separate routes, ${formatNumber(Math.round(pair.length_m))} m together.`;
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
