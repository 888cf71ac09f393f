/**
 * The keyboard is always somewhere: whatever way a page is come to, and whatever goes away, the focus never falls to the
 * page's body, where no key is heard.
 */
import type { Page } from "playwright";
import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask, settle } from "./support/window.ts";

const journey = journeyOn(newCampus, /40[04]/);

/** Where the keyboard is: "body" where it is nowhere. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const one = document.activeElement;
    if (!one || one === document.body) return "body";
    return [one.localName, one.className, (one.textContent ?? "").slice(0, 40)].filter(Boolean).join(" ");
  });

const here = (page: Page): Promise<string> => page.evaluate(() => decodeURIComponent(location.hash));

/** Pages with an answer on them: what they lead to differs from what the bare question leads to. */
const ANSWERED = [
  "#/find?of=F-033:71",
  "#/feeds?of=KLN",
  "#/cable?of=F-033",
  "#/record?kind=cable&tag=F-014",
  "#/loss?of=K-118",
  "#/pathway?of=DB-2",
  "#/plan",
  "#/impact?of=F-014",
  "#/enter?kind=cable",
  "#/acts",
  "#/history",
  "#/check",
  "#/fitness?of=F-014",
  "#/limits",
  "#/mend?of=F-014",
  "#/labels?of=F-014",
  "#/papers",
  "#/coils",
  "#/keys",
  "#/prefs",
];

describe("a page come to by a link", () => {
  const seen = new Set<string>();

  it("has the keyboard, from the list of questions", async () => {
    const { page } = journey;
    await ask(page, "#/ask");
    const links = await page
      .locator('.questions a[href^="#/"]')
      .evaluateAll((all) => all.map((one) => one.getAttribute("href")));
    expect(links.length).toBeGreaterThan(25);
    const nowhere: string[] = [];
    for (const link of links) {
      await ask(page, "#/ask");
      await page.locator(`.questions a[href="${link}"]`).first().focus();
      await page.keyboard.press("Enter");
      await settle(page);
      if ((await focused(page)) === "body") nowhere.push(`${link}`);
    }
    expect(nowhere).toEqual([]);
  });

  it.each(ANSWERED)("has the keyboard, from %s", async (from) => {
    const { page } = journey;
    await ask(page, from);
    const all = await page
      .locator('main a[href^="#/"]')
      .evaluateAll((links) => links.map((one) => one.getAttribute("href") ?? ""));
    // One link to each page, with an answer on it, is enough.
    const links = [...new Map(all.map((link) => [link.split("=")[0] ?? "", link]))]
      .filter(([to]) => !seen.has(to))
      .map(([to, link]) => {
        seen.add(to);
        return link;
      });
    const nowhere: string[] = [];
    for (const link of links) {
      await ask(page, from);
      const one = page.locator(`main a[href="${CSS(link)}"]`).first();
      if (!(await one.isVisible())) continue;
      await one.focus();
      await page.keyboard.press("Enter");
      await settle(page);
      if ((await focused(page)) === "body") nowhere.push(`${link}`);
      // And back again.
      await page.keyboard.press("Alt+ArrowLeft");
      await settle(page);
      if ((await focused(page)) === "body") nowhere.push(`back from ${link} to ${await here(page)}`);
    }
    expect(nowhere).toEqual([]);
  });
});

const CSS = (text: string): string => text.replace(/["\\]/g, "\\$&");

describe("a page come to by the search box", () => {
  const offers = async (page: Page, typed: string): Promise<number> => {
    await page.keyboard.press("Control+k");
    await page.keyboard.type(typed);
    // Said once the list is that of what is typed.
    await page.locator(".search [role=status]", { hasText: "fit" }).waitFor();
    return page.locator("[role=option]").count();
  };

  it.each([">a question", "F-014", "KLN", "MH-03", "K-118", "DB-2"])("has the keyboard: %s", async (typed) => {
    const { page } = journey;
    await ask(page, "#/ask");
    const count = await offers(page, typed);
    expect(count).toBeGreaterThan(0);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    const nowhere: string[] = [];
    for (let at = 0; at < count; at += 1) {
      await ask(page, "#/ask");
      await offers(page, typed);
      for (let step = 0; step < at; step += 1) await page.keyboard.press("ArrowDown");
      await page.keyboard.press("Enter");
      await settle(page);
      if ((await focused(page)) === "body") nowhere.push(`the ${at + 1}. of ${typed}: ${await here(page)}`);
    }
    expect(nowhere).toEqual([]);
  });

  it("gives the keyboard back where it was, when it is left", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await page.getByRole("button", { name: "Columns" }).focus();
    await page.keyboard.press("Control+k");
    await page.keyboard.type("F-0");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    expect(await focused(page)).toContain("Columns");
    // The question itself too, in which the keyboard is at first.
    await ask(page, "#/keys");
    expect(await focused(page)).toMatch(/^h1/);
    await page.keyboard.press("Control+k");
    await page.keyboard.press("Escape");
    expect(await focused(page)).toMatch(/^h1/);
  });
});

describe("what goes away", () => {
  it("a dialog hands the keyboard to what opened it", async () => {
    const { page } = journey;
    await ask(page, "#/check");
    await page.getByRole("button", { name: "Sign off" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor();
    await page.keyboard.press("Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
    await until("the button that opened it", async () => (await focused(page)).includes("Sign off"));
  });

  it("a row hands it to the row that takes its place", async () => {
    const { page, plant } = journey;
    for (const name of ["F-801", "F-802"]) await plant.run("desk.keep", { form: "run", name, content: {} });
    await ask(page, "#/run");
    await page.getByRole("button", { name: "Throw away F-802" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Throw away F-802" }).waitFor({ state: "detached" });
    await until("the other row", async () => (await focused(page)).includes("F-801"));
    await page.getByRole("button", { name: "Throw away F-801" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Throw away F-801" }).waitFor({ state: "detached" });
    await until("what stood around it", async () => (await focused(page)) !== "body");
  });

  it("a button that runs keeps it", async () => {
    const { page } = journey;
    const backup = page.locator(".foot button", { hasText: /^(No backup yet|Backup|Backing up)/ });
    await backup.focus();
    await page.keyboard.press("Enter");
    await page.locator(".notice", { hasText: "Backed up" }).first().waitFor();
    expect(await focused(page)).toMatch(/backup/i);
  });
});
