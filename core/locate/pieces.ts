/**
 * The sheath between two stops, piece by piece: legs, what lies in each place passed, and the tails at both ends. Lengths
 * are those of the trace; the window of an opening that the strand runs through is a piece of its own, and what the record
 * lacks has a usual length with its bound, so that the walk can go on.
 */
import { alongSheath, marksBackwards } from "../model/marks.ts";
import { formatLength, metresIn } from "../model/units.ts";
import type { CableFacts } from "../trace/cables.ts";
import type { SheathStop } from "../trace/sheath.ts";
import { say } from "../words/say.ts";
import type { CableRow } from "./facts.ts";
import type { At, Piece, PieceError, Pieces } from "./piece.ts";
import type { Found, Values } from "./values.ts";

interface Marks {
  readonly in: At;
  readonly from: At;
  readonly to: At;
  readonly out: At;
}

const UNMARKED: At = { mark: null, along_m: null };

/** Feet read as metres or metres as feet, and how near to that a contradiction must be to be one. */
const OTHER_UNIT = [0.3048, 1 / 0.3048] as const;
const NEAR = 0.1;

export class SheathPieces {
  readonly #cable: CableFacts;
  readonly #row: CableRow;
  readonly #values: Values;
  readonly #marks = new Map<number, Marks>();
  readonly #pieces: Piece[] = [];
  readonly #lacks = new Set<string>();
  readonly #doubts = new Set<string>();

  constructor(cable: CableFacts, row: CableRow, values: Values) {
    this.#cable = cable;
    this.#row = row;
    this.#values = values;
    const { stops } = cable;
    const all = cable.sheath.stopsBetween(stops[0]?.id ?? null, stops.at(-1)?.id ?? null);
    const printed = all.flatMap((stop) => [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out]);
    const along = alongSheath(printed, row.breaks);
    const backwards = new Set(marksBackwards(printed, row.breaks));
    for (const index of backwards) {
      const place = all[Math.floor(index / 4)]?.place;
      this.#doubts.add(say`${row.tag}: mark ${printed[index]} at ${place} runs against the others, so it isn't used.`);
    }
    for (const [index, stop] of all.entries()) {
      const at = (place: number): At => {
        if (backwards.has(index * 4 + place)) return UNMARKED;
        const position = along[index * 4 + place] ?? null;
        const { unit } = row;
        const along_m = position === null || unit === null ? null : metresIn(position, unit);
        return { mark: printed[index * 4 + place] ?? null, along_m };
      };
      this.#marks.set(stop.id, { in: at(0), from: at(1), to: at(2), out: at(3) });
    }
  }

