/** Drives the window on a plant as a person would, and prints how long it took to answer, as JSON: `FILE`. */
import type { Page } from "playwright";
import { openApplication } from "../../../host/application.ts";
import { intoTable } from "./grid.ts";
import { ask, endBrowser, openWindow } from "./window.ts";

/** What was measured, in milliseconds. */
export interface Felt {
  /** From each key to the frame that drew it. */
  readonly keys: readonly number[];
  /** From frame to frame while scrolling. */
  readonly frames: readonly number[];
  /** Frames that showed a row which wasn't read yet. */
  readonly blank: number;
}

const KEYS = 60;
const FRAMES = 240;
/** Scrolled in each frame: a wheel turned briskly, some 70 rows a second. */
const STEP_PX = 32;

/** From each key pressed to the frame after the one that drew it, in milliseconds. */
async function keystrokes(page: Page): Promise<number[]> {
  await page.evaluate(() => {
    const took: number[] = [];
    Object.assign(window, { took });
    addEventListener(
      "keydown",
      (event) => requestAnimationFrame(() => setTimeout(() => took.push(performance.now() - event.timeStamp))),
      true,
    );
  });
  await page.keyboard.press("F2");
  for (let key = 0; key < KEYS; key += 1) await page.keyboard.type("n", { delay: 40 });
  await page.waitForTimeout(200);
  await page.keyboard.press("Escape");
  return page.evaluate(() => (window as unknown as { took: number[] }).took.slice(1));
}

const scrolled = (page: Page): Promise<Omit<Felt, "keys">> =>
  page.evaluate(
    ([frames, step]) =>
      new Promise<Omit<Felt, "keys">>((resolve) => {
        const grid = document.querySelector<HTMLElement>("[role=grid]");
        if (!grid) throw new Error("there is no table");
        const took: number[] = [];
        let blank = 0;
        let last = performance.now();
        const frame = (now: number): void => {
          took.push(now - last);
          last = now;
          const shown = grid.getBoundingClientRect();
          const unread = [...grid.querySelectorAll(".grid-unread")].some((each) => {
            const box = each.getBoundingClientRect();
            return box.bottom > shown.top && box.top < shown.bottom;
          });
          if (unread) blank += 1;
          if (took.length > frames) {
            resolve({ frames: took.slice(1), blank });
            return;
          }
          grid.scrollBy(0, step);
          requestAnimationFrame(frame);
        };
        requestAnimationFrame(frame);
      }),
    [FRAMES, STEP_PX] as const,
  );

const [path = ""] = process.argv.slice(2);
const application = await openApplication(path, { backupAtClose: false, backupEvery_min: 0 });
const opened = await openWindow(application, { person: "bench", kept: `${path}.preferences.json` });
const { page } = opened;
await ask(page, "#/enter?kind=strand");
await intoTable(page);
const keys = await keystrokes(page);
const felt: Felt = { keys, ...(await scrolled(page)) };
await opened.close();
await endBrowser();
await application.close();
process.stdout.write(JSON.stringify(felt));
