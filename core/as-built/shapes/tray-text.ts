/** The tray of a row: its whole address, or its number and the place its case is at. */
import { casesOf, traysCalled } from "../../act/trays.ts";
import { resolveOne } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";

/**
 * The tray as an act takes it. A number that several cases have is kept with the cells as what is to be said; one that no
 * case has goes on as it is, and the act tells that it is not on record.
 */
export async function trayText(reader: Reader, cells: RowCells): Promise<string | undefined> {
  const tray = cells.text("tray");
  if (tray === undefined || tray.includes("/")) return tray;
  const called = await traysCalled(reader, tray);
  if (called.length === 0) return tray;
  const at = cells.text("at");
  if (at === undefined) {
    cells.problem("tray", say`${casesOf(called)}: say which, or the place as “at”`, tray);
    return undefined;
  }
  const space = await resolveOne(reader, at, { kinds: ["space"], field: "at" });
  const there = called.filter(({ space_id }) => space_id === space.id);
  const [only] = there;
  if (there.length === 1) return only?.tag;
  if (there.length === 0) cells.problem("tray", say`${casesOf(called)}, and in none at ${space.tag}`, tray);
  else cells.problem("tray", say`${casesOf(there)} at ${space.tag}: say which`, tray);
  return undefined;
}
