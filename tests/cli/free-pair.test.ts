/** `strandbook freepair`: what ways lose, and one of them planned and undone. */
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { PlannedWay } from "../../core/free-pair/plan.ts";
import type { Written } from "../../core/store/written.ts";
import { campus } from "../check/campus.ts";
import { cli } from "./support.ts";

async function plantFile(): Promise<string> {
  const plant = await campus();
  await plant.close();
  return plant.path;
}
const asked = (file: string, ...more: string[]) => cli(["freepair", file, "LIB", "SCI", "--strands", "2", ...more]);

describe("strandbook freepair", () => {
  it("tells for each way what it loses and whether an application runs, with the sources of its limits", async () => {
    const file = await plantFile();
    const { out, code } = await asked(file, "--application", "10GBASE-LR");
    expect(code).toBe(0);
    expect(out).toMatch(/loss at worst +10GBASE-LR +over/);
    expect(out).toMatch(/2\.23 dB at 1310 nm +runs +F-014/);
    expect(out).toMatch(/limit 6\.2 dB: .+\(second-hand\)/);
    const { ways } = (await asked(file, "--application", "1000BASE-SX", "--json")).json<FreePairAnswer>();
    expect(ways[0]?.loss?.application?.runs).toBe("no");
  });

  it("plans a way, as a rehearsal first, and takes it back", async () => {
    const file = await plantFile();
    const shown = await asked(file, "--plan", "K-9", "--rehearse");
    expect(shown.out).toMatch(/^Would be done: Plan K-9 from LIB to SCI/);
    const written = (await asked(file, "--plan", "K-9", "--job", "J-9", "--json")).json<Written<PlannedWay>>();
    expect(written.answer).toMatchObject({ circuit: { tag: "K-9" }, job: { tag: "J-9" }, sections: 2 });
    expect((await cli(["show", file, "circuit", "K-9"])).code).toBe(0);
    expect((await cli(["undo", file])).code).toBe(0);
    expect((await cli(["show", file, "circuit", "K-9"])).code).toBe(1);
  });

  it("says that what belongs to a plan wants one", async () => {
    const file = await plantFile();
    for (const words of [["--way", "2"], ["--job", "J-1"], ["--rehearse"], ["--plan", "K-9", "--separate"]]) {
      const { code, notes } = await asked(file, ...words);
      expect(code).toBe(2);
      expect(notes).toContain("--plan");
    }
  });
});
