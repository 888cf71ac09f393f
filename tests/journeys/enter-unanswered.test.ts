/** The program isn't reached for a moment: the table keeps its rows, its cell and what is typed, and is read again. */
import type { Page } from "playwright";
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newSoundCampus } from "./support/campus.ts";
import { here, intoTable, keys, onRecord, toColumn, until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

// The browser itself says of each broken connection that it broke.
const journey = journeyOn(newSoundCampus, /ERR_CONNECTION_RESET/);

/** Breaks the connection of the next calls of an operation; answers how many were broken so far. */
async function breaking(page: Page, operation: string, times: number): Promise<() => number> {
  let broken = 0;
  await page.route("**/call", (route) => {
    if (broken >= times || route.request().postDataJSON().name !== operation) return route.continue();
    broken++;
    return route.abort("connectionreset");
  });
  return () => broken;
}
const name = async () => (await onRecord(journey.plant, { kind: "cable", limit: 1 }))[0]?.values.name;
const rename = (to: string) => journey.plant.run("record.edit", { kind: "cable", id: "F-014", values: { name: to } });

describe("the connection to the program breaks", () => {
  it("once while the table is read: nothing is seen of it", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    const broken = await breaking(page, "record.window", 1);
    await rename("by the mill");
    await page.getByRole("grid").getByText("by the mill").waitFor();
    expect(broken()).toBe(1);
    expect(await page.getByText(/doesn't answer/).count()).toBe(0);
    await page.unroute("**/call");
  });

  it("for longer: the rows stay with a line above them, the focus in its cell, and it is asked again", async () => {
    const { page } = journey;
    await keys(page, "Control+Home", "ArrowDown");
    await toColumn(page, "name");
    const before = await here(page);
    await breaking(page, "record.window", Number.POSITIVE_INFINITY);
    await rename("by the weir");
    const line = page.getByRole("alert").filter({ hasText: "doesn't answer" });
    await line.waitFor();
    expect(await here(page)).toEqual(before);
    await page.getByRole("grid").getByText("by the mill").waitFor();
    const button = line.getByRole("button", { name: "Ask again" });
    expect((await button.boundingBox())?.height).toBeLessThan(40);
    await page.unroute("**/call");
    await button.click();
    await page.getByRole("grid").getByText("by the weir").waitFor();
    await line.waitFor({ state: "detached" });
  });

  it("while a cell is written: its answer is fetched, and it isn't written twice", async () => {
    const { page } = journey;
    const newest = async () =>
      (await journey.plant.run<AnswerOf<"history.list">>("history.list", { limit: 1 })).items[0];
    const before = (await newest())?.id ?? 0;
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "name");
    // It arrives and is carried out; only the answer is lost.
    let lost = 0;
    await page.route("**/call", async (route) => {
      if (lost > 0 || route.request().postDataJSON().name !== "record.edit") return route.continue();
      lost++;
      await route.fetch();
      return route.abort("connectionreset");
    });
    await page.keyboard.type("by the lock");
    await keys(page, "Enter");
    await until("the name", async () => (await name()) === "by the lock");
    await page.getByText("Written.").first().waitFor();
    expect(lost).toBe(1);
    expect((await newest())?.id).toBe(before + 1);
    expect(await page.getByText(/not written/).count()).toBe(0);
    await page.unroute("**/call");
  });
});
