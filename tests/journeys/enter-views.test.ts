/** How a table stands, and what leaves it: columns kept in view, tall rows, named views, a file of exactly what is filtered. */
import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { readPdf } from "../paper/read-pdf.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, keys, toColumn, until } from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { axeFindings } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, NOTHING);

const box = async (place: string) => {
  const found = await journey.page.locator(place).first().boundingBox();
  if (!found) throw new Error(`${place} isn't there`);
  return found;
};

describe("columns kept in view", () => {
  it("stay at the left in head, filters and rows, however far one goes, and cover no cell with the focus", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
    await keys(page, "Control+Shift+l");
    const dialog = page.getByRole("dialog", { name: "Columns shown" });
    await dialog.getByRole("combobox", { name: "Columns that stay in view" }).selectOption("3");
    expect(await axeFindings(page)).toEqual([]);
    await dialog.getByRole("button", { name: "All", exact: true }).click();
    await dialog.getByRole("button", { name: "Done" }).click();
    await page.getByRole("button", { name: "Filter" }).click();
    await intoTable(page);
    await keys(page, "Control+Home");
    const before = await box("[data-row='0'] [data-column='2']");
    await keys(page, "End");
    expect((await box(".grid")).width).toBeLessThan(1100);
    expect(await page.locator(".grid").evaluate((grid) => grid.scrollLeft)).toBeGreaterThan(200);
    for (const place of ["[data-row='0'] [data-column='2']", "[data-head='2']", ".grid-filter:nth-child(4)"])
      expect((await box(place)).x, place).toBeCloseTo(before.x, 0);
    // Going back, each cell stands beside what is kept, never under it.
    for (let step = 0; step < 8; step++) {
      await keys(page, "ArrowLeft");
      const focused = await box("[data-row='0'] [data-column][tabindex='0']");
      expect(focused.x).toBeGreaterThanOrEqual(before.x + before.width - 1);
    }
  });

  it("are remembered with order and widths when the window is opened anew", async () => {
    const { page } = journey;
    await keys(page, "Control+Shift+l");
    const dialog = page.getByRole("dialog", { name: "Columns shown" });
    await dialog.getByRole("button", { name: "place one place later" }).click();
    await dialog.getByRole("button", { name: "Done" }).click();
    const heads = () => page.locator(".grid-head-words").allTextContents();
    await until("the other order", async () => (await heads())[2]?.startsWith("place") ?? false);
    await intoTable(page);
    await keys(page, "Control+Home", "ArrowUp", "Control+ArrowRight", "Control+ArrowRight");
    const wide = (await box("[data-head='0']")).width;
    const order = await heads();
    await page.reload();
    await page.locator("[data-row='0'] .tag").first().waitFor();
    expect(await heads()).toEqual(order);
    expect((await box("[data-head='0']")).width).toBeCloseTo(wide, 0);
    expect(await page.locator("[data-row='0'] .kept").count()).toBe(3);
  });
});

describe("rows of several lines", () => {
  it("are as tall as that, and the next follow below them", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await page.locator("[data-row='3'] .tag").first().waitFor();
    await page.getByRole("button", { name: "Columns" }).click();
    const dialog = page.getByRole("dialog", { name: "Columns shown" });
    await dialog.getByRole("combobox", { name: "Lines in a row" }).selectOption("4");
    await dialog.getByRole("button", { name: "Done" }).click();
    // 28 px for the first line and 18 for each further one, the rule between rows included.
    await until("tall rows", async () => Math.round((await box("[data-row='0'] .grid-cells")).height) === 81);
    const [one, next] = [await box("[data-row='3']"), await box("[data-row='4']")];
    expect(next.y).toBeGreaterThanOrEqual(one.y + one.height - 1);
  });
});

describe("a view with a name", () => {
  it("brings back what was asked and how the table stood, from the dialog and from the list of acts", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03&where=a_section_id%3DF-014&by=-a_section_id");
    await intoTable(page);
    await keys(page, "Control+Shift+g");
    const dialog = page.getByRole("dialog", { name: "Views of splices" });
    await dialog.getByRole("textbox", { name: "keep this as" }).fill("  Thirties   of F-014 ");
    await dialog.getByRole("button", { name: "Keep this view" }).click();
    await dialog.getByRole("button", { name: "Thirties of F-014", exact: true }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await dialog.getByRole("button", { name: "Close" }).click();
    const asked = await page.evaluate(() => location.hash);
    await ask(page, "#/enter?kind=splice");
    await intoTable(page);
    await keys(page, "Control+Shift+p");
    await page.keyboard.type("thirties");
    await page.getByRole("option", { name: /^view Thirties of F-014/ }).waitFor();
    await keys(page, "Enter");
    await until("the view", async () => (await page.evaluate(() => location.hash)) === asked);
    await intoTable(page);
    await keys(page, "Control+Shift+g");
    await dialog.getByRole("button", { name: "Drop the view Thirties of F-014" }).click();
    await dialog.getByText("A view keeps what is asked").waitFor();
    await keys(page, "Escape");
  });
});

