/** What an instrument read, by explicit conventions: its index, launch cord and front panel. Travel is one way, in vacuum. */

import { formatLength } from "../model/units.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import type { Parameter, Slope } from "./layout.ts";
import type { Found, Values } from "./values.ts";

/** The speed of light, in metres a microsecond. */
export const LIGHT_M_PER_US = 299.792458;

/** Distance on glass of an index for a round trip of some microseconds: c × t ÷ (2 × index). */
export const distanceOf = (time_us: number, index: number): number => (LIGHT_M_PER_US * time_us) / (2 * index);

/** Round-trip microseconds of one-way travel. */
export const roundTrip = (travel_m: number): number => (2 * travel_m) / LIGHT_M_PER_US;

export interface Shown {
  /** As the instrument shows it, at the index it was set to. */
  readonly distance_m?: number | undefined;
  /** Round trip. */
  readonly time_us?: number | undefined;
}

export interface Known extends Shown {
  /** A port, splice, closure, tray or place on the line, or `end`. */
  readonly at: string;
}

export interface ReadingInput extends Shown {
  /** The port the instrument looks into. */
  readonly from: string;
  /** Group index the instrument was set to. */
  readonly index?: number | undefined;
  readonly wavelength_nm?: number | undefined;
  /** Metres of a launch cord between instrument and port that the reading counts. */
  readonly launch_m?: number | undefined;
  /** Metres the instrument shows at its own front panel. */
  readonly front_panel_m?: number | undefined;
  /** Metres between samples. */
  readonly spacing_m?: number | undefined;
  /** Behind the port, or through what is plugged in front of it. */
  readonly side?: "back" | "front" | undefined;
  readonly known?: readonly Known[] | undefined;
}

/** Travel from the port to what was seen, and what may be off in it. */
export interface Travel {
  readonly travel_m: number;
  readonly slopes: readonly Slope[];
}

/** How a reading's numbers become travel; each convention is said. */
export class Instrument {
  readonly conventions: string[] = [];
  readonly parameters: Parameter[] = [];
  readonly #input: ReadingInput;
  readonly #values: Values;
  readonly #own: number;
  readonly #glass: Found;
  readonly #tag: string;
  readonly #common: Slope[] = [];

  /** @param glass group index of the glass at the port; @param number tells readings apart */
  constructor(
    input: ReadingInput,
    glass: Found,
    notGiven: { bound: number; source: string },
    values: Values,
    number: number,
  ) {
    this.#input = input;
    this.#values = values;
    this.#glass = glass;
    this.#own = input.index ?? glass.value;
    this.#tag = `reading ${number}`;
    const { index, launch_m, front_panel_m, spacing_m } = input;
    const distances = [input, ...(input.known ?? [])].some(({ distance_m }) => distance_m !== undefined);
    if (index !== undefined) this.conventions.push(say`the instrument was set to index ${index}`);
    else if (distances) {
      this.conventions.push(say`no index was given: the instrument is taken to be set to ${this.#own}`);
      this.parameters.push({
        ...notGiven,
        kind: "instrument_index",
        key: `${this.#tag} index`,
        words: say`index the instrument was set to, taken as ${this.#own}`,
        basis: "usual",
        record: null,
      });
    } else this.conventions.push(say`round-trip time: no index of the instrument enters`);
    this.conventions.push(
      launch_m === undefined
        ? say`no launch cord is in the reading`
        : say`a launch cord of ${launch_m} m of glass is in the reading and taken off`,
      front_panel_m === undefined
        ? say`distances begin at the instrument's front panel`
        : say`the instrument shows ${front_panel_m} m at its own front panel, taken off`,
      spacing_m === undefined
        ? say`sample spacing is not given: ${values.number("locate.instrument.spacing_m")} m`
        : say`sample spacing ${spacing_m} m`,
    );
    if (launch_m !== undefined) this.#launch(launch_m);
  }

  #launch(launch_m: number): void {
    const cord = this.#values.cord(launch_m, { kind: "cord", id: 0, tag: say`launch cord` });
    const key = `${this.#tag} launch`;
    this.parameters.push({
      ...cord,
      kind: "launch",
      key,
      words: say`length of the launch cord`,
      basis: "given",
      record: null,
    });
    this.#common.push([key, this.#glass.value]);
  }

  /** Travel from the port; negative before it. `number` tells what was seen apart. */
  travel({ distance_m, time_us }: Shown, number: number): Travel {
    const { launch_m = 0, front_panel_m = 0, spacing_m } = this.#input;
    const raw = time_us === undefined ? (distance_m ?? 0) * this.#own : (LIGHT_M_PER_US * time_us) / 2;
    const shown_m = raw / this.#own;
    const read = this.#values.instrument(shown_m, spacing_m);
    const key = `${this.#tag} seen ${number}`;
    const seen = formatLength(shown_m, "m", 1);
    this.parameters.push({ ...read, kind: "instrument", key, words: say`instrument, at ${seen} as shown` });
    const index = this.parameters.find(({ kind }) => kind === "instrument_index");
    return {
      travel_m: raw - front_panel_m * this.#own - launch_m * this.#glass.value,
      slopes: [
        ...this.#common,
        [key, this.#own],
        ...(index && time_us === undefined ? [[index.key, raw] as const] : []),
      ],
    };
  }
}

/** Refuses what no instrument shows: nothing, both, zero or less. */
export function checkShown(shown: Shown, record: string, what: string): void {
  const { distance_m, time_us } = shown;
  const no = (field: string, reason: string): never =>
    refuse("bad_input", say`${what} from ${record} ${reason}.`, [{ field, record, reason }]);
  if (distance_m === undefined && time_us === undefined) no("distance_m", say`has neither a distance nor a time`);
  if (distance_m !== undefined && time_us !== undefined) no("time_us", say`has both a distance and a time: give one`);
  const [field, value, unit] =
    distance_m === undefined ? ["time_us", time_us as number, "µs"] : ["distance_m", distance_m, "m"];
  if (!(value > 0)) no(field, say`is ${value} ${unit}: what an instrument sees lies at more than 0 ${unit} from it`);
}

export const shownWords = ({ distance_m, time_us }: Shown): string =>
  time_us === undefined ? `${distance_m} m` : say`${time_us} µs round trip`;
