/** A clerk with many cells at once: counting on, copying with names, cutting, and blocks that reach beyond the screen. */
import { describe, expect, it } from "vitest";
import { newCampus } from "./support/campus.ts";
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

const journey = journeyOn(newCampus, NOTHING);

const losses = async (limit: number) =>
  (await onRecord(journey.plant, { kind: "splice", within: { kind: "space", id: "MH-03" }, limit })).map(
    (row) => row.values.loss_ab_db,
  );

describe("counting on", () => {
  it("goes on from the filled cells at the top of a column, at their step", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await onClipboard(page, "0.01\n0.03");
    await keys(page, "Control+v");
    await until("two losses", async () => (await losses(2))[1] === 0.03);
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await keys(page, ...Array(5).fill("Shift+ArrowDown"), "Control+Shift+d");
    const wanted = [0.01, 0.03, 0.05, 0.07, 0.09, 0.11, null];
    await until("the series", async () => JSON.stringify(await losses(7)) === JSON.stringify(wanted));
    expect(await lastChange(journey.plant)).toBe("Count on loss A to B of 4 splices");
    await page.getByText("Counted on: loss A to B 0.05 to 0.11.").first().waitFor();
    await keys(page, "Control+z");
    await until("the two again", async () => (await losses(3))[2] === null);
  });

  const column = async (kind: string, within: object, field: string, limit: number) =>
    (await onRecord(journey.plant, { kind, within, limit })).map((row) => row.values[field]);

  it("goes on with the strands of the next tube from a range that is typed, and from two that are pasted", async () => {
    const { page } = journey;
    const prints = (limit: number) => column("unit", { kind: "cable", id: "F-033" }, "mark", limit);
    await ask(page, "#/enter?kind=unit&in=F-033");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "print");
    await page.keyboard.type("F-033:1-12");
    await keys(page, "Enter", "ArrowUp", ...Array(3).fill("Shift+ArrowDown"), "Control+Shift+d");
    const tubes = ["F-033:1-12", "F-033:13-24", "F-033:25-36", "F-033:37-48"];
    await until("four tubes", async () => JSON.stringify(await prints(4)) === JSON.stringify(tubes));
    await keys(page, "Control+Home");
    await toColumn(page, "print");
    await onClipboard(page, "T 1-6\nT 7-12");
    await keys(page, "Control+v");
    await until("the two that were pasted", async () => (await prints(2))[1] === "T 7-12");
    await keys(page, "Control+Home");
    await toColumn(page, "print");
    await keys(page, ...Array(3).fill("Shift+ArrowDown"), "Control+Shift+d");
    // All are filled: the first alone is counted on from, by its own width.
    const sixes = ["T 1-6", "T 7-12", "T 13-18", "T 19-24"];
    await until("sixes", async () => JSON.stringify(await prints(4)) === JSON.stringify(sixes));
    await keys(page, "Control+d");
    await until("the first in all", async () => (await prints(4)).every((print) => print === "T 1-6"));
    await keys(page, "Control+z");
    await until("sixes again", async () => JSON.stringify(await prints(4)) === JSON.stringify(sixes));
  });

  it("numbers ports as the first is numbered, and pastes the numbers elsewhere", async () => {
    const { page } = journey;
    const tags = (limit: number) => column("port", { kind: "panel", id: "LIB/2A/P1" }, "tag", limit);
    await ask(page, "#/enter?kind=port&in=LIB/2A/P1");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "tag");
    await page.keyboard.type("001");
    await keys(page, "Enter");
    await until("the first", async () => (await tags(1))[0] === "001");
    await keys(page, "Control+Home");
    await toColumn(page, "tag");
    await keys(page, ...Array(3).fill("Shift+ArrowDown"), "Control+Shift+d");
    const numbers = ["001", "002", "003", "004"];
    await until("four numbers", async () => JSON.stringify(await tags(4)) === JSON.stringify(numbers));
    expect(await lastChange(journey.plant)).toBe("Count on tag of 3 ports");
    await keys(page, "Control+c");
    await until("the numbers on the clipboard", async () => (await clipboard(page)) === numbers.join("\r\n"));
    await keys(page, "Control+Home");
    await toColumn(page, "adapter colour");
    await keys(page, "Control+v");
    const colours = () => column("port", { kind: "panel", id: "LIB/2A/P1" }, "adapter_colour", 4);
    await until("the numbers elsewhere", async () => JSON.stringify(await colours()) === JSON.stringify(numbers));
  });

  it("says why words don't count on, and writes nothing", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=building");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "name");
    const before = await lastChange(journey.plant);
    await keys(page, "Shift+ArrowDown", "Control+Shift+d");
    await page
      .getByText(/name doesn't count on from .*: it needs a number, in even steps/)
      .first()
      .waitFor();
    expect(await lastChange(journey.plant)).toBe(before);
  });
});

