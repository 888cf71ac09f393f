/** The one on call: a reading becomes a place, and the place ways to mend it. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { LocateAnswer } from "../../core/locate/answer.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { Located } from "../locate/route.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newCampus);

describe("a reading", () => {
  it("becomes a place with its band, as the operation reckons it", async () => {
    await ask(journey.page, "#/locate?of=FDY/0E/P1:01&metres=100&index=1.468");
    await journey.page.locator(".locate-ledger").waitFor();
    const answer = await journey.plant.run<Located>("locate.of", {
      readings: [{ from: "FDY/0E/P1:01", distance_m: 100, index: 1.468 }],
    });
    expect(flat(await shown(journey.page.locator(".answer")))).toContain(
      flat(answer.where.words).split(" between ")[0] ?? "-",
    );
    const leaf = flat(await shown(journey.page.locator(".leaf")));
    expect(leaf).toContain(`± ${answer.band.likely_m.toFixed(1)} m`);
    for (const { words, source } of answer.band.terms) {
      expect(leaf).toContain(flat(words));
      expect(leaf).toContain(flat(source));
    }
    for (const caution of answer.cautions) expect(leaf).toContain(flat(caution));
    await journey.looks();
  });

  it("of another strand, and of an event whose place is known, are taken into account", async () => {
    const first = { from: "FDY/0E/P1:01", distance_m: 100, index: 1.468 };
    const known = [{ at: "end", distance_m: 150 }];
    const both = await journey.plant.run<Located>("locate.of", {
      readings: [
        { ...first, known },
        { ...first, from: "FDY/0E/P1:02", distance_m: 101 },
      ],
    });
    const alone = await journey.plant.run<Located>("locate.of", { readings: [first] });
    expect(both.band.likely_m).not.toBe(alone.band.likely_m);
    await ask(journey.page, "#/locate?of=FDY/0E/P1:01&metres=100&index=1.468&also=FDY/0E/P1:02=101&known=end=150");
    await journey.page
      .locator(".leaf")
      .getByText(`± ${both.band.likely_m.toFixed(1)} m`)
      .first()
      .waitFor();
  });

  it("in microseconds is the same place", async () => {
    // Round trip over 100 m at index 1.468: 2 × 100 × 1.468 ÷ 299.792458 m/µs.
    await ask(journey.page, "#/locate?of=FDY/0E/P1:01&metres=0.97934 µs&index=1.468");
    const answer = await journey.plant.run<Located>("locate.of", {
      readings: [{ from: "FDY/0E/P1:01", distance_m: 100, index: 1.468 }],
    });
    await journey.page.locator(".locate-ledger").waitFor();
    expect(flat(await shown(journey.page.locator(".answer")))).toContain(
      flat(answer.where.words).split(" between ")[0] ?? "-",
    );
  });

  it("of another strand that contradicts it is never told as one break: by how much, what that may be, each place", async () => {
    const readings = [
      { from: "KLN/0E/P1:01", distance_m: 60, index: 1.468 },
      { from: "KLN/0E/P1:02", distance_m: 300, index: 1.468 },
    ];
    const answer = await journey.plant.run<LocateAnswer>("locate.of", { readings });
    const [contradiction] = answer.disagreements;
    expect(answer.places).toHaveLength(2);
    await ask(journey.page, "#/locate?of=KLN/0E/P1:01&metres=60&index=1.468&also=KLN/0E/P1:02=300");
    await journey.page.locator(".locate-place").nth(1).waitFor();
    expect(flat(await shown(journey.page.locator(".answer")))).toContain("The readings do not agree on one break");
    const ledger = flat(await shown(journey.page.locator(".locate-ledger")));
    for (const words of [contradiction?.words ?? "-", ...(contradiction?.means ?? ["-"])]) {
      expect(ledger).toContain(flat(words));
    }
    for (const { where } of answer.places) expect(ledger).toContain(flat(where.words));
    // The marks of F-033 count feet, and stay in feet for a reader of metres.
    const [first] = answer.places;
    expect(flat(await shown(journey.page.locator(".answer")))).toMatch(/near mark [\d ]+ ft/);
    expect(first?.where.mark?.unit).toBe("ft");
    expect(await journey.page.getByRole("link", { name: "How is it mended?" }).count()).toBe(0);
    expect(await journey.page.getByRole("link", { name: "How is this one mended?" }).count()).toBe(2);
    await journey.looks();
  });

  it("that is no number is refused in words", async () => {
    await ask(journey.page, "#/locate?of=FDY/0E/P1:01&metres=far");
    await journey.page.getByText(/must be a number/).waitFor();
  });
});

describe("a cut cable", () => {
  const input = { cable: "F-033", after: "HH-11" };

  it("is told way by way, and the one pointed at side by side", async () => {
    const answer = await journey.plant.run<MendAnswer>("mend.plans", input);
    await ask(journey.page, "#/mend?of=F-033&after=HH-11");
    await journey.page.locator(".mend-plans tbody tr").first().waitFor();
    const told = (await journey.page.locator(".mend-plans tbody tr").allInnerTexts()).map(flat);
    expect(told).toHaveLength(answer.plans.length);
    for (const [index, { sentence }] of answer.plans.entries()) expect(told[index]).toContain(flat(sentence));
    const ledger = flat(await shown(journey.page.locator(".mend-ledger")));
    for (const { reason } of answer.refused) expect(ledger).toContain(flat(reason));
    await journey.page.locator('.mend-plans tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("End");
    await journey.page.locator('.mend-plans tr[aria-selected="true"]', { hasText: "end to end" }).waitFor();
    for (const caution of answer.cautions)
      expect(flat(await shown(journey.page.locator(".leaf")))).toContain(flat(caution));
    await journey.looks();
  });

  it("without a place is asked for it, stretch by stretch", async () => {
    await ask(journey.page, "#/mend?of=F-033");
    const stretch = journey.page.getByRole("link", { name: "between HH-11 and HH-12" });
    await stretch.focus();
    await journey.looks();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".mend-plans tbody tr").first().waitFor();
    expect(flat(await shown(journey.page.locator(".answer")))).toMatch(
      /F-033 is cut somewhere on the [\d.]+ m between HH-11 and HH-12/,
    );
  });

  it("beyond its marks is refused with what they are", async () => {
    await ask(journey.page, "#/mend?of=F-033&mark=9999999");
    await journey.page.getByText(/Mark 9999999 of F-033 is beyond its marks/).waitFor();
  });
});
