/** What is lost with a place, a way or a cable, on small plants made by hand. */
import { describe, expect, it } from "vitest";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import type { ImpactAnswer } from "../../core/impact/answer.ts";
import { impactOf } from "../../core/impact/impact.ts";
import type { What } from "../../core/impact/lost.ts";
import { Refusal } from "../../core/result.ts";
import { Made, type MadePlant } from "../glass/made.ts";

const TODAY = "2031-06-01";

/** Both ways of asking: with the plant in memory, and with what is needed read from the file. */
const ask = (plant: MadePlant, ...what: What[]): Promise<ImpactAnswer> =>
  plant.read(async (reader) => {
    const held = await loadPlantGlass(reader, async () => {});
    const cold = await impactOf(reader, what, { today: TODAY, held: null });
    expect(await impactOf(reader, what, { today: TODAY, held })).toEqual(cold);
    return cold;
  });
const refused = async (plant: MadePlant, ...what: What[]) => {
  const error = await ask(plant, ...what).catch((thrown) => thrown);
  if (!(error instanceof Refusal)) throw error;
  return error.failure;
};
const lost = ({ cables }: ImpactAnswer): string[] =>
  cables.map(({ cable, strands, of }) => `${cable.tag} ${strands}/${of}`);
const hit = ({ circuits }: ImpactAnswer): string[] => circuits.map(({ circuit, how }) => `${circuit.tag} ${how}`);
const dark = ({ buildings }: ImpactAnswer): string[] =>
  buildings.flatMap((one) => (one.dark ? [one.building.tag] : []));
const plain = (sentence: string): string => sentence.replace(/\u202f/g, " ");

/** The Library and the Mill, two holes between them, and three ways. */
function campus() {
  const made = new Made();
  const lib = made.building("LIB", { name: "Library" });
  const mil = made.building("MIL", { name: "Mill" });
  const spaces = {
    room: made.room("101", lib),
    one: made.room("MH-1", null),
    two: made.room("MH-2", null),
    mill: made.room("ER", mil),
  };
  const ways = {
    a: made.pathway("DB-1", spaces.room, spaces.one, 50),
    b: made.pathway("DB-2", spaces.one, spaces.two, 80),
    c: made.pathway("DB-3", spaces.two, spaces.mill, 40),
    d: made.pathway("TN-1", spaces.room, spaces.mill, 200),
  };
  return { made, lib, mil, ...spaces, ...ways };
}

