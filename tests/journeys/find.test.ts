/** The network admin follows a line, without touching the mouse. */

import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

const heading = () => shown(journey.page.getByRole("heading", { level: 1 }));
const answer = () => shown(journey.page.locator(".answer"));
const rows = () => journey.page.locator(".ledger tbody tr").allInnerTexts();

async function search(text: string, key = "Enter"): Promise<void> {
  await journey.page.keyboard.press("Control+k");
  await journey.page.keyboard.type(text);
  await journey.page.keyboard.press(key);
}

describe("searching for a port and pressing Enter", () => {
  it("asks where it goes, and tells it in one sentence, a drawing and a ledger", async () => {
    await search("LIB/2A/P1:13");
    await journey.page.waitForSelector(".ledger");
    expect(await heading()).toBe("Where does LIB/2A/P1:13 go?");
    expect(await answer()).toContain("OBS/1A/SW2:1");
    expect(await journey.page.locator(".strip").getAttribute("aria-label")).toContain(
      "MH-03, HH-11, HH-12, KLN/0E, MH-08, OBS/1A",
    );
    const told = (await rows()).map(flat);
    expect(told).toHaveLength(15);
    expect(told[3]).toContain("tube 3 green strands 1 blue · 2 orange");
    expect(told[3]).toContain("418.2 m");
    // The very colours are drawn too: green tube, blue and orange strand.
    const strokes = await journey.page
      .locator(".ledger tbody tr")
      .nth(3)
      .locator("line")
      .evaluateAll((lines) => lines.map((line) => line.getAttribute("stroke")));
    expect(strokes).toEqual(expect.arrayContaining(["var(--strand-gr)", "var(--strand-bl)", "var(--strand-or)"]));
  });

  it("keeps the question in the address, so that a reload asks it again", async () => {
    expect(journey.page.url()).toContain("#/find?of=LIB/2A/P1:13");
    await journey.page.reload();
    await journey.page.waitForSelector(".ledger");
    expect(await heading()).toBe("Where does LIB/2A/P1:13 go?");
  });
});

describe("walking down the ledger", () => {
  it("moves drawing and leaf along, and Enter opens the record pointed at", async () => {
    await ask(journey.page, "#/find?of=F-033:71");
    await journey.page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("F-033:71"));
    await journey.page.locator('.ledger [aria-selected="true"]').waitFor();
    // Regions in turn: head or wherever we are, until the rows have the focus.
    for (let step = 0; step < 8; step++) {
      await journey.page.keyboard.press("F6");
      if (await journey.page.evaluate(() => document.activeElement?.closest("[data-region=ledger]") !== null)) break;
    }
    await journey.page.keyboard.press("Home");
    await journey.page.keyboard.press("ArrowDown");
    await journey.page
      .locator(".leaf h2")
      .filter({ hasText: /^F-033:71$/ })
      .waitFor();
    expect(await journey.page.locator(".strip").getAttribute("aria-valuetext")).toBe("F-033:71");
    await journey.page.keyboard.press("ArrowDown");
    await journey.page
      .locator(".leaf h2")
      .filter({ hasText: /^KLN\/0E\/P1:12$/ })
      .waitFor();
    await journey.page.keyboard.press("Enter");
    await journey.page.waitForFunction(() => location.hash.startsWith("#/record"));
    await journey.page.keyboard.press("Alt+ArrowLeft");
    await journey.page.waitForSelector(".ledger");
    await journey.page
      .locator(".leaf h2")
      .filter({ hasText: /^KLN\/0E\/P1:12$/ })
      .waitFor();
  });

  it("says why a strand is assigned twice and names both circuits", async () => {
    const row = await shown(journey.page.locator(".ledger tbody tr.ledger-glass").first());
    expect(row).toContain("K-088");
    expect(row).toContain("K-140");
  });
});

