/** Calls that wait: what a busy machine does to a window, done on purpose. */
import type { Page, Route } from "playwright";
import { onTestFinished } from "vitest";

/**
 * No call of this operation goes through until the answer is called, at the latest when the test ends.
 *
 * @param asking which of its calls, by what they ask, as JSON; left out, all
 */
export async function held(page: Page, operation: string, asking = /(?:)/): Promise<() => Promise<void>> {
  let goOn = () => {};
  const gone = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  await page.route("**/call", async (route: Route) => {
    const asked = route.request().postData() ?? "";
    if (asked.includes(`"name":"${operation}"`) && asking.test(asked)) await gone;
    await route.continue();
  });
  const free = async () => {
    goOn();
    await page.unrouteAll({ behavior: "wait" });
  };
  onTestFinished(free);
  return free;
}
