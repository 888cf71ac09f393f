/**
 * The layout of a synthetic plant of any size: routes from building to building, each a chain of cables spliced in
 * holes and landed on panels at both ends. Pure arithmetic over numbers, so that a million strands need no memory.
 */

export const STRANDS_PER_CABLE = 144;
export const STRANDS_PER_TUBE = 12;
/** Cables of a full route; a strand of one crosses 19 strands, 18 splices and 2 ports: 39 hops. */
export const CABLES_PER_ROUTE = 19;
/** Routes that start in one building: about 2,000 strands end in it. */
export const ROUTES_PER_BUILDING = 7;

export interface Route {
  readonly index: number;
  /** Buildings by number from 0. */
  readonly from: number;
  readonly to: number;
  /** Number of its first cable, from 0, and how many it has. */
  readonly firstCable: number;
  readonly cables: number;
  /** Strands in each of its cables; only the last route of a plant may have fewer than a full cable. */
  readonly strands: number;
  /** Number of its first hole; a route of n cables has n - 1 holes of its own. */
  readonly firstHole: number;
}

export interface Layout {
  readonly routes: readonly Route[];
  readonly buildings: number;
  readonly cables: number;
  readonly holes: number;
  readonly strands: number;
}

/** Routes that hold exactly `strands` strands, at least 2. */
export function layOut(strands: number): Layout {
  const routes: Route[] = [];
  const perRoute = STRANDS_PER_CABLE * CABLES_PER_ROUTE;
  const buildings = Math.max(2, Math.ceil(strands / perRoute / ROUTES_PER_BUILDING) + 1);
  let left = strands;
  let firstCable = 0;
  let firstHole = 0;
  while (left > 0) {
    const index = routes.length;
    const inCable = Math.min(STRANDS_PER_CABLE, left);
    const cables = left >= perRoute ? CABLES_PER_ROUTE : Math.max(1, Math.floor(left / inCable));
    const from = index % buildings;
    const to = (from + 1 + (Math.floor(index / buildings) % (buildings - 1))) % buildings;
    routes.push({ index, from, to, firstCable, cables, strands: inCable, firstHole });
    left -= cables * inCable;
    firstCable += cables;
    firstHole += cables - 1;
  }
  return { routes, buildings, cables: firstCable, holes: firstHole, strands };
}
