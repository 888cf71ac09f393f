/** A records clerk without a mouse: adds, edits, pastes, fills, undoes; nothing typed is lost. */
import { describe, expect, it } from "vitest";
import { newSoundCampus } from "./support/campus.ts";
import {
  clipboard,
  here,
  intoTable,
  keys,
  lastChange,
  onClipboard,
  onRecord,
  toColumn,
  until,
} from "./support/grid.ts";
import { journeyOn, NOTHING } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newSoundCampus, NOTHING);

const cable = async (tag: string) =>
  (await onRecord(journey.plant, { kind: "cable", filters: [{ field: "tag", test: "is", value: tag }] }))[0];

describe("the table, as the ARIA grid pattern has it", () => {
  it("is one tab stop, with its counts and the place of every row said", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    expect(await here(page)).toMatchObject({ row: 1, column: "tag", text: "F-014" });
    const counts = await page.evaluate(() => {
      const grid = document.querySelector("[role=grid]");
      return {
        rows: grid?.getAttribute("aria-rowcount"),
        columns: grid?.getAttribute("aria-colcount"),
        heads: document.querySelectorAll("[role=columnheader]").length,
        stops: document.querySelectorAll("[role=grid] [tabindex='0']").length,
        first: document.querySelector("[data-row='0']")?.getAttribute("aria-rowindex"),
      };
    });
    // Five cables and the empty row, below the head and the row of filters.
    expect(counts).toMatchObject({ rows: "8", stops: 1, first: "3" });
    expect(Number(counts.columns)).toBe(counts.heads);
  });

  it("moves with arrows, Home and End, and stays at its edges", async () => {
    const { page } = journey;
    await keys(page, "ArrowDown", "ArrowRight");
    expect(await here(page)).toMatchObject({ row: 2, column: "name" });
    await keys(page, "Control+End");
    expect(await here(page)).toMatchObject({ row: 6 });
    await keys(page, "ArrowDown");
    expect(await here(page)).toMatchObject({ row: 6 });
    await keys(page, "Control+Home", "ArrowLeft");
    expect(await here(page)).toMatchObject({ row: 1, column: "tag" });
  });

  it("leaves with Tab and remembers its cell", async () => {
    const { page } = journey;
    await keys(page, "ArrowDown", "Tab");
    expect(await here(page)).toBeNull();
    await keys(page, "Shift+Tab");
    expect(await here(page)).toMatchObject({ row: 2, column: "tag" });
  });

  it("sorts from its heads", async () => {
    const { page } = journey;
    await keys(page, "Control+Home", "ArrowUp", "Enter", "Enter");
    await page.locator("[role=columnheader][aria-sort=descending]").waitFor();
    await page.locator("[data-row='0'] >> text=F-070").waitFor();
    await keys(page, "Enter");
    await page.locator("[data-row='0'] >> text=F-014").waitFor();
    await keys(page, "ArrowDown");
  });
});

describe("a new cable", () => {
  it("is written when the row is left, whole, with its type chosen from the list", async () => {
    const { page } = journey;
    await keys(page, "Control+End", "Home");
    await page.keyboard.type("F-200");
    await keys(page, "Tab");
    await page.keyboard.type("North ring");
    await keys(page, "Tab");
    expect(await here(page)).toMatchObject({ column: "type", editing: true });
    await page.keyboard.type("din");
    await page.getByRole("option", { name: /LT-DIN/ }).waitFor();
    expect(await cable("F-200")).toBeUndefined();
    await keys(page, "ArrowDown", "Enter");
    await until("the cable", async () => (await cable("F-200")) !== undefined);
    expect(await cable("F-200")).toMatchObject({ values: { name: "North ring" }, shown: { type_id: "LT-DIN" } });
    expect(await lastChange(journey.plant)).toBe("Add cable F-200");
  });

  it("leaves the focus on the next empty row, in the column where the run began", async () => {
    const { page } = journey;
    await page.locator("[data-row='6'] .grid-gutter >> text=new").waitFor();
    expect(await here(page)).toMatchObject({ row: 7, column: "tag" });
  });

  it("keeps what is missing in view until it is given", async () => {
    const { page } = journey;
    await keys(page, "ArrowRight");
    await page.keyboard.type("without a tag");
    await keys(page, "Enter", "ArrowUp", "ArrowUp");
    await page.getByText("Tag is missing. Kept as typed, not written.").waitFor();
    // The row is there still, in the middle of being made.
    await keys(page, "ArrowDown", "Home");
    await page.keyboard.type("F-201");
    await keys(page, "Enter", "ArrowUp", "ArrowUp", "ArrowUp");
    await until("the cable", async () => (await cable("F-201")) !== undefined);
    expect(await cable("F-201")).toMatchObject({ values: { name: "without a tag" } });
  });
});

