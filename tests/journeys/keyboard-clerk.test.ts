/**
 * The clerk at the keyboard alone, a whole afternoon of it: a cable as it was run, a cell of the table, a crew's sheet, the
 * labels, one of them seen in place, and all of it taken back act by act. (WCAG 2.2, 2.1.1 Keyboard.) The ninety-six strands
 * of new-cable.md, key by key, are in run.test.ts.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readLabels } from "../labels/read-labels.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, onClipboard, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { choose, fill, focused, listOf, tabInto, tabTo, takeBack } from "./support/keyboard.ts";

const journey = journeyOn(newCampus);
const cables = () => onRecord(journey.plant, { kind: "cable", text: "F-300" });
const strands = async () =>
  (await onRecord(journey.plant, { kind: "strand", within: { kind: "cable", id: "F-300" } })).map(
    ({ values }) => values.condition,
  );
const labels = async () =>
  (await onRecord(journey.plant, { kind: "label", text: "" })).filter(({ shown }) => shown.subject_id === "F-300");

/** What each act of the afternoon is called, in the order in which they are taken back. */
const acts: string[] = [];
const written = async (): Promise<void> => {
  const { items } = await journey.plant.run<{ items: { summary: string }[] }>("history.list", { limit: 1 });
  acts.unshift(items[0]?.summary ?? "nothing");
};

describe("a clerk with an afternoon's papers", () => {
  it("enters a cable as it was run", async () => {
    const { page } = journey;
    await listOf(page, "Alt+2", "enter");
    await tabTo(page, "How does a new cable run?");
    await page.keyboard.press("Enter");
    await page.locator('[data-field="tag"]:focus').waitFor();
    await page.keyboard.type("F-300");
    await tabInto(page, '[data-field="strands"]');
    await page.keyboard.type("12");
    await tabInto(page, '[data-field="stops.0.space"]');
    await page.keyboard.type("LIB/2A");
    await page.keyboard.press("Enter");
    await page.locator('[data-field="stops.0.mark_out"]:focus').waitFor();
    await page.keyboard.type("100");
    await page.keyboard.press("Enter");
    await page.locator('[data-field="stops.1.space"]:focus').waitFor();
    await page.keyboard.type("DB-2");
    await page.locator(".choices .choice", { hasText: "DB-2" }).first().waitFor();
    await page.keyboard.press("Enter");
    await page.locator('[data-field="stops.1.mark_in"]:focus').waitFor();
    await page.keyboard.type("515");
    await page.getByRole("button", { name: "Enter F-300" }).and(page.locator(":enabled")).waitFor();
    await page.keyboard.press("Control+Enter");
    await until("the cable", async () => (await cables()).length === 1);
    await page.locator(".run-entered input[type=file]:focus").waitFor();
    await written();
  });

  it("says in the table that a strand of it is broken", async () => {
    const { page } = journey;
    // Ctrl+Enter in the search is for the record itself.
    await page.keyboard.press("Control+k");
    await page.keyboard.type("F-300");
    await page.getByRole("option", { name: /F-300/, selected: true }).waitFor();
    await page.keyboard.press("Control+Enter");
    await page.getByRole("heading", { name: "What is cable F-300?" }).waitFor();
    await tabTo(page, "Its strands");
    await page.keyboard.press("Enter");
    await intoTable(page);
    await page.keyboard.press("Control+Home");
    await toColumn(page, "condition");
    expect((await here(page))?.row).toBe(1);
    await page.keyboard.type("broken");
    await page.keyboard.press("Enter");
    await until("the strand", async () => (await strands())[0] === "broken");
    await written();
  });

  it("takes over a crew's sheet that is pasted, without the row that can't be", async () => {
    const { page } = journey;
    await onClipboard(page, "fiber\tstatus\nF-300:2\tdead\nF-300:3\tdead\nF-300:999\tdead");
    await listOf(page, "Alt+2", "enter");
    await tabTo(page, "If an as-built sheet");
    await page.keyboard.press("Enter");
    await page.locator(".sheet-source").waitFor();
    await tabInto(page, ".sheet-paste textarea");
    await page.keyboard.press("Control+v");
    await tabTo(page, "Read the rows");
    await page.keyboard.press("Enter");
    await page.getByText("3 rows: 0 new, 2 changed, 0 same, 1 refused.").waitFor();
    await tabTo(page, "Leave out row 4");
    await page.keyboard.press("Enter");
    await page.getByText("0 refused, 1 left out.").waitFor();
    await tabTo(page, "Take over 2 rows");
    await page.keyboard.press("Enter");
    await until("two more", async () => (await strands()).filter((one) => one === "broken").length === 3);
    await written();
  });

  it("prints its labels, which are then on record as printed", async () => {
    const { page } = journey;
    await listOf(page, "Alt+5", "print");
    await tabTo(page, "Labels for");
    await page.keyboard.press("Enter");
    await until("the blank", async () => (await focused(page)) === "Choose whatever needs one");
    await fill(page, "F-300");
    await page.locator(".label-sheet").waitFor();
    const coming = page.waitForEvent("download");
    await tabTo(page, /^Print \d+$/);
    await page.keyboard.press("Enter");
    const paper = await readLabels(readFileSync(await (await coming).path()));
    expect(paper.flatMap(({ texts }) => texts.map(({ text }) => text)).join()).toContain("F-300");
    await page.getByText("all of them on record already").waitFor();
    expect((await labels()).map(({ values }) => values.printed_on === null)).toEqual([false, false]);
    await written();
  });

  it("notes that one of them was seen in place", async () => {
    const { page } = journey;
    await page.keyboard.press("Control+Shift+p");
    await page.keyboard.type("what was seen of");
    await page.getByRole("option", { name: "Note what was seen of a label" }).waitFor();
    await page.keyboard.press("Enter");
    await page.locator("[data-first-blank]:focus").waitFor();
    await page.keyboard.type("F-300");
    await page.keyboard.press("Tab");
    await page.keyboard.type("LIB/2A");
    await page.keyboard.press("Tab");
    await choose(page, "pres");
    await page.locator("button[type=submit]:enabled").waitFor();
    await page.keyboard.press("Control+Enter");
    await until(
      "one seen",
      async () => (await labels()).filter(({ values }) => values.state === "present").length === 1,
    );
    await written();
  });

  it("takes all of it back, act by act, from the foot", async () => {
    const { page } = journey;
    expect(acts).toHaveLength(5);
    for (const act of acts) await takeBack(page, act);
    await until("no cable", async () => (await cables()).length === 0);
    expect(await focused(page)).not.toBe("");
  });
});
