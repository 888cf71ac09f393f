/** A clerk changes many rows at once: picked rows, hidden ones among them, valid ones only, each act with one undo. */
import { describe, expect, it } from "vitest";
import { KINDS } from "../../core/model/dictionary.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, keys, lastChange, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { axeFindings } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, NOTHING);

/** A field of cables by their tags. */
const cables = async (field: string) =>
  Object.fromEntries((await onRecord(journey.plant, { kind: "cable" })).map((row) => [row.address, row.values[field]]));

describe("a field of many rows", () => {
  it("is set for the block that is selected, as one act with its own name", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "reel");
    await keys(page, "Shift+ArrowDown", "Shift+ArrowDown", "Control+Shift+e");
    const dialog = page.getByRole("dialog", { name: "Set a field of 3 cables" });
    await dialog.waitFor();
    expect(await dialog.getByRole("combobox", { name: "field" }).inputValue()).toBe("reel");
    // What they hold now: one came from reel 118, of two nothing is known.
    await dialog.getByText("Now: empty 2, 118 1").waitFor();
    await dialog.getByRole("textbox", { name: "becomes" }).fill("R-9");
    expect(await axeFindings(page)).toEqual([]);
    await dialog.getByRole("button", { name: "Set reel of 3 cables" }).click();
    await until("the reels", async () => {
      const reel = await cables("reel");
      return reel["F-014"] === "R-9" && reel["F-021"] === "R-9" && reel["F-033"] === "R-9" && reel["F-040"] === null;
    });
    expect(await lastChange(journey.plant)).toBe("Set reel of 3 cables");
    await dialog.waitFor({ state: "detached" });
    await keys(page, "Control+z");
    await until("the reels as before", async () => (await cables("reel"))["F-033"] === "118");
  });

  it("counts on from row to row when told to", async () => {
    const { page } = journey;
    await keys(page, "Control+Shift+e");
    const dialog = page.getByRole("dialog", { name: "Set a field of 3 cables" });
    await dialog.getByRole("textbox", { name: "becomes" }).fill("R-09");
    await dialog.getByRole("checkbox", { name: /Count on/ }).check();
    await dialog.getByText("R-09 to R-11").waitFor();
    await keys(page, "Enter");
    await until("the reels", async () => {
      const reel = await cables("reel");
      return `${reel["F-014"]} ${reel["F-021"]} ${reel["F-033"]}` === "R-09 R-10 R-11";
    });
    await dialog.waitFor({ state: "detached" });
  });
});

describe("rows picked", () => {
  it("stay picked under a filter that hides them; they are named, and which are meant must be said", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+Shift+Space", "ArrowDown", "ArrowDown", "Control+Shift+Space");
    await page.getByText("2 rows picked").first().waitFor();
    await ask(page, "#/enter?kind=cable&where=tag%3DF-03*");
    await page.locator("[role=grid][aria-rowcount='4']").waitFor();
    await intoTable(page);
    await page.getByRole("button", { name: "Set a field" }).click();
    const dialog = page.getByRole("dialog", { name: "Set a field of 2 cables" });
    await dialog.getByText("1 row picked isn't in the table as it is filtered").waitFor();
    await dialog.getByText("F-014").waitFor();
    await dialog.getByRole("combobox", { name: "field" }).selectOption("run");
    await dialog.getByRole("textbox", { name: "becomes" }).fill("R-3");
    expect(await dialog.getByRole("button", { name: "Say which rows are meant" }).isDisabled()).toBe(true);
    await dialog.getByRole("radio", { name: "Only the 1 row shown" }).check();
    await dialog.getByRole("button", { name: "Set run of 1 cable" }).click();
    await until("one run", async () => (await cables("run"))["F-033"] === "R-3");
    expect((await cables("run"))["F-014"]).toBeNull();
    await dialog.waitFor({ state: "detached" });
    await page.getByRole("button", { name: "Set a field" }).click();
    await dialog.getByRole("combobox", { name: "field" }).selectOption("run");
    await dialog.getByRole("textbox", { name: "becomes" }).fill("R-4");
    await dialog.getByRole("radio", { name: "All 2 rows, these too" }).check();
    await dialog.getByRole("button", { name: "Set run of 2 cables" }).click();
    await until("both runs", async () => {
      const run = await cables("run");
      return run["F-014"] === "R-4" && run["F-033"] === "R-4" && run["F-021"] === null;
    });
    await dialog.waitFor({ state: "detached" });
  });

  it("are picked with the mouse at their numbers, a range with Shift", async () => {
    const { page } = journey;
    await page.getByRole("button", { name: "Pick none" }).click();
    await ask(page, "#/enter?kind=cable");
    await page.locator("[data-row='3'] .tag").first().waitFor();
    await page.locator("[data-row='0'] .grid-gutter").click();
    await page.locator("[data-row='2'] .grid-gutter").click({ modifiers: ["Shift"] });
    await page.getByText("3 rows picked").first().waitFor();
    expect(await page.locator("[role=row][aria-selected=true]").count()).toBe(3);
    await page.getByRole("button", { name: "Pick none" }).click();
    expect(await page.locator("[role=row][aria-selected=true]").count()).toBe(0);
  });
});