describe("a cell", () => {
  it("is written at once, and one undo takes it back", async () => {
    const { page } = journey;
    await keys(page, "Control+Home");
    await toColumn(page, "installed on");
    await page.keyboard.type("3.4.26");
    await keys(page, "Enter");
    await until("the day", async () => (await cable("F-014"))?.values.installed_on === "2026-04-03");
    expect(await here(page)).toMatchObject({ row: 2, column: "installed on", editing: false });
    await keys(page, "Control+z");
    await until("the old day", async () => (await cable("F-014"))?.values.installed_on === "2016-05-11");
    await page.locator("[data-row='0'] >> text=11 May 2016").waitFor();
  });

  it("is left as it was with Escape", async () => {
    const { page } = journey;
    const before = await lastChange(journey.plant);
    await keys(page, "Control+Home", "F2");
    await page.keyboard.type("-X");
    expect(await page.locator("[role=grid] input:focus").inputValue()).toBe("F-014-X");
    await keys(page, "Escape");
    expect(await here(page)).toMatchObject({ text: "F-014", editing: false });
    expect(await lastChange(journey.plant)).toBe(before);
  });

  it("that is refused stays as typed with its reason, through a look elsewhere too", async () => {
    const { page } = journey;
    await keys(page, "Control+Home");
    await toColumn(page, "type");
    await page.keyboard.type("LT-OS9");
    await keys(page, "Enter");
    const reason = page.getByText(/Type is LT-OS9, which is not on record.*Kept as typed, not written/);
    await reason.waitFor();
    await ask(page, "#/enter?kind=building");
    await page.locator("[data-row='0'] >> text=FDY").waitFor();
    await ask(page, "#/enter?kind=cable");
    await reason.waitFor();
    expect((await cable("F-014"))?.shown.type_id).toBe("LT-OS2");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "type");
    expect((await here(page))?.text).toBe("LT-OS9");
    await keys(page, "Escape");
    await reason.waitFor({ state: "detached" });
    expect((await here(page))?.text).toBe("LT-OS2");
  });
});

