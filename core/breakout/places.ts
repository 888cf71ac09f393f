/** Where on a cable's way a break-out fits best: each place it passes, asked as a break-out there would be. */
import { Refusal, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Fit, Loop } from "./answer.ts";
import { type BreakoutAsked, type BreakoutOptions, breakout } from "./breakout.ts";
import { fitsBetter, fitWords } from "./fit.ts";
import { cableAsked } from "./openable.ts";

export interface BreakoutPlace {
  readonly stop: RecordRef;
  readonly place: RecordRef;
  readonly reaches: Loop["reaches"];
  /** What is pulled from neighbours. */
  readonly pulled_m: number;
  /** The best set there. */
  readonly strands: string;
  readonly at_risk: number;
  readonly fit: Fit;
  /** Cut off a reel for the lateral; null where it isn't known. */
  readonly order_m: number | null;
  readonly words: string;
}

export interface BreakoutPlaces {
  readonly cable: RecordRef;
  /** The best first. */
  readonly places: readonly BreakoutPlace[];
  /** Places on its way where none can be made, and why. */
  readonly refused: readonly { readonly stop: RecordRef; readonly name: string; readonly reason: string }[];
  readonly sentence: string;
}

const SAME: ReadonlySet<string> = new Set(["not_found", "ambiguous", "duplicate"]);

/** Refuses as `breakout` does for what is the same at every place: the cable, the lateral's end, its type. */
export async function breakoutPlaces(
  reader: Reader,
  asked: Omit<BreakoutAsked, "at" | "most">,
  options: BreakoutOptions,
): Promise<BreakoutPlaces> {
  const { stretch, cable } = await cableAsked(reader, asked.cable);
  const { tag } = cable;
  if (stretch.stops.length < 3) {
    refuse("not_possible", say`${cable.tag} passes no place on record where it could be opened.`, [
      { field: "cable", record: cable.tag, reason: say`passes no place on record` },
    ]);
  }
  const places: BreakoutPlace[] = [];
  const refused: BreakoutPlaces["refused"][number][] = [];
  for (const one of stretch.stops.slice(1, -1)) {
    const stop: RecordRef = { kind: "stop", id: one.id, tag: `${tag}@${one.ordinal}` };
    try {
      const answer = await breakout(reader, { ...asked, at: stop.tag, most: 1 }, options);
      const [plan] = answer.plans;
      if (!plan) continue;
      places.push({
        stop,
        place: answer.place,
        reaches: answer.loop.reaches,
        pulled_m: answer.loop.pulls.reduce((sum, { pulled_m }) => sum + pulled_m, 0),
        strands: plan.strands,
        at_risk: new Set(plan.at_risk.map(({ circuit }) => circuit.id)).size,
        fit: plan.fit,
        order_m: answer.lateral.order_m,
        words: fitWords(plan.fit),
      });
    } catch (error) {
      // What is named and isn't there, or can be read two ways, is so at every place.
      if (!(error instanceof Refusal) || SAME.has(error.failure.code)) throw error;
      refused.push({ stop, name: one.place, reason: error.message });
    }
  }
  places.sort(
    (a, b) =>
      fitsBetter(a.fit, b.fit) ||
      a.at_risk - b.at_risk ||
      (a.order_m ?? 1e9) - (b.order_m ?? 1e9) ||
      a.pulled_m - b.pulled_m ||
      a.stop.id - b.stop.id,
  );
  const [best] = places;
  const some = plural(places.length, "one place", "{0} places");
  const sentence = best
    ? best.fit.verdict === "no"
      ? say`At none of ${some} on the way of ${cable.tag} does it fit as it lies; least is against it at ${best.place.tag}: ${[...best.fit.against, ...best.fit.open].join("; ")}.`
      : say`Best at ${best.place.tag} of ${some} on the way of ${cable.tag}: ${best.words}.`
    : say`At no place on the way of ${cable.tag} can strands be taken out${refused[0] ? `: ${refused[0].name}: ${refused[0].reason}` : "."}`;
  return { cable, places, refused, sentence };
}
