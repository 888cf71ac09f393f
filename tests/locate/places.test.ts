import { describe, expect, it } from "vitest";
import { located, makeRoute, type Reel, type RouteOptions, route, shownAt } from "./route.ts";

/** A reel from room A through two holes to room Z: 100 m, a coil of 20 m, 200 m, a bare crossing of 3 m, 150 m. */
const reel: Reel = {
  tag: "F-1",
  stops: [
    { space: "A", from: 1000, out: 1005 },
    { space: "H1", in: 1105, out: 1125 },
    { space: "H2", in: 1325, out: 1328 },
    { space: "Z", in: 1478, to: 1486 },
  ],
  ways: [null, null, null],
};
const from = "A/PA:01";
const at = (sheath_m: number) => ({ from, distance_m: shownAt(sheath_m) });
const plantOf = (options: RouteOptions = {}, more: Partial<Reel> = {}) => route([{ ...reel, ...more }], options);

describe("a place in a leg", () => {
  it("is told by cable, way, mark in the cable's own unit, and both holes with how far from each", async () => {
    const { where, sentence } = await located(await plantOf(), at(5 + 100 + 20 + 60));
    expect(where).toMatchObject({
      kind: "leg",
      words: "F-1 in W-H1-H2 between H1 and H2",
      cable: { tag: "F-1" },
      ways: [{ kind: "pathway", tag: "W-H1-H2" }],
      place: null,
      mark: { unit: "m" },
      between: [
        { place: { tag: "H1" }, mark: 1125 },
        { place: { tag: "H2" }, mark: 1325 },
      ],
    });
    expect(where.mark?.value).toBeCloseTo(1185, 2);
    expect(where.between.map(({ metres }) => metres)).toEqual([60, 140]);
    expect(sentence).toMatch(/^F-1 in W-H1-H2 between H1 and H2: 60.m from H1, mark 1.125.m and 140.m from H2/);
  });
  it("is the same from the other end", async () => {
    const plant = await plantOf();
    const [one] = (await located(plant, at(185))).readings;
    const other = await located(plant, { from: "Z/PZ:01", distance_m: shownAt(486 - 185) });
    expect(other.where.mark?.value).toBeCloseTo(one?.where.mark?.value ?? 0, 2);
    expect(other.where.between.map(({ place }) => place?.tag)).toEqual(["H2", "H1"]);
    expect(other.where.between.map(({ metres }) => metres)).toEqual([140, 60]);
  });
  it("has marks in feet where the print counts feet, and falling where it falls", async () => {
    const feet: Reel = {
      tag: "F-1",
      unit: "ft",
      stops: [
        { space: "A", from: 5000, out: 4990 },
        { space: "Z", in: 4000, to: 3980 },
      ],
    };
    const { where } = await located(await route([feet]), at(100));
    expect(where.mark).toMatchObject({ unit: "ft" });
    expect(where.mark?.value).toBeCloseTo(5000 - 100 / 0.3048, 1);
    expect(where.mark?.least).toBeLessThan(where.mark?.most as number);
  });
  it("follows the print over its roll-over", async () => {
    const rolled: Reel = {
      tag: "F-1",
      values: { mark_breaks: '[{"at_mark":9999,"jumps_to":0}]' },
      stops: [
        { space: "A", from: 9900, out: 9910 },
        { space: "Z", in: 91, to: 101 },
      ],
    };
    const plant = await route([rolled]);
    expect((await located(plant, at(50))).where.mark?.value).toBeCloseTo(9950, 2);
    expect((await located(plant, at(150))).where.mark?.value).toBeCloseTo(51, 2);
  });
});

describe("a place in a hole", () => {
  it("is said to be in the coil there, and how far in", async () => {
    const { where, candidates } = await located(await plantOf(), at(5 + 100 + 8));
    expect(where).toMatchObject({ kind: "coil", place: { tag: "H1" }, words: expect.stringContaining("inside H1") });
    expect(where.between.map(({ metres }) => metres)).toEqual([8, 12]);
    expect(candidates[0]).toMatchObject({ kind: "coil", place: { tag: "H1" }, off_m: 0, likely: true });
  });
  it("names the closure the cable enters there before the coil", async () => {
    const { made, ids } = makeRoute([reel]);
    const closure = made.add("closure", { tag: "CL-9", space_id: ids.spaces.get("H1") as number });
    const row = made.rows.find(({ kind, id }) => kind === "stop" && id === ids.cables[0]?.stops[1]);
    if (row) row.values = { ...row.values, closure_id: closure };
    const { candidates } = await located(await made.plant(), at(113));
    expect(candidates.map(({ kind, record }) => `${kind} ${record.tag}`).slice(0, 2)).toEqual([
      "closure H1/CL-9",
      "coil F-1",
    ]);
  });
  it("counts the window of an opening it runs through uncut, which the sheath's length leaves out", async () => {
    const opened: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 0, out: 5 },
        { space: "H1", in: 105, from: 110, to: 114, out: 120, more: { kind: "opened" } },
        { space: "Z", in: 220, to: 225 },
      ],
    };
    const plant = await route([opened]);
    expect((await located(plant, at(112))).where).toMatchObject({ kind: "window", place: { tag: "H1" } });
    const { where } = await located(plant, at(150));
    expect(where.mark?.value).toBeCloseTo(150, 2);
  });
});

