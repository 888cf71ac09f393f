import { beforeEach, describe, expect, it } from "vitest";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
});

describe("adding ports to what is on record", () => {
  it("makes them with their positions, so that glass can land on them", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "01..02", connector: "lc" }] });
    const added = { on: "LIB/101/A", numbers: "03..04", connector: "lc_duplex", face_row: 2 };
    const { answer, summary } = await act(plant, "port.enter", added);
    expect([answer, summary]).toMatchObject([{ ports: 2, positions: 4 }, "Put 2 ports on LIB/101/A"]);
    const ports = await plant.find("port");
    expect(ports.map(({ tag, face_row }) => [tag, face_row])).toEqual([
      ["01", null],
      ["02", null],
      ["03", 2],
      ["04", 2],
    ]);
    expect(await plant.find("position", { port_id: ports[3]?.id ?? 0 })).toHaveLength(2);
  });
  it("asks how many positions an array has, and refuses a number that comes twice", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101" });
    const asked = await refused(plant, "port.enter", { on: "LIB/101/A", numbers: "1..4", connector: "mpo" });
    expect(asked).toMatchObject({ code: "bad_input", problems: [{ field: "positions" }] });
    const twice = await refused(plant, "port.enter", { on: "LIB/101/A", numbers: "1,1", connector: "lc" });
    expect(twice).toMatchObject({ code: "bad_input", problems: [{ field: "numbers", record: "1" }] });
  });
});

describe("ports that were typed into a table", () => {
  const typed = (tag: string, connector?: string) =>
    act(plant, "record.add", { kind: "port", values: { tag, panel_id: "LIB/101/A", connector } });
  const positionsOf = async (tag: string) => {
    const port = (await plant.find("port")).find((one) => one.tag === tag);
    return (await plant.find("position", { port_id: port?.id ?? 0 })).length;
  };

  it("are given as many positions as their plugs say, and those that have theirs stay as they are", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "1", connector: "lc" }] });
    await typed("2", "lc_duplex");
    await typed("3", "sc");
    const { answer, summary } = await act(plant, "port.add_positions", { on: "LIB/101/A" });
    expect([answer, summary]).toMatchObject([{ ports: 2, positions: 3 }, "Give 2 ports of LIB/101/A 3 positions"]);
    expect(await Promise.all(["1", "2", "3"].map(positionsOf))).toEqual([1, 2, 1]);
    expect(await refused(plant, "port.add_positions", { on: "LIB/101/A" })).toMatchObject({ code: "not_possible" });
  });
  it("are never guessed: a plug that doesn't say is asked about by port, and one that says can't be contradicted", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101" });
    for (const [tag, plug] of [["1", "lc"], ["2"], ["3", "mpo"]] as const) await typed(tag, plug);
    const asked = await refused(plant, "port.add_positions", { on: "LIB/101/A" });
    expect(asked.problems.map(({ field, record }) => [field, record])).toEqual([
      ["positions", "2"],
      ["positions", "3"],
    ]);
    await act(plant, "port.add_positions", { on: "LIB/101/A:3", positions: 12 });
    await act(plant, "port.add_positions", { on: "LIB/101/A:2", positions: 2 });
    const contradicted = await refused(plant, "port.add_positions", { on: "LIB/101/A:1", positions: 2 });
    expect(contradicted).toMatchObject({ code: "bad_input", problems: [{ field: "positions" }] });
    expect(await Promise.all(["1", "2", "3"].map(positionsOf))).toEqual([0, 2, 12]);
  });
});

