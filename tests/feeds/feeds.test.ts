/** What feeds a place, on small plants made by hand. */
import { describe, expect, it } from "vitest";
import type { FeedCable, FeedStrand, FeedsAnswer } from "../../core/feeds/answer.ts";
import { feeds } from "../../core/feeds/feeds.ts";
import { loadPlantGlass } from "../../core/glass/plant-glass.ts";
import { Made, type MadePlant } from "../glass/made.ts";

const TODAY = "2031-06-01";

/** Both ways of asking: with the plant in memory, and with what is needed read from the file. */
async function ask(plant: MadePlant, what: string, states?: ("spare" | "dead")[]): Promise<FeedsAnswer> {
  return plant.read(async (reader) => {
    const held = await loadPlantGlass(reader, async () => {});
    const cold = await feeds(reader, what, { today: TODAY, held: null, states });
    expect(await feeds(reader, what, { today: TODAY, held, states })).toEqual(cold);
    return cold;
  });
}
const plain = (sentence: string): string => sentence.replace(/\u202f/g, " ");
const states = ({ strands }: FeedCable): string[] => strands.map(({ strand, state }) => `${strand} ${state}`);
const strand = (answer: FeedsAnswer, name: string): FeedStrand =>
  answer.cables.flatMap(({ strands }) => strands).find((one) => one.strand === name) as FeedStrand;

/** The Library, its entrance room and a telecom room; the Mill; a hole between them. */
function campus() {
  const made = new Made();
  const lib = made.building("LIB", { name: "Library" });
  const mil = made.building("MIL", { name: "Mill" });
  const spaces = {
    er: made.room("ER", lib, { kind: "entrance_room" }),
    room: made.room("101", lib),
    hole: made.room("MH-1", null),
    mill: made.room("ER", mil),
  };
  return { made, lib, mil, ...spaces };
}