  /** In the order of the cable, from one of its stops to another. */
  between(a: number | null, b: number | null): Pieces {
    const stops = this.#cable.sheath.stopsBetween(a, b);
    if (stops.length === 0) this.#lacks.add(say`${this.#row.tag}: where the strand ends is not on record`);
    for (const [index, stop] of stops.entries()) {
      const next = stops[index + 1];
      if (index === 0) {
        if (next) this.#tail(stop, "out");
      } else if (next) this.#passed(stop);
      else this.#tail(stop, "in");
      if (next) this.#leg(stop, next);
    }
    return { pieces: this.#pieces, lacks: [...this.#lacks], doubts: [...this.#doubts] };
  }

  #at = (stop: SheathStop): Marks => this.#marks.get(stop.id) as Marks;

  #add(kind: Piece["kind"], stop: SheathStop, more: Partial<Piece>): void {
    this.#pieces.push({
      kind,
      stop,
      next: null,
      length_m: null,
      marked: false,
      marks: null,
      reckoned: false,
      ends: [UNMARKED, UNMARKED],
      errors: [],
      legs: [],
      ...more,
    });
  }

  #marked(kind: Piece["kind"], stop: SheathStop, from: At, to: At, more: Partial<Piece> = {}): boolean {
    if (from.along_m === null || to.along_m === null) return false;
    const length_m = Math.abs(to.along_m - from.along_m);
    this.#add(kind, stop, { length_m, marked: true, marks: printedAt(from, to), ends: [from, to], ...more });
    return true;
  }

  #leg(stop: SheathStop, next: SheathStop): void {
    const legs = [
      ...new Map(this.#cable.sheath.legsBetween(stop.id, next.id).map((leg) => [leg.pathway_id, leg])).values(),
    ];
    const known = legs.flatMap(({ length_m }) => length_m ?? []);
    const way_m = known.length === legs.length && legs.length > 0 ? known.reduce((sum, one) => sum + one, 0) : null;
    const [from, to] = [this.#at(stop).out, this.#at(next).in];
    const name = say`${this.#row.tag} from ${stop.place} to ${next.place}`;
    const marked_m = from.along_m === null || to.along_m === null ? null : Math.abs(to.along_m - from.along_m);
    const stands = way_m !== null && way_m > 0 && !legs.some(({ own }) => own);
    const other = marked_m !== null && stands && otherUnit(marked_m / way_m);
    if (other) {
      this.#doubts.add(
        say`${name}: marks ${from.mark} and ${to.mark} fit ${this.#row.unit === "ft" ? say`metres` : say`feet`} and not the ${this.#row.unit === "ft" ? say`feet` : say`metres`} on record, perhaps two units on one cable; its pathway's length stands in.`,
      );
    } else if (this.#marked("leg", stop, from, to, { next, legs })) {
      // What is only planned says nothing against marks.
      if (!legs.some(({ own }) => own)) this.#compare(name, marked_m, way_m);
      return;
    }
    const marks = printedAt(from, to);
    if (way_m === null) {
      this.#lacks.add(
        legs.length === 0
          ? say`the way of ${name} is not on record, and no marks say its length`
          : say`neither marks nor a pathway's length are on record for ${name}`,
      );
      this.#add("leg", stop, { next, legs, marks, ends: [from, to] });
      return;
    }
    const [pathway = null] = legs;
    const planned = legs.some(({ own }) => own === "planned");
    const ratio = planned ? "locate.planned.ratio" : "locate.way.ratio";
    if (planned) this.#lacks.add(say`${name} lies there as planned, and nobody has read its marks`);
    const error: PieceError = {
      kind: "way",
      key: `way ${stop.id} ${next.id}`,
      words: planned
        ? say`planned length in place of marks, ${stop.place} to ${next.place}`
        : legs.some(({ own }) => own)
          ? say`measured length in place of marks, ${stop.place} to ${next.place}`
          : say`pathway's length in place of marks, ${stop.place} to ${next.place}`,
      bound: way_m * this.#values.number(ratio),
      basis: "on_record",
      source: this.#values.source(ratio),
      pathway: pathway?.pathway_id == null ? null : pathway,
    };
    this.#add("leg", stop, { next, legs, marks, ends: [from, to], length_m: way_m, errors: [error] });
  }

  /** Marks and pathway of one leg that differ by more than both may be off. */
  #compare(name: string, marked_m: number | null, way_m: number | null): void {
    if (marked_m === null || way_m === null) return;
    const number = (tag: string): number => this.#values.number(`locate.${tag}`);
    const most = way_m * number("way.ratio") + marked_m * number("marks.scale") + 2 * number("marks.read_m");
    if (Math.abs(marked_m - way_m) <= most) return;
    const metres = (length: number): string => formatLength(length, "m");
    this.#doubts.add(
      say`${name}: ${metres(marked_m)} by its marks and ${metres(way_m)} by its pathway; the marks are taken.`,
    );
  }

  /** A place the strand runs through uncut. */
  #passed(stop: SheathStop): void {
    const at = this.#at(stop);
    const { from, to } = at;
    if (from.along_m !== null && to.along_m !== null) {
      const side = (one: At, other: At): void => {
        if (!this.#marked("coil", stop, one, other)) this.#unmarked("coil", stop, 0.5, [one, other]);
      };
      side(at.in, from);
      this.#marked("window", stop, from, to);
      side(to, at.out);
    } else if (!this.#marked("coil", stop, at.in, at.out)) {
      this.#unmarked("coil", stop, 1, [at.in, at.out]);
    }
  }

  /** From a place where the strand ends to its mouth; `toward` is the side the strand is on. */
  #tail(stop: SheathStop, toward: "in" | "out"): void {
    const at = this.#at(stop);
    const [mouth, edge] = toward === "in" ? [at.in, at.from] : [at.out, at.to];
    const [near, far] = toward === "in" ? [at.from, at.to] : [at.to, at.from];
    const tip = edge.along_m === null && stop.kind === "end" ? (near.along_m === null ? far : near) : edge;
    const pair = (one: At, other: At): [At, At] => (toward === "in" ? [one, other] : [other, one]);
    if (this.#marked("tail", stop, ...pair(mouth, tip))) return;
    const ends: [At, At] = toward === "in" ? [mouth, UNMARKED] : [UNMARKED, mouth];
    if (stop.kind === "end" || stop.kind === "severed") this.#end(stop, ends);
    else if (at.in.along_m !== null && at.out.along_m !== null) {
      const half = Math.abs(at.out.along_m - at.in.along_m) / 2;
      const middle = ((at.in.mark ?? 0) + (at.out.mark ?? 0)) / 2;
      const marks: [number, number] = toward === "in" ? [mouth.mark ?? 0, middle] : [middle, mouth.mark ?? 0];
      const error = this.#error("end", stop, say`where the strand is cut in`, half, say`half of what lies there`);
      this.#add("tail", stop, { length_m: half, marked: true, marks, ends, errors: [error] });
    } else this.#unmarked("tail", stop, 0.5, ends);
  }

  /** The end of a cable whose tip isn't marked. */
  #end(stop: SheathStop, ends: Piece["ends"]): void {
    if (stop.slack_m !== null) {
      const bound = stop.slack_m * this.#values.number("locate.slack.ratio");
      const error = this.#error(
        "end",
        stop,
        say`slack of ${this.#row.tag} up to its end at`,
        bound,
        this.#values.source("locate.slack.ratio"),
      );
      this.#add("tail", stop, { length_m: stop.slack_m, ends, errors: [error] });
      return;
    }
    const usual = this.#values.tail();
    this.#lacks.add(
      say`${this.#row.tag}: no slack or mark says how much cable lies from the mouth to its end at ${stop.place}; ${usual.value} m are taken`,
    );
    this.#add("tail", stop, {
      length_m: usual.value,
      ends,
      errors: [this.#error("end", stop, say`${this.#row.tag} up to its end at`, usual.bound, usual.source, "usual")],
    });
  }

  #unmarked(kind: "coil" | "tail", stop: SheathStop, share: number, ends: Piece["ends"]): void {
    const slack = this.#known(
      stop.slack_m ?? (stop.storage === "none" ? 0 : null),
      stop,
      "slack",
      this.#values.slack(),
    );
    const crossing = this.#known(stop.crossing_m, stop, "crossing", this.#values.crossing());
    this.#add(kind, stop, {
      length_m: (slack.value + crossing.value) * share,
      marks: kind === "coil" ? printedAt(...ends) : null,
      ends,
      errors: [
        this.#error("slack", stop, say`slack at`, slack.bound * share, slack.source, slack.basis),
        this.#error("slack", stop, say`crossing at`, crossing.bound * share, crossing.source, crossing.basis),
      ],
    });
  }

  #known(value: number | null, stop: SheathStop, what: string, usual: Found) {
    if (value !== null) {
      const bound = value * this.#values.number("locate.slack.ratio");
      return { value, bound, source: this.#values.source("locate.slack.ratio"), basis: "on_record" as const };
    }
    this.#lacks.add(say`${this.#row.tag}: the ${what} at ${stop.place} is not on record; ${usual.value} m are taken`);
    return { value: usual.value, bound: usual.bound, source: usual.source, basis: "usual" as const };
  }

  #error(
    kind: PieceError["kind"],
    stop: SheathStop,
    words: string,
    bound: number,
    source: string,
    basis: PieceError["basis"] = "on_record",
  ): PieceError {
    return {
      kind,
      key: `${words} ${stop.id}`,
      words: `${words} ${stop.place}`,
      bound,
      basis,
      source,
      pathway: null,
    };
  }
}

const printedAt = (from: At, to: At): [number, number] | null =>
  from.mark === null || to.mark === null ? null : [from.mark, to.mark];

const otherUnit = (ratio: number): boolean => OTHER_UNIT.some((unit) => Math.abs(ratio / unit - 1) < NEAR);

/** The same pieces walked from the other end. */
export const piecesBack = (pieces: readonly Piece[]): Piece[] =>
  pieces.toReversed().map((piece) => ({
    ...piece,
    stop: piece.next ?? piece.stop,
    next: piece.next ? piece.stop : null,
    marks: piece.marks && [piece.marks[1], piece.marks[0]],
    ends: [piece.ends[1], piece.ends[0]],
  }));
