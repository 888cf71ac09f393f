/** Opens the plan of a plant in a real browser, pans and zooms it, and prints how long each took, as JSON: `FILE`. */
import type { Page } from "playwright";
import { openApplication } from "../../../host/application.ts";
import type { PlanFelt } from "../../bench/plan-felt.ts";
import { ask, endBrowser, openWindow } from "./window.ts";

const TURNS = 5;
const FRAMES = 120;

const drawn = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const start = performance.now();
        location.hash = "#/plan";
        const look = (): void => {
          const there =
            (document.querySelector(".plan-drawing svg path[vector-effect]")?.getAttribute("d") ?? "") !== "";
          requestAnimationFrame(there ? () => setTimeout(() => resolve(performance.now() - start)) : look);
        };
        look();
      }),
  );

const movedAbout = (page: Page): Promise<number[]> =>
  page.evaluate(
    (frames) =>
      new Promise<number[]>((resolve) => {
        const plan = document.querySelector<HTMLElement>(".plan-drawing");
        if (!plan) throw new Error("there is no plan");
        const { left, top, width, height } = plan.getBoundingClientRect();
        const middle = { clientX: left + width / 2, clientY: top + height / 2 };
        const took: number[] = [];
        let last = performance.now();
        const frame = (now: number): void => {
          took.push(now - last);
          last = now;
          if (took.length > frames) {
            resolve(took.slice(1));
            return;
          }
          // Nearer and farther by turns of fifteen frames, and a step to the side in between.
          const deltaY = took.length % 30 < 15 ? -60 : 60;
          if (took.length % 3 === 0)
            plan.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", shiftKey: true, bubbles: true }));
          else plan.dispatchEvent(new WheelEvent("wheel", { deltaY, ...middle, bubbles: true, cancelable: true }));
          requestAnimationFrame(frame);
        };
        requestAnimationFrame(frame);
      }),
    FRAMES,
  );

const [path = ""] = process.argv.slice(2);
const application = await openApplication(path, { backupAtClose: false, backupEvery_min: 0 });
const opened = await openWindow(application, { person: "bench", kept: `${path}.preferences.json` });
const { page } = opened;
const times: number[] = [];
for (let turn = 0; turn < TURNS; turn += 1) {
  await ask(page, "#/enter?kind=building");
  await page.locator("[role=grid]").waitFor();
  times.push(await drawn(page));
}
const felt: PlanFelt = { drawn: times, frames: await movedAbout(page) };
await opened.close();
await endBrowser();
await application.close();
process.stdout.write(JSON.stringify(felt));
