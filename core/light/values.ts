/** Values for parts that nobody measured: typical ones or limits, each with its source. */
import { EDITIONS, type Edition, familyOf, strangerTo } from "../standards/limits/acceptance.ts";
import type { LimitInUse, Limits } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import { classWords, coreOf, type FibreClass, listedWavelength, type Mode, modeOf } from "./classes.ts";
import type { Glass, PortFacts, SpliceLoss } from "./facts.ts";
import { modeFieldLoss } from "./mode-field.ts";
import { type Figure, figureOf } from "./terms.ts";

export type Worst = "typical" | "limit";

/** How many test cords set the reference: one leaves both end joints in the reading, two the near one, three none. */
export type ReferenceMethod = "one_cord" | "two_cords" | "three_cords";

export interface Terms {
  readonly wavelength_nm: number;
  readonly worst: Worst;
  readonly edition: Edition;
  /** Whether it is for an acceptance limit, where a value of another edition is named as such. */
  readonly by_formula?: boolean;
}

/** A figure, or why there is none. */
type Found = Figure | string;

export class Values {
  readonly #limits: Limits;
  readonly #terms: Terms;

  constructor(limits: Limits, terms: Terms) {
    this.#limits = limits;
    this.#terms = terms;
  }

  /** Typical where it is wanted and there is one, else the limit, which the basis then says. */
  #either(typical: readonly string[], limit: readonly string[], missing: string): Found {
    const usual = this.#terms.worst === "typical" ? this.#limits.first(...typical) : undefined;
    return usual ? figureOf(usual, "typical", missing) : this.#limit(this.#limits.first(...limit), missing);
  }

  #limit(limit: LimitInUse | undefined, missing: string): Found {
    const figure = figureOf(limit, "limit", missing);
    const { edition, by_formula } = this.#terms;
    const strange = by_formula && limit ? strangerTo(edition, limit) : null;
    return typeof figure === "string" || strange === null
      ? figure
      : { ...figure, source: `${figure.source}; ${strange}` };
  }

  /** Decibels a kilometre of cabled glass. */
  attenuation(fibre: FibreClass, environment: Glass["environment"]): Found {
    const { wavelength_nm, edition } = this.#terms;
    const mode = modeOf(fibre);
    const nm = listedWavelength(wavelength_nm, mode);
    const own = `acceptance.${edition}.attenuation.${mode}.${nm}`;
    const family = familyOf(edition);
    const tag = `attenuation.${fibre}.${nm}`;
    const places = family && environment ? [`${tag}.${family}.${environment}`] : [];
    const found = this.#either(
      [`attenuation.typical.${fibre}.${nm}`],
      [own, ...places, ...(family ? [`${tag}.${family}`] : []), tag, `${tag}.iso`],
      say`no attenuation of ${classWords(fibre)} at ${wavelength_nm} nm is on record`,
    );
    // A joint may lose next to nothing; glass without loss is a slip, and would let anything through.
    return typeof found !== "string" && found.value === 0
      ? say`the limit ${found.tag} is 0, and no glass is without loss`
      : found;
  }

  /** The least attenuation to reckon with, in decibels a kilometre; 0 where none is on record. */
  leastAttenuation(fibre: FibreClass): number {
    const nm = listedWavelength(this.#terms.wavelength_nm, modeOf(fibre));
    const least = this.#limits.first(`attenuation.least.${fibre}.${nm}`, `attenuation.least.${modeOf(fibre)}.${nm}`);
    const usual = this.#limits.get(`attenuation.typical.${fibre}.${nm}`);
    // What is usual may well be undercut: it is no least, and only says where a least is too much.
    return Math.max(0, Math.min(least?.value ?? 0, usual?.value ?? Number.POSITIVE_INFINITY));
  }

  pair(mode: Mode | null, connector: PortFacts["connector"]): Found {
    const own = `acceptance.${this.#terms.edition}.pair`;
    const array = connector === "mpo" ? ["pair.typical.array"] : [];
    const typical = [...array, ...(mode ? [`pair.typical.${mode}`] : []), "pair.typical"];
    return this.#either(
      // Arrays lose more than others: the general value would be too low for them.
      array.length > 0 ? array : typical,
      [own, ...(array.length > 0 ? ["pair.limit.array"] : []), ...(mode ? [`pair.limit.${mode}`] : []), "pair.limit"],
      say`no loss of a mated pair is on record`,
    );
  }

  /** An end joint of a link with a test cord. */
  endPair(mode: Mode | null, connector: PortFacts["connector"]): Found {
    if (this.#terms.worst === "typical") return this.pair(mode, connector);
    const { edition } = this.#terms;
    // A mode that nobody recorded may be either: the greater value is safe.
    const tag = (of: Mode) => this.#limits.get(`acceptance.${edition}.end.${of}`);
    const [multimode, single] = [tag("multimode"), tag("single_mode")];
    const greater = (single?.value ?? 0) >= (multimode?.value ?? 0) ? single : multimode;
    const limit = mode === null ? greater : mode === "multimode" ? multimode : single;
    return this.#limit(limit, say`${EDITIONS[edition]} has no end joint on record`);
  }

  splice(mode: Mode | null, method: SpliceLoss["method"] | "mechanical" | null): Found {
    const typical = method === "mechanical" ? ["splice.typical.mechanical"] : mode ? [`splice.typical.${mode}`] : [];
    const own = `acceptance.${this.#terms.edition}.splice`;
    // A list that has mechanical splices only says nothing of fused ones.
    const limit = [
      ...(method === "mechanical" ? [`${own}.mechanical`] : []),
      own,
      ...(method ? [`splice.limit.${method}`] : []),
      "splice.limit",
    ];
    return this.#either(typical, limit, say`no loss of a splice is on record`);
  }

  furcation = (): Found =>
    this.#either(["furcation.typical"], ["furcation.limit"], say`no loss of a furcation kit is on record`);

  /** A splitter with some ways, or the next more that is listed. */
  splitter(ways: number): Found {
    const [next] = this.#limits
      .under("splitter.")
      .flatMap((limit) => (Number(limit.tag.slice("splitter.".length)) >= ways ? limit : []))
      .sort((a, b) => Number(a.tag.slice(9)) - Number(b.tag.slice(9)));
    return figureOf(next, "limit", say`no loss of a splitter 1:${ways} is on record`);
  }

  /** Glass over sheath, less one, where the cable's own is not on record. */
  excess = (): Found =>
    this.#either(["excess.typical"], ["excess.limit"], say`the excess of its glass is not on record`);

  /** Light that goes from one core into another; null where that costs nothing to speak of. */
  coreMismatch(from: FibreClass, to: FibreClass): Found | null {
    const [wide, narrow] = [coreOf(from), coreOf(to)];
    if (wide === narrow || wide === "single_mode" || (wide === "50" && narrow === "62_5")) return null;
    const pair = narrow === "single_mode" ? "multimode.single_mode" : `${wide}.${narrow}`;
    return this.#either(
      [`mismatch.${pair}.typical`],
      [`mismatch.${pair}.limit`],
      say`no loss from ${classWords(from)} into ${classWords(to)} is on record`,
    );
  }

  /** Single-mode classes of unlike mode fields; null where they agree or no diameter is on record. */
  modeField(from: FibreClass, to: FibreClass): Figure | null {
    if (from === to || modeOf(from) !== "single_mode" || modeOf(to) !== "single_mode") return null;
    const [one, other] = [from, to].map((fibre) => this.#limits.get(`mode_field.${fibre}.1310`));
    if (!one || !other || !(one.value > 0) || !(other.value > 0) || one.value === other.value) return null;
    const sources = `${one.value} µm: ${one.source}; ${other.value} µm: ${other.source}`;
    return {
      value: modeFieldLoss(one.value, other.value),
      basis: "typical",
      source: `worked out from mode field diameters (${sources})`,
      rests_on: [one, other].flatMap(({ record }) => record ?? []),
    };
  }

  least = (tag: "pair.least" | "splice.least"): number => Math.max(0, this.#limits.get(tag)?.value ?? 0);
}
