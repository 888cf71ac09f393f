/** A piece of new cable as planned records: of the make of the one it mends, along the same ways, of the same run. */
import { cableEnterInput, planCableEnter, type StopsGiven } from "../act/cable-enter.ts";
import type { PlanDraft } from "../act/context.ts";
import type { Row } from "../model/dictionary.ts";
import { PIPE_TO_LAY_IN } from "../repair/doubtful.ts";
import { addressesOf } from "../store/addresses.ts";
import { say } from "../words/say.ts";
import { DAY } from "./step.ts";

export interface PiecePlanned {
  readonly tag: string;
  /** At how many places it stops, both ends included. */
  readonly stops: number;
  /** What makes it as built. */
  readonly changes: readonly object[];
}

export interface PieceGiven extends Stretch {
  readonly tag: string;
  readonly job_id: number;
  /** Metres that are planned from the mouth to the end, at the first stop and at the last: on record until marks are read. */
  readonly ends_m?: readonly [number, number];
  /** Metres that are planned from mouth to mouth, of a piece over the ground: no way on record and no mark tells them. */
  readonly leg_m?: number;
  /** Metres that are planned to stay coiled at places it passes, by their order along it from 0. */
  readonly coils_m?: readonly (readonly [number, number])[];
  /** Other places and ways than those of the cable it mends, and the cable that it is said to mend. */
  readonly stops?: StopsGiven;
  readonly mends?: string;
  /** Of another make than the cable it mends, by its address. */
  readonly type?: string;
}

/** The part of a cable beside which a piece lies. */
export interface Stretch {
  readonly cable_id: number;
  /** From and to these orders among the stops of the cable it mends. */
  readonly from: number;
  readonly to: number;
  /** The stop at the cut, where that is on record: the piece doesn't stop there. */
  readonly cut_stop: number | null;
  /** It lies over the ground for the time being, in none of the ways of the other, and passes none of its places. */
  readonly over_ground: boolean;
  /** It begins or ends in a new hole; what it lies in from there once the hole divides the way. */
  readonly hole: { readonly space_id: number; readonly at_start: boolean; readonly pathway: string | null } | null;
}

type CableRow = Pick<Row<"cable">, "tag" | "run" | "type_id" | "colour_sequence" | "unit_colours" | "strand_colours">;
type UnitGroup = { kind: Row<"unit">["kind"]; repeats: number; strands: number };

/** Refuses what entering a cable refuses: a tag that is taken, a type without strands. */
export async function planPiece(draft: PlanDraft, given: PieceGiven): Promise<PiecePlanned> {
  const { context } = draft;
  const { reader } = context;
  const [cable] = await reader.rows<CableRow>(
    "select tag, run, type_id, colour_sequence, unit_colours, strand_colours from cable where id = ?",
    [given.cable_id],
  );
  if (!cable) throw new Error(`cable ${given.cable_id} is gone`);
  const run = cable.run ?? cable.tag;
  const types = await addressesOf(reader, "cable_type", cable.type_id === null ? [] : [cable.type_id]);
  const type = cable.type_id === null ? null : (types.get(cable.type_id) ?? null);
  const input = cableEnterInput.parse({
    tag: given.tag,
    type: given.type ?? type,
    ...(type === null && given.type === undefined ? { units: await unitsOf(draft, given.cable_id) } : {}),
    run,
    life: "planned",
    stops: withCoils(
      withEnds(withLeg(given.stops ?? (await stopsBetween(draft, given)) ?? [], given.leg_m), given.ends_m),
      given.coils_m ?? [],
    ),
    notes: say`Mends ${given.mends ?? cable.tag}.`,
  });
  const planned = await planCableEnter(context, input);
  const inHole = given.hole === null ? null : given.hole.at_start ? 1 : input.stops.length;
  const made: { kind: "cable" | "leg"; id: number }[] = [];
  for (const change of planned.changes) {
    if (change.op === "insert" && (change.kind === "cable" || change.kind === "leg")) {
      made.push({ kind: change.kind, id: change.id });
      draft.changes.push({ ...change, values: { ...change.values, life_job_id: given.job_id } });
    } else if (change.op === "insert" && change.kind === "stop" && change.values.ordinal === inHole) {
      // The hole is on record only with this very change.
      draft.changes.push({ ...change, values: { ...change.values, space_id: given.hole?.space_id ?? null } });
    } else draft.changes.push(change);
  }
  const legs = made.filter(({ kind }) => kind === "leg");
  const beside = given.hole === null ? null : (given.hole.at_start ? legs[0] : legs.at(-1))?.id;
  for (const notice of planned.notices ?? []) draft.notice(notice);
  return {
    tag: given.tag,
    stops: input.stops.length,
    changes: [
      ...made.map(({ kind, id }) => ({
        op: "edit",
        kind,
        id,
        values: {
          life: "in_place",
          life_from: DAY,
          ...(kind === "cable" ? { installed_on: DAY } : {}),
          // The part of the way that it lies in is there only once the hole has divided it.
          ...(id === beside && given.hole?.pathway ? { pathway_id: given.hole.pathway } : {}),
        },
      })),
      ...(cable.run === null ? [{ op: "edit", kind: "cable", id: given.cable_id, values: { run } }] : []),
    ],
  };
}

