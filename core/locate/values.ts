/** Group index, excess and lengths outside the sheath: what is on record, else the usual value, each with its bound and source. */
import { type Core, coreOf, type FibreClass, modeOf } from "../light/classes.ts";
import { type Limits, limitSource } from "../standards/limits/in-use.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { Basis } from "./answer.ts";
import type { CableRow } from "./facts.ts";

/** A value and how far it may be off to both sides. */
export interface Found {
  readonly value: number;
  readonly bound: number;
  readonly basis: Basis;
  readonly source: string;
  readonly record: RecordRef | null;
}

const WAVELENGTHS = { multimode: 850, single_mode: 1550 } as const;

function kept<T>(among: Map<string, T>, key: string, make: () => T): T {
  let one = among.get(key);
  if (one === undefined) {
    one = make();
    among.set(key, one);
  }
  return one;
}

export class Values {
  readonly #limits: Limits;
  /** Each is asked for at every part of a line. */
  readonly #sources = new Map<string, string>();
  readonly #usual = new Map<string, Found>();
  readonly #listed = new Map<string, string>();

  constructor(limits: Limits) {
    this.#limits = limits;
  }

  /** A limit's value, never below zero; 0 where there is none. */
  number(tag: string): number {
    return Math.max(0, this.#limits.get(tag)?.value ?? 0);
  }

  source(tag: string): string {
    return kept(this.#sources, tag, () => {
      const limit = this.#limits.get(tag);
      return limit ? limitSource(limit) : say`no limit ${tag} is on record`;
    });
  }

  #found(tag: string, error: string): Found {
    return kept(this.#usual, `${tag} ${error}`, () => {
      const record = this.#limits.get(tag)?.record ?? null;
      const [own, off] = [this.source(tag), this.source(error)];
      const source = own === off ? own : say`${own}; off by up to: ${off}`;
      return { value: this.number(tag), bound: this.number(error), basis: "usual", source, record };
    });
  }

  /** The wavelength read at where nobody says. */
  usualWavelength = (fibre: FibreClass | null): number => WAVELENGTHS[fibre ? modeOf(fibre) : "single_mode"];

  /** Group index of glass; the bound is a part of it. */
  index(fibre: FibreClass | null, nm: number, cable: CableRow | undefined): Found {
    const own = cable?.index[nm];
    if (own) {
      const error = this.source("index.error.own");
      const source = say`the data sheet of ${cable.tag}, ${nm} nm; off by up to: ${error}`;
      return { value: own, bound: this.number("index.error.own"), basis: "on_record", source, record: cable.ref };
    }
    const core: Core = fibre ? coreOf(fibre) : "single_mode";
    const found = this.#found(this.#nearest(core, nm), "index.error.class");
    return { ...found, value: Math.max(1, found.value) };
  }

  /** The listed index nearest to a wavelength. */
  #nearest(core: Core, nm: number): string {
    return kept(this.#listed, `${core} ${nm}`, () => {
      const off = (tag: string): number => Math.abs(Number(tag.split(".").at(-1)) - nm);
      const under = this.#limits.under(`index.${core}.`).map(({ tag }) => tag);
      const listed = under.filter((tag) => Number.isFinite(off(tag)));
      return listed.toSorted((a, b) => off(a) - off(b))[0] ?? `index.${core}.${nm}`;
    });
  }

  /** What is odd about the index an instrument was set to; null where glass has such a one, or no limit says. */
  oddIndex(index: number): string | null {
    const [least, most] = [this.#limits.get("index.set.least"), this.#limits.get("index.set.most")];
    if ((!least || index >= least.value) && (!most || index <= most.value)) return null;
    const from = least?.value ?? 1;
    return most
      ? say`Index ${index} is outside what glass has, ${from} to ${most.value}: look whether it is typed as the instrument shows it.`
      : say`Index ${index} is below what glass has, ${from}: look whether it is typed as the instrument shows it.`;
  }

  /** How far an instrument's index may be off that nobody wrote down, as a part of it. */
  indexNotGiven(fibre: FibreClass | null): { readonly bound: number; readonly source: string } {
    const tag = `index.error.not_given.${fibre ? modeOf(fibre) : "single_mode"}`;
    return { bound: this.number(tag), source: this.source(tag) };
  }

  /** Glass over sheath, less one. */
  excess(cable: CableRow | undefined): Found {
    if (cable?.excess_ratio != null) {
      const error = this.source("excess.error.own");
      const source = say`the data sheet of ${cable.tag}; off by up to: ${error}`;
      const bound = this.number("excess.error.own");
      return { value: cable.excess_ratio, bound, basis: "on_record", source, record: cable.ref };
    }
    const loose = cable?.construction === "loose_tube";
    return loose
      ? this.#found("excess.typical", "excess.error.loose")
      : this.#found("excess.unknown", "excess.error.unknown");
  }

  stub = (): Found => this.#found("locate.stub_m", "locate.stub.error_m");
  pigtail = (): Found => this.#found("locate.pigtail_m", "locate.pigtail.error_m");
  module = (): Found => this.#found("locate.module_m", "locate.module_m");
  tail = (): Found => this.#found("locate.end_m", "locate.end_m");
  slack = (): Found => this.#found("locate.slack.unknown_m", "locate.slack.unknown_m");
  crossing = (): Found => this.#found("locate.crossing.unknown_m", "locate.crossing.unknown_m");

  /** A cord's glass; of one whose length nobody recorded the usual one. */
  cord(length_m: number | null, record: RecordRef): Found {
    if (length_m === null) return this.#found("locate.cord.unknown_m", "locate.cord.unknown_m");
    const source = say`the cord's record; off by up to: ${this.source("locate.cord.error_m")}`;
    const bound = Math.min(length_m, this.number("locate.cord.error_m"));
    return { value: length_m, bound, basis: "on_record", source, record };
  }

  /**
   * How far an instrument may be off at a distance, in its own metres: a part of the distance, a fixed part and half its
   * sample spacing.
   */
  instrument(distance_m: number, spacing_m: number | undefined): Found {
    const spacing = spacing_m ?? this.number("locate.instrument.spacing_m");
    const [ratio, fixed] = [this.number("locate.instrument.ratio"), this.number("locate.instrument.fixed_m")];
    const told = spacing_m === undefined ? say`; spacing: ${this.source("locate.instrument.spacing_m")}` : "";
    return {
      value: distance_m,
      bound: Math.abs(distance_m) * ratio + fixed + spacing / 2,
      basis: spacing_m === undefined ? "usual" : "given",
      source: `${this.source("locate.instrument.fixed_m")}${told}`,
      record: null,
    };
  }
}
