/** The network admin follows a line, without touching the mouse. */

import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { flat, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await newCampus();
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());
afterEach(() => expect(open.complaints).toEqual([]));

const heading = () => shown(page.getByRole("heading", { level: 1 }));
const answer = () => shown(page.locator(".answer"));
const rows = () => page.locator(".ledger tbody tr").allInnerTexts();

async function search(text: string, key = "Enter"): Promise<void> {
  await page.keyboard.press("Control+k");
  await page.keyboard.type(text);
  await page.keyboard.press(key);
}

describe("searching for a port and pressing Enter", () => {
  it("asks where it goes, and tells it in one sentence, a drawing and a ledger", async () => {
    await search("LIB/2A/P1:13");
    await page.waitForSelector(".ledger");
    expect(await heading()).toBe("Where does LIB/2A/P1:13 go?");
    expect(await answer()).toContain("OBS/1A/SW2:1");
    expect(await page.locator(".strip").getAttribute("aria-label")).toContain(
      "MH-03, HH-11, HH-12, KLN/0E, MH-08, OBS/1A",
    );
    const told = (await rows()).map(flat);
    expect(told).toHaveLength(15);
    expect(told[3]).toContain("tube 3 green strands 1 blue · 2 orange");
    expect(told[3]).toContain("418.2 m");
    // The very colours are drawn too: green tube, blue and orange strand.
    const strokes = await page
      .locator(".ledger tbody tr")
      .nth(3)
      .locator("line")
      .evaluateAll((lines) => lines.map((line) => line.getAttribute("stroke")));
    expect(strokes).toEqual(expect.arrayContaining(["var(--strand-gr)", "var(--strand-bl)", "var(--strand-or)"]));
  });

  it("keeps the question in the address, so that a reload asks it again", async () => {
    expect(page.url()).toContain("#/find?of=LIB/2A/P1:13");
    await page.reload();
    await page.waitForSelector(".ledger");
    expect(await heading()).toBe("Where does LIB/2A/P1:13 go?");
  });
});

describe("walking down the ledger", () => {
  it("moves drawing and leaf along, and Enter opens the record pointed at", async () => {
    await ask(page, "#/find?of=F-033:71");
    await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("F-033:71"));
    await page.locator('.ledger [aria-selected="true"]').waitFor();
    // Regions in turn: head or wherever we are, until the rows have the focus.
    for (let step = 0; step < 8; step++) {
      await page.keyboard.press("F6");
      if (await page.evaluate(() => document.activeElement?.closest("[data-region=ledger]") !== null)) break;
    }
    await page.keyboard.press("Home");
    await page.keyboard.press("ArrowDown");
    await page
      .locator(".leaf h2")
      .filter({ hasText: /^F-033:71$/ })
      .waitFor();
    expect(await page.locator(".strip").getAttribute("aria-valuetext")).toBe("F-033:71");
    await page.keyboard.press("ArrowDown");
    await page
      .locator(".leaf h2")
      .filter({ hasText: /^KLN\/0E\/P1:12$/ })
      .waitFor();
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => location.hash.startsWith("#/record"));
    await page.keyboard.press("Alt+ArrowLeft");
    await page.waitForSelector(".ledger");
    await page
      .locator(".leaf h2")
      .filter({ hasText: /^KLN\/0E\/P1:12$/ })
      .waitFor();
  });

  it("says why a strand is assigned twice and names both circuits", async () => {
    const row = await shown(page.locator(".ledger tbody tr.ledger-glass").first());
    expect(row).toContain("K-088");
    expect(row).toContain("K-140");
  });
});

