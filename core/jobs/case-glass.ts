/**
 * Dark strands in a case in which their cable is opened already, where a piece takes the place of what lies between it and the
 * break: what runs on there is cut, what is spliced to its own other half is taken apart, and what is joined to other glass is
 * taken over.
 */
import type { MendReckoned } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plan.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { outerJoints } from "./outer-joints.ts";

export interface CaseGlass {
  /** Numbers that run on there uncut. */
  readonly uncut: ReadonlySet<number>;
  /** Numbers that are spliced to their own other half there, with the address of the tray. */
  readonly own: ReadonlyMap<number, string | null>;
  /** Numbers that are joined to other glass there. */
  readonly others: ReadonlySet<number>;
  /** Numbers that end there towards the break and are joined to nothing. */
  readonly bare: ReadonlySet<number>;
}

/** By the place of each point that is opened already, in the course. */
export type CaseGlasses = ReadonlyMap<number, CaseGlass>;

const openedAt = ({ points }: MendPlan): { readonly at: number; readonly index: number }[] =>
  points.flatMap(({ at, loop }, index) => (at !== "cut" && loop?.reaches === "opened" ? [{ at, index }] : []));

/** For each splice point its case: that in which the cable is opened already, or else a new one of the number given. */
export async function casesOf(
  reader: Reader,
  { on }: MendReckoned,
  plan: MendPlan,
  fresh: (index: number) => string,
): Promise<string[]> {
  const opened = new Map(openedAt(plan).map(({ at, index }) => [index, on.stops[at]?.stop.id ?? 0]));
  const rows = await reader.rows<{ id: number; closure_id: number }>(
    "select id, closure_id from stop where closure_id is not null and id in (select value from json_each(?))",
    [JSON.stringify([...opened.values()])],
  );
  const tags = await addressesOf(
    reader,
    "closure",
    rows.map(({ closure_id }) => closure_id),
  );
  const entered = new Map(rows.map(({ id, closure_id }) => [id, tags.get(closure_id)]));
  return plan.points.map((_, index) => entered.get(opened.get(index) ?? 0) ?? fresh(index));
}

interface EndRow {
  readonly number: number;
  readonly joined: number;
  readonly own: number | null;
  readonly tray_id: number | null;
}

/** Of the dark strands; empty for a plan that takes none out in a case that is there. */
export async function caseGlass(
  reader: Reader,
  { cable, on, cut }: MendReckoned,
  plan: MendPlan,
  dark: ReadonlySet<number>,
): Promise<CaseGlasses> {
  const found = new Map<number, CaseGlass>();
  for (const { at } of openedAt(plan)) {
    // Towards the break: what goes on beyond a place before it, and comes from before a place beyond it.
    const side = (on.course.stops[at]?.left_m ?? 0) < cut.at_m ? "A" : "B";
    const rows = await reader.rows<EndRow>(
      `with here as (
         select s.id, s.strand_id, t.number from section s join strand t on t.id = s.strand_id
         where t.cable_id = ?1 and iif(?3 = 'A', s.a_stop_id, s.b_stop_id) = ?2),
       joint as (
         select a_section_id as own_id, tray_id, b_section_id as other_id from splice
         where a_side = ?3 and life in ('in_place', 'out_of_use') and a_section_id in (select id from here)
         union all
         select b_section_id, tray_id, a_section_id from splice
         where b_side = ?3 and life in ('in_place', 'out_of_use') and b_section_id in (select id from here)
         union all
         select section_id, null, null from termination
         where side = ?3 and life in ('in_place', 'out_of_use') and section_id in (select id from here))
       select here.number, joint.own_id is not null as joined, other.strand_id = here.strand_id as own,
         joint.tray_id
       from here left join joint on joint.own_id = here.id left join section other on other.id = joint.other_id
       order by here.number`,
      [cable.id, on.stops[at]?.stop.id ?? 0, side],
    );
    const ends = rows.filter(({ number }) => dark.has(number));
    const trays = await addressesOf(
      reader,
      "tray",
      ends.flatMap(({ tray_id }) => tray_id ?? []),
    );
    const numbersOf = (which: (row: EndRow) => boolean): Set<number> =>
      new Set(ends.flatMap((row) => (which(row) ? [row.number] : [])));
    const here = numbersOf(() => true);
    found.set(at, {
      uncut: new Set([...dark].filter((number) => !here.has(number))),
      own: new Map(
        ends.flatMap(({ number, own, tray_id }) =>
          own === 1 ? [[number, trays.get(tray_id ?? 0) ?? null] as const] : [],
        ),
      ),
      others: numbersOf(({ joined, own }) => joined === 1 && own !== 1),
      bare: numbersOf(({ joined }) => joined === 0),
    });
  }
  return found;
}

/** What the piece of a dark plan is landed on at the end of the cable, and whether it is spliced there to other glass. */
export interface DarkLanding {
  readonly numbers: readonly number[];
  readonly spliced: boolean;
}

/** Null for a plan that ends at no end of the cable, or severs. */
export async function darkLanding(
  reader: Reader,
  { cable, on }: MendReckoned,
  { dark_only, landed }: MendPlan,
  dark: ReadonlySet<number>,
): Promise<DarkLanding | null> {
  if (!dark_only || landed === null) return null;
  const joints = await outerJoints(
    reader,
    cable.id,
    on.stops.map(({ stop }) => stop.id),
  );
  const [end, side] = landed === "left" ? [0, "A"] : [on.stops.length - 1, "B"];
  const own = joints.filter((one) => one.at === end && one.side === side && dark.has(one.number));
  return {
    numbers: [...new Set(own.map(({ number }) => number))].sort((a, b) => a - b),
    spliced: own.some(({ section_id }) => section_id !== null),
  };
}
