/** Keys pressed while the table still reads: on a busy machine none of them is lost. */
import { expect, it } from "vitest";
import { newSoundCampus } from "./support/campus.ts";
import { here, intoTable, keys, lastChange, onRecord, toColumn, until } from "./support/grid.ts";
import { held } from "./support/held.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const journey = journeyOn(newSoundCampus);

/** Rows beyond the first are read only when the answer is called, whatever of them the table asks for before they are seen. */
const firstAlone = () => held(journey.page, "record.window", /"offset":[1-9]/);

const focusIsInTable = () =>
  journey.page.evaluate(
    () => document.activeElement?.closest("[role=grid]") !== null && document.activeElement !== null,
  );

it("what is typed into a row that isn't read yet stands in it once it is", async () => {
  const { page, plant } = journey;
  const read = await firstAlone();
  await ask(page, "#/enter?kind=strand");
  await intoTable(page);
  await toColumn(page, "why");
  await keys(page, "Control+End", "ArrowUp");
  await page.keyboard.type("darkk");
  await keys(page, "Backspace", "Enter");
  await page.locator("[role=grid] [data-row]:has([data-column]:focus) .grid-unread").first().waitFor();
  await read();
  const last = async () =>
    (await onRecord(plant, { kind: "strand", offset: 0, limit: 5000 })).at(-1)?.values.condition_why;
  await until("what is said of the last strand", async () => (await last()) === "dark");
});

it("a row that isn't read yet is the one that is deleted", async () => {
  const { page } = journey;
  await ask(page, "#/enter?kind=building");
  const read = await firstAlone();
  await ask(page, "#/enter?kind=strand");
  await intoTable(page);
  await keys(page, "Control+End", "ArrowUp", "Control+Delete");
  await read();
  await page.getByRole("dialog", { name: /carries other records/ }).waitFor();
  await keys(page, "Escape");
});

it("while a table that is asked anew has no rows, the keyboard is in it, and what is pressed waits", async () => {
  const { page, plant } = journey;
  await ask(page, "#/enter?kind=building");
  await intoTable(page);
  await toColumn(page, "name");
  await keys(page, "Control+Home");
  await toColumn(page, "name");
  const { row } = (await here(page)) ?? {};
  expect(row).toBe(1);
  const read = await held(page, "record.window");
  await page.evaluate(() => {
    location.hash = "#/enter?kind=building&by=tag";
  });
  await page.locator('[role=grid][aria-busy="true"]').waitFor();
  expect(await focusIsInTable()).toBe(true);
  await page.keyboard.type("Old Foundry");
  await keys(page, "Enter");
  await read();
  await until("the name of the first", async () => {
    const [first] = await onRecord(plant, {
      kind: "building",
      offset: 0,
      limit: 1,
      sort: [{ field: "tag", descending: false }],
    });
    return first?.values.name === "Old Foundry";
  });
  expect(await lastChange(plant)).toContain("FDY");
});

it("what comes on screen row by row is asked in lots: rows and colours that stand together are asked for once", async () => {
  const { page } = journey;
  await ask(page, "#/enter?kind=building");
  await ask(page, "#/enter?kind=strand");
  await intoTable(page);
  const asked: string[] = [];
  page.on("request", (request) => {
    const said = /"name":"(record\.window|glass\.colours)"/.exec(request.postData() ?? "");
    if (said?.[1]) asked.push(said[1]);
  });
  const ROWS = 120;
  await page.locator("[role=grid]").evaluate(
    (grid, rows) =>
      new Promise<void>((done) => {
        const height = grid.querySelector("[data-row]")?.clientHeight ?? 28;
        let row = 0;
        const next = () => {
          if (row++ === rows) return done();
          grid.scrollBy(0, height);
          requestAnimationFrame(next);
        };
        next();
      }),
    ROWS,
  );
  await page
    .locator(`[role=grid] [data-row="${ROWS + 5}"] .swatch`)
    .first()
    .waitFor();
  expect(asked.filter((name) => name === "glass.colours").length).toBeLessThan(8);
  expect(asked.length).toBeLessThan(16);
});
