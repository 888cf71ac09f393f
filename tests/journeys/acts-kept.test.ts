/** No letter typed into an act is lost: not by looking elsewhere, not with the window, not with the program. */
import type { Page } from "playwright";
import { describe, expect, it, onTestFinished } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { intoTable, keys, lastChange, until } from "./support/grid.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

const opened = async (plant: TestPlant, person = "Ada Splicer"): Promise<OpenWindow> => {
  const window = await openWindow(plant, { person });
  onTestFinished(() => window.close());
  return window;
};
const lying = async (plant: TestPlant) =>
  JSON.stringify((await plant.run<AnswerOf<"desk.list">>("desk.list", { form: "typed", whole: true })).items);
const blank = (page: Page, name: string) =>
  page.getByRole("combobox", { name }).or(page.getByRole("textbox", { name })).first();

describe("words typed beside an answer", () => {
  it("are there again when the window was left with them: a limit's reason, the notes of a sign-off", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    const limit = "#/limits?at=attenuation.g652d.1550";
    const why = (page: Page) => page.locator(".leaf-form textarea");
    await ask(window.page, limit);
    await why(window.page).fill("our own reels");
    await ask(window.page, "#/check");
    const notesIn = async (page: Page) => {
      await page.getByRole("button", { name: "Sign off" }).click();
      return page.getByRole("dialog").getByLabel("Notes, if any");
    };
    await (await notesIn(window.page)).fill("after the walk");
    await window.page.close({ runBeforeUnload: true });
    await until("both on the desk", async () => /our own reels.*after the walk/.test(await lying(plant)));

    const page = await window.another();
    await page.locator(".notice", { hasText: "the form “Sign this report”" }).waitFor();
    await ask(page, limit);
    await until("the reason", async () => (await why(page).inputValue()) === "our own reels");
    await ask(page, "#/check");
    expect(await (await notesIn(page)).inputValue()).toBe("after the walk");
  });
});

describe("what is typed elsewhere and not written", () => {
  it("is there when the page is read anew: why a finding is accepted, why an edition, find and replace, a view's name", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    const kept = (...words: readonly string[]) =>
      until(`${words.join(", ")} on the desk`, async () => {
        const now = await lying(plant);
        return words.every((word) => now.includes(word));
      });
    const edition = page.locator(".leaf-form textarea");
    const reason = page.getByRole("textbox", { name: "Accept because" });
    await ask(page, "#/limits?at=acceptance.edition");
    await edition.fill("the owner's contract");
    await ask(page, "#/check");
    await page.getByRole("button", { name: "Accept", exact: true }).first().click();
    await page.keyboard.type("as agreed wi");
    await kept("the owner's contract", "as agreed wi");
    await page.reload();
    await reason.waitFor();
    expect(await reason.inputValue()).toBe("as agreed wi");
    await ask(page, "#/limits?at=acceptance.edition");
    await until("the reason", async () => (await edition.inputValue()) === "the owner's contract");

    const table = async (key: string) => {
      await ask(page, "#/enter?kind=cable");
      await intoTable(page);
      await keys(page, "Control+Home", key);
      return page.getByRole("dialog");
    };
    const find = await table("Control+h");
    await find.getByRole("textbox", { name: "find" }).fill("F-0");
    await find.getByRole("textbox", { name: "replace with" }).fill("G-0");
    await kept("F-0", "G-0");
    await page.reload();
    await page.locator(".notice", { hasText: "the form “Find and replace in cables”" }).waitFor();
    const again = await table("Control+h");
    expect(await again.getByRole("textbox", { name: "find" }).inputValue()).toBe("F-0");
    expect(await again.getByRole("textbox", { name: "replace with" }).inputValue()).toBe("G-0");
    await again.getByRole("button", { name: "Close" }).click();

    const views = await table("Control+Shift+g");
    await views.getByRole("textbox", { name: "keep this as" }).fill("north ha");
    await kept("north ha");
    expect(await lying(plant)).not.toContain("G-0");
    await page.reload();
    await page.locator(".notice", { hasText: "the form “A view of cables”" }).waitFor();
    expect(await (await table("Control+Shift+g")).getByRole("textbox", { name: "keep this as" }).inputValue()).toBe(
      "north ha",
    );
  });
});

