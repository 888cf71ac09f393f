/** The table as somebody at the keyboard meets it. */
import type { Page } from "playwright";
import type { AnswerOf } from "../../../core/operations/list.ts";
import type { TestPlant } from "../../support/plant.ts";

/** Presses keys one after the other: `keys(page, "ArrowDown", "F2")`. */
export async function keys(page: Page, ...pressed: readonly string[]): Promise<void> {
  for (const key of pressed) await page.keyboard.press(key);
}

/** Goes by F6 from region to region until the focus is in the table. */
export async function intoTable(page: Page): Promise<void> {
  await page.locator("[role=grid] [data-row] .tag").first().waitFor();
  for (let turn = 0; turn < 8; turn++) {
    if (await page.evaluate(() => document.activeElement?.closest("[role=grid]") !== null)) return;
    await page.keyboard.press("F6");
  }
  throw new Error("F6 never came to the table");
}

export interface Here {
  /** From 1, as the table's numbers count them. */
  readonly row: number;
  readonly column: string;
  readonly text: string;
  readonly editing: boolean;
}

/** The cell with the focus. */
export const here = (page: Page): Promise<Here | null> =>
  page.evaluate(() => {
    const cell = document.activeElement?.closest<HTMLElement>("[data-column]");
    const row = cell?.closest<HTMLElement>("[data-row]");
    if (!cell || !row) return null;
    const head = document.querySelector(`[data-head="${cell.dataset.column}"]`);
    return {
      row: Number(row.dataset.row) + 1,
      column: head?.textContent ?? "",
      text:
        document.activeElement instanceof HTMLInputElement ? document.activeElement.value : (cell.textContent ?? ""),
      editing: document.activeElement instanceof HTMLInputElement,
    };
  });

/** Goes with the arrows to the column of that label, in the row one is in. */
export async function toColumn(page: Page, label: string): Promise<void> {
  await page.keyboard.press("Home");
  for (let step = 0; step < 40; step++) {
    if ((await here(page))?.column === label) return;
    await page.keyboard.press("ArrowRight");
  }
  throw new Error(`there is no column ${label}`);
}

/** Puts a text on the clipboard, as another program would. */
export async function onClipboard(page: Page, text: string): Promise<void> {
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.evaluate((copied) => navigator.clipboard.writeText(copied), text);
}

export const clipboard = (page: Page): Promise<string> => page.evaluate(() => navigator.clipboard.readText());

/** Rows on record, for what the window must have written. */
export async function onRecord(plant: TestPlant, input: object): Promise<AnswerOf<"record.window">["rows"]> {
  return (await plant.run<AnswerOf<"record.window">>("record.window", input)).rows;
}

/** Waits until the record says so; a write is on its way for a few milliseconds, on a busy machine for seconds. */
export async function until(what: string, holds: () => Promise<boolean>): Promise<void> {
  for (let turn = 0; turn < 600; turn++) {
    if (await holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`${what} never came to be`);
}

/** The last change set's summary. */
export const lastChange = async (plant: TestPlant): Promise<string> =>
  (await plant.run<AnswerOf<"history.list">>("history.list", { limit: 1 })).items[0]?.summary ?? "";
