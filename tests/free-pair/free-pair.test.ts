/** Free strands from one place to another, on small plants made by hand. */
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { Where } from "../../core/free-pair/endpoints.ts";
import { freePair } from "../../core/free-pair/free-pair.ts";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import { Refusal } from "../../core/result.ts";
import { Made, type MadeCable, type MadePlant } from "../glass/made.ts";

const TODAY = "2031-06-01";

interface More {
  readonly avoid?: string;
  readonly most?: number;
  readonly separate?: boolean;
}
const ask = (plant: MadePlant, from: Where, to: Where, strands: number, more: More = {}): Promise<FreePairAnswer> =>
  plant.read(async (reader) =>
    freePair(
      reader,
      { from, to, strands, avoid: more.avoid ?? null, separate: more.separate ?? false, most: more.most ?? 9 },
      { today: TODAY, plant: await loadPlantGlass(reader, async () => {}), pause: async () => {} },
    ),
  );
const refused = async (plant: MadePlant, from: Where, to: Where, strands: number) => {
  const error = await ask(plant, from, to, strands).catch((thrown) => thrown);
  if (!(error instanceof Refusal)) throw error;
  return error.failure;
};
/** Each way as its cables, what it takes and its length. */
const told = ({ ways }: FreePairAnswer): string[] =>
  ways.map(
    ({ stretches, splices, cords, length_m }) =>
      `${stretches.map(({ cables }) => cables.map(({ tag }) => tag).join("=")).join("+")} ${splices}s ${cords}c ${length_m}`,
  );
const strandsOf = ({ ways }: FreePairAnswer, way = 0): string[] =>
  ways[way]?.stretches.flatMap(({ strands }) => strands.map(({ sections }) => sections.map(({ tag }) => tag).join())) ??
  [];

/** Three buildings and a hole; cables are landed at both ends unless they end in the hole. */
class Plant extends Made {
  readonly lib = this.room("101", this.building("LIB"));
  readonly mil = this.room("ER", this.building("MIL"));
  readonly gym = this.room("ER", this.building("GYM"));
  readonly hole = this.room("MH-1", null);
  #panels = 0;

  laid(tag: string, from: number, to: number, strands: number, length_m: number | null): MadeCable {
    const way = this.pathway(`W-${tag}`, from, to, length_m);
    const cable = this.cable(tag, [from, to], strands, { ways: [way] });
    for (const [room, side] of [
      [from, "A"],
      [to, "B"],
    ] as const) {
      if (room === this.hole) continue;
      const panel = this.panel(`P${++this.#panels}`, room, Math.ceil(strands / 2), 2, { front: "empty" });
      for (const [n, section] of cable.sections.entries()) this.land(section, side, panel.positions[n]);
    }
    return cable;
  }
}

