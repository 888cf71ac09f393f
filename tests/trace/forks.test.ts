/** Forks, rings, arrays and cords that cross pairs. */
import { describe, expect, it } from "vitest";
import { Made } from "../glass/made.ts";
import { campus, kinds, tags, trace } from "./campus.ts";

describe("forks", () => {
  it("by a splitter are as built, seen from its input; from an output there is none", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const feeder = made.cable("F-1", [made.room("MH-1", null), room], 1);
    const splitter = made.module("SP", room, "splitter", 3);
    const [input, ...outputs] = splitter.positions;
    made.land(feeder.sections[0], "B", input);
    for (const output of outputs) made.join(splitter.id, input, output, { a_side: "front" });
    const plant = await made.plant();
    const answer = await trace(plant, "F-1:1");
    const [line] = answer.lines;
    expect(line?.root.fork).toEqual({ why: "splitter", words: "a splitter with 2 outputs" });
    expect(line?.root.branches.map((branch) => tags(branch.hops).at(-1))).toEqual(["LIB/101/SP:02", "LIB/101/SP:03"]);
    expect(line?.root.branches.map((branch) => branch.end?.kind)).toEqual(["record_ends", "record_ends"]);
    expect(answer.sentence).toContain("forks to 2 ends, a splitter with 2 outputs");
    // From each leaf, the path is that branch reversed.
    const branch = [...(line?.root.hops ?? []), ...(line?.root.branches[1]?.hops ?? [])];
    const back = await trace(plant, { kind: "port", id: splitter.ports[2] });
    expect(back.lines[0]?.root.fork).toBeNull();
    expect(tags(back.hops)).toEqual(tags(branch).toReversed().map(turnedJoin));
  });
  /** A join is told in the direction one goes. */
  const turnedJoin = (tag: string): string => tag.replace(/^join (\S+) to (\S+)$/, "join $2 to $1");

  it("by a wavelength filter name its channels", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const filter = made.module("WF", room, "filter", 3);
    const [common, one, other] = filter.positions;
    made.join(filter.id, common, one, { band: "1310" });
    made.join(filter.id, common, other, { band: "1530-1565" });
    const plant = await made.plant();
    const [line] = (await trace(plant, { kind: "port", id: filter.ports[0] })).lines;
    expect(line?.root.fork?.why).toBe("filter");
    expect(line?.root.branches.map(({ hops }) => hops[0]?.how)).toEqual([
      "through a wavelength filter, 1310 nm",
      "through a wavelength filter, 1530-1565 nm",
    ]);
  });

  it("of any other make are a doubt in the record", async () => {
    const { made, panel, device } = campus();
    made.cord(device.ports[0], panel.ports[1], { tag: "C-8" });
    const plant = await made.plant();
    const [line] = (await trace(plant, "LIB/101/SW:01")).lines;
    expect(line?.root.fork).toEqual({ why: "record", words: "2 cords in one place: the record is in doubt" });
    expect(line?.root.branches.map(({ hops }) => hops.at(-1)?.record.tag)).toEqual(["OBS/1A/A:01", "OBS/1A/A:02"]);
  });

  it("both ways are told from the strand, each way with its branches", async () => {
    const made = new Made();
    const hole = made.room("MH-1", null);
    const cables = ["F-1", "F-2", "F-3", "F-4", "F-5"].map((tag) => made.cable(tag, [hole, hole], 1));
    const at = (n: number) => cables[n]?.sections[0];
    made.splice(at(0), "A", at(1), "A");
    made.splice(at(0), "A", at(2), "A");
    made.splice(at(0), "B", at(3), "A");
    made.splice(at(0), "B", at(4), "A");
    const plant = await made.plant();
    const answer = await trace(plant, "F-1:1");
    const [line] = answer.lines;
    expect(line?.root.branches).toHaveLength(2);
    expect(line?.behind?.branches).toHaveLength(2);
    expect(answer.sentence).toContain("F-1:1 forks both ways: 4 ends");
    // The hops are one whole way, from an end behind the strand to one before it.
    expect(answer.hops.map(({ record }) => record.tag).filter((tag) => /^F-/.test(tag))).toEqual([
      "F-2:1",
      "F-1:1",
      "F-4:1",
    ]);
    expect([answer.from.record?.tag, answer.to.record?.tag]).toEqual(["F-2:1", "F-4:1"]);
    expect(answer.hops[line?.at ?? -1]?.record.tag).toBe("F-1:1");
  });
});

