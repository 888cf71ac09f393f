/** A line hop by hop, from any start, with what each hop rests on. */
import { describe, expect, it } from "vitest";
import type { Refusal } from "../../core/result.ts";
import { addressesOf } from "../../core/store/addresses.ts";
import type { Hop } from "../../core/trace/answer.ts";
import { Made } from "../glass/made.ts";
import { campus, kinds, tags, trace } from "./campus.ts";

describe("a line from equipment to an open port", () => {
  it("is told hop by hop with its records, places, colours and lengths", async () => {
    const { made } = campus();
    const plant = await made.plant();
    const answer = await trace(plant, "LIB/101/A:01");
    expect(kinds(answer.hops)).toBe("interface cord port strand splice strand port");
    expect(tags(answer.hops)).toEqual([
      "LIB/101/SW:01",
      "cord C-7 from LIB/101/SW:01 to LIB/101/A:01",
      "LIB/101/A:01",
      "F-1:1",
      "splice F-1:1 to F-2:1 in MH-3/CL-3/T1",
      "F-2:1",
      "OBS/1A/A:01",
    ]);
    expect(answer.hops.map(({ place, to_place }) => [place?.space?.tag, to_place?.space?.tag])).toEqual([
      ["LIB/101", undefined],
      ["LIB/101", undefined],
      ["LIB/101", undefined],
      ["LIB/101", "MH-3"],
      ["MH-3", undefined],
      ["MH-3", "OBS/1A"],
      ["OBS/1A", undefined],
    ]);
    expect(answer.hops.map(({ how }) => how)).toEqual([
      "10GBASE-LR",
      "patch cord",
      "pigtail spliced on",
      "loose tube, G.652.D",
      "fusion splice, place 1",
      "loose tube, G.652.D",
      "splice-on connector",
    ]);
    // 3 696 ft of sheath by the marks; the other cable has none, so its pathway tells.
    const sheath = 1126.541;
    expect(answer.hops.map(({ length_m, length_from }) => [length_m, length_from])).toEqual([
      [null, null],
      [3, "record"],
      [null, null],
      [sheath, "marks"],
      [null, null],
      [900, "pathway"],
      [null, null],
    ]);
    expect(answer.hops[3]?.glass_m).toBe(1149.072);
    expect(answer.hops[3]?.colours.map(({ words }) => words)).toEqual(["strand 1 blue"]);
    expect(answer.length_m).toBe(2029.541);
    expect(answer.lines[0]?.totals).toMatchObject({
      sheath_m: 2026.541,
      cord_m: 3,
      hops: 7,
      splices: 1,
      ports: 2,
      cords: 1,
    });
    expect(answer.from).toMatchObject({ kind: "interface", record: { tag: "LIB/101/SW:01" } });
    expect(answer.to).toMatchObject({ kind: "empty_port", place: { building_name: "Observatory" } });
    expect(answer.sentence.replace(/\u202f/g, " ")).toBe(
      "From LIB/101/SW:01 in Library to OBS/1A/A:01 in Observatory, an open port: 7 hops, 2 027 m of sheath, 3 m of cord.",
    );
    expect(answer.cautions.join(" ")).toMatch(/hazard level 1M.*Treat every end as lit.*A hole may hold gas.*shards/i);
  });

  it("is the same line from every hop of it, and says which hop was asked for", async () => {
    const { made, first, second, device, panel, far, cord } = campus();
    const plant = await made.plant();
    const line = tags((await trace(plant, "LIB/101/A:01")).hops);
    const whats: [unknown, number, boolean?][] = [
      [{ kind: "interface", id: 1 }, 0],
      [{ kind: "port", id: device.ports[0] }, 0],
      [{ kind: "cord", id: cord }, 1],
      ["C-7", 1],
      [{ kind: "position", id: panel.positions[0] }, 2],
      // Told from the glass to the port it lands on.
      [{ kind: "termination", id: 1 }, 3, true],
      ["F-1:1", 3],
      ["F-1 BL", 3],
      [{ kind: "section", id: first.sections[0] }, 3],
      [{ kind: "splice", id: 1 }, 4],
      [{ kind: "strand", id: second.strands[0] }, 5],
      // Told from what is plugged in front of the port: from its own end.
      [{ kind: "port", id: far.ports[0] }, 0, true],
    ];
    for (const [what, at, turned] of whats) {
      const answer = await trace(plant, what);
      const told = tags(answer.hops);
      expect([what, turned ? told.toReversed() : told]).toEqual([what, line]);
      expect([what, answer.lines[0]?.at]).toEqual([what, at]);
    }
  });

  it("names the ways of a strand in the order in which the line goes", async () => {
    const made = new Made();
    const spaces = ["MH-1", "MH-2", "MH-3"].map((tag) => made.room(tag, null));
    const ways = [made.pathway("DB-1", 1, 2), made.pathway("DB-2", 2, 3)];
    const cable = made.cable("F-1", spaces, 1, { ways });
    const on = made.cable("F-2", [spaces[0] as number, null], 1);
    made.splice(cable.sections[0], "A", on.sections[0], "A");
    const plant = await made.plant();
    const waysOf = async (what: string) => {
      const hop = (await trace(plant, what)).hops.find(({ record }) => record.tag === "F-1:1");
      return [hop?.place?.space?.tag, hop?.also.map(({ tag }) => tag).join()];
    };
    expect(await waysOf("F-1:1")).toEqual(["MH-1", "F-1,DB-1,DB-2"]);
    expect(await waysOf("F-2:1")).toEqual(["MH-3", "F-1,DB-2,DB-1"]);
    expect((await trace(plant, { kind: "splice", id: 1 })).hops[0]?.also.map(({ tag }) => tag)).toEqual([
      "F-1",
      "DB-2",
      "DB-1",
    ]);
  });

  it("names each record as the store does", async () => {
    const { made } = campus();
    const plant = await made.plant();
    const { hops } = await trace(plant, "LIB/101/A:01");
    const refs = hops.flatMap(({ record, also, place, to_place }) => [
      // A strand that isn't cut is told without the number of its only section.
      ...(record.kind === "section" ? [] : [record]),
      ...also.filter(({ kind }) => kind !== "termination"),
      ...[place?.space, to_place?.space, place?.building].filter((ref) => ref != null),
    ]);
    expect(new Set(refs.map(({ kind }) => kind)).size).toBeGreaterThan(8);
    await plant.read(async (reader) => {
      for (const { kind, id, tag } of refs) {
        expect([kind, tag]).toEqual([kind, (await addressesOf(reader, kind, [id])).get(id)]);
      }
    });
  });

  it("asks no more statements of the database for a long line than for a short one", async () => {
    const { made } = campus();
    let before = 2;
    const hole = made.room("HH", null);
    for (let n = 3; n < 30; n += 1) {
      const cable = made.cable(`F-${n}`, [hole, hole], 1);
      made.splice(before === 2 ? 5 : before, "B", cable.sections[0], "A");
      before = cable.sections[0] as number;
    }
    const plant = await made.plant();
    const { trace: ask } = await import("../../core/trace/trace.ts");
    const count = (what: string) =>
      plant.read(async (reader) => {
        let statements = 0;
        const counting = {
          ...reader,
          rows: (sql: string, parameters?: readonly never[]) => {
            statements += 1;
            return reader.rows(sql, parameters);
          },
        };
        const answer = await ask(counting as typeof reader, what, "2031-06-01");
        return [answer.hops.length, statements];
      });
    const [short, long] = [await count("F-1:3"), await count("F-1:2")];
    expect(long[0]).toBeGreaterThan(50);
    expect(long[1]).toBeLessThanOrEqual((short[1] as number) + 1);
  });
});

