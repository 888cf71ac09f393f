/** Where the glass of a strand ends on its way from an opening, and whether that is a port or nothing at all. */

import { idOf, isPosition, NOWHERE, type Side, sideOf } from "../glass/end.ts";
import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { Stopped } from "../trace/line.ts";
import { say } from "../words/say.ts";

/** `port`: it can be used there; `open`: it ends where a cable does, joined to nothing; `cut`: it was cut on its way. */
export type Reach = "port" | "open" | "cut";

export interface FarEnd {
  readonly reach: Reach;
  readonly place: RecordRef | null;
  /** The stop its glass ends at; null at a port. */
  readonly stop: number | null;
}

/** How much less a strand that ends there serves than one that ends at a port. */
export const SHORT: Readonly<Record<Reach, 0 | 1 | 2>> = { port: 0, open: 1, cut: 2 };

const AT_PORT: FarEnd = { reach: "port", place: null, stop: null };

/** The ends in sets, by the walk that stopped there. */
export async function farEnds(
  reader: Reader,
  walks: readonly (Stopped | null)[],
  stopOf: (section: number, side: Side) => number,
): Promise<(stopped: Stopped | null) => FarEnd> {
  const glassEnd = (stopped: Stopped | null): number | null =>
    stopped?.why === "end" && stopped.end !== NOWHERE && !isPosition(stopped.end)
      ? stopOf(idOf(stopped.end), sideOf(stopped.end))
      : null;
  const stops = await reader.rows<{ id: number; kind: string; space_id: number | null }>(
    "select id, kind, space_id from stop where id in (select value from json_each(?))",
    [JSON.stringify([...new Set(walks.flatMap((one) => glassEnd(one) ?? []))])],
  );
  const places = await refsOf(reader, "space", new Set(stops.flatMap(({ space_id }) => space_id ?? [])));
  const byStop = new Map(
    stops.map(({ id, kind, space_id }): [number, FarEnd] => [
      id,
      {
        reach: kind === "opened" || kind === "severed" ? "cut" : "open",
        place: places.get(space_id ?? 0) ?? null,
        stop: id,
      },
    ]),
  );
  return (stopped) => {
    const stop = glassEnd(stopped);
    return stop === null ? AT_PORT : (byStop.get(stop) ?? { reach: "open", place: null, stop });
  };
}

/** As it stands after the strands it is said of: "end in MH-07, cut there and joined to nothing". */
export function farWords({ reach, place }: FarEnd, many: boolean): string {
  const where = place === null ? say`at a place not on record` : say`in ${place.tag}`;
  if (reach === "cut")
    return many
      ? say`end ${where}, cut there and joined to nothing`
      : say`ends ${where}, cut there and joined to nothing`;
  return many ? say`end open ${where}, landed and joined nowhere` : say`ends open ${where}, landed and joined nowhere`;
}