describe("free strands from one building to another", () => {
  it("go through without a joint first, then over cords, then over splices; the shorter before the longer", async () => {
    const made = new Plant();
    made.laid("F-1", made.lib, made.mil, 2, 900);
    made.laid("F-2", made.lib, made.mil, 2, 500);
    made.laid("F-3", made.lib, made.gym, 2, 10);
    made.laid("F-4", made.gym, made.mil, 2, 10);
    made.laid("F-5", made.lib, made.hole, 2, 20);
    made.laid("F-6", made.hole, made.mil, 2, 20);
    const plant = await made.plant();
    const answer = await ask(plant, "LIB", "MIL", 2);
    expect(told(answer)).toEqual(["F-2 0s 0c 500", "F-1 0s 0c 900", "F-3+F-4 0s 2c 20", "F-5+F-6 2s 0c 40"]);
    expect(answer.ways[2]?.joints).toMatchObject([{ space: { tag: "GYM/ER" }, kind: "cord", count: 2 }]);
    expect(answer.ways[3]?.joints).toMatchObject([{ space: { tag: "MH-1" }, kind: "splice", count: 2 }]);
    expect(answer.ways[0]?.stretches[0]?.strands[0]).toMatchObject({
      from: { tag: "LIB/101/P3:01#1" },
      to: { tag: "MIL/ER/P4:01#1" },
      sections: [{ tag: "F-2:1" }],
    });
    expect(answer.sentence).toMatch(/^The best way with 2 free strands from LIB to MIL runs through/);
    // Turned round it is the same way, told from the other end.
    expect(told(await ask(plant, "MIL", "LIB", 2))).toEqual([
      "F-2 0s 0c 500",
      "F-1 0s 0c 900",
      "F-4+F-3 0s 2c 20",
      "F-6+F-5 2s 0c 40",
    ]);
    expect(told(await ask(plant, "LIB", "MIL", 2, { most: 1 }))).toEqual(["F-2 0s 0c 500"]);
  });

  it("kept for repair in the middle of a way make the whole way one of the last", async () => {
    const made = new Plant();
    const [one, two] = [made.room("ER", made.building("ONE")), made.room("ER", made.building("TWO"))];
    made.laid("F-1", made.lib, one, 6, 10);
    made.laid("F-2", one, two, 2, 10);
    made.laid("F-3", two, made.mil, 6, 10);
    made.laid("F-4", made.lib, made.hole, 6, 500);
    made.laid("F-5", made.hole, made.mil, 6, 500);
    made.add("limit_value", { tag: "repair.keep_strands", value: 2 });
    const plant = await made.plant();
    const answer = await ask(plant, "LIB", "MIL", 2);
    expect(told(answer)).toEqual(["F-4+F-5 2s 0c 1000", "F-1+F-2+F-3 0s 4c 30"]);
    expect(answer.ways.map(({ kept_for_repair }) => kept_for_repair)).toEqual([0, 2]);
    expect(strandsOf(answer, 1)).toEqual(["F-1:1", "F-1:2", "F-2:1", "F-2:2", "F-3:1", "F-3:2"]);
  });

  it("are told for a port and a panel by their own strands alone", async () => {
    const made = new Plant();
    made.laid("F-1", made.lib, made.mil, 4, 100);
    made.laid("F-2", made.lib, made.mil, 4, 50);
    const plant = await made.plant();
    expect(strandsOf(await ask(plant, "LIB/101/P1:02", "MIL", 2))).toEqual(["F-1:3", "F-1:4"]);
    expect(strandsOf(await ask(plant, "MIL", "LIB/101/P1", 1))).toEqual(["F-1:1"]);
    expect(told(await ask(plant, "LIB/101/P1", "MIL/ER/P4", 2))).toEqual([]);
  });

  it("are neighbours where there are some, from an odd number on", async () => {
    const made = new Plant();
    const { sections } = made.laid("F-1", made.lib, made.mil, 9, 100);
    made.circuit("K-1", [sections[1] as number]);
    made.circuit("K-2", [sections[5] as number]);
    const plant = await made.plant();
    expect(strandsOf(await ask(plant, "LIB", "MIL", 2))).toEqual(["F-1:3", "F-1:4"]);
    expect(strandsOf(await ask(plant, "LIB", "MIL", 3))).toEqual(["F-1:3", "F-1:4", "F-1:5"]);
    const four = await ask(plant, "LIB", "MIL", 4);
    expect([strandsOf(four), four.ways[0]?.adjacent]).toEqual([["F-1:1", "F-1:3", "F-1:4", "F-1:5"], false]);
    expect((await ask(plant, "LIB", "MIL", 8)).sentence).toBe(
      "No way with 8 free strands from LIB to MIL is on record.",
    );
  });

  it("are neither given, promised, broken nor degraded; nor patched, forked, foreign or not yet laid", async () => {
    const made = new Plant();
    const { sections, strands } = made.laid("F-1", made.lib, made.mil, 7, 100);
    made.circuit("K-1", [sections[0] as number]);
    made.circuit("K-2", [sections[1] as number], {}, { from_on: "2032-01-01" });
    for (const [n, condition] of [
      [2, "broken"],
      [3, "degraded"],
    ] as const) {
      Object.assign(made.rows.find(({ kind, id }) => kind === "strand" && id === strands[n])?.values ?? {}, {
        condition,
      });
    }
    const switches = made.device("SW", made.lib, 1, 2);
    made.cord(3, switches.ports[0], { fibres: 2 });
    made.circuit("K-9", [sections[6] as number], { state: "retired" });
    const other = made.add("party", { tag: "Other", role: "owner" });
    made.laid("F-2", made.lib, made.mil, 2, 10);
    Object.assign(made.rows.filter(({ kind }) => kind === "cable").at(-1)?.values ?? {}, { owner_id: other });
    made.laid("F-3", made.lib, made.mil, 2, 10);
    Object.assign(made.rows.filter(({ kind }) => kind === "cable").at(-1)?.values ?? {}, { life: "planned" });
    const answer = await ask(await made.plant(), "LIB", "MIL", 1);
    expect(told(answer)).toEqual(["F-1 0s 0c 100"]);
    expect(strandsOf(answer)).toEqual(["F-1:7"]);
  });

  it("whose length is not known come after those whose length is, and say what it lacks", async () => {
    const made = new Plant();
    made.laid("F-1", made.lib, made.mil, 1, null);
    made.laid("F-2", made.lib, made.mil, 1, 5000);
    const answer = await ask(await made.plant(), "LIB", "MIL", 1);
    expect(told(answer)).toEqual(["F-2 0s 0c 5000", "F-1 0s 0c null"]);
    expect(answer.ways[1]?.lacks).toEqual(["the length of W-F-1 is not on record"]);
  });

  it("keep away from the cables, pipes and pathways of a circuit, and from ways that are not on record", async () => {
    const made = new Plant();
    const { sections } = made.laid("F-1", made.lib, made.mil, 2, 100);
    made.circuit("K-1", [sections[0] as number]);
    const beside = made.laid("F-2", made.lib, made.mil, 1, 50);
    Object.assign(made.rows.filter(({ kind }) => kind === "leg").at(-1)?.values ?? {}, { pathway_id: 1 });
    made.laid("F-3", made.lib, made.mil, 1, 50);
    Object.assign(made.rows.filter(({ kind }) => kind === "leg").at(-1)?.values ?? {}, { pathway_id: null });
    made.laid("F-4", made.lib, made.mil, 1, 700);
    expect(beside.tag).toBe("F-2");
    const answer = await ask(await made.plant(), "LIB", "MIL", 1, { avoid: "K-1" });
    expect(told(answer)).toEqual(["F-4 0s 0c 700"]);
    expect(answer.unknown).toEqual(["Free glass whose way is not wholly on record is left out: it may lie beside."]);
  });
});

