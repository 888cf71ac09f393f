/** Places a strand passes on its way, with marks in feet worked by hand (one foot is 0.3048 m exactly, NIST SP 811). */
import { beforeAll, describe, expect, it } from "vitest";
import type { Hop, TraceAnswer } from "../../core/trace/answer.ts";
import { newCampus } from "../journeys/support/campus.ts";
import type { TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeAll(async () => {
  plant = await newCampus();
});

const metres = (feet: number): number => Math.round(feet * 0.3048 * 1000) / 1000;
const strandOf = async (what: string): Promise<Hop> => {
  const { hops } = await plant.run<TraceAnswer>("trace.walk", { what });
  const hop = hops.find(({ kind }) => kind === "strand");
  if (!hop) throw new Error(`${what} has no strand`);
  return hop;
};
const passed = ({ passes }: Hop) => passes.map(({ place, at_m }) => [place.space?.tag, at_m]);

describe("a strand that runs through two holes", () => {
  it("passes them in order, measured from the tip it begins at to the middle of each", async () => {
    // From the tip: 49 ft coiled at FDY, 1779 ft to HH-11, half of the 66 ft that lie there.
    expect(passed(await strandOf("FDY/0E/P1:01"))).toEqual([
      ["HH-11", metres(49 + 1779 + 33)],
      ["HH-12", metres(49 + 1779 + 66 + 677)],
    ]);
  });
});

describe("the same strand told from its other end", () => {
  it("passes them the other way round, each measured from there", async () => {
    const hop = await strandOf("KLN/0E/P1:01");
    expect(hop.place?.space?.tag).toBe("KLN/0E");
    expect(passed(hop)).toEqual([
      ["HH-12", metres(33 + 1399)],
      ["HH-11", metres(33 + 1399 + 677 + 33)],
    ]);
  });
});

describe("a strand cut in the first of them", () => {
  it("passes only what lies beyond the cut", async () => {
    const { hops } = await plant.run<TraceAnswer>("trace.walk", { what: "F-033:79#2" });
    const hop = hops.find(({ record }) => record.tag === "F-033:79#2");
    expect(hop && passed(hop).map(([tag]) => tag)).toEqual(["HH-12"]);
  });
});

describe("a cord", () => {
  it("has the colour of its jacket where that is on record, and none otherwise", async () => {
    const { hops } = await plant.run<TraceAnswer>("trace.walk", { what: "KLN/0E/P1:13" });
    const cords = hops.filter(({ kind }) => kind === "cord");
    expect(cords.length).toBeGreaterThan(0);
    for (const cord of cords) expect(cord.colours).toMatchObject([{ what: "jacket", name: "yellow", code: "YL" }]);
  });
});
