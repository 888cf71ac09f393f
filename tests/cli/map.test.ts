/** `strandbook map` and `strandbook map-export`: rehearsed, taken over, refused, written out. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { cli, newFile } from "./support.ts";

let file: string;
let map: string;
beforeEach(async () => {
  file = await newFile();
  map = join(file, "..", "site.geojson");
});
const put = (...features: [string, number, number][]) =>
  writeFileSync(
    map,
    JSON.stringify({
      type: "FeatureCollection",
      features: features.map(([tag, ...coordinates]) => ({
        type: "Feature",
        properties: { tag, kind: "hand_hole" },
        geometry: { type: "Point", coordinates },
      })),
    }),
  );

describe("strandbook map", () => {
  it("tells each feature's fate and ends with 1 when some are refused, then takes over the others", async () => {
    put(["HH-1", -38.6, 41.9], ["HH-2", -38.6, 95]);
    const rehearsed = await cli(["map", file, map, "--rehearse"], { columns: 200 });
    expect([rehearsed.code, rehearsed.out]).toEqual([
      1,
      expect.stringContaining("2 features: 1 new, 0 changed, 0 same, 1 refused."),
    ]);
    expect(rehearsed.out).toContain("has latitude 95: must be from -90 to 90");
    expect((await cli(["map", file, map])).code).toBe(1);
    expect((await cli(["map", file, map, "--leave-out-refused"])).code).toBe(0);
    const spaces = (await cli(["list", file, "space", "--json"])).json<{ tag: string }[]>();
    expect(spaces).toMatchObject([{ tag: "HH-1", kind: "hand_hole", longitude: -38.6, latitude: 41.9 }]);
  });

  it("offers to read latitude first where the numbers look swapped", async () => {
    put(["HH-1", -38.6, 41.9]);
    await cli(["map", file, map]);
    put(["HH-2", 41.9, -38.6]);
    const { out } = await cli(["map", file, map, "--rehearse"], { columns: 300 });
    expect(out).toContain("Read it with --swapped");
    expect((await cli(["map", file, map, "--swapped", "--rehearse"])).out).not.toContain("swapped");
  });
});

describe("strandbook map-export", () => {
  it("writes a new GeoJSON file, which changes nothing when it is read back, and never over another", async () => {
    put(["HH-1", -38.6, 41.9]);
    await cli(["map", file, map]);
    const out = join(file, "..", "out.geojson");
    expect((await cli(["map-export", file, out])).out).toContain("1 feature.");
    expect(JSON.parse(readFileSync(out, "utf8"))).toMatchObject({ features: [{ properties: { tag: "HH-1" } }] });
    expect((await cli(["map", file, out, "--rehearse"])).out).toContain("0 new, 0 changed, 1 same");
    expect((await cli(["map-export", file, out])).code).toBe(1);
    expect((await cli(["map-export", file, join(file, "..", "out.txt")])).code).toBe(2);
  });
});