describe("glass that is joined already", () => {
  /** Two cables spliced in the hole, the second entered from the far end. */
  function spliced(made: Plant): void {
    const first = made.laid("F-1", made.lib, made.hole, 3, 100);
    const second = made.laid("F-2", made.mil, made.hole, 3, 50);
    for (const n of [0, 1, 2]) made.splice(first.sections[n], "B", second.sections[n], "B");
  }
  const room = (made: Plant, ports: readonly number[], front: string): void => {
    for (const { kind, id, values } of made.rows)
      if (kind === "port" && ports.includes(id)) Object.assign(values, { front });
  };

  it("is told in order from the end that was named, over splices and cords", async () => {
    const made = new Plant();
    spliced(made);
    const plant = await made.plant();
    const answer = await ask(plant, "LIB", "MIL", 1);
    expect(told(answer)).toEqual(["F-1=F-2 0s 0c 150"]);
    expect(strandsOf(answer)).toEqual(["F-1:1,F-2:1"]);
    expect(strandsOf(await ask(plant, "MIL", "LIB", 1))).toEqual(["F-2:1,F-1:1"]);
  });

  it("is told in order wherever in the record its pieces stand", async () => {
    const made = new Plant();
    const hole = made.room("MH-2", null);
    const last = made.cable("F-1", [hole, made.mil], 1);
    const middle = made.cable("F-2", [made.hole, hole], 1);
    const first = made.laid("F-3", made.lib, made.hole, 1, 10);
    made.land(last.sections[0], "B", made.panel("Z", made.mil, 1, 1, { front: "empty" }).positions[0]);
    made.splice(first.sections[0], "B", middle.sections[0], "A");
    made.splice(middle.sections[0], "B", last.sections[0], "A");
    expect(strandsOf(await ask(await made.plant(), "LIB", "MIL", 1))).toEqual(["F-3:1,F-2:1,F-1:1"]);
  });

  it("is not free where any of it is given, a plug was seen in front, or a cord hangs loose", async () => {
    const made = new Plant();
    spliced(made);
    made.circuit("K-1", [4]);
    room(made, [4], "cord");
    const plant = await made.plant();
    // The first is given; the third has a plug at the far end.
    expect(strandsOf(await ask(plant, "LIB", "MIL", 1))).toEqual(["F-1:2,F-2:2"]);
    expect(told(await ask(plant, "LIB", "MIL", 2))).toEqual([]);
    const loose = new Plant();
    loose.laid("F-1", loose.lib, loose.mil, 2, 10);
    loose.cord(2, null, { fibres: 2 });
    expect(told(await ask(await loose.plant(), "LIB", "MIL", 1))).toEqual([]);
  });
});

