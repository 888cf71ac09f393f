/** One line with its facts, asked for its loss again and again: each way, at each wavelength, at worst or as usual. */
import type { Limits } from "../standards/limits/in-use.ts";
import type { Hop } from "../trace/answer.ts";
import type { Direction } from "./answer.ts";
import { coreOf } from "./classes.ts";
import type { LightFacts } from "./facts.ts";
import { withReadings } from "./measured.ts";
import { type Asked, type Reckoned, reckon } from "./reckon.ts";
import { type LossTerm, type Sum, sumOf } from "./terms.ts";
import { Values } from "./values.ts";

export interface AskedWay extends Asked {
  readonly direction: Direction;
}

export interface Loss extends Reckoned {
  readonly sum: Sum;
  readonly doubts: readonly string[];
}

export class LightLine {
  readonly hops: readonly Hop[];
  readonly facts: LightFacts;
  readonly limits: Limits;
  readonly #backwards: readonly Hop[];
  readonly #done = new Map<string, Loss>();

  constructor(hops: readonly Hop[], facts: LightFacts, limits: Limits) {
    this.hops = hops;
    this.facts = facts;
    this.limits = limits;
    this.#backwards = hops.toReversed();
  }

  /** The hops in the order in which light passes them. */
  along = (direction: Direction): readonly Hop[] => (direction === "a_to_b" ? this.hops : this.#backwards);

  loss(asked: AskedWay): Loss {
    const key = JSON.stringify(asked);
    let done = this.#done.get(key);
    if (!done) {
      done = this.#loss(asked);
      this.#done.set(key, done);
    }
    return done;
  }

  /** The terms as they are reckoned, without readings of stretches in their place. */
  parts = (asked: AskedWay): readonly LossTerm[] =>
    reckon(this.along(asked.direction), this.facts, new Values(this.limits, asked), asked).terms;

  #loss(asked: AskedWay): Loss {
    const hops = this.along(asked.direction);
    const made = reckon(hops, this.facts, new Values(this.limits, asked), asked);
    const tolerance = this.limits.get("tolerance.loss_db")?.value ?? 0;
    const directed = new Set(made.classes.map(coreOf)).size > 1;
    const { terms, doubts } = asked.by_formula
      ? { terms: made.terms, doubts: [] }
      : withReadings(hops, made.terms, made.span, this.facts, asked.wavelength_nm, tolerance, directed);
    const last = hops.length - 1;
    const placed = asked.direction === "a_to_b" ? terms : terms.map((term) => ({ ...term, hop: last - term.hop }));
    return { ...made, terms: placed, sum: sumOf(terms), doubts };
  }
}
