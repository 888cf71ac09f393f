/**
 * The network admin and the auditor at the keyboard alone: from the first page to a job, and from a finding to a sign-off.
 * (WCAG 2.2, 2.1.1 Keyboard.) No mouse and no address is used.
 */
import { describe, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newCampus } from "./support/campus.ts";
import { until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { fill, focused, tabTo } from "./support/keyboard.ts";
import { shown } from "./support/look.ts";

const heading = (page: typeof journey.page) => shown(page.getByRole("heading", { level: 1 }));
const inQuestion = (page: typeof journey.page) =>
  page.evaluate(() => document.activeElement?.closest('[data-region="sentence"]') !== null);
const journey = journeyOn(newCampus);

describe("a network admin whose port reads 612 m", () => {
  it("asks from the list of questions where the glass is broken", async () => {
    const { page } = journey;
    await page.keyboard.press("Alt+4");
    await tabTo(page, "Where is the glass broken");
    await page.keyboard.press("Enter");
    // The first blank waits for what is typed.
    await until("the blank", async () => (await focused(page)) === "Choose a port or strand");
    await fill(page, "LIB/2A/P1:13");
    await page.keyboard.press("Tab");
    await fill(page, "612");
    await page.locator(".answer", { hasText: "F-021 in DB-3/1 between MH-03 and HH-11" }).waitFor();
  });

  it("goes on to the ways to mend it, and chooses one", async () => {
    const { page } = journey;
    await tabTo(page, "How is it mended?");
    await page.keyboard.press("Enter");
    await page.locator(".answer", { hasText: "F-021 is cut between MH-03 and HH-11" }).waitFor();
    await tabTo(page, "Choose way 1");
    await page.keyboard.press("Enter");
    await until("the form", async () => (await heading(page)).startsWith("Mend"));
  });

  it("makes a job of it, and takes it back from the foot", async () => {
    const { page, plant } = journey;
    const jobs = async () => (await plant.run<AnswerOf<"job.list">>("job.list", {})).jobs.map(({ job }) => job.tag);
    await tabTo(page, "number");
    await page.keyboard.type("J-900");
    await tabTo(page, "new cable");
    await page.keyboard.type("F-900");
    await page.locator("button[type=submit]:enabled").waitFor();
    await page.keyboard.press("Control+Enter");
    await until("the job", async () => (await jobs()).includes("J-900"));
    // In a field Ctrl+Z is the field's own; the act is named in the foot.
    await tabTo(page, "Undo: ");
    await page.keyboard.press("Enter");
    await until("no job", async () => (await jobs()).length === 0);
  });
});

describe("an auditor", () => {
  const report = () => journey.plant.run<AnswerOf<"check.run">>("check.run", {});

  it("comes from the report to a finding's record and back", async () => {
    const { page } = journey;
    await page.keyboard.press("Alt+3");
    await tabTo(page, /^Does the record of/);
    await page.keyboard.press("Enter");
    await page.locator("[data-finding]").first().waitFor();
    const [first] = (await report()).findings;
    await tabTo(page, "Open");
    await page.keyboard.press("Enter");
    await until("the record", async () => (await heading(page)).includes(first?.records[0]?.tag ?? "nothing"));
    await page.keyboard.press("Alt+ArrowLeft");
    await page.locator("[data-finding]").first().waitFor();
  });

  it("accepts one with a reason and a day to look again", async () => {
    const { page } = journey;
    const open = (await report()).counts.hazard;
    await tabTo(page, "Accept");
    await page.keyboard.press("Enter");
    await page.keyboard.type("bonded at the pole, order 12");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Control+a");
    await page.keyboard.type("3 Apr 2031");
    await page.keyboard.press("Enter");
    await until("one hazard less", async () => (await report()).counts.hazard === open - 1);
  });

  it("signs the state off", async () => {
    const { page } = journey;
    // The question stands above its findings: F6 goes there at once.
    while (!(await inQuestion(page))) await page.keyboard.press("F6");
    await tabTo(page, "Sign off");
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor();
    await tabTo(page, "Sign it");
    await page.keyboard.press("Enter");
    await until("a sign-off", async () => (await report()).new_since !== null);
  });
});
