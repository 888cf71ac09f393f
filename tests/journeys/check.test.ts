/** An auditor: runs the check, filters it, opens a record, accepts with a reason, signs, and sees what is new since. */
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newCampus } from "./support/campus.ts";
import { intoTable, keys, onRecord, until } from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, NOTHING, { person: "A. Auditor" });

const report = () => journey.plant.run<AnswerOf<"check.run">>("check.run", {});
const twice = "truth.assigned_twice";

describe("the consistency report", () => {
  it("shows each finding with its reason, source, repair and what it rests on", async () => {
    const { page } = journey;
    await ask(page, "#/check");
    const group = page.getByRole("region", { name: /Section assigned twice/ });
    await group.getByText("F-033:71 is given to K-088 and K-140").waitFor();
    for (const words of ["To repair:", "rests on 3 records", "no source"])
      await group.getByText(words).first().waitFor();
    expect(await page.getByRole("link", { name: /^\d+ errors$/ }).count()).toBe(1);
  });

  it("can be narrowed to one rule, one severity, one building, and each of it stands in the address", async () => {
    const { page } = journey;
    await page
      .getByRole("navigation", { name: "Rules" })
      .getByRole("link", { name: /End joined twice/ })
      .click();
    await page.getByText("is joined more than once").waitFor();
    expect(await page.getByText("is given to").count()).toBe(0);
    expect(page.url()).toContain("by=truth.joined_twice");
    await page.getByRole("button", { name: /joined twice: choose/ }).waitFor();
    await ask(page, "#/check?only=gap");
    await page.getByText("is joined more than once").waitFor({ state: "detached" });
    await ask(page, "#/check?of=OBS");
    const { findings } = await journey.plant.run<AnswerOf<"check.run">>("check.run", { building: "OBS" });
    await until("the findings of OBS", async () => {
      const shown = await page.locator("[data-finding]").count();
      const numbers = await page.locator(".finding-number").allTextContents();
      return shown <= findings.length && numbers.reduce((sum, text) => sum + Number(text), 0) === findings.length;
    });
  });

  it("opens the record a finding is about, which shows the finding too", async () => {
    const { page } = journey;
    await ask(page, `#/check?by=${twice}`);
    await page.locator("[data-finding]").first().getByRole("link", { name: "Open" }).click();
    await page.getByRole("heading", { level: 1, name: /What is strand section F-033:71#1/ }).waitFor();
    await page.getByRole("complementary", { name: "Leaf" }).getByText("is given to").waitFor();
  });

  it("marks the rows of the table, with the finding under its row", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=section&where=strand_id%3D71");
    await page.locator("[data-row='0'] .tag").first().waitFor();
    await page.locator(".grid-line").getByText("is given to").first().waitFor();
    await intoTable(page);
    const name = await page.locator("[role=row]:has(.grid-line) [role=rowheader]").first().textContent();
    expect(name).toMatch(/1 finding$/);
  });
});

describe("accepting a finding", () => {
  it("needs a reason, keeps it with the name and the day to look again, and counts no longer", async () => {
    const { page } = journey;
    await ask(page, `#/check?by=${twice}`);
    const before = (await report()).counts.error;
    const item = page.locator("[data-finding]").first();
    await item.getByRole("button", { name: "Accept" }).click();
    const accept = item.getByRole("button", { name: "Accept, as A. Auditor" });
    expect(await accept.isDisabled()).toBe(true);
    // The cursor is in the field already.
    await page.keyboard.type("K-140 moves on 20 April, order 3312");
    await keys(page, "Tab", "Control+a");
    await page.keyboard.type("3 Apr 2126");
    await keys(page, "Enter");
    await item.getByText("“K-140 moves on 20 April, order 3312”").waitFor();
    const after = await report();
    expect(after.counts.error).toBe(before - 1);
    expect(after.findings.find((one) => one.rule === twice)?.exception).toMatchObject({
      accepted_by: "A. Auditor",
      review_on: "2126-04-03",
      holds: true,
    });
    await page.getByRole("link", { name: "1 accepted" }).waitFor();
  });

  it("takes its mark from the table's row", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=section&where=strand_id%3D71");
    await page.locator("[data-row='0'] .tag").first().waitFor();
    expect(await page.locator(".grid-line").count()).toBe(0);
    await ask(page, `#/check?by=${twice}`);
    await page.locator("[data-finding]").first().waitFor();
  });

  it("lapses when its facts change: it counts again, the old reason beside it", async () => {
    const { page } = journey;
    // The cameras' circuit has the strand from next year on: another fact, the same finding.
    const [assignment] = await onRecord(journey.plant, {
      kind: "assignment",
      filters: [{ field: "circuit_id", test: "is", value: "K-140" }],
    });
    await journey.plant.run("record.edit", {
      kind: "assignment",
      id: assignment?.id,
      values: { from_on: "2031-01-01" },
    });
    const item = page.locator("[data-finding]").first();
    await item.getByText("Was accepted").waitFor();
    await item.getByText("What it rested on has changed since").waitFor();
    await item.getByText("K-140 moves on 20 April").first().waitFor();
    await journey.plant.run("history.undo");
    await item.getByText("Accepted", { exact: false }).first().waitFor();
  });

  it("can be taken back", async () => {
    const { page } = journey;
    const item = page.locator("[data-finding]").first();
    await item.getByRole("button", { name: "No longer accept" }).click();
    await item.getByRole("button", { name: "Accept" }).waitFor();
    expect((await onRecord(journey.plant, { kind: "exception" })).length).toBe(0);
  });
});

describe("signing off", () => {
  it("keeps who signed what content, and the next report opens with what is new", async () => {
    const { page } = journey;
    await ask(page, "#/check");
    await page.getByText("never signed off").waitFor();
    await page.getByRole("button", { name: "Sign off" }).click();
    const dialog = page.getByRole("dialog", { name: "Sign this report" });
    await dialog.getByText("are still open; signing does not close them").waitFor();
    await dialog.getByRole("button", { name: "Sign it" }).click();
    await page.getByText(/0 new since .* signed by A. Auditor/).waitFor();
    await journey.plant.run("record.edit", { kind: "splice", id: 1, values: { b_section_id: "F-021:2" } });
    const link = page.getByRole("link", { name: /[1-9]\d* new since/ });
    await link.click();
    await page.locator(".finding-new").first().waitFor();
    // What is new stands first.
    expect(await page.locator("[data-finding]").first().locator(".finding-new").count()).toBe(1);
  });
});

describe("the report on paper", () => {
  it("is kept as a table and as a page", async () => {
    const { page } = journey;
    for (const [button, ending] of [
      ["Keep as CSV", ".csv"],
      ["Keep as HTML", ".html"],
    ] as const) {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("button", { name: button }).click(),
      ]);
      expect(download.suggestedFilename()).toMatch(new RegExp(`^consistency-.*\\${ending}$`));
    }
  });
});
