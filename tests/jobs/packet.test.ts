/** What a crew takes along: everything a person needs who never saw the plant, from the record and the plan. */
import { describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import { packetDocument } from "../../core/jobs/packet-document.ts";
import type { Document } from "../../core/paper/document.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { line } from "./line.ts";
import { doStep } from "./mending.ts";
import { CUT, packet, planned } from "./packets.ts";

describe("the packet of a mend of which nobody said where it is cut", () => {
  const UNSAID = { cable: "F-050", after: "H-1" };

  it("gives the stretch in which it lies and no mark; finding it comes before it is cut, and the cut is recorded without marks", async () => {
    const plant = await line();
    await plant.run("job.plan_mend", { ...UNSAID, job: "J-1" });
    const told = await packet(plant);
    const words = JSON.stringify(packetDocument(told, null, null));
    expect(words).toMatch(/not known when this was planned/);
    expect(words).toContain('"at_m":null');
    expect(words).not.toContain("worked out from the marks beside it");
    expect(told.steps[1]?.words).toMatch(/^Where between H-1 and H-2 the break lies is not known/);
    const severed = told.steps.find(({ act }) => act === "cable.sever");
    expect(severed?.input).toEqual({ cable: "F-050", after: 2 });
  });

  it("says none of that where the metres were said", async () => {
    const told = await packet(await planned());
    expect(JSON.stringify(packetDocument(told, null, null))).not.toContain("not known when this was planned");
    expect(told.steps.filter(({ words }) => words.includes("is not known"))).toEqual([]);
  });
});

describe("the packet of a mend", () => {
  it("draws the line: stops, marks, coils, what stays in them, the cut and where it is spliced", async () => {
    const { situation } = await packet(await planned());
    expect(situation).toMatchObject({
      cable: { tag: "F-050" },
      between: ["H-1", "H-2"],
      unit: "m",
      lost_left_m: 1,
      lost_right_m: 1,
      pathway: { tag: "DB-2" },
      points: [{ words: "H-9", at_m: 143, work_m: 10.4 }],
    });
    expect(
      situation?.stops.map(({ name, mark_in, mark_out, coil_m, left_m }) => [name, mark_in, mark_out, coil_m, left_m]),
    ).toEqual([
      ["LIB/101", null, 1000, null, null],
      // 10.4 m to work with and the metre that was lost, out of 30 m and of 44 m.
      ["H-1", 1100, 1133, 30, expect.closeTo(30 - 11.4, 6)],
      ["H-2", 1233, 1280, 44, expect.closeTo(44 - 11.4, 6)],
      ["H-3", 1380, 1423, 40, null],
      ["SCI/B01", 1523, null, null, null],
    ]);
  });

  it.each([
    ["in the hole before the cut", { at: "H-1" }],
    ["at two points", { at: null }],
  ])("tells the same coils as the step that brings the ends, %s", async (_, { at }) => {
    const plant = await line();
    const { plans } = await plant.run<MendAnswer>("mend.plans", CUT);
    const plan = plans.findIndex(({ kind, points }) =>
      at === null ? kind === "two_points" : kind === "one_point" && points[0]?.words === at,
    );
    const points = plans[plan]?.points.map(({ words }) => words) ?? [];
    expect(points.length).toBe(at === null ? 2 : 1);
    await plant.run("job.plan_mend", { ...CUT, plan: plan + 1, job: "J-1", piece: "F-051" });
    const { situation, steps } = await packet(plant);
    const bring = steps.find(({ act }) => act === "cable.move_cut")?.words ?? "";
    const more = [...bring.matchAll(/([\d.]+)\sm more than that at (H-\d)/g)];
    expect(more.length).toBeGreaterThan(0);
    for (const hole of points) {
      const said = more.reduce((sum, [, metres, where]) => (where === hole ? sum + Number(metres) : sum), 0);
      const told = situation?.stops.find(({ name }) => name === hole)?.left_m;
      expect([hole, told]).toEqual([hole, expect.closeTo(said, 0)]);
    }
  });

  it("of a cut that left strands shining parts no sheath, and puts neither instrument nor switch to them", async () => {
    const plant = await line();
    await plant.run("job.plan_mend", { ...CUT, job: "J-1", piece: "F-051", dark: "1-12" });
    const { situation, light, steps, circuits } = await packet(plant);
    expect(situation?.whole).toEqual([13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24]);
    // Of the loops at H-1 and H-2, 30 m and 44 m, a window of 6 m is opened; all else hangs as it hung.
    expect(situation?.stops.map(({ left_m }) => left_m)).toEqual([null, 24, 38, null, null]);
    // K-7 runs on 13-14: it doesn't come back, for it was never gone, and nobody measures it.
    expect([circuits, situation?.expected]).toEqual([[], []]);
    expect(JSON.stringify(light)).toContain("F-050:1-12");
    expect(JSON.stringify(light)).not.toContain("K-7");
    expect([steps[0]?.words, steps.at(-1)?.words]).toEqual([
      expect.stringContaining("measure strands 1-12 of it from both far ends"),
      expect.stringContaining("Measure strands 1-12 of F-050 from both ends"),
    ]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toContain("strands 13-24, which still shine: the sheath isn't parted");
    expect(printed).toContain("Taken as strained");
    expect(printed).not.toContain("Lost on each side");
    expect(printed).toContain("The loop comes out at H-1");
  });

  it("has a splice sheet for the tray, strand by strand with the colours of both, the urgent ones first", async () => {
    const { sheets } = await packet(await planned());
    expect(sheets.map(({ tray, rows }) => [tray, rows.length])).toEqual([["H-9/CL-1/T1", 24]]);
    const [first] = sheets[0]?.rows ?? [];
    expect(first).toMatchObject({
      done: false,
      from: { strand: { tag: "F-050:13" }, colours: "tube 2 orange, strand 1 blue" },
      to: { strand: { tag: "F-050:13" } },
      circuits: [{ tag: "K-7" }],
    });
  });

  it("warns of its acts and of its own places", async () => {
    const plant = await planned(({ edit }) => edit("space", "H-1", { hazards: "gas asbestos" }));
    const { cautions } = await packet(plant);
    const all = cautions.join("\n");
    for (const words of [
      /two independent signs/,
      /dark before cleaving/,
      /No instrument's pulse into a lit receiver/,
      /no arc and no flame/,
      /cement pipe may hold asbestos/,
      /voltage before touching armour or a messenger/,
      /not marked by the one-call service/,
      /H-1: on record for it are gas, asbestos cement/,
    ])
      expect(all).toMatch(words);
  });

  it.each([
    [2, { latitude: 50.0004, longitude: 10, accuracy_m: 2 }],
    [null, null],
  ] as const)(
    "says where to dig: metres from both places, and a spot only where the line's accuracy, %s m, is known",
    async (accuracy_m, spot) => {
      // The line runs due north; four tenths of it are 0.0004 degrees.
      const geometry = [
        [10, 50],
        [10, 50.001],
      ];
      const plant = await planned(({ edit }) => edit("pathway", "DB-2", { geometry, accuracy_m }));
      const { places, steps } = await plant.run<Packet>("job.packet", { job: "J-1" });
      expect(steps.find(({ words }) => words.startsWith("Dig hole"))?.words).toMatch(
        /^Dig hole H-9 at the cut, in DB-2 40.m from H-1 and 60.m from H-2 along the way/,
      );
      const hole = places.find(({ place }) => place.tag === "H-9");
      expect(hole?.along).toMatch(/^40.m along DB-2 from H-1$/);
      expect(hole?.spot && { ...hole.spot, latitude: Number(hole.spot.latitude.toFixed(7)) }).toEqual(spot);
      const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
      expect(printed.includes("by the line of that way 50.000400, 10.000000")).toBe(spot !== null);
      expect(printed).toContain("marks on the ground and on the sheath decide");
    },
  );

  it("without a hole to be dug has nothing of digging", async () => {
    const plant = await line();
    const steps = [
      { words: "Look at it" },
      { act: "splice.range", input: { from: "F-050:1", to: "F-050:2" }, words: "Splice" },
    ];
    await plant.run("job.enter", { job: "J-1", steps });
    expect((await packet(plant)).cautions.join()).not.toMatch(/one-call/);
  });

  it("names every owner in the broken way and of the circuits, with whom to call by day and by night", async () => {
    const plant = await planned(async ({ add, edit }) => {
      await add("party", { tag: "NET", name: "Campus network office", role: "self", contact_day: "desk 1" });
      await add("party", { tag: "GRID", name: "Grid", role: "owner", contact_day: "desk 7", contact_night: "gate 2" });
      await add("party", { tag: "LAB", name: "Laboratory", role: "tenant", contact_night: "porter" });
      await add("party", { tag: "FAR", name: "Somebody else", role: "owner", contact_day: "desk 9" });
      await edit("conduit", "DB-2/1", { owner_id: "GRID" });
      await edit("circuit", "K-7", { owner_id: "LAB" });
    });
    const { owners } = await packet(plant);
    expect(owners.map(({ party, day, night, of }) => [party.tag, day, night, of.map(({ tag }) => tag)])).toEqual([
      ["GRID", "desk 7", "gate 2", ["DB-2/1"]],
      ["LAB", null, "porter", ["K-7"]],
      ["NET", "desk 1", null, []],
    ]);
  });

  it("of a new cable has a sheet for each end: which strand goes onto which port", async () => {
    const plant = await line();
    const { plans } = await plant.run<{ plans: { kind: string }[] }>("mend.plans", CUT);
    const plan = plans.findIndex(({ kind }) => kind === "new_cable") + 1;
    await plant.run("job.plan_mend", { ...CUT, plan, job: "J-1", piece: "F-051" });
    const { sheets, make } = await packet(plant);
    expect(make).toEqual({ type: "LT-24", strands: 24 });
    expect(sheets.map(({ place, rows }) => [place?.tag, rows.length])).toEqual([
      ["LIB/101", 24],
      ["SCI/B01", 24],
    ]);
    expect(sheets[0]?.rows[0]).toMatchObject({
      from: { strand: { tag: "F-051:13" }, colours: "tube 2 orange, strand 1 blue" },
      to: { strand: { tag: "LIB/101/A:07#1" } },
      circuits: [{ tag: "K-7" }],
    });
  });

  it("names what else lies in the broken way, and how far the cut is", async () => {
    const plant = await planned(async ({ run }) => {
      await run("cable.enter", {
        tag: "F-060",
        units: [],
        stops: [{ space: "H-1", way: { conduit: "DB-2/1" } }, { space: "H-2" }],
      });
    });
    expect((await packet(plant)).neighbours.map(({ tag }) => tag)).toEqual(["F-060"]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toMatch(/40.m from H-1, 60.m from H-2, along the way/);
    expect(printed).toContain("F-050, 24 strands, LT-24");
  });

  it("names the equipment that shines into the strands, by trace, and the ends at which nobody looked", async () => {
    const plant = await planned(async ({ run }) => {
      await run("device.enter", {
        tag: "SW-1",
        space: "LIB/101",
        ports: [{ numbers: "1", connector: "lc_duplex" }],
      });
      await run("cord.patch", { from: "LIB/101/A:07", to: "LIB/101/SW-1:1" });
    });
    const { light } = await packet(plant);
    expect(light.equipment).toMatchObject([
      {
        port: { tag: expect.stringContaining("LIB/101/SW-1:1") },
        place: { tag: "LIB/101" },
        words: "equipment",
        strands: expect.stringMatching(/^F-050:1[34]/),
        circuits: [{ tag: "K-7" }],
      },
      ...Array.from({ length: light.equipment.length - 1 }, () => ({ place: { tag: "LIB/101" } })),
    ]);
    expect(light.unseen).toMatchObject([
      { place: { tag: "LIB/101" }, count: 22, ports: ["LIB/101/A:01-06", "LIB/101/A:08-12"], circuits: [] },
      { place: { tag: "SCI/B01" }, count: 24, ports: ["SCI/B01/P:01-12"], circuits: [{ tag: "K-7" }] },
    ]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toContain("Equipment that shines into these strands");
    expect(printed).toContain("take them for lit until they are measured dark");
    // Once it is cut each half is traced by itself, and the equipment is still there.
    await plant.run("cable.sever", { cable: "F-050", after: "H-1" });
    expect((await packet(plant)).light.equipment).toEqual(light.equipment);
  });

  it("says from which ports each circuit is measured, and what should be read there", async () => {
    const { situation } = await packet(await planned());
    const [one, ...more] = situation?.expected ?? [];
    expect(more).toEqual([]);
    expect(one).toMatchObject({
      circuit: { tag: "K-7" },
      strands: 2,
      ports: [{ tag: "LIB/101/A:07" }, { tag: "SCI/B01/P:07" }],
      wavelength_nm: 1310,
    });
    // 523 m of sheath by its marks, less the 2 m that were destroyed; what was coiled stays in the cable.
    expect(one?.length_m).toBeCloseTo(521, 0);
    // Nobody recorded by how much the glass is longer than the sheath.
    expect(one?.glass_m).toBeNull();
    expect(one?.loss_db).toBeGreaterThan(0);
    expect(Number(one?.worst_db)).toBeGreaterThanOrEqual(Number(one?.loss_db));
  });

  it("begins the measuring with what is in service, and says of the rest that it isn't yet", async () => {
    const plant = await planned(async ({ run }) => {
      await run("circuit.enter", { tag: "K-3", strands: 2, state: "planned", priority: 1 });
      await run("circuit.assign", { circuit: "K-3", what: ["F-050:1-2"] });
    });
    const { situation } = await packet(plant);
    expect(situation?.expected?.map(({ circuit, state }) => [circuit.tag, state])).toEqual([
      ["K-7", "in_service"],
      ["K-3", "planned"],
    ]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toContain('["K-3 (planned)"]');
    expect(printed).toContain('["K-7"]');
    // Down is only what was in service.
    expect(printed).toContain('{"word":"Circuits, by priority","value":"1: K-7 (2)"}');
  });

  it("says when what it tells was known: the day, and how and when each place was last looked at", async () => {
    const plant = await planned(async ({ add }) => {
      await add("visit", { tag: "V-1", made_on: "2025-11-03", space_id: "H-1" });
    });
    const { situation } = await packet(plant);
    expect(situation?.known_on).toBe("2026-05-01");
    expect(situation?.stops.map(({ marks_basis, seen_on }) => [marks_basis, seen_on])).toEqual([
      ["read", null],
      ["read", "2025-11-03"],
      ["read", null],
      ["read", null],
      ["read", null],
    ]);
    const printed = JSON.stringify(await plant.run<object>("job.print", { job: "J-1" }));
    expect(printed).toContain("Situation, as known on 1 May 2026");
    expect(printed).toContain("read; seen 3 Nov 2025");
    expect(printed).toContain("read; no visit on record");
  });

  it("tells of the places that sheath is only pulled through as well", async () => {
    const plant = await line();
    await plant.edit("space", "H-3", { hazards: "gas" });
    const { plans } = await plant.run<{ plans: { kind: string }[] }>("mend.plans", CUT);
    const plan = plans.findIndex(({ kind }) => kind === "new_cable") + 1;
    await plant.run("job.plan_mend", { ...CUT, plan, job: "J-1", piece: "F-051" });
    const { places, cautions } = await packet(plant);
    expect(places.map(({ place }) => place.tag).toSorted()).toEqual(["H-1", "H-2", "H-3", "LIB/101", "SCI/B01"]);
    expect(cautions.join()).toContain("H-3: on record for it is gas");
  });

  it("shows what is done when it is printed again", async () => {
    const plant = await planned();
    const before = await packet(plant);
    for (const step of before.steps) await doStep(plant, step);
    const { sheets, steps } = await packet(plant);
    expect(steps.every(({ state }) => state === "done")).toBe(true);
    expect(sheets[0]?.rows.every(({ done }) => done)).toBe(true);
  });
});

describe("the packet as a paper", () => {
  const blocksOf = async (plant: CheckedPlant) => (await plant.run<Document>("job.print", { job: "J-1" })).blocks;

  it.each([
    ["pole", "What hangs at H-1"],
    ["cabinet", "What comes into H-1"],
  ])("draws no walls of a %s, and heads it by what it is", async (kind, heading) => {
    const plant = await planned();
    await plant.edit("space", "H-1", { kind });
    const blocks = await blocksOf(plant);
    const at = blocks.findIndex((block) => block.is === "heading" && block.text === heading);
    expect(blocks[at + 1]?.is).toBe("values");
    expect(blocks).not.toContainEqual(expect.objectContaining({ text: "H-1 from inside" }));
  });

  it("warns in one frame, and shows each place of the work from inside with what the cable is known by there", async () => {
    const blocks = await blocksOf(await planned());
    const dangers = blocks.filter((block) => block.is === "note" && block.sign === "danger");
    expect(dangers).toHaveLength(1);
    const headings = blocks.flatMap((block) => (block.is === "heading" ? [block.text] : []));
    expect(headings).toEqual(expect.arrayContaining(["H-1 from inside", "H-2 from inside"]));
    const known = blocks
      .flatMap((block) => (block.is === "values" ? block.rows : []))
      .find(({ word }) => word.startsWith("Know F-050 by"));
    expect(known?.value).toEqual(
      expect.arrayContaining([
        expect.stringMatching(
          /^the print on its sheath: 1.100 and 1.133 m; 30.m of it kept as coil; 24 strands in it$/,
        ),
        "comes from LIB/101 by DB-1/1",
        "goes on to H-2 by DB-2/1",
      ]),
    );
  });

  it("names the rooms at the ends of the glass, for somebody has to unplug and measure there", async () => {
    const { places } = await packet(await planned());
    expect(places.map(({ place, building, steps }) => [place.tag, building, steps > 0])).toEqual(
      expect.arrayContaining([
        ["LIB/101", "Library", false],
        ["SCI/B01", "Science hall", false],
      ]),
    );
  });

  it("draws the hole to be dug on the line, at its metres", async () => {
    const line_of = (await blocksOf(await planned())).find((block) => block.is === "line");
    expect(line_of).toMatchObject({ drawing: { fresh: [{ from: { leg: 1, at_m: 40 }, words: "◆ splice in H-9" }] } });
  });
});
