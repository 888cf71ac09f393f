/** F1 by keyboard alone: the field one is in, told beside it while one types on; elsewhere the page and its keys. */
import { describe, expect, it } from "vitest";
import { KINDS } from "../../core/model/dictionary.ts";
import { KEY_TABLE } from "../../renderer/frame/key-table.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, keys, toColumn } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { axeFindings, flat, shown } from "./support/look.ts";
import { ask, settle } from "./support/window.ts";

const journey = journeyOn(newCampus);
const card = () => journey.page.locator(".field-help");

const toMarks = async () => {
  const { page } = journey;
  await ask(page, "#/enter?kind=cable");
  await intoTable(page);
  await keys(page, "Control+Home");
  await toColumn(page, "name");
};

describe("F1 in a cell of a table", () => {
  it("tells beside the cell what its field means, whether it is walked over or edited, and the focus stays", async () => {
    const { page } = journey;
    await toMarks();
    await keys(page, "F1");
    const said = await shown(card());
    expect(said).toContain(flat(KINDS.cable.fields.name.help));
    expect(said).toContain("What may stand in it: text");
    expect((await here(page))?.column).toBe("name");
    await keys(page, "Escape");
    await card().waitFor({ state: "detached" });

    await page.keyboard.type("Nor");
    await keys(page, "F1");
    await card().waitFor();
    await page.keyboard.type("th");
    // Esc closes the help, not the cell; the next Esc leaves the cell as it was.
    await keys(page, "Escape");
    await card().waitFor({ state: "detached" });
    expect(await here(page)).toMatchObject({ editing: true, text: "North" });
    await keys(page, "Escape");
    expect((await here(page))?.editing).toBe(false);
  });

  it("lies above the cell or below it, in the window, and goes when one walks on", async () => {
    const { page } = journey;
    await toMarks();
    await keys(page, "F1");
    const box = await card().boundingBox();
    const cell = await page.locator("[role=grid] :focus").boundingBox();
    if (!box || !cell) throw new Error("nothing is shown");
    expect(box.y + box.height <= cell.y || box.y >= cell.y + cell.height).toBe(true);
    expect(box.x).toBeGreaterThanOrEqual(0);
    expect(box.x + box.width).toBeLessThanOrEqual(1280);
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await axeFindings(page, { coloursOnly: colorScheme === "dark" })).toEqual([]);
    }
    await keys(page, "ArrowRight");
    await card().waitFor({ state: "detached" });
  });

  it("pressed again leads to all fields of the kind, this one in sight", async () => {
    const { page } = journey;
    await toMarks();
    await keys(page, "F1", "F1");
    const row = page.locator(".fields-table [aria-current=true]");
    await row.waitFor();
    expect(await shown(row)).toContain("name");
    await card().waitFor({ state: "detached" });
  });
});

describe("F1 in a field of a form", () => {
  it("tells what the form says of it", async () => {
    const { page } = journey;
    await ask(page, "#/acts?do=strand.land");
    const field = page.locator(".form-input[title]").first();
    await field.focus();
    await keys(page, "F1");
    expect(await shown(card())).toContain(flat((await field.getAttribute("title")) ?? "none"));
    await keys(page, "Escape");
    expect(await field.evaluate((one) => one === document.activeElement)).toBe(true);
  });

  it("and on a record's page what the dictionary says", async () => {
    const { page } = journey;
    await ask(page, "#/record?kind=cable&tag=F-014");
    await page.getByRole("button", { name: /^marks in:/ }).focus();
    await keys(page, "F1");
    expect(await shown(card())).toContain(flat(KINDS.cable.fields.mark_unit.help));
  });

  it("and of a day in which forms it is written", async () => {
    const { page } = journey;
    await ask(page, "#/record?kind=cable&tag=F-014");
    await page.getByRole("button", { name: /^installed on:/ }).focus();
    await keys(page, "F1");
    expect(await shown(card())).toContain("a day, such as 3 Apr 2026, 2026-04-03, 3.4.26 or today");
  });
});

