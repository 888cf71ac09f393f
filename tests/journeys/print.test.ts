/** A crew's packet printed from the job's page: the download is a PDF with the job's steps, on the paper chosen. */
import { readFileSync } from "node:fs";
import type { Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { line } from "../jobs/line.ts";
import { type ReadPdf, readPdf } from "../paper/read-pdf.ts";
import type { TestPlant } from "../support/plant.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES, ZOOMED } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await line();
  const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
  const { plans } = await plant.run<{ plans: { new_holes: number }[] }>("mend.plans", cut);
  const plan = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
  await plant.run("job.plan_mend", { ...cut, plan, job: "J-1", hole: "H-9", cases: ["CL-1"] });
  await plant.run("job.enter", { job: "J-2", steps: [{ words: "Look for 光 on the lid." }] });
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());

const flat = (text: string): string => text.replace(/\s+/g, "");
const print = (of = page) => of.getByRole("button", { name: "Print the packet" });
const notice = (words: string | RegExp) => page.locator(".notice", { hasText: words });

async function printed(of = page): Promise<{ name: string; read: ReadPdf }> {
  const coming = of.waitForEvent("download");
  await print(of).focus();
  await of.keyboard.press("Enter");
  const download = await coming;
  return { name: download.suggestedFilename(), read: await readPdf(readFileSync(await download.path())) };
}

describe("the packet of a job", () => {
  it("comes as a PDF with every step, and the window says so", async () => {
    await ask(page, "#/job?of=J-1");
    const { name, read } = await printed();
    expect(name).toBe("Packet for job J-1.pdf");
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-1" });
    expect(steps.length).toBeGreaterThan(5);
    for (const { words } of steps) expect(flat(read.text)).toContain(flat(words));
    expect(Math.round(read.pages[0]?.height ?? 0)).toBe(842);
    await notice(`Packet for job J-1.pdf, ${read.pages.length} pages`).waitFor();
    expect(open.complaints).toEqual([]);
  });
  it("is printed on the paper chosen, in this window and in the next", async () => {
    await page.getByLabel("Paper", { exact: true }).selectOption("Letter");
    expect((await printed()).read.pages[0]).toMatchObject({ width: 612, height: 792 });
    const next = await open.another();
    await ask(next, "#/job?of=J-1");
    await expect.poll(() => next.getByLabel("Paper", { exact: true }).inputValue()).toBe("letter");
    expect((await printed(next)).read.pages[0]).toMatchObject({ width: 612, height: 792 });
    await next.close();
  });
  it("says which characters the paper can't show", async () => {
    await ask(page, "#/job?of=J-2");
    await page.locator(".answer", { hasText: "J-2" }).waitFor();
    expect((await printed()).read.text).toContain("Look for [U+5149] on the lid.");
    await notice("The fonts lack 光").waitFor();
  });
  it("leads back from the code on it: scanned into the search box, it opens the job", async () => {
    await ask(page, "#/");
    await page.keyboard.press("Control+k");
    await page.keyboard.type("sbok:job:J-1");
    await page.locator(".combobox-option", { hasText: "J-1" }).first().waitFor();
    await page.keyboard.press("Enter");
    await expect.poll(() => page.evaluate("location.hash")).toMatch(/J-1\b/);
  });
  it("is refused in words when the program no longer answers", async () => {
    await ask(page, "#/job?of=J-2");
    await print().waitFor();
    await open.endProgram();
    await print().click();
    await notice("Strandbook doesn't answer").waitFor();
  });
});

describe("its button", () => {
  it("is named, reachable, and leaves nothing beyond the edge, light and dark", async () => {
    const fresh = await openWindow(plant);
    try {
      await ask(fresh.page, "#/job?of=J-1");
      await print(fresh.page).waitFor();
      for (const theme of ["light", "dark"] as const) {
        await fresh.page.emulateMedia({ colorScheme: theme });
        expect(await axeFindings(fresh.page)).toEqual([]);
      }
      for (const size of [...Object.values(SIZES), ZOOMED]) {
        await fresh.page.setViewportSize(size);
        expect(await overflow(fresh.page)).toEqual({ x: 0, y: 0 });
      }
    } finally {
      await fresh.close();
    }
  });
});
