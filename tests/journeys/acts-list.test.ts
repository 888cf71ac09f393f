/** The list of acts: whatever can be done where one is, by its name, from the same table as the keys. */
import { describe, expect, it } from "vitest";
import { ACTS } from "../../renderer/forms/acts/index.ts";
import { KEY_TABLE } from "../../renderer/frame/key-table.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, keys, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { axeFindings, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, NOTHING);

describe("the list of acts", () => {
  it("opens with Ctrl+Shift+P and holds every act of the window that has no place of its own", async () => {
    const { page } = journey;
    await ask(page, "#/ask");
    await keys(page, "Control+Shift+p");
    const search = page.getByRole("combobox", { name: /Find any tag/ });
    expect(await search.inputValue()).toBe(">");
    const offered = await page.getByRole("option").allTextContents();
    for (const { words } of KEY_TABLE.filter((row) => row.group === "Everywhere" && row.offered))
      expect(
        offered.some((text) => text.startsWith(words)),
        words,
      ).toBe(true);
    expect(offered.some((text) => text.startsWith("fill down"))).toBe(false);
    expect(await axeFindings(page)).toEqual([]);
    await keys(page, "Escape", "Escape");
  });

  it("does what its line says", async () => {
    const { page } = journey;
    await keys(page, "Control+Shift+p");
    await page.keyboard.type("land str");
    await page.getByRole("option", { name: /Land strands/ }).waitFor();
    await keys(page, "Enter");
    await until("the act", async () => (await page.evaluate(() => location.hash)) === "#/acts?do=strand.land");
  });

  it("offers acts of the table on what is selected there, and goes back to it", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "method");
    await page.keyboard.type("mech");
    await keys(page, "Enter", "ArrowUp", "Shift+ArrowDown", "Shift+ArrowDown");
    await keys(page, "Control+Shift+p");
    await page.keyboard.type("fill");
    const line = page.getByRole("option", { name: /^fill down/ });
    await line.waitFor();
    expect(await line.textContent()).toBe("fill downCtrl D");
    expect(await page.locator(".combobox-group").allTextContents()).toContain("Acts: the table, 3 cells");
    await keys(page, "Enter");
    await until("three methods", async () => {
      const rows = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 4 });
      return rows.map(({ values }) => values.method).join() === "mechanical,mechanical,mechanical,fusion";
    });
    expect(await here(page)).toMatchObject({ row: 3, column: "method" });
  });

  it("begins with what can be asked of the record one is on, and with the acts that begin with it", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await until("the row of F-014", async () => (await here(page))?.text.startsWith("F-014") ?? false);
    const here14 = page.locator(".combobox-group", { hasText: "About F-014" });
    await keys(page, "Control+k");
    await here14.waitFor();
    const asked = (await page.getByRole("option").allTextContents()).join("\n");
    for (const words of [
      "Which labels does it need?",
      "Which papers are there of it?",
      "How is it mended",
      "What breaks",
    ])
      expect(asked).toContain(words);
    await keys(page, "Escape");
    expect((await here(page))?.text).toContain("F-014");
    await keys(page, "Control+Shift+p");
    await page.keyboard.type("cable was cut");
    await page.getByRole("option", { name: "Record that a cable was cut" }).first().waitFor();
    await keys(page, "Enter");
    await until("the act", async () => (await page.evaluate(() => location.hash)).endsWith("&cable=F-014"));
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home", "Control+k");
    await page.keyboard.type("labels does it");
    await page.getByRole("option", { name: /Which labels does it need/ }).waitFor();
    await keys(page, "Enter");
    await until("its labels", async () => (await page.evaluate(() => location.hash)) === "#/labels?of=F-014");
    // The page of a record offers the same of it, and the page of a cable.
    for (const address of ["#/record?kind=cable&tag=F-014", "#/cable?of=F-014"]) {
      await ask(page, address);
      await keys(page, "Control+k");
      await here14.waitFor();
      await page.getByRole("option", { name: "How is it mended where it is cut?" }).waitFor();
      await keys(page, "Escape", "Escape");
    }
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
  });

  it("offers every question that fits a record that is found", async () => {
    const { page } = journey;
    await keys(page, "Control+k");
    await page.keyboard.type("F-014");
    await page.getByRole("option", { name: "Which labels does it need?" }).waitFor();
    await keys(page, "Escape", "Escape");
  });

  it("stands below the records in the search itself", async () => {
    const { page } = journey;
    await keys(page, "Control+k");
    await page.keyboard.type("undo");
    await page.getByRole("option", { name: /undo the change/ }).waitFor();
    await keys(page, "Enter");
    await until("the fill undone", async () => {
      const rows = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 2 });
      return rows.map(({ values }) => values.method).join() === "mechanical,fusion";
    });
  });
});

describe("an act", () => {
  it("that nobody has filled yet says which blanks it wants, in each of them", { timeout: 300_000 }, async () => {
    const { page } = journey;
    for (const { name, title } of ACTS) {
      await ask(page, `#/acts?do=${name}`);
      const told = page.locator('.rehearsed[aria-busy="false"]');
      await told.waitFor();
      expect(await shown(told), title).not.toContain("can't be read");
    }
  });

  it("has the unit of a number beside it, lengths in the one that is read there", async () => {
    const { page } = journey;
    await ask(page, "#/acts?do=splice.range");
    await page.getByText("loss A to B, dB", { exact: true }).waitFor();
    await ask(page, "#/acts?do=cord.patch");
    await page.getByText("length, m", { exact: true }).waitFor();
  });
});

it("is the same table that the page of keys shows, whole", async () => {
  const { page } = journey;
  await ask(page, "#/keys");
  await page.locator(".keys-keys dd").first().waitFor();
  expect(await page.locator(".keys-keys dd").allTextContents()).toEqual(KEY_TABLE.map(({ words }) => words));
});
