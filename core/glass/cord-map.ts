/** How the fibres of a cord go from one plug to the other. */
export type CordMap = "straight" | "crossed" | "reversed";

/**
 * The place at the other plug of fibre `i` of `fibres`, both from 1: in order, each pair crossed, or in reverse order.
 * An odd one out at the end of a crossed cord has no partner and stays where it is. Each map is its own inverse.
 */
export function mapped(map: CordMap, i: number, fibres: number): number {
  switch (map) {
    case "straight":
      return i;
    case "crossed":
      return i % 2 === 0 ? i - 1 : Math.min(i + 1, fibres);
    case "reversed":
      return fibres + 1 - i;
  }
}

/** The same in SQL, for cord `c` and a place counted from 1. */
export const mappedSql = (c: string, place: string): string =>
  `case ${c}.map when 'straight' then ${place} when 'reversed' then ${c}.fibres + 1 - (${place})
    else ${place} + case when (${place}) % 2 = 0 then -1 when ${place} < ${c}.fibres then 1 else 0 end end`;
