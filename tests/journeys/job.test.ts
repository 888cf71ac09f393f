/** A mend from the chosen way to the last splice, in the window and by keyboard; and a job given up. */

import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { line } from "../jobs/line.ts";
import type { TestPlant } from "../support/plant.ts";
import { axeFindings, flat, overflow, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await line();
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());
afterEach(() => expect(open.complaints.filter((words) => !words.includes("400"))).toEqual([]));

const job = () => plant.run<JobAnswer>("job.show", { job: "J-1" });
const selected = () => page.locator('.job-steps tr[aria-selected="true"]');
/** The rehearsal has come: what would be written stands beside the form. */
const button = (name: RegExp) => page.getByRole("button", { name });

describe("a chosen way", () => {
  it("is planned by an act that says what it will write", async () => {
    const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
    const { plans } = await plant.run<MendAnswer>("mend.plans", cut);
    const way = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
    await ask(page, `#/mend?of=F-050&after=H-1&metres=40&lost=1&at=${way}`);
    await page.getByRole("link", { name: `Choose way ${way}` }).click();
    await page.getByLabel("number", { exact: true }).fill("J-1");
    await page.getByLabel("new hole").fill("H-9");
    await page.getByLabel("cases").fill("CL-1");
    await button(/Plan the job, \d+ steps/).click();
    await expect.poll(async () => (await plant.call("job.show", { job: "J-1" })).ok).toBe(true);
  });

  it("is a page of steps, the next one pointed at", async () => {
    await ask(page, "#/job");
    await page.getByRole("link", { name: "J-1" }).click();
    await selected().waitFor();
    const { steps, sentence, review } = await job();
    const rows = (await page.locator(".job-steps tbody tr").allInnerTexts()).map(flat);
    expect(rows).toHaveLength(steps.length);
    for (const [index, { words }] of steps.entries()) expect(rows[index]).toContain(flat(words));
    expect(flat(await shown(page.locator(".answer")))).toBe(flat(sentence));
    expect(flat(await shown(page.locator(".job-ledger")))).toContain(flat(review ?? "-"));
    for (const theme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme: theme });
      expect(await axeFindings(page)).toEqual([]);
    }
    for (const size of Object.values(SIZES)) {
      await page.setViewportSize(size);
      expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    }
    await page.setViewportSize(SIZES.laptop);
  });

  it("is carried out step by step from the keyboard, until nothing is open", async () => {
    const { steps } = await job();
    for (const { ordinal, act } of steps) {
      await expect.poll(() => selected().getAttribute("data-row")).toBe(String(ordinal));
      if (act === "splice.close") await page.getByLabel(/Loss of each splice/).fill("0.04");
      await page.getByLabel("Remark").focus();
      await page.keyboard.press("Tab");
      await page.keyboard.press("Enter");
      await expect.poll(async () => (await job()).steps.find((one) => one.ordinal === ordinal)?.state).toBe("done");
    }
    await page.locator(".answer", { hasText: "J-1 is done" }).waitFor();
    const losses = await plant.store.read((reader) =>
      reader.rows<{ loss_ab_db: number }>("select distinct loss_ab_db from splice"),
    );
    expect(losses).toEqual([{ loss_ab_db: 0.04 }]);
  });

  it("shows losses that are no numbers, or too few, beside what was typed, and writes nothing", async () => {
    const steps = [{ act: "splice.range", input: { from: "F-050:1-3", to: "F-050:4-6", at: "H-2" }, words: "Splice" }];
    await plant.run("job.enter", { job: "J-2", steps });
    await ask(page, "#/job?of=J-2");
    const loss = page.getByLabel(/Loss of each splice/);
    for (const [typed, said] of [
      ["0.04 0.05", "There are 2; give one for all, or 3."],
      ["low", "low"],
    ] as const) {
      await loss.fill(typed);
      await button(/It is done/).click();
      await page.locator(".job-fault", { hasText: said }).waitFor();
    }
    expect((await plant.run<JobAnswer>("job.show", { job: "J-2" })).open).toBe(1);
  });

  it("can be given up, with what it had planned", async () => {
    await ask(page, "#/job?of=J-2");
    await page.getByRole("link", { name: "Give it up" }).click();
    await button(/Give it up/).click();
    await expect.poll(async () => (await plant.run<JobAnswer>("job.show", { job: "J-2" })).state).toBe("abandoned");
  });
});
