/** The splices of a plan: where, in which order, and what is joined by which colours. */

import { say } from "../words/say.ts";
import type { MendAnswer, MendAnswerPlan, MendPlace, MendSplice, MendSplicing, MendStrand } from "./answer.ts";
import type { MendPlan } from "./plans.ts";

/** Where a plan splices: all but the last point is spliced whole, only at the last does order decide who comes back when. */
export function splicingOf(
  kind: MendPlan["kind"],
  points: readonly MendPlace[],
  order: readonly MendStrand[],
  tag: string,
  landed: MendPlan["landed"] = null,
  dark_only = false,
): MendSplicing[] {
  if (kind === "new_cable") return [];
  const ribbons = new Set(order.flatMap(({ ribbon, unit_order }) => (ribbon ? [unit_order] : []))).size;
  const single = order.filter(({ ribbon }) => !ribbon).length;
  const piece = dark_only
    ? say`the new piece, its strands in the order of these`
    : say`the new piece (laid as ${tag} is coloured)`;
  return points.map(({ words, place }, index) => ({
    point: words,
    place,
    by_urgency: index === points.length - 1,
    strands: order.length,
    splices: single + ribbons,
    from: index === 0 && landed !== "left" ? tag : piece,
    to: index === points.length - 1 && landed !== "right" ? tag : piece,
  }));
}

/** Every splice of a plan, in the order in which it is made. */
export function splicesOf({ order }: Pick<MendAnswer, "order">, { splicing }: Pick<MendAnswerPlan, "splicing">) {
  const lying = order.toSorted((a, b) => a.number - b.number);
  const dark = lying.filter(({ shines }) => !shines).map(({ number }) => number);
  return splicing.flatMap(({ point, by_urgency, dark_only }, index) =>
    (by_urgency ? order : lying)
      .filter(({ shines }) => !(dark_only && shines))
      .map(({ number, unit, words, unit_order, circuits }): MendSplice => {
        const colours = [unit, words].filter(Boolean).join(", ");
        // A piece for them alone has another make.
        const own = dark_only ? say`strand ${dark.indexOf(number) + 1} of the piece` : colours;
        const [from, to] = index === 0 ? [colours, own] : [own, colours];
        return { point, number, unit_order, from, to, circuits };
      }),
  );
}
