/** The network admin asks whether the light arrives: beside the trace, then part by part. Keyboard only. */

import { describe, expect, it } from "vitest";
import type { LossAnswer } from "../../core/light/answer.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { axeFindings, flat, overflow, shown } from "./support/look.ts";
import { ask, SIZES } from "./support/window.ts";

const WHAT = "LIB/2A/P1:13";
const journey = journeyOn(newCampus);

const loss = (more: object = {}) => journey.plant.run<LossAnswer>("light.loss", { what: WHAT, ...more });
const rows = async () => (await journey.page.locator(".loss-terms tbody tr").allInnerTexts()).map(flat);

describe("what light loses along a line", () => {
  it("runs along below its hops, with the way to every part", async () => {
    await ask(journey.page, `#/find?of=${WHAT}`);
    await journey.page.locator(".loss-along").waitFor();
    const answer = await loss();
    const [first] = answer.lines[0]?.losses ?? [];
    const drawn = journey.page.locator(".loss-along").getByRole("img");
    expect(await drawn.getAttribute("aria-label")).toContain(
      `At ${first?.wavelength_nm} nm ${first?.complete ? "" : "at least "}${first?.loss_db?.toFixed(2)} dB.`,
    );
    await journey.page.getByRole("link", { name: "Part by part" }).focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".loss-terms").waitFor();
    expect(await shown(journey.page.getByRole("heading", { level: 1 }))).toMatch(
      /^What does light lose along LIB\/2A\/P1:13 , by measurements, else limits , as it lies \?$/,
    );
  });

  it("tells each part with its loss, basis and source, and sums them", async () => {
    const terms = (await loss()).lines[0]?.losses[0]?.terms ?? [];
    const told = await rows();
    expect(told).toHaveLength(terms.length);
    for (const [index, { words, basis, source, lacks, loss_db }] of terms.entries()) {
      expect(told[index]).toContain(flat(words));
      expect(told[index]).toContain(basis === "unknown" ? "not known" : basis);
      expect(told[index]).toContain(flat(lacks ?? source));
      if (loss_db !== null) expect(told[index]).toContain(`${loss_db.toFixed(3)} dB`);
    }
    const sum = terms.reduce((all, { loss_db }) => all + (loss_db ?? 0), 0);
    expect(await shown(journey.page.locator(".loss-terms tfoot tr").first())).toContain(`${sum.toFixed(3)} dB`);
  });

  it("is walked with the arrows; the leaf says the part's source", async () => {
    await journey.page.locator('.loss-terms tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("ArrowDown");
    const term = (await loss()).lines[0]?.losses[0]?.terms[1];
    await journey.page.locator('.loss-terms tr[aria-selected="true"]', { hasText: term?.words ?? "" }).waitFor();
    expect(await shown(journey.page.locator(".leaf"))).toContain(flat(term?.source ?? ""));
  });

  it("says of each application whether it runs, as the operation does", async () => {
    const [line] = (await loss()).lines;
    const told = (await journey.page.locator(".loss-table tbody tr").allTextContents()).map(flat);
    for (const { application, runs, runs_at_worst } of line?.applications ?? []) {
      const row = told.find((words) => words.startsWith(application));
      const words = {
        yes: runs_at_worst === "no" ? "runs, but not at worst" : "runs",
        no: "does not run",
        cannot_tell: "can't tell",
      };
      expect(row).toContain(words[runs]);
    }
  });

  it("shows what the acceptance limit is made of, each value with its source", async () => {
    const [line] = (await loss()).lines;
    const ledger = flat(await shown(journey.page.locator(".loss-ledger")));
    expect(line?.acceptance.length).toBeGreaterThan(0);
    for (const { formula, parts } of line?.acceptance ?? []) {
      expect(ledger).toContain(flat(formula));
      for (const { words, source } of parts) {
        expect(ledger).toContain(flat(words));
        expect(ledger).toContain(flat(source));
      }
    }
  });

  it("takes typical values in place of limits by filling the second blank", async () => {
    await journey.page.getByRole("button", { name: "measurements, else limits: choose another" }).focus();
    await journey.page.keyboard.type("measurements, else typ");
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".answer", { hasText: "typical" }).waitFor();
    const first = (await loss({ worst: "typical" })).lines[0]?.losses[0];
    expect(await shown(journey.page.locator(".loss-terms tfoot tr").first())).toContain(
      `${first?.loss_db?.toFixed(3)} dB`,
    );
  });

  it.each(["light", "dark"] as const)(
    "has nothing for axe in the %s theme and doesn't scroll sideways",
    async (theme) => {
      await journey.page.emulateMedia({ colorScheme: theme });
      expect(await axeFindings(journey.page)).toEqual([]);
      for (const size of Object.values(SIZES)) {
        await journey.page.setViewportSize(size);
        expect(await overflow(journey.page)).toEqual({ x: 0, y: 0 });
      }
      await journey.page.setViewportSize(SIZES.laptop);
    },
  );
});
