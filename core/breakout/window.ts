/** Where in the window strands are cut, what that leaves on each side, and what the sheath will say at its edges. */
import { formatLength } from "../model/units.ts";
import type { Lent } from "../repair/lend.ts";
import { edgesOf } from "../repair/lent-marks.ts";
import type { CourseOnRecord } from "../repair/read-course.ts";
import { say } from "../words/say.ts";
import type { CutPlace, Half, Wanted } from "./answer.ts";

export interface CutAsked {
  readonly side: Wanted;
  readonly cut: "edge" | "middle" | null;
  /** What can be opened, or is; null where nobody knows. */
  readonly window_m: number | null;
  readonly stub_m: number;
  /** It is opened here already: the window is as it is. */
  readonly opened: boolean;
  readonly names: Readonly<Record<Half, string>>;
}

const metres = (value: number): string => formatLength(value, "m", 1);

/** An edge of the window away from the side wanted, so that its glass is the long one; the middle where both are. */
export function cutPlace(asked: CutAsked): Omit<CutPlace, "marks"> {
  const { side, window_m, stub_m, opened, names } = asked;
  const at = asked.cut ?? (side === "both" ? "middle" : "edge");
  const long = window_m === null ? "" : say` of ${metres(window_m)}`;
  const lies = opened ? say`the window${long} that is there` : say`the window${long}`;
  const enough = (left_m: number | null) => (left_m === null ? null : left_m >= stub_m ? "yes" : "no");
  if (at === "middle" || side === "both") {
    const half_m = window_m === null ? null : window_m / 2;
    const left =
      half_m === null
        ? say`how much is left on each side is to be measured`
        : say`${metres(half_m)} are left on each side${half_m < stub_m ? say`, less than the ${metres(stub_m)} a splice takes` : ""}`;
    const stub = enough(half_m);
    return { at: "middle", edge: null, stub_a: stub, stub_z: stub, words: say`Cut in the middle of ${lies}: ${left}.` };
  }
  const away: Half = side === "a" ? "z" : "a";
  const kept = enough(window_m);
  return {
    at: "edge",
    edge: away,
    stub_a: side === "a" ? kept : "no",
    stub_z: side === "z" ? kept : "no",
    words: say`Cut at the edge of ${lies} towards ${names[away]}: the glass from ${names[side]} keeps the whole length as its stub, the glass beyond keeps none.`,
  };
}

/** Sheath of each half up to its edge of the window, beyond half of what lies between the mouths now. */
export function edgeBeyondHalf(
  on: CourseOnRecord,
  at: number,
  lent: readonly Lent[],
  window_m: number,
): Readonly<Record<Half, number>> {
  const edges = edgesOf(on, at, lent, window_m);
  if (!edges) return { a: 0, z: 0 };
  const half_m = (edges.out_m - edges.in_m) / 2;
  return { a: edges.from_m - edges.in_m - half_m, z: edges.out_m - edges.to_m - half_m };
}