describe("how far a line can be trusted", () => {
  it("is told by basis, worst last, the last visit, and the label as it was seen", async () => {
    const { made, first, spaces, panel } = campus();
    const seen = made.add("visit", { tag: "V-1", made_on: "2030-05-01", space_id: spaces.lib, extent: "all" });
    made.add("visit", { tag: "V-2", made_on: "2029-01-01", space_id: spaces.hole });
    made.add("label", { subject_kind: "cable", subject_id: first.id, space_id: spaces.hole, state: "illegible" });
    made.add("label", { subject_kind: "cable", subject_id: first.id, space_id: spaces.lib, state: "present" });
    made.add("label", {
      subject_kind: "panel",
      subject_id: panel.id,
      state: "present",
      seen_on: "2020-01-01",
      due_on: "2030-01-01",
    });
    const splice = made.rows.find(({ kind, id }) => kind === "splice" && id === 1);
    Object.assign(splice?.values ?? {}, { basis: "told" });
    const cable = made.rows.find(({ kind, id }) => kind === "cable" && id === first.id);
    Object.assign(cable?.values ?? {}, { basis: "seen", basis_visit_id: seen });
    const strand = made.rows.find(({ kind, id }) => kind === "strand" && id === 1);
    Object.assign(strand?.values ?? {}, { basis: "drawn" });
    const plant = await made.plant();
    const { hops } = await trace(plant, "F-1:1");
    const [, , port, glass, joint] = hops;
    expect(port).toMatchObject({ label: "due", last_visit: "2030-05-01", basis: [] });
    expect(glass).toMatchObject({ label: "illegible", last_visit: "2030-05-01", basis: ["seen", "drawn"] });
    expect(joint).toMatchObject({ label: null, last_visit: "2029-01-01", basis: ["told"] });
  });

  it("says what a strand is doing and for whom", async () => {
    const { made, first, second } = campus();
    const tenant = made.add("party", { tag: "CITY", role: "tenant" });
    made.circuit("K-1", [first.sections[0] as number, second.sections[0] as number]);
    made.circuit("K-2", [first.sections[0] as number], {}, { from_on: "2020-04-02" });
    made.circuit("K-3", [first.sections[1] as number], { owner_id: tenant });
    Object.assign(made.rows.find(({ kind, id }) => kind === "strand" && id === 3)?.values ?? {}, {
      condition: "broken",
      condition_why: "dug up",
    });
    const plant = await made.plant();
    const at = async (what: string) => {
      const { state, how, circuits } = (await trace(plant, what)).hops.find(({ record }) => record.tag === what) as Hop;
      return [state, how, circuits.map(({ tag }) => tag).join()];
    };
    expect(await at("F-1:1")).toEqual(["assigned_twice", "given to K-1 and to K-2 since 2 Apr 2020", "K-1,K-2"]);
    expect(await at("F-2:1")).toEqual(["in_service", "loose tube, G.652.D", "K-1"]);
    expect(await at("F-1:2")).toEqual(["leased", "K-3 is a service of CITY", "K-3"]);
    expect(await at("F-1:3")).toEqual(["broken", "dug up", ""]);
    expect(await at("F-2:3")).toEqual(["spare", "loose tube, G.652.D", ""]);
  });
});

