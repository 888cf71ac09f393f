/** The papers: found by what they are of, printed by the keyboard, and the same from the pages that tell the answer. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type ReadPdf, readPdf } from "../paper/read-pdf.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, /400|404/);

/** Presses a button by the keyboard, and reads what the browser is handed. */
async function handed(button: string): Promise<{ name: string; bytes: Buffer }> {
  const { page } = journey;
  const coming = page.waitForEvent("download");
  await page.getByRole("button", { name: button, exact: true }).focus();
  await page.keyboard.press("Enter");
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}
const printed = async (button: string): Promise<{ name: string; read: ReadPdf }> => {
  const { name, bytes } = await handed(button);
  return { name, read: await readPdf(bytes) };
};
const titles = (): Promise<string[]> => journey.page.locator(".papers h2").allInnerTexts();

describe("the list of papers", () => {
  it("stands under its own tab, says what each is for, and prints those of the whole plant", async () => {
    const { page } = journey;
    await ask(page, "#/papers");
    await page.locator(".papers section").first().waitFor();
    expect(await shown(page.locator(".tabs a[aria-current=page]"))).toContain("Print");
    expect(await titles()).toContain("Splice sheet");
    expect(flat(await shown(page.locator(".papers")))).toContain("what passes, what is coiled and opened");
    const buttons = await page.locator(".papers button").allInnerTexts();
    expect(buttons).toEqual(["Print the plan of the campus", "Print the consistency report"]);
    expect((await printed("Print the consistency report")).read.text).toContain("Version of the rules");
    await journey.looks();
  });

  it("of a record are those that fit it: a hole's, a port's, a strand's", async () => {
    const { page } = journey;
    for (const [of, fitting] of [
      ["MH-03", ["Splice sheet", "Hole card", "Feed sheet", "Plan of the campus"]],
      ["LIB/2A/P1:07", ["Trace sheet"]],
      ["F-014:25", ["Trace sheet"]],
      ["LIB/2A/P1", ["Panel face"]],
    ] as const) {
      await ask(page, `#/papers?of=${encodeURIComponent(of)}`);
      await page.locator(".answer", { hasText: of }).waitFor();
      await expect.poll(titles).toEqual([...fitting]);
    }
    await ask(page, "#/papers?of=MH-03");
    expect((await printed("Print the hole card")).name).toBe("Hole card MH-03.pdf");
    await journey.looks();
  });

  it("hands a case's splice sheet out as a table, too", async () => {
    await ask(journey.page, "#/papers?of=MH-03%2FCL-3");
    const { name, bytes } = await handed("As a table to fill in");
    expect(name).toBe("splice-sheet-MH-03-CL-3.csv");
    expect(bytes.toString("utf8")).toContain("cable A strand");
  });

  it("says what it doesn't know, and offers what comes close", async () => {
    await ask(journey.page, "#/papers?of=MH-30");
    await journey.page.locator(".answer", { hasText: "Nothing on record is called MH-30." }).waitFor();
  });
});

describe("the pages that tell an answer", () => {
  it.each([
    ["#/find?of=LIB%2F2A%2FP1:13", "Print the trace sheet", "Trace of LIB/2A/P1:13"],
    ["#/feeds?of=KLN", "Print the feed sheet", "What feeds KLN"],
    ["#/cable?of=F-033", "Print the cable sheet", "Cable F-033"],
  ])("print it: %s", async (address, button, title) => {
    await ask(journey.page, address);
    await journey.page.getByRole("button", { name: button, exact: true }).waitFor();
    const { read } = await printed(button);
    expect(read.info.Title).toBe(title);
    await journey.looks();
  });
});
