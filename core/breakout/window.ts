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
  /** The window that is wanted. */
  readonly wanted_m: number;
  readonly stub_m: number;
  /** It is opened here already: the window is as it is. */
  readonly opened: boolean;
  readonly names: Readonly<Record<Half, string>>;
  /** The cable, and the place. */
  readonly cable: string;
  readonly place: string;
}

const metres = (value: number): string => formatLength(value, "m", 1);

/**
 * A cut needs glass: where less sheath can be opened than one splice takes on each side wanted, none can be had, in place or
 * out of it.
 */
function noGlass(asked: CutAsked): string | null {
  const { side, window_m, wanted_m, stub_m, opened, names, cable, place } = asked;
  const needs_m = side === "both" ? 2 * stub_m : stub_m;
  if (opened || window_m === null || window_m >= needs_m) return null;
  const towards = side === "both" ? say`on each side` : say`on the side of ${names[side]}`;
  const lies = window_m < 0.05 ? say`nothing of ${cable} lies` : say`no more than ${metres(window_m)} of ${cable} lie`;
  return say`No strand can be cut at ${place} with what lies there: ${metres(wanted_m)} of sheath are to be opened for it, of which a splice takes ${metres(stub_m)} of glass ${towards}, and ${lies} there to be opened, in place or brought out. Where more is found, enter it and ask again; else take them out at a place with a coil.`;
}

/** An edge of the window away from the side wanted, so that its glass is the long one; the middle where both are. */
export function cutPlace(asked: CutAsked): Omit<CutPlace, "marks"> {
  const { side, window_m, stub_m, opened, names } = asked;
  const at = asked.cut ?? (side === "both" ? "middle" : "edge");
  const long = window_m === null ? "" : say` of ${metres(window_m)}`;
  const lies = opened ? say`the window${long} that is there` : say`the window${long}`;
  const none = noGlass(asked);
  if (none !== null)
    return {
      ...(side === "both"
        ? ({ at: "middle", edge: null } as const)
        : ({ at: "edge", edge: side === "a" ? "z" : "a" } as const)),
      ...{ stub_a: "no", stub_z: "no", glass: "no", words: none },
    };
  const glass = window_m === null ? null : "yes";
  const enough = (left_m: number | null) => (left_m === null ? null : left_m >= stub_m ? "yes" : "no");
  if (at === "middle" || side === "both") {
    const half_m = window_m === null ? null : window_m / 2;
    const left =
      half_m === null
        ? say`how much is left on each side is to be measured`
        : say`${metres(half_m)} are left on each side${half_m < stub_m ? say`, less than the ${metres(stub_m)} a splice takes` : ""}`;
    const stub = enough(half_m);
    return {
      at: "middle",
      edge: null,
      stub_a: stub,
      stub_z: stub,
      glass,
      words: say`Cut in the middle of ${lies}: ${left}.`,
    };
  }
  const away: Half = side === "a" ? "z" : "a";
  const kept = enough(window_m);
  return {
    at: "edge",
    edge: away,
    stub_a: side === "a" ? kept : "no",
    stub_z: side === "z" ? kept : "no",
    glass,
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