describe("a circuit", () => {
  it("is told from A to Z, its strands side by side, cords that are not on record assumed and counted apart", async () => {
    const made = new Made();
    const building = made.building("LIB", { name: "Library" });
    const rooms = [made.room("101", building), made.room("102", building)];
    // The cable runs against the circuit: its A end is at the circuit's Z.
    const cable = made.cable("F-1", rooms.toReversed(), 2, {
      values: { mark_unit: "m" },
      stop: [{ mark_out: 0 }, { mark_in: 50 }],
    });
    const panels = rooms.map((room) => made.panel("P", room, 1, 2));
    const switches = rooms.map((room) => made.device("SW", room, 1, 2));
    for (const k of [0, 1]) {
      made.land(cable.sections[k], "B", panels[0]?.positions[k]);
      made.land(cable.sections[k], "A", panels[1]?.positions[k]);
    }
    const circuit = made.circuit("K-1", [], { a_port_id: switches[0]?.ports[0], z_port_id: switches[1]?.ports[0] });
    for (const [k, role] of ["transmit", "receive"].entries()) {
      made.add("assignment", { circuit_id: circuit, section_id: cable.sections[k], role, ordinal: 1 });
    }
    const plant = await made.plant();
    const answer = await trace(plant, "K-1");
    expect(answer.lines.map(({ hops }) => kinds(hops))).toEqual(
      Array(2).fill("interface assumed port strand port assumed interface"),
    );
    expect(answer.lines.map(({ from, to }) => [from.record?.tag, to.record?.tag])).toEqual([
      ["LIB/101/SW:01#1", "LIB/102/SW:01#2"],
      ["LIB/101/SW:01#2", "LIB/102/SW:01#1"],
    ]);
    expect(answer.lines[0]?.totals).toMatchObject({ cords: 0, assumed: 2, sheath_m: 50 });
    expect(answer.hops[1]).toMatchObject({ record: { kind: "circuit", tag: "K-1" }, circuits: [{ tag: "K-1" }] });
    expect(answer.sentence).toContain("K-1 is 2 lines side by side");
    expect(answer.sentence).toContain("2 cords assumed");
  });

  it("is told from A where only its A port, its Z port or the order of its sections says which that is", async () => {
    const told = async (
      more: (plant: ReturnType<typeof campus>) => Readonly<Record<string, number | undefined>>,
      turned = false,
    ) => {
      const plant = campus();
      const { made, first, second } = plant;
      const sections = [first.sections[1] as number, second.sections[1] as number];
      made.circuit("K-1", turned ? sections.toReversed() : sections, more(plant));
      return (await trace(await made.plant(), "K-1")).from.record?.tag;
    };
    expect(await told(({ panel }) => ({ a_port_id: panel.ports[1] }))).toBe("LIB/101/A:02");
    expect(await told(({ far }) => ({ a_port_id: far.ports[1] }))).toBe("OBS/1A/A:02");
    expect(await told(({ panel }) => ({ z_port_id: panel.ports[1] }))).toBe("OBS/1A/A:02");
    expect(await told(() => ({}))).toBe("LIB/101/A:02");
    expect(await told(() => ({}), true)).toBe("OBS/1A/A:02");
  });

  it("without strands is followed from its ports; without either there is nothing to follow", async () => {
    const { made, panel } = campus();
    made.circuit("K-1", [], { z_port_id: panel.ports[0] });
    made.circuit("K-2", []);
    const plant = await made.plant();
    expect((await trace(plant, "K-1")).hops).toHaveLength(7);
    await expect(trace(plant, "K-2")).rejects.toThrow("nothing to follow");
  });
});

