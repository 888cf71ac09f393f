/**
 * Length of sheath between two stops of a cable. Between two stops it is the difference of the marks that face each other,
 * read at the duct mouths; in a place passed it is the difference of its own two marks, crossing and coil together. At an
 * opening each side runs to its edge: the window is counted in neither, but for glass that runs on in it. Where marks are missing it is what was measured of
 * the leg, else the pathways' length, else what is planned of it, with slack and crossing; what is not known is said.
 */
import { alongSheath, type MarkBreak, marksBackwards } from "../model/marks.ts";
import { type LengthUnit, metresIn } from "../model/units.ts";
import { say } from "../words/say.ts";
import type { LengthFrom } from "./answer.ts";

export interface SheathStop {
  readonly id: number;
  readonly ordinal: number;
  readonly kind: "end" | "passing" | "opened" | "severed";
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
  readonly slack_m: number | null;
  readonly storage: string | null;
  /** Length of the dressed way through the place, mouth to mouth; null where neither it nor the size is known. */
  readonly crossing_m: number | null;
  /** What people call the place. */
  readonly place: string;
}

export interface SheathLeg {
  readonly from_stop_id: number;
  readonly to_stop_id: number;
  readonly pathway_id: number | null;
  readonly pathway: string | null;
  readonly length_m: number | null;
  /** That length is the leg's own, measured or only planned; left out where it is the pathway's. */
  readonly own?: "measured" | "planned" | null;
}

/** A leg's length without marks: what was measured along it, else its pathway's, else what is planned. */
export function lengthOfLeg({
  own_m,
  length_basis,
  way_m,
}: {
  readonly own_m: number | null;
  readonly length_basis: "planned" | "measured" | null;
  readonly way_m: number | null;
}): Required<Pick<SheathLeg, "length_m" | "own">> {
  const own = own_m === null || (length_basis === "planned" && way_m !== null) ? null : (length_basis ?? "measured");
  return { length_m: own === null ? way_m : own_m, own };
}

export interface SheathLength {
  /** What is known of it; null where nothing is. */
  readonly length_m: number | null;
  readonly from: LengthFrom | null;
  /** What it lacks, in words. */
  readonly lacks: readonly string[];
}

/**
 * Crossing of a place: as measured, else three quarters of its perimeter (MIL-HDBK-1012/3, read), else the plant's policy.
 */
export function crossingOf(
  space: {
    readonly crossing_m: number | null;
    readonly inner_length_m: number | null;
    readonly inner_width_m: number | null;
  },
  policy_m: number | null,
): number | null {
  if (space.crossing_m !== null) return space.crossing_m;
  if (space.inner_length_m !== null && space.inner_width_m !== null) {
    return 0.75 * 2 * (space.inner_length_m + space.inner_width_m);
  }
  return policy_m;
}

/** A stop's marks as metres along the sheath, counted from an arbitrary point. */
interface Along {
  readonly in: number | null;
  readonly from: number | null;
  readonly to: number | null;
  readonly out: number | null;
}
const UNMARKED: Along = { in: null, from: null, to: null, out: null };

/** Adds up what is known, and keeps what isn't. */
class Sum {
  known = false;
  metres = 0;
  byMarks = false;
  byWay = false;
  byRecord = false;
  byPlan = false;
  readonly lacks = new Set<string>();

  /** The sheath between two marks, or a share of it; false where one of them is not known. */
  marks(one: number | null, other: number | null, share = 1): boolean {
    if (one === null || other === null) return false;
    this.metres += Math.abs(other - one) * share;
    this.known = this.byMarks = true;
    return true;
  }
  way(metres: number): void {
    this.metres += metres;
    this.known = this.byWay = true;
  }
  /** What is on record of the leg itself. */
  own(metres: number, own: "measured" | "planned"): void {
    this.metres += metres;
    this.known = true;
    if (own === "planned") this.byPlan = true;
    else this.byRecord = true;
  }
  get from(): LengthFrom | null {
    if (!this.known) return null;
    if (this.byPlan) return "planned";
    if (this.byMarks) return this.byWay || this.byRecord ? "mixed" : "marks";
    return this.byRecord ? "record" : "pathway";
  }
}

