/** The engineer looks a limit up, puts the plant's own in its place with a reason, and takes it back. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant } from "../support/plant.ts";
import { lastChange, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { choose } from "./support/keyboard.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const TAG = "attenuation.g652d.1550";

const journey = journeyOn(newPlant);

type Limit = AnswerOf<"standards.limits">["limits"][number];

async function inUse(): Promise<Limit> {
  const { limits } = await journey.plant.run<AnswerOf<"standards.limits">>("standards.limits", { under: TAG });
  return limits[0] as Limit;
}

const selectedRow = () => journey.page.locator('.limits tr[aria-selected="true"]');

/** Presses F6 until the focus is in that region. */
async function into(region: string): Promise<void> {
  for (let turn = 0; turn < 8; turn++) {
    if (
      await journey.page.evaluate((name) => document.activeElement?.closest(`[data-region="${name}"]`) !== null, region)
    )
      return;
    await journey.page.keyboard.press("F6");
  }
  throw new Error(`F6 never came to ${region}`);
}

describe("the limits in use", () => {
  it("shows every one, with how many are weakly known", async () => {
    await ask(journey.page, "#/limits");
    const { limits } = await journey.plant.run<AnswerOf<"standards.limits">>("standards.limits", {});
    await journey.page.locator(".limits tbody tr").first().waitFor();
    expect(await journey.page.locator(".limits tbody tr").count()).toBe(limits.length + 1);
    const weak = limits.filter(({ how_known }) => ["memory", "second_hand", "weak"].includes(how_known)).length;
    expect(await shown(journey.page.locator(".answer"))).toContain(
      `${limits.length} limits: none set by the plant, the others as published; ${weak} of them second-hand`,
    );
  });

  it("is narrowed by filling the blanks", async () => {
    await journey.page.getByRole("button", { name: "every subject: choose another" }).focus();
    await journey.page.keyboard.type("glass");
    await journey.page.keyboard.press("Enter");
    await journey.page.getByRole("button", { name: "any words: choose another" }).focus();
    await journey.page.keyboard.type("g652d.1550 greatest");
    await journey.page.keyboard.press("Enter");
    await journey.page.waitForFunction(() => document.querySelectorAll(".limits tbody tr").length === 1);
    const known = await inUse();
    const row = await shown(selectedRow());
    for (const part of [TAG, "0.3 dB/km", known.source, known.edition ?? "", "second-hand", "as published"])
      expect(row).toContain(part);
  });

  it("asks for the reason before a value of the plant's own is written", async () => {
    await into("ledger");
    await journey.page.keyboard.press("Enter");
    await journey.page.keyboard.type("0.24");
    await journey.page.keyboard.press("Enter");
    await journey.page.getByText("Say why, so that whoever meets the number can judge it.").waitFor();
    expect(await inUse()).toMatchObject({ own: false, value: 0.3 });
  });

  it("says what is wrong with a value that is no number", async () => {
    await journey.page.keyboard.press("Shift+Tab");
    await journey.page.keyboard.press("Control+a");
    await journey.page.keyboard.type("quarter");
    await journey.page.keyboard.press("Enter");
    await journey.page.locator("#limit-value-why").waitFor();
    expect(await shown(journey.page.locator("#limit-value-why"))).toMatch(/^The value /);
    expect(await inUse()).toMatchObject({ own: false });
  });

  it("writes it with the reason, and says who changed it", async () => {
    await journey.page.keyboard.press("Control+a");
    await journey.page.keyboard.type("0.24");
    await journey.page.keyboard.press("Tab");
    await journey.page.keyboard.type("every reel of 2024 was measured below it");
    await journey.page.keyboard.press("Tab");
    await journey.page.keyboard.press("Enter");
    await until("the plant's own value", async () => (await inUse()).own);
    expect(await inUse()).toMatchObject({
      value: 0.24,
      published: 0.3,
      how_known: "policy",
      reason: "every reel of 2024 was measured below it",
      changed: { by: "Test Person" },
    });
    await journey.page.waitForFunction(() =>
      document.querySelector('.limits tr[aria-selected="true"]')?.textContent?.includes("Test Person"),
    );
    const row = await shown(selectedRow());
    expect(row).toContain("0.24 dB/km");
    expect(row).toContain("source: 0.3 dB/km");
    expect(await shown(journey.page.locator(".leaf"))).toContain("every reel of 2024 was measured below it");
    expect(await shown(journey.page.locator(".answer"))).toMatch(/^1 limit of \d+: 1 set by the plant/);
  });

  it("takes it back, and the published value holds again", async () => {
    await journey.page.getByRole("button", { name: "Take the plant's value back" }).focus();
    await journey.page.keyboard.press("Enter");
    await until("the published value", async () => !(await inUse()).own);
    expect(await inUse()).toMatchObject({ value: 0.3, record: null });
    await journey.page.waitForFunction(() => document.activeElement?.getAttribute("aria-selected") === "true");
    expect(await lastChange(journey.plant)).toBe(`Delete limit ${TAG}`);
  });

  it("says so where nothing fits, and leads back", async () => {
    await ask(journey.page, "#/limits?named=nosuchglass");
    await journey.page.getByText("No limit fits.").waitFor();
    expect(await shown(journey.page.locator(".answer"))).toMatch(/^0 limits of \d+/);
  });
});

const edition = async () => (await journey.plant.run<AnswerOf<"standards.limits">>("standards.limits", {})).acceptance;

describe("the edition by which links are accepted", () => {
  it("stands first, as the newest on the list", async () => {
    await ask(journey.page, "#/limits?about=acceptance");
    await journey.page.locator(".limits tbody tr").first().waitFor();
    const row = await shown(journey.page.locator(".limits tbody tr").first());
    for (const part of ["acceptance.edition", "TIA-568.3-E", "the newest on the list"]) expect(row).toContain(part);
    expect(await shown(journey.page.locator(".answer"))).toContain(
      "Links are accepted by TIA-568.3-E, the newest on the list.",
    );
  });

  it("is not chosen without a reason", async () => {
    await into("ledger");
    await journey.page.keyboard.press("Enter");
    await choose(journey.page, "ISO/IEC 14763-3:2014, c");
    await journey.page.getByRole("button", { name: "Use this edition" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByText("Say why, so that whoever meets the choice can judge it.").waitFor();
    expect(await edition()).toMatchObject({ own: false, record: null });
  });

  it("is chosen with one, and then the answers go by it", async () => {
    await journey.page.keyboard.type("the contract of the new wing names it");
    await journey.page.keyboard.press("Tab");
    await journey.page.keyboard.press("Enter");
    await until("the plant's choice", async () => (await edition()).own);
    expect(await edition()).toMatchObject({
      edition: "iso_14763_3_2015",
      reason: "the contract of the new wing names it",
      changed: { by: "Test Person" },
    });
    await journey.page.waitForFunction(() =>
      document.querySelector(".answer")?.textContent?.includes("chosen by the plant"),
    );
    expect(await shown(selectedRow())).toContain("the contract of the new wing names it");
  });

  it("is taken back by the button, and set again by undo", async () => {
    await journey.page.getByRole("button", { name: "Take the plant's choice back" }).focus();
    await journey.page.keyboard.press("Enter");
    await until("the newest edition", async () => !(await edition()).own);
    await journey.page.waitForFunction(() => document.activeElement?.getAttribute("aria-selected") === "true");
    await journey.page.keyboard.press("Control+z");
    await until("the plant's choice again", async () => (await edition()).own);
  });
});
