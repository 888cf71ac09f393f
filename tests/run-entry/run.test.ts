/** A new cable run typed on one page: what is shown of it, what is doubted, and that it is entered whole or not at all. */
import { describe, expect, it } from "vitest";
import { count, RUN, rehearsed, runPlant } from "./plant.ts";

const fields = (problems: readonly { readonly at: string }[]): string[] => problems.map(({ at }) => at);

describe("a run that is typed whole", () => {
  it("is entered with its landings, splices and labels as one change, and one undo takes all of it back", async () => {
    const plant = await runPlant();
    const before = { splices: await count(plant, "splice"), landings: await count(plant, "termination") };
    const { digest, ready, problems } = await rehearsed(plant, RUN);
    expect(problems).toEqual([]);
    expect(ready).toBe(true);
    expect(await count(plant, "cable")).toBe(1);
    await plant.run("run.enter", { ...RUN, digest });
    expect(await count(plant, "cable")).toBe(2);
    expect(await count(plant, "splice")).toBe(before.splices + 24);
    expect(await count(plant, "termination")).toBe(before.landings + 24);
    expect(await count(plant, "label")).toBe(3);
    await plant.run("history.undo", {});
    expect(await count(plant, "cable")).toBe(1);
    expect(await count(plant, "splice")).toBe(before.splices);
    expect(await count(plant, "termination")).toBe(before.landings);
    expect(await count(plant, "label")).toBe(0);
  });

  it("is the record that the acts make one by one", async () => {
    const [plant, other] = [await runPlant(), await runPlant()];
    await plant.run("run.enter", RUN);
    await other.run("cable.enter", {
      ...{ tag: "F-030", type: "LT-14", mark_unit: "m", units: [{ kind: "tube", repeats: 2, strands: 12 }] },
      stops: [
        { space: "LIB/101", mark_out: 1000, way: { conduit: "DB-2/1" } },
        { space: "MH-03", mark_in: 1201, mark_out: 1216, way: { conduit: "DB-3/1" } },
        { space: "MH-07", mark_in: 1337, closure: "MH-07/CL-7" },
      ],
    });
    await other.run("strand.land", { strands: "F-030:1-24", ports: "LIB/101/A:01-12", method: "pigtail", end: "A" });
    await other.run("splice.range", { from: "F-030:1-24", to: "F-021:1-24", tray: "MH-07/CL-7/T1" });
    await other.run("label.write_due", { cable: "F-030" });
    const shown = (one: typeof plant) => one.run("cable.show", { cable: "F-030" });
    expect(await shown(plant)).toEqual(await shown(other));
    const traced = (one: typeof plant) => one.run("trace.walk", { what: "LIB/101/A:01#1" });
    expect(await traced(plant)).toEqual(await traced(other));
  });

  it("has what its type lists, coating and all, where the numbers typed are the type's", async () => {
    const plant = await runPlant();
    const unit = { cable_type_id: "LT-14", ordinal: 1, kind: "ribbon", repeats: 2, strands: 12, coating_um: "200" };
    await plant.run("record.add", { kind: "unit_type", values: unit });
    const { doubts } = await rehearsed(plant, RUN);
    expect(doubts.filter(({ sentence }) => sentence.includes("LT-14"))).toEqual([]);
    await plant.run("run.enter", RUN);
    const units = await plant.store.read((reader) =>
      reader.rows("select u.kind, u.coating_um from unit u join cable c on c.id = u.cable_id where c.tag = 'F-030'"),
    );
    expect(units).toEqual([
      { kind: "ribbon", coating_um: "200" },
      { kind: "ribbon", coating_um: "200" },
    ]);
  });

  it("is refused where the plant changed since it was shown", async () => {
    const plant = await runPlant();
    const { digest } = await rehearsed(plant, RUN);
    await plant.run("record.add", { kind: "building", values: { tag: "NEW" } });
    expect(await plant.call("run.enter", { ...RUN, digest })).toMatchObject({ error: { code: "stale" } });
    expect(await count(plant, "cable")).toBe(1);
  });
});