describe("glass outside the sheath", () => {
  const two: Reel[] = [
    {
      tag: "F-1",
      stops: [
        { space: "A", from: 0, out: 2 },
        { space: "H1", in: 102, to: 106 },
      ],
    },
    {
      tag: "F-2",
      stops: [
        { space: "H1", from: 506, out: 500 },
        { space: "Z", in: 300, to: 295 },
      ],
    },
  ];
  it("is spent stub by stub: past a joint each strand has one in the tray", async () => {
    const plant = await route(two);
    // Stub behind the panel, 106 m of sheath, two stubs in the tray, then 44 m on.
    const { where, readings } = await located(plant, { from, distance_m: shownAt(106 + 44, 3) });
    expect(where.mark?.value).toBeCloseTo(506 - 44, 2);
    expect(readings[0]?.spent.filter(({ words }) => words.startsWith("stub")).map(({ length_m }) => length_m)).toEqual([
      1.25, 1.25, 1.25,
    ]);
  });
  it("is named where the place lies in it: the splice in its tray is the first candidate", async () => {
    const { where, candidates, sentence } = await located(await route(two), { from, distance_m: shownAt(106, 2) });
    expect(where).toMatchObject({ kind: "stub", place: { tag: "H1" }, mark: null });
    expect(candidates[0]).toMatchObject({ kind: "splice", likely: true, off_m: 0 });
    expect(candidates[0]?.words).toContain("H1/CL/T");
    expect(sentence).toContain("Look first at splice F-1:1 to F-2:1 in H1/CL/T");
  });
  it("takes a pigtail into account where the port has one, and says when nobody knows", async () => {
    const pigtail = await located(await plantOf({ lands: [{ method: "pigtail" }, null] }), at(60));
    // 1.5 m of pigtail more, so the place is that much nearer.
    expect(pigtail.where.mark?.value).toBeCloseTo(1060 - 1.5 / 1.02, 2);
    const unknown = await located(await plantOf({ lands: [{}, null] }), at(60));
    expect(unknown.where.mark?.value).toBeCloseTo(1060 - 0.75 / 1.02, 2);
    expect(unknown.lacks).toEqual([expect.stringContaining("how A/PA:01 is terminated is not on record")]);
    expect(unknown.band.bound_m).toBeGreaterThan(pigtail.band.bound_m);
  });
  it("explains a reading inside a cord instead of refusing it", async () => {
    const plant = await plantOf({
      also: (made, { ports, spaces }) => {
        const device = made.device("SW", spaces.get("A") as number, 1, 1);
        made.cord(ports.a[0], device.ports[0], { length_m: 5 });
      },
    });
    const { where, candidates } = await located(plant, { from: "A/SW:01", distance_m: 3 });
    expect(where).toMatchObject({
      kind: "cord",
      words: expect.stringMatching(/^in cord A\/PA:01 to A\/SW:01, not in a cable: look at the cord/),
      cable: null,
    });
    expect(candidates).toMatchObject([{ kind: "cord", off_m: 0, likely: true }]);
    // The cord counts in the walk from the equipment, and not from the panel.
    const through = await located(plant, { from: "A/SW:01", distance_m: 5 + shownAt(185) });
    expect(through.where.mark?.value).toBeCloseTo(1185, 2);
    const front = await located(plant, { from, side: "front", distance_m: 3 });
    expect(front.where.kind).toBe("cord");
  });
});