describe("what is lost with a pathway", () => {
  it("is all glass of the cables that lie in it, and what that glass is given to, by priority", async () => {
    const { made, room, one, two, mill, a, b, c, d } = campus();
    const panels = [made.panel("A", room, 8), made.panel("Z", mill, 8)] as const;
    const bank = made.cable("F-1", [room, one, two, mill], 3, { ways: [a, b, c] });
    const tunnel = made.cable("F-2", [room, mill], 1, { ways: [d] });
    for (const [n, section] of [...bank.sections, ...tunnel.sections].entries()) {
      made.land(section, "A", panels[0].positions[n]);
      made.land(section, "B", panels[1].positions[n]);
    }
    made.circuit("K-1", [bank.sections[0] as number], { priority: 3 });
    made.circuit("K-2", [bank.sections[1] as number], { priority: 1 });
    made.circuit("K-3", [tunnel.sections[0] as number], { priority: 1 });
    const plant = await made.plant();
    const answer = await ask(plant, "DB-2");
    expect(lost(answer)).toEqual(["F-1 3/3"]);
    expect(answer.cables[0]?.rests_on.map(({ kind }) => kind)).toEqual(["leg"]);
    expect(hit(answer)).toEqual(["K-2 given", "K-1 given"]);
    expect(answer.by_priority).toEqual([
      { priority: 1, in_service: 1, other: 0 },
      { priority: 3, in_service: 1, other: 0 },
    ]);
    const [library] = answer.buildings;
    expect(library).toMatchObject({
      building: { tag: "LIB" },
      circuits: 2,
      lit: [{ tag: "K-3" }],
      dark: false,
      whole_strands: 1,
      strands: 4,
    });
    expect(plain(answer.sentence)).toBe(
      "Losing DB-2 takes 3 strands of 1 cable and 2 circuits in service, 1 of priority 1.",
    );
    expect(dark(await ask(plant, "DB-2", "TN-1"))).toEqual(["LIB", "MIL"]);
    expect(await ask(plant, "DB-2", "DB-2")).toEqual(answer);
  });

  it("is nothing where no cable lies in it; what may lie in it is told", async () => {
    const { made, one, two, room } = campus();
    made.cable("F-1", [room, one, two], 2, { ways: [null, null] });
    const plant = await made.plant();
    const answer = await ask(plant, "DB-2");
    expect([answer.strands, answer.cables, answer.buildings]).toEqual([0, [], []]);
    expect(answer.unknown).toEqual(["The way of F-1 beside DB-2 is not on record: it may lie in it."]);
    expect(answer.sentence).toBe(
      "No glass and no circuit on record is lost with DB-2. The record leaves some of it open.",
    );
    expect((await ask(plant, "TN-1")).unknown).toEqual([]);
  });

  it("is on both sides of a stop that a leg was drawn past", async () => {
    const { made, room, one, mill, d } = campus();
    const { stops, strands, sections } = made.cable("F-1", [room, one, mill], 1, { ways: [null, null] });
    made.add("leg", { from_stop_id: stops[0], to_stop_id: stops[2], pathway_id: d });
    const row = made.rows.find(({ kind, id }) => kind === "section" && id === sections[0]);
    Object.assign(row?.values ?? {}, { b_stop_id: stops[1] });
    const far = made.section(strands[0] as number, stops[1] as number, stops[2] as number, 2);
    made.circuit("K-1", [sections[0] as number]);
    made.circuit("K-2", [far]);
    expect(hit(await ask(await made.plant(), "TN-1"))).toEqual(["K-1 given", "K-2 given"]);
  });

  it("darkens the buildings that circuits end in, not those where they are only patched through", async () => {
    const { made, room, one, mill, a } = campus();
    const gym = made.room("ER", made.building("GYM"));
    const [near, far, between] = [made.panel("A", room, 2), made.panel("Z", mill, 2), made.panel("G", gym, 4)];
    const first = made.cable("F-1", [room, one, gym], 2, { ways: [a, null] });
    const second = made.cable("F-2", [gym, mill], 2);
    for (const n of [0, 1]) {
      made.land(first.sections[n], "A", near.positions[n]);
      made.land(first.sections[n], "B", between.positions[n]);
      made.land(second.sections[n], "A", between.positions[n + 2]);
      made.land(second.sections[n], "B", far.positions[n]);
      made.cord(between.ports[n], between.ports[n + 2]);
    }
    made.circuit("K-1", [first.sections[0] as number, second.sections[0] as number], {
      a_port_id: near.ports[0],
      z_port_id: far.ports[0],
    });
    made.circuit("K-2", [first.sections[1] as number], { state: "reserved" });
    const answer = await ask(await made.plant(), "DB-1");
    expect(hit(answer)).toEqual(["K-1 given", "K-2 given"]);
    expect(answer.buildings.map(({ building, circuits, dark }) => [building.tag, circuits, dark])).toEqual([
      ["LIB", 1, true],
      ["MIL", 1, true],
    ]);
  });

  it("leaves what was never laid, and what was taken out", async () => {
    const { made, one, two, b } = campus();
    made.cable("F-1", [one, two], 2, { ways: [b], values: { life: "planned" } });
    made.cable("F-2", [one, two], 2, { ways: [b], values: { life: "removed" } });
    const plant = await made.plant();
    expect(lost(await ask(plant, "DB-2"))).toEqual([]);
    expect((await ask(plant, "F-1")).unknown).toEqual(["F-1 is not in place: nothing is lost with it."]);
  });
});

