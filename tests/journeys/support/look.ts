/** What every page must be, whatever it shows. */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Locator, Page } from "playwright";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Violation {
  readonly id: string;
  readonly help: string;
  readonly nodes: readonly { readonly target: readonly unknown[]; readonly failureSummary?: string }[];
}

/** The rules about colours. Nothing else of a page hangs on its theme, which style sheets alone know of. */
const COLOURS = ["color-contrast", "link-in-text-block"];

/** Of what passes, no places are made up nor carried over. */
const run = (options: object): string =>
  `axe.run(document, ${JSON.stringify({ resultTypes: ["violations"], ...options })}).then(({ violations }) => violations)`;

/**
 * What axe finds on the page, one line each; nothing when all is well.
 *
 * @param coloursOnly where every rule was tried in the other theme
 */
export async function axeFindings(page: Page, { coloursOnly = false } = {}): Promise<string[]> {
  // Through the debugger, because the page's own policy lets in no foreign script; it stays until the page is loaded anew.
  if (!(await page.evaluate("'axe' in window"))) await page.evaluate(axeSource);
  const violations = (await page.evaluate(run(coloursOnly ? { runOnly: COLOURS } : {}))) as readonly Violation[];
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${help}: ${target.join(" ")} ${failureSummary ?? ""}`),
  );
}

/** Pixels by which the page is wider or taller than its window. */
export const overflow = (page: Page): Promise<{ readonly x: number; readonly y: number }> =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
    return { x: scrollWidth - clientWidth, y: scrollHeight - clientHeight };
  });

/** Texts of these parts that are cut off by their own box. */
export const clipped = (page: Page, selector: string): Promise<string[]> =>
  page.evaluate(
    (which) =>
      [...document.querySelectorAll<HTMLElement>(which)]
        .filter((one) => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflowX !== "visible")
        .map((one) => one.textContent ?? ""),
    selector,
  );

/** Where running text names tags: answers, notices, cautions, steps, ways, what is told below them and beside them, changes and refusals. */
export const SENTENCES = [
  ...[
    ".answer",
    ".notices",
    ".caution-line",
    ".job-steps",
    ".mend-plans",
    ".mend-where",
    ".mend-beside",
    ".locate-part",
  ],
  ...[".leaf-part", ".coils-part", ".changes", ".refused", ".line-why", ".finding-said"],
].join();

/** Tags in running text of these parts that begin on one line and end on the next; nothing when all are whole. */
export const partedTags = (page: Page, selector: string): Promise<string[]> =>
  page.evaluate((which) => {
    const parted: string[] = [];
    const at = document.createRange();
    for (const part of document.querySelectorAll(which)) {
      const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
      for (let node = texts.nextNode(); node; node = texts.nextNode())
        for (const { 0: tag, index } of (node.nodeValue ?? "").matchAll(/[A-Z0-9]+([-/][A-Z0-9]+)+/g)) {
          at.setStart(node, index);
          at.setEnd(node, index + tag.length);
          if (new Set([...at.getClientRects()].map(({ top }) => Math.round(top))).size > 1) parted.push(tag);
        }
    }
    return parted;
  }, selector);

/** The text of a part as it is seen, with single spaces. */
export async function shown(part: Locator): Promise<string> {
  await part.first().waitFor();
  const [text = ""] = await part.first().allInnerTexts();
  return flat(text);
}

export const flat = (text: string): string => text.replace(/\s+/g, " ").trim();