describe("a ring", () => {
  it("is told once round, from what was asked for", async () => {
    const made = new Made();
    const hole = made.room("MH-1", null);
    const cables = ["F-1", "F-2", "F-3"].map((tag) => made.cable(tag, [hole, hole], 1));
    for (const n of [0, 1, 2]) made.splice(cables[n]?.sections[0], "B", cables[(n + 1) % 3]?.sections[0], "A");
    const plant = await made.plant();
    const answer = await trace(plant, "F-2:1");
    expect(kinds(answer.hops)).toBe("strand splice strand splice strand splice");
    expect(answer.hops[0]?.record.tag).toBe("F-2:1");
    expect([answer.from.kind, answer.to.kind]).toEqual(["ring", "ring"]);
    expect(answer.sentence).toContain("F-2:1 lies on a ring");
  });
  it("that a line leads into ends the line there", async () => {
    const made = new Made();
    const hole = made.room("MH-1", null);
    const cables = ["F-1", "F-2", "F-3"].map((tag) => made.cable(tag, [hole, hole], 1));
    made.splice(cables[0]?.sections[0], "B", cables[1]?.sections[0], "A");
    made.splice(cables[1]?.sections[0], "B", cables[2]?.sections[0], "A");
    made.splice(cables[2]?.sections[0], "B", cables[1]?.sections[0], "A");
    const plant = await made.plant();
    const answer = await trace(plant, "F-1:1");
    expect(kinds(answer.hops)).toBe("strand splice strand splice strand splice");
    expect([answer.from.kind, answer.to.kind]).toEqual(["open_end", "ring"]);
  });
});

describe("arrays and duplex cords", () => {
  it("go through a cassette by its joins: the trunk's order is its polarity", async () => {
    const made = new Made();
    const building = made.building("LIB");
    const rooms = [made.room("101", building), made.room("102", building)];
    const trunk = made.cable("T-1", rooms, 4);
    // Each end has a cassette: a rear array of four, four simplex fronts; the far trunk connector is reversed.
    const cassettes = rooms.map((room, end) => {
      const id = made.add("module", { tag: "C", space_id: room, kind: "cassette" });
      const rear = made.ports({ module_id: id }, 1, 4);
      const fronts = Array.from({ length: 4 }, (_, n) => {
        const port = made.add("port", { tag: `F${n + 1}`, module_id: id, front: "empty" });
        return made.add("position", { port_id: port, ordinal: 1 });
      });
      for (const [n, front] of fronts.entries()) made.join(id, rear.positions[n], front, { a_side: "front" });
      for (const [n, section] of trunk.sections.entries()) {
        made.land(section, end === 0 ? "A" : "B", rear.positions[end === 0 ? n : 3 - n]);
      }
      return { rear, fronts };
    });
    const plant = await made.plant();
    const answer = await trace(plant, { kind: "position", id: cassettes[0]?.fronts[0] });
    expect(kinds(answer.hops)).toBe("port join port strand port join port");
    expect([answer.from.record?.tag, answer.to.record?.tag]).toEqual(["LIB/101/C:F1", "LIB/102/C:F4"]);
    expect(answer.hops[2]?.how).toContain("position 1 of 4");
    expect(answer.hops[4]?.how).toContain("position 4 of 4");
    expect((await trace(plant, { kind: "port", id: cassettes[0]?.rear.ports[0] })).lines).toHaveLength(4);
  });

  it("cross pairs: a duplex port is two lines side by side", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const panels = [made.panel("A", room, 1, 2), made.panel("B", room, 1, 2)];
    const cables = ["F-1", "F-2"].map((tag) => made.cable(tag, [room, null], 2));
    for (const n of [0, 1]) for (const k of [0, 1]) made.land(cables[n]?.sections[k], "A", panels[n]?.positions[k]);
    const cord = made.cord(panels[0]?.ports[0], panels[1]?.ports[0], { fibres: 2, map: "crossed" });
    const plant = await made.plant();
    const answer = await trace(plant, "LIB/101/A:01");
    expect(answer.lines.map(({ asked, hops }) => [asked, tags(hops).at(0), tags(hops).at(-1)])).toEqual([
      ["LIB/101/A:01#1", "F-2:2", "F-1:1"],
      ["LIB/101/A:01#2", "F-2:1", "F-1:2"],
    ]);
    expect(answer.lines[0]?.hops.find(({ kind }) => kind === "cord")?.how).toBe("patch cord, pairs crossed");
    expect(answer.hops).toEqual(answer.lines[0]?.hops);
    expect((await trace(plant, { kind: "cord", id: cord })).lines).toHaveLength(2);
  });

  it("end where a cord hangs loose, or a fibre of it has no place to sit", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const [panel, simplex] = [made.panel("A", room, 1, 2), made.panel("B", room, 1, 1)];
    const loose = made.panel("C", room, 1, 1);
    made.cord(panel.ports[0], simplex.ports[0], { fibres: 2 });
    made.cord(null, loose.ports[0], { tag: "C-9" });
    const plant = await made.plant();
    const [first, second] = (await trace(plant, "LIB/101/A:01")).lines;
    expect([first?.from.kind, first?.from.record?.tag]).toEqual(["record_ends", "LIB/101/B:01"]);
    expect(second?.from).toMatchObject({ kind: "open_end", words: expect.stringContaining("no position to sit in") });
    const hanging = await trace(plant, "C-9");
    expect(hanging.to).toMatchObject({ kind: "open_end", words: "the cord's other end hangs loose" });
  });
});

describe("a section that isn't on record", () => {
  it.each(["F-1:1#3", "F-1:1-2#3"])("is refused: %s is not the whole strand", async (what) => {
    const made = new Made();
    const hole = made.room("MH-1", null);
    made.cable("F-1", [hole, hole], 2);
    const plant = await made.plant();
    await expect(trace(plant, what)).rejects.toThrow("F-1:1#3 is not on record; the strand has one section.");
  });
});