describe("a run that is still being typed", () => {
  it("is drawn from its first place, and grows with each that is named", async () => {
    const plant = await runPlant();
    const drawn = async (stops: readonly object[]) =>
      (await rehearsed(plant, { stops })).course?.stops.map(({ place }) => place.space?.tag ?? null);
    expect(await drawn([])).toBeUndefined();
    expect(await drawn([{ space: "LIB/101" }])).toEqual(["LIB/101", null]);
    expect(await drawn([{ space: "LIB/101" }, { space: "MH-0" }])).toEqual(["LIB/101", null]);
    expect(await drawn([{ space: "LIB/101" }, { space: "MH-03" }, { space: "MH-07" }])).toEqual([
      "LIB/101",
      "MH-03",
      "MH-07",
    ]);
  });

  it("says at its field what can't be read yet, and isn't entered before that is mended", async () => {
    const plant = await runPlant();
    const run = {
      ...RUN,
      tag: "",
      stops: [
        { space: "LIB/101", mark_out: "ten", way: "DB-99" },
        { space: "MH-3x", slack: "far" },
      ],
      landings: [{ end: "A", strands: "1-24", panel: "A", ports: "" }],
      splices: [],
    };
    const { problems, ready } = await rehearsed(plant, run);
    expect(fields(problems)).toEqual([
      "tag",
      "stops.0.way",
      "stops.0.mark_out",
      "stops.1.space",
      "stops.1.slack",
      "landings.0.ports",
    ]);
    expect(ready).toBe(false);
    expect(await plant.call("run.enter", run)).toMatchObject({
      error: { code: "bad_input", problems: problems.map(({ at }) => ({ field: at })) },
    });
    expect(await count(plant, "cable")).toBe(1);
  });

  it("has a number that is taken already told at the number, with the line still drawn by its places", async () => {
    const plant = await runPlant();
    const { problems, course } = await rehearsed(plant, { ...RUN, tag: "F-021" });
    expect(problems[0]).toMatchObject({ at: "tag", reason: expect.stringContaining("taken") });
    expect(course?.stops.map(({ place }) => place.space?.tag)).toEqual(["LIB/101", "MH-03", "MH-07"]);
  });

  it("says what a landing and a splice can't be at the fields of just that row", async () => {
    const plant = await runPlant();
    const { problems } = await rehearsed(plant, {
      ...RUN,
      landings: [...RUN.landings, { end: "A", strands: "1-2", panel: "A", ports: "13" }],
      splices: [{ at: "MH-07", strands: "1-24", to: "F-021:1-12", tray: "CL-7/T1" }],
    });
    expect(fields(problems)).toEqual(
      expect.arrayContaining(["landings.1.strands", "splices.0.strands", "splices.0.to"]),
    );
    expect(fields(problems).some((at) => at.startsWith("landings.0"))).toBe(false);
  });
});

describe("doubts about a run", () => {
  const doubts = async (stops: readonly object[]) => {
    const plant = await runPlant();
    const { doubts: all, ready } = await rehearsed(plant, { ...RUN, stops, landings: [], splices: [] });
    return { plant, ready, all };
  };

  it("name the mark that runs backwards, and hold nothing up", async () => {
    const [a, b, c] = RUN.stops;
    const { plant, ready, all } = await doubts([a, { ...b, mark_in: "1201", mark_out: "116" }, c]);
    expect(all.find(({ at }) => at === "stops.1.mark_out")?.sentence).toContain("runs against the other marks");
    expect(ready).toBe(true);
    await plant.run("run.enter", { ...RUN, stops: [a, { ...b, mark_out: "116" }, c], landings: [], splices: [] });
    expect(await count(plant, "cable")).toBe(2);
  });

  it("name the mark by which more sheath lies in a way than the way is long", async () => {
    const [a, b, c] = RUN.stops;
    const { all } = await doubts([a, b, { ...c, mark_in: "1416" }]);
    const doubt = all.find(({ at }) => at === "stops.2.mark_in");
    // 1416 - 1216 = 200 m of sheath in 120 m of way.
    expect(doubt?.sentence.replaceAll(/\s/g, " ")).toContain(
      "200 m of sheath lie in DB-3, which is 120 m long: 80 m too much",
    );
    expect(doubt?.source).not.toBe("");
  });

  it("don't name a length within the plant's tolerance", async () => {
    const { all } = await doubts(RUN.stops);
    expect(all.filter(({ at }) => at?.endsWith("mark_in"))).toEqual([]);
  });

  it("name the pipe that would be too full", async () => {
    const [a, b, c] = RUN.stops;
    const { all, ready } = await doubts([a, { ...b, way: "DB-3/2" }, c]);
    // 14 mm in 20 mm: (14 / 20)^2 = 49 % is below one cable's 53 %; a pipe of 16 mm would be 77 %.
    expect(all.filter(({ at }) => at === "stops.1.way")).toEqual([]);
    expect(ready).toBe(true);
    const plant = await runPlant();
    await plant.run("record.add", {
      kind: "conduit",
      values: { tag: "3", pathway_id: "DB-3", inner_diameter_mm: 16, state: "free" },
    });
    const { doubts: full } = await rehearsed(plant, { ...RUN, stops: [a, { ...b, way: "DB-3/3" }, c] });
    expect(full.find(({ at }) => at === "stops.1.way")?.sentence).toContain("76.6 %");
  });
});

