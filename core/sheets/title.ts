/** What every paper says of itself: the plant, the day, and the digest of the record it was made from. */
import type { Code, TitleBlock } from "../paper/document.ts";
import { lastChangeSet } from "../store/change-set.ts";
import type { Reader } from "../store/handle.ts";

export async function titleOf(
  reader: Reader,
  today: string,
  what: string,
  code: Code | null = null,
): Promise<TitleBlock> {
  const [plant] = await reader.rows<{ name: string }>("select name from plant order by id limit 1");
  const last = await lastChangeSet(reader);
  return {
    what,
    plant: plant?.name ?? "",
    made_on: today,
    revision: last?.id ?? null,
    content: last?.hash ?? null,
    who: null,
    code,
  };
}
