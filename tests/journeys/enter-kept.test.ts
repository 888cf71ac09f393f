/** No letter typed into a table is lost: not with the window, not with the program, not beside a second window. */
import type { Page } from "playwright";
import { describe, expect, it, onTestFinished } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { intoTable, keys, onClipboard, onRecord, toColumn, until } from "./support/grid.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

const opened = async (plant: TestPlant, person = "Ada Splicer"): Promise<OpenWindow> => {
  const window = await openWindow(plant, { person });
  onTestFinished(() => window.close());
  return window;
};
const toCables = async (page: Page) => {
  await ask(page, "#/enter?kind=cable");
  await intoTable(page);
  await keys(page, "Control+Home");
};
/** Leaves a refused cell, in the column of types. */
const pasteType = async (page: Page, text: string) => {
  await toCables(page);
  await toColumn(page, "type");
  await onClipboard(page, text);
  await keys(page, "Control+v");
  await page.getByText(/^1 cell refused/).waitFor();
};
const lying = async (plant: TestPlant) =>
  (await plant.run<AnswerOf<"desk.list">>("desk.list", { form: "typed", whole: true })).items;
const holds = (plant: TestPlant, text: string) =>
  until(text, async () => JSON.stringify(await lying(plant)).includes(JSON.stringify(text)));
const notice = (page: Page, words: string | RegExp) => page.locator(".notice", { hasText: words }).waitFor();
/** Its page comes to grief without a word; answers the page of a new window. */
const crashed = async (window: OpenWindow): Promise<Page> => {
  const devtools = await window.page.context().newCDPSession(window.page);
  const gone = window.page.waitForEvent("crash");
  void devtools.send("Page.crash").catch(() => undefined);
  await gone;
  return window.another();
};
const names = async (plant: TestPlant) =>
  (await onRecord(plant, { kind: "cable", limit: 9 })).map(({ values }) => values.name);

