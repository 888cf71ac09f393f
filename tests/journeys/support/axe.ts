/** What axe-core finds wrong with the page as it stands, as lines that name rule and place. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright";

const SOURCE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Found {
  readonly id: string;
  readonly help: string;
  readonly nodes: readonly { readonly target: readonly string[]; readonly html: string }[];
}

export async function axeFindings(page: Page): Promise<string[]> {
  // Scripts that a test evaluates are outside the page's content policy.
  await page.evaluate(SOURCE);
  const violations = (await page.evaluate("axe.run().then((found) => found.violations)")) as Found[];
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map((node) => `${id}: ${help} at ${node.target.join(" ")} ${node.html.slice(0, 120)}`),
  );
}

/** By how many pixels the page is wider than the window: 0 when nothing scrolls sideways. */
export const sidewaysOverflow = (page: Page): Promise<number> =>
  page.evaluate(() => Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth));
