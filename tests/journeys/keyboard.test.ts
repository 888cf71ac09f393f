/**
 * The network admin and the auditor at the keyboard alone: from a port to a planned pair, from a cut to the crew's packet,
 * and from a finding to a sign-off and what was changed after it. (WCAG 2.2, 2.1.1 Keyboard.) No mouse and no address is used;
 * the clerk's journey is in keyboard-clerk.test.ts and run.test.ts.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { JobAnswer } from "../../core/jobs/show.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { newCampus } from "./support/campus.ts";
import { here, intoTable, lastChange, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { fill, focused, listOf, tabInto, tabTo, takeBack, turnTo } from "./support/keyboard.ts";
import { flat, shown } from "./support/look.ts";

const heading = (page: typeof journey.page) => shown(page.getByRole("heading", { level: 1 }));
const inQuestion = (page: typeof journey.page) =>
  page.evaluate(() => document.activeElement?.closest('[data-region="sentence"]') !== null);
const journey = journeyOn(newCampus);

/** A question of the list, by Tab and Enter; its first blank then has the focus. */
async function choose(question: string | RegExp, blank: string): Promise<void> {
  const { page } = journey;
  await tabTo(page, question);
  await page.keyboard.press("Enter");
  await until("the blank", async () => (await focused(page)) === blank);
}

describe("a network admin who is asked for a line to the foundry", () => {
  it("traces a port and walks along it", async () => {
    const { page, plant } = journey;
    await listOf(page, "Alt+1", "find");
    await choose("Where does a port", "Choose a port, strand or circuit");
    await fill(page, "FDY/0E/P1:05");
    const line = await plant.run<TraceAnswer>("trace.walk", { what: "FDY/0E/P1:05" });
    await page.locator(".answer", { hasText: flat(line.sentence) }).waitFor();
    await turnTo(page, '.find-ledger tr[tabindex="0"]');
    const standing = await focused(page);
    await page.keyboard.press("End");
    await until("the other end", async () => (await focused(page)) !== standing);
    await page.locator('.find-ledger tr[aria-selected="true"]:focus').waitFor();
  });

  const found = () =>
    journey.plant.run<FreePairAnswer>("free_pair.find", { from: "LIB", to: "KLN", strands: 2, most: 10 });

  it("finds a free pair, and the way the arrows choose is told beside it", async () => {
    const { page } = journey;
    await listOf(page, "Alt+1", "find");
    await choose(/^Which .*strands are free/, "Choose a building, room, panel or port");
    await fill(page, "LIB");
    await page.keyboard.press("Tab");
    await fill(page, "KLN");
    const { ways } = await found();
    await page
      .locator(".free-ways tbody tr")
      .nth(ways.length - 1)
      .waitFor();
    await turnTo(page, '.free-ways tr[tabindex="0"]');
    await page.keyboard.press("End");
    await page.locator(".leaf", { hasText: `Way ${ways.length}` }).waitFor();
    await page.keyboard.press("Home");
    await page.locator(".leaf", { hasText: "Way 1" }).waitFor();
  });

  it("plans it as a circuit, and takes that back from the foot", async () => {
    const { page, plant } = journey;
    const circuits = () => onRecord(plant, { kind: "circuit", text: "K-500" });
    await tabTo(page, "Plan this way");
    await page.keyboard.press("Enter");
    await until("the form", async () => (await heading(page)).includes("circuit"));
    await tabTo(page, "number");
    await page.keyboard.type("K-500");
    await page.locator("button[type=submit]:enabled").waitFor();
    await page.keyboard.press("Control+Enter");
    await until("the circuit", async () => (await circuits())[0]?.values.state === "planned");
    await takeBack(page, await lastChange(plant));
    await until("no circuit", async () => (await circuits()).length === 0);
  });
});

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

  const jobs = async () =>
    (await journey.plant.run<AnswerOf<"job.list">>("job.list", {})).jobs.map(({ job }) => job.tag);

  let made = "";

  it("makes a job of it", async () => {
    const { page, plant } = journey;
    await tabTo(page, "number");
    await page.keyboard.type("J-900");
    await tabTo(page, "new cable");
    await page.keyboard.type("F-900");
    await page.locator("button[type=submit]:enabled").waitFor();
    await page.keyboard.press("Control+Enter");
    await until("the job", async () => (await jobs()).includes("J-900"));
    await page.locator(".job-steps").waitFor();
    made = await lastChange(plant);
  });

  it("prints its packet for the crew: every step stands on the paper", async () => {
    const { page, plant } = journey;
    const { steps } = await plant.run<JobAnswer>("job.show", { job: "J-900" });
    expect(steps.length).toBeGreaterThan(5);
    const coming = page.waitForEvent("download");
    await tabTo(page, "Print the packet");
    await page.keyboard.press("Enter");
    const { text } = await readPdf(readFileSync(await (await coming).path()));
    const paper = text.replace(/\s+/g, "");
    for (const { words } of steps) expect(paper).toContain(words.replace(/\s+/g, ""));
  });

  it("marks its first step done, and takes that and the job back from the foot", async () => {
    const { page, plant } = journey;
    const first = async () => (await plant.run<JobAnswer>("job.show", { job: "J-900" })).steps[0]?.state;
    await tabTo(page, "It is done");
    await page.keyboard.press("Enter");
    await until("done", async () => (await first()) === "done");
    // The next step then has the focus.
    await page.locator('.job-steps tr[data-row="2"]:focus').waitFor();
    await takeBack(page, await lastChange(plant));
    expect(await first()).toBe("open");
    await takeBack(page, made);
    await until("no job", async () => (await jobs()).length === 0);
  });
});

