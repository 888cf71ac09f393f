/** The terms of one line, hop by hop in the direction of the light: glass, joints, modules. Pure: facts and limits in. */
import { bandsShare } from "../model/bands.ts";
import type { Hop, RecordRef } from "../trace/answer.ts";
import { EXCESS_LACKING } from "../trace/hops.ts";
import { toMillimetre } from "../trace/totals.ts";
import { say } from "../words/say.ts";
import { classWords, type FibreClass, type Mode, modeOf } from "./classes.ts";
import type { JoinLoss, LandingLoss, LightFacts, SpliceLoss } from "./facts.ts";
import { joinLoss, landingLoss, type OnRecord, spliceLoss } from "./joints.ts";
import { endsOf, type PairAt, pairAt, type Span } from "./mated-pairs.ts";
import { spokenMetres } from "./spoken.ts";
import { type Figure, type LossTerm, type TermKind, toDecibel } from "./terms.ts";
import type { ReferenceMethod, Terms, Values } from "./values.ts";

export interface Asked extends Terms {
  readonly as: "link" | "channel";
  readonly reference_method: ReferenceMethod;
  /** Whether losses on record are left out, as an acceptance limit wants it. */
  readonly by_formula: boolean;
}

export interface Reckoned {
  readonly terms: readonly LossTerm[];
  /** Classes of the glass on the way, known ones. */
  readonly classes: readonly FibreClass[];
  /** Whether the class of some glass is not on record. */
  readonly classless: boolean;
  /** Metres of glass, cords included; what is known of it. */
  readonly length_m: number | null;
  readonly length_complete: boolean;
  /** Whether glass ends on the back of a port in front of which no cord is on record, so that more is to come. */
  readonly ends_bare: boolean;
  /** What was taken for granted, in words. */
  readonly assumptions: readonly string[];
  readonly span: Span;
}

interface Length {
  readonly metres: number | null;
  readonly lacks: string | null;
  /** How the length was come by, for the source; empty where it is on record. */
  readonly how: string;
}

interface Made {
  readonly kind: TermKind;
  readonly words: string;
  readonly value: Figure | string;
  readonly least: number;
  readonly record: RecordRef;
  readonly lacks?: string | null;
  readonly glass?: NonNullable<LossTerm["glass"]>;
}

/** @param hops in the direction of the light. */
export function reckon(hops: readonly Hop[], facts: LightFacts, values: Values, asked: Asked): Reckoned {
  return new Reckoner(hops, facts, values, asked).all();
}

class Reckoner {
  readonly #hops: readonly Hop[];
  readonly #facts: LightFacts;
  readonly #values: Values;
  readonly #asked: Asked;
  readonly #span: Span;
  readonly #terms: LossTerm[] = [];
  readonly #assumptions: string[] = [];
  readonly #classes = new Set<FibreClass>();
  #last: FibreClass | null = null;
  /** The class ahead for which unlike glass was told already: glass of unknown class may lie between the two. */
  #toldAhead: FibreClass | null = null;
  #classless = false;
  #length_m: number | null = null;
  #complete = true;
  #bare = false;
  #hop = 0;

  constructor(hops: readonly Hop[], facts: LightFacts, values: Values, asked: Asked) {
    this.#hops = hops;
    this.#facts = facts;
    this.#values = values;
    this.#asked = asked;
    this.#span = endsOf(hops, asked.as);
  }

