/** A clerk's desk: a sheet pasted and mapped, a crew's notes understood line by line, each one change and one undo. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { axeFindings, overflow, shown } from "./support/look.ts";
import { picture } from "./support/picture.ts";
import { ask, type OpenWindow, openWindow, SIZES, ZOOMED } from "./support/window.ts";

const journey = journeyOn(newCampus, NOTHING);

async function broken(): Promise<number> {
  const [row] = await journey.plant.store.read((reader) =>
    reader.rows<{ n: number }>(
      "select count(*) as n from strand s join cable c on c.id = s.cable_id where c.tag = 'F-040' and s.condition = 'broken'",
    ),
  );
  return row?.n ?? 0;
}

describe("a pasted sheet", () => {
  it("is known by its heading, tried row by row, and taken over without the row that is unticked", async () => {
    const { page } = journey;
    const before = await broken();
    await ask(page, "#/sheet");
    const text = "fiber\tstatus\tremarks\nF-040:1\tdead\tcrushed\nF-040:2\tdead\t\nF-040:999\tdead\t\nF-040:3\tspare\t";
    await page.getByRole("textbox", { name: /rows pasted/ }).fill(text);
    await page.getByRole("button", { name: "Read the rows" }).click();
    await page.getByText("4 rows: 0 new, 2 changed, 1 same, 1 refused.").waitFor();
    expect(await page.getByRole("button", { name: "Take over 2 rows" }).isDisabled()).toBe(true);
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    await picture(page, "sheet");
    await page.getByRole("button", { name: "Leave out row 4" }).click();
    await page.getByText("4 rows: 0 new, 2 changed, 1 same, 0 refused, 1 left out.").waitFor();
    await page.getByRole("button", { name: "Take over 2 rows" }).click();
    await page.getByText("2 rows taken over").waitFor();
    expect(await broken()).toBe(before + 2);
    await page.getByText("3 same", { exact: false }).first().waitFor();
  });

  it("names what is missing, and makes it where that is ticked", async () => {
    const { page } = journey;
    await ask(page, "#/sheet");
    await page.reload();
    const text = "cable,from,to,strands,per tube\nF-900,GYM/1,LIB/2A,12,12";
    await page.getByRole("textbox", { name: /rows pasted/ }).fill(text);
    await page.getByRole("button", { name: "Read the rows" }).click();
    await page.getByText("1 refused").first().waitFor();
    await page.getByRole("checkbox", { name: /make building GYM/ }).check();
    await page.getByRole("checkbox", { name: /make space GYM\/1/ }).check();
    await page.getByRole("combobox", { name: "Kind of GYM/1" }).selectOption({ label: "telecom room" });
    await page.getByText("1 rows: 1 new".replace("rows", "row")).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await picture(page, "sheet-missing");
    await page.getByRole("button", { name: "Take over 1 row" }).click();
    await page.getByText("1 row taken over").waitFor();
    const { total } = await journey.plant.run<{ total: number }>("record.window", {
      kind: "space",
      filters: [{ field: "building_id", test: "is", value: "GYM" }],
    });
    expect(total).toBe(1);
  });
});

describe("how a sheet is read", () => {
  /** Parted by bars, decimals with commas, a title above, letters of windows-1252. */
  const bytes = Buffer.from(
    ["Splices of May", "Fach|Platz|Kabel A|Kabel B|D\u00e4mpfung", "HH-11/CL-11/T5|1|F-033:1|F-014:1|0,12"].join(
      "\r\n",
    ),
    "latin1",
  );
  const file = { name: "sued.csv", mimeType: "text/csv", buffer: bytes };
  const choice = (label: string) => journey.page.getByRole("combobox", { name: label, exact: true });

  const said = (label: string) =>
    choice(label).evaluate((select: HTMLSelectElement) => select.selectedOptions[0]?.textContent ?? "");

  it("is shown as it was found out, can be said otherwise, and is kept for the source in the plant file", async () => {
    const { page } = journey;
    await ask(page, "#/sheet");
    await page.reload();
    await page.locator('input[type="file"]').setInputFiles(file);
    await choice("letters").waitFor();
    expect(await said("letters")).toBe("found out: windows-1252");
    expect(await said("cells parted by")).toBe("found out: upright bars");
    expect(await said("decimals")).toBe("found out: 0,5");
    await choice("cells parted by").selectOption({ label: "semicolons" });
    await expect.poll(() => choice("kind of sheet").count()).toBe(1);
    await choice("cells parted by").selectOption("");
    await expect.poll(() => said("cells parted by")).toBe("found out: upright bars");
    await choice("kind of sheet").selectOption({ label: "splice matrix" });
    const heading = page.getByRole("textbox", { name: "heading in row" });
    await heading.waitFor();
    expect(await heading.inputValue()).toBe("2");
    for (const [column, letters] of [
      ["cable A strand", "C"],
      ["cable B strand", "D"],
      ["tray", "A"],
      ["position", "B"],
      ["loss A to B", "E"],
    ] as const)
      await page.getByRole("combobox", { name: `Column of ${column}`, exact: true }).selectOption(letters);
    await choice("decimals").selectOption("comma");
    await page.getByText("1 row:").first().waitFor();
    await page.getByRole("textbox", { name: "source" }).fill("Crew South");
    await page.getByRole("button", { name: "Keep", exact: true }).click();
    await page.getByText("Sheets from Crew South are read so").first().waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    await picture(page, "sheet-reading");
  });

  it("is taken from the source for the next of its sheets, even where a column has moved", async () => {
    const { page } = journey;
    await page.reload();
    // What lay there comes back first.
    await page.getByRole("button", { name: "Another sheet" }).click();
    const moved = Buffer.from(
      "Kabel A|Kabel B|Fach|Platz|D\u00e4mpfung\r\nF-033:2|F-014:2|HH-11/CL-11/T5|2|0,2",
      "latin1",
    );
    await page.locator('input[type="file"]').setInputFiles({ ...file, buffer: moved });
    await choice("sheets from").selectOption("Crew South");
    await expect.poll(() => page.getByRole("combobox", { name: "Column of tray", exact: true }).inputValue()).toBe("C");
    expect(await choice("kind of sheet").inputValue()).toBe("splices");
    expect(await choice("decimals").inputValue()).toBe("comma");
    const { items } = await journey.plant.run<{ items: { name: string }[] }>("desk.list", { form: "sheet" });
    expect(items.map(({ name }) => name)).toEqual(["Crew South"]);
  });
});

