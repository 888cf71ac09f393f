/**
 * Bounds of the loss of many lines at once: what a line can lose at most, with typical values where nothing was measured.
 * They are made of sums over what is held in memory, so that only lines which may lose too much are reckoned term by term.
 */
import { CORD, JOIN, SPLICE, TERMINATION } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { type GlassPath, positionsOn, sectionsOn } from "../glass/path.ts";
import type { Edition } from "../standards/limits/acceptance.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import { Cables } from "../trace/cables.ts";
import { limitsFor } from "./applications.ts";
import { coreOf, type FibreClass, lowestOf, modeOf } from "./classes.ts";
import { editionOf } from "./loss.ts";
import { RecordedLosses } from "./recorded-losses.ts";
import { SectionClasses } from "./section-classes.ts";
import { Values, type Worst } from "./values.ts";
import { wavelengthsOf } from "./wavelengths.ts";

/** Wavelengths at which attenuation is asked for; the greatest counts. */
const WAVELENGTHS = { multimode: [850, 1300], single_mode: [1310, 1490, 1550, 1577] } as const;
const ENVIRONMENTS = [null, "indoor", "outdoor", "indoor_outdoor"] as const;

export interface Bound {
  /** Decibels; what is not known counts as nothing. */
  readonly most_db: number;
  /** Metres of glass, as far as known, with some to spare. */
  readonly most_m: number;
  readonly classes: ReadonlySet<FibreClass>;
  /** How many pairs of plugs it counts. */
  readonly pairs: number;
}

/** Whether cores differ: what that loses depends on the way, and is in no bound. */
const areUnlike = (classes: ReadonlySet<FibreClass>): boolean => new Set([...classes].map(coreOf)).size > 1;

/** Losses on record by kind of joint and id. */
type Losses = Pick<RecordedLosses, "get">;

interface CordGlass {
  readonly length_m: number;
  readonly fibre: FibreClass | null;
}

export class LightBounds {
  readonly #plant: PlantGlass;
  readonly #limits: Limits;
  readonly #cables: Cables;
  readonly #cords: ReadonlyMap<number, CordGlass>;
  readonly #recorded: ReadonlyMap<number, Losses>;
  readonly #readings: ReadonlyMap<string, number>;
  /** Ports that take arrays, whose plugs lose more than others. */
  readonly #arrays: ReadonlySet<number>;
  readonly #per_km = new Map<string, number>();
  readonly #joint: Readonly<Record<"splice" | "pair" | "array" | "pair_limit" | "splitter" | "excess", number>>;
  readonly #edition: Edition;
  readonly classes: SectionClasses;

