/** A mend from the chosen way to the last splice, in the window and by keyboard; and a job given up. */

import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import { line } from "../jobs/line.ts";
import { saidOf } from "../jobs/mending.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(line);

const job = () => journey.plant.run<JobAnswer>("job.show", { job: "J-1" });
const selected = () => journey.page.locator('.job-steps tr[aria-selected="true"]');
/** The rehearsal has come: what would be written stands beside the form. */
const button = (name: RegExp) => journey.page.getByRole("button", { name });

describe("a chosen way", () => {
  it("is planned by an act that says what it will write", async () => {
    const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
    const { plans } = await journey.plant.run<MendAnswer>("mend.plans", cut);
    const way = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
    await ask(journey.page, `#/mend?of=F-050&after=H-1&metres=40&lost=1&at=${way}`);
    await journey.page.getByRole("link", { name: `Choose way ${way}` }).click();
    // What the cut and the way say stands there: only the job's number has to be typed, and the focus is on it.
    await journey.page.locator('input[aria-label="number"]:focus').waitFor();
    await journey.page.keyboard.type("J-1");
    await journey.page.getByLabel("new hole").fill("H-9");
    await journey.page.getByLabel("cases").fill("CL-1");
    await button(/Plan the job, \d+ steps/).click();
    await journey.page.getByRole("heading", { name: "How far is job" }).waitFor();
    expect((await journey.plant.call("job.show", { job: "J-1" })).ok).toBe(true);
    // What was typed is written, and waits nowhere.
    await journey.page.goBack();
    const number = journey.page.getByLabel("number", { exact: true });
    await number.waitFor();
    // Nothing typed for the one before stays; the number after it is proposed.
    await expect.poll(() => number.inputValue()).toBe("J-2");
  });

  it("is a page of steps, the next one pointed at", async () => {
    await ask(journey.page, "#/job");
    await journey.page.getByRole("link", { name: "J-1" }).click();
    await selected().waitFor();
    const { steps, sentence, review } = await job();
    const minded = (await journey.page.locator(".caution-line").allInnerTexts()).map(flat);
    const next = steps.find(({ state }) => state === "open");
    expect(minded.slice(0, next?.cautions.length)).toEqual(next?.cautions.map(flat));
    const rows = (await journey.page.locator(".job-steps tbody tr").allInnerTexts()).map(flat);
    expect(rows).toHaveLength(steps.length);
    for (const [index, { words }] of steps.entries()) expect(rows[index]).toContain(flat(words));
    expect(flat(await shown(journey.page.locator(".answer")))).toBe(flat(sentence));
    expect(flat(await shown(journey.page.locator(".job-ledger")))).toContain(flat(review ?? "-"));
    await journey.looks();
  });

  it("is carried out step by step from the keyboard, until nothing is open", async () => {
    const { steps } = await job();
    for (const step of steps) {
      const { ordinal, act } = step;
      await expect.poll(() => selected().getAttribute("data-row")).toBe(String(ordinal));
      if (act === "splice.close") await journey.page.getByLabel(/Loss of each splice/).fill("0.04");
      // Marks are read as they were worked out.
      const { otherwise } = (await saidOf(journey.plant, step)) as { otherwise?: { values: Record<string, number> } };
      for (const [field, mark] of Object.entries(otherwise?.values ?? {}))
        await journey.page.locator(`#job-${field}`).fill(String(mark));
      await journey.page.getByLabel("Remark").focus();
      await journey.page.keyboard.press("Tab");
      await journey.page.keyboard.press("Enter");
      await expect.poll(async () => (await job()).steps.find((one) => one.ordinal === ordinal)?.state).toBe("done");
    }
    await journey.page.locator(".answer", { hasText: "J-1 is done" }).waitFor();
    const losses = await journey.plant.store.read((reader) =>
      reader.rows<{ loss_ab_db: number }>("select distinct loss_ab_db from splice"),
    );
    expect(losses).toEqual([{ loss_ab_db: 0.04 }]);
  });

  it("shows losses that are no numbers, or too few, beside what was typed, and writes nothing", async () => {
    const steps = [{ act: "splice.range", input: { from: "F-050:1-3", to: "F-050:4-6", at: "H-2" }, words: "Splice" }];
    await journey.plant.run("job.enter", { job: "J-2", steps });
    await ask(journey.page, "#/job?of=J-2");
    const loss = journey.page.getByLabel(/Loss of each splice/);
    for (const [typed, said] of [
      ["0.04 0.05", "There are 2; give one for all, or 3."],
      ["low", "low"],
    ] as const) {
      await loss.fill(typed);
      await button(/It is done/).click();
      await journey.page.locator(".leaf-fault", { hasText: said }).waitFor();
    }
    expect((await journey.plant.run<JobAnswer>("job.show", { job: "J-2" })).open).toBe(1);
  });

  it("can be given up, with what it had planned", async () => {
    await ask(journey.page, "#/job?of=J-2");
    await journey.page.getByRole("link", { name: "Give it up" }).click();
    await button(/Give it up/).click();
    await expect
      .poll(async () => (await journey.plant.run<JobAnswer>("job.show", { job: "J-2" })).state)
      .toBe("abandoned");
  });
});
