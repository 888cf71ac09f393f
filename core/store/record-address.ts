/** Addresses of records in sets: one query for each level up, however many records are asked for. */
import { joinAddress } from "../model/address.ts";
import { type KindName, kindOf } from "../model/dictionary.ts";
import type { Addressing } from "../model/kind.ts";
import type { Reader } from "./handle.ts";

/** Ids as one parameter, so that a statement's text, and with it its preparation, stays the same. */
export const idList = (ids: Iterable<number>): string => JSON.stringify([...ids]);

/** The kind a reference field of a kind points at. */
export function targetOf(kind: KindName, field: string): KindName {
  const declared = kindOf(kind).fields[field];
  if (declared?.type !== "reference") throw new Error(`${kind}.${field} is no reference`);
  return declared.to as KindName;
}

interface Named {
  readonly id: number;
  readonly name: string | number;
  readonly p0?: number | null;
  readonly p1?: number | null;
  readonly p2?: number | null;
}

const PARENTS = ["p0", "p1", "p2"] as const;

const namedSql = new Map<KindName, string>();
function sqlFor(kind: KindName, address: Addressing): string {
  let sql = namedSql.get(kind);
  if (sql === undefined) {
    const parents = address.parents.map((field, index) => `, ${field} as p${index}`).join("");
    sql = `select id, ${address.name} as name${parents} from "${kind}" where id in (select value from json_each(?))`;
    namedSql.set(kind, sql);
  }
  return sql;
}

/** Records that lie in each other in a circle would have no end of an address. */
const DEEPEST = 40;

/** Addresses of records whose kind has one. Ids that are not on record are left out. */
export async function ownAddresses(
  reader: Reader,
  kind: KindName,
  address: Addressing,
  ids: Iterable<number>,
  depth = 0,
): Promise<Map<number, string>> {
  const wanted = new Set(ids);
  const addresses = new Map<number, string>();
  if (wanted.size === 0 || depth > DEEPEST) return addresses;
  const rows = await reader.rows<Named>(sqlFor(kind, address), [idList(wanted)]);
  const parentOf = (row: Named): { field: string; id: number } | null => {
    for (const [index, field] of address.parents.entries()) {
      const id = row[PARENTS[index] as (typeof PARENTS)[number]];
      if (id !== null && id !== undefined) return { field, id };
    }
    return null;
  };
  const parents = new Map<string, Map<number, string>>();
  for (const field of address.parents) {
    const parentIds = new Set<number>();
    for (const row of rows) {
      const parent = parentOf(row);
      if (parent?.field === field) parentIds.add(parent.id);
    }
    const target = targetOf(kind, field);
    const targetAddress = kindOf(target).address;
    if (targetAddress === null) throw new Error(`${kind} is addressed by ${target}, which has no address`);
    parents.set(field, await ownAddresses(reader, target, targetAddress, parentIds, depth + 1));
  }
  for (const row of rows) {
    const parent = parentOf(row);
    const above = parent === null ? null : (parents.get(parent.field)?.get(parent.id) ?? "…");
    addresses.set(row.id, joinAddress(above, address.separator, row.name));
  }
  return addresses;
}