describe("a block", () => {
  it("from a sheet is pasted as one act with one undo", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await onClipboard(page, "0.05\t-0.03\r\n0,06\t0.02\r\n0.04\t0.06\r\n");
    await keys(page, "Control+v");
    const losses = async () =>
      (await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 3 })).map(
        (row) => [row.values.loss_ab_db, row.values.loss_ba_db],
      );
    const pasted = [
      [0.05, -0.03],
      [0.06, 0.02],
      [0.04, 0.06],
    ];
    await until("the losses", async () => JSON.stringify(await losses()) === JSON.stringify(pasted));
    expect(await lastChange(journey.plant)).toBe("Paste loss A to B and loss B to A of 3 splices");
    await keys(page, "Control+z");
    await until("no losses", async () => (await losses()).flat().every((loss) => loss === null));
    await keys(page, "Control+y");
    await until("the losses again", async () => JSON.stringify(await losses()) === JSON.stringify(pasted));
  });

  it("with one wrong cell writes nothing, marks that cell, and writes the others when told to", async () => {
    const { page } = journey;
    const before = await lastChange(journey.plant);
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await onClipboard(page, "1.5\nmuch\n1.7");
    await keys(page, "Control+v");
    await page.getByText(/Loss A to B is “much”: must be a number/).waitFor();
    expect(await lastChange(journey.plant)).toBe(before);
    await page.getByRole("button", { name: "Write the other 2" }).click();
    await until("two losses", async () => {
      const rows = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 3 });
      return (
        rows[0]?.values.loss_ab_db === 1.5 && rows[1]?.values.loss_ab_db === 0.06 && rows[2]?.values.loss_ab_db === 1.7
      );
    });
    await page.getByRole("button", { name: "Leave all as it was" }).click();
    await page.getByText(/must be a number/).waitFor({ state: "detached" });
  });

  it("is copied so that a spreadsheet, or the table itself, reads it back", async () => {
    const { page } = journey;
    await keys(page, "Control+Home");
    await toColumn(page, "end A");
    await keys(page, "Shift+ArrowDown", "Control+c");
    expect(await clipboard(page)).toBe("F-014:25#1\r\nF-014:26#1");
  });

  it("is filled down with Ctrl+D", async () => {
    const { page } = journey;
    await keys(page, "Control+Home");
    await toColumn(page, "method");
    await keys(page, "ArrowDown", "ArrowDown");
    await page.keyboard.type("mech");
    await keys(page, "Enter", "ArrowUp", "Shift+ArrowDown", "Shift+ArrowDown", "Control+d");
    const methods = async () =>
      (await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 6 })).map(
        (row) => row.values.method,
      );
    const wanted = ["fusion", "fusion", "mechanical", "mechanical", "mechanical", "fusion"];
    await until("the methods", async () => JSON.stringify(await methods()) === JSON.stringify(wanted));
  });

  it("is emptied with Delete", async () => {
    const { page } = journey;
    await keys(page, "Delete");
    await until("no methods", async () => {
      const rows = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit: 5 });
      return rows.slice(2).every((row) => row.values.method === null);
    });
  });
});

describe("typing faster than it is written", () => {
  it("writes each cell of a row in order, none of them stale", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "run");
    await page.keyboard.type("R-1");
    await keys(page, "Tab");
    await page.keyboard.type("reel 7");
    await keys(page, "Tab");
    await page.keyboard.type("feet");
    await keys(page, "Enter");
    await until("all three", async () => {
      const values = (await cable("F-014"))?.values;
      return values?.run === "R-1" && values.reel === "reel 7" && values.mark_unit === "ft";
    });
    await page.getByText("Kept as typed").waitFor({ state: "detached" });
  });
});

describe("a row somebody else changed meanwhile", () => {
  it("is refused with both versions, and either can be taken", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "name");
    // The clerk begins to type; the change of the other desk is written before the clerk's is.
    let first = true;
    await page.route("**/call", async (route) => {
      const body = route.request().postDataJSON() as { name: string };
      if (body.name === "record.edit" && first) {
        first = false;
        const values = { name: "Desk 2's name" };
        await journey.plant.run("record.edit", { kind: "cable", id: "F-014", values }, { author: "Desk 2" });
      }
      await route.continue();
    });
    await page.keyboard.type("Library feed");
    await keys(page, "Enter");
    const both = page.getByText(
      /Desk 2 changed this row after you read it: name is now Desk 2's name, yours is Library feed/,
    );
    await both.waitFor();
    expect((await cable("F-014"))?.values.name).toBe("Desk 2's name");
    await page.getByRole("button", { name: "Write mine over it" }).click();
    await until("the clerk's name", async () => (await cable("F-014"))?.values.name === "Library feed");
    await both.waitFor({ state: "detached" });
    await page.unroute("**/call");
  });
});