function withEnds(stops: NonNullable<StopsGiven>, ends_m: PieceGiven["ends_m"]): StopsGiven {
  if (ends_m === undefined) return stops;
  const last = stops.length - 1;
  const slack = (index: number): object =>
    index === 0 || index === last ? { slack_m: toCentimetre(ends_m[index === 0 ? 0 : 1]) } : {};
  return stops.map((stop, index) => ({ ...stop, ...slack(index) }));
}

/** The one leg of a piece over the ground. */
const withLeg = (stops: NonNullable<StopsGiven>, leg_m: number | undefined): NonNullable<StopsGiven> =>
  leg_m === undefined
    ? stops
    : stops.map((stop, index) =>
        index > 0
          ? stop
          : { ...stop, way: { ...stop.way, length_m: toCentimetre(Math.max(0, leg_m)), length_basis: "planned" } },
      );

function withCoils(stops: StopsGiven, coils_m: NonNullable<PieceGiven["coils_m"]>): StopsGiven {
  const at = new Map(coils_m);
  return stops?.map((stop, index) => {
    const coil_m = at.get(index);
    return coil_m === undefined || coil_m <= 0
      ? stop
      : { ...stop, slack_m: toCentimetre(coil_m), storage: "coil" as const };
  });
}

const toCentimetre = (length_m: number): number => Math.round(length_m * 100) / 100;

interface StopRow {
  readonly id: number;
  readonly ordinal: number;
  readonly space_id: number | null;
}
type LegRow = Pick<Row<"leg">, "from_stop_id" | "pathway_id" | "conduit_id">;