describe("a dialog of the table that is half filled", () => {
  it("is filled as it was when the window was left with it, and empty again once it was left on purpose", async () => {
    const plant = await newCampus();
    const window = await opened(plant);
    const dialogIn = async (page: Page) => {
      await ask(page, "#/enter?kind=cable");
      await intoTable(page);
      await keys(page, "Control+Home", "Control+Shift+Enter");
      return page.getByRole("dialog", { name: "Add many cables like F-014" });
    };
    const first = await dialogIn(window.page);
    await first.getByLabel("tag", { exact: true }).fill("F-900");
    await window.page.close({ runBeforeUnload: true });
    await until("the tag on the desk", async () => (await lying(plant)).includes("F-900"));

    const page = await window.another();
    await page.locator(".notice", { hasText: "the form “Add many cables”" }).waitFor();
    const again = await dialogIn(page);
    expect(await again.getByLabel("tag", { exact: true }).inputValue()).toBe("F-900");
    await again.getByRole("button", { name: "Leave it" }).click();
    await until("an empty desk", async () => (await lying(plant)) === "[]");
    expect(await (await dialogIn(page)).getByLabel("tag", { exact: true }).inputValue()).not.toBe("F-900");
  });
});

describe("an act whose blanks are half filled", () => {
  it("is there again when the program is started anew, and leaves nothing lying once it is written", async () => {
    const plant = await newCampus();
    const first = await opened(plant);
    await ask(first.page, "#/acts?do=splice.range");
    await blank(first.page, "strands").fill("F-014:1-4");
    await first.page.getByPlaceholder("order, job, drawing").fill("order 1");
    await first.page.keyboard.type("7");
    // At once: no pause in which it could be kept.
    await first.page.close({ runBeforeUnload: true });
    await until("the reason on the desk", async () => (await lying(plant)).includes("order 17"));
    await first.close();
    await plant.close();

    const again = await newPlant({ path: plant.path });
    const { page } = await opened(again, "Bo Jointer");
    await page
      .locator(".notice", {
        hasText: /Back as typed and not written: the form “Splice a range to a range”, by Ada Splicer/,
      })
      .waitFor();
    await ask(page, "#/acts");
    await page.getByRole("region", { name: "Typed and not written" }).getByRole("link").click();
    await until("the strands", async () => (await blank(page, "strands").inputValue()) === "F-014:1-4");
    expect(await page.getByPlaceholder("order, job, drawing").inputValue()).toBe("order 17");
    await page.getByRole("textbox", { name: "strands" }).nth(1).fill("F-021:1-4");
    await page.keyboard.press("Tab");
    await page.keyboard.type("MH-03/CL-3/T2");
    await page.getByRole("checkbox", { name: /although something is taken/ }).check();
    await page.getByRole("button", { name: "Make 4 splices" }).click();
    await until("the splices", async () => (await lastChange(again)).startsWith("Splice F-014:1-4 to F-021:1-4"));
    await until("an empty desk", async () => (await lying(again)) === "[]");
  });

  it("is there again after one looked elsewhere, until it is left", async () => {
    const plant = await newCampus();
    const { page } = await opened(plant);
    await ask(page, "#/acts?do=splice.range");
    await blank(page, "strands").fill("F-033:7");
    await ask(page, "#/history");
    await ask(page, "#/acts?do=splice.range");
    await until("the strands", async () => (await blank(page, "strands").inputValue()) === "F-033:7");
    // It stands behind the blanks: a blank typed on the way from one to the next would throw all of it away.
    const behind = await page.getByRole("button", { name: "Leave what is typed" }).evaluate((leave) => {
      const all = [...document.querySelectorAll(".main input, .main select, .main textarea")];
      return all.every((one) => one.compareDocumentPosition(leave) & Node.DOCUMENT_POSITION_FOLLOWING);
    });
    expect(behind).toBe(true);
    await page.getByRole("button", { name: "Leave what is typed" }).click();
    expect(await blank(page, "strands").inputValue()).toBe("");
    await until("an empty desk", async () => (await lying(plant)) === "[]");
    await ask(page, "#/acts");
    expect(await page.getByRole("region", { name: "Typed and not written" }).count()).toBe(0);
  });
});
