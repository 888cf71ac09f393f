/** Two files of one plant in which two records want one tag: nothing is refused, both are seen, and somebody chooses. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { contents } from "../history/contents.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const add = (plant: TestPlant, tag: string, name: string) =>
  plant.run("record.add", { kind: "cable", values: { tag, name } });

let field = "";
const journey = journeyOn(async () => {
  const office = await newPlant();
  await add(office, "F-1", "as laid");
  field = join(newFolder(), "field.strandbook");
  await office.application.file.saveCopy(field);
  const there = await newPlant({ path: field });
  await there.run("record.edit", { kind: "cable", id: "F-1", values: { tag: "F-9" } });
  await add(there, "F-7", "found by the crew");
  await there.close();
  await add(office, "F-9", "laid by us");
  await add(office, "F-7", "drawn in the office");
  return office;
});
const tags = async (): Promise<string[]> =>
  ((await contents(journey.plant)).cable as { tag: string; name: string }[]).map(({ tag, name }) => `${tag} ${name}`);

describe("a tag that two records want", () => {
  it("is a conflict with both, of which theirs may stay under a tag that is typed", async () => {
    const { page } = journey;
    await ask(page, `#/merge?file=${encodeURIComponent(field)}`);
    const renamed = page.getByRole("group", { name: /F-1/ });
    await renamed.getByText("two records want one tag").waitFor();
    await renamed.getByRole("radio", { name: /^here/ }).focus();
    await page.keyboard.press("Tab");
    await page.keyboard.type("F-9B");
    await page.keyboard.press("Enter");
    await renamed.getByRole("radio", { name: /^both/, checked: true }).waitFor();
    await journey.looks();
  });
  it("entered in both files counts as one and the same, until somebody says that they are two", async () => {
    const { page } = journey;
    const same = page.getByRole("group", { name: /F-7$/ });
    expect(await same.getByRole("radio", { name: /one record for both/ }).isChecked()).toBe(true);
    // What was chosen of a field says nothing more once both stay.
    const named = page.getByRole("group", { name: /F-7, name/ });
    await named.getByRole("radio", { name: /^there/ }).check();
    await named.getByRole("radio", { name: /^there/, checked: true }).waitFor();
    await same.getByRole("textbox").fill("F-7B");
    await page.keyboard.press("Enter");
    await named.waitFor({ state: "detached" });
    await page.getByRole("button", { name: "Take 2 records" }).click();
    await page.getByText("Nothing would be taken").waitFor();
    expect((await tags()).toSorted()).toEqual([
      "F-7 drawn in the office",
      "F-7B found by the crew",
      "F-9 laid by us",
      "F-9B as laid",
    ]);
    expect(await shown(page.getByRole("contentinfo"))).toContain("Undo: Merge field.strandbook");
  });
});
