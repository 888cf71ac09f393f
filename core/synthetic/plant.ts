/**
 * Writes a synthetic plant with known truth: as many strands as asked, the same for the same seed. It is for benchmarks
 * and for tests that need a large plant; nothing in it stands for a real place.
 */
import type { AnyValues, KindName } from "../model/dictionary.ts";
import { CABLES_PER_ROUTE, type Layout, layOut, type Route, STRANDS_PER_TUBE } from "./layout.ts";
import { type Random, seeded } from "./random.ts";
import type { Truth } from "./truth.ts";

export interface Sink {
  /** Rows of one kind with ascending ids. */
  insertMany(kind: KindName, rows: readonly { readonly id: number; readonly values: AnyValues }[]): Promise<void>;
  /** First id of a run of new ids. */
  newIds(kind: KindName, count: number): Promise<number>;
  progress(done: number, total: number): Promise<void>;
}

const FEET = 0.3048;
const TRAYS_PER_HOLE = 6;
const PLACES_PER_TRAY = 24;
/** One strand place in this many is left open at its route's first hole. */
const OPEN_ONE_IN = 48;
/** One strand place in this many belongs to a circuit. */
const CIRCUIT_EVERY = 6;
const LINES_KEPT = 200;

const padded = (prefix: string, index: number, digits: number) => `${prefix}${String(index + 1).padStart(digits, "0")}`;
const buildingTag = (index: number) => padded("B", index, 4);
const holeTag = (index: number) => padded("H-", index, 6);
const cableTag = (index: number) => padded("C-", index, 5);