describe("a window that is closed, and the program with it", () => {
  it("loses no cell that was refused, none of a row that is being made, and no letter of the cell that is edited", async () => {
    const plant = await newCampus();
    const first = await opened(plant);
    await pasteType(first.page, "Alpha");
    await keys(first.page, "Control+End", "ArrowDown", "Home");
    await toColumn(first.page, "name");
    await first.page.keyboard.type("to the mill");
    await keys(first.page, "Enter");
    await first.page.getByText(/Tag is missing/).waitFor();
    await keys(first.page, "Control+Home");
    await toColumn(first.page, "name");
    await first.page.keyboard.type("r-1");
    // At once: no pause in which it could be kept.
    await first.page.close({ runBeforeUnload: true });
    await holds(plant, "r-1");
    await first.close();
    await plant.close();

    const again = await newPlant({ path: plant.path });
    const { page } = await opened(again, "Bo Jointer");
    await notice(page, /Back as typed and not written: 4 cells of cables, by Ada Splicer/);
    await ask(page, "#/enter?kind=cable");
    await page.getByText(/Type is “?Alpha/).waitFor();
    await page.getByRole("grid").getByText("to the mill").waitFor();
    await page.getByRole("grid").getByText("r-1").waitFor();
    // As many as the notice tells of; the name of the row without a tag can't be written by itself.
    await page.getByText("2 cells refused, 2 wait").waitFor();
    await page.getByRole("button", { name: "Write 1 of the others" }).click();
    await until("r-1", async () => (await names(again))[0] === "r-1");
  });

  it("offers to write what only waited, for then no refusal says that it is there", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await toCables(window.page);
    await toColumn(window.page, "name");
    await window.page.keyboard.type("half a na");
    await holds(plant, "half a na");
    const page = await crashed(window);
    await notice(page, /1 cell of cables/);
    await ask(page, "#/enter?kind=cable");
    await page.getByText("1 cell typed and not written").waitFor();
    await page.getByRole("button", { name: "Write it" }).click();
    await until("the name", async () => (await names(plant))[0] === "half a na");
    await until("an empty desk", async () => (await lying(plant)).length === 0);
  });

  it("says of what is half typed that it can't be written so, and marks what waits beside its row's number", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await toCables(window.page);
    await toColumn(window.page, "installed on");
    await window.page.keyboard.type("12 Mar");
    await holds(plant, "12 Mar");
    let page = await crashed(window);
    await notice(page, /1 cell of cables/);
    await ask(page, "#/enter?kind=cable");
    await page.getByText(/Installed on is “12 Mar”: must be a day of the calendar/).waitFor();
    await page.getByText("1 cell refused").waitFor();
    expect(await page.getByRole("button", { name: /^Write/ }).count()).toBe(0);
    await page.getByRole("button", { name: "Leave all as it was" }).click();

    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "name");
    await page.keyboard.type("half a na");
    await holds(plant, "half a na");
    page = await crashed({ ...window, page });
    await ask(page, "#/enter?kind=cable");
    await page.getByRole("rowheader", { name: /F-014.*1 cell not written yet/ }).waitFor();
    expect(await page.locator("[data-row='0'] .grid-gutter svg.cell-waits").count()).toBe(1);
  });

  it("keeps it once, though it is left while its first keeping is on its way", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await toCables(page);
    await toColumn(page, "name");
    // It comes to the file, and its answer never to the page.
    await page.route("**/call", async (route) => {
      if (route.request().postDataJSON().name !== "desk.keep") return route.continue();
      await route.fetch();
      await page.unroute("**/call");
    });
    await page.keyboard.type("al");
    await holds(plant, "al");
    await page.keyboard.type("pha");
    await page.close({ runBeforeUnload: true });
    await holds(plant, "alpha");
    expect(await lying(plant)).toHaveLength(1);
  });

  it("keeps what was typed when the page itself comes to grief", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await pasteType(window.page, "Beta");
    await holds(plant, "Beta");
    const page = await crashed(window);
    await notice(page, /Back as typed and not written: 1 cell of cables/);
    await ask(page, "#/enter?kind=cable");
    await page.getByText(/Type is “?Beta/).waitFor();
  });

  it("leaves nothing lying once all is written, and nothing of it in the history", async () => {
    const plant = await newCampus();
    const before = (await plant.run<AnswerOf<"history.list">>("history.list", { limit: 1 })).items;
    const { page } = await opened(plant);
    await pasteType(page, "Gamma");
    await holds(plant, "Gamma");
    expect((await plant.run<AnswerOf<"history.list">>("history.list", { limit: 1 })).items).toEqual(before);
    await toCables(page);
    await toColumn(page, "type");
    await keys(page, "F2");
    await page.keyboard.type("LT-OS2");
    await keys(page, "Enter");
    await until("an empty desk", async () => (await lying(plant)).length === 0);
  });
});

describe("two windows of one file", () => {
  it("hold each their own, and the second is told of the first's; what the first leaves goes to the next", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await pasteType(window.page, "Alpha");
    await holds(plant, "Alpha");
    const second = await window.another();
    await notice(second, /Another window of this file holds 1 cell of cables that Ada Splicer typed/);
    await toCables(second);
    expect(await second.getByText(/Type is “?Alpha/).count()).toBe(0);
    await toColumn(second, "type");
    await onClipboard(second, "Beta");
    await keys(second, "Control+v");
    await holds(plant, "Beta");
    expect(await lying(plant)).toHaveLength(2);

    // Both in the same cell: the newer stands, the older is neither lost nor written over it.
    await window.page.close();
    await second.close();
    const third = await window.another();
    await notice(third, "Typed in two windows: 1 cell of cables");
    await ask(third, "#/enter?kind=cable");
    await third.getByText(/Type is “?Beta/).waitFor();
    await third.getByRole("button", { name: "Leave all as it was" }).click();
    await until("the newer to go", async () => !JSON.stringify(await lying(plant)).includes("Beta"));
    await third.reload();
    await third.getByText(/Type is “?Alpha/).waitFor();
  });

  it("that is opened for reading only is told what lies there, and leaves it lying", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await pasteType(window.page, "Alpha");
    await holds(plant, "Alpha");
    await window.close();
    await plant.close();
    const reader = await newPlant({ path: plant.path, readOnly: true });
    const there = await lying(reader);
    expect(JSON.stringify(there)).toContain("Alpha");
    const { page } = await opened(reader, "Bo Jointer");
    await notice(page, /Typed by Ada Splicer and not written .*: 1 cell of cables/);
    await page.close();
    expect(await lying(reader)).toEqual(there);
    expect(await names(reader)).not.toContain("Alpha");
  });
});
