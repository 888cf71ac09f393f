/** What the dictionary says of a kind and its fields, where somebody enters it. */
import { describe, expect, it } from "vitest";
import { KINDS } from "../../core/model/dictionary.ts";
import { newPlant } from "../support/plant.ts";
import { journeyOn } from "./support/journey.ts";
import { flat, shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(() => newPlant());

describe("the fields of a kind", () => {
  it("are told with their meaning and what may stand in them, the one asked about in sight", async () => {
    const { page } = journey;
    await ask(page, "#/fields?kind=cable&at=mark_unit");
    const row = page.getByRole("row", { name: /^marks in/ });
    await row.waitFor();
    expect(await row.getAttribute("aria-current")).toBe("true");
    expect(await shown(row)).toContain("metres, feet");
    const table = await shown(page.locator(".fields-table"));
    for (const { label, help } of Object.values(KINDS.cable.fields)) {
      expect(table).toContain(flat(label));
      expect(table).toContain(flat(help));
    }
    await journey.looks();
  });
});