describe("what is lost with one pipe", () => {
  it("is what lies in it and in the pipes inside it, not what lies beside", async () => {
    const { made, one, two, b } = campus();
    const pipe = made.add("conduit", { tag: "1", pathway_id: b });
    const inner = made.add("conduit", { tag: "1a", pathway_id: b, parent_id: pipe });
    const beside = made.add("conduit", { tag: "2", pathway_id: b });
    for (const [tag, conduit_id] of [
      ["F-1", pipe],
      ["F-2", inner],
      ["F-3", beside],
      ["F-4", null],
    ] as const) {
      made.cable(tag, [one, two], 1, { ways: [b] });
      Object.assign(made.rows.filter(({ kind }) => kind === "leg").at(-1)?.values ?? {}, { conduit_id });
    }
    const plant = await made.plant();
    const answer = await ask(plant, "DB-2/1");
    expect(lost(answer)).toEqual(["F-1 1/1", "F-2 1/1"]);
    expect(answer.unknown).toEqual(["In which pipe of DB-2 F-4 lies is not on record: it may be DB-2/1."]);
    expect(lost(await ask(plant, "DB-2/1a"))).toEqual(["F-2 1/1"]);
    expect(lost(await ask(plant, "DB-2"))).toEqual(["F-1 1/1", "F-2 1/1", "F-3 1/1", "F-4 1/1"]);
  });
});

describe("what is lost with a place", () => {
  it("is glass that ends there, passes it, or lies in ways that open into it", async () => {
    const { made, room, one, two, mill, a, b, c } = campus();
    made.cable("F-1", [room, one], 1, { ways: [a] });
    made.cable("F-2", [room, one, two], 1, { ways: [a, b] });
    // Its stop at MH-1 was never recorded; but its ways meet there.
    made.cable("F-3", [room, two], 1, { ways: [a] });
    made.add("leg", { from_stop_id: 6, to_stop_id: 7, pathway_id: b });
    made.cable("F-4", [two, mill], 1, { ways: [c] });
    // Of its way on from DB-2 nothing is on record; but DB-2 opens into MH-1.
    made.cable("F-5", [two, mill], 1, { ways: [b] });
    expect(lost(await ask(await made.plant(), "MH-1"))).toEqual(["F-1 1/1", "F-2 1/1", "F-3 1/1", "F-5 1/1"]);
  });

  it("is of a strand that is cut there both pieces, and elsewhere the one that lies there", async () => {
    const { made, room, one, two, a, b } = campus();
    const { strands, stops, sections } = made.cable("F-1", [room, one, two], 1, { ways: [a, b] });
    const row = made.rows.find(({ kind, id }) => kind === "section" && id === sections[0]);
    Object.assign(row?.values ?? {}, { b_stop_id: stops[1] });
    const second = made.section(strands[0] as number, stops[1] as number, stops[2] as number, 2);
    made.circuit("K-1", [sections[0] as number]);
    made.circuit("K-2", [second]);
    const plant = await made.plant();
    expect(hit(await ask(plant, "DB-1"))).toEqual(["K-1 given"]);
    expect(hit(await ask(plant, "DB-2"))).toEqual(["K-2 given"]);
    expect(hit(await ask(plant, "MH-1"))).toEqual(["K-1 given", "K-2 given"]);
  });

  it("is also each circuit with a port there, and what lands there though no stop tells of it", async () => {
    const { made, room, one, mill, lib } = campus();
    const panel = made.panel("A", room, 2);
    made.circuit("K-1", [], { a_port_id: panel.ports[0] });
    const stray = made.cable("F-1", [null, one], 1);
    made.land(stray.sections[0], "A", panel.positions[1]);
    made.circuit("K-2", [stray.sections[0] as number]);
    made.panel("Z", mill, 1);
    const plant = await made.plant();
    for (const what of ["LIB/101", { kind: "building", id: lib } as const]) {
      const answer = await ask(plant, what);
      expect(hit(answer)).toEqual(["K-1 port", "K-2 given"]);
      expect(lost(answer)).toEqual(["F-1 1/1"]);
      expect(answer.buildings[0]).toMatchObject({ building: { tag: "LIB" }, is_lost: true, dark: true });
    }
  });
});