describe("a block on the clipboard", () => {
  it("takes its columns' names and units along with Ctrl+Shift+C", async () => {
    const { page } = journey;
    await ask(page, "#/enter?kind=splice&in=MH-03");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await keys(page, "Shift+ArrowDown", "Control+Shift+c");
    await until("the block", async () => (await clipboard(page)).startsWith("loss"));
    expect(await clipboard(page)).toBe("loss A to B, dB\r\n0.01\r\n0.03");
  });

  it("leaves its cells empty when it is cut, and pasting it elsewhere moves it", async () => {
    const { page } = journey;
    await keys(page, "Control+x");
    await until("empty cells", async () => (await losses(2)).every((loss) => loss === null));
    expect(await clipboard(page)).toBe("0.01\r\n0.03");
    expect(await lastChange(journey.plant)).toBe("Empty loss A to B of 2 splices");
    await keys(page, "Control+Home");
    await toColumn(page, "loss A to B, dB");
    await keys(page, "ArrowDown", "ArrowDown", "Control+v");
    await until("the losses two rows below", async () => JSON.stringify(await losses(4)) === "[null,null,0.01,0.03]");
  });

  it("holds every row, also those that were never on screen", async () => {
    const { page } = journey;
    const all = (await onRecord(journey.plant, { kind: "strand", limit: 1000 })).length;
    expect(all).toBeGreaterThan(200);
    await ask(page, "#/enter?kind=strand");
    await intoTable(page);
    await keys(page, "Control+a", "Control+c");
    await until("all strands", async () => (await clipboard(page)).split("\r\n").length === all);
  });
});

describe("a block with one wrong cell far below", () => {
  it("is refused whole, the cell is gone to, and the others are written when that is chosen", async () => {
    const { page } = journey;
    const places = async () =>
      (
        await onRecord(journey.plant, {
          kind: "strand",
          limit: 1000,
          filters: [{ field: "place", test: "is", value: 77 }],
        })
      ).length;
    await ask(page, "#/enter?kind=strand");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "place");
    await onClipboard(page, Array.from({ length: 220 }, (_, at) => (at === 200 ? "none" : "77")).join("\n"));
    await keys(page, "Control+v");
    await page.getByText("1 cell refused").waitFor();
    expect(await places()).toBe(0);
    await keys(page, "Control+Home");
    await page.getByRole("button", { name: "Go to it" }).click();
    await until("the cell", async () => (await here(page))?.row === 201);
    expect(await here(page)).toMatchObject({ column: "place", text: "none" });
    await page.getByText(/Place is “none”/).waitFor();
    await page.getByRole("button", { name: "Write the other 219" }).click();
    await until("the others", async () => (await places()) === 219);
    await page.getByRole("button", { name: "Leave all as it was" }).click();
    await keys(page, "Control+z");
    await until("none", async () => (await places()) === 0);
  });
});

describe("all rows at once", () => {
  it("are emptied as one act, those beyond the screen too, and no record is made", async () => {
    const { page } = journey;
    const filled = [{ field: "condition_why", test: "filled" }];
    const explained = async () =>
      (await onRecord(journey.plant, { kind: "strand", limit: 1000, filters: filled })).length;
    const strands = await onRecord(journey.plant, { kind: "strand", limit: 1000 });
    await journey.plant.run("record.change_many", {
      changes: strands.map(({ id }) => ({ op: "edit", kind: "strand", id, values: { condition_why: `found ${id}` } })),
    });
    await ask(page, "#/enter?kind=strand");
    await intoTable(page);
    await keys(page, "Control+Home");
    await toColumn(page, "why");
    await keys(page, "Control+Space", "Delete");
    await until("nothing said", async () => (await explained()) === 0);
    expect(await lastChange(journey.plant)).toBe(`Empty why of ${strands.length} strands`);
    expect(await onRecord(journey.plant, { kind: "strand", limit: 1000 })).toHaveLength(strands.length);
    await keys(page, "Control+z");
    await until("all said again", async () => (await explained()) === strands.length);
  });

  it("are deleted though they were never on screen", async () => {
    const { page } = journey;
    // More than the window ever holds of a table it was never scrolled through: the middle wasn't read.
    await journey.plant.run("record.change_many", {
      changes: Array.from({ length: 400 }, (_, at) => ({ op: "add", kind: "building", values: { tag: `B-${at}` } })),
    });
    const barns = async () =>
      (
        await onRecord(journey.plant, {
          kind: "building",
          filters: [{ field: "tag", test: "starts", value: "B-" }],
          limit: 500,
        })
      ).length;
    await ask(page, "#/enter?kind=building&where=tag%3DB-*");
    await page.locator("[role=grid] [data-row='0'] >> text=B-0").waitFor();
    await intoTable(page);
    await keys(page, "Control+a", "Control+Delete");
    await until("no barns", async () => (await barns()) === 0);
    expect(await lastChange(journey.plant)).toBe("Delete 400 buildings");
    expect(await onRecord(journey.plant, { kind: "building" })).toHaveLength(4);
    await keys(page, "Control+z");
    await until("all again", async () => (await barns()) === 400);
  });
});