describe("what feeds a building", () => {
  it("is each cable from outside, by the room it comes in at, with the room its glass ends in", async () => {
    const { made, er, room, hole, mill } = campus();
    made.cable("F-1", [mill, hole, er, room], 2);
    made.cable("F-2", [er, hole], 1);
    const answer = await ask(await made.plant(), "LIB");
    expect(
      answer.cables.map(({ cable, entrance, ends_in, from }) => [
        cable.tag,
        entrance.space?.tag,
        ends_in.map(({ space }) => space?.tag).join(),
        from?.space?.tag,
      ]),
    ).toEqual([
      ["F-1", "LIB/ER", "LIB/101", "MIL/ER"],
      ["F-2", "LIB/ER", "LIB/ER", "MH-1"],
    ]);
    expect(answer.entrances.map(({ place, cables, counts }) => [place.space?.tag, cables, counts.spare])).toEqual([
      ["LIB/ER", 2, 3],
    ]);
    expect(plain(answer.sentence)).toMatch(/^2 cables through 1 entrance, 3 strands: 3 spare\./);
  });

  it("leaves out what lies inside alone, what is planned or gone; tells what only passes, and sheaths without strands", async () => {
    const { made, er, room, hole, mill } = campus();
    const owner = made.add("party", { tag: "CITY", role: "owner" });
    made.cable("F-1", [mill, er], 1);
    made.cable("RISER", [er, room], 12);
    made.cable("PLAN", [mill, er], 12, { values: { life: "planned" } });
    made.cable("GONE", [mill, er], 12, { values: { life: "removed" } });
    made.cable("PASS", [hole, er, mill], 4);
    made.cable("FOREIGN", [hole, er], 0, { values: { owner_id: owner } });
    const answer = await ask(await made.plant(), "LIB");
    expect(
      answer.cables.map(({ cable, passes_only, without_strands, express, owner: whose }) => [
        cable.tag,
        passes_only,
        without_strands,
        express,
        whose,
      ]),
    ).toEqual([
      ["F-1", false, false, 0, null],
      ["FOREIGN", false, true, 0, "CITY"],
      ["PASS", true, false, 4, null],
    ]);
    expect([answer.total, answer.inside]).toEqual([1, 1]);
    expect(plain(answer.sentence)).toBe(
      "1 cable through 1 entrance, 1 strand: 1 spare. 1 cable comes in whose strands are not on record, " +
        "1 cable only passes and 1 cable lies inside alone. Every way out shares MIL/ER.",
    );
  });

  it("counts both halves of a strand that is cut there, and says which run on", async () => {
    const { made, er, hole, mill } = campus();
    const cable = made.cable("F-1", [hole, er, mill], 3, { stop: [{}, { kind: "opened" }, {}] });
    const first = made.rows.find(({ kind, id }) => kind === "section" && id === cable.sections[0]);
    Object.assign(first?.values ?? {}, { b_stop_id: cable.stops[1] });
    made.section(cable.strands[0] as number, cable.stops[1] as number, cable.stops[2] as number, 2);
    const answer = await ask(await made.plant(), "LIB");
    expect(answer.cables.map(states)).toEqual([["F-1:1#1 dead", "F-1:1#2 dead"]]);
    expect(answer.cables[0]?.express).toBe(2);
    expect(strand(answer, "F-1:1#2").far).toMatchObject({ kind: "open_end", place: { building_name: "Mill" } });
  });

  it("of a place without any is said in words", async () => {
    const { made } = campus();
    const answer = await ask(await made.plant(), "LIB");
    expect([answer.sentence, answer.total, answer.cables]).toEqual(["No strand on record feeds Library.", 0, []]);
  });

  it("is asked of a room or hole too, and refused for what is neither", async () => {
    const { made, er, hole, mill } = campus();
    made.cable("F-1", [mill, hole, er], 2);
    made.cable("F-2", [hole, er], 1);
    const plant = await made.plant();
    const answer = await plant.run<FeedsAnswer>("feeds.of", { what: "MH-1" });
    expect(answer.cables.map(({ cable, passes_only }) => [cable.tag, passes_only])).toEqual([
      ["F-1", true],
      ["F-2", false],
    ]);
    expect((await plant.run<FeedsAnswer>("feeds.of", { what: { kind: "space", id: er } })).total).toBe(3);
    await expect(plant.run("feeds.of", { what: "F-1" })).rejects.toThrow(/F-1/);
    await expect(plant.run("feeds.of", { what: { kind: "building", id: 99 } })).rejects.toThrow("no longer on record");
    await expect(plant.run("feeds.of", { what: "LIB", states: ["nonsense"] })).rejects.toThrow();
  });
});

describe("the state of a strand", () => {
  it("is broken before all, then assigned twice, then its circuit's, then dead, then spare", async () => {
    const { made, er, mill } = campus();
    const cable = made.cable("F-1", [mill, er], 9, { stop: [{ kind: "end" }, {}] });
    const at = (n: number) => [cable.sections[n - 1] as number];
    const tenant = made.add("party", { tag: "CITY", role: "tenant" });
    const own = made.add("party", { tag: "US", role: "self" });
    made.circuit("K-1", [...at(1), ...at(2), ...at(3)]);
    made.circuit("K-2", [...at(1), ...at(2)]);
    made.circuit("K-3", at(4), { state: "reserved", reserved_until: "2031-05-01" });
    made.circuit("K-4", at(5), { state: "planned" });
    made.circuit("K-5", at(6), { owner_id: tenant });
    made.circuit("K-6", at(7), { owner_id: own });
    made.circuit("K-7", at(8), { state: "retired" });
    const broken = made.rows.find(({ kind, id }) => kind === "strand" && id === cable.strands[0]);
    Object.assign(broken?.values ?? {}, { condition: "broken", condition_why: "dug up" });
    const answer = await ask(await made.plant(), "LIB");
    expect(states(answer.cables[0] as FeedCable)).toEqual([
      "F-1:1 broken",
      "F-1:2 assigned_twice",
      "F-1:3 in_service",
      "F-1:4 reserved",
      "F-1:5 planned",
      "F-1:6 leased",
      "F-1:7 in_service",
      "F-1:8 spare",
      "F-1:9 spare",
    ]);
    expect(strand(answer, "F-1:1").why).toBe("dug up");
    expect(strand(answer, "F-1:2").why).toBe("given to K-1 and to K-2");
    expect(strand(answer, "F-1:4").why).toBe("the reservation for K-3 ended on 1 May 2031");
    expect(strand(answer, "F-1:6")).toMatchObject({ owner: "CITY", circuits: [{ tag: "K-5" }] });
    expect(answer.counts).toMatchObject({ broken: 1, assigned_twice: 1, in_service: 2, leased: 1, spare: 2 });
  });

  it("is not known for glass of another owner that nothing of ours is on", async () => {
    const { made, er, mill } = campus();
    const owner = made.add("party", { tag: "CITY", role: "owner" });
    const cable = made.cable("F-1", [mill, er], 2, { values: { owner_id: owner } });
    made.circuit("K-1", [cable.sections[0] as number]);
    const answer = await ask(await made.plant(), "LIB");
    expect(states(answer.cables[0] as FeedCable)).toEqual(["F-1:1 in_service", "F-1:2 unknown"]);
  });

  it("narrows the list but not the counts", async () => {
    const { made, er, mill } = campus();
    const cable = made.cable("F-1", [mill, er], 3);
    made.circuit("K-1", [cable.sections[0] as number]);
    const answer = await ask(await made.plant(), "LIB", ["spare"]);
    expect(answer.cables.map(states)).toEqual([["F-1:2 spare", "F-1:3 spare"]]);
    expect([answer.total, answer.counts.in_service]).toEqual([3, 1]);
  });
});