describe("what can't be written for some rows", () => {
  it("is told by record, nothing is written, and the others are when that is chosen", async () => {
    const { page } = journey;
    // Tags are unique: F-040 would be there twice.
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await keys(page, "Shift+ArrowDown", "Shift+ArrowDown", "Control+Shift+e");
    const dialog = page.getByRole("dialog", { name: "Set a field of 3 cables" });
    await dialog.getByRole("textbox", { name: "becomes" }).fill("F-039");
    await dialog.getByRole("checkbox", { name: /Count on/ }).check();
    const before = await lastChange(journey.plant);
    await dialog.getByRole("button", { name: "Set tag of 3 cables" }).click();
    await dialog.getByText("Nothing was written.").waitFor();
    expect(await lastChange(journey.plant)).toBe(before);
    await dialog.getByRole("listitem").filter({ hasText: "F-021" }).waitFor();
    await dialog.getByRole("button", { name: "Write the other 2" }).click();
    await until("two tags", async () => {
      const tags = Object.keys(await cables("tag"));
      return tags.includes("F-039") && tags.includes("F-041") && tags.includes("F-021");
    });
    expect(await lastChange(journey.plant)).toBe("Count on tag of 2 cables");
  });
});

describe("find and replace", () => {
  it("shows each cell as it is and as it would be, leaves those that are unticked, and is one act", async () => {
    const { page } = journey;
    const spaces = async () =>
      Object.fromEntries(
        (await onRecord(journey.plant, { kind: "space" })).map((row) => [row.address, row.values.name]),
      );
    await ask(page, "#/enter?kind=space");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+h");
    const dialog = page.getByRole("dialog", { name: "Find in spaces, and replace" });
    await dialog.getByRole("textbox", { name: "find" }).fill("EAST");
    await dialog.getByText("2 cells hold it.").waitFor();
    await dialog.getByRole("textbox", { name: "replace with" }).fill("west");
    await dialog.getByRole("row", { name: /KLN\/0E .*Kiln Hall east entrance Kiln Hall west entrance/ }).waitFor();
    await dialog.getByRole("checkbox", { name: "Replace in name of FDY/0E" }).uncheck();
    expect(await axeFindings(page)).toEqual([]);
    await dialog.getByRole("button", { name: "Replace in 1 cell of 1 space" }).click();
    await until("one name", async () => (await spaces())["KLN/0E"] === "Kiln Hall west entrance");
    expect((await spaces())["FDY/0E"]).toBe("Foundry east entrance");
    await dialog.waitFor({ state: "detached" });
    await keys(page, "Control+z");
    await until("the old name", async () => (await spaces())["KLN/0E"] === "Kiln Hall east entrance");
  });

  it("goes to a cell that was never on screen", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=strand");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+f");
    const dialog = page.getByRole("dialog", { name: "Find in strands, and replace" });
    await dialog.getByRole("textbox", { name: "find" }).fill("reads dark");
    await dialog.getByRole("button", { name: "F-041:36" }).waitFor();
    // Nothing is replaced: Enter goes to the first that was found, here the only one.
    await page.keyboard.press("Enter");
    await until("the cell", async () => (await here(page))?.text === "reads dark from both ends");
    expect(await here(page)).toMatchObject({ column: "why" });
  });

  it("writes nothing where one cell would be wrong, and names it", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=space");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+h");
    const dialog = page.getByRole("dialog", { name: "Find in spaces, and replace" });
    await dialog.getByRole("combobox", { name: "in" }).selectOption("building_id");
    await dialog.getByRole("textbox", { name: "find" }).fill("KLN");
    await dialog.getByRole("textbox", { name: "replace with" }).fill("BARN");
    const before = await lastChange(journey.plant);
    await dialog.getByRole("button", { name: "Replace in 2 cells of 2 spaces" }).click();
    await dialog.getByText("Nothing was written.").waitFor();
    await dialog
      .getByText(/building is BARN, which is not on record/)
      .first()
      .waitFor();
    expect(await lastChange(journey.plant)).toBe(before);
    await dialog.getByRole("button", { name: "Close" }).click();
  });
});

