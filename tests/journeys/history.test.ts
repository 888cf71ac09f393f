/** The auditor's and the clerk's questions to the history: two moments, the plant of the past, and the field's copy. */
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { everyPage } from "./support/every-page.ts";
import { keys, lastChange, onRecord, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask, openWindow } from "./support/window.ts";

const FIELD = join(mkdtempSync(join(tmpdir(), "strandbook-field-")), "field.strandbook");

const rename = (on: TestPlant, name: string) =>
  on.run("record.edit", { kind: "building", id: "LIB", values: { name } }, { author: "R. Finch" });
const library = async () =>
  (await onRecord(journey.plant, { kind: "building", filters: [{ field: "tag", test: "is", value: "LIB" }] }))[0]
    ?.values.name;

const journey = journeyOn(async () => {
  const plant = await newCampus();
  await plant.run("sign_off.make", { by: "I. Quell" });
  await plant.application.file.saveCopy(FIELD);
  const out = await newPlant({ path: FIELD });
  await rename(out, "Field Library");
  await out.run("record.add", { kind: "building", values: { tag: "MUS", name: "Museum" } }, { author: "B. Crew" });
  await out.close();
  await rename(plant, "Great Library");
  return plant;
}, /404|422|409|400/);
afterAll(() => rmSync(dirname(FIELD), { recursive: true }));

describe("what changed since the sign-off", () => {
  it("is asked from the keyboard, and shows each field before and after, and that the digest agrees", async () => {
    const { page } = journey;
    await ask(page, "#/history");
    await page.getByRole("link", { name: "Compare two moments" }).focus();
    await keys(page, "Enter");
    await page.getByRole("link", { name: "Since the last sign-off" }).focus();
    await keys(page, "Enter");
    const differing = page.getByRole("region", { name: "Records that differ" });
    await differing.getByText("Great Library").waitFor();
    expect(await differing.getByRole("listitem").count()).toBe(1);
    await page.getByRole("complementary", { name: "Leaf" }).getByText("agrees with the history").waitFor();
  });

  it("is counted by kind, and one kind is asked alone", async () => {
    const { page } = journey;
    await ask(page, "#/compare?from=change 0");
    const kinds = page.getByRole("navigation", { name: "Kinds of record" });
    await kinds.getByRole("link", { name: "cable types" }).click();
    const differing = page.getByRole("region", { name: "Records that differ" });
    await until("two cable types", async () => (await differing.getByRole("listitem").count()) === 2);
    expect(await kinds.getByRole("row").count()).toBeGreaterThan(10);
  });

  it("says of a field that was empty before that it was", async () => {
    const { page, plant } = journey;
    await plant.run("record.edit", { kind: "cable", id: "F-033", values: { sheath: "R-77" } });
    await ask(page, "#/history");
    const field = page.locator(".history-changes .change-field", { hasText: "R-77" });
    await field.waitFor();
    expect(await shown(field)).toBe("sheath print empty → became R-77");
    await plant.run("history.undo");
  });

  it("isn't offered where nobody has signed", async () => {
    const other = await newCampus();
    const there = await openWindow(other);
    await ask(there.page, "#/compare");
    await there.page.getByRole("link", { name: "Since the first change" }).waitFor();
    await there.page.getByText("Nobody has signed this record off yet").waitFor();
    expect(await there.page.getByRole("link", { name: "Since the last sign-off" }).count()).toBe(0);
    await there.close();
  });

  it("says what is no moment", async () => {
    const { page } = journey;
    await ask(page, "#/compare?from=spring");
    await page.getByText(/must be a day, “change 12”/).waitFor();
  });
});

describe("the plant as it stood", () => {
  it("is written beside the plant, and the page says where and which of the two it is", async () => {
    const { page } = journey;
    await ask(page, "#/compare?from=signed");
    await page.getByRole("button", { name: "What the record said then" }).click();
    const made = page.getByRole("status").filter({ hasText: "recorded at the end of" });
    const path = await made.locator(".tag").textContent();
    expect(existsSync(path ?? "")).toBe(true);
    const past = await newPlant({ path: path ?? "" });
    const there = await openWindow(past);
    await ask(there.page, "#/history");
    await there.page.getByText(/the newest first. The plant as it was recorded/).waitFor();
    expect(await there.page.getByRole("button", { name: "Take it back" }).count()).toBe(0);
    await there.page
      .getByRole("contentinfo")
      .getByText(/Read only: The plant as it was recorded/)
      .waitFor();
    await there.close();
    await past.close();
  });
});

