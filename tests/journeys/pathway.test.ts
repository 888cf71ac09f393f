/** The network admin looks into a duct bank before a cable is ordered: what lies in each pipe, and which is free. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { PathwayAnswer } from "../../core/pathway/answer.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(async () => {
  const plant = await newCampus();
  const add = (kind: string, values: Record<string, unknown>) => plant.run("record.add", { kind, values });
  await plant.run("record.edit", { kind: "conduit", id: "DB-3/1", values: { bank_row: 1, bank_column: 1 } });
  const further: [string, number, number, object][] = [
    ["2", 1, 2, { inner_diameter_mm: 100, state: "blocked" }],
    ["3", 2, 1, { inner_diameter_mm: 26, state: "in_use" }],
    ["4", 2, 2, { state: "free" }],
  ];
  for (const [tag, bank_row, bank_column, values] of further)
    await add("conduit", { tag, pathway_id: "DB-3", bank_row, bank_column, ...values });
  // 12.5 mm across in a bore of 26: a quarter, where one may fill half and more.
  for (const tag of ["F-301", "F-302"])
    await plant.run("cable.enter", {
      tag,
      type: "LT-DIN",
      units: [],
      stops: [{ space: "MH-03", way: { conduit: "DB-3/3" } }, { space: "HH-11" }],
    });
  return plant;
});

const told = () => journey.plant.run<PathwayAnswer>("pathway.show", { what: "DB-3" });
const rows = async () => (await journey.page.locator(".bank-pipes tbody tr").allInnerTexts()).map(flat);
const xOf = async (number: string): Promise<number> =>
  (await journey.page.locator(".bank .bank-number", { hasText: new RegExp(`^${number}$`) }).boundingBox())?.x ?? 0;

describe("what lies in a duct bank", () => {
  it("is asked from the pathway's own record", async () => {
    const { id } = (await told()).pathway;
    await ask(journey.page, `#/record?kind=pathway&id=${id}`);
    await journey.page.getByRole("link", { name: "What lies in it?" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".bank-pipes").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toBe("What lies in DB-3 , seen from MH-03 ?");
    expect(await shown(journey.page.locator(".answer"))).toBe((await told()).sentence);
  });

  it("tells each pipe with what is in it and how full it is", async () => {
    const lines = await rows();
    expect(lines[0]).toMatch(/^DB-3\/1 1, 1 100 mm in use F-021 2\.0 % .*53 %$/);
    expect(lines[1]).toMatch(/^DB-3\/2 1, 2 100 mm blocked empty$/);
    // Two of 12.5 mm in 26 mm are 46 %, above the 31 % that two may fill.
    expect(lines[2]).toMatch(/^DB-3\/3 2, 1 26 mm in use F-301, F-302 46 % .*above 31 %$/);
    expect(lines[3]).toMatch(/^DB-3\/4 2, 2 not given free empty$/);
    expect(await shown(journey.page.locator(".answer"))).toContain("DB-3/3 is fuller than is usual.");
  });

  it("walks the pipes as they stand, and table and leaf follow", async () => {
    await journey.page.locator(".bank").focus();
    await journey.page.keyboard.press("ArrowDown");
    await journey.page.locator('.bank-pipes tr[aria-selected="true"]', { hasText: "DB-3/3" }).waitFor();
    expect(await journey.page.locator(".bank").getAttribute("aria-valuetext")).toMatch(
      /^DB-3\/3, 2 cables, 46\s% full$/,
    );
    expect(await shown(journey.page.locator(".leaf"))).toContain("At most 31 % is usual.");
    expect(flat((await journey.page.locator(".bank-enlarged").textContent()) ?? "")).toContain("F-301");
    await journey.page.keyboard.press("ArrowRight");
    await journey.page.locator('.bank-pipes tr[aria-selected="true"]', { hasText: "DB-3/4" }).waitFor();
  });

  it("is mirrored when seen from the other end", async () => {
    expect(await xOf("1")).toBeLessThan(await xOf("2"));
    await journey.page.getByRole("button", { name: "MH-03: choose another" }).focus();
    await journey.page.keyboard.type("HH-11");
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "HH-11: choose another" }).waitFor();
    expect(await xOf("1")).toBeGreaterThan(await xOf("2"));
    expect(await shown(journey.page.locator(".bank-key"))).toContain("As seen from HH-11");
  });

  it("opens at a pipe that is asked for by its own tag, and leads to what breaks with it", async () => {
    await ask(journey.page, "#/pathway?of=DB-3/3");
    await journey.page.locator('.bank-pipes tr[aria-selected="true"]', { hasText: "DB-3/3" }).waitFor();
    await journey.page.getByRole("link", { name: "What breaks with this pipe?" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".impact-ledger").waitFor();
    expect(journey.page.url()).toContain("#/impact?of=DB-3/3");
  });
});

describe("a way without pipes", () => {
  it("leads to entering them", async () => {
    await journey.plant.run("record.add", { kind: "pathway", values: { tag: "TR-1", kind: "cable_tray" } });
    await ask(journey.page, "#/pathway?of=TR-1");
    await journey.page.getByRole("link", { name: "Enter its pipes" }).waitFor();
    expect(await shown(journey.page.locator(".answer"))).toBe("Nothing on record lies in TR-1.");
  });
});