describe("a line whose record forks", () => {
  it("is told with both ways, each to its end", async () => {
    await ask(journey.page, "#/find?of=F-021:11");
    await journey.page.waitForSelector(".ledger-fork");
    const told = (await rows()).map(flat).join("\n");
    expect(told).toContain("the record is in doubt");
    expect(told).toMatch(/Way 1 of 2.*KLN\/0E\/P1:18/);
    expect(told).toMatch(/Way 2 of 2.*F-033:84#1/);
    expect(await journey.page.locator(".strip-run").count()).toBe(4);
  });
});

describe("a splitter", () => {
  it("is a fork as built, told without doubt, with each output to its end", async () => {
    await ask(journey.page, "#/find?of=F-040:15");
    await journey.page.waitForSelector(".ledger-fork");
    const told = (await rows()).map(flat).join("\n");
    expect(told).toMatch(/Way 4 of 4/);
    expect(told).not.toContain("in doubt");
    expect(told).toContain("OBS/1A/S1:4");
  });
});

describe("a line that comes back to itself", () => {
  it("is told once round, and drawn closed", async () => {
    await ask(journey.page, "#/find?of=F-040:37");
    await journey.page.locator(".strip-ring").waitFor();
    expect(await answer()).toContain("ring");
    expect(await journey.page.locator(".strip").getAttribute("aria-label")).toContain("a ring through");
    expect(await journey.page.getByRole("button", { name: "From the other end" }).count()).toBe(0);
  });
});

describe("two ports of one circuit in one room without a cord on record", () => {
  it("are joined by a cord that is drawn dashed and called assumed", async () => {
    await ask(journey.page, "#/find?of=K-150");
    const row = journey.page.locator(".ledger tbody tr", { hasText: "no cord on record" });
    await row.waitFor();
    expect(await shown(row)).toContain("assumed");
    expect(await row.locator("line[stroke-dasharray]").count()).toBeGreaterThan(0);
    expect(await answer()).toContain("1 cord assumed");
    await row.click();
    await journey.page.locator(".leaf h2", { hasText: "Assumed cord" }).waitFor();
    expect(await shown(journey.page.locator(".leaf"))).toContain("never used to call a strand free");
  });
});

describe("asking from the other end", () => {
  it("tells the same line backwards", async () => {
    await ask(journey.page, "#/find?of=F-033:71");
    const there = journey.page.getByRole("button", { name: "From the other end" });
    await there.focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("KLN"));
    await journey.page.locator(".ledger").waitFor();
    const told = (await rows()).map(flat);
    expect(told.findIndex((row) => row.includes("KLN/0E/P1:12"))).toBeLessThan(
      told.findIndex((row) => row.includes("F-033:71")),
    );
  });
});

describe("filling the blank", () => {
  it("opens by typing on it, offers what lies under a panel, and takes the marked one", async () => {
    await ask(journey.page, "#/find");
    const blank = journey.page.getByRole("button", { name: "Choose a port, strand or circuit" });
    await blank.focus();
    await journey.page.keyboard.type("LIB/2A/P1");
    await journey.page.getByRole("option").first().waitFor();
    expect(await shown(journey.page.getByRole("option").first())).toContain("LIB/2A/P1:01 port");
    await journey.page.keyboard.press("ArrowDown");
    await journey.page.keyboard.press("Enter");
    await journey.page.waitForFunction(() => location.hash.endsWith("LIB/2A/P1:02"));
    // The focus is back on the blank, which now shows what was chosen.
    await journey.page.waitForFunction(
      () =>
        document.activeElement?.matches("button.blank") && document.activeElement.textContent?.includes("LIB/2A/P1:02"),
    );
  });

  it("leaves everything as it was on Escape", async () => {
    const before = journey.page.url();
    await journey.page.keyboard.type("X");
    await journey.page.getByRole("dialog", { name: "Fill the blank" }).waitFor();
    await journey.page.keyboard.press("Escape");
    expect(await journey.page.getByRole("dialog").count()).toBe(0);
    expect(journey.page.url()).toBe(before);
  });
});

describe("a tag that isn't on record", () => {
  it("is refused in words that name what comes close, and the page goes on working", async () => {
    await ask(journey.page, "#/find?of=F-033:999");
    await journey.page.getByRole("alert").waitFor();
    const words = await shown(journey.page.getByRole("alert"));
    expect(words).toContain("F-033");
    expect(words).not.toMatch(/invalid|failed|oops|error/i);
    await search("K-118");
    await journey.page.waitForFunction(() => document.querySelector("h1")?.textContent?.includes("K-118"));
    await journey.page.locator(".ledger").waitFor();
  });
});

describe("a change made by somebody else while a line is on screen", () => {
  it("is shown at once, and nothing blinks meanwhile", async () => {
    await ask(journey.page, "#/find?of=FDY/0E/P1:05");
    await journey.page.locator(".ledger").waitFor();
    expect((await rows()).join(" ")).not.toContain("C-77");
    await journey.page.evaluate(() => {
      const seen = { emptied: false };
      Object.assign(window, { seen });
      new MutationObserver(() => {
        if (!document.querySelector(".ledger")) seen.emptied = true;
      }).observe(document.body, { childList: true, subtree: true });
    });
    await journey.plant.run("cord.patch", { from: "FDY/0E/P1:05", to: "FDY/0E/P1:06", tag: "C-77", length_m: 1 });
    await journey.page.locator(".ledger", { hasText: "C-77" }).waitFor();
    expect(await journey.page.evaluate(() => (window as unknown as { seen: { emptied: boolean } }).seen.emptied)).toBe(
      false,
    );
  });
});