describe("entering a panel", () => {
  it("makes ports, positions and rows in one act", async () => {
    const { answer, summary } = await act(plant, "panel.enter", {
      tag: "A",
      space: "LIB/101",
      rack: "R1",
      rack_unit: 40,
      height_u: 1,
      rows: 2,
      ports: [
        { numbers: "01..12", connector: "lc_duplex", polish: "upc", adapter_colour: "blue" },
        { numbers: "M1..M2", connector: "mpo", positions: 12 },
      ],
    });
    expect(answer).toMatchObject({ tag: "LIB/101/A", ports: 14, positions: 48 });
    expect(summary).toBe("Enter panel LIB/101/A with 14 ports");
    const ports = await plant.find("port");
    expect(ports.map(({ tag, face_row }) => [tag, face_row])).toEqual([
      ...["01", "02", "03", "04", "05", "06", "07"].map((tag) => [tag, 1]),
      ...["08", "09", "10", "11", "12", "M1", "M2"].map((tag) => [tag, 2]),
    ]);
    expect(ports[0]).toMatchObject({ connector: "lc_duplex", polish: "upc", adapter_colour: "blue", front: null });
    expect(await plant.find("position", { port_id: ports[12]?.id ?? 0 })).toHaveLength(12);
  });
  it("asks how many positions an array has, naming the field", async () => {
    const error = await refused(plant, "panel.enter", { tag: "A", ports: [{ numbers: "1..4", connector: "mpo" }] });
    expect(error).toMatchObject({ code: "bad_input", problems: [{ row: 1, field: "ports.0.positions" }] });
    expect(await plant.find("panel")).toEqual([]);
  });
  it("refuses a number in two groups, a taken tag, and a room that isn't on record", async () => {
    const twice = await refused(plant, "panel.enter", {
      tag: "A",
      ports: [
        { numbers: "1..4", connector: "lc" },
        { numbers: "4..8", connector: "lc" },
      ],
    });
    expect(twice.problems[0]).toMatchObject({ field: "ports", record: "4" });
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101" });
    expect((await refused(plant, "panel.enter", { tag: "A", space: "LIB/101" })).code).toBe("duplicate");
    const nowhere = await refused(plant, "panel.enter", { tag: "A", space: "LIB/109" });
    expect(nowhere).toMatchObject({ code: "not_found", problems: [{ record: "LIB/109", field: "space" }] });
    // The same tag in another room is another panel.
    await act(plant, "panel.enter", { tag: "A", space: "LIB/102" });
  });
  it.each([
    ["is too long", "x".repeat(400)],
    ["has control characters", "A\u0007B"],
    ["is nothing but spaces", "   "],
  ])("refuses a tag that %s, naming the field", async (_, tag) => {
    const error = await refused(plant, "panel.enter", { tag, space: "LIB/101" });
    expect(error).toMatchObject({ code: "bad_input", problems: [{ field: "tag" }] });
    expect(await plant.find("panel")).toEqual([]);
  });
  it("keeps a tag in any script, and one with signs of addresses is still found", async () => {
    for (const tag of ["\u05d0\u05d1-1", "A/1:2#3", "e\u0301tage"]) {
      const { answer } = await act<{ tag: string }>(plant, "panel.enter", {
        tag,
        space: "LIB/101",
        ports: [{ numbers: "1", connector: "lc" }],
      });
      await act(plant, "port.sight_front", { ports: `${answer.tag}:1`, front: "empty" });
    }
    expect(await plant.find("port", { front: "empty" })).toHaveLength(3);
  });
  it("refuses a value beyond its field, naming it", async () => {
    const error = await refused(plant, "panel.enter", { tag: "A", height_u: 900 });
    expect(error.problems[0]).toMatchObject({ field: "height" });
    expect(error.problems[0]?.reason).toMatch(/900/);
  });
});

describe("entering a device", () => {
  it("makes interfaces only where something of the optic is known", async () => {
    const { answer } = await act(plant, "device.enter", {
      tag: "SW-1",
      space: "LIB/101",
      ports: [
        {
          numbers: "1..2",
          connector: "lc_duplex",
          application: "10GBASE-LR",
          transmit_position: 1,
          receive_position: 2,
          wavelength_nm: 1310,
        },
        { numbers: "3", connector: "lc_duplex" },
      ],
    });
    expect(answer).toMatchObject({ ports: 3, positions: 6, interfaces: 2 });
    const optics = await plant.find("interface");
    expect(optics).toHaveLength(2);
    expect(optics[0]).toMatchObject({ application: "10GBASE-LR", wavelength_nm: 1310, launch_min_dbm: null });
  });
});

describe("entering a closure", () => {
  it("numbers its trays from the bottom and says when they take more than the case", async () => {
    const { answer, notices } = await act(plant, "closure.enter", {
      tag: "CL-1",
      space: "MH-03",
      kind: "dome",
      capacity: 24,
      trays: [{ numbers: "T1..T3", capacity: 12 }],
    });
    expect(answer).toMatchObject({ tag: "MH-03/CL-1", trays: 3 });
    expect(notices).toEqual(["The trays of CL-1 take 36 splices, the closure 24."]);
    expect((await plant.find("tray")).map(({ tag, position }) => [tag, position])).toEqual([
      ["T1", 1],
      ["T2", 2],
      ["T3", 3],
    ]);
  });
});