describe("two separate routes", () => {
  /**
   * From LIB to MIL through three holes each way; the shortest route of all crosses from one side to the other, so that
   * nothing separate is left beside it.
   */
  async function trap(cross_m: number | null): Promise<MadePlant> {
    const made = new Plant();
    const [north, south] = [made.room("N", null), made.room("S", null)];
    made.laid("F-1", made.lib, north, 2, 10);
    made.laid("F-2", north, made.mil, 2, 100);
    made.laid("F-3", made.lib, south, 2, 100);
    made.laid("F-4", south, made.mil, 2, 10);
    made.laid("F-5", north, south, 2, cross_m);
    return made.plant();
  }
  const routes = ({ separate }: FreePairAnswer): string[] | undefined =>
    separate?.routes.map(
      ({ cables, length_m, joints }) => `${cables.map(({ tag }) => tag).join("+")} ${length_m} ${joints}`,
    );

  it("are the shortest together, though neither is the shortest of all", async () => {
    const answer = await ask(await trap(5), "LIB", "MIL", 2, { separate: true });
    expect(routes(answer)).toEqual(["F-1+F-2 110 2", "F-3+F-4 110 2"]);
    expect(answer.separate?.length_m).toBe(220);
    expect(answer.separate?.routes[0]?.through.map(({ tag }) => tag)).toEqual([
      ...["LIB/101", "W-F-1", "N", "W-F-2", "MIL/ER"],
    ]);
    expect((await ask(await trap(5), "LIB", "MIL", 2)).separate).toBeNull();
  });

  it("are none where both would need one hole, or too few strands are free", async () => {
    expect((await ask(await trap(5), "LIB", "MIL", 3, { separate: true })).separate).toBeNull();
    const made = new Plant();
    made.laid("F-1", made.lib, made.hole, 2, 10);
    made.laid("F-2", made.lib, made.hole, 2, 10);
    made.laid("F-3", made.hole, made.mil, 2, 10);
    made.laid("F-4", made.hole, made.mil, 2, 10);
    const answer = await ask(await made.plant(), "LIB", "MIL", 1, { separate: true });
    expect([answer.ways.length > 0, answer.separate]).toEqual([true, null]);
    expect(answer.sentence).toMatch(/No two separate routes are on record/);
  });

  it("need enough free strands all the way", async () => {
    const made = new Plant();
    const hole = made.room("MH-2", null);
    made.laid("F-1", made.lib, made.mil, 2, 10);
    made.laid("F-2", made.lib, made.hole, 2, 10);
    made.laid("F-3", made.hole, hole, 1, 10);
    made.laid("F-4", hole, made.mil, 2, 10);
    const plant = await made.plant();
    expect(routes(await ask(plant, "LIB", "MIL", 1, { separate: true }))).toEqual(["F-1 10 0", "F-2+F-3+F-4 30 2"]);
    expect((await ask(plant, "LIB", "MIL", 2, { separate: true })).separate).toBeNull();
  });

  it("take a pathway whose length is not known where there is no other, and say so", async () => {
    const made = new Plant();
    made.laid("F-1", made.lib, made.mil, 1, 900);
    made.laid("F-2", made.lib, made.mil, 1, null);
    const plant = await made.plant();
    const answer = await ask(plant, "LIB", "MIL", 1, { separate: true });
    expect(routes(answer)).toEqual(["F-1 900 0", "F-2 null 0"]);
    expect(answer.separate).toMatchObject({
      length_m: null,
      routes: [{}, { lacks: ["the length of W-F-2 is not on record"] }],
    });
  });

  it("keep away from a circuit, and from ways that are not on record", async () => {
    const made = new Plant();
    const { sections } = made.laid("F-1", made.lib, made.mil, 3, 10);
    made.circuit("K-1", [sections[0] as number]);
    for (const n of [2, 3, 4]) made.laid(`F-${n}`, made.lib, made.mil, 1, n * 100);
    made.laid("F-5", made.lib, made.mil, 1, 1);
    const other = made.add("party", { tag: "Other", role: "owner" });
    Object.assign(made.rows.filter(({ kind }) => kind === "cable").at(-1)?.values ?? {}, { owner_id: other });
    Object.assign(made.rows.filter(({ kind }) => kind === "leg")[1]?.values ?? {}, { pathway_id: null });
    const plant = await made.plant();
    expect(routes(await ask(plant, "LIB", "MIL", 1, { separate: true }))).toEqual(["F-1 10 0", "F-3 300 0"]);
    expect(routes(await ask(plant, "LIB", "MIL", 1, { separate: true, avoid: "K-1" }))).toEqual([
      "F-3 300 0",
      "F-4 400 0",
    ]);
  });
});

describe("what can't be asked", () => {
  it("is refused in words: the same place twice, unknown tags, equipment, more strands than positions", async () => {
    const made = new Plant();
    made.laid("F-1", made.lib, made.mil, 4, 100);
    made.device("SW", made.lib, 1, 2);
    const plant = await made.plant();
    expect(await refused(plant, "LIB", "LIB", 1)).toMatchObject({
      code: "not_possible",
      problems: [{ record: "LIB", field: "to", reason: "is the same as from" }],
    });
    expect((await refused(plant, "LIB", "LIB/101", 1)).code).toBe("not_possible");
    expect(await refused(plant, "NOWHERE", "LIB", 1)).toMatchObject({
      code: "not_found",
      problems: [{ field: "from" }],
    });
    expect((await refused(plant, "LIB/101/SW:01", "MIL", 1)).message).toMatch(/port of equipment/);
    expect((await refused(plant, "LIB/101/P1:01", "MIL", 3)).message).toBe(
      "LIB/101/P1:01 has 2 positions, and 3 strands are wanted.",
    );
    // A plant in pieces has no way, which is an answer.
    expect(told(await ask(plant, "LIB", "GYM", 1))).toEqual([]);
  });
});
