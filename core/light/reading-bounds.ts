/**
 * Readings that may disagree with the record, found among very many: by sums that lie on the safe side, so that only
 * these are held against their line term by term.
 */
import { positionEnd, type Side, sectionEnd } from "../glass/end.ts";
import { SPLICE, TERMINATION } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { type GlassPath, jointsOn, pathOf, sectionsOn } from "../glass/path.ts";
import { walk } from "../glass/walk.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import { Cables } from "../trace/cables.ts";
import { type FibreClass, modeOf } from "./classes.ts";
import { editionOf } from "./loss.ts";
import type { SectionClasses } from "./section-classes.ts";
import { Values } from "./values.ts";

export interface ReadLoss {
  readonly id: number;
  readonly subject_kind: "section" | "strand" | "port" | "circuit";
  readonly subject_id: number;
  readonly wavelength_nm: number;
  readonly loss_db: number;
}

const READINGS = `select id, subject_kind, subject_id, wavelength_nm, loss_db from measurement
  where loss_db is not null and wavelength_nm is not null and method <> 'visual'
    and subject_kind in ('section', 'strand', 'port', 'circuit') order by id`;

interface Passed {
  readonly sections: readonly number[];
  readonly splices: readonly number[];
  readonly landings: readonly number[];
}

/** Readings of which a bound can't say that they agree; those of circuits are among them in any case. */
export async function doubtfulReadings(
  reader: Reader,
  plant: PlantGlass,
  limits: Limits,
  classes: SectionClasses,
): Promise<ReadLoss[]> {
  const tolerance = limits.get("tolerance.loss_db")?.value;
  const readings = await reader.rows<ReadLoss>(READINGS);
  if (readings.length === 0 || tolerance === undefined || !(tolerance >= 0)) return [];
  const passed = await passedBy(reader, plant, readings);
  const cables = new Set([...passed.values()].flatMap(({ sections }) => sections.map((id) => plant.cableOf(id))));
  const sums = new Sums(plant, limits, classes, await Cables.read(reader, cables, []), await recordedLosses(reader));
  return readings.filter((reading) => {
    if (reading.subject_kind === "circuit") return true;
    const own = passed.get(keyOf(reading));
    if (!own) return false;
    const { most_db, least_db } = sums.of(own, reading.wavelength_nm);
    return (most_db !== null && reading.loss_db > most_db + tolerance) || reading.loss_db < least_db - tolerance;
  });
}

const keyOf = ({ subject_kind, subject_id }: ReadLoss): string => `${subject_kind} ${subject_id}`;

/** What lies along each subject: its glass with the joints of plugs at both ends, and of ports all the way. */
async function passedBy(
  reader: Reader,
  plant: PlantGlass,
  readings: readonly ReadLoss[],
): Promise<Map<string, Passed>> {
  const idsOf = (kind: ReadLoss["subject_kind"]) =>
    JSON.stringify([...new Set(readings.flatMap((one) => (one.subject_kind === kind ? one.subject_id : [])))]);
  const passed = new Map<string, Passed>();
  const landing = (section: number, side: Side): number[] => {
    const at = plant.first(sectionEnd(section, side));
    return at >= 0 && plant.kind(at) === TERMINATION ? [plant.id(at)] : [];
  };
  const alone = (section: number): Passed => ({
    sections: [section],
    splices: [],
    landings: [...landing(section, "A"), ...landing(section, "B")],
  });
  for (const { subject_kind, subject_id } of readings) {
    if (subject_kind === "section") passed.set(`section ${subject_id}`, alone(subject_id));
  }
  const strands = await reader.lists(
    `select strand_id, min(id) from section where strand_id in (select value from json_each(?))
     group by strand_id having count(*) = 1`,
    [idsOf("strand")],
  );
  for (const [strand, section] of strands as [number, number][]) passed.set(`strand ${strand}`, alone(section));
  const ports = await reader.lists(
    "select port_id, id from position where ordinal = 1 and port_id in (select value from json_each(?))",
    [idsOf("port")],
  );
  for (const [port, position] of ports as [number, number][]) {
    const walked = walk(plant, positionEnd(position, "back"));
    if (!walked.isStraight || walked.steps === 0) continue;
    passed.set(`port ${port}`, along(pathOf(walked, walked.steps - 1)));
  }
  return passed;
}

