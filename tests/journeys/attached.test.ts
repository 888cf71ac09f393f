/** Photos and files in a real browser: chosen, looked through, described, kept, looked at again and saved. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Attached } from "../../core/attachments/attach.ts";
import { exif, jpeg, png } from "../attachments/files.ts";
import { newCampus } from "./support/campus.ts";
import { everyPage } from "./support/every-page.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(async () => {
  const plant = await newCampus();
  await plant.run("attachment.add", {
    ...{ of: "HH-11", name: "lid.png", content: png(320, 200).toString("base64"), caption: "the lid, cracked" },
    ...{ taken_on: "2026-01-05", taken_by: "M. Tarrow" },
  });
  await plant.run("attachment.add", { of: "HH-11", name: "survey.svg", content: btoa("<svg onload='x()'/>") });
  return plant;
});

const list = async (of: string) =>
  (await journey.plant.run<{ attached: Attached[] }>("attachment.list", { of })).attached;
const page = (tag: string) => `#/record?kind=space&tag=${tag}`;

describe("photos on a record's page", () => {
  it("are kept with what was said of each, the camera's day among it", async () => {
    const { page: on } = journey;
    await ask(on, page("MH-03"));
    await on.getByText("Nothing is kept with it yet.").waitFor();
    await on.getByLabel(/Photos or files, at most 20 MB/).setInputFiles([
      { name: "wall.png", mimeType: "image/png", buffer: png(60, 40) },
      { name: "hole.jpg", mimeType: "image/jpeg", buffer: jpeg(exif("2025:06:01 10:00:00")) },
    ]);
    await on.getByLabel("what it shows").first().fill("east wall, two ducts");
    await on.getByLabel("taken by").fill("M. Tarrow");
    // A day is typed as everywhere; one that can't be read isn't left out in silence.
    await on.getByLabel("taken on").first().fill("31.2.2026");
    await on.getByRole("button", { name: "Keep 2 files" }).click();
    await on.getByText("wall.png: the day can't be read. Correct it, or leave it empty.").waitFor();
    expect(await list("MH-03")).toEqual([]);
    await on.getByLabel("taken on").first().fill("3.4.2026");
    await on.getByRole("button", { name: "Keep 2 files" }).click();
    const asked = on.getByRole("dialog").getByRole("textbox");
    if (await asked.isVisible().catch(() => false)) {
      await asked.fill("Clerk");
      await on.keyboard.press("Enter");
    }
    await on.getByText("2 files kept with MH-03.").waitFor();
    expect(await list("MH-03")).toMatchObject([
      { name: "hole.jpg", taken_on: "2025-06-01", taken_by: "M. Tarrow" },
      { name: "wall.png", taken_on: "2026-04-03", caption: "east wall, two ducts" },
    ]);
    await on.locator('.attached img[alt="east wall, two ducts"]').waitFor();
  });

  it("are refused before they travel when they are no pictures", async () => {
    const { page: on } = journey;
    await ask(on, page("HH-12"));
    await on.locator(".question h1", { hasText: "HH-12" }).waitFor();
    await on
      .getByLabel(/Photos or files, at most 20 MB/)
      .setInputFiles([
        { name: "fake.jpg", mimeType: "image/jpeg", buffer: Buffer.from("<html><script>1</script></html>") },
      ]);
    await on.getByText("fake.jpg is not a picture, or it is damaged: it can't be drawn.").waitFor();
    expect(await on.getByRole("button", { name: /^Keep/ }).count()).toBe(0);
  });

  it("are dropped as well as chosen", async () => {
    const { page: on } = journey;
    await ask(on, page("HH-12"));
    await on.locator(".question h1", { hasText: "HH-12" }).waitFor();
    const data = await on.evaluateHandle((content) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], "dropped.png", { type: "image/png" }));
      return transfer;
    }, png(20, 20).toString("base64"));
    await on.dispatchEvent(".keep-files", "drop", { dataTransfer: data });
    await on.getByRole("button", { name: "Keep 1 file" }).click();
    await on.getByText("1 file kept with HH-12.").waitFor();
    expect(await list("HH-12")).toMatchObject([{ name: "dropped.png" }]);
  });

  it("are looked at by keyboard and saved again byte for byte; markup is never drawn", async () => {
    const { page: on } = journey;
    await ask(on, page("HH-11"));
    const look = on.getByRole("button", { name: "Enlarge the lid, cracked" });
    await look.focus();
    await on.keyboard.press("Enter");
    await on.getByRole("button", { name: "Make smaller the lid, cracked" }).waitFor();
    const down = on.waitForEvent("download");
    await on.getByRole("button", { name: "Save a copy" }).first().click();
    const file = await down;
    expect(file.suggestedFilename()).toBe("lid.png");
    expect(readFileSync(await file.path())).toEqual(png(320, 200));
    expect(await on.locator(".attached img").count()).toBe(1);
    expect(await on.locator(".attached-file").textContent()).toBe("svg");
  });
});

describe("the photo of a page of notes", () => {
  it("is kept with the visit of its told lines", async () => {
    const { page: on } = journey;
    await ask(on, "#/notes");
    await on.locator(".notes textarea").fill("F-033 at HH-11\nthe lid is cracked");
    await on
      .getByLabel(/The photo of the page/)
      .setInputFiles([{ name: "page.png", mimeType: "image/png", buffer: png(50, 70) }]);
    await on.getByText(/is kept with .* when the lines are taken over/).waitFor();
    await on.getByRole("button", { name: /^Keep 1 line as told$/ }).click();
    await on.locator(".notice", { hasText: "page.png is kept with" }).waitFor();
    const [row] = await journey.plant.store.read((reader) =>
      reader.rows<{ kind: string; name: string }>(
        "select subject_kind as kind, name from attachment where name = 'page.png'",
      ),
    );
    expect(row).toEqual({ kind: "visit", name: "page.png" });
  });
});

everyPage(
  { "a record with photos": { address: page("HH-11"), shows: ".attached-picture" } },
  ["a record with photos"],
  () => journey.plant,
);
