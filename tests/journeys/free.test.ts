/** The network admin looks for a free pair from one building to another. Keyboard only. */

import type { Page } from "playwright";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { until } from "./support/grid.ts";
import { axeFindings, flat, overflow, shown } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES } from "./support/window.ts";

let plant: TestPlant;
let open: OpenWindow;
let page: Page;

beforeAll(async () => {
  plant = await newCampus();
  open = await openWindow(plant);
  page = open.page;
});
afterAll(() => open?.close());
// A refused question is told by its status as well.
afterEach(() => expect(open.complaints.filter((words) => !words.includes("400"))).toEqual([]));

const found = (more: object = {}) =>
  plant.run<FreePairAnswer>("free_pair.find", { from: "LIB", to: "KLN", strands: 2, most: 10, ...more });
const rows = async () => (await page.locator(".free-ways tbody tr").allInnerTexts()).map(flat);

describe("a free pair", () => {
  it("is asked for by filling both blanks", async () => {
    await ask(page, "#/free");
    for (const [hint, tag] of [
      ["a building, room, panel or port", "LIB"],
      ["another place", "KLN"],
    ] as const) {
      await page.getByRole("button", { name: `Choose ${hint}`, exact: true }).focus();
      await page.keyboard.type(tag);
      await page.getByRole("option", { name: new RegExp(`${tag} building`) }).waitFor();
      await page.keyboard.press("Enter");
    }
    await page.locator(".free-ways tbody tr").first().waitFor();
    expect(await shown(page.getByRole("heading", { level: 1 }))).toBe(
      "Which 2 strands are free from LIB to KLN , away from no circuit , for any use , by one way ?",
    );
  });

  it("is told way by way as the operation ranks them", async () => {
    const { ways } = await found();
    const told = await rows();
    expect(ways.length).toBeGreaterThan(0);
    expect(told).toHaveLength(ways.length);
    for (const [index, { stretches, splices, cords }] of ways.entries()) {
      const cables = stretches.flatMap((stretch) => stretch.cables.map(({ tag }) => tag));
      expect(told[index]).toContain(`${index + 1} ${cables.join(" ")} ${splices} ${cords} `);
    }
  });

  it("lists the strands and joints of the way that the arrows choose, behind its caution", async () => {
    const { ways, cautions } = await found();
    const last = ways.at(-1);
    await page.locator('.free-ways tr[tabindex="0"]').focus();
    await page.keyboard.press("End");
    await page.locator(".leaf", { hasText: `Way ${ways.length}` }).waitFor();
    const leaf = await shown(page.locator(".leaf"));
    for (const stretch of last?.stretches ?? [])
      for (const { sections } of stretch.strands) for (const { tag } of sections) expect(leaf).toContain(tag);
    for (const { count, kind, space } of last?.joints ?? [])
      expect(leaf).toContain(`${count} ${kind}${count === 1 ? "" : "s"} at ${space.tag}`);
    for (const caution of cautions) expect(leaf).toContain(flat(caution));
  });

  it("says what each way loses, and whether the application that is wanted runs on it", async () => {
    await ask(page, "#/free?from=LIB&to=KLN&for=10GBASE-LR");
    await page.locator(".free-ways tbody tr").first().waitFor();
    const [way] = (await found({ application: "10GBASE-LR" })).ways;
    const loss = way?.loss;
    const [first] = loss?.wavelengths ?? [];
    const [told] = await rows();
    expect(loss?.application?.application).toBe("10GBASE-LR");
    expect(told).toContain(first?.worst_loss_db == null ? "not known" : `${first.worst_loss_db.toFixed(2)} dB`);
    const leaf = await shown(page.locator(".leaf"));
    for (const { wavelength_nm } of loss?.wavelengths ?? []) expect(leaf).toContain(`${wavelength_nm} nm`);
    for (const reason of loss?.application?.reasons ?? []) expect(leaf).toContain(flat(reason));
  });

  it("is planned by the act its leaf leads to, as one change that can be undone", async () => {
    await page.getByRole("link", { name: "Plan this way" }).focus();
    await page.keyboard.press("Enter");
    await page.getByRole("textbox", { name: "number" }).focus();
    await page.keyboard.type("K-500");
    await page
      .getByText(/circuit added|1 circuit/)
      .first()
      .waitFor();
    await page.keyboard.press("Control+Enter");
    const circuit = () =>
      plant.run<{ rows: { values: { state: string } }[] }>("record.window", { kind: "circuit", text: "K-500" });
    await until("the planned circuit", async () => (await circuit()).rows.length === 1);
    expect((await circuit()).rows[0]?.values.state).toBe("planned");
    await plant.run("history.undo");
    expect((await circuit()).rows).toEqual([]);
  });

  it("of a place to itself, or of no number of strands, is refused in words", async () => {
    await ask(page, "#/free?from=LIB&to=LIB");
    await page.getByText("From and to are both LIB.").waitFor();
    await ask(page, "#/free?from=LIB&to=KLN&strands=many");
    await page.getByText("many is not a number of strands: write one from 1 to 144.").waitFor();
  });

  it.each(["light", "dark"] as const)(
    "has nothing for axe in the %s theme and doesn't scroll sideways",
    async (theme) => {
      await ask(page, "#/free?from=LIB&to=KLN&routes=separate");
      await page.locator(".free-ways").waitFor();
      await page.emulateMedia({ colorScheme: theme });
      expect(await axeFindings(page)).toEqual([]);
      for (const size of Object.values(SIZES)) {
        await page.setViewportSize(size);
        expect(await overflow(page)).toEqual({ x: 0, y: 0 });
      }
      await page.setViewportSize(SIZES.laptop);
    },
  );
});
