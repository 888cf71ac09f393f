/** Lays a traced way out as parts with their travel: cords, pigtails, stubs, modules, and each strand's sheath piece by piece. */
import type { FibreClass } from "../light/classes.ts";
import { coreOf } from "../light/classes.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import type { SectionFacts } from "../trace/facts.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import { placeWords } from "../trace/places.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { betweenMarks } from "./between-marks.ts";
import type { CableRow } from "./facts.ts";
import { Layout, type Parameter, type Part, type Point, type Slope } from "./layout.ts";
import type { Piece } from "./piece.ts";
import { piecesBack, SheathPieces } from "./pieces.ts";
import type { Found, Values } from "./values.ts";

export interface Ground {
  readonly facts: LineFacts;
  readonly cables: ReadonlyMap<number, CableRow>;
  readonly values: Values;
  /** Whether light from the port goes through a strand from its A end. */
  readonly forward: (hops: readonly Hop[], at: number) => boolean;
}

/** @param hops from the port on; @param nm the wavelength read at */
export const layOut = (hops: readonly Hop[], ground: Ground, nm: number): Layout => new Builder(hops, ground, nm).all();

interface Glass {
  readonly cable: CableRow | undefined;
  readonly fibre: FibreClass | null;
}

class Builder {
  readonly #hops: readonly Hop[];
  readonly #ground: Ground;
  readonly #nm: number;
  readonly #parts: Part[] = [];
  readonly #points: Point[] = [];
  readonly #parameters = new Map<string, Parameter>();
  readonly #lacks = new Set<string>();
  readonly #doubts = new Set<string>();
  #steps: Slope[] = [];
  #x = 0;
  #travel = 0;

  constructor(hops: readonly Hop[], ground: Ground, nm: number) {
    this.#hops = hops;
    this.#ground = ground;
    this.#nm = nm;
  }

  all(): Layout {
    for (const [at, hop] of this.#hops.entries()) {
      if (hop.kind === "strand") this.#strand(hop, at);
      else if (hop.kind === "cord" || hop.kind === "assumed") this.#cord(hop, at);
      else if (hop.kind === "join") this.#module(hop, at);
      else if (hop.kind === "splice") this.#point("splice", hop, hop.record.tag);
      else this.#point("port", hop, `${hop.kind === "interface" ? "equipment" : "port"} ${hop.record.tag}`);
    }
    const said = { lacks: [...this.#lacks], doubts: [...this.#doubts] };
    return new Layout(this.#parts, this.#points, this.#parameters, this.#steps, said);
  }

  #point(kind: Point["kind"], hop: Hop, words: string): void {
    const place = hop.place?.space ?? null;
    this.#points.push({
      kind,
      record: hop.record,
      names: [hop.record.tag, ...hop.also.map(({ tag }) => tag), ...(place ? [place.tag] : [])],
      place,
      words,
      x: this.#x,
      part: this.#parts.length,
    });
  }