describe("the far end of a strand", () => {
  it("is where its trace away from here ends, with the sheath up to there", async () => {
    const { made, er, hole, mill } = campus();
    const values = { mark_unit: "m" };
    const near = made.cable("F-1", [er, hole], 2, { values, stop: [{ mark_out: 0 }, { mark_in: 120 }] });
    const far = made.cable("F-2", [hole, mill], 2, { values, stop: [{ mark_out: 500 }, { mark_in: 300 }] });
    const panel = made.panel("A", mill, 1, 1, { front: "empty" });
    made.splice(near.sections[0], "B", far.sections[0], "A");
    made.land(far.sections[0], "B", panel.positions[0]);
    const answer = await ask(await made.plant(), "LIB");
    expect(strand(answer, "F-1:1")).toMatchObject({
      length_m: 320,
      far: { kind: "empty_port", record: { tag: "MIL/ER/A:01" } },
    });
    expect(strand(answer, "F-1:2")).toMatchObject({ length_m: 120, far: { kind: "open_end" } });
  });

  it("is as far as each strand goes, though its neighbours of the cable go further", async () => {
    const { made, er, hole, mill } = campus();
    const marks = [
      { mark_out: 0 },
      { kind: "opened", mark_in: 100, mark_open_from: 110, mark_open_to: 111, mark_out: 120 },
      { mark_in: 300 },
    ];
    const cable = made.cable("F-1", [er, hole, mill], 3, { values: { mark_unit: "m" }, stop: marks });
    const cut = made.rows.find(({ kind, id }) => kind === "section" && id === cable.sections[1]);
    Object.assign(cut?.values ?? {}, { b_stop_id: cable.stops[1] });
    const answer = await ask(await made.plant(), "LIB");
    expect(answer.cables[0]?.strands.map(({ strand, length_m }) => [strand, length_m])).toEqual([
      ["F-1:1", 300],
      ["F-1:2", 110],
      ["F-1:3", 300],
    ]);
  });

  it("is several where it forks; its length is then not one", async () => {
    const { made, er, hole, mill } = campus();
    const near = made.cable("F-1", [er, hole], 1);
    const far = made.cable("F-2", [hole, mill], 2);
    for (const n of [0, 1]) made.splice(near.sections[0], "B", far.sections[n], "A");
    const answer = await ask(await made.plant(), "LIB");
    expect(strand(answer, "F-1:1")).toMatchObject({ far: null, far_ends: 2, length_m: null });
  });

  it("says when an assumed cord is on the way", async () => {
    const { made, er, hole, mill } = campus();
    const near = made.cable("F-1", [er, mill], 1);
    const on = made.cable("F-2", [mill, hole], 1);
    const panels = [made.panel("A", mill, 1), made.panel("B", mill, 1)];
    made.land(near.sections[0], "B", panels[0]?.positions[0]);
    made.land(on.sections[0], "A", panels[1]?.positions[0]);
    made.circuit("K-1", [near.sections[0] as number, on.sections[0] as number]);
    const answer = await ask(await made.plant(), "LIB");
    expect(strand(answer, "F-1:1")).toMatchObject({ assumed: true, far: { place: { space: { tag: "MH-1" } } } });
  });
});