const told = (sum: Sum): SheathLength => ({
  length_m: sum.known ? sum.metres : null,
  from: sum.from,
  lacks: [...sum.lacks],
});

export class Sheath {
  readonly #stops: readonly SheathStop[];
  readonly #all: readonly SheathLeg[];
  readonly #print: { readonly unit: LengthUnit | null; readonly breaks: readonly MarkBreak[] };
  readonly #place = new Map<number, number>();
  readonly #legs = new Map<string, SheathLeg[]>();
  readonly #marks: ReadonlyMap<number, Along>;

  /** `stops` in order along the cable. `unit` is null where nobody knows what the marks count. */
  constructor(
    stops: readonly SheathStop[],
    legs: readonly SheathLeg[],
    unit: LengthUnit | null,
    breaks: readonly MarkBreak[],
  ) {
    this.#stops = stops;
    this.#all = legs;
    this.#print = { unit, breaks };
    for (const [index, stop] of stops.entries()) this.#place.set(stop.id, index);
    for (const leg of legs) {
      const key = keyOf(leg.from_stop_id, leg.to_stop_id);
      this.#legs.set(key, [...(this.#legs.get(key) ?? []), leg]);
    }
    this.#marks = unit === null ? new Map() : marksAlong(stops, unit, breaks);
  }

  /** The stops from one to the other, both included, in the order of the cable; none where one isn't of this cable. */
  stopsBetween(a: number | null, b: number | null): readonly SheathStop[] {
    const one = this.#place.get(a ?? 0);
    const other = this.#place.get(b ?? 0);
    if (one === undefined || other === undefined) return [];
    return this.#stops.slice(Math.min(one, other), Math.max(one, other) + 1);
  }