const along = (path: GlassPath): Passed => ({
  sections: sectionsOn(path),
  splices: jointsOn(path, SPLICE),
  landings: jointsOn(path, TERMINATION),
});

interface Recorded {
  readonly splices: ReadonlyMap<number, number>;
  readonly landings: ReadonlyMap<number, number>;
}

async function recordedLosses(reader: Reader): Promise<Recorded> {
  const read = async (sql: string) => new Map((await reader.lists(sql)) as [number, number][]);
  return {
    // Cores and ways apart: the greater of both ways is never less than what counts.
    splices: await read(
      "select id, max(ifnull(loss_ab_db, loss_ba_db), ifnull(loss_ba_db, loss_ab_db)) as db from splice where db is not null",
    ),
    landings: await read("select id, loss_db from termination where loss_db is not null"),
  };
}

class Sums {
  readonly #plant: PlantGlass;
  readonly #limits: Limits;
  readonly #classes: SectionClasses;
  readonly #cables: Cables;
  readonly #recorded: Recorded;
  readonly #values = new Map<
    string,
    { readonly per_km: number | null; readonly least_per_km: number; readonly pair: number }
  >();

  constructor(plant: PlantGlass, limits: Limits, classes: SectionClasses, cables: Cables, recorded: Recorded) {
    this.#plant = plant;
    this.#limits = limits;
    this.#classes = classes;
    this.#cables = cables;
    this.#recorded = recorded;
  }

  /** Never more than the most that is on record, and never less than the least; null where the most isn't known. */
  of({ sections, splices, landings }: Passed, nm: number): { most_db: number | null; least_db: number } {
    const { section } = this.#plant.tables;
    let most: number | null = 0;
    let least = 0;
    let pair = 0;
    for (const id of sections) {
      const fibre = this.#classes.of(id);
      const { length_m, glass_m } = this.#cables.lengthOf(
        this.#plant.cableOf(id),
        section.a_stop.get(id),
        section.b_stop.get(id),
      );
      if (fibre === null || length_m === null || length_m < 0) most = null;
      if (fibre === null || length_m === null || length_m < 0) continue;
      const values = this.#valuesOf(fibre, nm);
      pair = values.pair;
      // Where the excess is not on record: none at the most, and more than any at the least.
      if (values.per_km === null) most = null;
      if (most !== null) most += ((glass_m ?? length_m) / 1000) * (values.per_km ?? 0);
      least += ((glass_m ?? length_m * 1.1) / 1000) * values.least_per_km;
    }
    for (const id of splices) {
      const own = this.#recorded.splices.get(id);
      least += Math.max(own ?? 0, this.#least("splice.least"));
    }
    for (const id of landings) {
      const own = this.#recorded.landings.get(id);
      if (most !== null) most += Math.min(pair, own !== undefined && own >= 0 ? own : pair);
      least += Math.max(own ?? 0, 0) + this.#least("splice.least") + this.#least("pair.least");
    }
    return { most_db: most, least_db: least };
  }

  #least = (tag: string): number => Math.max(0, this.#limits.get(tag)?.value ?? 0);

  #valuesOf(fibre: FibreClass, wavelength_nm: number) {
    const key = `${fibre} ${wavelength_nm}`;
    let known = this.#values.get(key);
    if (!known) {
      const { edition } = editionOf(this.#limits, undefined);
      const values = new Values(this.#limits, { wavelength_nm, worst: "limit", edition });
      const found = ([null, "indoor", "outdoor", "indoor_outdoor"] as const).map((one) =>
        values.attenuation(fibre, one),
      );
      const numbers = found.flatMap((one) => (typeof one === "string" ? [] : one.value));
      const pair = values.pair(modeOf(fibre), null);
      known = {
        per_km: numbers.length === found.length ? Math.min(...numbers) : null,
        least_per_km: values.leastAttenuation(fibre),
        pair: typeof pair === "string" ? 0 : pair.value,
      };
      this.#values.set(key, known);
    }
    return known;
  }
}