describe("the file that went to the field", () => {
  it("is compared; a conflict is chosen from the keyboard, and all of it is taken as one change and taken back", async () => {
    const { page } = journey;
    await ask(page, "#/merge");
    await page.getByRole("textbox", { name: /path/ }).fill(FIELD);
    await keys(page, "Enter");
    const take = page.getByRole("button", { name: /^Take \d+ record/ });
    await take.waitFor();
    expect(await take.isDisabled()).toBe(true);
    const conflict = page.getByRole("group", { name: /LIB, name/ });
    expect(await conflict.getByRole("radio", { checked: true }).count()).toBe(0);
    await conflict.getByRole("radio", { name: "here Great Library" }).focus();
    await keys(page, "ArrowDown");
    await until("two records", async () => (await take.textContent()) === "Take 2 records");
    expect(await conflict.getByRole("radio", { name: "there Field Library" }).isChecked()).toBe(true);
    await take.click();
    await until("the field's name", async () => (await library()) === "Field Library");
    expect(await lastChange(journey.plant)).toBe("Merge field.strandbook: what B. Crew, R. Finch entered there");
    await page.getByText("Nothing would be taken.").waitFor();
    await page.getByRole("heading", { name: /^Merged before, as change \d/ }).waitFor();
    await ask(page, "#/history");
    await page.getByRole("button", { name: "Take it back" }).click();
    await until("the office's name", async () => (await library()) === "Great Library");
  });

  it("isn't asked again about what was kept as it is here, once the rest is taken", async () => {
    const { page } = journey;
    await ask(page, `#/merge?file=${encodeURIComponent(FIELD)}`);
    await page.getByText("1 conflict, 1 still to be chosen.").waitFor();
    await page
      .getByRole("group", { name: /LIB, name/ })
      .getByRole("radio", { name: "here Great Library" })
      .press(" ");
    await page.getByText("1 conflict, all chosen.").waitFor();
    await page.getByRole("button", { name: "Take 1 record" }).click();
    await page.getByText("What was settled then isn't asked again").waitFor();
    expect(await page.locator(".conflicts li").count()).toBe(0);
    expect(await library()).toBe("Great Library");
    await journey.plant.run("history.undo");
  });

  it("is named in one place, and dropped anywhere on the window stands there, for a browser doesn't say where it lies", async () => {
    const { page } = journey;
    for (const [address, thing] of [
      ["#/merge", "file"],
      ["#/import", "folder"],
      ["#/export", "folder"],
    ] as const) {
      await ask(page, address);
      const named = page.getByRole("textbox", { name: `The ${thing}'s path on this machine` });
      await named.waitFor();
      expect(await page.locator(".question .blank").allTextContents(), address).toEqual([]);
      await page.evaluate(() => {
        const data = new DataTransfer();
        data.items.add(new File(["x"], "field.strandbook"));
        document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
      });
      await page.getByText("A browser doesn't say where field.strandbook lies").waitFor();
      expect(await named.inputValue()).toBe("field.strandbook");
    }
    // The window itself took it for no plant to be opened.
    expect(await page.getByText("Start the program with it").count()).toBe(0);
  });

  it("of another plant is refused in words, with a way on", async () => {
    const { page } = journey;
    const stranger = await newPlant();
    await stranger.run("record.add", { kind: "building", values: { tag: "X" } });
    await ask(page, `#/merge?file=${encodeURIComponent(stranger.path)}`);
    expect(await page.getByRole("alert").textContent()).toMatch(/record of another plant/);
    expect(await page.getByRole("textbox", { name: /path/ }).inputValue()).toBe(stranger.path);
    expect(await page.locator(".question .blank").count()).toBe(0);
  });
});

describe("the history of a day, a person and a selection", () => {
  it("is asked in the sentence", async () => {
    const { page } = journey;
    const rows = () => page.getByRole("row").count();
    await ask(page, "#/history");
    await page
      .locator(".question")
      .getByRole("button", { name: /anyone/ })
      .focus();
    await keys(page, "Enter");
    await page.keyboard.type("finch");
    await page.getByRole("option", { name: /R. Finch/ }).waitFor();
    await keys(page, "ArrowDown", "Enter");
    await until("what R. Finch did", async () => (await rows()) === 2);
    await ask(page, "#/history?of=sign-offs");
    await until("one sign-off", async () => (await rows()) === 2);
    await ask(page, "#/history?of=KLN/0E&until=today");
    await until("one room", async () => (await rows()) === 2);
    await page.getByRole("link", { name: /^Add space .*0E/ }).waitFor();
    await ask(page, "#/history?of=NOWHERE");
    await page
      .getByRole("alert")
      .getByText(/NOWHERE/)
      .waitFor();
  });
});

everyPage(
  {
    "two moments": { address: "#/compare?from=change 0", shows: ".compare-changes .change" },
    "no moment yet": { address: "#/compare", shows: ".compare-empty a" },
    "since the sign-off": { address: "#/compare?from=signed", shows: ".compare-changes .change" },
    "the field's copy": { address: `#/merge?file=${FIELD}`, shows: ".conflicts li" },
    "no file yet": { address: "#/merge", shows: ".path-choice" },
  },
  ["two moments", "the field's copy"],
  () => journey.plant,
);
