/** `strandbook coils`: the study as text and as JSON. */
import { beforeAll, describe, expect, it } from "vitest";
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import { coiled, legFrom } from "../coils/plant.ts";
import { cli } from "./support.ts";

let file = "";
beforeAll(async () => {
  const plant = await coiled();
  await plant.close();
  file = plant.path;
});

const plain = (text: string): string => text.replace(/[\s\u202f]+/g, " ");

describe("strandbook coils", () => {
  it("answers cables with stretches and cure, what can't be told, places and limits as JSON", async () => {
    const { code, json } = await cli(["coils", file, "--json"]);
    expect(code).toBe(0);
    const { cables, untold, places, limits } = json<CoilsAnswer>();
    expect(cables[0]?.cure.coils).toMatchObject([{ words: "SCI/B01", more_m: 7 }]);
    expect(untold.length + cables.length).toBe(2);
    expect(places[0]?.words).toBe("SCI/B01");
    expect(limits.length).toBeGreaterThan(3);
  });
  it("prints them for people, ranked, and one cable stretch by stretch", async () => {
    const all = plain((await cli(["coils", file], { columns: 200 })).out);
    expect(all).toContain("first F-1, with 2 circuits at stake");
    expect(all).toContain("SCI/B01 +7 m");
    expect(all).not.toContain("what cures it");
    const one = plain((await cli(["coils", file, "--of", "F-1", "--lost", "1.5m"], { columns: 200 })).out);
    expect(one).toContain("what cures it");
    expect(one).toContain("1001.5 to 1300.5 m");
    expect(one).toContain("SCI/B01 +7.5 m");
    expect(one).toContain("Caution: A hole may hold gas, water or power.");
  });
  it("prints how much of a cable's way can't be told in the list of all cables", async () => {
    const plant = await coiled();
    await plant.edit("leg", await legFrom(plant.id, "F-1", 1), { slides: "no" });
    await plant.edit("stop", "F-1@3", { mark_open_to: null });
    const { cables } = await plant.run<CoilsAnswer>("coils.study", {});
    await plant.close();
    const metres = Math.round((cables[0]?.untold_m ?? 0) * 10) / 10;
    expect(metres).toBeGreaterThan(50);
    const [head, row] = (await cli(["coils", plant.path], { columns: 200 })).out
      .split("\n")
      .flatMap((line, at, all) =>
        line.startsWith("cable ") ? [line, all.slice(at).find((one) => one.startsWith("F-1 "))] : [],
      );
    const ends = (head?.indexOf("can't be told") ?? -99) + "can't be told".length;
    expect(plain(row?.slice(0, ends) ?? "")).toMatch(new RegExp(` ${metres} m$`));
  });
  it("refuses a cable that isn't there, and metres that are none", async () => {
    const nobody = await cli(["coils", file, "--of", "F-404"]);
    expect([nobody.code, nobody.notes]).toEqual([1, expect.stringContaining("F-404")]);
    const wordy = await cli(["coils", file, "--lost", "much"]);
    expect([wordy.code, wordy.notes]).toEqual([2, expect.stringContaining('--lost is a number, not "much"')]);
  });
});
