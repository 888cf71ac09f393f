/** By the keyboard alone: what stands here is kept in every conflict with another file, and isn't asked again. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { contents } from "../history/contents.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { tabInto, tabTo } from "./support/keyboard.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

let field = "";
const journey = journeyOn(async () => {
  const office = await newPlant();
  await office.run("record.add", { kind: "cable", values: { tag: "F-1", name: "as laid" } });
  await office.run("record.add", { kind: "building", values: { tag: "OLD" } });
  field = join(newFolder(), "field.strandbook");
  await office.application.file.saveCopy(field);
  const there = await newPlant({ path: field });
  await there.run("record.edit", { kind: "cable", id: "F-1", values: { name: "south" } });
  await there.run("record.add", { kind: "space", values: { tag: "1", building_id: "OLD", kind: "telecom_room" } });
  const panel = { tag: "P", space: "OLD/1", ports: [{ numbers: "1..24", connector: "lc" }] };
  await there.run("panel.enter", panel);
  await there.close();
  await office.run("record.edit", { kind: "cable", id: "F-1", values: { name: "north" } });
  await office.run("record.remove", { kind: "building", ids: ["OLD"] });
  return office;
});

describe("a clerk who keeps what is here", () => {
  it("reads what is left out with a record, and why, before anything is chosen", async () => {
    const { page } = journey;
    await ask(page, `#/merge?file=${encodeURIComponent(field)}`);
    const left = await shown(page.getByRole("list", { name: "Not taken of OLD/1" }));
    expect(left).toContain("1 space OLD/1 left out; refers to what was deleted here: building OLD");
    expect(left).toContain("1 panel OLD/1/P left out; refers to what is left out: space OLD/1");
    expect(left).toMatch(/24 ports OLD\/1\/P:1, .*, OLD\/1\/P:12 and 12 more left out/);
    await journey.looks();
    // What is left out is read whole: nothing of it lies beyond the edge of the list.
    expect(await page.locator(".merge").evaluate((list) => list.scrollWidth - list.clientWidth)).toBe(0);
  });

  it("chooses one by its arrows and the rest at once, and what would come in says so", async () => {
    const { page } = journey;
    await tabInto(page, '.conflicts li:has(input) ~ li input[type="radio"]');
    await page.keyboard.press("ArrowDown");
    await page
      .getByRole("group", { name: /F-1/ })
      .getByRole("radio", { name: /^there/, checked: true })
      .waitFor();
    await page.getByText("1 record would be added, changed or deleted").waitFor();
    await page.keyboard.press("ArrowUp");
    await page.getByRole("group", { name: /F-1/ }).getByRole("radio", { name: /^here/, checked: true }).waitFor();
    await tabTo(page, "Keep what is here in all");
    await page.keyboard.press("Enter");
    await page.getByText("2 conflicts, all chosen").waitFor();
  });

  it("settles that as one change without a record, which one undo takes back", async () => {
    const { page, plant } = journey;
    const before = await contents(plant);
    await tabTo(page, "Settle, and keep what is here");
    await page.keyboard.press("Enter");
    await page.getByText("Nothing would be taken").waitFor();
    await until("no conflict", async () => (await page.locator(".conflicts").count()) === 0);
    await page.getByText(/Merged before, as change/).waitFor();
    // From there Tab goes on.
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("acts");
    expect(await page.getByRole("button", { name: /^Settle|^Take/ }).count()).toBe(0);
    expect(await contents(plant)).toEqual(before);
    expect(await shown(page.getByRole("contentinfo"))).toContain("Undo: Merge field.strandbook");
    await page.keyboard.press("Control+z");
    await page.getByText("2 conflicts, 2 still to be chosen").waitFor();
  });
});
