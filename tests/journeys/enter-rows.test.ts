/** How rows look that are picked, refused or cut short: nothing is hidden, and what is told is told once. */
import { expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, keys, onClipboard, toColumn } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

it("shows the tick of a picked row whole beside its mark and its number, and brings the focus to the row", async () => {
  const { page } = journey;
  // Rows from the tenth on, some of them with a mark.
  await ask(page, "#/enter?kind=section&where=strand_id%3D71");
  await page.locator(".grid-line").first().waitFor();
  await ask(page, "#/enter?kind=section");
  await intoTable(page);
  await keys(page, "Control+End");
  const number = page.locator("[data-row] .grid-gutter:has(> svg)").last();
  await number.click();
  const ticked = page.locator(".grid-row.picked .grid-gutter:has(.grid-tick):has(svg:not(.grid-tick))");
  await ticked.waitFor();
  const [gutter, tick] = await Promise.all([ticked.boundingBox(), ticked.locator(".grid-tick").boundingBox()]);
  expect(tick?.width).toBeGreaterThan(0);
  // The stroke at the row's edge is 3 pixels wide.
  expect(tick?.x).toBeGreaterThanOrEqual((gutter?.x ?? 0) + 3);
  const row = await page.locator(".grid-row.picked").getAttribute("data-row");
  expect((await here(page))?.row).toBe(Number(row) + 1);
  expect(await page.locator(".hint-line > :not(.hush)").filter({ hasText: "1 row picked" }).count()).toBe(1);
  await page.getByRole("button", { name: "Pick none" }).click();
});

it("goes on telling how many rows are picked, with what can be done to them, while cells are refused", async () => {
  const { page } = journey;
  await ask(page, "#/enter?kind=cable");
  await intoTable(page);
  await keys(page, "Control+Home", "Control+Shift+ ");
  await page.getByRole("button", { name: "Set a field" }).waitFor();
  await toColumn(page, "type");
  await onClipboard(page, "Alpha");
  await keys(page, "Control+v");
  await page.getByText("1 cell refused").waitFor();
  await page.locator(".hint-picked").getByText("1 row picked").waitFor();
  await page.getByRole("button", { name: "Set a field" }).waitFor();
  // The cell that is refused makes its line no higher: what stands under it begins where it ends.
  const cells = await page.locator("[data-row='0'] .grid-cells").boundingBox();
  const tag = await page.locator("[data-row='0'] [data-column='0']").boundingBox();
  expect(tag?.height).toBeLessThanOrEqual(cells?.height ?? 0);
  await page.getByRole("button", { name: "Leave all as it was" }).click();
  await page.getByRole("button", { name: "Pick none" }).click();
});

it("ends a text that is too long for its column with an ellipsis", async () => {
  const { page } = journey;
  const name = "along the weir and under the mill to the far end of the old dye works";
  await journey.plant.run("record.edit", { kind: "cable", id: "F-014", values: { name } });
  const text = page.getByRole("grid").getByText(name);
  await text.waitFor();
  const { cut, overflow } = await text.evaluate((element) => ({
    cut: element.scrollWidth > element.clientWidth,
    overflow: getComputedStyle(element).textOverflow,
  }));
  expect({ cut, overflow }).toEqual({ cut: true, overflow: "ellipsis" });
});