describe("what is asked for", () => {
  it("may be a range of strands or ports", async () => {
    const plant = await campus().made.plant();
    expect((await trace(plant, "F-1:1-3")).lines.map(({ asked }) => asked)).toEqual(["F-1:1", "F-1:2", "F-1:3"]);
    expect((await trace(plant, "LIB/101/A:01-02")).lines).toHaveLength(2);
  });
  it("is refused with the nearest, the readings, or what to name instead", async () => {
    const { made, spaces } = campus();
    made.cable("FOREIGN", [spaces.hole, null], 0);
    const plant = await made.plant();
    const refused = async (what: unknown): Promise<string> =>
      trace(plant, what).then(
        () => "",
        (error: Refusal) => `${error.failure.code}: ${error.failure.message}`,
      );
    expect(await refused("F-9:1")).toMatch(/^not_found: .*F-9/);
    expect(await refused("F-1:4")).toMatch(/^not_found: .*beyond the count/);
    expect(await refused("LIB/101/A")).toMatch(/^bad_input: LIB\/101\/A is a panel.*LIB\/101\/A:01/);
    expect(await refused("FOREIGN")).toMatch(/^bad_input: FOREIGN is a cable/);
    expect(await refused("FOREIGN:1")).toMatch(/^not_found: .*without strands/);
    expect(await refused({ kind: "section", id: 999 })).toMatch(/^not_found/);
    expect(await refused({ kind: "port", id: 999 })).toMatch(/^not_/);
    expect(await refused({ kind: "splice", id: 999 })).toMatch(/^not_found/);
    expect(await refused("")).toMatch(/^bad_input/);
    expect(await refused("x".repeat(401))).toMatch(/^bad_input/);
  });
});
