/** The frame: undo from anywhere, the state of the file, units, themes, keys; and that every page can be read by everybody. */

import type { Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { everyPage, type Pages } from "./support/every-page.ts";
import { until } from "./support/grid.ts";
import { shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newCampus();
});

const PAGES: Pages = {
  ask: { address: "#/ask", shows: ".questions" },
  "find, empty": { address: "#/find", shows: ".teach" },
  "find, a duplex line": { address: "#/find?of=LIB/2A/P1:13", shows: ".ledger" },
  "find, a fork": { address: "#/find?of=F-021:11", shows: ".ledger-fork" },
  "find, refused": { address: "#/find?of=F-999", shows: ".refused" },
  "feeds, of nothing on record": { address: "#/feeds?of=NOWHERE", shows: ".near-by a" },
  "record, of nothing on record": { address: "#/record?tag=QQQ-77", shows: ".near-by a" },
  "record, deleted": { address: "#/record?kind=cable&id=99999", shows: ".near-by a" },
  "enter, of no kind": { address: "#/enter?kind=cow", shows: ".kinds-there a" },
  feeds: { address: "#/feeds?of=KLN", shows: ".strand-table" },
  cable: { address: "#/cable?of=F-033&at=73", shows: ".matrix" },
  "cable with tubes of 24": { address: "#/cable?of=F-040", shows: ".matrix" },
  keys: { address: "#/keys", shows: ".keys-list" },
};

const WORKING = ["find, a duplex line", "find, a fork", "feeds", "cable", "ask"];

everyPage(PAGES, WORKING, () => plant);

