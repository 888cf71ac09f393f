/** Photos dropped while a new cable is typed: they wait with it, and are kept with what they show as it is entered. */
import { describe, expect, it } from "vitest";
import type { Attached } from "../../core/attachments/attach.ts";
import { png } from "../attachments/files.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { picture } from "./support/picture.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

const field = (name: string) => journey.page.locator(`[data-field="${name}"]`);
const staged = () => journey.page.locator(".keep-staged b");

async function dropOnPage(name: string, bytes: Buffer, on = ".run-stops"): Promise<void> {
  const { page } = journey;
  const data = await page.evaluateHandle(
    ({ name, content }) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
      return transfer;
    },
    { name, content: bytes.toString("base64") },
  );
  await page.dispatchEvent(on, "drop", { dataTransfer: data });
}

async function typePlace(at: number, text: string): Promise<void> {
  await field(`stops.${at}.space`).fill(text);
  await journey.page.keyboard.press("Enter");
  await field(`stops.${at + 1}.space`).waitFor();
}

const kept = async (of: string) =>
  (await journey.plant.run<{ attached: Attached[] }>("attachment.list", { of })).attached;

describe("photos dropped on the page of a new run", () => {
  it("wait by name before anything is typed, and go along as the run gets its place on the desk", async () => {
    const { page } = journey;
    await ask(page, "#/run");
    await dropOnPage("lid.png", png(30, 20));
    await page.getByText("1 file waits for the entry: lid.png.").waitFor();
    await dropOnPage("drum.png", png(40, 20));
    await page.getByText("2 files wait for the entry: lid.png, drum.png.").waitFor();
    await field("tag").fill("F-301");
    await page.getByText("Kept unfinished in the plant file.").waitFor();
    await page.getByText("They wait in the plant file and are kept as soon as F-301 is entered.").waitFor();
    expect(await staged().allTextContents()).toEqual(["lid.png", "drum.png"]);
  });

  it("are still there when the window comes back to the run, and not with another one", async () => {
    const { page } = journey;
    const address = new URL(page.url()).hash;
    await page.getByRole("button", { name: "Begin another" }).click();
    await expect.poll(() => field("tag").inputValue()).toBe("");
    expect(await staged().count()).toBe(0);
    await ask(page, "#/keys");
    await ask(page, address);
    await expect.poll(() => field("tag").inputValue()).toBe("F-301");
    await expect.poll(() => staged().allTextContents()).toEqual(["lid.png", "drum.png"]);
  });

  it("are there again with their captions after the page was read anew, and in another window", async () => {
    const { page, plant } = journey;
    const onDesk = async (text: string) =>
      (await plant.run<{ items: object[] }>("desk.list", { form: "run_files", whole: true })).items.some((item) =>
        JSON.stringify(item).includes(text),
      );
    await page.getByLabel("what it shows").first().fill("the lid before opening");
    await expect.poll(() => onDesk("the lid before opening")).toBe(true);
    const address = new URL(page.url()).hash;
    await page.reload();
    await expect.poll(() => staged().allTextContents()).toEqual(["lid.png", "drum.png"]);
    expect(await page.getByLabel("what it shows").first().inputValue()).toBe("the lid before opening");
    const other = await journey.open.another();
    await ask(other, address);
    await expect.poll(() => other.locator(".keep-staged b").allTextContents()).toEqual(["lid.png", "drum.png"]);
    await other.close();
  });

  it("tell at once which of them is no picture", async () => {
    const { page } = journey;
    await dropOnPage("fake.jpg", Buffer.from("<html><script>1</script></html>"));
    const told = page
      .locator(".run-beside")
      .getByText("fake.jpg is not a picture, or it is damaged: it can't be drawn.");
    await told.waitFor();
    expect(await staged().count()).toBe(2);
  });

  it("are kept with the cable and its places as it is entered, each where it was said to belong", async () => {
    const { page } = journey;
    await field("strands").fill("12");
    await typePlace(0, "LIB/2A");
    await typePlace(1, "MH-03");
    const lid = page.getByLabel("lid.png is kept with");
    await lid.selectOption("MH-03");
    await page.getByLabel("what it shows").first().fill("the lid");
    const enter = page.getByRole("button", { name: "Enter F-301" });
    await expect.poll(() => enter.isEnabled()).toBe(true);
    await staged().first().scrollIntoViewIfNeeded();
    await picture(page, "run-waiting");
    await journey.looks();
    // A day that can't be read isn't left out in silence: nothing is entered.
    await page.getByLabel("taken on").first().fill("31.2.2026");
    await enter.click();
    await page.getByText("lid.png: the day can't be read.").first().waitFor();
    expect((await journey.plant.call("cable.show", { cable: "F-301" })).ok).toBe(false);
    await page.getByLabel("taken on").first().fill("3.4.2026");
    await enter.click();
    await page.getByText("F-301 is entered, and 2 files kept with MH-03 and F-301.").waitFor();
    expect(await kept("MH-03")).toMatchObject([{ name: "lid.png", caption: "the lid", taken_on: "2026-04-03" }]);
    expect(await kept("F-301")).toMatchObject([{ name: "drum.png", there: true }]);
    await page.getByRole("heading", { name: "Photos of F-301" }).waitFor();
    expect(await staged().count()).toBe(0);
    for (const form of ["run_files", "run_file"])
      await expect
        .poll(async () => (await journey.plant.run<{ items: object[] }>("desk.list", { form })).items)
        .toEqual([]);
  });

  it("after the entry belong to the cable that was entered", async () => {
    const { page } = journey;
    await dropOnPage("later.png", png(10, 20));
    await page.getByRole("button", { name: "Keep 1 file" }).click();
    await page.getByText("1 file kept with F-301.").waitFor();
    expect((await kept("F-301")).map(({ name }) => name).sort()).toEqual(["drum.png", "later.png"]);
    expect(await shown(page.locator(".run-entered"))).toContain("Photos of F-301");
  });
});

describe("a photo dropped where no part of the page takes files", () => {
  it("is told of as not taken", async () => {
    await ask(journey.page, "#/keys");
    await dropOnPage("lid.png", png(30, 20), ".question h1");
    await journey.page.getByText("lid.png is not taken: nothing takes a file there.").waitFor();
  });
});