describe("conventions", () => {
  it("are said, each of them", async () => {
    const { readings } = await located(await plantOf(), { ...at(100), launch_m: 0 });
    expect(readings[0]?.conventions).toEqual([
      "the instrument was set to index 1.4682",
      "a launch cord of 0 m of glass is in the reading and taken off",
      "distances begin at the instrument's front panel",
      "sample spacing is not given: 1 m",
      "no wavelength was given: 1550 nm is taken",
    ]);
  });
  it("take the launch cord and the front panel off", async () => {
    const plant = await plantOf();
    const plain = await located(plant, at(185));
    const led = await located(plant, { from, distance_m: shownAt(185) + 152.4, launch_m: 150, front_panel_m: 2.4 });
    expect(led.where.mark?.value).toBeCloseTo(plain.where.mark?.value ?? 0, 2);
    expect(led.band.bound_m).toBeGreaterThan(plain.band.bound_m);
  });
  it("widen the band where the instrument's index is not known, but not for a time", async () => {
    const plant = await plantOf();
    const input = (reading: object) =>
      plant.run<Awaited<ReturnType<typeof located>>>("locate.of", { readings: [reading] });
    const blind = await input({ from, distance_m: 400 });
    expect(blind.band.terms.map(({ kind }) => kind)).toContain("instrument_index");
    const timed = await input({ from, time_us: 4 });
    expect(timed.band.terms.map(({ kind }) => kind)).not.toContain("instrument_index");
  });
  it("say that only the first break is seen", async () => {
    expect((await located(await plantOf(), at(100))).notes).toContain(
      "Only the first break is seen from this end: there may be others beyond it.",
    );
  });
});

describe("a reading that ends nowhere on record", () => {
  it("before the port lies in the launch cord", async () => {
    const { where } = await located(await plantOf(), { from, distance_m: 100, launch_m: 150 });
    expect(where).toMatchObject({ kind: "launch", cable: null });
    expect(where.words).toMatch(/^before the port, 50.m short of it/);
  });
  it("beyond the end says how far, and that the line is whole where the band covers it", async () => {
    const plant = await plantOf();
    const end = shownAt(486, 2);
    const near = await located(plant, { from, distance_m: end + 1 });
    expect(near.where).toMatchObject({ kind: "beyond", words: expect.stringContaining("nothing is broken before it") });
    expect(near.candidates[0]).toMatchObject({ kind: "port", record: { tag: "Z/PZ:01" } });
    const far = await located(plant, { from, distance_m: end + 200 });
    expect(far.where.words).toMatch(/^200.m past the end of what is on record, at Z\/PZ:01/);
    expect(far.where.words).toContain("the line goes on further than the record");
    expect(far.where.coordinate_lacks).toBe("it is past what is on record");
  });
  it("in a stretch of unknown length stops there, and names what is missing", async () => {
    const bare: Reel = { tag: "F-1", stops: [{ space: "A" }, { space: "H1" }, { space: "Z" }], ways: [null, 100] };
    const { where, lacks } = await located(await route([bare]), at(60));
    expect(where).toMatchObject({ kind: "unknown", cable: { tag: "F-1" }, mark: null, coordinate: null });
    expect(where.mark_lacks).toBe("how far along it is can't be told");
    expect(where.words).toContain("F-1 from A to H1 in W-A-H1 or past it");
    expect(lacks).toContain("neither marks nor a pathway's length are on record for F-1 from A to H1");
  });
  it("without any marks goes by the pathways, with a wider band and no mark", async () => {
    const bare: Reel = {
      tag: "F-1",
      stops: [{ space: "A", more: { slack_m: 5 } }, { space: "H1", more: { slack_m: 20 } }, { space: "Z" }],
      ways: [100, 200],
    };
    const marked = await located(await plantOf(), at(185));
    const { where, band } = await located(await route([bare]), at(185));
    expect(where.between.map(({ metres }) => Math.round(metres))).toEqual([60, 140]);
    expect([where.mark, where.mark_lacks]).toEqual([
      null,
      "F-1: the marks at both ends of this stretch are not on record",
    ]);
    expect(band.bound_m).toBeGreaterThan(marked.band.bound_m);
    expect(band.terms.map(({ kind }) => kind)).toEqual(expect.arrayContaining(["way", "slack", "end"]));
  });
  it("between two marks tells the mark where holes between them have none", async () => {
    const holes: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 1000, out: 1005 },
        { space: "H1", more: { slack_m: 18 } },
        { space: "Z", in: 1325, to: 1330 },
      ],
      ways: [100, 200],
    };
    const plant = await route([holes], { spaces: { H1: { crossing_m: 2 } } });
    const { where } = await located(plant, at(5 + 120 + 40));
    expect(where.between.map(({ metres, mark }) => [Math.round(metres), mark])).toEqual([
      [40, null],
      [160, 1325],
    ]);
    expect(where.mark?.value).toBeCloseTo(1165, 1);
  });
  it("between two marks is told from mark to mark where the ways between them have no length", async () => {
    const bare: Reel = {
      tag: "F-1",
      stops: [{ space: "A", from: 1000, out: 1005 }, { space: "H1" }, { space: "Z", in: 1325, to: 1330 }],
      ways: [null, 200],
    };
    const { where, lacks } = await located(await route([bare]), at(5 + 160));
    expect(where).toMatchObject({ kind: "leg", words: "F-1 in W-A-H1 and W-H1-Z between A and Z" });
    expect(where.mark?.value).toBeCloseTo(1165, 2);
    expect(where.coordinate_lacks).toContain("several pathways");
    expect(lacks).toContain("neither marks nor a pathway's length are on record for F-1 from A to H1");
  });
  it("goes by the marks where ways and slack between them contradict, and says so", async () => {
    const wrong: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 1000, out: 1005 },
        { space: "H1", more: { slack_m: 20 } },
        { space: "Z", in: 1325, to: 1330 },
      ],
      ways: [100, 100],
    };
    const { where, doubts } = await located(await route([wrong]), at(5 + 160));
    expect(where.mark?.value).toBeCloseTo(1165, 2);
    expect(doubts).toEqual([
      "F-1: between marks 1005 and 1325 there are 320\u202fm by the print and 220\u202fm by pathways, slack and crossings; the print is taken.",
    ]);
  });
  it("says that marks of two units stand on one cable, and goes by the pathway there", async () => {
    const mixed: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 0, out: 5 },
        { space: "H1", in: 105, out: 125 },
        { space: "Z", in: 125 + 656, to: 790 },
      ],
      ways: [100, 200],
    };
    const { where, doubts } = await located(await route([mixed]), at(125 + 50));
    expect(doubts[0]).toMatch(/^F-1 from H1 to Z: marks 125 and 781 fit feet and not the metres on record/);
    expect(where.between.map(({ metres }) => Math.round(metres))).toEqual([50, 150]);
  });
  it("takes marks before a pathway that contradicts them, and says so", async () => {
    const { where, doubts } = await located(await plantOf({}, { ways: [100, 260, 150] }), at(125 + 60));
    expect(where.mark?.value).toBeCloseTo(1185, 2);
    expect(doubts).toEqual([
      "F-1 from H1 to H2: 200\u202fm by its marks and 260\u202fm by its pathway; the marks are taken.",
    ]);
    expect((await located(await plantOf({}, { ways: [100, 204, 150] }), at(185))).doubts).toEqual([]);
  });
  it("says which mark runs against the others", async () => {
    const slip: Reel = {
      ...reel,
      stops: reel.stops.map((stop) => (stop.space === "H2" ? { ...stop, in: 925 } : stop)),
    };
    const { doubts } = await located(await route([slip]), at(50));
    expect(doubts).toContain("F-1: mark 925 at H2 runs against the others, so it isn't used.");
  });
});