  #parameter(parameter: Parameter): string {
    const known = this.#parameters.get(parameter.key);
    // Of two parts that share one, the wider bound holds for both.
    if (!known || parameter.bound > known.bound) this.#parameters.set(parameter.key, parameter);
    return parameter.key;
  }

  #index({ cable, fibre }: Glass): Found & { readonly key: string } {
    const found = this.#ground.values.index(fibre, this.#nm, cable);
    const key = `index ${cable ? `cable ${cable.id}` : fibre ? coreOf(fibre) : "single_mode"}`;
    const words = say`group index ${found.value} of ${cable ? cable.tag : say`cords and pigtails`}`;
    this.#parameter({ ...found, kind: "index", key, words });
    return { ...found, key };
  }

  #push(part: Omit<Part, "x" | "before_m" | "steps" | "glass_m" | "travel_m"> & { readonly glass_m: number }): void {
    const travel_m = part.glass_m * part.index;
    const steps = this.#steps;
    this.#steps = [];
    this.#parts.push({ ...part, travel_m, steps, x: this.#x, before_m: this.#travel });
    this.#x += part.length_m ?? 0;
    this.#travel += travel_m;
  }

  /** Glass outside a sheath, of a length that may be off. */
  #loose(
    kind: Part["kind"] & Parameter["kind"],
    key: string,
    forward: boolean,
    length: Found,
    hop: Hop,
    glass: Glass,
    words: string,
    record: RecordRef,
  ): void {
    const index = this.#index(glass);
    this.#parameter({ ...length, kind, key, words, record: length.record ?? record });
    const travel_m = length.value * index.value;
    this.#push({
      kind,
      key,
      forward,
      words,
      record,
      cable: null,
      hop,
      piece: null,
      length_m: length.value,
      glass_m: length.value,
      index: index.value,
      slopes: [
        [index.key, travel_m],
        [key, index.value],
      ],
    });
  }

  #cord(hop: Hop, at: number): void {
    const length = this.#ground.values.cord(hop.length_m, hop.record);
    const words = hop.kind === "assumed" ? say`cord assumed for ${hop.record.tag}` : hop.record.tag;
    if (hop.length_m === null) this.#lacks.add(say`${words}: its length is not on record; ${length.value} m are taken`);
    const glass = { cable: undefined, fibre: this.#fibreNear(at) };
    const key = `${hop.record.kind} ${hop.record.id} ${[this.#idAt(at - 1), this.#idAt(at + 1)].sort().join(" ")}`;
    this.#loose("cord", key, this.#isForward(at), length, hop, glass, words, hop.record);
  }

  #module(hop: Hop, at: number): void {
    const [module = hop.record] = hop.also;
    this.#point("module", hop, say`${hop.how} at ${module.tag}`);
    const glass = { cable: undefined, fibre: this.#fibreNear(at) };
    const key = `join ${hop.record.id}`;
    const words = say`glass inside ${module.tag}`;
    this.#loose("module", key, this.#isForward(at), this.#ground.values.module(), hop, glass, words, module);
  }

  #idAt = (at: number): string => String(this.#hops[at]?.record.id ?? 0);
  /** One of its two directions, whichever end it is walked from. */
  #isForward = (at: number): boolean => Number(this.#idAt(at - 1)) <= Number(this.#idAt(at + 1));

  #section = (hop: Hop | undefined): SectionFacts | undefined =>
    hop?.kind === "strand" ? this.#ground.facts.sections.get(hop.record.id) : undefined;

  /** The class of the glass nearest to a hop. */
  #fibreNear(at: number): FibreClass | null {
    for (let off = 1; off < this.#hops.length; off += 1) {
      for (const hop of [this.#hops[at - off], this.#hops[at + off]]) {
        const section = this.#section(hop);
        const fibre = section && this.#ground.facts.cables.fibreClassOf(section);
        if (fibre) return fibre;
      }
    }
    return null;
  }

  #strand(hop: Hop, at: number): void {
    const section = this.#section(hop);
    if (!section) return;
    const { facts, cables, values, forward } = this.#ground;
    const row = cables.get(section.cable_id);
    const cable = facts.cables.byId.get(section.cable_id);
    if (!row || !cable) return;
    const glass: Glass = { cable: row, fibre: facts.cables.fibreClassOf(section) };
    const ahead = forward(this.#hops, at);
    const told = new SheathPieces(cable, row, values).between(section.a_stop_id, section.b_stop_id);
    for (const lack of told.lacks) this.#lacks.add(lack);
    for (const doubt of told.doubts) this.#doubts.add(doubt);
    this.#outside(hop, this.#hops[at - 1], false, section, glass);
    const walked = betweenMarks(ahead ? told.pieces : piecesBack(told.pieces), row, {
      scale: values.number("locate.marks.scale"),
      read_m: values.number("locate.marks.read_m"),
    });
    for (const doubt of walked.doubts) this.#doubts.add(doubt);
    this.#sheath(hop, walked.pieces, ahead, row, glass);
    this.#outside(hop, this.#hops[at + 1], true, section, glass);
  }

  #sheath(hop: Hop, pieces: readonly Piece[], forward: boolean, row: CableRow, glass: Glass): void {
    const index = this.#index(glass);
    const excess = this.#ground.values.excess(row);
    const excessKey = `excess cable ${row.id}`;
    const scaleKey = `scale cable ${row.id}`;
    const readM = this.#ground.values.number("locate.marks.read_m");
    const readSource = this.#ground.values.source("locate.marks.read_m");
    const percent = Math.round(excess.value * 10_000) / 100;
    this.#parameter({
      ...excess,
      kind: "excess",
      key: excessKey,
      words: say`excess of glass ${percent} % of ${row.tag}`,
    });
    const pace = (1 + excess.value) * index.value;
    /** A mark at an end of a run of marked pieces is read with an error of its own; those between cancel. */
    const markStep = (piece: Piece, at: 0 | 1): Slope => {
      const mark = piece.marks?.[at] ?? 0;
      const key = `mark ${mark} cable ${row.id} stop ${(at === 1 ? (piece.next ?? piece.stop) : piece.stop).id}`;
      this.#parameter({
        kind: "mark_reading",
        key,
        bound: readM,
        words: say`mark ${mark} of ${row.tag} as read`,
        basis: "usual",
        source: readSource,
        record: row.ref,
      });
      return [key, (at === 0 ? -1 : 1) * pace];
    };
    let run: Piece | null = null;
    for (const piece of pieces) {
      if (run && !piece.marked) {
        this.#steps.push(markStep(run, 1));
        run = null;
      }
      if (piece.marked) {
        if (!run) this.#steps.push(markStep(piece, 0));
        run = piece;
      }
      const length_m = piece.length_m ?? 0;
      const travel_m = length_m * pace;
      const slopes: Slope[] = [
        [index.key, travel_m],
        [excessKey, length_m * index.value],
      ];
      if (piece.marked) {
        this.#parameter({
          kind: "mark_scale",
          key: scaleKey,
          bound: this.#ground.values.number("locate.marks.scale"),
          words: say`scale of the marks of ${row.tag}`,
          basis: "usual",
          source: this.#ground.values.source("locate.marks.scale"),
          record: row.ref,
        });
        slopes.push([scaleKey, travel_m]);
      }
      for (const error of piece.errors) {
        const { pathway } = error;
        const record: RecordRef =
          pathway?.pathway_id != null
            ? { kind: "pathway", id: pathway.pathway_id, tag: pathway.pathway ?? "" }
            : { kind: "stop", id: piece.stop.id, tag: `${row.tag}@${piece.stop.ordinal}` };
        const key = this.#parameter({ ...error, key: `cable ${row.id} ${error.key}`, record });
        // In metres of the whole piece.
        slopes.push([key, pace]);
      }
      const ends = [piece.stop.id, piece.next?.id ?? piece.stop.id].sort((a, b) => a - b);
      this.#push({
        kind: piece.kind,
        key: `cable ${row.id} ${piece.kind} ${ends.join(" ")} ${piece.reckoned ? "" : [...(piece.marks ?? [])].sort((a, b) => a - b).join(" ")}`,
        forward,
        words: pieceWords(row, piece),
        record: hop.record,
        cable: row.ref,
        hop,
        piece,
        length_m: piece.length_m,
        glass_m: length_m * (1 + excess.value),
        index: index.value,
        slopes,
      });
    }
    if (run) this.#steps.push(markStep(run, 1));
  }

  /** Glass of a strand beyond its sheath: its stub in a splice's tray, or what leads up to a port. */
  #outside(hop: Hop, next: Hop | undefined, leaving: boolean, section: SectionFacts, glass: Glass): void {
    if (!next || (next.kind !== "splice" && next.kind !== "port" && next.kind !== "interface")) return;
    const { values, facts } = this.#ground;
    const stub = values.stub();
    if (next.kind === "splice") {
      const key = `stub ${section.id} splice ${next.record.id}`;
      const words = say`stub of ${hop.record.tag} in its tray ${placeWords(next.place)}`;
      this.#loose("stub", key, leaving, stub, hop, glass, words, next.record);
      return;
    }
    const landing = next.also.find(
      ({ kind, id }) => kind === "termination" && facts.terminations.get(id)?.section_id === section.id,
    );
    if (!landing) return;
    const method = facts.terminations.get(landing.id)?.method ?? null;
    const key = `stub ${section.id} termination ${landing.id}`;
    const pigtail = values.pigtail();
    const tail = say`${hop.record.tag} behind ${next.record.tag}`;
    if (method === null) {
      const half = pigtail.value / 2;
      const either: Found = {
        value: stub.value + half,
        bound: stub.bound + half + pigtail.bound,
        basis: "usual",
        source: say`with or without a pigtail, which is not on record; ${stub.source}; ${pigtail.source}`,
        record: null,
      };
      this.#lacks.add(say`how ${next.record.tag} is terminated is not on record, so a pigtail may or may not be there`);
      this.#loose("stub", key, leaving, either, hop, glass, say`glass of ${tail}`, next.record);
      return;
    }
    const own = () => this.#loose("stub", key, leaving, stub, hop, glass, say`stub of ${tail}`, next.record);
    if (method !== "pigtail") {
      own();
      return;
    }
    const of = { cable: undefined, fibre: glass.fibre };
    const more = () =>
      this.#loose("pigtail", `pigtail ${landing.id}`, leaving, pigtail, hop, of, say`pigtail of ${tail}`, next.record);
    const splice = () =>
      this.#points.push({
        kind: "splice",
        record: landing,
        names: [landing.tag],
        place: next.place?.space ?? null,
        words: say`splice of the pigtail behind ${next.record.tag}`,
        x: this.#x,
        part: this.#parts.length,
      });
    for (const step of leaving ? [own, splice, more] : [more, splice, own]) step();
  }
}

function pieceWords(row: CableRow, { kind, stop, next, legs }: Piece): string {
  const ways = legs.flatMap(({ pathway }) => pathway ?? []);
  switch (kind) {
    case "leg":
      return say`${row.tag} from ${stop.place} to ${next?.place}${ways.length > 0 ? say` in ${listed(ways)}` : ""}`;
    case "coil":
      return say`${row.tag} inside ${stop.place}`;
    case "window":
      return say`${row.tag} in the window of its opening at ${stop.place}`;
    case "tail":
      return say`${row.tag} inside ${stop.place}, up to where the strand ends`;
  }
}