describe("strands free to other buildings", () => {
  /** Strands from a panel in the Library to a panel in the Mill, landed at both ends unless `change` says otherwise. */
  async function free(change: (plant: ReturnType<typeof landed>) => void): Promise<number> {
    const plant = landed();
    change(plant);
    const answer = await ask(await plant.made.plant(), "LIB");
    expect(answer.free_to.every(({ building }) => building.tag === "MIL")).toBe(true);
    return answer.free_to[0]?.strands ?? 0;
  }
  function landed() {
    const { made, er, hole, mill, lib } = campus();
    const near = made.cable("F-1", [er, hole], 3);
    const far = made.cable("F-2", [hole, mill], 3);
    const panels = [made.panel("A", er, 3), made.panel("A", mill, 3)];
    for (const n of [0, 1, 2]) {
      made.land(near.sections[n], "A", panels[0]?.positions[n]);
      made.splice(near.sections[n], "B", far.sections[n], "A");
      made.land(far.sections[n], "B", panels[1]?.positions[n]);
    }
    return { made, lib, er, hole, mill, near, far, panels };
  }
  const condition = (made: Made, strand_id: number | undefined, value: string) => {
    const row = made.rows.find(({ kind, id }) => kind === "strand" && id === strand_id);
    Object.assign(row?.values ?? {}, { condition: value });
  };

  it("are those with a port at each end and nothing against them", async () => {
    expect(await free(() => {})).toBe(3);
  });
  it("are not those that are given, now or later, anywhere on their way", async () => {
    expect(await free(({ made, far }) => made.circuit("K-1", [far.sections[0] as number]))).toBe(2);
    expect(
      await free(({ made, far }) => made.circuit("K-1", [far.sections[0] as number], {}, { from_on: "2032-01-01" })),
    ).toBe(2);
    expect(
      await free(({ made, far }) => made.circuit("K-1", [far.sections[0] as number], {}, { until_on: "2031-06-01" })),
    ).toBe(3);
    expect(await free(({ made, far }) => made.circuit("K-1", [far.sections[0] as number], { state: "retired" }))).toBe(
      3,
    );
  });
  it("are not broken or degraded anywhere on their way; unproven ones count", async () => {
    expect(await free(({ made, far }) => condition(made, far.strands[0], "broken"))).toBe(2);
    expect(await free(({ made, near }) => condition(made, near.strands[0], "degraded"))).toBe(2);
    expect(await free(({ made, near }) => condition(made, near.strands[0], "unproven"))).toBe(3);
  });
  it("are not those that fork, lead to equipment, or have a plug in front", async () => {
    expect(await free(({ made, near, far }) => made.splice(near.sections[0], "B", far.sections[1], "A"))).toBe(2);
    expect(
      await free(({ made, mill, panels }) => made.cord(panels[1]?.ports[0], made.device("SW", mill, 1, 1).ports[0])),
    ).toBe(2);
    expect(
      await free(({ made, panels }) => {
        const port = made.rows.find(({ kind, id }) => kind === "port" && id === panels[0]?.ports[0]);
        Object.assign(port?.values ?? {}, { front: "cord" });
      }),
    ).toBe(2);
  });
  it("are not those through a place nobody knows", async () => {
    expect(
      await free(({ made, far }) => {
        const stop = made.rows.find(({ kind, id }) => kind === "stop" && id === far.stops[0]);
        Object.assign(stop?.values ?? {}, { space_id: null });
      }),
    ).toBe(0);
  });
  it("are not those that lead on through equipment, whatever is on record behind it", async () => {
    expect(
      await free(({ made, mill, panels }) => {
        const device = made.device("SW", mill, 1, 1);
        made.cord(panels[1]?.ports[0], device.ports[0]);
        made.land(onTo(made, mill).sections[0], "A", device.positions[0]);
      }),
    ).toBe(2);
  });
  it("are not those that an assumed cord leads on, to a port or not", async () => {
    expect(
      await free(({ made, mill, panels }) => {
        const panel = made.panel("B", mill, 1);
        made.land(onTo(made, mill).sections[0], "A", panel.positions[0]);
        const stub = made.cable("X-1", [mill, null], 1);
        made.land(stub.sections[0], "A", panels[1]?.positions[0]);
        made.circuit("K-1", [stub.sections[0] as number], { z_port_id: panel.ports[0] });
      }),
    ).toBe(2);
  });
  /** Glass from the Mill on to a port of a third building. */
  function onTo(made: Made, mill: number) {
    const third = made.room("ER", made.building("OBS"));
    const cable = made.cable("F-3", [mill, third], 1);
    made.land(cable.sections[0], "B", made.panel("A", third, 1).positions[0]);
    return cable;
  }
  it("are not those that an assumed cord leads to equipment", async () => {
    expect(
      await free(({ made, mill, panels }) => {
        const device = made.device("SW", mill, 1, 1);
        // A circuit between the port and the switch, over no glass that is a feed's.
        const stub = made.cable("X-1", [mill, null], 1);
        made.land(stub.sections[0], "A", panels[1]?.positions[0]);
        made.circuit("K-1", [stub.sections[0] as number], { a_port_id: device.ports[0] });
      }),
    ).toBe(2);
  });
});

