/** A person without a mouse. */
import type { Page } from "playwright";

/** What the focus is on, as it is read aloud: its label, else its words. */
export const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const on = document.activeElement;
    if (on === null || on === document.body) return "";
    return (on.getAttribute("aria-label") ?? on.textContent ?? "").replace(/\s+/g, " ").trim();
  });

/** More presses than this is no way for anybody. */
const MOST_TABS = 60;

/** Presses Tab until the focus is on what reads so, and tells how often; once round without it is a failure. */
export async function tabTo(page: Page, words: string | RegExp): Promise<number> {
  const passed: string[] = [];
  for (let presses = 1; presses <= MOST_TABS; presses++) {
    await page.keyboard.press("Tab");
    const on = await focused(page);
    if (typeof words === "string" ? on.startsWith(words) : words.test(on)) return presses;
    passed.push(on);
  }
  throw new Error(`Tab never came to ${words}; it came to ${passed.join(" | ")}`);
}

/** Presses Tab until the focus is on what the selector means, where its words say less than its place does. */
export async function tabInto(page: Page, wanted: string): Promise<void> {
  const passed: string[] = [];
  for (let presses = 0; presses < MOST_TABS; presses++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate((selector) => document.activeElement?.matches(selector), wanted)) return;
    passed.push(await focused(page));
  }
  throw new Error(`Tab never came to ${wanted}; it came to ${passed.join(" | ")}`);
}

/** More parts than any page has. */
const MOST_PARTS = 10;

/** F6 from part to part of the page until the focus is on what the selector means. */
export async function turnTo(page: Page, wanted: string): Promise<void> {
  for (let turn = 0; turn < MOST_PARTS; turn++) {
    if (await page.evaluate((selector) => document.activeElement?.matches(selector), wanted)) return;
    await page.keyboard.press("F6");
  }
  throw new Error(`F6 never came to ${wanted}; it stopped at ${await focused(page)}`);
}

/** Fills the blank that has the focus by typing a part of what is meant, and chooses the first that is offered. */
export async function fill(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text);
  const offered = page.getByRole("dialog", { name: "Fill the blank" });
  await offered.waitFor();
  if (await offered.getByRole("combobox").count()) await offered.getByRole("option").first().waitFor();
  await page.keyboard.press("Enter");
  await offered.waitFor({ state: "detached" });
}

/**
 * Goes down the list that has the focus, entry by entry, until what begins so is chosen. Typing its name would be begun anew
 * by the browser where a second passes between two letters.
 */
export async function choose(page: Page, words: string): Promise<void> {
  const passed: string[] = [];
  await page.locator("select:focus").waitFor();
  const chosen = () =>
    page.evaluate(() => {
      const on = document.activeElement;
      return on instanceof HTMLSelectElement ? { words: on.selectedOptions[0]?.text ?? "", of: on.length } : null;
    });
  for (let at = await chosen(); at !== null && passed.length < at.of; at = await chosen()) {
    if (at.words.startsWith(words)) return;
    passed.push(at.words);
    await page.keyboard.press("ArrowDown");
  }
  throw new Error(`${words} isn't in the list that has the focus; in it: ${passed.join(" | ")}`);
}

/** The list of a tab's questions; where the tab has a question open already, its key is pressed twice. */
export async function listOf(page: Page, key: string, tab: string): Promise<void> {
  const list = `#/ask?tab=${tab}`;
  const at = () => page.evaluate(() => location.hash);
  for (let presses = 0; presses < 2 && (await at()) !== list; presses++) await page.keyboard.press(key);
  await page.locator(`.questions-tab[aria-labelledby="ask-${tab}"]:focus`).waitFor();
}

/** Takes the last change back by the button in the foot, once that names it. In a field Ctrl+Z would be the field's own. */
export async function takeBack(page: Page, summary: string): Promise<void> {
  const button = page.getByRole("contentinfo").getByRole("button", { name: `Undo: ${summary}`, exact: true });
  await button.waitFor();
  await tabTo(page, `Undo: ${summary}`);
  await page.keyboard.press("Enter");
  await button.waitFor({ state: "detached" });
}