describe("many records at once", () => {
  it("are added like the one one is in, their names counting on, as one act", async () => {
    const { page } = journey;
    const conduits = async () =>
      await onRecord(journey.plant, { kind: "conduit", within: { kind: "pathway", id: "DB-2" } });
    await ask(page, "#/enter?kind=conduit&in=DB-2");
    await page.locator("[role=grid][aria-rowcount='4']").waitFor();
    await intoTable(page);
    await keys(page, "Control+Home", "Control+Shift+Enter");
    const dialog = page.getByRole("dialog", { name: "Add many conduits like DB-2/1" });
    const tag = dialog.getByLabel("tag", { exact: true });
    expect(await tag.inputValue()).toBe("2");
    await tag.focus();
    await keys(page, "F1");
    await page.locator(".field-help").getByText(KINDS.conduit.fields.tag.help).waitFor();
    await keys(page, "Escape");
    await dialog.getByRole("textbox", { name: "how many" }).fill("0");
    await dialog.getByText("How many must be a whole number").waitFor();
    await dialog.getByRole("textbox", { name: "how many" }).fill("5");
    await dialog.getByText("counts on to 6").waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await dialog.getByRole("button", { name: "Add 5 conduits" }).click();
    await until("five more", async () => (await conduits()).length === 6);
    expect((await conduits()).map((row) => [row.address, row.values.inner_diameter_mm, row.values.state])).toEqual(
      ["1", "2", "3", "4", "5", "6"].map((tag) => [`DB-2/${tag}`, 100, "in_use"]),
    );
    expect(await lastChange(journey.plant)).toBe("Add 5 conduits, 2 to 6, in DB-2");
    await dialog.waitFor({ state: "detached" });
    // They are where the eye and the keyboard are: the first has the focus, all are selected.
    await until("the first of them", async () => (await here(page))?.text.startsWith("2") ?? false);
    await page.getByText(/^5 × \d+ cells/).waitFor();
    expect(await page.locator("[data-row='5'] [aria-selected='true']").count()).toBeGreaterThan(3);
    await keys(page, "Control+z");
    await until("one again", async () => (await conduits()).length === 1);
  });

  it("begin at the first name from which as many are free as are wanted; one that is taken is named", async () => {
    const { page } = journey;
    await journey.plant.run("record.add", { kind: "conduit", values: { tag: "4", pathway_id: "DB-2" } });
    await page.locator("[role=grid][aria-rowcount='5']").waitFor();
    await intoTable(page);
    await keys(page, "Control+Home", "Control+Shift+Enter");
    const dialog = page.getByRole("dialog", { name: "Add many conduits like DB-2/1" });
    const tag = dialog.getByLabel("tag", { exact: true });
    await dialog.getByRole("textbox", { name: "how many" }).fill("2");
    await dialog.getByText("counts on to 3").waitFor();
    expect(await tag.inputValue()).toBe("2");
    await dialog.getByRole("textbox", { name: "how many" }).fill("5");
    await dialog.getByText("counts on to 9").waitFor();
    expect(await tag.inputValue()).toBe("5");
    await tag.fill("1");
    expect(await tag.inputValue()).toBe("1");
    await dialog.getByText("tag 1, 4 are on record already").waitFor();
    expect(await dialog.getByRole("button", { name: "Add 5 conduits" }).isDisabled()).toBe(true);
    // In another place the same names are free.
    await dialog.getByLabel("pathway", { exact: true }).fill("DB-3");
    await dialog.getByText("on record already").waitFor({ state: "detached" });
    await dialog.getByLabel("pathway", { exact: true }).fill("DB-99");
    const before = await lastChange(journey.plant);
    await dialog.getByRole("button", { name: "Add 5 conduits" }).click();
    await dialog.getByText("Nothing was written.").waitFor();
    await dialog.getByRole("listitem").filter({ hasText: /^1 / }).waitFor();
    expect(await lastChange(journey.plant)).toBe(before);
    await dialog.getByRole("button", { name: "Leave it" }).click();
  });

  it("are told of though the table, as it is filtered, doesn't show them", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=conduit&in=DB-2&where=tag%3D1");
    await page.locator("[role=grid][aria-rowcount='4']").waitFor();
    await intoTable(page);
    await keys(page, "Control+Home", "Control+Shift+Enter");
    const dialog = page.getByRole("dialog", { name: "Add many conduits like DB-2/1" });
    await dialog.getByRole("textbox", { name: "how many" }).fill("2");
    await dialog.getByLabel("tag", { exact: true }).fill("7");
    await dialog.getByRole("button", { name: "Add 2 conduits" }).click();
    await page.locator(".notice", { hasText: "The table, as it is filtered, doesn't show them." }).waitFor();
  });
});

describe("many ports", () => {
  it("are counted at once: what is typed first is how many, not lost on a word before it", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=port");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+Shift+Enter");
    const dialog = page.getByRole("dialog", { name: /Add many ports/ });
    await dialog.waitFor();
    await page.keyboard.type("6");
    expect(await dialog.getByRole("textbox", { name: "how many" }).inputValue()).toBe("6");
    await dialog.getByRole("button", { name: "Add 6 ports" }).waitFor();
    await keys(page, "Escape");
    await dialog.waitFor({ state: "detached" });
  });
});
