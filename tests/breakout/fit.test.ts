/**
 * Where a break-out fits: the places on the way of F-1 of `way.ts`, ranked. By that record 20 m lie in H-1 and H-3, which
 * is enough for a window of 6 m and a reach of 5 m on both sides (the plant's policies); 12 m in H-2, which lack 4 m that
 * its neighbours lend.
 */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import type { BreakoutPlaces } from "../../core/breakout/places.ts";
import type { CheckedPlant } from "../check/campus.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", strands: 4, side: "a" } as const;
const BIG = { inner_length_m: 3, inner_width_m: 2 };
/** F-1 bends to 0.2 m, and every hole has room. */
async function roomy(options: Parameters<typeof way>[0] = {}): Promise<CheckedPlant> {
  const plant = await way({ type: { bend_radius_mm: 200 }, ...options });
  for (const hole of ["H-1", "H-2", "H-3"]) await plant.edit("space", hole, BIG);
  return plant;
}
const ranked = (plant: CheckedPlant, more: object = {}): Promise<BreakoutPlaces> =>
  plant.run<BreakoutPlaces>("breakout.places", { ...ASKED, ...more });
const told = ({ places }: BreakoutPlaces) => places.map(({ place, fit }) => [place.tag, fit.verdict]);

describe("the places on a cable's way", () => {
  it("are all that it passes, as each answers by itself, and not its ends", async () => {
    const plant = await roomy();
    const answer = await ranked(plant);
    expect(told(answer)).toEqual([
      ["H-1", "yes"],
      ["H-3", "yes"],
      ["H-2", "yes"],
    ]);
    for (const { place, strands, pulled_m, fit } of answer.places) {
      const own = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, at: place.tag });
      expect([own.plans[0]?.strands, own.plans[0]?.fit]).toEqual([strands, fit]);
      expect(pulled_m).toBe(place.tag === "H-2" ? 4 : 0);
    }
    expect(answer.refused).toEqual([]);
    expect(answer.sentence).toBe("Best at H-1 of 3 places on the way of F-1: fits by the record.");
  });
  it("rank a hole that is too small last, with its reason", async () => {
    const plant = await roomy();
    await plant.edit("space", "H-1", { inner_length_m: 0.6, inner_width_m: 0.6 });
    const answer = await ranked(plant);
    expect(told(answer)).toEqual([
      ["H-3", "yes"],
      ["H-2", "yes"],
      ["H-1", "no"],
    ]);
    for (const hole of ["H-2", "H-3"]) await plant.edit("space", hole, { inner_length_m: 0.6, inner_width_m: 0.6 });
    expect((await ranked(plant)).sentence).toMatch(
      /^At none of 3 places on the way of F-1 does it fit as it lies; least is against it at H-1: H-1 is too small/,
    );
    expect(answer.places[2]?.words).toMatch(/^doesn't fit as it lies: H-1 is too small: it is 0\.6\sm/);
  });
  it("say plainly where no spare lies and none can be drawn", async () => {
    const plant = await roomy({ slides: "no" });
    await plant.edit("space", "H-2", { crossing_m: 0 });
    await plant.edit("stop", "F-1@3", { mark_in: null, mark_out: null, slack_m: 0 });
    const { loop } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, at: "H-2" });
    expect(loop.words).toMatch(/^In place only: no spare lies at H-2 and none can be drawn there; a loop takes 16\sm/);
  });
  it("rank one whose coil doesn't suffice after one whose does, and one that waits for a proof between", async () => {
    const stuck = await ranked(await roomy({ slides: "no" }));
    expect(told(stuck)).toEqual([
      ["H-1", "yes"],
      ["H-3", "yes"],
      ["H-2", "no"],
    ]);
    expect(stuck.places[2]?.fit.against[0]).toMatch(
      /^its coils don't suffice, they lack 4\sm and none can be drawn there/,
    );
    const unproven = await ranked(await roomy({ slides: "unproven" }));
    expect(told(unproven)[2]).toEqual(["H-2", "open"]);
  });
  it("say where nothing on record is there to land on, and where the lateral has no way", async () => {
    const plant = await roomy();
    const answer = await ranked(plant, { to: "NEW" });
    // W-5 leads from H-2 to NEW/1, and no panel is there.
    expect(answer.places.every(({ fit }) => fit.open.join().includes("nothing on record to land on in NEW/1"))).toBe(
      true,
    );
    await plant.run("panel.enter", {
      tag: "A",
      space: "NEW/1",
      ports: [{ numbers: "01..12", connector: "lc_duplex" }],
    });
    expect(told(await ranked(plant, { to: "NEW" }))).toEqual(
      expect.arrayContaining([
        ["H-1", "yes"],
        ["H-2", "yes"],
      ]),
    );
    // Of those that fit alike, the one whose lateral is the shortest.
    expect((await ranked(plant, { to: "NEW" })).places[0]?.place.tag).toBe("H-2");
  });
  it("without so many free strands are told by their reason", async () => {
    const { places, refused, sentence } = await ranked(await roomy(), { strands: 48 });
    expect(places).toEqual([]);
    expect(refused.map(({ name }) => name)).toEqual(["H-1", "H-2", "H-3"]);
    expect(refused[0]?.reason).toContain("48 strands are wanted");
    expect(sentence).toContain("At no place on the way of F-1");
  });
  it("aren't asked of a building that isn't on record, nor of a cable without one", async () => {
    const plant = await roomy();
    expect(await plant.call("breakout.places", { ...ASKED, to: "NOWHERE" })).toMatchObject({
      error: { code: "not_found" },
    });
    await plant.run("cable.enter", { tag: "F-2", type: "DR-12", stops: [{ space: "H-1" }, { space: "H-2" }] });
    expect(await plant.call("breakout.places", { ...ASKED, cable: "F-2" })).toMatchObject({
      error: { code: "not_possible", problems: [{ reason: "passes no place on record" }] },
    });
  });
});