describe("which circuits are hit", () => {
  it("are those whose glass is joined to lost glass that nobody gave them, over splices and cords", async () => {
    const { made, room, one, two, mill, a, b, c } = campus();
    const first = made.cable("F-1", [room, one], 1, { ways: [a] });
    const second = made.cable("F-2", [one, two], 1, { ways: [b] });
    const third = made.cable("F-3", [two, mill], 1, { ways: [c] });
    made.splice(first.sections[0], "B", second.sections[0], "A");
    made.splice(second.sections[0], "B", third.sections[0], "A");
    made.circuit("K-1", [first.sections[0] as number]);
    const other = made.cable("F-4", [room, one], 1, { ways: [a] });
    made.circuit("K-2", [other.sections[0] as number]);
    const answer = await ask(await made.plant(), "F-3");
    expect(hit(answer)).toEqual(["K-1 joined"]);
    expect(answer.circuits[0]?.cables.map(({ tag }) => tag)).toEqual(["F-3"]);
  });

  it("are not those below another output of a splitter", async () => {
    const { made, room, one, two, mill, a } = campus();
    const inlet = made.cable("F-1", [room, one], 1, { ways: [a] });
    const legs = [made.cable("F-2", [one, two], 1), made.cable("F-3", [one, mill], 1)];
    const module = made.module("SP", one, "splitter", 3);
    const [into, ...outs] = module.positions;
    made.land(inlet.sections[0], "B", into);
    for (const [n, leg] of legs.entries()) {
      made.land(leg.sections[0], "A", outs[n]);
      made.join(module.id, into, outs[n], { a_side: "front", b_side: "front" });
    }
    const k2 = made.circuit("K-2", [legs[0]?.sections[0] as number]);
    made.circuit("K-3", [legs[1]?.sections[0] as number]);
    const k9 = made.circuit("K-9", [], { rides_on_id: k2, state: "planned" });
    made.circuit("K-99", [], { rides_on_id: k9, state: "planned" });
    const plant = await made.plant();
    expect(hit(await ask(plant, "F-2"))).toEqual(["K-2 given", "K-9 rides_on", "K-99 rides_on"]);
    expect(hit(await ask(plant, "F-1"))).toEqual(["K-2 joined", "K-3 joined", "K-9 rides_on", "K-99 rides_on"]);
  });

  it("are not retired ones, nor those to whom the glass was given until today or from tomorrow", async () => {
    const { made, room, one, a } = campus();
    const { sections } = made.cable("F-1", [room, one], 3, { ways: [a] });
    made.circuit("K-1", [sections[0] as number], { state: "retired" });
    made.circuit("K-2", [sections[1] as number], {}, { until_on: TODAY });
    made.circuit("K-3", [sections[2] as number], {}, { from_on: "2031-06-02" });
    expect(hit(await ask(await made.plant(), "DB-1"))).toEqual([]);
  });

  it("tell which circuits declared diverse stay, and which are hit with them", async () => {
    const { made, room, one, mill, a, d } = campus();
    const bank = made.cable("F-1", [room, one], 2, { ways: [a] });
    const tunnel = made.cable("F-2", [room, mill], 1, { ways: [d] });
    const k1 = made.circuit("K-1", [bank.sections[0] as number]);
    const k2 = made.circuit("K-2", [tunnel.sections[0] as number]);
    const k3 = made.circuit("K-3", [bank.sections[1] as number]);
    made.add("diversity", { circuit_id: k1, other_id: k2 });
    made.add("diversity", { circuit_id: k3, other_id: k1 });
    const plant = await made.plant();
    const answer = await ask(plant, "DB-1");
    const of = (tag: string) => answer.circuits.find(({ circuit }) => circuit.tag === tag);
    expect(of("K-1")).toMatchObject({ stays: [{ tag: "K-2" }], also_hit: [{ tag: "K-3" }] });
    expect(of("K-3")).toMatchObject({ stays: [], also_hit: [{ tag: "K-1" }] });
    expect(answer.diverse.map(({ circuit, other, shared }) => [circuit.tag, other.tag, shared[0]?.tag])).toEqual([
      ["K-3", "K-1", "DB-1"],
    ]);
    // Hit by two things at once, they share neither.
    const both = await ask(plant, "F-1", "F-2");
    expect(both.diverse.map(({ circuit, shared }) => [circuit.tag, shared.length])).toEqual([
      ["K-1", 0],
      ["K-3", 1],
    ]);
  });
});