  all(): Reckoned {
    for (this.#hop = this.#span.first; this.#hop <= this.#span.last; this.#hop += 1) {
      const hop = this.#hops[this.#hop] as Hop;
      if (hop.kind === "strand") this.#strand(hop);
      else if (hop.kind === "cord" || hop.kind === "assumed") this.#cord(hop);
      else if (hop.kind === "splice") this.#splice(hop);
      else if (hop.kind === "join") this.#join(hop);
      else if (hop.kind === "port") this.#port(hop);
    }
    return {
      terms: this.#terms,
      classes: [...this.#classes],
      classless: this.#classless,
      length_m: this.#length_m === null ? null : toMillimetre(this.#length_m),
      length_complete: this.#complete && this.#length_m !== null,
      ends_bare: this.#bare,
      assumptions: this.#assumptions,
      span: this.#span,
    };
  }

  #add({ kind, words, value, least, record, lacks = null, glass }: Made): void {
    const found = typeof value === "string" ? null : value;
    const loss_db = found && toDecibel(found.value);
    this.#terms.push({
      kind,
      words,
      loss_db,
      least_db: loss_db === null ? 0 : toDecibel(Math.min(least, loss_db)),
      basis: found?.basis ?? "unknown",
      source: found?.source ?? say`not on record`,
      record,
      rests_on: found?.rests_on ?? [],
      hop: this.#hop,
      at_m: this.#complete ? toMillimetre(this.#length_m ?? 0) : null,
      lacks: typeof value === "string" ? value : lacks,
      ...(glass && { glass }),
      replaces: [],
    });
  }

  /** What is on record, else the value for such a part. */
  #orElse(on: OnRecord, value: Figure | string): Figure | string {
    if (this.#asked.by_formula) return value;
    if (on.value !== null) return { value: on.value, basis: on.basis, source: on.source, rests_on: [] };
    if (on.note === null || typeof value === "string") return value;
    return { ...value, source: `${value.source}; ${on.note}` };
  }

  #measuredOr = (value: Figure | string, least: number): number =>
    typeof value !== "string" && value.basis === "measured" ? value.value : least;

  /** The class of glass at a joint: behind it in the direction of the light, else ahead. */
  #classHere(): FibreClass | null {
    return this.#last ?? this.#classAhead();
  }
  #classAhead(): FibreClass | null {
    for (const hop of this.#hops.slice(this.#hop)) {
      const fibre = this.#classOf(hop);
      if (fibre !== null) return fibre;
    }
    return null;
  }
  #classOf = ({ kind, record }: Hop): FibreClass | null =>
    kind === "strand"
      ? (this.#facts.glass.get(record.id)?.fibre ?? null)
      : kind === "cord"
        ? (this.#facts.cords.get(record.id)?.fibre_class ?? null)
        : null;
  #mode(): Mode | null {
    const fibre = this.#classHere();
    return fibre && modeOf(fibre);
  }

  #glass(hop: Hop, kind: "glass" | "cord", words: string, fibre: FibreClass | null, { metres, lacks, how }: Length) {
    if (metres !== null) this.#length_m = (this.#length_m ?? 0) + metres;
    if (metres === null || lacks !== null) this.#complete = false;
    const per_km = fibre === null ? say`the class of its fibre is not on record` : this.#attenuation(hop, fibre);
    const km = (metres ?? 0) / 1000;
    const value: Figure | string =
      metres === null
        ? (lacks ?? say`its length is not on record`)
        : typeof per_km === "string"
          ? per_km
          : { ...per_km, value: km * per_km.value, source: `${per_km.value} dB/km: ${per_km.source}${how}` };
    const least = fibre === null ? 0 : km * this.#values.leastAttenuation(fibre);
    const db_per_km = typeof per_km === "string" ? null : per_km.value;
    const glass = { length_m: metres, db_per_km };
    this.#add({ kind, words, value, least, record: hop.record, lacks, glass });
    if (fibre !== null) this.#classes.add(fibre);
    else this.#classless = true;
    if (fibre !== null && fibre !== this.#last) this.#toldAhead = null;
    this.#last = fibre ?? this.#last;
  }

  #attenuation(hop: Hop, fibre: FibreClass): Figure | string {
    const environment = hop.kind === "strand" ? (this.#facts.glass.get(hop.record.id)?.environment ?? null) : null;
    return this.#values.attenuation(fibre, environment);
  }

  #strand(hop: Hop): void {
    const fibre = this.#classOf(hop);
    this.#mismatch(fibre, hop.record, null);
    const own = this.#glassLength(hop);
    const planned = hop.length_from === "planned" ? say`; its length is as planned, for its marks are not read` : "";
    const length = { ...own, how: `${own.how}${planned}` };
    const words = [
      say`glass ${hop.record.tag}`,
      length.metres === null ? say`of unknown length` : `${spokenMetres(length.metres)} m`,
      fibre && say`of ${classWords(fibre)}`,
    ];
    this.#glass(hop, "glass", words.filter(Boolean).join(" "), fibre, length);
  }

  /** Glass of a strand; where its excess is not on record, by the excess such cables have. */
  #glassLength({ glass_m, length_m, lacks }: Hop): Length {
    // Marks that go backwards make lengths that no glass has.
    if ((glass_m ?? length_m ?? 0) < 0)
      return { metres: null, lacks: say`its length on record is below zero`, how: "" };
    if (glass_m !== null || length_m === null) return { metres: glass_m, lacks, how: "" };
    const excess = this.#values.excess();
    if (typeof excess === "string") return { metres: null, lacks: lacks ?? excess, how: "" };
    const others = (lacks?.split("; ") ?? []).filter((one) => one !== EXCESS_LACKING);
    return {
      metres: length_m * (1 + excess.value),
      lacks: others.length > 0 ? others.join("; ") : null,
      how: say`; glass taken as ${toDecibel(excess.value * 100)} % longer than its sheath: ${excess.source}`,
    };
  }

  #cord(hop: Hop): void {
    const own = this.#classOf(hop);
    const fibre = own ?? this.#classHere();
    this.#mismatch(own, hop.record, null);
    const how =
      own === null && fibre !== null ? say`; the cord's class is not on record, taken as its neighbour's` : "";
    const name = hop.kind === "assumed" ? say`cord assumed for ${hop.record.tag}` : hop.record.tag;
    this.#glass(hop, "cord", name, fibre, { metres: hop.glass_m, lacks: hop.lacks, how });
  }

  /** Losses of glass of unlike kind, told at what joins it. `joint` is a splice, whose own readings hold them. */
  #mismatch(next: FibreClass | null, record: RecordRef, joint: SpliceLoss | null): void {
    const last = this.#last;
    if (last === null || next === null || last === next || joint !== null) return;
    if (this.#spliceBefore()) return;
    this.#unlike(last, next, record);
  }

  #spliceBefore = (): boolean => this.#hops[this.#hop - 1]?.kind === "splice" && this.#hop > this.#span.first;

  #unlike(last: FibreClass, next: FibreClass, record: RecordRef): void {
    // Glass, connectors and splices are all that the formula has.
    if (this.#asked.by_formula || this.#toldAhead === next) return;
    const core = this.#values.coreMismatch(last, next);
    if (core !== null) {
      this.#toldAhead = next;
      const words = say`from ${classWords(last)} into ${classWords(next)}`;
      this.#add({ kind: "core_mismatch", words, value: core, least: 0, record });
    }
  }

  #splice(hop: Hop): void {
    const splice = this.#facts.splices.get(hop.record.id);
    const next = this.#classAhead();
    const last = this.#last;
    const core = last && next ? this.#values.coreMismatch(last, next) : null;
    const backwards = last && next ? this.#values.coreMismatch(next, last) : null;
    const way = splice && (core !== null || backwards !== null) ? (this.#wayThrough(splice) ?? "unknown") : null;
    const mode = this.#mode();
    const on = splice ? spliceLoss(splice, way) : null;
    const published = this.#values.splice(mode, splice?.method ?? null);
    const value = on ? this.#orElse(on, published) : published;
    const least = this.#measuredOr(value, this.#values.least("splice.least"));
    this.#add({ kind: "splice", words: hop.record.tag, value, least, record: hop.record });
    // Only what was read of this very joint, the way light goes or both ways, holds what unlike glass loses there.
    if (!last || !next || (on?.holds_cores && !this.#asked.by_formula)) return;
    this.#unlike(last, next, hop.record);
    const field = this.#asked.by_formula ? null : this.#values.modeField(last, next);
    if (field) {
      const words = say`unlike mode fields of ${classWords(last)} and ${classWords(next)}`;
      this.#add({ kind: "mode_field", words, value: field, least: 0, record: hop.record });
    }
  }

  /** The way light goes through a splice, from the glass before it. */
  #wayThrough(splice: SpliceLoss): "ab" | "ba" | null {
    const before = this.#hops[this.#hop - 1]?.record.id;
    const after = this.#hops[this.#hop + 1]?.record.id;
    if (before === splice.a_section_id || after === splice.b_section_id) return "ab";
    return before === splice.b_section_id || after === splice.a_section_id ? "ba" : null;
  }

  #join(hop: Hop): void {
    const join = this.#facts.joins.get(hop.record.id);
    const value = join ? this.#joinValue(join) : say`it is not on record`;
    // Split evenly, each of n outputs has 10 log10(n) less.
    const ideal = join?.kind === "splitter" && join.ways > 1 ? 10 * Math.log10(join.ways) : 0;
    const stated = typeof value !== "string" && value.basis !== "limit" ? value.value : ideal;
    this.#add({ kind: "module", words: `${hop.record.tag} ${hop.how}`, value, least: stated, record: hop.record });
  }

  #joinValue(join: JoinLoss): Figure | string {
    const nm = this.#asked.wavelength_nm;
    // A band that only touches the wavelength passes it: a hair to each side says so.
    if (join.band !== null && !bandsShare(join.band, `${nm - 0.5}-${nm + 0.5}`) && !bandsShare(join.band, String(nm))) {
      return say`it passes ${join.band} nm, and not ${nm} nm`;
    }
    const on = joinLoss(join);
    if (on.value !== null) return { value: on.value, basis: on.basis, source: on.source, rests_on: [] };
    if (join.kind === "splitter") return this.#values.splitter(Math.max(2, join.ways));
    return "the loss of this join is not on record";
  }

  #port(hop: Hop): void {
    const landing = hop.also.flatMap(({ kind, id }) =>
      kind === "termination" ? (this.#facts.landings.get(id) ?? []) : [],
    )[0];
    const pair = pairAt(this.#hops, this.#hop, this.#span, this.#asked);
    const back = this.#hops[this.#hop - 1]?.kind === "strand" && this.#hop > this.#span.first;
    // In the order of the light: from glass, first what is behind the port.
    if (back) this.#behind(hop, landing);
    this.#pair(hop, landing, pair);
    if (!back) this.#behind(hop, landing);
  }

  /** The splice behind a port, where it is terminated by one. */
  #behind(hop: Hop, landing: LandingLoss | undefined): void {
    if (!landing) return;
    const { method } = landing;
    const add = (kind: TermKind, words: string, value: Figure | string, least: number) =>
      this.#add({
        kind,
        words: say`${words} at ${hop.record.tag}`,
        value,
        least,
        record: this.#landingRef(hop, landing),
      });
    if (method === "pigtail" || method === "splice_on" || method === "pre_polished") {
      const mechanical = method === "pre_polished";
      const value = this.#orElse(
        landingLoss(landing),
        this.#values.splice(this.#mode(), mechanical ? "mechanical" : "fusion"),
      );
      const least = this.#measuredOr(value, this.#values.least("splice.least"));
      if (method === "pigtail") add("pigtail_splice", say`splice of the pigtail`, value, least);
      else
        add(
          "connector_splice",
          mechanical ? say`splice in the pre-polished connector` : say`splice in the splice-on connector`,
          value,
          least,
        );
    } else if (method === "furcation") {
      add("furcation", say`furcation kit`, this.#values.furcation(), 0);
    } else if (method === null) {
      this.#assumptions.push(
        say`How ${hop.record.tag} is terminated is not on record: one pair is counted, no splice.`,
      );
    }
  }

  #landingRef = (hop: Hop, { id }: LandingLoss): RecordRef =>
    hop.also.find((ref) => ref.kind === "termination" && ref.id === id) ?? hop.record;

  #pair(hop: Hop, landing: LandingLoss | undefined, pair: PairAt): void {
    if (pair === "none") return;
    const connector = this.#facts.ports.get(hop.record.id)?.connector ?? null;
    const mode = this.#mode();
    const end = pair === "end";
    const published = end ? this.#values.endPair(mode, connector) : this.#values.pair(mode, connector);
    const spliced = landing && ["pigtail", "splice_on", "pre_polished"].includes(landing.method ?? "");
    const value = landing && !spliced ? this.#orElse(landingLoss(landing), published) : published;
    const least = this.#measuredOr(value, this.#values.least("pair.least"));
    const words = end ? say`end joint at ${hop.record.tag}` : say`mated pair at ${hop.record.tag}`;
    this.#add({ kind: end ? "end_pair" : "pair", words, value, least, record: hop.record });
    if (pair === "to_come") {
      this.#bare = true;
      this.#assumptions.push(
        say`No cord is on record in front of ${hop.record.tag}: its pair is counted, its glass isn't.`,
      );
    }
  }
}
