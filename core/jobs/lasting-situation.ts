/** What the packet of a lasting mend says of the cable: as it lies now, not as it lay when the temporary mend was planned. */
import type { PlanDraft } from "../act/context.ts";
import { metresIn } from "../model/units.ts";
import type { GapClosing } from "../repair/close-gap.ts";
import { Cables } from "../trace/cables.ts";
import { coilOf } from "../trace/coil.ts";
import type { SheathStop } from "../trace/sheath.ts";
import { knownOf } from "./mend-known.ts";
import type { Situation, SituationStop } from "./situation.ts";

/** A stop of the cable as it lies now: its space, its marks and what is coiled there. */
interface Now extends Pick<SituationStop, "mark_in" | "mark_out" | "coil_m"> {
  readonly id: number;
  readonly space_id: number | null;
}

/**
 * @param cable_id the cable that was cut
 * @param way where its own ends come together over its coils; null where a new piece is laid
 */
export async function situationNow(
  draft: PlanDraft,
  then: Situation,
  cable_id: number,
  way: GapClosing | null,
): Promise<Situation> {
  const now = await stopsNow(draft, cable_id, then.unit);
  const known = await knownOf(
    draft,
    now.map(({ id }) => id),
  );
  const left = new Map(way?.drawn.map(({ stop, left_m }) => [stop.stop.id, left_m]));
  const meets = then.points[way?.meet === "right" ? then.points.length - 1 : 0];
  const pulled = then.points[way?.meet === "right" ? 0 : then.points.length - 1];
  const stops = then.stops.map((stop): SituationStop => {
    const here = now.filter(({ space_id }) => stop.place && space_id === stop.place.id);
    const [first, last] = [here[0], here.at(-1)];
    // It no longer comes by there, or nobody knows which place it was.
    if (!first || !last)
      return { ...stop, ...(stop.place ? { mark_in: null, mark_out: null, coil_m: 0 } : {}), left_m: null };
    const comes_through = way !== null && stop.name === pulled?.words;
    return {
      ...stop,
      mark_in: first.mark_in,
      mark_out: last.mark_out,
      coil_m: first === last ? first.coil_m : null,
      left_m: comes_through ? 0 : (left.get(first.id) ?? null),
      ...known.get(first.id),
    };
  });
  const own = {
    ...then,
    stops,
    lasting: true,
    to_prove: (way?.to_prove.length ?? 0) > 0,
    known_on: draft.context.today,
  };
  if (way === null) return own;
  return {
    ...own,
    kind: "one_point",
    new_cable_m: 0,
    points: meets ? [{ ...meets, work_m: way.work_m }] : [],
    // One splice and the piece less than what was reckoned then: no more than that at most.
    ...(then.expected
      ? { expected: then.expected.map((one) => ({ ...one, length_m: null, glass_m: null, loss_db: null })) }
      : {}),
  };
}

async function stopsNow({ context: { reader } }: PlanDraft, cable_id: number, unit: Situation["unit"]): Promise<Now[]> {
  const cables = await Cables.read(reader, [cable_id], []);
  const facts = cables.byId.get(cable_id);
  if (!facts) return [];
  const along = facts.sheath.stopsBetween(facts.stops[0]?.id ?? null, facts.stops.at(-1)?.id ?? null);
  return along.map((stop, index) => {
    const [mark_in, mark_out] = [stop.mark_in ?? stop.mark_open_to, stop.mark_out ?? stop.mark_open_from];
    const outer = index === 0 || index === along.length - 1;
    return {
      ...{ id: stop.id, space_id: facts.stops[index]?.space_id ?? null, mark_in, mark_out },
      coil_m:
        cutThere(stop) && unit && mark_in !== null && mark_out !== null
          ? metresIn(Math.abs(mark_out - mark_in), unit)
          : coilOf(facts.sheath, stop, outer),
    };
  });
}

/** Where one side of a cut sheath ends all of it up to the mouth is coiled. */
const cutThere = ({ kind, mark_in, mark_out }: SheathStop): boolean =>
  kind === "severed" && (mark_in === null) !== (mark_out === null);
