/** The network admin asks what breaks with a hole, a duct bank, a stretch of a cable; and what cuts a building off. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(async () => {
  const plant = await newCampus();
  // K-088 runs from the Foundry to Kiln Hall by F-033, K-118 to Kiln Hall and on by F-014, F-021 and F-033.
  await plant.run("record.edit", { kind: "circuit", id: "K-118", values: { priority: 1 } });
  await plant.run("record.edit", { kind: "circuit", id: "K-088", values: { priority: 3 } });
  await plant.run("record.add", { kind: "diversity", values: { circuit_id: "K-118", other_id: "K-088" } });
  return plant;
});

type Impact = AnswerOf<"impact.of">;
const impactOf = (...what: string[]): Promise<Impact> => journey.plant.run<Impact>("impact.of", { what });
const sentence = () => shown(journey.page.locator(".answer"));
const circuitRows = async () => (await journey.page.locator(".impact-circuits tbody tr").allInnerTexts()).map(flat);

describe("what breaks with a duct bank", () => {
  it("is found by the search and asked from the record's own question", async () => {
    await journey.page.keyboard.press("Control+k");
    await journey.page.keyboard.type("DB-6");
    await journey.page
      .getByRole("option", { name: /What breaks with it/ })
      .first()
      .waitFor();
    // Other questions about a way come before it.
    const selected = journey.page.locator('[role="option"][aria-selected="true"]');
    for (let down = 0; down < 6 && !/What breaks with it/.test(await shown(selected)); down++)
      await journey.page.keyboard.press("ArrowDown");
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".impact-circuits").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toBe("What breaks with DB-6 ?");
    expect(await sentence()).toBe((await impactOf("DB-6")).sentence);
  });

  it("shows the circuits by priority, and the buildings dark or lit with the strands that stay whole", async () => {
    const told = await impactOf("DB-6");
    const rows = await circuitRows();
    expect(rows.length).toBe(told.circuits.length);
    expect(rows[0]).toMatch(/^1 K-118 observatory data in service its own glass in .*F-033/);
    const dark = told.buildings.filter((building) => building.dark).map(({ building }) => building.tag);
    expect(dark.length).toBeGreaterThan(0);
    const lines = (await journey.page.locator(".impact-buildings tbody tr").allInnerTexts()).map(flat);
    for (const { building, whole_strands, strands, dark: isDark } of told.buildings) {
      const line = lines.find((one) => one.startsWith(`${building.tag} `)) ?? "";
      expect(line).toMatch(isDark ? / dark / : / (lit|lit in part|no circuit) /);
      expect(line).toContain(`${whole_strands} of ${strands}`);
    }
  });

  it("says first which circuits declared diverse are hit both", async () => {
    expect(await shown(journey.page.locator(".impact-diverse"))).toContain("K-118 and K-088 both in DB-6");
    expect(await shown(journey.page.locator(".leaf"))).toContain("Whether equipment turns to another line by itself");
  });

  it("walks the circuits with the arrows, and the leaf follows", async () => {
    await journey.page.locator('.impact-circuits tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("ArrowDown");
    const second = (await impactOf("DB-6")).circuits[1]?.circuit.tag ?? "";
    await journey.page.locator(".leaf-head", { hasText: second }).waitFor();
  });

  it("takes a second thing along, chosen in the same blank", async () => {
    await journey.page.getByRole("button", { name: "DB-6: choose another" }).focus();
    await journey.page.keyboard.type("MH-08");
    await journey.page.getByRole("option", { name: /MH-08/ }).first().waitFor();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "DB-6, MH-08: choose another" }).waitFor();
    const told = await impactOf("DB-6", "MH-08");
    await journey.page.waitForFunction(
      (words) => document.querySelector(".answer")?.textContent?.includes(words),
      "MH-08",
    );
    expect(await sentence()).toBe(told.sentence);
    expect(told.strands).toBeGreaterThan((await impactOf("DB-6")).strands);
  });

  it("leaves one out again", async () => {
    await journey.page.getByRole("button", { name: "Leave out DB-6" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "MH-08: choose another", exact: true }).waitFor();
    await journey.page.waitForFunction(() => !document.querySelector(".answer")?.textContent?.includes("DB-6"));
    expect(await sentence()).toBe((await impactOf("MH-08")).sentence);
  });
});

describe("what breaks with a stretch of a cable", () => {
  it("is asked between two marks", async () => {
    await ask(journey.page, "#/impact?of=F-021");
    await journey.page.locator(".impact-stretch").waitFor();
    const [from, to] = [journey.page.getByLabel("from mark"), journey.page.getByLabel("to mark")];
    await from.focus();
    await journey.page.keyboard.type("3200");
    await journey.page.keyboard.press("Tab");
    expect(await to.evaluate((field) => field === document.activeElement)).toBe(true);
    await journey.page.keyboard.type("3300");
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "F-021 3200..3300: choose another" }).waitFor();
    await journey.page.waitForFunction(() => document.querySelector(".answer")?.textContent?.includes("3200"));
    expect(await sentence()).toBe((await impactOf("F-021 3200..3300")).sentence);
  });

  it("says which marks there are when they lie beyond them, and keeps what was asked at hand", async () => {
    await ask(journey.page, "#/impact?of=F-021 1..2");
    await journey.page.locator(".refused").waitFor();
    expect(await shown(journey.page.locator(".refused"))).toContain("F-021");
    await journey.page.getByRole("button", { name: "Leave out F-021 1..2" }).waitFor();
  });
});

describe("the record of a thing that can be lost", () => {
  it.each(["building", "space", "pathway", "conduit", "cable"] as const)("asks it of a %s", async (kind) => {
    const rows = await journey.plant.run<AnswerOf<"record.window">>("record.window", { kind, limit: 1 });
    const { id, address } = rows.rows[0] as { id: number; address: string };
    await ask(journey.page, `#/record?kind=${kind}&id=${id}`);
    await journey.page.getByRole("heading", { level: 1, name: `What is ${kind} ${address}?` }).waitFor();
    const link = journey.page.getByRole("link", { name: "What breaks with it?" });
    expect(await link.getAttribute("href")).toBe(`#/impact?of=${address}`);
  });
});

describe("the ways into buildings", () => {
  it("lists each building, those with too few first, and opens one by Enter", async () => {
    await journey.plant.run("record.edit", { kind: "building", id: "OBS", values: { ways_wanted: 2 } });
    await ask(journey.page, "#/ways");
    await journey.page.locator(".ways-table tbody tr").first().waitFor();
    const told = await journey.plant.run<AnswerOf<"impact.ways_in">>("impact.ways_in", {});
    const rows = (await journey.page.locator(".ways-table tbody tr").allInnerTexts()).map(flat);
    expect(rows.length).toBe(told.buildings.length);
    expect(rows[0]).toMatch(/^OBS Observatory 1 of 2 wanted too few/);
    await journey.page.locator('.ways-table tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".way").first().waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toBe("How many separate ways lead into OBS ?");
  });

  it("draws each way outward and names what cuts the building off", async () => {
    const told = await journey.plant.run<AnswerOf<"impact.ways_in">>("impact.ways_in", { buildings: ["OBS"] });
    const [one] = told.buildings;
    expect(await sentence()).toBe(told.sentence);
    const drawn = await journey.page
      .locator(".way")
      .evaluateAll((ways) => ways.map((way) => [...way.querySelectorAll("li > a")].map((link) => link.textContent)));
    expect(drawn).toEqual(one?.separate.map((way) => way.map(({ tag }) => tag)));
    const points = await journey.page.locator(".ways-single tbody th").allInnerTexts();
    expect(points.slice(0, one?.single_points.length)).toEqual(one?.single_points.map(({ tag }) => tag));
    expect(points.length).toBeGreaterThan(0);
  });

  it("leads from there to what breaks with it", async () => {
    const link = journey.page.locator(".ways-single").getByRole("link", { name: "What breaks with it?" }).first();
    await link.focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".impact-buildings").waitFor();
  });
});

describe("circuits declared diverse", () => {
  it("says what both run through, and not what can't be helped", async () => {
    await ask(journey.page, "#/diverse?of=K-118");
    await journey.page.locator(".diverse-table tbody tr").first().waitFor();
    const told = await journey.plant.run<AnswerOf<"impact.diverse">>("impact.diverse", { circuit: "K-118" });
    expect(await sentence()).toBe(told.sentence);
    const row = await shown(journey.page.locator(".diverse-table tbody tr"));
    expect(row).toMatch(/^K-118 and K-088 share .*F-033/);
  });

  it("tells where none is declared, and leads to declaring one", async () => {
    await ask(journey.page, "#/diverse?of=K-140");
    await journey.page.getByRole("link", { name: "Declare two circuits diverse" }).waitFor();
  });
});
