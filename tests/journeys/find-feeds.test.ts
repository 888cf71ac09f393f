/** The network admin asks what feeds a building, filters it, and follows one strand of it. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

describe("what feeds Kiln Hall", () => {
  it("is found by the building's name and asked by Enter", async () => {
    await journey.page.keyboard.press("Control+k");
    await journey.page.keyboard.type("Kiln Hall");
    await journey.page.getByRole("option", { name: /KLN building/ }).waitFor();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".strand-table").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toBe(
      "What feeds KLN , over every cable , in every state ?",
    );
  });

  it("shows a bar for each strand and the totals the operation gives", async () => {
    const feeds = await journey.plant.run<FeedsAnswer>("feeds.of", { what: "KLN" });
    expect(await journey.page.locator("[data-strand]").count()).toBe(feeds.total);
    const totals = (await journey.page.locator(".totals tbody tr").allInnerTexts()).map(flat);
    const row = (state: keyof FeedsAnswer["counts"]) =>
      [...feeds.cables.map(({ counts }) => counts[state] || "·"), feeds.counts[state]].join(" ");
    expect(totals).toContain(`spare ${row("spare")}`);
    expect(totals).toContain(`in service ${row("in_service")}`);
    expect(totals).toContain(`assigned twice ${row("assigned_twice")}`);
    expect(totals.at(-1)).toBe(`in all ${feeds.cables.map(({ strands }) => strands.length).join(" ")} ${feeds.total}`);
    // 96 of F-033 and 48 of F-040 by the east, 12 of F-070 by the north.
    expect(feeds.total).toBe(156);
    const [library] = feeds.free_to.filter(({ building }) => building.tag === "LIB");
    expect(library?.strands).toBeGreaterThan(0);
    expect(await shown(journey.page.locator(".leaf"))).toContain(`LIB Library ${library?.strands}`);
  });

  it("walks the bars with the arrows, and the table follows", async () => {
    await journey.page.locator(".comb").focus();
    for (let step = 0; step < 3; step++) await journey.page.keyboard.press("ArrowRight");
    await journey.page.locator('.strand-line[aria-selected="true"]', { hasText: "F-033:4" }).waitFor();
    expect(await journey.page.locator(".comb").getAttribute("aria-valuetext")).toBe("F-033:4, spare");
  });

  it("is narrowed to a state by filling the third blank", async () => {
    await journey.page.getByRole("button", { name: "every state: choose another" }).focus();
    await journey.page.keyboard.type("rese");
    await journey.page.keyboard.press("Enter");
    await journey.page.waitForFunction(() => document.querySelectorAll(".strand-line").length === 2);
    expect(await shown(journey.page.locator(".answer"))).toMatch(
      /^2 strands reserved\. In all: 3 cables through 2 entrances/,
    );
    const lines = (await journey.page.locator(".strand-line").allInnerTexts()).map(flat);
    expect(lines.every((line) => line.includes("reserved") && line.includes("K-131"))).toBe(true);
  });

  it("leads from a strand to its line by Enter", async () => {
    await journey.page.locator('.strand-line[tabindex="0"]').focus();
    await journey.page.keyboard.press("ArrowDown");
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".ledger").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toMatch(/^Where does F-033:\d+ go\?$/);
  });
});

describe("a building without a cable", () => {
  it("is told so, and what may be the reason", async () => {
    await journey.plant.run("record.add", { kind: "building", values: { tag: "SHED", name: "Boat Shed" } });
    await ask(journey.page, "#/feeds?of=SHED");
    await journey.page.getByText("No cable on record").waitFor();
  });
});

describe("the cable's own page", () => {
  it("shows its course, and each strand in its tube and position", async () => {
    await ask(journey.page, "#/cable?of=F-033");
    await journey.page.locator(".matrix").waitFor();
    expect(await journey.page.locator(".matrix tbody tr").count()).toBe(8);
    expect(await journey.page.locator(".matrix td a").count()).toBe(96);
    expect(await shown(journey.page.locator(".answer"))).toMatch(/^A cable of 96 strands from Foundry to Kiln Hall/);
    const legs = await shown(journey.page.locator(".course-table").last());
    expect(legs).toContain("DB-4/1");
    expect(legs).toContain("542.2 m");
  });

  it("moves over the strands with the arrows; the leaf tells each half of a cut one", async () => {
    await journey.page.locator('.matrix a[tabindex="0"]').focus();
    for (let step = 0; step < 6; step++) await journey.page.keyboard.press("ArrowDown");
    const leaf = await shown(journey.page.locator(".leaf"));
    expect(leaf).toContain("F-033:73");
    expect(leaf).toContain("FDY/0E to HH-11");
    expect(leaf).toContain("HH-11 to KLN/0E");
  });

  it("asks where a strand goes on Enter", async () => {
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".ledger").waitFor();
    expect(journey.page.url()).toContain("of=F-033:73%231");
  });

  it("shows the other half of a cut strand when seen from the other end", async () => {
    await ask(journey.page, "#/cable?of=F-033&from=b");
    await journey.page.locator('.matrix a[data-number="73"]').waitFor();
    await journey.page.waitForFunction(() =>
      document.querySelector('.matrix a[data-number="73"]')?.getAttribute("aria-label")?.includes("in service"),
    );
  });
});
