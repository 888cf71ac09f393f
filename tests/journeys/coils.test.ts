/** Before anything is cut: which cables coils would not mend, how urgent that is, and what would cure it. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { CoilsAnswer } from "../../core/repair/coils/answer.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus, /400|404/);

const detail = async (): Promise<string> => flat(await shown(journey.page.locator(".coils-detail")));

describe("the whole plant", () => {
  it("is ranked by what a cut takes down, and the cable pointed at is told stretch by stretch", async () => {
    const answer = await journey.plant.run<CoilsAnswer>("coils.study", {});
    expect(answer.cables.length).toBeGreaterThan(2);
    await ask(journey.page, "#/coils");
    await journey.page.locator(".coils-cables tbody tr").first().waitFor();
    expect(await shown(journey.page.locator(".answer"))).toBe(flat(answer.sentence));
    const rows = (await journey.page.locator(".coils-cables tbody tr").allInnerTexts()).map(flat);
    expect(rows.map((row) => row.split(" ")[0])).toEqual(answer.cables.map(({ cable }) => cable.tag));
    await journey.page.locator('.coils-cables tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("End");
    const last = answer.cables.at(-1);
    await journey.page.locator("#coils-stretches", { hasText: last?.cable.tag ?? "-" }).waitFor();
    const told = await detail();
    for (const { why, cure } of last?.stretches ?? []) {
      expect(told).toContain(flat(why));
      expect(told).toContain(flat(cure));
    }
    for (const { words } of answer.places) expect(told).toContain(words);
    const leaf = flat(await shown(journey.page.locator(".leaf")));
    for (const words of [...answer.cautions, ...answer.assumed]) expect(leaf).toContain(flat(words));
    await journey.looks();
  });
});

describe("one cable", () => {
  it("is drawn with its open stretches in words too, and leads to how such a cut is mended", async () => {
    const answer = await journey.plant.run<CoilsAnswer>("coils.study", { of: "F-033" });
    const [first] = answer.cables[0]?.stretches ?? [];
    await ask(journey.page, "#/coils?of=F-033");
    const drawing = journey.page.locator(".coils-drawing > div > svg");
    await drawing.waitFor();
    expect(await drawing.getAttribute("aria-label")).toContain(`from ${first?.from.words} to ${first?.to.words}`);
    await journey.looks();
    const link = journey.page.getByRole("link", { name: /how mended\? F-033, cut between/ }).first();
    await link.focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".mend-plans tbody tr").first().waitFor();
    expect(await shown(journey.page.locator(".answer"))).toContain("F-033 is cut between");
  });

  it("with other metres lost is reckoned anew", async () => {
    const answer = await journey.plant.run<CoilsAnswer>("coils.study", { of: "F-033", lost_m: 20 });
    await ask(journey.page, "#/coils?of=F-033&lost=20");
    await journey.page.locator(".coils-cables tbody tr").first().waitFor();
    expect(await shown(journey.page.locator(".answer"))).toBe(flat(answer.sentence));
    expect(flat(await shown(journey.page.locator(".coils-table tbody tr")))).toContain("20.0 m beyond");
  });

  it("that isn't there, and metres that are none, are refused in words", async () => {
    await ask(journey.page, "#/coils?of=F-404");
    await journey.page.getByText(/There is no cable or building F-404/).waitFor();
    await ask(journey.page, "#/coils?of=F-033&lost=much");
    await journey.page.getByText(/must be a number/).waitFor();
  });
});