describe("deleting", () => {
  it("names what rests on the record, takes it along as one act, and undo brings all of it back", async () => {
    const { page } = journey;
    const strands = async () =>
      (await onRecord(journey.plant, { kind: "strand", within: { kind: "cable", id: "F-070" } })).length;
    await ask(page, "#/enter?kind=cable");
    await intoTable(page);
    await page.keyboard.press("Control+Home");
    while (!(await here(page))?.text.startsWith("F-070")) await page.keyboard.press("ArrowDown");
    await keys(page, "Control+Delete");
    const dialog = page.getByRole("dialog", { name: /F-070 carries other records/ });
    await dialog.getByText("12 strands").first().waitFor();
    await dialog.getByRole("button", { name: /Delete 1 and \d+ with it/ }).click();
    await until("no cable", async () => (await cable("F-070")) === undefined);
    await dialog.waitFor({ state: "detached" });
    await keys(page, "Control+z");
    await until("the cable again", async () => (await cable("F-070")) !== undefined && (await strands()) === 12);
  });
});

describe("an act", () => {
  it("says what it would change, refuses beside the blank, and is done by its button", async () => {
    const { page } = journey;
    await ask(page, "#/acts?do=splice.range");
    await page.getByRole("textbox", { name: "strands" }).first().waitFor();
    await page.keyboard.type("F-014:1-4");
    await keys(page, "Tab");
    await page.keyboard.type("F-033:73-75");
    await page.getByText("F-014:1-4 is 4 strands").first().waitFor();
    const title = page.getByRole("button", { name: "Splice a range to a range" });
    expect(await title.isDisabled()).toBe(true);
    await keys(page, "Control+a");
    await page.keyboard.type("F-021:1-4");
    await keys(page, "Tab");
    await page.keyboard.type("MH-03/CL-3/T2");
    // Those ends are joined already; the act may still record it, and says so.
    await page
      .getByText(/F-021:1 .*(joined|spliced|taken)/)
      .first()
      .waitFor();
    expect(await title.isDisabled()).toBe(true);
    await page.getByRole("checkbox", { name: /although something is taken/ }).check();
    await page.getByText(/4 splices added/).waitFor();
    await page.getByRole("button", { name: "Make 4 splices" }).waitFor();
    const before = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" } });
    await page.keyboard.press("Control+Enter");
    await until("four splices more", async () => {
      const after = await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" } });
      return after.length === before.length + 4;
    });
    expect(await lastChange(journey.plant)).toMatch(/^Splice F-014:1-4 to F-021:1-4/);
    // Ready for the next: what it was about is gone, how it was done stays.
    await until("an empty blank", async () => {
      return (await page.getByRole("textbox", { name: "strands" }).first().inputValue()) === "";
    });
  });
});

describe("readings of a meter", () => {
  it("are pasted as a table; a wrong row is named by its number, and one act takes all over", async () => {
    const { page } = journey;
    await ask(page, "#/acts?do=measurement.read");
    const table = page.getByRole("textbox", { name: "the table" });
    await table.waitFor();
    await page.getByRole("textbox", { name: "wavelength" }).focus();
    await page.keyboard.type("1310");
    await table.focus();
    await page.keyboard.insertText("of,loss_db\nF-014:1,0.9\nF-014:2,much");
    await page.getByText(/Row 3: much loss_db is not a number/).waitFor();
    await keys(page, "Control+a");
    await page.keyboard.insertText("of,loss_db\nF-014:1,0.9\nF-014:2,1.1");
    await page.getByRole("button", { name: "Take over 2 readings" }).waitFor();
    await page.keyboard.press("Control+Enter");
    await until("two measurements", async () => (await onRecord(journey.plant, { kind: "measurement" })).length === 2);
    expect((await onRecord(journey.plant, { kind: "measurement" })).map(({ values }) => values.loss_db).sort()).toEqual(
      [0.9, 1.1],
    );
  });
});
