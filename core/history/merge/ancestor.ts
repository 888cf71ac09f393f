/** The last change that two files of one plant have in common: each digest takes in all changes before it. */
import { refuse } from "../../result.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import { AS_OF_ACT } from "../as-of.ts";
import { lastId } from "../moments.ts";

export async function commonAncestor(ours: Reader, theirs: Reader, name: string): Promise<number> {
  await refusePicture(theirs, name);
  const same = async (id: number): Promise<boolean> => {
    const [a, b] = [await hashOf(ours, id), await hashOf(theirs, id)];
    return a !== null && a === b;
  };
  let low = 0;
  let high = Math.min(await lastId(ours), await lastId(theirs));
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (await same(middle)) low = middle;
    else high = middle - 1;
  }
  if (low === 0)
    refuse(
      "not_possible",
      say`${name} is the record of another plant: its history and this one's have no change in common. Records of another plant come in by way of a folder of tables.`,
    );
  return low;
}

export async function hashOf(reader: Reader, id: number): Promise<string | null> {
  const [found] = await reader.rows<{ hash: string }>("SELECT hash FROM change_set WHERE id = ?", [id]);
  return found?.hash ?? null;
}

async function refusePicture(theirs: Reader, name: string): Promise<void> {
  const [last] = await theirs.rows<{ act: string; summary: string }>(
    "SELECT act, summary FROM change_set ORDER BY id DESC LIMIT 1",
  );
  if (last?.act === AS_OF_ACT)
    refuse("not_possible", say`${name} shows the plant of the past (${last.summary}); nothing new can come from it.`);
}