describe("a line whose record forks", () => {
  it("is told with both ways, each to its end", async () => {
    await ask(page, "#/find?of=F-021:11");
    await page.waitForSelector(".ledger-fork");
    const told = (await rows()).map(flat).join("\n");
    expect(told).toContain("the record is in doubt");
    expect(told).toMatch(/Way 1 of 2.*KLN\/0E\/P1:18/);
    expect(told).toMatch(/Way 2 of 2.*F-033:84#1/);
    expect(await page.locator(".strip-run").count()).toBe(4);
  });
});

describe("a splitter", () => {
  it("is a fork as built, told without doubt, with each output to its end", async () => {
    await ask(page, "#/find?of=F-040:15");
    await page.waitForSelector(".ledger-fork");
    const told = (await rows()).map(flat).join("\n");
    expect(told).toMatch(/Way 4 of 4/);
    expect(told).not.toContain("in doubt");
    expect(told).toContain("OBS/1A/S1:4");
  });
});

describe("a line that comes back to itself", () => {
  it("is told once round, and drawn closed", async () => {
    await ask(page, "#/find?of=F-040:37");
    await page.locator(".strip-ring").waitFor();
    expect(await answer()).toContain("ring");
    expect(await page.locator(".strip").getAttribute("aria-label")).toContain("a ring through");
    expect(await page.getByRole("button", { name: "From the other end" }).count()).toBe(0);
  });
});

describe("two ports of one circuit in one room without a cord on record", () => {
  it("are joined by a cord that is drawn dashed and called assumed", async () => {
    await ask(page, "#/find?of=K-150");
    const row = page.locator(".ledger tbody tr", { hasText: "no cord on record" });
    await row.waitFor();
    expect(await shown(row)).toContain("assumed");
    expect(await row.locator("line[stroke-dasharray]").count()).toBeGreaterThan(0);
    expect(await answer()).toContain("1 cord assumed");
    await row.click();
    await page.locator(".leaf h2", { hasText: "Assumed cord" }).waitFor();
    expect(await shown(page.locator(".leaf"))).toContain("never used to call a strand free");
  });
});

describe("asking from the other end", () => {
  it("tells the same line backwards", async () => {
    await ask(page, "#/find?of=F-033:71");
    const there = page.getByRole("button", { name: "From the other end" });
    await there.focus();
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("KLN"));
    await page.locator(".ledger").waitFor();
    const told = (await rows()).map(flat);
    expect(told.findIndex((row) => row.includes("KLN/0E/P1:12"))).toBeLessThan(
      told.findIndex((row) => row.includes("F-033:71")),
    );
  });
});

describe("filling the blank", () => {
  it("opens by typing on it, offers what lies under a panel, and takes the marked one", async () => {
    await ask(page, "#/find");
    const blank = page.getByRole("button", { name: "Choose a port, strand or circuit" });
    await blank.focus();
    await page.keyboard.type("LIB/2A/P1");
    await page.getByRole("option").first().waitFor();
    expect(await shown(page.getByRole("option").first())).toContain("LIB/2A/P1:01 port");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => location.hash.endsWith("LIB/2A/P1:02"));
    // The focus is back on the blank, which now shows what was chosen.
    await page.waitForFunction(
      () =>
        document.activeElement?.matches("button.blank") && document.activeElement.textContent?.includes("LIB/2A/P1:02"),
    );
  });

  it("leaves everything as it was on Escape", async () => {
    const before = page.url();
    await page.keyboard.type("X");
    await page.getByRole("dialog", { name: "Fill the blank" }).waitFor();
    await page.keyboard.press("Escape");
    expect(await page.getByRole("dialog").count()).toBe(0);
    expect(page.url()).toBe(before);
  });
});

describe("a tag that isn't on record", () => {
  it("is refused in words that name what comes close, and the page goes on working", async () => {
    await ask(page, "#/find?of=F-033:999");
    await page.getByRole("alert").waitFor();
    const words = await shown(page.getByRole("alert"));
    expect(words).toContain("F-033");
    expect(words).not.toMatch(/invalid|failed|oops|error/i);
    await search("K-118");
    await page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("K-118"));
    await page.locator(".ledger").waitFor();
  });
});

describe("a change made by somebody else while a line is on screen", () => {
  it("is shown at once, and nothing blinks meanwhile", async () => {
    await ask(page, "#/find?of=FDY/0E/P1:05");
    await page.locator(".ledger").waitFor();
    expect((await rows()).join(" ")).not.toContain("C-77");
    await page.evaluate(() => {
      const seen = { emptied: false };
      Object.assign(window, { seen });
      new MutationObserver(() => {
        if (!document.querySelector(".ledger")) seen.emptied = true;
      }).observe(document.body, { childList: true, subtree: true });
    });
    await plant.run("cord.patch", { from: "FDY/0E/P1:05", to: "FDY/0E/P1:06", tag: "C-77", length_m: 1 });
    await page.locator(".ledger", { hasText: "C-77" }).waitFor();
    expect(await page.evaluate(() => (window as unknown as { seen: { emptied: boolean } }).seen.emptied)).toBe(false);
  });
});
