/** Tags that look like one that is not on record, for the refusal that says so. */
import { parseAddress } from "../model/address.ts";
import { Fault } from "../model/clean-text.ts";
import { hasTag, type KindName, kindOf } from "../model/dictionary.ts";
import type { Reader } from "./handle.ts";
import { foldTag, Lookup } from "./lookup.ts";
import { idList, ownAddresses, targetOf } from "./record-address.ts";

/** Steps of writing, leaving out and swapping between two words; stops counting beyond `most`. */
export function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min((row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1, (row[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        steps = Math.min(steps, (before[j - 2] ?? 0) + 1);
      next.push(steps);
      least = Math.min(least, steps);
    }
    if (least > most) return most + 1;
    before = row;
    row = next;
  }
  return row[b.length] ?? most + 1;
}

/** More tags than this are not compared. */
const COMPARED = 20_000;

/** Addresses of the records of these kinds whose last name comes closest to the text's, closest first. */
export async function nearestTags(
  reader: Reader,
  text: string,
  kinds: readonly KindName[],
  count = 5,
): Promise<string[]> {
  const segments = parseAddress(text);
  const name = segments instanceof Fault ? text : (segments.at(-1)?.name ?? text);
  const above = segments instanceof Fault ? [] : segments.slice(0, -1);
  const wanted = foldTag(name);
  const most = Math.max(1, Math.min(3, Math.floor(wanted.length / 2)));
  const lookup = new Lookup(reader, "folded");
  const found: { kind: KindName; id: number; steps: number; tag: string }[] = [];
  for (const kind of kinds) {
    const { address } = kindOf(kind);
    if (address === null || !hasTag(kind)) continue;
    const rows: { id: number; tag: string }[] = [];
    if (above.length === 0) {
      const alone = address.parents.map((field) => ` and ${field} is null`).join("");
      rows.push(
        ...(await reader.rows<{ id: number; tag: string }>(
          `select id, tag from "${kind}" where abs(length(tag) - ?) <= 3${alone} limit ${COMPARED}`,
          [name.length],
        )),
      );
    }
    for (const field of above.length > 0 ? address.parents : []) {
      const parents = await lookup.find(targetOf(kind, field), above);
      if (parents.size === 0) continue;
      rows.push(
        ...(await reader.rows<{ id: number; tag: string }>(
          `select id, tag from "${kind}" where ${field} in (select value from json_each(?)) limit ${COMPARED}`,
          [idList(parents)],
        )),
      );
    }
    for (const { id, tag } of rows) {
      const key = foldTag(tag);
      const steps = key.includes(wanted) && wanted.length > 1 ? 0 : distance(key, wanted, most);
      if (steps <= most) found.push({ kind, id, steps, tag });
    }
  }
  found.sort((a, b) => a.steps - b.steps || (foldTag(a.tag) < foldTag(b.tag) ? -1 : 1));
  const nearest: string[] = [];
  for (const { kind, id } of found.slice(0, count)) {
    const { address } = kindOf(kind);
    if (address === null) continue;
    const tag = (await ownAddresses(reader, kind, address, [id])).get(id);
    if (tag !== undefined && !nearest.includes(tag)) nearest.push(tag);
  }
  return nearest;
}