describe("single points", () => {
  it("are the places and ways that every way out shares", async () => {
    const { made, er, hole, mill } = campus();
    const other = made.room("ER", made.building("OBS"));
    const ways = [made.pathway("DB-1", er, hole), made.pathway("DB-2", hole, mill), made.pathway("DB-3", hole, other)];
    made.cable("F-1", [er, hole, mill], 1, { ways: [ways[0] as number, ways[1] as number] });
    made.cable("F-2", [er, hole, other], 1, { ways: [ways[0] as number, ways[2] as number] });
    const answer = await ask(await made.plant(), "LIB");
    expect(answer.single_points.map(({ kind, tag }) => [kind, tag])).toEqual([
      ["pathway", "DB-1"],
      ["space", "MH-1"],
    ]);
    expect(answer.sentence).toContain("Every way out shares DB-1 and MH-1.");
  });
  it("count the only room that all ways lead to, and no room of the building itself", async () => {
    const { made, er, mill } = campus();
    made.cable("F-1", [er, mill], 1);
    expect((await ask(await made.plant(), "LIB")).single_points.map(({ tag }) => tag)).toEqual(["MIL/ER"]);
  });
  it("take patching in a cabinet on the way for a way, and broken glass for none", async () => {
    const { made, er, hole, mill } = campus();
    const cabinet = made.room("CAB", null, { kind: "cabinet" });
    const other = made.room("ER", made.building("OBS"));
    const inward = made.cable("F-1", [er, cabinet], 1);
    const out = made.cable("F-2", [cabinet, mill], 1);
    const around = made.cable("F-3", [er, hole, other], 1);
    const panel = made.panel("A", cabinet, 2);
    made.land(inward.sections[0], "B", panel.positions[0]);
    made.land(out.sections[0], "A", panel.positions[1]);
    const plant = await made.plant();
    expect((await ask(plant, "LIB")).single_points).toEqual([]);
    await plant.write([
      { op: "update", kind: "strand", id: around.strands[0] as number, values: { condition: "broken" } },
    ]);
    expect((await ask(plant, "LIB")).single_points.map(({ tag }) => tag)).toEqual(["CAB", "MIL/ER"]);
  });
});
