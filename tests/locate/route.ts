/** Routes made for these tests: reels of cable from a panel at A to a panel at Z, spliced in holes, with marks as given. */
import type { Band, LocateAnswer, Where } from "../../core/locate/answer.ts";
import type { Value } from "../../core/model/dictionary.ts";
import { Made, type MadePlant } from "../glass/made.ts";

export type Given = Readonly<Record<string, Value | undefined>>;

export interface StopGiven {
  readonly space: string;
  readonly in?: number;
  readonly from?: number;
  readonly to?: number;
  readonly out?: number;
  /** Slack, storage and the like. */
  readonly more?: Given;
}

export interface Reel {
  readonly tag: string;
  readonly stops: readonly StopGiven[];
  /** Lengths of the pathways between the stops. */
  readonly ways?: readonly (number | null)[];
  readonly unit?: "m" | "ft" | null;
  /** Of the data sheet; by default excess 0.02, index 1.4682 at 1550 nm. */
  readonly type?: Given;
  readonly values?: Given;
}

export interface RouteOptions {
  readonly strands?: number;
  /** How the ends land; null leaves them open. */
  readonly lands?: readonly [a: Given | null, z: Given | null];
  /** More of each space, by tag; of each pathway, by its tag `W-FROM-TO`. */
  readonly spaces?: Readonly<Record<string, Given>>;
  readonly pathways?: Readonly<Record<string, Given>>;
  readonly limits?: Readonly<Record<string, number>>;
  /** Adds to what was made. */
  readonly also?: (made: Made, ids: RouteIds) => void;
}

export interface RouteIds {
  readonly spaces: ReadonlyMap<string, number>;
  readonly cables: readonly {
    readonly id: number;
    readonly stops: readonly number[];
    readonly sections: readonly number[];
  }[];
  readonly ports: { readonly a: readonly number[]; readonly z: readonly number[] };
  readonly positions: { readonly a: readonly number[]; readonly z: readonly number[] };
}

/** Panels `A/PA` and `Z/PZ` are in the first and the last space; cables are spliced in `CL`, tray `T`, of the hole between. */
export function makeRoute(reels: readonly Reel[], options: RouteOptions = {}): { made: Made; ids: RouteIds } {
  const { strands = 1, lands = [{ method: "splice_on" }, { method: "splice_on" }] } = options;
  const made = new Made();
  for (const [tag, value] of Object.entries(options.limits ?? {})) made.add("limit_value", { tag, value });
  const spaces = new Map<string, number>();
  const space = (tag: string): number => {
    const known = spaces.get(tag);
    if (known !== undefined) return known;
    const id = made.room(tag, null, { crossing_m: 0, ...options.spaces?.[tag] });
    spaces.set(tag, id);
    return id;
  };
  const cables = reels.map((reel) => {
    const type = made.add("cable_type", {
      tag: `T-${reel.tag}`,
      colour_sequence: "tia_598",
      construction: "loose_tube",
      fibre_class: "g652d",
      excess_ratio: 0.02,
      index_1550: 1.4682,
      ...reel.type,
    });
    const through = reel.stops.map((stop) => space(stop.space));
    const ways = reel.ways?.map((length_m, at) => {
      const tag = `W-${reel.stops[at]?.space}-${reel.stops[at + 1]?.space}`;
      const id = made.pathway(tag, through[at] as number, through[at + 1] as number, length_m);
      const row = made.rows.at(-1);
      if (row) row.values = { ...row.values, ...(options.pathways?.[tag] as Record<string, Value>) };
      return id;
    });
    const last = reel.stops.length - 1;
    return made.cable(reel.tag, through, strands, {
      values: { type_id: type, ...(reel.unit === null ? {} : { mark_unit: reel.unit ?? "m" }), ...reel.values },
      stop: reel.stops.map(({ in: mark_in, from, to, out, more }, at) => ({
        mark_in,
        mark_open_from: from,
        mark_open_to: to,
        mark_out: out,
        kind: at === 0 || at === last ? "end" : "passing",
        ...more,
      })),
      ...(ways ? { ways } : {}),
    });
  });
  for (const [at, cable] of cables.slice(1).entries()) {
    const hole = reels[at]?.stops.at(-1)?.space ?? "";
    const closure = made.add("closure", { tag: "CL", space_id: space(hole) });
    const tray = made.add("tray", { tag: "T", closure_id: closure });
    for (const [strand, section] of cable.sections.entries()) {
      made.splice(cables[at]?.sections[strand], "B", section, "A", { tray_id: tray, place: strand + 1 });
    }
  }
  const land = (end: "a" | "z") => {
    const [at, side] = end === "a" ? ([0, "A"] as const) : ([cables.length - 1, "B"] as const);
    const stops = reels[at]?.stops ?? [];
    const room = space((end === "a" ? stops[0] : stops.at(-1))?.space ?? "");
    const panel = made.panel(end === "a" ? "PA" : "PZ", room, strands);
    const how = lands[end === "a" ? 0 : 1];
    if (how) {
      for (const [strand, section] of (cables[at]?.sections ?? []).entries()) {
        made.land(section, side, panel.positions[strand], how);
      }
    }
    return panel;
  };
  const [a, z] = [land("a"), land("z")];
  const ids: RouteIds = {
    spaces,
    cables,
    ports: { a: a.ports, z: z.ports },
    positions: { a: a.positions, z: z.positions },
  };
  options.also?.(made, ids);
  return { made, ids };
}

export const route = async (reels: readonly Reel[], options: RouteOptions = {}): Promise<MadePlant> =>
  makeRoute(reels, options).made.plant();

export type Reading = Readonly<Record<string, unknown>>;

/** The answer where the readings are of one place. */
export interface Located extends LocateAnswer {
  readonly where: Where & { readonly at_m: number };
  readonly band: Band;
}

const asked = (plant: MadePlant, readings: readonly Reading[]): Promise<LocateAnswer> =>
  plant.run<LocateAnswer>("locate.of", {
    readings: readings.map((reading) => ("time_us" in reading ? reading : { index: 1.4682, ...reading })),
  });

/** The answer to one or several readings of one place; index 1.4682 unless a reading says otherwise. */
export async function located(plant: MadePlant, ...readings: readonly Reading[]): Promise<Located> {
  const answer = await asked(plant, readings);
  if (!isOnePlace(answer)) throw new Error(`not of one place: ${answer.sentence}`);
  return answer;
}

const isOnePlace = (answer: LocateAnswer): answer is Located => answer.band !== null && answer.where.at_m !== null;

/** The answer to readings that may be of several places. */
export const locatedApart = (plant: MadePlant, ...readings: readonly Reading[]): Promise<LocateAnswer> =>
  asked(plant, readings);

/** What the instrument shows at some metres of sheath of the usual cable, past one stub. */
export const shownAt = (sheath_m: number, stubs = 1, stub_m = 1.25): number => sheath_m * 1.02 + stubs * stub_m;
