/** Loops in which dark strands are taken out while others shine, as people read them. */
import { formatLength } from "../model/units.ts";
import { say } from "../words/say.ts";
import type { MendLoop } from "./answer.ts";
import type { MendPlan, MendPoint } from "./plan.ts";
import { type HeldCourse, pullWords } from "./pulls.ts";

const metres = (value: number): string => formatLength(value, "m", 1);
const millimetre = (value: number): number => Math.round(value * 1000) / 1000;

const nameOf = ({ stops }: HeldCourse, at: MendPoint["at"]): string =>
  (at === "cut" ? undefined : stops[at]?.name) ?? say`a place not known`;

/** One for each point of a plan that parts no sheath; empty for any other. At an end no sheath is opened, and there is none. */
export function loopsOf({ points }: MendPlan, on: HeldCourse): MendLoop[] {
  return points.flatMap(({ at, loop }): MendLoop[] => {
    const place = at === "cut" ? null : (on.stops[at]?.place ?? null);
    if (!loop) return [];
    const { needs_m, window_m, lies_m, lends_m, lent, lack_m, reaches } = loop;
    const name = nameOf(on, at);
    const pulled_m = lent.reduce((sum, one) => sum + one.pulled_m, 0);
    const lies = lies_m === null ? say`what is coiled there is not known` : say`${metres(lies_m)} lie there`;
    const takes = say`a loop that comes out takes ${metres(needs_m)}`;
    const lends =
      lends_m < 0.05
        ? say`neighbours on its side of the cut can lend nothing`
        : say`neighbours on its side of the cut can lend no more than ${metres(lends_m)}`;
    const words =
      reaches === "opened"
        ? say`Opened already at ${name}: the dark strands are taken out in the case there, in the window that is there, and the others run on in it.`
        : reaches === "in_place" || reaches === "unknown"
          ? say`In place only at ${name}: ${takes}, ${lies}, and ${lends}.`
          : pulled_m < 0.05
            ? say`The loop comes out at ${name}: ${takes}, and ${lies}.`
            : reaches === "to_prove"
              ? say`The loop comes out at ${name} if ${metres(pulled_m)} can be pulled from its neighbours, which nobody has proven: ${takes}, and ${lies}.`
              : say`The loop comes out at ${name} with ${metres(pulled_m)} pulled from its neighbours: ${takes}, and ${lies}.`;
    return [
      {
        place,
        name,
        needs_m: millimetre(needs_m),
        window_m: millimetre(window_m),
        lies_m: lies_m === null ? null : millimetre(lies_m),
        lends_m: millimetre(lends_m),
        lack_m: millimetre(lack_m),
        reaches,
        pulls: lent.flatMap(({ stop, pulled_m: own_m, left_m }) => {
          const from = on.stops[stop];
          return from
            ? [{ stop: from.stop, place: from.place, pulled_m: millimetre(own_m), left_m: millimetre(left_m) }]
            : [];
        }),
        words,
      },
    ];
  });
}

/** What nobody has proven of the loops, in words. */
export function loopsToProve({ points }: MendPlan, on: HeldCourse): string[] {
  return points.flatMap(({ at, loop }) => {
    if (!loop) return [];
    const { reaches, needs_m, lies_m, lends_m, unproven, unknown } = loop;
    const name = nameOf(on, at);
    const lends = lends_m < 0.05 ? say`neighbours lend nothing` : say`neighbours lend ${metres(lends_m)} at most`;
    return [
      ...unproven.map((leg) => {
        const side = at !== "cut" && leg < at ? "left" : "right";
        return say`whether the cable slides between ${on.stops[leg]?.name} and ${on.stops[leg + 1]?.name}${pullWords(on.pulls[leg], side)}`;
      }),
      ...(reaches === "unknown"
        ? [
            say`whether ${metres(needs_m)} of sheath come out at ${name} to open it in place: what is coiled there is not known`,
          ]
        : []),
      ...(reaches === "in_place"
        ? [
            say`whether the sheath can be opened in place at ${name}: a loop that comes out takes ${metres(needs_m)}, ${metres(lies_m ?? 0)} lie there, and ${lends}`,
          ]
        : []),
      ...unknown.map((stop) => say`what is coiled at ${on.stops[stop]?.name}: nothing is taken`),
    ];
  });
}
