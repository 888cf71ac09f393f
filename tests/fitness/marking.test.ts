/** What the fire marking of a cable says of the spaces that it lies in. */
import { describe, expect, it } from "vitest";
import { GOOD, ground } from "./ground.ts";

const verdicts = (all: readonly { readonly verdict: string }[]) => all.map(({ verdict }) => verdict);

describe("a fire marking", () => {
  it.each([
    ["OFNP", "plenum", "fits"],
    ["OFNR", "plenum", "does_not"],
    ["riser", "riser", "fits"],
    ["OFCG", "riser", "does_not"],
    ["OFNR", "dry_indoor", "fits"],
    ["Cca-s1b,d2,a2", "riser", "cannot_tell"],
    [null, "riser", "does_not"],
    ["none", "riser", "does_not"],
    ["OFNR", null, "fits"],
    ["OFNG", null, "does_not"],
    ["OFNG", "dry_indoor", "does_not"],
    ["OFNG", "damp", "does_not"],
  ] as const)("%s in a riser of %s surroundings: %s", async (fire_marking, environment, verdict) => {
    const plant = await ground();
    await plant.edit("pathway", "RI-1", { environment });
    await plant.lay("B-1", { ...GOOD, environment: "outdoor", fire_marking }, "SCI/ER RI-1 SCI/T1");
    const found = (await plant.of("B-1", "fire")).filter(({ records }) => records[0]?.kind === "leg");
    expect(verdicts(found)).toEqual([verdict]);
  });
});

describe("a fire marking that contradicts itself", () => {
  it.each([
    [
      "OFNR OFNP",
      "plenum",
      "does_not",
      "OFNR and OFNP, which contradict each other: OFNR, which allows least, decides.",
    ],
    [
      "PLENUM / RISER",
      "riser",
      "fits",
      "RISER and PLENUM, which contradict each other: RISER, which allows least, decides.",
    ],
    [
      "Cca, earlier Fca",
      "riser",
      "does_not",
      "FCA and CCA, which contradict each other: FCA, which allows least, decides.",
    ],
    ["OFNR RISER", "riser", "fits", null],
  ] as const)(
    "tells all that it says, and the stricter decides: %s",
    async (fire_marking, environment, verdict, words) => {
      const plant = await ground();
      await plant.edit("pathway", "RI-1", { environment });
      await plant.lay("B-1", { ...GOOD, fire_marking }, "SCI/ER RI-1 SCI/T1");
      const [found] = (await plant.of("B-1", "fire")).filter(({ records }) => records[0]?.kind === "leg");
      expect(found?.verdict).toBe(verdict);
      if (words === null) expect(found?.fact).not.toContain("contradict");
      else expect(found?.fact).toContain(`Its marking says ${words}`);
    },
  );
});

describe("a fire marking in a tray", () => {
  it.each([
    ["OFN-LS", "fits"],
    ["LSZH", "cannot_tell"],
  ] as const)("%s: %s", async (fire_marking, verdict) => {
    const plant = await ground();
    await plant.edit("pathway", "RI-1", { kind: "cable_tray", environment: "dry_indoor" });
    await plant.lay("B-1", { ...GOOD, fire_marking }, "SCI/ER RI-1 SCI/T1");
    const found = (await plant.of("B-1", "fire")).filter(({ records }) => records[0]?.kind === "leg");
    expect(verdicts(found)).toEqual([verdict]);
  });
});
