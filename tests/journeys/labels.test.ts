/** The clerk prints the labels of a cable. By keyboard alone: first free label, wording, print, and undone again. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readLabels } from "../labels/read-labels.ts";
import { newCampus } from "./support/campus.ts";
import { intoTable, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

interface Row {
  readonly values: { readonly text: string | null; readonly printed_on: string | null };
}
const printed = async () =>
  (await journey.plant.run<{ rows: Row[] }>("record.window", { kind: "label", text: "" })).rows.filter(
    ({ values }) => values.printed_on !== null,
  );
const sheet = () => journey.page.locator(".label-sheet");
const answer = () => shown(journey.page.locator(".answer"));

describe("the labels of a cable", () => {
  it("lie on the sheet, one at each end and each place, and the one pointed at is drawn with its measures", async () => {
    const { page } = journey;
    await ask(page, `#/labels?of=F-014&sheet=${encodeURIComponent("102 x 25, 2 by 10")}`);
    await sheet().waitFor();
    expect(await answer()).toContain("They fill places 1 to 2 of one sheet.");
    // The list below has its first row chosen, and the label above it stays in view.
    await page.locator('.labels-ledger [aria-selected="true"]').waitFor();
    expect(await page.locator(".labels-right").evaluate((part) => part.scrollTop)).toBe(0);
    const one = page.locator(".labels-one");
    expect(await shown(one.locator("h2"))).toContain("F-014 at LIB/2A");
    await sheet().focus();
    await page.keyboard.press("ArrowRight");
    expect(await shown(one.locator("h2"))).toContain("F-014 at MH-03");
    expect(await shown(one)).toContain("101.6 mm");
  });

  it("begin at the place where Enter is pressed", async () => {
    const { page } = journey;
    await sheet().focus();
    for (const key of ["ArrowDown", "ArrowDown", "Enter"]) await page.keyboard.press(key);
    await page.getByText("They fill places 6 to 7 of one sheet.").waitFor();
    expect(await shown(page.getByRole("heading", { level: 1 }))).toContain("from label 6");
  });

  it("are drawn anew as the wording is typed; a blank that refers to nothing is told by its name", async () => {
    const { page } = journey;
    const wording = page.locator(".label-wording textarea");
    await wording.focus();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("{tag}\n{serves}");
    await page.getByRole("alert").getByText("{serves}").waitFor();
    // What could be drawn before stays to be seen, and nothing can be printed.
    expect(await sheet().isVisible()).toBe(true);
    expect(await page.getByRole("button", { name: "Print 2", exact: true }).isDisabled()).toBe(true);
    await page.keyboard.press("Control+A");
    await page.keyboard.type("{tag}\n{count} fibres, {from}");
    await until("the label as it is worded now", async () => (await shown(sheet())).includes("fibres, LIB/2A"));
    await page.getByRole("button", { name: "Keep with the plant" }).focus();
    await page.keyboard.press("Enter");
    await page.getByText("kept with the plant").waitFor();
    const { rows } = await journey.plant.run<{ rows: { values: object }[] }>("record.window", {
      kind: "label_template",
    });
    expect(rows).toMatchObject([{ values: { place: "indoor", text: "{tag}\n{count} fibres, {from}" } }]);
  });

  it("are printed to a PDF that lies as the sheet was drawn, and are put on record in one change", async () => {
    const { page, plant } = journey;
    const before = (await printed()).length;
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Print 2", exact: true }).focus();
    await page.keyboard.press("Enter");
    const file = await (await coming).path();
    const [read] = await readLabels(readFileSync(file));
    expect(read?.texts.map(({ text }) => text)).toContain("F-014");
    // Place 6 is the right one of the third row: 2 by 10 labels of 4 by 1 inch, the first half an inch from the top.
    const [first] = read?.texts ?? [];
    expect(first?.x_mm).toBeGreaterThan((0.15625 + 4.1875) * 25.4);
    expect(first?.y_mm).toBeGreaterThan(2.5 * 25.4);
    expect(first?.y_mm).toBeLessThan(3.5 * 25.4);
    await until("the printed labels on record", async () => (await printed()).length === before + 2);
    await page.getByText("all of them on record already").waitFor();
    await plant.run("history.undo");
    expect((await printed()).length).toBe(before);
  });

  it("are printed by Ctrl+P as by the button, at their own size and not as the page stands on the screen", async () => {
    const { page } = journey;
    const coming = page.waitForEvent("download");
    await sheet().focus();
    await page.keyboard.press("Control+p");
    const [read] = await readLabels(readFileSync(await (await coming).path()));
    expect(read?.texts.map(({ text }) => text)).toContain("F-014");
    await page.getByText("all of them on record already").waitFor();
    await journey.plant.run("history.undo");
  });

  it("move as this machine's printer needs it, and a number that can't be is marked and changes nothing", async () => {
    const { page } = journey;
    const shift = page.getByLabel("Shift right");
    await shift.focus();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("far");
    expect(await shift.getAttribute("aria-invalid")).toBe("true");
    await page.keyboard.press("Control+A");
    await page.keyboard.type("2,5");
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: "Outline test page" }).focus();
    await page.keyboard.press("Enter");
    const [read] = await readLabels(readFileSync(await (await coming).path()));
    expect(read?.outlined[0]?.x_mm).toBeCloseTo(0.15625 * 25.4 + 2.5, 1);
  });

  it("that don't fit are told by name with what cures it: smaller type, or a sheet with more room", async () => {
    const { page } = journey;
    await ask(page, "#/labels?of=F-014&sheet=44%20x%2013%2C%204%20by%2020");
    await page.locator(".label-over").waitFor();
    expect(await shown(page.locator(".label-over"))).toContain("F-014 at MH-03");
    await page.getByRole("button", { name: "Use smaller type" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Print 2", exact: true }).waitFor();
    await page.getByRole("button", { name: "Back to usual type" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Use 102 x 25, 2 by 10" }).focus();
    await page.keyboard.press("Enter");
    await page.locator(".label-over").waitFor({ state: "detached" });
    expect(page.url()).toContain("sheet=102");
  });

  it("of a table are those of its rows, filtered, and come from the list of acts", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=port&in=LIB%2F2A");
    await intoTable(page);
    await page.keyboard.press("Control+Shift+P");
    await page.keyboard.type("labels for");
    await page.getByRole("option", { name: /labels for the ports shown/ }).waitFor();
    await page.keyboard.press("Enter");
    await sheet().waitFor();
    expect(await shown(page.getByRole("heading", { level: 1 }))).toContain("Labels for the ports that a table shows");
    const { labels } = await journey.plant.run<{ labels: { record: string }[] }>("label.list", {
      table: { kind: "port", within: { kind: "space", id: "LIB/2A" } },
    });
    expect(labels.length).toBeGreaterThan(2);
    expect(await answer()).toContain(`${labels.length} labels`);
  });

  it("have nothing for axe, and scroll at neither size", async () => {
    await ask(journey.page, "#/labels?of=F-014");
    await sheet().waitFor();
    await journey.looks();
    await ask(journey.page, "#/labels?of=F-014&sheet=tape%2024%20mm");
    await journey.page.locator(".label-tape").waitFor();
    await journey.looks();
  });

  it("lie on the usual sheet of the paper that this person prints on, where no sheet is named", async () => {
    const { page } = journey;
    const one = page.locator(".labels-one");
    // A4, and then Letter (ISO 216; 8.5 by 11 in).
    await ask(page, "#/labels?of=F-014");
    await page.getByText("210.0 × 297.0 mm").waitFor();
    expect(await shown(one)).toContain("99.1 mm");
    await ask(page, "#/prefs");
    await page.getByRole("group", { name: "Paper in the printer" }).getByRole("radio", { name: "Letter" }).check();
    await ask(page, "#/labels?of=F-014");
    await page.getByText("215.9 × 279.4 mm").waitFor();
    expect(await shown(one)).toContain("101.6 mm");
  });

  it("begin with the first of another sheet that is chosen; one that has no such place says so and offers the first", async () => {
    const { page } = journey;
    await ask(page, `#/labels?of=F-014&sheet=${encodeURIComponent("102 x 25, 2 by 10")}&start=6`);
    await page.getByText("They fill places 6 to 7 of one sheet.").waitFor();
    await page.getByRole("button", { name: /102 x 25/ }).click();
    await page.getByRole("combobox", { name: "Find a label sheet" }).fill("tape 24");
    await page
      .getByRole("option", { name: /tape 24/ })
      .first()
      .waitFor();
    await page.keyboard.press("Enter");
    await page.locator(".label-tape").waitFor();
    expect(await page.evaluate(() => location.hash)).not.toContain("start");
    await ask(page, `#/labels?of=F-014&sheet=${encodeURIComponent("tape 24 mm")}&start=6`);
    await page.getByText("tape 24 mm is a tape: it begins with label 1.").waitFor();
    await page.getByRole("button", { name: "Begin with label 1" }).click();
    await page.locator(".label-tape").waitFor();
  });

  it("that was seen is noted by the person who works here, and what it contradicts is told before", async () => {
    const { page, plant } = journey;
    await plant.run("label.write", { subject: "F-014", space: "LIB/2A" });
    await ask(page, "#/acts?do=label.sight&subject=F-014&space=LIB/2A&state=present");
    await page.getByLabel("as read").fill("F-999");
    const would = page.getByRole("complementary", { name: "What would change" });
    await would.getByText("F-999").first().waitFor();
    await would.getByText("Test Person").waitFor();
    await would.getByText("The record would print something else on F-014").waitFor();
  });

  it("of what isn't there are refused by its name", async () => {
    await ask(journey.page, "#/labels?of=F-999");
    await journey.page.locator(".page-body").getByText("F-999").first().waitFor();
    await ask(journey.page, "#/labels?of=F-014&start=none");
    await journey.page.getByText("none is not the number of a label: count from 1.").waitFor();
  });
});
