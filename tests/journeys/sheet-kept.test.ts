/** What is typed beside a sheet or a label is still there after a look at another page, and after the window. */
import type { Page } from "playwright";
import { describe, expect, it, onTestFinished } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { until } from "./support/grid.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

const opened = async (plant: TestPlant): Promise<OpenWindow> => {
  const window = await openWindow(plant, { person: "Ada Splicer" });
  onTestFinished(() => window.close());
  return window;
};
const lying = async (plant: TestPlant) =>
  JSON.stringify((await plant.run<AnswerOf<"desk.list">>("desk.list", { form: "typed", whole: true })).items);

const ROWS = "fiber\tstatus\nF-040:1\tdead\nF-040:2\tdead\nF-040:3\tdead";

describe("a sheet that is being taken over", () => {
  it("is as it was after another page: its file, and the row that is left out", async () => {
    const { page } = await opened(await newCampus());
    await ask(page, "#/sheet");
    const buffer = Buffer.from("fiber,status\nF-040:1,dead\nF-040:999,dead\nF-040:2,dead");
    await page.locator('input[type="file"]').setInputFiles({ name: "crew.csv", mimeType: "text/csv", buffer });
    await page.getByRole("button", { name: "Leave out row 3" }).click();
    await page.getByText("3 rows: 0 new, 2 changed, 0 same, 0 refused, 1 left out.").waitFor();
    await ask(page, "#/check");
    await page.goBack();
    await page.getByText("crew.csv: 3 rows: 0 new, 2 changed, 0 same, 0 refused, 1 left out.").waitFor();
    await page.getByRole("button", { name: "Another sheet" }).click();
    await page.locator(".sheet-source").waitFor();
  });

  it("is gone with the page once it is taken over, and its rows from their box", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await ask(page, "#/sheet");
    await page.getByRole("textbox", { name: /rows pasted/ }).fill(ROWS);
    await page.getByRole("button", { name: "Read the rows" }).click();
    await page.getByRole("button", { name: "Take over 3 rows" }).click();
    await page.getByText("3 rows taken over").first().waitFor();
    await ask(page, "#/check");
    await page.goBack();
    expect(await page.getByRole("textbox", { name: /rows pasted/ }).inputValue()).toBe("");
    await until("an empty desk", async () => (await lying(plant)) === "[]");
  });

  it("has its pasted rows in their box again when the window was left with them", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    await ask(window.page, "#/sheet");
    await window.page.getByRole("textbox", { name: /rows pasted/ }).fill(ROWS);
    await until("the rows on the desk", async () => (await lying(plant)).includes("F-040:3"));
    await window.page.close({ runBeforeUnload: true });
    const page = await window.another();
    await page.locator(".notice", { hasText: "the form “Pasted rows”" }).waitFor();
    await ask(page, "#/sheet");
    expect(await page.getByRole("textbox", { name: /rows pasted/ }).inputValue()).toBe(ROWS);
  });
});

describe("a sheet's file, when the page is read anew", () => {
  const left = "crew.csv: 3 rows: 0 new, 2 changed, 0 same, 0 refused, 1 left out.";
  const beingTaken = async (page: Page) => {
    await ask(page, "#/sheet");
    const buffer = Buffer.from("fiber,status\nF-040:1,dead\nF-040:999,dead\nF-040:2,dead");
    await page.locator('input[type="file"]').setInputFiles({ name: "crew.csv", mimeType: "text/csv", buffer });
    await page.getByRole("button", { name: "Leave out row 3" }).click();
    await page.getByText(left).waitFor();
  };
  const sources = (plant: TestPlant) => plant.run<AnswerOf<"desk.list">>("desk.list", { form: "source" });
  const keptWith = (plant: TestPlant) => async () => /"desk":\d+.*"leaveOut":\[3\]/.test(await lying(plant));

  it("is there with its rows as they were, and can be taken over", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await beingTaken(page);
    await until("the sheet on the desk", keptWith(plant));
    await page.reload();
    await page.getByText(left).waitFor();
    await page.getByRole("button", { name: "Take over 2 rows" }).click();
    await page.getByText("2 rows taken over").first().waitFor();
    await until("nothing of it on the desk", async () => {
      return (await sources(plant)).items.length === 0 && (await lying(plant)) === "[]";
    });
    await page.reload();
    await page.locator(".sheet-source").waitFor();
  });

  it("is thrown away where its window ended before it could say what it was", async () => {
    const plant = await newCampus();
    const content = { name: "crew.csv", text: "fiber,status" };
    await plant.run("desk.keep", { form: "source", name: "crew.csv", content });
    const { page } = await opened(plant);
    await ask(page, "#/sheet");
    await until("no sheet on the desk", async () => (await sources(plant)).items.length === 0);
  });

  it("is asked for again where it is gone, and is read as it was", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await beingTaken(page);
    await until("the sheet on the desk", keptWith(plant));
    for (const { id } of (await sources(plant)).items) await plant.run("desk.throw_away", { form: "source", id });
    await page.reload();
    await page.getByText("crew.csv was being taken over. Choose it again").waitFor();
    const buffer = Buffer.from("fiber,status\nF-040:1,dead\nF-040:999,dead\nF-040:2,dead");
    await page.locator('input[type="file"]').setInputFiles({ name: "crew.csv", mimeType: "text/csv", buffer });
    await page.getByText(left).waitFor();
  });
});

describe("a wording of labels that is being tried", () => {
  it("is there after another page, for what it was typed for, until it is dropped", async () => {
    const { page } = await opened(await newCampus());
    const text = page.locator(".label-wording textarea");
    await ask(page, "#/labels?of=F-014");
    await text.waitFor();
    const usual = await text.inputValue();
    await text.fill("{tag} ours");
    await page.getByText("being tried, not kept yet").waitFor();
    await ask(page, "#/labels?of=F-033");
    await text.waitFor();
    expect(await text.inputValue()).not.toBe("{tag} ours");
    await page.goBack();
    await page.getByText("being tried, not kept yet").waitFor();
    expect(await text.inputValue()).toBe("{tag} ours");
    await page.getByRole("button", { name: "Drop it" }).click();
    await until("the usual wording", async () => (await text.inputValue()) === usual);
  });
});