  /** The same sheath as if a stop were not on record: the leg to it leads on to the stop beyond. */
  without(id: number): Sheath {
    const at = this.#place.get(id);
    const beyond = at === undefined ? undefined : this.#stops[at + 1];
    if (at === undefined || beyond === undefined) return this;
    const legs = this.#all.flatMap((leg) => {
      if (leg.from_stop_id === id) return [];
      return leg.to_stop_id === id ? [{ ...leg, to_stop_id: beyond.id }] : [leg];
    });
    const { unit, breaks } = this.#print;
    return new Sheath(this.#stops.toSpliced(at, 1), legs, unit, breaks);
  }

  /** The same sheath as it ran through this stop before it was opened or cut there. */
  passing(id: number): Sheath {
    const { unit, breaks } = this.#print;
    const stops = this.#stops.map(
      (stop): SheathStop =>
        stop.id === id ? { ...stop, kind: "passing", mark_open_from: null, mark_open_to: null } : stop,
    );
    return new Sheath(stops, this.#all, unit, breaks);
  }

  /** Only these stops of it, which must lie side by side: one part of a cable that was parted. */
  part(ids: ReadonlySet<number>): Sheath {
    const { unit, breaks } = this.#print;
    return new Sheath(
      this.#stops.filter(({ id }) => ids.has(id)),
      this.#all.filter(({ from_stop_id, to_stop_id }) => ids.has(from_stop_id) && ids.has(to_stop_id)),
      unit,
      breaks,
    );
  }

  /** The same sheath without marks that run against the others: no length is to be built on them. */
  trusted(): { readonly sheath: Sheath; readonly off: readonly { readonly place: string; readonly mark: number }[] } {
    const { unit, breaks } = this.#print;
    const printed = this.#stops.flatMap((stop) => MARK_FIELDS.map((field) => stop[field]));
    const backwards = new Set(marksBackwards(printed, breaks));
    if (backwards.size === 0) return { sheath: this, off: [] };
    const off = [...backwards].map((index) => ({
      place: this.#stops[Math.floor(index / MARK_FIELDS.length)]?.place ?? "",
      mark: printed[index] ?? 0,
    }));
    const stops = this.#stops.map((stop, at) => {
      const without = MARK_FIELDS.filter((_, field) => backwards.has(at * MARK_FIELDS.length + field));
      return without.length === 0 ? stop : { ...stop, ...Object.fromEntries(without.map((field) => [field, null])) };
    });
    return { sheath: new Sheath(stops, this.#all, unit, breaks), off };
  }

  /** The legs between neighbouring stops, of any direction. */
  legsBetween(a: number, b: number): readonly SheathLeg[] {
    return this.#legs.get(keyOf(a, b)) ?? [];
  }

  /** Sheath between two neighbouring stops, mouth to mouth. */
  between(stop: SheathStop, next: SheathStop): SheathLength {
    const sum = new Sum();
    this.#leg(sum, stop, next);
    return told(sum);
  }

  /** Sheath that lies in a place: between its mouths, or at an end from the mouth to the tip. */
  inside(stop: SheathStop): SheathLength {
    const sum = new Sum();
    if (stop === this.#stops[0]) this.#end(sum, stop, "out", true);
    else if (stop === this.#stops.at(-1)) this.#end(sum, stop, "in", true);
    else if (!this.#bareEnd(sum, stop)) this.#passed(sum, stop);
    return told(sum);
  }

  /** Sheath of glass that ends at a stop, from the mouth to where it ends; `toward` is the side that the glass is on. */
  side(stop: SheathStop, toward: "in" | "out"): SheathLength {
    const sum = new Sum();
    this.#end(sum, stop, toward, true);
    return told(sum);
  }

  /** Where one side alone is left of a severed sheath it lies from its mouth to its tip; false elsewhere. */
  #bareEnd(sum: Sum, stop: SheathStop): boolean {
    if (stop.kind !== "severed" || (stop.mark_in === null) === (stop.mark_out === null)) return false;
    const { in: mouth_in, from, to, out } = this.#along(stop);
    return stop.mark_out === null ? sum.marks(mouth_in, from) : sum.marks(out, to);
  }

  /** Sheath of glass that ends at two stops. */
  length(a: number | null, b: number | null): SheathLength {
    const stops = this.stopsBetween(a, b);
    // Glass that a cut between two places left whole runs on past it as if it weren't there.
    const left_whole = stops.find((stop, index) => index > 0 && index < stops.length - 1 && this.#betweenPlaces(stop));
    if (left_whole) return this.without(left_whole.id).length(a, b);
    const sum = new Sum();
    if (stops.length === 0) return { length_m: null, from: null, lacks: [say`where it ends is not on record`] };
    for (const [index, stop] of stops.entries()) {
      const next = stops[index + 1];
      if (index === 0) this.#end(sum, stop, "out", stops.length > 1);
      else if (next) this.#passed(sum, stop, true);
      else this.#end(sum, stop, "in", true);
      if (next) this.#leg(sum, stop, next);
    }
    return told(sum);
  }

  #along(stop: SheathStop): Along {
    return this.#marks.get(stop.id) ?? UNMARKED;
  }

  #leg(sum: Sum, stop: SheathStop, next: SheathStop): void {
    if (sum.marks(this.#along(stop).out, this.#along(next).in)) return;
    const legs = new Map(this.legsBetween(stop.id, next.id).map((leg) => [leg.pathway_id, leg]));
    // A way that was cut in its middle counts once: how much of it lies on this side nobody knows without marks.
    const parted = [...legs.values()].find((leg) => this.#parted(stop, next, leg));
    if (parted) {
      sum.lacks.add(say`where in ${parted.pathway ?? say`its way`} it is cut is not on record`);
      return;
    }
    // A cable that stops twice in one place has no way between: it goes from case to case.
    if (stop.place === next.place && ![...legs.values()].some(({ pathway_id, own }) => pathway_id !== null || own)) {
      sum.way(0);
      return;
    }
    if (legs.size === 0) sum.lacks.add(say`the way from ${stop.place} to ${next.place} is not on record`);
    for (const leg of legs.values()) {
      if (leg.length_m !== null && leg.own) sum.own(leg.length_m, leg.own);
      else if (leg.length_m !== null) sum.way(leg.length_m);
      else if (leg.pathway !== null) sum.lacks.add(say`the length of ${leg.pathway} is not on record`);
      else sum.lacks.add(say`the way from ${stop.place} to ${next.place} is not on record`);
    }
  }

  /** Whether the same way goes on beyond a severed stop between. */
  #parted(stop: SheathStop, next: SheathStop, leg: SheathLeg): boolean {
    const at = this.#place.get(stop.id) ?? -1;
    const [before, beyond] = [this.#stops[at - 1], this.#stops[at + 2]];
    const lies = (a: SheathStop | undefined, b: SheathStop | undefined): boolean =>
      a !== undefined && b !== undefined && this.legsBetween(a.id, b.id).some((other) => sameWay(leg, other));
    return (next.kind === "severed" && lies(next, beyond)) || (stop.kind === "severed" && lies(before, stop));
  }

  /** Whether the sheath is severed here in the middle of a way: no mouths, and marked edges or one way on both sides. */
  #betweenPlaces(stop: SheathStop): boolean {
    if (stop.kind !== "severed" || stop.mark_in !== null || stop.mark_out !== null) return false;
    if (stop.mark_open_from !== null || stop.mark_open_to !== null) return true;
    const before = this.#stops[(this.#place.get(stop.id) ?? 0) - 1];
    return before !== undefined && this.legsBetween(before.id, stop.id).some((leg) => this.#parted(before, stop, leg));
  }

  /**
   * A place the glass runs through without being cut.
   * @param glass the glass runs on in the window that is opened there, of which no sheath is left
   */
  #passed(sum: Sum, stop: SheathStop, glass = false): void {
    const along = this.#along(stop);
    if (along.in === null || along.out === null) this.#unmarked(sum, stop, 1);
    // Where only some strands were severed the others run from mouth to mouth.
    else if (!glass && stop.kind !== "severed" && along.from !== null && along.to !== null) {
      sum.marks(along.in, along.from);
      sum.marks(along.to, along.out);
    } else sum.marks(along.in, along.out);
  }

  /** A place where the glass ends; `toward` is the side of it that the glass is on. */
  #end(sum: Sum, stop: SheathStop, toward: "in" | "out", runs: boolean): void {
    const along = this.#along(stop);
    const [mouth, edge] = toward === "in" ? [along.in, along.from] : [along.out, along.to];
    if (stop.kind === "end" || stop.kind === "severed") {
      // The sheath's end may be marked as either edge: only one of them is there.
      const tip = edge ?? (stop.kind === "end" ? (along.from ?? along.to) : null);
      if (!sum.marks(mouth, tip) && stop.slack_m !== null) sum.way(stop.slack_m);
      return;
    }
    if (!runs) return;
    // Cut in a place that the sheath runs through. Where its edges are not marked, each half of the glass is given half
    // of what lies there.
    if (!sum.marks(mouth, edge) && !sum.marks(along.in, along.out, 0.5)) this.#unmarked(sum, stop, 0.5);
  }

  #unmarked(sum: Sum, stop: SheathStop, share: number): void {
    const slack = stop.slack_m ?? (stop.storage === "none" ? 0 : null);
    if (slack === null) sum.lacks.add(say`the slack at ${stop.place} is not on record`);
    else sum.way(slack * share);
    if (stop.crossing_m === null) sum.lacks.add(say`the crossing at ${stop.place} is not on record`);
    else sum.way(stop.crossing_m * share);
  }
}

/** Both halves of a leg that was cut in its middle keep its pathway, or else what is on record of it. */
const sameWay = (one: SheathLeg, other: SheathLeg): boolean =>
  one.pathway_id === other.pathway_id &&
  (one.pathway_id !== null || (one.own != null && one.length_m === other.length_m));

const MARK_FIELDS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;

const keyOf = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** The marks of all stops as metres along the sheath. */
function marksAlong(stops: readonly SheathStop[], unit: LengthUnit, breaks: readonly MarkBreak[]): Map<number, Along> {
  const marks = stops.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]);
  const along = alongSheath(marks, breaks).map((position) => (position === null ? null : metresIn(position, unit)));
  const at = (index: number): number | null => along[index] ?? null;
  return new Map(
    stops.map(({ id, kind, mark_in, mark_out }, i) => {
      const [from, to] = [at(i * 4 + 1), at(i * 4 + 2)];
      // A cut in the middle of a way has no mouths: the sheath ends at its edges.
      const bare = kind === "severed" && mark_in === null && mark_out === null;
      return [id, { in: bare ? from : at(i * 4), from, to, out: bare ? to : at(i * 4 + 3) }];
    }),
  );
}
