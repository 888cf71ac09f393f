/** A new building wants strands of a cable that passes by: the case drawn, the sets, the splices; and the way back. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer, ClosingAnswer } from "../../core/breakout/answer.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { journeyOn } from "./support/journey.ts";
import { axeFindings, clipped, flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

/** A coil of 200 ft of F-033 lies at HH-12, and its marks beyond run on by as much. */
async function coiled(): Promise<TestPlant> {
  const plant = await newCampus();
  const edit = (id: string, values: object) => plant.run("record.edit", { kind: "stop", id, values });
  await edit("F-033@3", { mark_out: 4855, storage: "coil", coil_diameter_mm: 600 });
  await edit("F-033@4", { mark_in: 6254, mark_open_from: 6287 });
  return plant;
}

const journey = journeyOn(coiled);

describe("a break-out", () => {
  const input = { cable: "F-033", at: "HH-12", strands: 6, side: "a", to: "OBS" } as const;
  const address = "#/breakout?of=F-033&place=HH-12&strands=6&side=a&to=OBS";

  it("is told with its loop, its cut, every set, and the one pointed at splice by splice", async () => {
    const answer = await journey.plant.run<BreakoutAnswer>("breakout.plans", input);
    await ask(journey.page, address);
    await journey.page.locator(".breakout-sets tbody tr").first().waitFor();
    expect(await shown(journey.page.locator("h1"))).toContain("Break-out (mid-span access)");
    expect(flat(await shown(journey.page.locator(".answer")))).toBe(flat(answer.sentence));
    const rows = (await journey.page.locator(".breakout-sets tbody tr").allInnerTexts()).map(flat);
    expect(rows).toHaveLength(answer.plans.length);
    for (const [index, { strands, units }] of answer.plans.entries()) {
      expect(rows[index]).toContain(strands);
      for (const { words } of units) expect(rows[index]).toContain(words);
    }
    const splices = (await journey.page.locator(".breakout-splices tbody tr").allInnerTexts()).map(flat);
    const [best] = answer.plans;
    expect(splices).toHaveLength(best?.splices.length ?? 0);
    for (const [index, { strand, lateral, tray }] of (best?.splices ?? []).entries())
      for (const words of [strand.tag, strand.words, lateral.tag, lateral.words, tray])
        expect(splices[index]).toContain(words);
    const ledger = flat(await shown(journey.page.locator(".mend-ledger")));
    for (const words of [...(best?.to_prove ?? []), ...(best?.beyond ?? []).map((one) => one.words)])
      expect(ledger).toContain(flat(words));
    for (const { words } of best?.steps ?? []) expect(ledger).toContain(flat(words));
    const leaf = flat(await shown(journey.page.locator(".leaf")));
    for (const words of [...answer.cautions, answer.cut.words]) expect(leaf).toContain(flat(words));
    await journey.looks();
  });

  it("draws the opening, and says in words what is drawn", async () => {
    const answer = await journey.plant.run<BreakoutAnswer>("breakout.plans", input);
    const drawing = journey.page.locator(".mend-drawing");
    const label = (await drawing.locator("svg").first().getAttribute("aria-label")) ?? "";
    expect(label).toContain("F-033 at HH-12, between FDY/0E on the left and KLN/0E on the right.");
    expect(label).toContain(answer.loop.words);
    expect(label).toContain(answer.cut.words);
    const drawn = flat((await drawing.allTextContents()).join(" "));
    for (const unit of answer.plans[0]?.units ?? []) expect(drawn).toContain(`${unit.words}: ${unit.takes.length} cut`);
    expect(drawn).toContain("cut at the edge to KLN/0E");
    expect(await clipped(journey.page, ".breakout-sets td")).toEqual([]);
  });

  it("shows another set by the keyboard alone", async () => {
    await journey.page.locator('.breakout-sets tr[tabindex="0"]').focus();
    await journey.page.keyboard.press("End");
    const answer = await journey.plant.run<BreakoutAnswer>("breakout.plans", input);
    const last = answer.plans.at(-1);
    await journey.page
      .locator(".breakout-splices tbody tr", { hasText: last?.splices[0]?.strand.tag ?? "-" })
      .waitFor();
    expect(flat(await shown(journey.page.locator(".mend-ledger")))).toContain(`Set ${answer.plans.length}: splices`);
  });

  it("becomes a job by the act it leads to, with what was asked filled in", async () => {
    // What the job wants is no longer free for another, so the answer is asked before.
    const answer = await journey.plant.run<BreakoutAnswer>("breakout.plans", input);
    await ask(journey.page, `${address}&set=2`);
    await journey.page.locator('.breakout-sets tr[aria-selected="true"]', { hasText: "2" }).waitFor();
    const link = journey.page.getByRole("link", { name: "As a job" });
    await link.focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.getByLabel("number", { exact: true }).first().fill("J-77");
    const button = journey.page.getByRole("button", { name: /Plan the job, \d+ steps/ });
    await button.waitFor();
    expect(await axeFindings(journey.page)).toEqual([]);
    await button.focus();
    await journey.page.keyboard.press("Enter");
    await expect.poll(async () => (await journey.plant.call("job.show", { job: "J-77" })).ok).toBe(true);
    const { reason } = await journey.plant.run<{ reason: string }>("job.show", { job: "J-77" });
    expect(reason).toContain(answer.plans[1]?.strands);
    await journey.plant.run("history.undo", {});
  });

  it("without a place is asked for it, stop by stop", async () => {
    await ask(journey.page, "#/breakout?of=F-033");
    const place = journey.page.getByRole("link", { name: "at HH-12" });
    await place.focus();
    await journey.looks();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".breakout-sets tbody tr").first().waitFor();
  });

  it("is asked from the page of the cable, at a stop, and from the page of the hole", async () => {
    await ask(journey.page, "#/cable?of=F-033");
    const link = journey.page.getByRole("link", { name: "Take strands out at F-033@3" });
    await link.focus();
    await journey.page.keyboard.press("Enter");
    await journey.page.locator(".breakout-sets tbody tr").first().waitFor();
    expect(flat(await shown(journey.page.locator(".answer")))).toContain("F-033 at HH-12");
    const hole = await journey.plant.run<{ id: number }>("record.page", { kind: "space", id: "HH-12" });
    await ask(journey.page, `#/record?kind=space&id=${hole.id}`);
    await journey.page.getByRole("link", { name: "Take strands out of a cable here" }).click();
    await journey.page.getByRole("link", { name: "F-033", exact: true }).click();
    await journey.page.locator(".breakout-sets tbody tr").first().waitFor();
  });

  it("of more strands than are free is refused unit by unit", async () => {
    await ask(journey.page, "#/breakout?of=F-033&place=HH-12&strands=90");
    await journey.page.getByText(/90 strands are wanted/).waitFor();
    expect(flat(await shown(journey.page.locator(".page-body")))).toContain("tube 3 green has 11 free of 12");
    await ask(journey.page, "#/breakout?of=F-033&place=HH-12&strands=some");
    await journey.page.getByText(/must be a whole number/).waitFor();
  });

  it("towards a building of several rooms asks which, and each is a link to the same question with it", async () => {
    const { page } = journey;
    await journey.plant.run("record.add", {
      kind: "space",
      values: { tag: "2B", building_id: "LIB", kind: "telecom_room" },
    });
    await ask(page, "#/breakout?of=F-033&place=HH-12&strands=6&to=LIB");
    await page.getByText("In which room of LIB does the lateral end?").waitFor();
    const rooms = page.locator(".breakout-rooms").getByRole("link");
    expect(await rooms.allTextContents()).toEqual(["in LIB/2A", "in LIB/2B"]);
    await rooms.first().focus();
    await page.keyboard.press("Enter");
    await page.locator(".breakout-sets tbody tr").first().waitFor();
    expect(await shown(page.locator("h1"))).toContain("LIB/2A");
  });

  it("stands in the list of questions", async () => {
    await ask(journey.page, "#/ask");
    await journey.page.locator('a[href="#/breakout"]', { hasText: "Break-out (mid-span access): which" }).waitFor();
  });
});

describe("joining again", () => {
  it("is told strand by strand, with what leads nowhere afterwards", async () => {
    const answer = await journey.plant.run<ClosingAnswer>("breakout.closing", { cable: "F-033", at: "HH-11" });
    await ask(journey.page, "#/breakout-close?of=F-033&place=HH-11");
    await journey.page.locator(".breakout-splices tbody tr").first().waitFor();
    expect(flat(await shown(journey.page.locator(".answer")))).toBe(flat(answer.sentence));
    const rows = (await journey.page.locator(".breakout-splices tbody tr").allInnerTexts()).map(flat);
    expect(rows).toHaveLength(answer.strands.length);
    for (const [index, { strand, a, z }] of answer.strands.entries())
      for (const words of [strand.tag, strand.words, a, z]) expect(rows[index]).toContain(words);
    const leaf = flat(await shown(journey.page.locator(".leaf")));
    for (const { circuit } of answer.circuits) expect(leaf).toContain(circuit.tag);
    await journey.looks();
  });
});
