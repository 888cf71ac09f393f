/** What a machine keeps for its user: typed once, and there at every start, whatever address it has. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { newFolder, newPlant } from "../support/plant.ts";
import { shown } from "./support/look.ts";
import { openWindow } from "./support/window.ts";

describe("somebody who works at this machine", () => {
  it("types their name once: the next start, at another address and with another plant, knows it", async () => {
    const kept = join(newFolder(), "preferences.json");
    const first = await openWindow(await newPlant(), { person: "", kept });
    await first.page.getByRole("button", { name: "No name yet" }).focus();
    await first.page.keyboard.press("Enter");
    await first.page.getByRole("dialog", { name: "Who works here?" }).getByLabel("Name").fill("Ada Splicer");
    await first.page.keyboard.press("Enter");
    await first.page.getByRole("button", { name: "Ada Splicer" }).waitFor();
    await first.page.getByRole("button", { name: "metres" }).click();
    await expect.poll(() => readFileSync(kept, "utf8")).toContain('"unit": "ft"');
    await first.close();

    const second = await openWindow(await newPlant(), { person: "", kept });
    expect(second.address).not.toBe(first.address);
    await second.page.getByRole("button", { name: "Ada Splicer" }).waitFor();
    await second.page.getByRole("button", { name: "feet" }).waitFor();
    expect([...first.complaints, ...second.complaints]).toEqual([]);
    await second.close();
  });
  it("changes the theme in one window, and the other follows", async () => {
    const open = await openWindow(await newPlant());
    const other = await open.another();
    await open.page.getByRole("button", { name: /^Theme/ }).click();
    const chosen = await shown(open.page.getByRole("button", { name: /^Theme/ }));
    await other.getByRole("button", { name: chosen }).waitFor();
    await open.close();
  });
});
