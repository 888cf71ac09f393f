/** What another window wrote is never written over unseen: not by a cell that is open, nor by one that waits. */
import type { Page } from "playwright";
import { describe, expect, it, onTestFinished } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { intoTable, keys, onRecord, toColumn, until } from "./support/grid.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

const opened = async (plant: TestPlant): Promise<OpenWindow> => {
  const window = await openWindow(plant, { person: "Ada Splicer" });
  onTestFinished(() => window.close());
  return window;
};
/** The name of the first cable. */
const toName = async (page: Page) => {
  await ask(page, "#/enter?kind=cable");
  await intoTable(page);
  await keys(page, "Control+Home");
  await toColumn(page, "name");
};
const first = async (plant: TestPlant) => (await onRecord(plant, { kind: "cable", limit: 1 }))[0];
const nameOf = async (plant: TestPlant) => (await first(plant))?.values.name;
/** Another desk changes fields of the first cable. */
const elsewhere = async (plant: TestPlant, values: object) => {
  await plant.run("record.edit", { kind: "cable", id: (await first(plant))?.id, values }, { author: "Desk 2" });
};
const inGrid = (page: Page, words: string) => page.getByRole("grid").getByText(words);
const lying = async (plant: TestPlant) =>
  (await plant.run<AnswerOf<"desk.list">>("desk.list", { form: "typed", whole: true })).items;
/** Leaves letters in an open cell, and its window without a word; answers the page of the next. */
async function leftTyped(plant: TestPlant, window: OpenWindow, text: string): Promise<void> {
  await toName(window.page);
  await window.page.keyboard.type(text);
  await until(text, async () => JSON.stringify(await lying(plant)).includes(text));
  await window.page.close();
}
/** As a table shows the other field that the other desk changed. */
const DAY = /12 Mar 2019|2019-03-12/;
const BOTH = /Desk 2 changed this row after you read it: name is now Desk 2's name, yours is Library feed/;

describe("a cell that is open while another window writes it, and the table shows that", () => {
  it("is refused with both versions and keeps its letters; only who says so writes over it", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await toName(page);
    await page.keyboard.type("Library f");
    await elsewhere(plant, { name: "Desk 2's name", installed_on: "2019-03-12" });
    // The row below the editor has been read anew.
    await page.getByRole("grid").getByText(DAY).first().waitFor();
    await page.keyboard.type("eed");
    await keys(page, "Enter");
    await page.getByText(BOTH).waitFor();
    expect(await nameOf(plant)).toBe("Desk 2's name");
    await inGrid(page, "Library feed").first().waitFor();
    // Typed anew it is the same question.
    await keys(page, "ArrowUp");
    await page.keyboard.type("Library feed");
    await keys(page, "Enter");
    await page.getByText(BOTH).waitFor();
    expect(await nameOf(plant)).toBe("Desk 2's name");
    await page.getByRole("button", { name: "Write mine over it" }).click();
    await until("the clerk's name", async () => (await nameOf(plant)) === "Library feed");
    await page.getByText(BOTH).waitFor({ state: "detached" });
  });

  it("is told of as written already, if the other wrote the same", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await toName(page);
    await page.keyboard.type("Library feed");
    await elsewhere(plant, { name: "Library feed" });
    const before = (await first(plant))?.rev;
    await keys(page, "Enter");
    await page.getByText("1 cell stood on record already as typed").first().waitFor();
    expect((await first(plant))?.rev).toBe(before);
    expect(await page.getByText(/changed this row/).count()).toBe(0);
  });
});

describe("a cell that waits, kept from a window that was left", () => {
  it("says that the record was changed since, and isn't written over it", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await leftTyped(plant, window, "Library feed");
    await elsewhere(plant, { name: "Desk 2's name" });
    const page = await window.another();
    await ask(page, "#/enter?kind=cable");
    await page.getByText(BOTH).waitFor();
    expect(await page.getByRole("button", { name: "Write it" }).count()).toBe(0);
    expect(await nameOf(plant)).toBe("Desk 2's name");
    await page.getByRole("button", { name: "Leave it as it is" }).click();
    await page.getByText(BOTH).waitFor({ state: "detached" });
    expect(await nameOf(plant)).toBe("Desk 2's name");
  });

  it("says so too when it is changed while it waits on screen", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await leftTyped(plant, window, "Library feed");
    const page = await window.another();
    await ask(page, "#/enter?kind=cable");
    await page.getByRole("button", { name: "Write it" }).waitFor();
    await elsewhere(plant, { name: "Desk 2's name" });
    await page.getByText(BOTH).waitFor();
  });

  it("is told to stand on record already, if it does, and goes", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await leftTyped(plant, window, "Library feed");
    await elsewhere(plant, { name: "Library feed" });
    const page = await window.another();
    await page.locator(".notice", { hasText: "On record already as typed: 1 cell of cables" }).waitFor();
    await ask(page, "#/enter?kind=cable");
    await inGrid(page, "Library feed").first().waitFor();
    expect(await page.getByText("typed and not written").count()).toBe(0);
    await until("an empty desk", async () => (await lying(plant)).length === 0);
  });
});

describe("a field on a record's page that is open while another window writes it", () => {
  it("is refused with both versions, and either can be taken", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    const id = (await first(plant))?.id;
    await ask(page, `#/record?kind=cable&id=${id}`);
    await page.getByRole("button", { name: /^name: / }).press("F2");
    await keys(page, "Control+a");
    await page.keyboard.type("Library feed");
    await elsewhere(plant, { name: "Desk 2's name", installed_on: "2019-03-12" });
    await page.getByText(DAY).first().waitFor();
    await keys(page, "Enter");
    await page.getByText(BOTH).waitFor();
    expect(await nameOf(plant)).toBe("Desk 2's name");
    await page.getByRole("button", { name: "Write mine over it" }).click();
    await until("the clerk's name", async () => (await nameOf(plant)) === "Library feed");
  });
});
