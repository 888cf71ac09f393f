/** Whoever goes elsewhere while something is written isn't led back from there, and is told all the same that it is done. */
import { expect, it } from "vitest";
import { line } from "../jobs/line.ts";
import { held } from "./support/held.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(line);

const address = () => journey.page.evaluate(() => location.hash);
const notice = (words: RegExp) => journey.page.locator(".notice", { hasText: words });

it("an act that leads to what it made", async () => {
  const { page } = journey;
  await ask(page, "#/acts?do=job.plan_mend&cable=F-050&after=H-1&metres=40&plan=1&job=J-90");
  const button = page.getByRole("button", { name: /Plan the job, \d+ steps/ });
  await button.waitFor();
  const written = await held(page, "job.plan_mend");
  await button.press("Enter");
  await ask(page, "#/keys");
  await written();
  await notice(/J-90.*Undo/).waitFor();
  expect(await address()).toBe("#/keys");
});

it("a record that is deleted from its page", async () => {
  const { page } = journey;
  await journey.plant.run("record.add", { kind: "building", values: { tag: "ZZZ", name: "Shed" } });
  await ask(page, "#/record?kind=building&tag=ZZZ");
  const written = await held(page, "record.remove");
  await page.getByRole("button", { name: "Delete", exact: true }).press("Enter");
  await ask(page, "#/record?kind=cable&tag=F-050");
  await written();
  await notice(/ZZZ/).waitFor();
  expect(await address()).toBe("#/record?kind=cable&tag=F-050");
});

it("a step that is done", async () => {
  const { page, plant } = journey;
  await plant.run("job.enter", { job: "J-91", steps: [{ words: "Look at the lid." }, { words: "Close it." }] });
  await ask(page, "#/job?of=J-91");
  const button = page.getByRole("button", { name: "It is done" });
  await button.waitFor();
  const written = await held(page, "job.do");
  await button.press("Enter");
  await ask(page, "#/cable?of=F-050");
  await written();
  await notice(/Step 1 of J-91 is done/).waitFor();
  expect(await address()).toBe("#/cable?of=F-050");
});