/** Collects rows and hands them over in lots, so that memory stays flat. */
class Lots {
  readonly #sink: Sink;
  readonly #first: number;
  readonly #kind: KindName;
  #count = 0;
  #rows: { id: number; values: AnyValues }[] = [];
  private constructor(sink: Sink, kind: KindName, first: number) {
    this.#sink = sink;
    this.#kind = kind;
    this.#first = first;
  }
  static async open(sink: Sink, kind: KindName, count: number): Promise<Lots> {
    return new Lots(sink, kind, await sink.newIds(kind, count));
  }
  /** The id of the n-th row, from 0, whether or not it is written yet. */
  id(n: number): number {
    return this.#first + n;
  }
  async add(values: AnyValues): Promise<number> {
    const id = this.#first + this.#count;
    this.#count += 1;
    this.#rows.push({ id, values });
    if (this.#rows.length >= 5000) await this.flush();
    return id;
  }
  async flush(): Promise<void> {
    if (this.#rows.length > 0) await this.#sink.insertMany(this.#kind, this.#rows);
    this.#rows = [];
  }
}

const KINDS_WRITTEN = [
  "building",
  "space",
  "pathway",
  "cable_type",
  "unit_type",
  "cable",
  "stop",
  "leg",
  "unit",
  "strand",
  "section",
  "closure",
  "tray",
  "splice",
  "panel",
  "port",
  "position",
  "termination",
  "circuit",
  "assignment",
  "label",
] as const satisfies readonly KindName[];
type Written = (typeof KINDS_WRITTEN)[number];

/** Upper bounds of how many rows a kind gets; ids not used are simply left out. */
function counts(layout: Layout): Record<Written, number> {
  const tubes = Math.ceil(144 / STRANDS_PER_TUBE);
  const ends = layout.routes.length * 2;
  return {
    building: layout.buildings,
    space: layout.buildings + layout.holes,
    pathway: layout.cables,
    cable_type: 1,
    unit_type: 1,
    cable: layout.cables,
    stop: layout.cables * 2,
    leg: layout.cables,
    unit: layout.cables * tubes,
    strand: layout.strands + 144,
    section: layout.strands + 144,
    closure: layout.holes,
    tray: layout.holes * TRAYS_PER_HOLE,
    splice: layout.strands + 144,
    panel: ends,
    port: ends * 72,
    position: ends * 144,
    termination: ends * 144,
    circuit: layout.routes.length * 24,
    assignment: layout.routes.length * 24 * CABLES_PER_ROUTE * 2,
    label: layout.cables * 2,
  };
}

/**
 * Writes the plant and answers its truth.
 * @param strands how many strands, from 2 to 2,000,000
 * @param seed any whole number; the same seed gives the same plant
 */
export async function writeSyntheticPlant(sink: Sink, strands: number, seed: number): Promise<Truth> {
  const layout = layOut(strands);
  const random = seeded(seed);
  const size = counts(layout);
  const lots = {} as Record<Written, Lots>;
  for (const kind of KINDS_WRITTEN) lots[kind] = await Lots.open(sink, kind, size[kind]);

  for (let index = 0; index < layout.buildings; index += 1) {
    const building_id = await lots.building.add({ tag: buildingTag(index), name: `Building ${index + 1}` });
    await lots.space.add({ tag: "ER", building_id, kind: "entrance_room", environment: "dry_indoor" });
  }
  for (let hole = 0; hole < layout.holes; hole += 1) {
    const space_id = await lots.space.add({
      tag: holeTag(hole),
      building_id: null,
      kind: "hand_hole",
      environment: "flooded",
    });
    const closure_id = await lots.closure.add({ tag: "CL-1", space_id, kind: "dome", capacity: 144 });
    for (let tray = 0; tray < TRAYS_PER_HOLE; tray += 1) {
      await lots.tray.add({ tag: `T${tray + 1}`, closure_id, position: tray + 1, capacity: PLACES_PER_TRAY });
    }
  }
  const type_id = await lots.cable_type.add({
    tag: "LT-144",
    construction: "loose_tube",
    colour_sequence: "tia_598",
    fibre_class: "g652d",
    excess_ratio: 0.02,
  });
  await lots.unit_type.add({
    cable_type_id: type_id,
    ordinal: 1,
    kind: "tube",
    repeats: 12,
    strands: STRANDS_PER_TUBE,
    coating_um: "250",
  });

  const truth = {
    lines: [] as Truth["lines"][number][],
    open: [] as string[],
    twice: [] as string[],
    broken: [] as string[],
  };
  const landed = new Array<number>(layout.buildings).fill(0);
  let done = 0;
  for (const route of layout.routes) {
    landed[route.from] = (landed[route.from] ?? 0) + route.strands;
    landed[route.to] = (landed[route.to] ?? 0) + route.strands;
    await writeRoute(route, layout, lots, random, type_id, truth, done);
    done += route.strands * route.cables;
    await sink.progress(done, strands);
  }
  for (const kind of KINDS_WRITTEN) await lots[kind].flush();
  return {
    strands: done,
    seed,
    buildings: landed.map((count, index) => ({ tag: buildingTag(index), strands: count })),
    lines: truth.lines,
    open: truth.open,
    assigned_twice: truth.twice,
    broken: truth.broken,
  };
}

async function writeRoute(
  route: Route,
  layout: Layout,
  lots: Record<Written, Lots>,
  random: Random,
  type_id: number,
  truth: { lines: Truth["lines"][number][]; open: string[]; twice: string[]; broken: string[] },
  strandsBefore: number,
): Promise<void> {
  const { cables, strands } = route;
  const spaceOf = (place: number): number =>
    place === 0
      ? lots.space.id(route.from)
      : place === cables
        ? lots.space.id(route.to)
        : lots.space.id(layout.buildings + route.firstHole + place - 1);
  /** Section ids of a strand place in the n-th cable of the route. */
  const sectionAt = (cable: number, place: number) => lots.section.id(strandsBefore + cable * strands + place);

  let length_m = 0;
  for (let n = 0; n < cables; n += 1) {
    const index = route.firstCable + n;
    const feet = random.oneIn(2);
    const units = random.whole(120, 900);
    const start = random.whole(0, 20_000);
    const backwards = random.oneIn(3);
    length_m += feet ? units * FEET : units;
    const from_space_id = spaceOf(n);
    const to_space_id = spaceOf(n + 1);
    const pathway_id = await lots.pathway.add({
      tag: padded("W-", index, 5),
      kind: "duct_bank",
      from_space_id,
      to_space_id,
      length_m: feet ? units * FEET : units,
    });
    const cable_id = await lots.cable.add({
      tag: cableTag(index),
      type_id,
      run: padded("R-", route.index, 4),
      mark_unit: feet ? "ft" : "m",
    });
    const a_stop_id = await lots.stop.add({
      cable_id,
      ordinal: 1,
      space_id: from_space_id,
      kind: "end",
      mark_in: null,
      mark_out: backwards ? start + units : start,
    });
    const b_stop_id = await lots.stop.add({
      cable_id,
      ordinal: 2,
      space_id: to_space_id,
      kind: "end",
      mark_in: backwards ? start : start + units,
      mark_out: null,
    });
    await lots.leg.add({ from_stop_id: a_stop_id, to_stop_id: b_stop_id, pathway_id, held: "loose" });
    for (const space_id of [from_space_id, to_space_id]) {
      await lots.label.add({
        subject_kind: "cable",
        subject_id: cable_id,
        space_id,
        text: cableTag(index),
        state: "present",
        seen_on: "2025-05-01",
      });
    }
    let unit_id = 0;
    for (let place = 0; place < strands; place += 1) {
      if (place % STRANDS_PER_TUBE === 0) {
        unit_id = await lots.unit.add({
          cable_id,
          parent_id: null,
          ordinal: place / STRANDS_PER_TUBE + 1,
          kind: "tube",
        });
      }
      const broken = random.oneIn(4000);
      if (broken) truth.broken.push(`${cableTag(index)}:${place + 1}`);
      const strand_id = await lots.strand.add({
        cable_id,
        number: place + 1,
        unit_id,
        place: (place % STRANDS_PER_TUBE) + 1,
        condition: broken ? "broken" : "good",
      });
      await lots.section.add({ strand_id, ordinal: 1, a_stop_id, b_stop_id });
    }
  }

  const openPlaces = new Set<number>();
  for (let place = 0; place < strands; place += 1) {
    if (cables > 1 && random.oneIn(OPEN_ONE_IN)) {
      openPlaces.add(place);
      truth.open.push(`${cableTag(route.firstCable)}:${place + 1}`);
    }
  }
  for (let n = 0; n + 1 < cables; n += 1) {
    const hole = route.firstHole + n;
    for (let place = 0; place < strands; place += 1) {
      if (n === 0 && openPlaces.has(place)) continue;
      await lots.splice.add({
        tray_id: lots.tray.id(hole * TRAYS_PER_HOLE + Math.floor(place / PLACES_PER_TRAY)),
        place: (place % PLACES_PER_TRAY) + 1,
        a_section_id: sectionAt(n, place),
        a_side: "B",
        b_section_id: sectionAt(n + 1, place),
        b_side: "A",
        method: "fusion",
        loss_ab_db: random.whole(1, 12) / 100,
        loss_basis: "one_way",
      });
    }
  }

  const panels: string[] = [];
  for (const end of [0, 1] as const) {
    const building = end === 0 ? route.from : route.to;
    const tag = `${end === 0 ? "A" : "Z"}${String(route.index + 1).padStart(4, "0")}`;
    panels.push(`${buildingTag(building)}/ER/${tag}`);
    const panel_id = await lots.panel.add({ tag, space_id: lots.space.id(building), rows: 6 });
    for (let port = 0; port * 2 < strands; port += 1) {
      const port_id = await lots.port.add({
        tag: String(port + 1).padStart(2, "0"),
        panel_id,
        connector: "lc_duplex",
        polish: "upc",
        front: "empty",
      });
      for (const side of [0, 1]) {
        const place = port * 2 + side;
        if (place >= strands) continue;
        const position_id = await lots.position.add({ port_id, ordinal: side + 1 });
        await lots.termination.add({
          section_id: sectionAt(end === 0 ? 0 : cables - 1, place),
          side: end === 0 ? "A" : "B",
          position_id,
          method: "pigtail",
        });
      }
    }
  }

  for (let place = 0; place < strands; place += CIRCUIT_EVERY) {
    if (openPlaces.has(place)) continue;
    const circuit_id = await lots.circuit.add({
      tag: `K-${String(route.index + 1).padStart(4, "0")}-${String(place + 1).padStart(3, "0")}`,
      application: "10GBASE-LR",
      strands: 1,
      state: "in_service",
    });
    for (let n = 0; n < cables; n += 1) {
      await lots.assignment.add({ circuit_id, section_id: sectionAt(n, place), ordinal: n + 1, role: "both" });
    }
    if (random.oneIn(200)) {
      const other = await lots.circuit.add({
        tag: `K-${String(route.index + 1).padStart(4, "0")}-${String(place + 1).padStart(3, "0")}X`,
        application: "1000BASE-LX",
        strands: 1,
        state: "reserved",
      });
      await lots.assignment.add({ circuit_id: other, section_id: sectionAt(0, place), ordinal: 1, role: "both" });
      truth.twice.push(`${cableTag(route.firstCable)}:${place + 1}`);
    }
  }

  for (let place = 0; place < strands && truth.lines.length < LINES_KEPT; place += 17) {
    if (openPlaces.has(place)) continue;
    const port = `${String(Math.floor(place / 2) + 1).padStart(2, "0")}#${(place % 2) + 1}`;
    truth.lines.push({
      from: `${panels[0]}:${port}`,
      to: `${panels[1]}:${port}`,
      hops: cables * 2 + 1,
      length_m: Math.round(length_m * 1000) / 1000,
    });
  }
}
