/** The table in the hand of somebody with a mouse: blocks, widths, order, and a block that goes on past what is seen. */
import type { Locator, Page } from "playwright";
import { describe, expect, it } from "vitest";
import { newSoundCampus } from "./support/campus.ts";
import { clipboard, here, intoTable, keys, onClipboard, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newSoundCampus, NOTHING);

const cellAt = (page: Page, row: number, column: number) =>
  page.locator(`[data-row='${row}'] [data-column='${column}']`);
async function centre(of: Locator): Promise<readonly [number, number]> {
  const box = await of.boundingBox();
  if (!box) throw new Error("it isn't seen");
  return [box.x + box.width / 2, box.y + box.height / 2];
}
/** Corners of what is selected: rows and columns from 0. */
const selected = (page: Page) =>
  page.evaluate(() => {
    const cells = [...document.querySelectorAll<HTMLElement>("[data-column][aria-selected='true']")];
    const of = (numbers: number[]) => [Math.min(...numbers), Math.max(...numbers)];
    return {
      rows: of(cells.map((cell) => Number(cell.closest<HTMLElement>("[data-row]")?.dataset.row))),
      columns: of(cells.map((cell) => Number(cell.dataset.column))),
    };
  });

describe("a block of cells", () => {
  it("is drawn with the button held, and enlarged with Shift", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=strand");
    await intoTable(page);
    await page.mouse.move(...(await centre(cellAt(page, 1, 0))));
    await page.mouse.down();
    await page.mouse.move(...(await centre(cellAt(page, 4, 2))), { steps: 4 });
    await page.mouse.up();
    expect(await selected(page)).toEqual({ rows: [1, 4], columns: [0, 2] });
    await cellAt(page, 6, 1).click({ modifiers: ["Shift"] });
    expect(await selected(page)).toEqual({ rows: [1, 6], columns: [0, 1] });
  });

  it("goes on past the edge while the pointer stays there, and no further once it is let go", async () => {
    const { page } = journey;
    await page.mouse.move(...(await centre(cellAt(page, 2, 0))));
    await page.mouse.down();
    const [x, y] = await centre(page.locator(".hint-line").last());
    await page.mouse.move(x, y, { steps: 4 });
    await until("a block past the screen", async () => ((await selected(page)).rows[1] ?? 0) > 60);
    await page.mouse.up();
    const at = await here(page);
    expect(at?.row).toBeGreaterThan(60);
    // It is the same a good while later, as long as a tick would take ten times over.
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 600)));
    expect(await here(page)).toEqual(at);
    await page.mouse.move(...(await centre(page.locator("[role=grid] [data-column]:focus"))));
  });

  it("isn't drawn by widening a column, which is as wide as it was drawn", async () => {
    const { page } = journey;
    await keys(page, "Control+Home");
    const before = await selected(page);
    const head = page.locator("[data-head='1']");
    const width = (await head.boundingBox())?.width ?? 0;
    const [x, y] = await centre(head.locator(".grid-grip"));
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 90, y + 120, { steps: 6 });
    await page.mouse.up();
    await until("the width", async () => Math.abs(((await head.boundingBox())?.width ?? 0) - width - 90) < 2);
    expect(await selected(page)).toEqual(before);
  });
});

describe("a table", () => {
  it("is sorted by a column's head, and by another after it with Shift", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=space");
    await intoTable(page);
    const headOf = (label: string) => page.getByRole("columnheader", { name: label, exact: false });
    await headOf("kind").first().click();
    await page.locator("[aria-sort=ascending]").waitFor();
    await headOf("tag")
      .first()
      .click({ modifiers: ["Shift"] });
    await page.waitForFunction(() => document.querySelectorAll("[aria-sort]").length === 2);
    await headOf("tag")
      .first()
      .click({ modifiers: ["Shift"] });
    await page.locator("[aria-sort=descending]").waitFor();
    const rows = await onRecord(journey.plant, {
      kind: "space",
      sort: [{ field: "kind" }, { field: "tag", descending: true }],
    });
    expect(rows.length).toBeGreaterThan(6);
    for (const [at, { values }] of rows.entries())
      expect(await cellAt(page, at, 0).textContent()).toContain(String(values.tag));
  });
});

describe("cells with line breaks and quotes", () => {
  const note = 'first line\nsecond "line"';

  it("come from a spreadsheet as they are, and go back the same", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Shift+L");
    await page.getByRole("checkbox", { name: /^notes/ }).check();
    await keys(page, "Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "notes");
    // As a spreadsheet writes it: a cell with a line break or a quote in quotes, a quote in it doubled (RFC 4180).
    const copied = '"first line\nsecond ""line"""\r\nplain\r\n';
    await onClipboard(page, copied);
    await keys(page, "Control+v");
    const written = async () =>
      (await onRecord(journey.plant, { kind: "cable", limit: 2 })).map(({ values }) => values.notes);
    await until("both notes", async () => JSON.stringify(await written()) === JSON.stringify([note, "plain"]));
    // In a row of one line the break is seen by its sign, and nothing of the text is cut through.
    const cell = page.locator("[role=grid] .cell-text:has(.cell-break)");
    await cell.waitFor();
    expect((await cell.boundingBox())?.height).toBeLessThan(28);
    await keys(page, "Control+c");
    await until("the block on the clipboard", async () => (await clipboard(page)) === copied.trimEnd());
  });
});