describe("F1 elsewhere", () => {
  it("says what the page is, what its blanks hold and which keys work on it", async () => {
    const { page } = journey;
    await keys(page, "Escape");
    await ask(page, "#/find?of=F-014:25");
    await page.getByRole("heading", { level: 1, name: /^Where does F-014:25/ }).waitFor();
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await keys(page, "F1");
    const help = page.getByRole("dialog", { name: "Where does F-014:25 go?" });
    const said = await shown(help);
    expect(said).toContain("to where the glass stops or the record does");
    expect(said).toContain("a port, strand or circuit");
    const here = KEY_TABLE.filter(({ group }) => !group.startsWith("A table")).map(({ words }) => words);
    expect((await help.locator("dd").allTextContents()).sort()).toEqual(here.sort());
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await axeFindings(page, { coloursOnly: colorScheme === "dark" })).toEqual([]);
    }
    await help.getByRole("link", { name: /^Every key/ }).focus();
    await keys(page, "Enter");
    await page.locator(".keys-list").first().waitFor();
    expect(await help.count()).toBe(0);
  });

  it("in a table lists the table's keys, and closes by the same key", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await page.getByRole("button", { name: "Columns" }).focus();
    await keys(page, "F1");
    const help = page.getByRole("dialog", { name: /^Show cables/ });
    expect(await shown(help)).toContain("fill down");
    await keys(page, "F1");
    await help.waitFor({ state: "hidden" });
  });
});

describe("F1 on a new cable run", () => {
  it("tells beside each of its fields what stands in it", async () => {
    const { page } = journey;
    await ask(page, "#/run");
    const first = page.locator('[data-field="stops.0.space"]');
    await first.fill("LIB/2A");
    await keys(page, "Enter");
    await page.locator('[data-field="stops.0.mark_in"]').waitFor();
    const fields = page.locator(".run-cable, .run-rows").locator("input, select");
    const silent: string[] = [];
    for (const field of await fields.all()) {
      await field.focus();
      // A page that scrolls takes the card away again.
      await settle(page);
      await keys(page, "F1");
      if (!(await card().isVisible())) silent.push((await field.getAttribute("aria-label")) ?? "");
      await keys(page, "Escape");
    }
    expect(silent).toEqual([]);
    expect(await fields.count()).toBeGreaterThan(20);
    await page.locator('[data-field="stops.0.slack"]').focus();
    await settle(page);
    await keys(page, "F1");
    expect(await shown(card())).toContain("Coiled length where no marks say it, such as 15 m or 50 ft.");
  });
});

describe("F1 where no record is entered", () => {
  it("tells of each control of the preferences what it is for, and the focus stays on it", async () => {
    const { page } = journey;
    await ask(page, "#/prefs");
    const controls = page.locator(".prefs :is(input, select, button):visible");
    await controls.nth(8).waitFor();
    const said = new Set<string>();
    for (let at = 0; at < (await controls.count()); at++) {
      await controls.nth(at).focus();
      await keys(page, "F1");
      said.add(await shown(card()));
      await keys(page, "Escape");
      await card().waitFor({ state: "detached" });
      expect(await controls.nth(at).evaluate((one) => one === document.activeElement)).toBe(true);
    }
    const all = [...said].join(" ");
    for (const part of ["Lengths in", "Light or dark", "Begin with", "Paper in the printer", "Who works here"])
      expect(all).toContain(part);
    expect(all).toContain("They are stored in metres, whatever is chosen here.");
    expect(all).toContain("How many dots the printer sets to the inch");
  });

  it("tells of each place where a file is taken what may be taken there", async () => {
    const { page } = journey;
    for (const [address, words] of [
      ["#/sheet", "A sheet of what was built"],
      ["#/notes", "A picture or PDF of the crew's page"],
      ["#/map", "GeoJSON, KML or KMZ"],
      ["#/record?kind=cable&tag=F-014", "Kept inside the plant file with this record"],
    ] as const) {
      await ask(page, address);
      await page.locator('input[type="file"]').first().focus();
      await keys(page, "F1");
      expect(await shown(card())).toContain(words);
      await keys(page, "Escape");
    }
  });
});