describe("a crew's notes", () => {
  it("are shown line by line beside what they are understood as, asked, and carried out as one", async () => {
    const { page } = journey;
    const before = await broken();
    await journey.plant.run("closure.enter", { tag: "CL-4", space: "MH-03", trays: [{ numbers: "T1", capacity: 24 }] });
    await journey.plant.run("cable.enter", {
      tag: "F-950",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [{ space: "MH-03" }, { space: "HH-12" }],
    });
    await ask(page, "#/notes");
    await page
      .getByRole("textbox", { name: "lines of the notes" })
      .fill("F-014 at MH-03\nF-014 OUT 1433.5 MH-03\n1-3 -> F-950 1-3 T1\nF-040:5-6 dead\nlid is cracked");
    await page.getByText(", 1 to be asked").waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await picture(page, "notes");
    // A reading that the record rules out is named in words, and they stay in their column.
    await page
      .getByRole("textbox", { name: "lines of the notes" })
      .fill("F-040 IN 12000 OUT 12040 HH-12\nF-014 IN 90 OUT 91 HH-12\nF-033 IN 9 OUT 3 MH-08");
    await page.locator(".line-why .described").first().waitFor();
    expect(
      await page.locator(".notes-lines").evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth),
    ).toBe(0);
    await page
      .getByRole("textbox", { name: "lines of the notes" })
      .fill("F-014 at MH-03\nF-014 OUT 1433.5 MH-03\n1-3 -> F-950 1-3 T1\nF-040:5-6 dead\nlid is cracked");
    await page.getByText(", 1 to be asked").waitFor();
    const ways = page.getByRole("combobox", { name: "Line 3: which is meant?" });
    const row = await shown(page.getByRole("row", { name: /1-3 -> F-950/ }));
    expect(row).toContain("to be asked");
    await ways.selectOption({ index: 2 });
    await page.getByRole("button", { name: "Take over 3 lines, keep 1 line as told" }).click();
    await page.getByText("3 lines taken over, 1 line kept as told").waitFor();
    expect(await broken()).toBe(before + 2);
    await journey.plant.run("history.undo", {});
    expect(await broken()).toBe(before);
  });
});

describe.each(["", "200%"])("both pages before anything is typed, letters %s", (letters) => {
  let open: OpenWindow;
  beforeAll(async () => {
    await ask(journey.page, "#/sheet");
    const another = journey.page.getByRole("button", { name: "Another sheet" });
    if ((await another.count()) > 0) await another.click();
    await ask(journey.page, "#/notes");
    open = await openWindow(journey.plant, { letters });
  });
  afterAll(() => open.close());

  it.each([
    ["#/sheet", ".sheet-source"],
    ["#/notes", ".notes-forms"],
  ])("%s: axe finds nothing in either theme, and no size makes it scroll sideways", async (address, shows) => {
    const { page } = open;
    await ask(page, address);
    await page.locator(shows).waitFor();
    for (const theme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme: theme });
      expect(await axeFindings(page, { coloursOnly: theme === "dark" }), theme).toEqual([]);
      for (const size of [...Object.values(SIZES), ZOOMED]) {
        await page.setViewportSize(size);
        expect((await overflow(page)).x).toBe(0);
      }
      await page.setViewportSize(SIZES.laptop);
    }
  });
});
