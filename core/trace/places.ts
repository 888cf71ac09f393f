/** Places as answers show them. */

import { say } from "../words/say.ts";
import type { Place } from "./answer.ts";
import type { SpaceFacts } from "./facts.ts";

export const NO_PLACE: Place = { space: null, space_kind: null, building: null, building_name: null };

/** Many ends are in one place: it is made once. */
const made = new WeakMap<SpaceFacts, Place>();

export function placeOf(space: SpaceFacts | undefined): Place {
  if (!space) return NO_PLACE;
  let place = made.get(space);
  if (!place) {
    place = placeAt(space);
    made.set(space, place);
  }
  return place;
}

function placeAt(space: SpaceFacts): Place {
  return {
    space: space.ref,
    space_kind: space.kind,
    building:
      space.building_id === null
        ? null
        : { kind: "building", id: space.building_id, tag: space.building ?? String(space.building_id) },
    building_name: space.building_name,
  };
}

/** "in Library", "at MH-03", "in a place that nobody knows". */
export function placeWords(place: Place | null): string {
  if (!place?.space) return say`in a place that nobody knows`;
  return place.building ? say`in ${place.building_name ?? place.building.tag}` : say`at ${place.space.tag}`;
}