describe("the frame", () => {
  let open: OpenWindow;
  let page: Page;
  beforeAll(async () => {
    open = await openWindow(plant, { person: "" });
    page = open.page;
  });
  afterAll(() => open?.close());

  it("heads a record that is described by its kind with that alone, and one with a tag with both", async () => {
    const heads = async (address: string) => {
      await ask(page, address);
      await page.locator(".record-fields").first().waitFor();
      return shown(page.getByRole("heading", { level: 1 }));
    };
    expect(await heads("#/record?kind=splice&id=1")).toMatch(/^What is splice F-\S+ to F-\S+ in \S+\?$/);
    expect(await heads("#/record?kind=cable&tag=F-033")).toBe("What is cable F-033?");
  });

  it("names what undo would take back, and asks for a name before the first change", async () => {
    await plant.run("record.add", { kind: "building", values: { tag: "GAS", name: "Gas House" } });
    await page.getByRole("button", { name: "Undo: Add building GAS" }).waitFor();
    await page.keyboard.press("Control+z");
    await page.getByRole("dialog", { name: "Who works here?" }).waitFor();
    await page.keyboard.type("Ada Fenn");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Take it back" }).click();
    await page.getByText("Undo: Add building GAS.").waitFor();
    expect((await plant.call("record.page", { kind: "building", id: "GAS" })).ok).toBe(false);
    const history = await plant.run<{ changes: readonly { author: string }[] }>("history.list", { limit: 1 });
    expect(JSON.stringify(history)).toContain("Ada Fenn");
  });

  it("brings it back with redo, without asking again who, but whether: it is somebody else's", async () => {
    await page.getByRole("button", { name: "Redo: Add building GAS" }).waitFor();
    await page.keyboard.press("Control+y");
    const asked = page.getByRole("dialog", { name: "Bring Test Person's change back?" });
    await asked.getByRole("button", { name: "Leave it undone" }).click();
    expect((await plant.call("record.page", { kind: "building", id: "GAS" })).ok).toBe(false);
    await page.keyboard.press("Control+y");
    await asked.getByRole("button", { name: "Bring it back" }).click();
    await page.getByRole("button", { name: "Undo: Add building GAS" }).waitFor();
    expect((await plant.call("record.page", { kind: "building", id: "GAS" })).ok).toBe(true);
    await page.getByRole("button", { name: "Ada Fenn" }).waitFor();
  });

  it("shows lengths in feet when asked, also in the answer's sentence", async () => {
    await ask(page, "#/find?of=F-033:71");
    await page.locator(".ledger").waitFor();
    expect(await shown(page.locator(".answer"))).toMatch(/ m of sheath/);
    await page.getByRole("button", { name: "metres" }).click();
    await page.getByRole("button", { name: "feet" }).waitFor();
    // 49 + 1 779 + 66 + 677 + 1 399 + 33 feet of marks.
    expect(await shown(page.locator(".answer"))).toMatch(/4.003.ft of sheath/);
    expect(await shown(page.locator(".ledger-sum"))).toMatch(/4.003.ft/);
    await page.getByRole("button", { name: "feet" }).click();
  });

  it("keeps the theme that was chosen, against the machine's own", async () => {
    const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const light = await ground();
    await page.getByRole("button", { name: /^Theme/ }).click();
    await page.getByRole("button", { name: /^Theme/ }).click();
    expect(await ground()).not.toBe(light);
    // Until the machine has it: the page hands it on in the background.
    await until("the theme that was chosen", async () => {
      await page.reload();
      const theme = page.getByRole("button", { name: /^Theme/ });
      await theme.waitFor();
      return (await shown(theme)).includes("dark");
    });
    expect(await ground()).not.toBe(light);
  });

  it("goes round its regions with F6 from the question on, and back with Shift F6", async () => {
    await ask(page, "#/find?of=F-033:71");
    await page.locator(".ledger").waitFor();
    const region = () =>
      page.evaluate(() => document.activeElement?.closest("[data-region]")?.getAttribute("data-region") ?? "none");
    const seen: string[] = [];
    for (let step = 0; step < 6; step++) {
      await page.keyboard.press("F6");
      seen.push(await region());
    }
    expect(seen).toEqual(["drawing", "ledger", "leaf", "foot", "head", "sentence"]);
    await page.keyboard.press("Shift+F6");
    expect(await region()).toBe("head");
  });

  it("opens help with F1, a tab with Alt and its number, and the list of questions on the second press", async () => {
    await page.keyboard.press("F1");
    await page.getByRole("dialog", { name: /^Where does/ }).waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Alt+2");
    await page.locator(".questions").waitFor();
    await page.keyboard.press("Alt+1");
    await page.locator(".ledger").waitFor();
    await page.keyboard.press("Alt+1");
    await page.locator(".questions").waitFor();
    await page.getByRole("link", { name: "Where does F-033:71 go?" }).waitFor();
  });

  it("leaves undo to a field that is being edited", async () => {
    await page.keyboard.press("Control+k");
    await page.keyboard.type("abc");
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Escape");
    expect((await plant.call("record.page", { kind: "building", id: "GAS" })).ok).toBe(true);
  });

  it("opens the list of the search box anew where the focus is in it already and the list is closed", async () => {
    await ask(page, "#/ask");
    const box = page.getByRole("combobox", { name: /^Find any tag/ });
    // Nothing was before it that could have the focus back.
    await page.keyboard.press("Control+k");
    await page.keyboard.type("F-014");
    await page.getByRole("option", { name: /F-014/ }).first().waitFor();
    await page.evaluate(() => document.activeElement?.dispatchEvent(new FocusEvent("focusout", { bubbles: true })));
    await until("a closed list", async () => (await box.getAttribute("aria-expanded")) === "false");
    await page.keyboard.press("Control+k");
    await until("an open list", async () => (await box.getAttribute("aria-expanded")) === "true");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
  });

  it("says so when the program is gone, and what to do", async () => {
    await open.endProgram();
    await page.getByText("Strandbook doesn't answer").waitFor();
    await ask(page, "#/find?of=F-033:9");
    await page.getByRole("alert").waitFor();
    expect(await shown(page.getByRole("alert"))).toContain("It was closed");
  });
});

describe("a plant that somebody else writes", () => {
  it("is read only, says who writes, and offers no undo", async () => {
    const reading = await newPlant({ path: plant.path });
    const open = await openWindow(reading);
    try {
      await open.page.getByText("Read only").waitFor();
      expect(await open.page.getByRole("button", { name: /^Undo/ }).count()).toBe(0);
      await ask(open.page, "#/find?of=K-118");
      await open.page.locator(".ledger").waitFor();
    } finally {
      await open.close();
      await reading.close();
    }
  });
});
