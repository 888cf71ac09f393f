/** Strands of a cable by the unit they lie in, in the order of the sheath; and ways in with the cables that use them. */
import type { FeedCable, FeedStrand, FeedsAnswer } from "../../../core/feeds/answer.ts";
import type { ColourLayer, Place } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { plainWord } from "../../drawing/colours.ts";

export interface UnitGroup {
  readonly key: string;
  /** "6 white", or the strands' numbers where they lie in no unit. */
  readonly words: string;
  /** The unit's own layer; null where strands lie directly in the sheath. */
  readonly layer: ColourLayer | null;
  readonly strands: readonly FeedStrand[];
}

/** Without a unit, strands are told in dozens. */
const DOZEN = 12;

const unitLayers = (strand: FeedStrand): readonly ColourLayer[] =>
  strand.colours.filter(({ what }) => what !== "strand");

export function unitGroups(cable: FeedCable): readonly UnitGroup[] {
  const groups: { key: string; words: string; layer: ColourLayer | null; strands: FeedStrand[] }[] = [];
  for (const strand of cable.strands) {
    const layers = unitLayers(strand);
    const layer = layers.at(-1) ?? null;
    const dozen = Math.floor((strand.number - 1) / DOZEN);
    const key = layer ? layers.map(({ what, position }) => `${what}${position}`).join("/") : say`dozen ${dozen}`;
    const last = groups.at(-1);
    if (last?.key === key) last.strands.push(strand);
    else groups.push({ key, words: layer ? unitWords(layers) : "", layer, strands: [strand] });
  }
  return groups.map((group) => (group.layer ? group : { ...group, words: rangeWords(group.strands) }));
}

/** "6 white"; of nested units both: "2 orange, 6 white". */
const unitWords = (layers: readonly ColourLayer[]): string => layers.map(plainWord).join(", ");

const rangeWords = (strands: readonly FeedStrand[]): string => {
  const [first, last] = [strands[0]?.number, strands.at(-1)?.number];
  return first === last ? String(first) : say`${first} to ${last}`;
};

export interface WayIn {
  readonly place: Place;
  readonly cables: readonly FeedCable[];
}

/** Ways in, in the answer's order; cables that only pass come last under their own place. */
export function waysIn(answer: FeedsAnswer): readonly WayIn[] {
  const byPlace = Map.groupBy(answer.cables, ({ entrance }) => entrance.space?.id ?? 0);
  return [...byPlace.values()].flatMap((cables) => (cables[0] ? [{ place: cables[0].entrance, cables }] : []));
}
