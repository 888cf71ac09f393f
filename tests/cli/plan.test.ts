/** `strandbook plan`: in words, and as a PDF. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newPlant } from "../support/plant.ts";
import { cli } from "./support.ts";

describe("strandbook plan", () => {
  it("says where a way lies and what isn't on the plan, and prints it", async () => {
    const plant = await newPlant();
    const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
    await add("space", { tag: "MH-1", longitude: 10, latitude: 50 });
    await add("space", { tag: "MH-2", longitude: 10.001, latitude: 50 });
    await add("space", { tag: "MH-3" });
    await add("pathway", { tag: "DB-1", from_space_id: "MH-1", to_space_id: "MH-2", length_m: 72 });
    await plant.close();
    const told = await cli(["plan", plant.path, "DB-1"]);
    expect(told.code).toBe(0);
    expect(told.out).toMatch(/^DB-1: 72.m\./);
    expect(told.out).toContain("Not on the plan: space MH-3");
    const out = join(plant.folder, "plan.pdf");
    const made = await cli(["plan", plant.path, "--out", out]);
    expect([made.code, made.out]).toEqual([0, expect.stringContaining("1 page")]);
    expect(readFileSync(out).subarray(0, 5).toString()).toBe("%PDF-");
    expect((await cli(["plan", plant.path, "F-99"])).code).toBe(1);
  });
});
