/** A folder of CSV files: written, changed in a spreadsheet, rehearsed, read with one undo; and the history of it. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { lastChange, onRecord, until } from "./support/grid.ts";
import { ask, type OpenWindow, openWindow } from "./support/window.ts";

let plant: TestPlant;
let window: OpenWindow;
let folder: string;

beforeAll(async () => {
  plant = await newCampus();
  window = await openWindow(plant);
  folder = join(plant.folder, "sheets");
});
afterAll(async () => {
  await window.close();
  await plant.close();
});

/** Changes one file of the folder as somebody with an editor would. */
function edit(file: string, change: (lines: string[]) => string[]): void {
  const path = join(folder, file);
  writeFileSync(path, change(readFileSync(path, "utf8").split("\r\n")).join("\r\n"));
}

describe("a folder", () => {
  it("is written, one file a kind, and read back changes nothing", async () => {
    const { page } = window;
    await ask(page, "#/export");
    await page.getByRole("textbox", { name: /path/ }).fill(folder);
    await page.getByRole("button", { name: "Take this folder" }).click();
    await page.getByRole("button", { name: "Write it" }).click();
    await page.getByText("cable.csv").waitFor();
    await page.getByRole("link", { name: "Rehearse reading it back" }).click();
    await page.getByText("all as on record").waitFor();
    expect(await page.getByRole("button", { name: "Nothing to write" }).isDisabled()).toBe(true);
  });

  it("that was changed is rehearsed: refused first, with file, row, field and reason", async () => {
    const { page } = window;
    edit("building.csv", (lines) => [
      ...lines.map((line) => line.replace("Kiln Hall", "The Kilns")).filter(Boolean),
      (lines[1] ?? "").replace(/^[^,]+,[^,]+/, "MUS,Museum"),
      (lines[1] ?? "").replace(/^[^,]+,[^,]+/, ",No tag at all"),
      "",
    ]);
    await ask(page, "#/import");
    await page.getByRole("textbox", { name: /path/ }).fill(folder);
    await page.getByRole("button", { name: "Rehearse it" }).click();
    await page.getByText(/1 new, 1 changed/).waitFor();
    const refused = page.getByRole("region", { name: "Refused rows" });
    await refused.getByText("building.csv").waitFor();
    await refused.getByText(/tag/).first().waitFor();
    const changed = page.getByRole("region", { name: "Changed rows" });
    await changed.getByText("Kiln Hall").waitFor();
    await changed.getByText("The Kilns").waitFor();
    expect(await page.getByRole("button", { name: "Write 2 rows" }).isDisabled()).toBe(true);
    expect((await onRecord(plant, { kind: "building" })).map((row) => row.address)).not.toContain("MUS");
  });

  it("is read without its refused rows as one change, which one undo takes back", async () => {
    const { page } = window;
    await page.getByRole("button", { name: "Write the 2 that can be read" }).click();
    await until("the museum", async () =>
      (await onRecord(plant, { kind: "building" })).some((row) => row.address === "MUS"),
    );
    expect(await lastChange(plant)).toBe("Read the folder sheets");
    await page.getByText(/0 new, 0 changed/).waitFor();
    await ask(page, "#/history");
    const first = page.getByRole("row").nth(1);
    await first.getByText("Read the folder sheets").waitFor();
    await page.getByRole("button", { name: "Take it back" }).click();
    await until("no museum", async () =>
      (await onRecord(plant, { kind: "building" })).every((row) => row.address !== "MUS"),
    );
  });

  it("that isn't there is refused in words, with a way on", async () => {
    const { page } = window;
    await ask(page, `#/import?folder=${encodeURIComponent(join(plant.folder, "nowhere"))}`);
    await page.getByRole("alert").waitFor();
    expect(await page.getByRole("alert").textContent()).toMatch(/nowhere/);
  });
});

describe("the history", () => {
  it("tells each change with who, when, what, before and after, and brings back what was taken back", async () => {
    const { page } = window;
    await plant.run(
      "record.edit",
      { kind: "building", id: "LIB", values: { name: "Great Library" } },
      {
        author: "R. Finch",
        reason: "renamed by the senate",
        meaning: "change",
      },
    );
    await ask(page, "#/history");
    await page.getByRole("link", { name: /Change building LIB: name/ }).click();
    const leaf = page.getByRole("complementary", { name: "Leaf" });
    await leaf.getByText("renamed by the senate").waitFor();
    await leaf.getByText("Great Library").waitFor();
    expect(await leaf.getByText("Library", { exact: true }).count()).toBe(1);
    await leaf.getByRole("button", { name: "Take it back" }).click();
    await leaf.getByRole("button", { name: "Bring it back" }).click();
    await until("the new name", async () => {
      const rows = await onRecord(plant, { kind: "building", filters: [{ field: "tag", test: "is", value: "LIB" }] });
      return rows[0]?.values.name === "Great Library";
    });
  });

  it("can be asked by person and day", async () => {
    const { page } = window;
    await ask(page, "#/history?by=R. Finch&since=today");
    await until("one change", async () => (await page.getByRole("row").count()) === 2);
  });
});

it("complains of nothing all the while", () => {
  expect(window.complaints).toEqual([]);
});