describe("panels and cases that are not on record", () => {
  const run = {
    ...RUN,
    landings: [{ end: "A", strands: "1-24", panel: "B", ports: "01-12", method: "pigtail" }],
    splices: [{ at: "MH-07", strands: "1-24", to: "F-021:1-24", tray: "CL-9/T1" }],
  };

  it("are listed with the fields that name them, and not made by themselves", async () => {
    const plant = await runPlant();
    const { missing, ready } = await rehearsed(plant, run);
    expect(missing).toEqual([
      { kind: "panel", address: "LIB/101/B", at: ["landings.0.panel"] },
      { kind: "closure", address: "MH-07/CL-9", at: ["splices.0.tray"] },
    ]);
    expect(ready).toBe(false);
  });

  it("are made in the same change where that is said", async () => {
    const plant = await runPlant();
    const make = [
      { kind: "panel", address: "LIB/101/B", numbers: "01..12", connector: "lc_duplex" },
      { kind: "closure", address: "MH-07/CL-9", numbers: "T1..T2", capacity: "24" },
    ];
    await plant.run("run.enter", { ...run, make });
    expect([await count(plant, "panel"), await count(plant, "closure")]).toEqual([2, 2]);
    await plant.run("history.undo", {});
    expect([await count(plant, "panel"), await count(plant, "closure")]).toEqual([1, 1]);
  });
});

describe("strands cut where the cable passes", () => {
  it("are cut there, the others run on, and the cut halves can be spliced", async () => {
    const plant = await runPlant();
    await plant.run("closure.enter", { tag: "CL-3", space: "MH-03", trays: [{ numbers: "T1", capacity: 24 }] });
    const [a, b, c] = RUN.stops;
    await plant.run("run.enter", { ...RUN, stops: [a, { ...b, cut: "13-24", closure: "CL-3" }, c] });
    const sheet = await plant.run<{ stops: { kind: string; cut: number }[] }>("cable.show", { cable: "F-030" });
    expect(sheet.stops[1]).toMatchObject({ kind: "opened", cut: 12 });
  });
});

describe("what a place offers", () => {
  it("is each way that leaves it, from either end of the way, with its pipes, the emptiest first", async () => {
    const plant = await runPlant();
    await plant.run("run.enter", RUN);
    const { ways } = await plant.run<{ ways: { way: { tag: string }; to: { tag: string }; cables: number }[] }>(
      "run.offers",
      { place: "MH-03" },
    );
    expect(ways.map(({ way, to, cables }) => [way.tag, to.tag, cables])).toEqual([
      ["DB-2/1", "LIB/101", 1],
      ["DB-2", "LIB/101", 0],
      ["DB-3/2", "MH-07", 0],
      ["DB-3/1", "MH-07", 1],
      ["DB-3", "MH-07", 0],
    ]);
  });

  it("is each panel with the ports whose backs are bare, and each case with what its trays hold", async () => {
    const plant = await runPlant();
    await plant.run("run.enter", RUN);
    const room = await plant.run<{ panels: { free: { port: string }[] }[] }>("run.offers", { place: "LIB/101" });
    expect(room.panels[0]?.free.map(({ port }) => port)).toEqual(Array.from({ length: 12 }, (_, i) => String(i + 13)));
    const hole = await plant.run<{ cases: { trays: { held: number; capacity: number }[] }[] }>("run.offers", {
      place: "MH-07",
    });
    expect(hole.cases[0]?.trays).toMatchObject([
      { held: 24, capacity: 24 },
      { held: 0, capacity: 24 },
    ]);
  });
});
