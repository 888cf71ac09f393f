/** What lies under what was typed: the ports of a panel, the strands of a cable, the rooms of a building. */
import { KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { resolve } from "./addresses.ts";
import type { Reader } from "./handle.ts";

export interface Under {
  readonly kind: KindName;
  readonly id: number;
  /** How much of its own name is not yet typed. */
  readonly rest: number;
  /** What its owner was called when that was typed; null where it still is. */
  readonly formerOwner: string | null;
}

const like = (text: string): string => text.replace(/[\\%_]/g, (sign) => `\\${sign}`);

/** The owner as typed and the beginning of a name under it: `LIB/101/A:0` is `LIB/101/A` and `0`. */
function splits(text: string, whole: boolean): { owner: string; begins: string }[] {
  const at = Math.max(...["/", ":", "#", "@"].map((separator) => text.lastIndexOf(separator)));
  return [
    ...(whole ? [{ owner: text, begins: "" }] : []),
    ...(at > 0 ? [{ owner: text.slice(0, at), begins: text.slice(at + 1) }] : []),
  ];
}

/**
 * Records that lie directly under a record the text names, in the order of their names. Where kinds are asked for, an
 * owner alone will do (`F-012` for its strands); otherwise its separator must be there, or every cable would bring them.
 */
export async function findUnder(
  reader: Reader,
  text: string,
  limit: number,
  kinds: readonly KindName[] = KIND_NAMES,
): Promise<Under[]> {
  const found: Under[] = [];
  for (const { owner, begins } of splits(text, kinds !== KIND_NAMES)) {
    for (const { kind: ownerKind, id, how } of await resolve(reader, owner)) {
      for (const kind of kinds) {
        const { address, fields } = kindOf(kind);
        const parent = address?.parents.find((name) => {
          const field = fields[name];
          return field?.type === "reference" && field.to === ownerKind;
        });
        if (!address || !parent) continue;
        const order = address.name === "tag" ? "tag_key, id" : `"${address.name}", id`;
        const rows = await reader.rows<{ id: number; name: string }>(
          `select id, cast("${address.name}" as text) as name from "${kind}"
           where "${parent}" = ? and cast("${address.name}" as text) like ? escape '\\' order by ${order} limit ?`,
          [id, `${like(begins)}%`, limit],
        );
        const formerOwner = how === "former" ? owner : null;
        found.push(...rows.map((row) => ({ kind, id: row.id, rest: row.name.length - begins.length, formerOwner })));
      }
    }
  }
  return found.slice(0, limit);
}
