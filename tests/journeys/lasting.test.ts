/**
 * A temporary mend in the window and what follows it: chosen for the time being, carried out, made permanent by the button on
 * its page, carried out; at each stage the trace tells where the light goes, and the warning stays until the piece on the
 * ground is gone. On the line of `../jobs/line.ts`: K-7 runs from LIB/101/A:07 to SCI/B01/P:07 on F-050, cut beyond H-1.
 */
import { describe, expect, it } from "vitest";
import type { JobAnswer } from "../../core/jobs/show.ts";
import { line } from "../jobs/line.ts";
import { saidOf } from "../jobs/mending.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(line);
const job = (named: string) => journey.plant.run<JobAnswer>("job.show", { job: named });
const button = (name: RegExp) => journey.page.getByRole("button", { name });
const permanent = () => journey.page.getByRole("link", { name: "Make it permanent" });
const selected = () => journey.page.locator('.job-steps tr[aria-selected="true"]');

/** Marks as somebody would read them on new cable: some metres further at each place, a little within it. */
let mark = 100;
function read(anotherPlace: boolean): string {
  mark += anotherPlace ? 102 : 10.4;
  return mark.toFixed(1);
}

/** What a step asks of the crew: fields of a record, or what became of a thing. */
interface Said {
  readonly [field: string]: unknown;
  readonly values?: Readonly<Record<string, unknown>>;
}

/** Does every step of the job whose page is open, by the keyboard; `after` is told each one. */
async function carryOut(named: string, after: (step: JobAnswer["steps"][number]) => Promise<void> = async () => {}) {
  for (const step of (await job(named)).steps) {
    const { ordinal } = step;
    await expect.poll(() => selected().getAttribute("data-row"), { timeout: 90_000 }).toBe(String(ordinal));
    const { otherwise = {} } = (await saidOf(journey.plant, step)) as { otherwise?: Said };
    let first = true;
    for (const [field, value] of Object.entries(otherwise.values ?? otherwise)) {
      const asked = journey.page.locator(`#job-${field}`);
      const choice = await asked.evaluate((one) => one.tagName === "SELECT");
      const said = String(value ?? read(first));
      await (choice ? asked.selectOption(said) : asked.fill(said));
      first = false;
    }
    await journey.page.getByLabel("Remark").focus();
    await journey.page.keyboard.press("Tab");
    await journey.page.keyboard.press("Enter");
    const state = async () => (await job(named)).steps.find((one) => one.ordinal === ordinal)?.state;
    await expect.poll(state, { timeout: 90_000 }).toBe("done");
    await after(step);
  }
}

/** What the page of the trace from the port of the first building says. */
async function traced(): Promise<string> {
  await ask(journey.page, "#/find?of=LIB/101/A:07%231");
  return shown(journey.page.locator("main"));
}

/** The temporary repairs of which the page of checks warns. */
async function warned(): Promise<string> {
  await ask(journey.page, "#/check");
  const page = journey.page.locator("main");
  // What is found is shown when all is read.
  await expect.poll(() => shown(page), { timeout: 90_000 }).not.toContain("when all is read");
  return shown(page);
}
const WARNING = "J-1 is a temporary repair to be replaced by";

describe("a temporary mend", () => {
  it("is chosen from the plans side by side, with the day by which it is replaced", async () => {
    expect(await traced()).toContain("SCI/B01/P:07");
    await ask(journey.page, "#/mend?of=F-050&after=H-1&metres=40&lost=1");
    await journey.page.getByRole("link", { name: "Choose it for the time being" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByLabel("number", { exact: true }).fill("J-1");
    await journey.page.getByLabel("new cable").fill("F-051");
    expect(await journey.page.getByLabel("temporary until").inputValue()).toMatch(/^\d{4}-\d\d-\d\d$/);
    await button(/Plan the job, \d+ steps/).click();
    await expect.poll(async () => (await journey.plant.call("job.show", { job: "J-1" })).ok).toBe(true);
  });

  it("asks for no lasting one before it is done, and for one from then on", async () => {
    await ask(journey.page, "#/job?of=J-1");
    await selected().waitFor();
    expect(await permanent().count()).toBe(0);
    await carryOut("J-1");
    await permanent().waitFor();
    await journey.looks();
    const now = await traced();
    expect(now).toContain("F-051");
    expect(now).toContain("SCI/B01/P:07");
    expect(await warned()).toContain(WARNING);
  });

  it("is made permanent by the button on its page, which names the job it follows", async () => {
    await ask(journey.page, "#/job?of=J-1");
    await permanent().focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByLabel("number", { exact: true }).fill("J-2");
    await journey.page.getByLabel("new cable").fill("F-052");
    expect(await journey.page.getByLabel("temporary job").inputValue()).toBe("J-1");
    await journey.looks();
    await button(/Plan the job, \d+ steps/).click();
    await expect.poll(async () => (await journey.plant.call("job.show", { job: "J-2" })).ok).toBe(true);
    await ask(journey.page, "#/job?of=J-1");
    await selected().waitFor();
    expect(await permanent().count()).toBe(0);
  });

  it("is warned of until the piece on the ground is gone, and the light then runs over the lasting one", async () => {
    expect(await warned()).toContain(WARNING);
    await ask(journey.page, "#/job?of=J-2");
    await carryOut("J-2");
    await journey.page.locator(".answer", { hasText: "J-2 is done" }).waitFor();
    const now = await traced();
    expect(now).toContain("F-052");
    expect(now).not.toContain("F-051");
    expect(now).toContain("SCI/B01/P:07");
    expect(await warned()).not.toContain(WARNING);
  });
});
