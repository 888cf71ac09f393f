/** What a machine keeps for its user: typed once, and there at every start, whatever address it has. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { KeptFile } from "../../host/machine/kept.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { journeyOn } from "./support/journey.ts";
import { axeFindings, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

describe("somebody who works at this machine", () => {
  it("types their name once: the next start, at another address and with another plant, knows it", async () => {
    const kept = join(newFolder(), "preferences.json");
    const first = await openWindow(await newPlant(), { person: "", kept });
    await first.page.getByRole("button", { name: "No name yet" }).focus();
    await first.page.keyboard.press("Enter");
    await first.page.getByRole("dialog", { name: "Who works here?" }).getByLabel("Name").fill("Ada Splicer");
    await first.page.keyboard.press("Enter");
    await first.page.getByRole("button", { name: "Ada Splicer" }).waitFor();
    await first.page.getByRole("button", { name: "metres" }).click();
    await expect.poll(() => readFileSync(kept, "utf8")).toContain('"unit": "ft"');
    await first.close();

    const second = await openWindow(await newPlant(), { person: "", kept });
    expect(second.address).not.toBe(first.address);
    await second.page.getByRole("button", { name: "Ada Splicer" }).waitFor();
    await second.page.getByRole("button", { name: "feet" }).waitFor();
    expect([...first.complaints, ...second.complaints]).toEqual([]);
    await second.close();
  });
  it("finds what they asked lately of this plant at the next start, and nothing that was asked of another", async () => {
    const kept = join(newFolder(), "preferences.json");
    const plant = await newPlant();
    const first = await openWindow(plant, { kept });
    await ask(first.page, "#/history");
    await expect.poll(() => readFileSync(kept, "utf8")).toContain("#/history");
    await first.close();

    const asked = (open: OpenWindow) => open.page.locator(".asked").getByRole("link");
    const other = await openWindow(await newPlant(), { kept });
    await other.page.getByRole("heading", { name: "This plant" }).waitFor();
    expect(await asked(other).evaluateAll((links) => links.map((link) => link.getAttribute("href")))).not.toContain(
      "#/history",
    );
    await other.close();
    const second = await openWindow(plant, { kept });
    await second.page.locator(".asked a[href='#/history']").waitFor();
    await second.close();
  });
  it("sees which other plants were opened here, and where they lie", async () => {
    const kept = join(newFolder(), "preferences.json");
    await new KeptFile(kept).noteOpened("/plants/north.strandbook", new Date().toISOString());
    const open = await openWindow(await newPlant(), { kept });
    const leaf = open.page.getByRole("complementary", { name: "Leaf" });
    await leaf.getByText("Other plants opened here").waitFor();
    expect(await shown(leaf)).toContain("/plants/north.strandbook");
    expect(await axeFindings(open.page)).toEqual([]);
    await open.close();
  });
  it("drops a plant file on a browser's window and is told how to open it", async () => {
    const open = await openWindow(await newPlant());
    await open.page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File(["x"], "north.strandbook"));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    });
    await open.page.getByText(/A browser doesn't say where north\.strandbook lies/).waitFor();
    await open.close();
  });
  it("changes the theme in one window, and the other follows", async () => {
    const open = await openWindow(await newPlant());
    const other = await open.another();
    await open.page.getByRole("button", { name: /^Theme/ }).click();
    const chosen = await shown(open.page.getByRole("button", { name: /^Theme/ }));
    await other.getByRole("button", { name: chosen }).waitFor();
    await open.close();
  });
});

describe("the page of preferences", () => {
  const journey = journeyOn(() => newPlant());
  const kept = () => journey.open.kept();

  it("is found in the list of questions, and each choice is made with the keyboard and holds at once", async () => {
    const { page } = journey;
    await page.getByRole("link", { name: "How does this machine show and print things?" }).click();
    await page.getByRole("group", { name: "Lengths in" }).getByRole("radio", { name: "metres" }).focus();
    await page.keyboard.press("ArrowDown");
    await page.getByRole("contentinfo").getByRole("button", { name: "feet" }).waitFor();
    await page.getByRole("group", { name: "Begin with" }).getByRole("radio", { name: "the tables" }).check();
    await page.getByRole("group", { name: "Paper in the printer" }).getByRole("radio", { name: "Letter" }).check();
    await page.getByLabel("Shift right").fill("1.5");
    await expect
      .poll(async () => (await kept()).settings)
      .toMatchObject({
        unit: "ft",
        first: "enter",
        paper: "letter",
        labelPrinter: { shift_x_mm: 1.5 },
      });
    await journey.looks();
  });
  it("says where the choices are kept, and leads to what the plant itself says", async () => {
    const { page } = journey;
    const leaf = page.getByRole("complementary", { name: "Leaf" });
    expect(await shown(leaf)).toContain("never in the plant file");
    expect(await leaf.getByRole("link").allTextContents()).toContain("which limits and policies are in use");
  });
  it("prints a test page of the label sheet, moved as it was said", async () => {
    const { page } = journey;
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Outline test page" }).click();
    expect((await download).suggestedFilename()).toMatch(/\.pdf$/);
  });
  it("has the next start begin where it was told to", async () => {
    const other = await journey.open.another();
    await other.waitForURL(/#\/enter/);
  });
});
