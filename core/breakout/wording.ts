/** A break-out in sentences. */

import { type MarkField, markWords } from "../act/mark-words.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { BreakoutAnswer, BreakoutPlan } from "./answer.ts";

export { listed };

/** Marks by their mouths, each as whoever reads it finds it; empty where there is none. */
export function marksWords(
  marks: Readonly<Record<string, number | null>>,
  { a, z }: Readonly<Record<"a" | "z", RecordRef | null>>,
): string {
  const [first, last] = [a?.tag ?? say`its first stop`, z?.tag ?? say`its last stop`];
  return listed(Object.entries(marks).map(([mouth, mark]) => markWords(mouth as MarkField, mark, first, last)));
}

type PlanHead = Pick<
  BreakoutPlan,
  "strands" | "units" | "splits" | "kept_for_repair" | "short" | "promised" | "at_risk" | "case" | "room"
>;

export function planSentence(
  { strands, units, splits, room, kept_for_repair, short, promised, at_risk, case: held }: PlanHead,
  wanted: number,
): string {
  const [only] = units;
  const from =
    units.length === 1
      ? say`${counted(wanted, "strand")} of ${only?.words} (${strands})`
      : `${counted(wanted, "strand")} (${strands}), ${listed(units.map(({ words, takes }) => say`${takes.length} of ${words}`))}`;
  const circuits = new Set(at_risk.map(({ circuit }) => circuit.id)).size;
  const risk =
    circuits === 0
      ? plural(units.length, "no circuit in service in it", "no circuit in service in them")
      : say`${counted(circuits, "circuit")} in service at risk`;
  const kept = kept_for_repair > 0 ? say`; ${kept_for_repair} of them kept for repair` : "";
  const where =
    held.how === "new" ? say`a new case ${held.tag}` : held.how === "stock" ? say`${held.tag} from stock` : held.tag;
  const split = splits.length > 0 ? say`; ${counted(splits.length, "ribbon")} split` : "";
  const serves = [...short, ...promised].map(({ words }) => `; ${words}`).join("");
  return say`${from}, ${risk}${kept}${serves}${split}; spliced in ${where}${room.fits === "no" ? `; ${room.words}` : ""}.`;
}

type Head = Pick<BreakoutAnswer, "cable" | "place" | "plans" | "loop" | "side" | "ends" | "cut">;

const LOOP: Readonly<Record<BreakoutAnswer["loop"]["reaches"], string>> = {
  yes: say`its loop comes out`,
  to_prove: say`its loop comes out if what its neighbours lend can be pulled`,
  in_place: say`it can be opened in place only`,
  opened: say`it is opened already`,
  unknown: say`whether its loop comes out is not on record`,
};

export function answerSentence({ cable, place, plans, loop, side, ends, cut }: Head): string {
  const towards =
    side === "both"
      ? say`towards both ends`
      : say`towards ${ends[side]?.tag ?? (side === "a" ? say`its first stop` : say`its last stop`)}`;
  if (cut.glass === "no") return say`${cable.tag} at ${place.tag}, ${towards}: not here. ${cut.words}`;
  const [best] = plans;
  const of = plans.length > 1 ? say`Best of ${plans.length} sets` : say`The set`;
  const comes = loop.along === null ? LOOP[loop.reaches] : say`it can be opened in place only, along ${loop.along}`;
  return say`${cable.tag} at ${place.tag}, ${towards}: ${comes}. ${of}: ${best?.sentence ?? say`none.`}`;
}