/** The places and ways from one stop of the old cable to another: the new one lies there as well. */
export async function stopsBetween(
  { context: { reader } }: PlanDraft,
  { cable_id, from, to, cut_stop, over_ground, hole }: Stretch,
): Promise<StopsGiven> {
  const stops = await reader.rows<StopRow>(
    "select id, ordinal, space_id from stop where cable_id = ? and ordinal between ? and ? and id is not ? order by ordinal",
    [cable_id, from, to, cut_stop],
  );
  const legs = await reader.rows<LegRow>(
    `select l.from_stop_id, l.pathway_id, ${PIPE_TO_LAY_IN} as conduit_id from leg l join stop s on s.id = l.from_stop_id
     where s.cable_id = ? and l.life in ('in_place', 'out_of_use') order by l.id`,
    [cable_id],
  );
  const way = new Map(legs.map((leg) => [leg.from_stop_id, leg]));
  const spaces = await addressesOf(reader, "space", new Set(stops.flatMap(({ space_id }) => space_id ?? [])));
  const pathways = await addressesOf(reader, "pathway", new Set(legs.flatMap(({ pathway_id }) => pathway_id ?? [])));
  const conduits = await addressesOf(reader, "conduit", new Set(legs.flatMap(({ conduit_id }) => conduit_id ?? [])));
  const own = over_ground ? stops.filter((_, index) => index === 0 || index === stops.length - 1) : stops;
  return own.map(({ id, space_id }, index) => {
    // The stop on the far side of the cut stands for the hole; the way from there is said when it is divided.
    if (hole && index === (hole.at_start ? 0 : own.length - 1))
      return { space: null, ...(hole.at_start ? { way: {} } : {}) };
    if (hole && !hole.at_start && index === own.length - 2)
      return { space: space_id === null ? null : (spaces.get(space_id) ?? null), way: {} };
    if (over_ground) {
      const space = space_id === null ? null : (spaces.get(space_id) ?? null);
      return {
        space,
        ...(index === 0 ? { way: { held: "on_ground", notes: say`Over the ground, for the time being.` } } : {}),
      };
    }
    const leg = index === stops.length - 1 ? undefined : way.get(id);
    const pathway = leg?.pathway_id == null ? null : (pathways.get(leg.pathway_id) ?? null);
    const conduit = leg?.conduit_id == null ? null : (conduits.get(leg.conduit_id) ?? null);
    return {
      space: space_id === null ? null : (spaces.get(space_id) ?? null),
      ...(leg ? { way: conduit ? { conduit } : { pathway } } : {}),
    };
  });
}

/** The make of a cable without a data sheet: its own units, one by one. */
async function unitsOf({ context: { reader } }: PlanDraft, cable_id: number): Promise<UnitGroup[]> {
  const rows = await reader.rows<{ kind: UnitGroup["kind"] | null; strands: number }>(
    `select u.kind, count(*) as strands from strand t left join unit u on u.id = t.unit_id
     where t.cable_id = ? group by t.unit_id order by min(t.number)`,
    [cable_id],
  );
  const groups: UnitGroup[] = [];
  for (const { kind, strands } of rows) {
    const last = groups.at(-1);
    if (last && last.kind === kind && last.strands === strands) last.repeats += 1;
    else groups.push({ kind: kind ?? "bundle", repeats: 1, strands });
  }
  return groups;
}

export interface Make {
  /** By its address. */
  readonly type: string;
  readonly strands: number;
}

/**
 * Of the makes on record the smallest that has so many strands and is built, coloured and glazed as a cable is, for the
 * same surroundings; null where none is smaller than the cable's own.
 */
export async function smallestMake(
  { context: { reader } }: PlanDraft,
  cable_id: number,
  strands: number,
): Promise<Make | null> {
  const rows = await reader.rows<{ id: number; strands: number }>(
    `with recursive units (type_id, id, times, strands) as (
       select cable_type_id, id, repeats, strands from unit_type where parent_id is null
       union all select u.cable_type_id, u.id, units.times * u.repeats, u.strands
       from unit_type u join units on u.parent_id = units.id)
     select t.id, sum(units.times * units.strands) as strands
     from cable c join cable_type own on own.id = c.type_id
       join cable_type t on t.fibre_class is own.fibre_class and t.construction is own.construction
         and (t.environment is own.environment or (t.environment = 'indoor_outdoor' and own.environment is not null))
        and t.colour_sequence is own.colour_sequence
        and t.armour is own.armour and t.metal is own.metal
        and not exists (select 1 from unit_type m where m.cable_type_id = t.id and m.fibre_class is not own.fibre_class
          and m.fibre_class is not null)
       join units on units.type_id = t.id
     where c.id = ?1 and json_type(c.differs, '$.fibre_class') is null
     group by t.id
     having sum(units.times * units.strands) >= ?2
       and sum(units.times * units.strands) < (select count(*) from strand s where s.cable_id = ?1)
     order by 2, t.tag limit 1`,
    [cable_id, strands],
  );
  const [row] = rows;
  const type = row && (await addressesOf(reader, "cable_type", [row.id])).get(row.id);
  return row && type !== undefined ? { type, strands: row.strands } : null;
}