describe("a coordinate", () => {
  // 0.001 degree of latitude is 111.195 m on the sphere of mean radius.
  const line = "[[10,50],[10,50.001],[10,50.002]]";
  const options: RouteOptions = { pathways: { "W-H1-H2": { geometry: line, accuracy_m: 4 } } };
  it("lies along the pathway's line, with its accuracy and who decides", async () => {
    const { where } = await located(await plantOf(options), at(125 + 50));
    expect(where.coordinate).toMatchObject({ longitude: 10, accuracy_m: 4 });
    expect(where.coordinate?.latitude).toBeCloseTo(50.0005, 6);
    expect(where.coordinate?.words).toContain("marks on the ground decide");
  });
  it("goes the other way along a line drawn from the farther hole", async () => {
    const { where } = await located(await plantOf(options), { from: "Z/PZ:01", distance_m: shownAt(486 - 175) });
    expect(where.coordinate?.latitude).toBeCloseTo(50.0005, 6);
  });
  it("is not told without its accuracy, nor without a line, and the reason is", async () => {
    const loose = await plantOf({ pathways: { "W-H1-H2": { geometry: line } } });
    expect((await located(loose, at(175))).where).toMatchObject({
      coordinate: null,
      coordinate_lacks: "how far off the line of W-H1-H2 may be is not on record",
    });
    expect((await located(await plantOf(), at(175))).where.coordinate_lacks).toBe(
      "the line of W-H1-H2 on the map is not on record",
    );
  });
  it("is the hole's own where the place is a hole", async () => {
    const spot = { longitude: 11, latitude: 51, accuracy_m: 0.5 };
    const { where } = await located(await plantOf({ spaces: { H1: { crossing_m: 0, ...spot } } }), at(113));
    expect(where.coordinate).toMatchObject(spot);
  });
});

describe("a cable that comes back to the place it left", () => {
  it("is walked the way its joints say, from either end", async () => {
    const loop: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 1000, out: 1005 },
        { space: "H1", in: 1105, out: 1110 },
        { space: "A", in: 1310, to: 1315 },
      ],
    };
    const plant = await route([loop]);
    const there = await located(plant, at(50));
    expect(there.where.mark?.value).toBeCloseTo(1050, 2);
    const back = await located(plant, { from: "A/PZ:01", distance_m: shownAt(315 - 50) });
    expect(back.where.mark?.value).toBeCloseTo(1050, 2);
  });
});