describe("a column's filter", () => {
  const offered = (column: string) =>
    journey.page.locator(`#filter-${column} option`).evaluateAll((all) => all.map((one) => one.getAttribute("label")));

  it("offers the values that the other filters leave, each with its count", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=strand&where=cable_id%3D= F-033");
    await page.locator("[role=grid][aria-rowcount='99']").waitFor();
    await page.getByLabel("Only where condition is").focus();
    await until("the counts", async () => (await offered("condition")).join("; ") === "empty, 95; broken, 1");
    // Its own filter aside: all five cables, though the table shows one.
    await page.getByLabel("Only where cable is").focus();
    await until("the cables", async () => (await offered("cable_id")).includes("= F-070, 12"));
    expect(await offered("cable_id")).toContain("= F-014, 48");
    await page.getByLabel("Only where condition is").fill("broken");
    await page.locator("[role=grid][aria-rowcount='4']").waitFor();
    await page.getByText("1 strand where cable is F-033 and condition is broken").waitFor();
  });

  it("goes by a field of the record that is named, and takes either of two", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable&where=type_id%3D");
    const field = page.getByLabel("Only where type is");
    await field.focus();
    await until("the fields of a type", async () => (await offered("type_id")).includes("armour: …"));
    await field.fill("armour: metallic");
    await page.getByText("4 cables where type's armour is metallic").waitFor();
    await field.fill("tag: = LT-DIN | made for: outdoor");
    await page.getByText(/^5 cables where type's/).waitFor();
    await field.fill("tag: = LT-DIN");
    await page.getByText("1 cable where type's tag is LT-DIN").waitFor();
  });

  it("that can't be read says why under the table, and to who listens, until it can", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable&where=tag%3D");
    const field = page.getByLabel("Only where type is");
    await field.fill("> 12");
    const why = "Not filtered by this: type takes no >: only numbers, days and tags have more and less";
    await page.locator(".hint-faults", { hasText: why }).waitFor();
    const told = await field.evaluate(
      (input) => document.getElementById(input.getAttribute("aria-describedby") ?? "")?.textContent ?? "",
    );
    expect(told).toContain(why);
    await field.fill("");
    await page.locator(".hint-faults:empty").waitFor({ state: "attached" });
    await page.getByLabel("Only where tag is").fill("> F-033");
    await page.getByText(/cables? where tag above F-033/).waitFor();
    await page.getByText("F-014").waitFor({ state: "detached" });
  });
});

describe("the table as a file", () => {
  it("holds exactly the rows that are filtered, in their order, and the columns shown", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=strand&where=cable_id%3DF-033&by=-number");
    await page.locator("[role=grid][aria-rowcount='99']").waitFor();
    await intoTable(page);
    await toColumn(page, "number");
    await keys(page, "Control+Shift+x");
    const dialog = page.getByRole("dialog", { name: "Write this table as a file" });
    expect(await axeFindings(page)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      dialog.getByRole("button", { name: "Write 96 rows" }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/^strands where cable has F-033 \d{4}-\d\d-\d\d\.csv$/);
    const rows: Record<string, string>[] = parse(readFileSync(await download.path()), { columns: true, bom: true });
    expect(rows.map((row) => row.number)).toEqual(Array.from({ length: 96 }, (_, at) => String(96 - at)));
    expect(new Set(rows.map((row) => row.cable))).toEqual(new Set(["F-033"]));
    const heads = await page.locator(".grid-head-words").allTextContents();
    expect(Object.keys(rows[0] ?? {})).toEqual(heads);
    await dialog.waitFor({ state: "detached" });
    expect(await here(page)).toMatchObject({ column: "number" });
  });

  it("goes to paper whole, by the same dialog", async () => {
    const { page } = journey;
    await keys(page, "Control+Shift+x");
    const dialog = page.getByRole("dialog", { name: "Write this table as a file" });
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      dialog.getByRole("button", { name: "Print 96 rows" }).click(),
    ]);
    const read = await readPdf(readFileSync(await download.path()));
    expect(read.text.replace(/\s+/g, " ")).toContain("96 strands where cable has F-033");
    await dialog.waitFor({ state: "detached" });
  });
});
