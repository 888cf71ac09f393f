/** A map read in a real browser: rehearsed feature by feature, swapped back, taken over, undone, saved again. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { everyPage } from "./support/every-page.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(async () => {
  const plant = await newCampus();
  await plant.run("record.edit", { kind: "space", id: "MH-08", values: { longitude: -38.6, latitude: 41.9 } });
  return plant;
}, NOTHING);

const hole = (tag: string, ...coordinates: number[]) => ({
  ...{ type: "Feature", properties: { tag }, geometry: { type: "Point", coordinates } },
});
const file = (...features: object[]) => ({
  name: "site.geojson",
  mimeType: "application/geo+json",
  buffer: Buffer.from(JSON.stringify({ type: "FeatureCollection", features })),
});
const where = async (tag: string) => {
  const [row] = await journey.plant.store.read((reader) =>
    reader.rows<{ longitude: number | null }>("select longitude from space where tag = ?", [tag]),
  );
  return row?.longitude ?? null;
};

describe("a map that is read", () => {
  it("warns of swapped numbers, is read right when told, and leaves out what is unticked", async () => {
    const { page } = journey;
    await ask(page, "#/map");
    await page
      .getByLabel(/A GeoJSON, KML or KMZ file/)
      .setInputFiles(file(hole("MH-03", 41.901, -38.601), hole("HH-11", 41.902, -38.602), hole("HH-12", 41.903, -138)));
    await page.getByText("In 2 features longitude and latitude look swapped").waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    await page.getByLabel("latitude stands before longitude in this file").check();
    await page.getByText("3 features: 0 new, 3 changed, 0 same, 0 refused. 1 lies far outside the campus.").waitFor();
    await page.getByLabel("Take feature 3, HH-12").click();
    await page.getByRole("button", { name: "Take over 2 features" }).click();
    await page.getByText("2 places and ways taken over").waitFor();
    expect([await where("MH-03"), await where("HH-11"), await where("HH-12")]).toEqual([-38.601, -38.602, null]);
    await journey.plant.run("history.undo");
    expect(await where("MH-03")).toBeNull();
  });

  it("is saved as GeoJSON that changes nothing when it is read back", async () => {
    const { page } = journey;
    await ask(page, "#/find");
    await ask(page, "#/map");
    const down = page.waitForEvent("download");
    await page.getByRole("button", { name: /as GeoJSON/ }).click();
    const saved = await down;
    const text = readFileSync(await saved.path(), "utf8");
    expect(saved.suggestedFilename()).toBe("campus.geojson");
    await page.getByRole("textbox", { name: "or its text, pasted" }).fill(text);
    await page.getByRole("button", { name: "Read the map" }).click();
    await page.getByText(/0 new, 0 changed, \d+ same, 0 refused/).waitFor();
    expect(await page.getByRole("button", { name: "Nothing to take over" }).isDisabled()).toBe(true);
  });
});

everyPage({ "reading a map": { address: "#/map", shows: ".sheet-source" } }, ["reading a map"], () => journey.plant);