describe("entering a module", () => {
  const cassette = {
    kind: "cassette",
    tag: "C1",
    in: "LIB/101",
    rear: [{ numbers: "R1", connector: "mpo", positions: 12 }],
    front: [{ numbers: "01..06", connector: "lc_duplex" }],
    map: "crossed",
    loss_db: 0.35,
  };

  it("joins a cassette's rear array to its fronts, the glass inside away from the faces", async () => {
    const { answer } = await act(plant, "module.enter", cassette);
    expect(answer).toMatchObject({ tag: "LIB/101/C1", ports: 7, positions: 24, joins: 12 });
    const positions = await plant.find("position");
    const joins = await plant.find("module_join");
    expect(
      joins.every(({ a_side, b_side, loss_db }) => a_side === "front" && b_side === "back" && loss_db === 0.35),
    ).toBe(true);
    // Rear fibre 1 comes out at the second position of the first front port.
    const front = positions.filter(({ port_id }) => port_id !== positions[0]?.port_id);
    expect(joins[0]).toMatchObject({ a_position_id: positions[0]?.id, b_position_id: front[1]?.id });
    expect(joins[1]).toMatchObject({ a_position_id: positions[1]?.id, b_position_id: front[0]?.id });
  });
  it("lands a trunk on the rear array's back, and not on a front port whose back is inside", async () => {
    await act(plant, "module.enter", cassette);
    await act(plant, "strand.land", { strands: "F-014:1-12", ports: "LIB/101/C1:R1", method: "pre_terminated" });
    const error = await refused(plant, "strand.land", { strands: "F-014:13-14", ports: "LIB/101/C1:01" });
    expect(error).toMatchObject({
      code: "not_possible",
      problems: [
        { record: "LIB/101/C1:01#1", reason: "has its back inside the module" },
        { record: "LIB/101/C1:01#2" },
      ],
    });
  });
  it("sits in a panel or in a space", async () => {
    await act(plant, "panel.enter", { tag: "A", space: "LIB/101" });
    const { answer } = await act(plant, "module.enter", { ...cassette, in: "LIB/101/A", slot: "2" });
    expect(answer).toMatchObject({ tag: "LIB/101/A/C1" });
    const [module] = await plant.find("module");
    expect(module).toMatchObject({ space_id: null, slot: "2" });
  });
  it("refuses unequal sides and one number on both", async () => {
    const unequal = await refused(plant, "module.enter", {
      ...cassette,
      front: [{ numbers: "01..05", connector: "lc_duplex" }],
    });
    expect(unequal.message).toBe("There are 12 positions at the rear, but 10 in front.");
    const twice = await refused(plant, "module.enter", { ...cassette, rear: [{ numbers: "01", positions: 12 }] });
    expect(twice.problems[0]).toMatchObject({ record: "01" });
  });
  it("makes a splitter's input fork to every output", async () => {
    const { answer } = await act(plant, "module.enter", {
      kind: "splitter",
      tag: "SP1",
      in: "LIB/101",
      inputs: [{ numbers: "IN", connector: "sc" }],
      outputs: [{ numbers: "1..8", connector: "sc" }],
      loss_db: 10.5,
    });
    expect(answer).toMatchObject({ ports: 9, joins: 8 });
    const joins = await plant.find("module_join");
    expect(new Set(joins.map(({ a_position_id }) => a_position_id)).size).toBe(1);
    expect(new Set(joins.map(({ b_position_id }) => b_position_id)).size).toBe(8);
    expect(joins.every(({ a_side, b_side }) => a_side === "back" && b_side === "back")).toBe(true);
  });
  it("takes a filter's bands and an attenuator's loss", async () => {
    await act(plant, "module.enter", {
      kind: "filter",
      tag: "WF1",
      in: "LIB/101",
      common: { numbers: "COM", connector: "lc" },
      channels: [
        { numbers: "1310", connector: "lc", band: "1310", loss_db: 0.6 },
        { numbers: "1550", connector: "lc", band: "1530-1565" },
      ],
    });
    await act(plant, "module.enter", {
      kind: "attenuator",
      tag: "AT1",
      in: "LIB/101",
      input: { numbers: "IN", connector: "lc" },
      output: { numbers: "OUT", connector: "lc" },
      loss_db: 10,
    });
    expect((await plant.find("module_join")).map(({ band, loss_db }) => [band, loss_db])).toEqual([
      ["1310", 0.6],
      ["1530-1565", null],
      [null, 10],
    ]);
    const two = await refused(plant, "module.enter", {
      kind: "attenuator",
      tag: "AT2",
      input: { numbers: "1..2", connector: "lc" },
      output: { numbers: "3", connector: "lc" },
      loss_db: 10,
    });
    expect(two.problems[0]).toMatchObject({ field: "input.numbers", reason: "must name one port" });
  });
});
