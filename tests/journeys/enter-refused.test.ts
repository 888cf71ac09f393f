/** What a clerk typed and the record refuses: undo leaves that first, nobody's name is taken from it, what waits is told. */
import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { intoTable, keys, lastChange, onClipboard, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, /4\d\d/, { person: "" });

const cables = async (...fields: string[]) =>
  (await onRecord(journey.plant, { kind: "cable", limit: 9 })).map(({ values }) =>
    fields.map((field) => values[field]),
  );

async function pasteAt(column: string, text: string): Promise<void> {
  const { page } = journey;
  await ask(page, "#/enter?kind=cable");
  await intoTable(page);
  await keys(page, "Control+Home");
  await toColumn(page, column);
  await onClipboard(page, text);
  await keys(page, "Control+v");
}

describe("on a new machine, typing on after a cell is kept", () => {
  it("asks who works here when the typing pauses, and takes nothing typed into the table for a name", async () => {
    const { page } = journey;
    const before = (await cables("name")).length;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "name");
    await page.keyboard.type("one", { delay: 30 });
    await keys(page, "Enter");
    await page.keyboard.type("two", { delay: 30 });
    await keys(page, "Enter");
    const dialog = page.getByRole("dialog", { name: "Who works here?" });
    expect(await dialog.isVisible()).toBe(false);
    await dialog.waitFor();
    expect(await dialog.getByLabel("Name").inputValue()).toBe("");
    await page.keyboard.type("Ada Fenn");
    await keys(page, "Enter");
    await until("both remarks", async () => JSON.stringify((await cables("name")).slice(0, 2)) === '[["one"],["two"]]');
    expect((await cables("name")).length).toBe(before);
    const { items } = await journey.plant.run<{ items: { author: string }[] }>("history.list", { limit: 2 });
    expect(items.map(({ author }) => author)).toEqual(["Ada Fenn", "Ada Fenn"]);
  });
});

describe("a pasted block of which a cell is refused", () => {
  it("tells which cells really wait: what names no record is refused with the others at once", async () => {
    const { page } = journey;
    await pasteAt("type", "bogus\tNOPE");
    await page.getByText("2 cells refused").waitFor();
    expect(await page.getByRole("button", { name: "Write the other 1" }).count()).toBe(0);
    await page.getByRole("button", { name: "Leave all as it was" }).click();
    await pasteAt("colours", "bogus\nTIA-598");
    await page.getByRole("button", { name: "Write the other 1" }).waitFor();
    // Told by a mark, a line and a description, not by a colour alone.
    const waits = page.locator("[aria-description='not written yet, it waits']");
    expect(await waits.locator("svg").count()).toBe(1);
    await page.getByRole("button", { name: "Leave all as it was" }).click();
  });

  it("takes no letter for the word that begins with it", async () => {
    const { page } = journey;
    await pasteAt("colours", "t");
    await page.getByText(/Colours is “t”: did you mean TIA-598/).waitFor();
    expect((await cables("colour_sequence"))[0]).toEqual([null]);
    await page.getByRole("button", { name: "Leave all as it was" }).click();
  });

  it("is left by Ctrl+Z, which takes no written change back", async () => {
    const { page } = journey;
    const before = await lastChange(journey.plant);
    await pasteAt("type", "Alpha\nBeta");
    await page.getByText("2 cells refused").waitFor();
    await keys(page, "Control+z");
    await page.getByText("Left 2 cells that were typed and not written.").first().waitFor();
    await page.getByText("2 cells refused").waitFor({ state: "detached" });
    expect(await lastChange(journey.plant)).toBe(before);
  });

  it("asks, naming it, before somebody else's change is taken back", async () => {
    const { page } = journey;
    await journey.plant.run("record.add", { kind: "building", values: { tag: "GAS", name: "Gas House" } });
    await page.getByRole("button", { name: "Undo: Add building GAS" }).waitFor();
    await keys(page, "Control+z");
    const asked = page.getByRole("dialog", { name: /Take back .*'s change\?/ });
    await asked.getByText("Add building GAS").waitFor();
    await keys(page, "Enter");
    await asked.waitFor({ state: "hidden" });
    expect(await lastChange(journey.plant)).toBe("Add building GAS");
    await keys(page, "Control+z");
    await asked.getByRole("button", { name: "Take it back" }).click();
    await page.getByText("Undo: Add building GAS.").waitFor();
    expect((await journey.plant.call("record.page", { kind: "building", id: "GAS" })).ok).toBe(false);
  });
});

describe("what is typed and not written", () => {
  it("is there again after the window was read anew", async () => {
    const { page } = journey;
    await pasteAt("type", "Alpha");
    await page.getByText("1 cell refused").waitFor();
    await page.reload();
    await page.getByText("1 cell refused").waitFor();
    await page.getByText(/Type is “?Alpha/).waitFor();
    await page.getByRole("button", { name: "Leave all as it was" }).click();
    await page.reload();
    await intoTable(page);
    expect(await page.getByText("1 cell refused").count()).toBe(0);
  });

  it("is kept when a key or the address goes to another question while a cell is edited", async () => {
    const { page } = journey;
    for (const [typed, leave] of [
      ["by key", () => keys(page, "Alt+1")],
      ["by address", () => ask(page, "#/history")],
    ] as const) {
      await ask(page, "#/enter?kind=cable");
      await intoTable(page);
      await keys(page, "Control+Home");
      await toColumn(page, "name");
      await page.keyboard.type(typed);
      await leave();
      await page.locator("[role=grid]").waitFor({ state: "detached" });
      await until(typed, async () => (await cables("name"))[0]?.[0] === typed);
    }
  });
});

describe("the kinds beside the table", () => {
  it("are one tab stop, walked with the arrows", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    const kinds = page.getByRole("navigation", { name: /^Kinds of record/ });
    await kinds.locator("[tabindex='0']").focus();
    expect(await kinds.locator("a:not([tabindex='-1'])").count()).toBe(1);
    await keys(page, "ArrowDown");
    const next = await page.evaluate(() => document.activeElement?.getAttribute("data-kind"));
    expect(next).not.toBe("cable");
    await keys(page, "Enter");
    await until("the next kind", async () => page.url().endsWith(`kind=${next}`));
  });
});

describe("findings under their rows", () => {
  it("are folded away with one press and stay so, their marks remaining", async () => {
    const { page } = journey;
    // A strand that two circuits have: its sections tell of it.
    await ask(page, "#/enter?kind=section&where=strand_id%3D71");
    const under = page.locator("[role=grid] .grid-line");
    await under.first().waitFor();
    await page.getByRole("button", { name: "Fold findings" }).click();
    await under.first().waitFor({ state: "detached" });
    expect(await page.locator(".grid-gutter svg").count()).toBeGreaterThan(0);
    await page.getByRole("button", { name: "Show findings" }).click();
    await under.first().waitFor();
    // At its usual width the whole line, with its way to Check, is in view.
    const far = await under
      .first()
      .locator(".line-link")
      .evaluate((link) => link.getBoundingClientRect().right);
    expect(far).toBeLessThanOrEqual(1280);
  });
});
