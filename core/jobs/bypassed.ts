/**
 * Places and ways that a piece over the ground leaves aside. A temporary mend takes the dead stretch off the record, so its
 * job keeps what it lay in, for the lasting piece is laid there again.
 */
import type { StopsGiven } from "../act/cable-enter.ts";
import type { PlanDraft } from "../act/context.ts";
import type { Row } from "../model/dictionary.ts";
import { elsewhere } from "../repair/doubtful.ts";
import type { LegToLay } from "../repair/laid.ts";
import { formOf, NO_WAY, type WayForm } from "../repair/ways.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { Stretch } from "./mend-piece.ts";

interface BypassedStop {
  readonly space_id: number | null;
  /** What leads on from it; null at the last, and where nobody knows. */
  readonly pathway_id: number | null;
  readonly conduit_id: number | null;
  readonly held: Row<"leg">["held"];
  /** Or the part of a pathway beyond a hole that this job digs, by the number it gets. */
  readonly part: string | null;
}

export interface Bypassed {
  readonly stops: readonly BypassedStop[];
  /** From which of them the broken leg leads on. */
  readonly broken: number;
}

type StopRow = Omit<BypassedStop, "part"> & { readonly ordinal: number };

/** @param before the order of the stop before the cut */
export async function bypassedBy(
  { context: { reader } }: PlanDraft,
  { cable_id, from, to, cut_stop, hole }: Stretch,
  before: number,
): Promise<Bypassed> {
  const rows = await reader.rows<StopRow>(
    `select s.ordinal, s.space_id, l.pathway_id, l.conduit_id, l.held from stop s
       left join leg l on l.from_stop_id = s.id and l.life in ('in_place', 'out_of_use')
     where s.cable_id = ? and s.ordinal between ? and ? and s.id is not ? group by s.id order by s.ordinal`,
    [cable_id, from, to, cut_stop],
  );
  const last = rows.length - 1;
  const unknown = { pathway_id: null, conduit_id: null, held: null };
  const stops = rows.map(({ ordinal: _, ...row }, index): BypassedStop => {
    // The stop on the far side of the cut stands for the hole, and the part of the way beside it is not on record yet.
    const space_id = hole && index === (hole.at_start ? 0 : last) ? hole.space_id : row.space_id;
    const beside = hole !== null && index === (hole.at_start ? 0 : last - 1);
    return { ...row, space_id, ...(beside || index === last ? unknown : {}), part: beside ? hole.pathway : null };
  });
  const broken = rows.findLastIndex(({ ordinal }) => ordinal <= before);
  return { stops, broken: Math.min(Math.max(0, broken), Math.max(0, last - 1)) };
}

export interface LiesAgain {
  readonly stops: StopsGiven;
  /** The places beside the break, and what the cable lies in there. */
  readonly around: readonly [string, string];
  readonly form: WayForm;
  /** Pathways that the piece is laid in, by id. */
  readonly pathways: readonly number[];
  /** Leg by leg, for what lies beside it there. */
  readonly legs: readonly (LegToLay & {
    /** A pipe that leads elsewhere, so that nothing is laid in it; the record is to be corrected. */
    readonly odd_conduit_id?: number;
  })[];
  /** The places in order; null where nobody knows one. */
  readonly spaces: readonly (number | null)[];
  /** Legs of which nobody knows what they lie in. */
  readonly unknown: number;
}

/** The same as stops of a cable that is entered; a way that is no longer on record is not known. */
export async function liesAgain(reader: Reader, { stops, broken }: Bypassed): Promise<LiesAgain> {
  const of = (field: "space_id" | "pathway_id" | "conduit_id") => new Set(stops.flatMap((stop) => stop[field] ?? []));
  const spaces = await addressesOf(reader, "space", of("space_id"));
  const pathways = await addressesOf(reader, "pathway", of("pathway_id"));
  const conduits = await addressesOf(reader, "conduit", of("conduit_id"));
  const parts = await reader.rows<{ id: number; tag: string }>(
    "select id, tag from pathway where tag in (select value from json_each(?))",
    [JSON.stringify(stops.flatMap(({ part }) => part ?? []))],
  );
  const partOf = new Map(parts.map(({ tag, id }) => [tag, id]));
  const astray = await reader.rows<{ at: number }>(
    `select j.key as at from json_each(?) j join conduit d on d.id = j.value ->> 'conduit_id'
       join pathway other on other.id = d.pathway_id join pathway own on own.id = j.value ->> 'pathway_id'
     where ${elsewhere("(j.value ->> 'space_id')", "(j.value ->> 'to_id')")}`,
    [JSON.stringify(stops.map((stop, index) => ({ ...stop, to_id: stops[index + 1]?.space_id ?? null })))],
  );
  const odd = new Set(astray.map(({ at }) => at));
  const legs = stops.slice(0, -1).map((stop, index) => {
    const conduit = odd.has(index) ? undefined : conduits.get(stop.conduit_id ?? 0);
    const pathway = pathways.get(stop.pathway_id ?? 0) ?? (stop.part && partOf.has(stop.part) ? stop.part : undefined);
    const pathway_id = pathway === undefined ? null : (stop.pathway_id ?? partOf.get(stop.part ?? "") ?? null);
    return { way: conduit ? { conduit } : pathway ? { pathway } : {}, pathway_id };
  });
  const nameOf = (index: number): string => spaces.get(stops[index]?.space_id ?? 0) ?? say`a place not known`;
  const [leg] = await reader.rows<{ kind: Row<"pathway">["kind"] }>("select kind from pathway where id = ?", [
    legs[broken]?.pathway_id ?? 0,
  ]);
  const at = stops[broken];
  const pipeOf = (index: number) => {
    const conduit_id = stops[index]?.conduit_id ?? null;
    if (conduit_id === null || !conduits.has(conduit_id)) return { conduit_id: null };
    return odd.has(index) ? { conduit_id: null, odd_conduit_id: conduit_id } : { conduit_id };
  };
  return {
    stops: stops.map(({ space_id }, index) => ({
      space: spaces.get(space_id ?? 0) ?? null,
      ...(legs[index] ? { way: legs[index].way } : {}),
    })),
    around: [nameOf(broken), nameOf(broken + 1)],
    form: formOf({
      ...NO_WAY,
      kind: leg?.kind ?? null,
      piped: conduits.has(at?.conduit_id ?? 0),
      held: at?.held ?? null,
    }),
    pathways: legs.flatMap(({ pathway_id }) => pathway_id ?? []),
    legs: legs.map(({ pathway_id }, index) => ({
      between: [nameOf(index), nameOf(index + 1)] as const,
      pathway_id,
      ...pipeOf(index),
    })),
    spaces: stops.map(({ space_id }) => space_id),
    unknown: legs.filter(({ way }) => Object.keys(way).length === 0).length,
  };
}
