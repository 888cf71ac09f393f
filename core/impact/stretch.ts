/** A stretch of a cable between two marks: which glass lies in it. Pure; whoever asks brings the marks on record. */
import { alongSheath, type MarkBreak } from "../model/marks.ts";

export interface StopMarks {
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
}

/** A run of print without a jump, by its marks and by where these lie along the sheath. */
interface Print {
  readonly from: number;
  readonly to: number;
  readonly at: number;
  readonly sign: 1 | -1;
}

export interface Extent {
  readonly from: number;
  readonly to: number;
}

const marksOf = (stop: StopMarks): (number | null)[] => [
  stop.mark_in,
  stop.mark_open_from,
  stop.mark_open_to,
  stop.mark_out,
];

export class Marked {
  readonly #print: Print[] = [];
  /** For each stop where its marks lie along the sheath, unknown ones left out. */
  readonly #at: readonly (readonly (number | null)[])[];

  /** `stops` in order along the cable. */
  constructor(stops: readonly StopMarks[], breaks: readonly MarkBreak[]) {
    const marks = stops.flatMap(marksOf);
    const along = alongSheath(marks, breaks);
    this.#at = stops.map((_, index) => along.slice(index * 4, index * 4 + 4));
    let before: { mark: number; at: number } | null = null;
    for (const [index, mark] of marks.entries()) {
      const at = along[index] ?? null;
      if (mark === null || at === null) continue;
      if (before) this.#between(before, { mark, at }, breaks);
      before = { mark, at };
    }
  }

  #between(one: { mark: number; at: number }, other: { mark: number; at: number }, breaks: readonly MarkBreak[]): void {
    const length = other.at - one.at;
    const add = (from: number, to: number, at: number) => this.#print.push({ from, to, at, sign: to < from ? -1 : 1 });
    const near = (a: number, b: number) => Math.abs(a - b) < 1e-6;
    if (near(Math.abs(other.mark - one.mark), length)) return void add(one.mark, other.mark, one.at);
    for (const { at_mark, jumps_to } of breaks) {
      const first = Math.abs(at_mark - one.mark);
      if (!near(first + Math.abs(other.mark - jumps_to), length)) continue;
      add(one.mark, at_mark, one.at);
      add(jumps_to, other.mark, one.at + first);
      return;
    }
  }

  /** The least and greatest mark on record; null where fewer than two are. */
  get range(): Extent | null {
    const all = this.#print.flatMap(({ from, to }) => [from, to]);
    return all.length === 0 ? null : { from: Math.min(...all), to: Math.max(...all) };
  }

  /** Where a mark lies along the sheath: nowhere, at one place, or at several where the print begins anew. */
  placesOf(mark: number): number[] {
    const places = this.#print.flatMap(({ from, to, at, sign }) =>
      mark < Math.min(from, to) || mark > Math.max(from, to) ? [] : [at + (mark - from) * sign],
    );
    return places.filter((place, index) => places.findIndex((other) => Math.abs(other - place) < 1e-6) === index);
  }

  /**
   * What glass from one stop to another covers of the sheath. Where the edges of an opening aren't marked, or a stop has
   * no mark at all, the glass is taken to reach as far as the next mark that is: rather more than less.
   */
  extentOf(a: number, b: number): Extent {
    const known = (stop: number): number[] => (this.#at[stop] ?? []).filter((at) => at !== null);
    const edge = (stop: number, place: number): number | null => this.#at[stop]?.[place] ?? null;
    let from = edge(a, 2);
    for (let stop = a; from === null && stop >= 0; stop -= 1) {
      const here = known(stop);
      if (here.length > 0) from = stop === a ? Math.min(...here) : Math.max(...here);
    }
    let to = edge(b, 1);
    for (let stop = b; to === null && stop < this.#at.length; stop += 1) {
      const here = known(stop);
      if (here.length > 0) to = stop === b ? Math.max(...here) : Math.min(...here);
    }
    return { from: from ?? Number.NEGATIVE_INFINITY, to: to ?? Number.POSITIVE_INFINITY };
  }

  /** Whether a stop has any mark. */
  isMarked(stop: number): boolean {
    return (this.#at[stop] ?? []).some((at) => at !== null);
  }
}
