/** A cable opened where it passes, in its order along the cable: what is cut in the window and where, and what runs on. */

export interface OpeningUnit {
  /** "tube 3 green GR: 25-28 cut". */
  readonly words: string;
  /** `#rrggbb`; null where no colour is known. */
  readonly fill: string | null;
  readonly cut: boolean;
}

export interface OpeningDrawing {
  readonly cable: string;
  readonly place: string;
  /** What lies on the left, and on the right. */
  readonly ends: readonly [string, string];
  /** Units that are opened, and the last for those that run on together, where there are any. */
  readonly units: readonly OpeningUnit[];
  /** Where in the window it is cut, from 0 on the left to 1 on the right; null where nothing is cut. */
  readonly cut_at: number | null;
  /** Said of the cut, of the edges of the window and of the stubs, a line each. */
  readonly cut_words: readonly string[];
  /** Marks at the edges of the window; null where none is known. */
  readonly edges: readonly [string | null, string | null];
  readonly window: string;
  readonly case: string;
  readonly lateral: string;
}

/** Where the units lie below each other, in shares of the height of the window, and where they are cut across it. */
export interface LaidOpening {
  readonly rows: readonly { readonly at: number; readonly unit: OpeningUnit; readonly cut_at: number | null }[];
}

/** The cut is drawn clear of the edge it lies at. */
const CLEAR = 0.08;

export function layOpening({ units, cut_at }: OpeningDrawing): LaidOpening {
  const cut = cut_at === null ? null : Math.min(1 - CLEAR, Math.max(CLEAR, cut_at));
  return {
    rows: units.map((unit, index) => ({
      at: (index + 0.5) / units.length,
      unit,
      cut_at: unit.cut ? cut : null,
    })),
  };
}