describe("an auditor", () => {
  const report = () => journey.plant.run<AnswerOf<"check.run">>("check.run", {});

  it("comes from the report to a finding's record, its history, and back", async () => {
    const { page } = journey;
    await page.keyboard.press("Alt+3");
    await tabTo(page, /^Does the record of/);
    await page.keyboard.press("Enter");
    await page.locator("[data-finding]").first().waitFor();
    const [first] = (await report()).findings;
    await tabTo(page, "Open");
    await page.keyboard.press("Enter");
    const tag = first?.records[0]?.tag ?? "nothing";
    await until("the record", async () => (await heading(page)).includes(tag));
    // Each change of the record stands beside it, with who made it and when, and opens in the history.
    await turnTo(page, ".leaf *");
    await tabInto(page, ".record-history a");
    await page.keyboard.press("Enter");
    await until("the history", async () => (await heading(page)).startsWith("What did"));
    await page.locator(".leaf .history-changes .change", { hasText: tag }).first().waitFor();
    await page.keyboard.press("Alt+ArrowLeft");
    await until("the record again", async () => (await heading(page)).includes(tag));
    await page.keyboard.press("Alt+ArrowLeft");
    await page.locator("[data-finding]").first().waitFor();
  });

  it("compares two moments, each typed into its blank", async () => {
    const { page, plant } = journey;
    await listOf(page, "Alt+2", "enter");
    await choose("What differs between", "Choose a day, a change or a sign-off");
    await fill(page, "change 4");
    await tabTo(page, "now: choose another");
    await fill(page, "change 7");
    const { changes, sentence } = await plant.run<AnswerOf<"history.compare">>("history.compare", {
      from: { change_set: 4 },
      to: { change_set: 7 },
    });
    expect(changes.length).toBeGreaterThan(2);
    await page.locator(".answer", { hasText: flat(sentence) }).waitFor();
    const told = await page.locator(".compare-changes .change-record").allInnerTexts();
    expect(told.map(flat)).toEqual(changes.map(({ record }) => record));
    await turnTo(page, ".compare-changes, .compare-changes *");
    await listOf(page, "Alt+3", "check");
    await choose(/^Does the record of/, "Choose the whole plant");
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
    await page.keyboard.type("3 Apr 2126");
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

  it("sees what was changed since, from before to after, and that what was signed is as it was", async () => {
    const { page, plant } = journey;
    await listOf(page, "Alt+2", "enter");
    await tabTo(page, "Show cables");
    await page.keyboard.press("Enter");
    await intoTable(page);
    await toColumn(page, "name");
    const [cable] = await onRecord(plant, { kind: "cable" });
    expect((await here(page))?.text).toBe(cable?.values.name ?? "");
    await page.keyboard.type("East line");
    await page.keyboard.press("Enter");
    await until("the name", async () => (await lastChange(plant)).includes("cable"));
    await listOf(page, "Alt+2", "enter");
    await choose("What differs between", "Choose a day, a change or a sign-off");
    await tabTo(page, "Since the last sign-off");
    await page.keyboard.press("Enter");
    const differing = page.locator(".compare-changes .change");
    await differing.filter({ hasText: "East line" }).waitFor();
    expect(await differing.count()).toBe(1);
    await page.locator(".leaf", { hasText: "agrees with the history" }).waitFor();
    // And its record is one Tab from there.
    await turnTo(page, ".compare-changes, .compare-changes *");
    await tabTo(page, String(cable?.values.tag));
    await page.keyboard.press("Enter");
    await until("the record", async () => (await heading(page)).includes(String(cable?.values.tag)));
  });
});
