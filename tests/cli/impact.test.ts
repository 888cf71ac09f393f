/** `strandbook impact`: a loss, the ways into buildings, and what diverse circuits share. */
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { DiverseAnswer, ImpactAnswer, WaysInAnswer } from "../../core/impact/answer.ts";
import { Made } from "../glass/made.ts";
import { cli } from "./support.ts";

async function plantFile(): Promise<string> {
  const made = new Made();
  const lib = made.room("101", made.building("LIB", { ways_wanted: 2 }));
  const mill = made.room("ER", made.building("MIL"));
  const bank = made.pathway("DB-1", lib, mill);
  const { sections } = made.cable("F-1", [lib, mill], 2, {
    ways: [bank],
    values: { mark_unit: "m" },
    stop: [{ mark_out: 100 }, { mark_in: 180 }],
  });
  const ports = made.panel("A", lib, 2);
  const other = made.panel("Z", mill, 2);
  const circuits = sections.map((section, n) => {
    made.land(section, "A", ports.positions[n]);
    made.land(section, "B", other.positions[n]);
    return made.circuit(`K-${n + 1}`, [section], { priority: n + 1 });
  });
  made.add("diversity", { circuit_id: circuits[0] as number, other_id: circuits[1] as number });
  const plant = await made.plant();
  await plant.close();
  return plant.path;
}

describe("strandbook impact", () => {
  it("tells what is lost with several things, as JSON and as tables", async () => {
    const file = await plantFile();
    const said = await cli(["impact", file, "DB-1", "F-1 120..130", "--json"]);
    expect(said.code).toBe(0);
    const answer = said.json<ImpactAnswer>();
    expect(answer.lost.map(({ record, marks }) => [record.tag, marks?.from ?? null])).toEqual([
      ["DB-1", null],
      ["F-1", 120],
    ]);
    expect(answer.circuits.map(({ circuit, priority }) => [circuit.tag, priority])).toEqual([
      ["K-1", 1],
      ["K-2", 2],
    ]);
    const { out } = await cli(["impact", file, "DB-1"]);
    expect(out).toMatch(
      /^Losing DB-1 takes 2 strands of 1 cable and 2 circuits in service, 1 of priority 1, and leaves\s+LIB and MIL dark\./,
    );
    expect(out).toMatch(/LIB +2 +0 +dark/);
    expect(out).toMatch(/K-1 and K-2 are declared diverse and both hit, both with DB-1\./);
    expect(out).toMatch(/Caution: /);
  });

  it("tells the ways into buildings, of one with each way", async () => {
    const file = await plantFile();
    const all = (await cli(["impact", file, "--ways-in", "--json"])).json<WaysInAnswer>();
    expect(all.buildings.map(({ building, ways, wanted }) => [building.tag, ways, wanted])).toEqual([
      ["LIB", 1, 2],
      ["MIL", 1, null],
    ]);
    const { out } = await cli(["impact", file, "LIB", "--ways-in"]);
    expect(out).toContain("LIB has 1 way in, 2 wanted. Losing DB-1, MIL/ER or F-1 cuts it off.");
    expect(out).toContain("way 1: LIB/101, DB-1, MIL/ER");
  });

  it("tells what diverse circuits share", async () => {
    const file = await plantFile();
    const answer = (await cli(["impact", file, "--diverse", "--json"])).json<DiverseAnswer>();
    expect(answer.pairs).toMatchObject([{ verdict: "shared", circuit: { tag: "K-1" }, other: { tag: "K-2" } }]);
    const { out } = await cli(["impact", file, "K-2", "--diverse"]);
    expect(out).toMatch(/F-1, DB-1, LIB\/101 \(both end\), MIL\/ER \(both end\)/);
  });

  it("ends with 1 for what is not on record and with 2 for words it can't read", async () => {
    const file = await plantFile();
    for (const [words, code, sentence] of [
      [["NOWHERE"], 1, "There is no building, space, pathway, conduit or cable NOWHERE"],
      [["F-1 1..2"], 1, "its marks on record run from 100 to 180"],
      [[], 2, "WHAT is missing"],
      [["K-1", "K-2", "--diverse"], 2, '"K-2" is one word too many.'],
      [["--ways-in", "--diverse"], 2, "--ways-in and --diverse are two questions."],
    ] as const) {
      const said = await cli(["impact", file, ...words]);
      expect([words, said.code]).toEqual([words, code]);
      expect(said.notes).toContain(sentence);
    }
  });
});

describe("strandbook freepair", () => {
  it("lists each way, with the strands of the best, and refuses without a number", async () => {
    const file = await plantFile();
    const none = await cli(["freepair", file, "LIB", "MIL", "--strands", "1"]);
    expect([none.code, none.out]).toEqual([0, "No way with 1 free strand from LIB to MIL is on record.\n"]);
    const said = await cli(["freepair", file, "LIB", "MIL", "--strands", "1", "--avoid", "K-1", "--json"]);
    expect(said.json<FreePairAnswer>()).toMatchObject({ from: { tag: "LIB" }, avoid: { tag: "K-1" }, ways: [] });
    expect(await cli(["freepair", file, "LIB", "MIL"])).toMatchObject({ code: 2 });
    expect((await cli(["freepair", file, "LIB", "LIB", "--strands", "1"])).notes).toContain(
      "From and to are both LIB.",
    );
  });
});
