/** What the window says of its own accord stands in a place of its own: it hides nothing, and takes no focus away. */
import { expect, it } from "vitest";
import { newSoundCampus } from "./support/campus.ts";
import { here, intoTable, keys, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

// The browser itself says of the broken connection that it broke.
const journey = journeyOn(newSoundCampus, /ERR_CONNECTION_RESET/);

it("covers no row, no box under the table, and leaves the cell with the focus in sight", async () => {
  const { page } = journey;
  await ask(page, "#/enter?kind=strand");
  await intoTable(page);
  // The last rows are read when they are come to.
  const record = page.locator("[role=grid] [data-row]:has([data-column]:focus) .tag").first();
  await until("a strand in focus", async () => {
    await keys(page, "Control+End", "ArrowUp");
    return record.isVisible();
  });
  const before = await here(page);
  // What can't be deleted is told above the foot, until it was read.
  await page.route("**/call", (route) =>
    route.request().postData()?.includes('"record.remove"') ? route.abort("connectionreset") : route.continue(),
  );
  const notice = page.locator(".notice", { hasText: "doesn't answer" });
  await until("the notice", async () => {
    await keys(page, "Control+Delete");
    return notice.waitFor({ timeout: 10_000 }).then(
      () => true,
      () => false,
    );
  });
  await page.unroute("**/call");
  expect(await here(page)).toEqual(before);
  const boxOf = async (selector: string) => {
    const box = await page.locator(selector).boundingBox();
    if (!box) throw new Error(`${selector} isn't seen`);
    return { top: box.y, bottom: box.y + box.height };
  };
  const told = await boxOf(".notices");
  expect((await boxOf(".main")).bottom).toBeLessThanOrEqual(told.top);
  expect((await boxOf(".foot")).top).toBeGreaterThanOrEqual(told.bottom);
  expect((await boxOf(".hint-line")).bottom).toBeLessThanOrEqual(told.top);
  await until("the cell in sight", async () => {
    const cell = await boxOf("[role=grid] [data-column]:focus");
    return cell.bottom <= (await boxOf("[role=grid]")).bottom;
  });
});

it("is come to by F6 and closed by Enter, and the keyboard goes on in its cell", async () => {
  const { page } = journey;
  const before = await here(page);
  for (let turn = 0; turn < 4; turn++) {
    await keys(page, "F6");
    if (await page.evaluate(() => document.activeElement?.closest(".notices") !== null)) break;
  }
  await keys(page, "Enter");
  await page.locator(".notice").waitFor({ state: "detached" });
  await until("the cell", async () => JSON.stringify(await here(page)) === JSON.stringify(before));
});
