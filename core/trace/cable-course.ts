/** A cable's course: its stops with marks and coils, and the legs between them, each with its length and where that is from. */
import { KINDS, type Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { RecordRef } from "./answer.ts";
import type { CableAnswer, CableLeg, CableStop } from "./cable-answer.ts";
import type { CableFacts, Cables } from "./cables.ts";
import { coilOf } from "./coil.ts";
import { addressUnder, type SectionFacts } from "./facts.ts";
import { placeOf } from "./places.ts";
import { toMillimetre } from "./totals.ts";

export type CableCourse = Pick<CableAnswer, "stops" | "legs" | "length_m" | "length_from" | "lacks" | "coils_m">;

interface StopExtra {
  readonly id: number;
  readonly metal: Row<"stop">["metal"];
  readonly closure_id: number | null;
  readonly closure: string | null;
  readonly closure_space_id: number | null;
}

interface LegExtra {
  readonly from_stop_id: number;
  readonly to_stop_id: number;
  readonly held: Row<"leg">["held"];
  readonly environment: Row<"pathway">["environment"];
}

const STOPS = `select st.id, st.metal, c.id as closure_id, c.tag as closure, c.space_id as closure_space_id
  from stop st left join closure c on c.id = st.closure_id where st.cable_id = ?`;
const LEGS = `select l.from_stop_id, l.to_stop_id, l.held, p.environment
  from stop st join leg l on l.from_stop_id = st.id left join pathway p on p.id = l.pathway_id
  where st.cable_id = ? and l.life in ('in_place', 'out_of_use') order by l.id`;

export async function courseOf(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  sections: readonly SectionFacts[],
): Promise<CableCourse> {
  const { id, tag } = cable.ref;
  const extras = new Map((await reader.rows<StopExtra>(STOPS, [id])).map((row) => [row.id, row]));
  const held = Map.groupBy(await reader.rows<LegExtra>(LEGS, [id]), (row) => `${row.from_stop_id} ${row.to_stop_id}`);
  const along = cable.sheath.stopsBetween(cable.stops[0]?.id ?? null, cable.stops.at(-1)?.id ?? null);
  const cutAt = cutsOf(cables, sections);

  const stops: CableStop[] = [];
  const legs: CableLeg[] = [];
  let at_m: number | null = 0;
  for (const [index, stop] of along.entries()) {
    const facts = cable.stops[index];
    const outer = index === 0 || index === along.length - 1;
    const inside = cable.sheath.inside(stop);
    const inside_m = inside.length_m === null ? null : toMillimetre(inside.length_m);
    const extra = extras.get(stop.id);
    const record: RecordRef = { kind: "stop", id: stop.id, tag: addressUnder("stop", tag, stop.ordinal) };
    stops.push({
      record,
      place: placeOf(cables.spaces.get(facts?.space_id ?? 0)),
      kind: stop.kind,
      closure: closureOf(cables, extra),
      marks: [stop.mark_in, stop.mark_open_from, stop.mark_open_to, stop.mark_out].filter((mark) => mark !== null),
      at_m,
      inside_m,
      coil_m: coilOf(cable.sheath, stop, outer),
      metal: extra?.metal ? KINDS.stop.fields.metal.values[extra.metal] : null,
      cut: cutAt.get(stop.id) ?? 0,
    });
    const next = along[index + 1];
    if (!next) continue;
    const leg = cable.sheath.between(stop, next);
    const length_m = leg.length_m === null ? null : toMillimetre(leg.length_m);
    const passed_m = index === 0 ? 0 : inside_m;
    at_m = at_m === null || length_m === null || passed_m === null ? null : toMillimetre(at_m + passed_m + length_m);
    const [way] = cables.waysOf(id, stop.id, next.id);
    const [how] = held.get(`${stop.id} ${next.id}`) ?? [];
    const pathway = way?.pathway ?? null;
    const pathwayTag = pathway === null ? null : addressUnder("pathway", null, pathway);
    legs.push({
      from: placeOf(cables.spaces.get(facts?.space_id ?? 0)).space,
      to: placeOf(cables.spaces.get(cable.stops[index + 1]?.space_id ?? 0)).space,
      pathway: way?.pathway_id && pathwayTag ? { kind: "pathway", id: way.pathway_id, tag: pathwayTag } : null,
      conduit:
        way?.conduit_id && way.conduit !== null
          ? { kind: "conduit", id: way.conduit_id, tag: addressUnder("conduit", pathwayTag, way.conduit) }
          : null,
      length_m,
      length_from: leg.from,
      lacks: leg.lacks.length > 0 ? leg.lacks.join("; ") : null,
      held: how?.held ? KINDS.leg.fields.held.values[how.held] : null,
      environment: how?.environment ? KINDS.pathway.fields.environment.values[how.environment] : null,
    });
  }
  const whole = cables.lengthOf(id, along[0]?.id ?? null, along.at(-1)?.id ?? null);
  const coils = stops.map(({ coil_m }) => coil_m);
  return {
    stops,
    legs,
    length_m: whole.length_m,
    length_from: whole.from,
    lacks: along.length > 1 ? whole.lacks : [say`its course is not on record`],
    coils_m:
      coils.length === 0 || coils.includes(null)
        ? null
        : toMillimetre(coils.reduce((sum: number, one) => sum + (one ?? 0), 0)),
  };
}

/** How many strands end at each opening or cut. */
function cutsOf(cables: Cables, sections: readonly SectionFacts[]): Map<number, number> {
  const strands = new Map<number, Set<number>>();
  for (const { strand_id, a_stop_id, b_stop_id } of sections) {
    for (const stop of [a_stop_id, b_stop_id]) {
      const kind = cables.stops.get(stop ?? 0)?.kind;
      if (stop === null || (kind !== "opened" && kind !== "severed")) continue;
      const own = strands.get(stop) ?? new Set();
      own.add(strand_id);
      strands.set(stop, own);
    }
  }
  return new Map([...strands].map(([stop, own]) => [stop, own.size]));
}

function closureOf(cables: Cables, extra: StopExtra | undefined): RecordRef | null {
  if (!extra || extra.closure_id === null || extra.closure === null) return null;
  const space = cables.spaces.get(extra.closure_space_id ?? 0)?.ref.tag ?? null;
  return { kind: "closure", id: extra.closure_id, tag: addressUnder("closure", space, extra.closure) };
}