  private constructor(
    plant: PlantGlass,
    limits: Limits,
    read: {
      cables: Cables;
      cords: ReadonlyMap<number, CordGlass>;
      recorded: ReadonlyMap<number, Losses>;
      readings: ReadonlyMap<string, number>;
      arrays: ReadonlySet<number>;
      classes: SectionClasses;
    },
  ) {
    this.#plant = plant;
    this.#limits = limits;
    this.#cables = read.cables;
    this.#cords = read.cords;
    this.#recorded = read.recorded;
    this.#readings = read.readings;
    this.#arrays = read.arrays;
    this.classes = read.classes;
    this.#edition = editionOf(limits, undefined).edition;
    const greatest = (...beginnings: string[]) =>
      Math.max(0, ...beginnings.flatMap((one) => limits.under(one).map(({ value }) => value)));
    const values = new Values(limits, { wavelength_nm: 1310, worst: "typical", edition: this.#edition });
    const usual = (connector: "mpo" | null) =>
      Math.max(
        ...([null, "multimode", "single_mode"] as const).map((mode) => {
          const pair = values.pair(mode, connector);
          return typeof pair === "string" ? 0 : pair.value;
        }),
      );
    this.#joint = {
      splice: greatest("splice.", `acceptance.${this.#edition}.splice`),
      pair: usual(null),
      array: usual("mpo"),
      pair_limit: greatest("pair.", `acceptance.${this.#edition}.pair`, `acceptance.${this.#edition}.end`),
      splitter: greatest("splitter."),
      excess: greatest("excess."),
    };
  }

  /** Reads what is needed for some lines, in sets. */
  static async read(
    reader: Reader,
    plant: PlantGlass,
    limits: Limits,
    paths: Iterable<GlassPath>,
  ): Promise<LightBounds> {
    const on = new Set<number>();
    for (const path of paths) for (const section of sectionsOn(path)) on.add(plant.cableOf(section));
    const cords = await reader.lists(
      "select id, ifnull(length_m, 0), fibre_class from cord where length_m > 0 or fibre_class is not null",
    );
    const readings = await reader.lists(
      "select subject_kind, subject_id, max(loss_db) from measurement where loss_db > 0 group by 1, 2",
    );
    return new LightBounds(plant, limits, {
      cables: await Cables.read(reader, on, []),
      cords: new Map(
        (cords as [number, number, FibreClass | null][]).map(([id, length_m, fibre]) => [id, { length_m, fibre }]),
      ),
      recorded: new Map([
        [SPLICE, await RecordedLosses.read(reader, "splice", "max(ifnull(loss_ab_db, 0), ifnull(loss_ba_db, 0))")],
        [TERMINATION, await RecordedLosses.read(reader, "termination", "loss_db")],
        [JOIN, await RecordedLosses.read(reader, "module_join", "loss_db")],
      ]),
      readings: new Map((readings as [string, number, number][]).map(([kind, id, db]) => [`${kind} ${id}`, db])),
      arrays: new Set((await reader.lists("select id from port where connector = 'mpo'")).map(([id]) => id as number)),
      classes: await SectionClasses.read(reader, plant),
    });
  }

  /** What a line of a circuit loses at most. */
  of(path: GlassPath, circuit: number, application: string | undefined): Bound {
    const { section, position } = this.#plant.tables;
    const classes = new Set<FibreClass>();
    let most_m = 0;
    let most_db = this.#readings.get(`circuit ${circuit}`) ?? 0;
    const own_nm = application === undefined ? [] : wavelengthsOf(this.#limits, application);
    const glass = (metres: number, fibre: FibreClass | null) => {
      most_m += metres;
      if (fibre === null) return;
      classes.add(fibre);
      most_db += (metres / 1000) * this.#attenuation(fibre, "typical", own_nm);
    };
    for (const [at, kind] of path.kinds.entries()) {
      const id = path.ids[at] as number;
      const recorded = this.#recorded.get(kind)?.get(id) ?? 0;
      if (kind === SPLICE || kind === TERMINATION) most_db += recorded > 0 ? recorded : this.#joint.splice;
      else if (kind === JOIN) most_db += recorded > 0 ? recorded : this.#joint.splitter;
      else if (kind === CORD) {
        const cord = this.#cords.get(id);
        glass(cord?.length_m ?? 0, cord?.fibre ?? null);
      }
    }
    for (const own of sectionsOn(path)) {
      glass(this.#lengthOf(own), this.classes.of(own));
      if (this.#readings.size > 0) {
        most_db += this.#readings.get(`section ${own}`) ?? 0;
        most_db += this.#readings.get(`strand ${section.strand.get(own)}`) ?? 0;
      }
    }
    const positions = positionsOn(path);
    for (const own of positions) {
      most_db += this.#arrays.has(position.port.get(own)) ? this.#joint.array : this.#joint.pair;
      if (this.#readings.size > 0) most_db += this.#readings.get(`port ${position.port.get(own)}`) ?? 0;
    }
    return { most_db, most_m, classes, pairs: positions.length };
  }

  /** As the bound, with limits of glass and plugs in place of typical ones, and the penalties a plant sets. */
  withLimits({ most_db, most_m, classes, pairs }: Bound): number {
    if (areUnlike(classes)) return Number.POSITIVE_INFINITY;
    const penalties = this.#limits.under("penalty.").reduce((sum, { value }) => sum + Math.max(0, value), 0);
    const per_km = Math.max(0, ...[...classes].map((fibre) => this.#attenuation(fibre, "limit", [])));
    return most_db + pairs * this.#joint.pair_limit + (most_m / 1000) * per_km + penalties;
  }

  /** Whether a line with such a bound may be too much for what it carries, so that it must be reckoned. */
  mayFail({ most_db, most_m, classes }: Bound, application: string): boolean {
    const fibre = lowestOf(classes);
    if (fibre === null) return false;
    if (areUnlike(classes)) return true;
    const limits = limitsFor(this.#limits, application, fibre);
    if (!limits) return true;
    const { loss, length, least } = limits;
    return (
      least !== undefined ||
      (loss !== undefined && most_db > loss.value) ||
      (length !== undefined && most_m > length.value)
    );
  }

  #lengthOf(id: number): number {
    const { section } = this.#plant.tables;
    const { length_m, glass_m } = this.#cables.lengthOf(
      this.#plant.cableOf(id),
      section.a_stop.get(id),
      section.b_stop.get(id),
    );
    return Math.max(0, glass_m ?? (length_m ?? 0) * (1 + this.#joint.excess));
  }

  /** The greatest attenuation of a class, in decibels a kilometre; 0 where none is on record. */
  #attenuation(fibre: FibreClass, worst: Worst, own_nm: readonly number[]): number {
    const key = `${fibre} ${worst} ${own_nm.join(" ")}`;
    let most = this.#per_km.get(key);
    if (most === undefined) {
      const found = (own_nm.length > 0 ? own_nm : WAVELENGTHS[modeOf(fibre)]).flatMap((wavelength_nm) => {
        const values = new Values(this.#limits, { wavelength_nm, worst, edition: this.#edition });
        return ENVIRONMENTS.map((environment) => values.attenuation(fibre, environment));
      });
      most = Math.max(0, ...found.map((one) => (typeof one === "string" ? 0 : one.value)));
      this.#per_km.set(key, most);
    }
    return most;
  }
}