describe("a stretch of a cable between two marks", () => {
  /** Marks in feet that fall from A to B, with one strand cut at the hole and one that runs through. */
  async function marked(breaks?: readonly { at_mark: number; jumps_to: number }[]) {
    const { made, room, one, mill } = campus();
    const { strands, stops, sections } = made.cable("F-1", [room, one, mill], 2, {
      values: { mark_unit: "ft", ...(breaks ? { mark_breaks: JSON.stringify(breaks) } : {}) },
      stop: [
        { mark_out: 900 },
        { kind: "opened", mark_in: 700, mark_open_from: 690, mark_open_to: 688, mark_out: 680 },
        { mark_in: breaks ? 850 : 500 },
      ],
    });
    const row = made.rows.find(({ kind, id }) => kind === "section" && id === sections[0]);
    Object.assign(row?.values ?? {}, { b_stop_id: stops[1] });
    const far = made.section(strands[0] as number, stops[1] as number, stops[2] as number, 2);
    made.circuit("K-near", [sections[0] as number]);
    made.circuit("K-far", [far]);
    made.circuit("K-through", [sections[1] as number]);
    made.cable("F-9", [room, one], 1);
    return made.plant();
  }

  it("is glass whose sheath lies between them, whichever is named first", async () => {
    const plant = await marked();
    for (const [what, wanted] of [
      ["F-1 800..750", ["K-near given", "K-through given"]],
      ["F-1 550..600", ["K-far given", "K-through given"]],
      ["F-1 689..689", ["K-through given"]],
      ["F-1 691..600", ["K-far given", "K-near given", "K-through given"]],
    ] as const) {
      const answer = await ask(plant, what);
      expect([what, ...hit(answer)]).toEqual([what, ...wanted]);
      expect(answer.unknown).toEqual([]);
    }
    const answer = await ask(plant, { cable: "F-1", from_mark: 550, to_mark: 600 });
    expect(answer.lost[0]?.marks).toEqual({ from: 600, to: 550, unit: "ft" });
    expect(plain(answer.sentence)).toMatch(/^Losing F-1 from mark 600 to 550 ft takes 2 strands of 1 cable/);
  });

  it("is refused where a mark is not on the cable, is on it twice, or none is on record", async () => {
    const plant = await marked();
    expect(await refused(plant, "F-1 499..600")).toMatchObject({
      code: "bad_input",
      problems: [
        { record: "F-1", field: "mark 499", reason: "is not on F-1: its marks on record run from 500 to 900" },
      ],
    });
    expect((await refused(plant, "F-9 1..2")).code).toBe("not_possible");
    // The print falls to 640 and begins anew at 950: 850 to 900 are printed twice.
    const twice = await marked([{ at_mark: 640, jumps_to: 950 }]);
    expect((await refused(twice, "F-1 870..860")).code).toBe("ambiguous");
    expect(hit(await ask(twice, "F-1 660..650"))).toEqual(["K-far given", "K-through given"]);
    expect(hit(await ask(twice, "F-1 940..930"))).toEqual(["K-far given", "K-through given"]);
  });

  it("counts glass whose end has no mark as lost up to the next mark, and says so", async () => {
    const { made, room, one, two } = campus();
    const { stops, sections } = made.cable("F-1", [room, one, two], 1, {
      values: { mark_unit: "m" },
      stop: [{ mark_out: 100 }, {}, { mark_in: 300 }],
    });
    const row = made.rows.find(({ kind, id }) => kind === "section" && id === sections[0]);
    Object.assign(row?.values ?? {}, { b_stop_id: stops[1] });
    const answer = await ask(await made.plant(), "F-1 250..290");
    expect(answer.strands).toBe(1);
    expect(answer.unknown).toHaveLength(1);
  });
});

describe("what is not on record", () => {
  it("is refused by name", async () => {
    const { made } = campus();
    const plant = await made.plant();
    expect(await refused(plant, "DB-1", "NOWHERE")).toMatchObject({ code: "not_found", problems: [{ field: "what" }] });
    expect((await refused(plant, { kind: "pathway", id: 99 })).code).toBe("not_found");
  });
});
