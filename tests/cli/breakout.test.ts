/** `strandbook breakout`: a cable, a place and options; the answer as text and as JSON; and the reverse. */
import { beforeAll, describe, expect, it } from "vitest";
import type { BreakoutAnswer, ClosingAnswer } from "../../core/breakout/answer.ts";
import { way } from "../breakout/way.ts";
import { cli } from "./support.ts";

let file = "";
beforeAll(async () => {
  const plant = await way();
  await plant.run("cable.open", { cable: "F-1", stop: "H-3", cut: "13-14", stub_a: "yes", stub_b: "no" });
  await plant.close();
  file = plant.path;
});

const plain = (text: string): string => text.replace(/[\s\u202f]+/g, " ");
const WANTED = ["--strands", "4", "--side", "a"];

describe("strandbook breakout", () => {
  it("answers loop, cut, lateral, plans with their steps, and limits with their sources as JSON", async () => {
    const { code, json } = await cli([
      "breakout",
      file,
      "F-1",
      "H-2",
      ...WANTED,
      "--to",
      "NEW",
      "--type",
      "DR-12",
      "--json",
    ]);
    expect(code).toBe(0);
    const { loop, cut, lateral, plans, limits } = json<BreakoutAnswer>();
    expect([loop.reaches, cut.at, lateral.way_m, plans.length > 1]).toEqual(["yes", "edge", 60, true]);
    expect(plans[0]?.steps.some(({ act }) => act === "splice.range")).toBe(true);
    for (const { source } of limits) expect(source).not.toBe("");
  });
  it("prints it for people: the loop, each splice with its colours, losses, what is to be proved, the steps", async () => {
    const words = [...WANTED, "--to", "NEW", "--type", "DR-12", "--application", "10GBASE-LR"];
    const text = plain((await cli(["breakout", file, "F-1", "H-2", ...words])).out);
    expect(text).toContain("F-1 at H-2, towards ALD/1: its loop comes out");
    expect(text).toContain("H-1 4 m 12 m");
    expect(text).toContain("tube 3 green, strand 2 orange");
    expect(text).toContain("Runs towards A, at worst too: 10GBASE-LR");
    expect(text).toContain("Beyond: F-1:26-29 go dead between H-2 and ZED/1");
    expect(text).toContain("To prove: F-1:26-29: its condition is not proven");
    expect(text).toContain("splice.range Splice F-1:26-29#1 to F-1-L1:1-4");
    expect(text).toContain("Caution: Identify the cable by two independent signs");
  });
  it("takes length, case, numbers, cut and how many sets", async () => {
    const words = ["--length", "120m", "--lateral", "L-9", "--new-closure", "BOX", "--cut", "middle", "--most", "1"];
    const { json } = await cli(["breakout", file, "F-1", "H-2", ...WANTED, ...words, "--json"]);
    const { lateral, plans, cut } = json<BreakoutAnswer>();
    expect([lateral.tag, lateral.way_m, cut.at, plans.length]).toEqual(["L-9", 120, "middle", 1]);
    expect(plans[0]?.case.tag).toBe("H-2/BOX");
  });
  it("with --close tells the reverse", async () => {
    const { json } = await cli(["breakout", file, "F-1", "H-3", "--close", "all", "--json"]);
    expect(json<ClosingAnswer>()).toMatchObject({ closed: 0, strands: [{ strand: { number: 13 } }, {}] });
    const { out } = await cli(["breakout", file, "F-1", "H-3", "--close", "13"]);
    expect(plain(out)).toContain("strand 13 can't be joined again as it is");
    expect(plain(out)).toContain("no: no stub is left on its Z side");
  });
  it("with --job makes a job of a set, or shows what it would make", async () => {
    const words = ["breakout", file, "F-1", "H-2", ...WANTED, "--job", "J-7", "--set", "2"];
    const shown = await cli([...words, "--rehearse"]);
    expect([shown.code, (await cli(["show", file, "job", "J-7"])).code]).toEqual([0, 1]);
    expect(plain(shown.out)).toContain("Plan job J-7: Break-out (mid-span access) of F-1 at H-2");
    expect((await cli(words)).code).toBe(0);
    expect(plain((await cli(["list", file, "job_step"])).out)).toContain("Splice F-1:");
  });
  it("refuses in words what it can't read or do", async () => {
    const refused = async (...words: string[]) => {
      const { code, notes } = await cli(["breakout", file, "F-1", ...words]);
      return [code, plain(notes)];
    };
    expect(await refused("H-2", "--strands", "4")).toEqual([
      2,
      expect.stringContaining("--side is missing: a towards ALD/1, z towards ZED/1, or both."),
    ]);
    // Without the side, what the record says against it is told first.
    expect(await refused("H-9", "--strands", "4")).toEqual([1, expect.stringContaining("H-9")]);
    expect(await refused("H-2", "--strands", "4000")).toEqual([1, expect.stringContaining("4 000")]);
    expect(await refused("H-2", "--side", "a")).toEqual([2, expect.stringContaining("--strands is missing")]);
    expect(await refused("H-2", "--strands", "4", "--side", "up")).toEqual([
      2,
      expect.stringContaining("--side is a or z or both"),
    ]);
    expect(await refused("H-2", ...WANTED, "--length", "far")).toEqual([
      2,
      expect.stringContaining("--length is a number"),
    ]);
    expect(await refused("H-2", "--close", "all", "--side", "a")).toEqual([
      2,
      expect.stringContaining("--close and --side don't go together"),
    ]);
    expect(await refused("H-2", ...WANTED, "--set", "2")).toEqual([
      2,
      expect.stringContaining("--set belongs to --job"),
    ]);
    expect(await refused("H-2", ...WANTED, "--rehearse")).toEqual([2, expect.stringContaining("belongs to --job")]);
    expect(await refused("H-2", ...WANTED, "--job", "J", "--most", "2")).toEqual([
      2,
      expect.stringContaining("--job and --most don't go together"),
    ]);
    expect(await refused("ALD/1", ...WANTED)).toEqual([1, expect.stringContaining("ends there")]);
    expect(await refused("H-2", "--strands", "400", "--side", "a")).toEqual([1, expect.stringContaining("F-1 has 48")]);
  });
});
