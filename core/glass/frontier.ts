/**
 * The same answer as the recursive query, for many ends at once: one step outward for all of them, then the next. What is
 * asked at each step are ranges of ids, since neighbouring strands go the same way.
 */
import type { Reader } from "../store/handle.ts";
import type { Adjacency } from "./adjacency.ts";
import { mappedSql } from "./cord-map.ts";
import { across, idOf, isFront, isPosition, NOWHERE } from "./end.ts";
import { CARRIES, CORD, JOIN, SPLICE, TERMINATION } from "./glass.ts";
import { FROM, RUNS, runsOf, TO } from "./runs.ts";

/** Ends by what may be joined there. */
type Ends = "glass" | "back" | "front";

interface Source {
  /** At which ends it is looked for. */
  readonly at: readonly Ends[];
  readonly kind: number;
  /** Answers id, the end it leaves by, and that it arrives at. */
  readonly sql: string;
}

const sectionEnd = (id: string, side: string): string => `${id} * 4 + (${side} = 'B')`;
const positionEnd = (id: string, side: string): string => `${id} * 4 + 2 + (${side} = 'front')`;

const splices = (own: "a" | "b", other: "a" | "b"): Source => ({
  at: ["glass"],
  kind: SPLICE,
  sql: `select j.id, ${sectionEnd(`j.${own}_section_id`, `j.${own}_side`)},
      ${sectionEnd(`j.${other}_section_id`, `j.${other}_side`)}
    from ${RUNS} cross join splice j on j.${own}_section_id between ${FROM} and ${TO} and j.life in ${CARRIES}`,
});

const joins = (own: "a" | "b", other: "a" | "b"): Source => ({
  at: ["back", "front"],
  kind: JOIN,
  sql: `select j.id, ${positionEnd(`j.${own}_position_id`, `j.${own}_side`)},
      ${positionEnd(`j.${other}_position_id`, `j.${other}_side`)}
    from ${RUNS} cross join module_join j on j.${own}_position_id between ${FROM} and ${TO}`,
});

/** A fibre without a position at the other plug leads nowhere. */
const cords = (own: "a" | "b", other: "a" | "b"): Source => ({
  at: ["front"],
  kind: CORD,
  sql: `select c.id, p.id * 4 + 3, coalesce(q.id * 4 + 3, 0)
    from ${RUNS} cross join position p on p.id between ${FROM} and ${TO}
      cross join cord c on c.${own}_port_id = p.port_id and c.life in ${CARRIES}
        and p.ordinal between c.${own}_first and c.${own}_first + c.fibres - 1
      left join position q on q.port_id = c.${other}_port_id
        and q.ordinal = c.${other}_first - 1 + ${mappedSql("c", `p.ordinal - c.${own}_first + 1`)}`,
});

const LANDING = `j.id, ${sectionEnd("j.section_id", "j.side")}, j.position_id * 4 + 2`;
const SOURCES: readonly Source[] = [
  splices("a", "b"),
  splices("b", "a"),
  {
    at: ["glass"],
    kind: TERMINATION,
    sql: `select ${LANDING} from ${RUNS} cross join termination j on j.section_id between ${FROM} and ${TO}
      and j.life in ${CARRIES}`,
  },
  {
    at: ["back"],
    kind: TERMINATION,
    sql: `select j.id, j.position_id * 4 + 2, ${sectionEnd("j.section_id", "j.side")}
      from ${RUNS} cross join termination j on j.position_id between ${FROM} and ${TO} and j.life in ${CARRIES}`,
  },
  joins("a", "b"),
  joins("b", "a"),
  cords("a", "b"),
  cords("b", "a"),
];

const placeOf = (end: number): Ends => (isFront(end) ? "front" : isPosition(end) ? "back" : "glass");

/** Reads all that can be reached from some ends, none of them known yet, into `glass`. */
export async function readOutward(reader: Reader, glass: Adjacency, starts: Iterable<number>): Promise<void> {
  let open = new Set(starts);
  while (open.size > 0) {
    const next = new Set<number>();
    const ids: Record<Ends, Set<number>> = { glass: new Set(), back: new Set(), front: new Set() };
    for (const end of open) ids[placeOf(end)].add(idOf(end));
    for (const { at, kind, sql } of SOURCES) {
      const wanted = at.flatMap((ends) => [...ids[ends]]);
      if (wanted.length === 0) continue;
      for (const [id, from, to] of (await reader.lists(sql, [runsOf(wanted)])) as [number, number, number][]) {
        // A range is of sections or positions, whichever of their ends was asked about.
        if (!open.has(from) || isThere(glass, from, to, kind, id)) continue;
        glass.add(from, to, kind, id);
        const out = across(to);
        if (to !== NOWHERE && !open.has(out) && !glass.isKnown(out)) next.add(out);
      }
    }
    for (const end of open) glass.markKnown(end);
    open = next;
  }
}

/** What joins an end to itself is found from both its sides. */
function isThere(glass: Adjacency, from: number, to: number, kind: number, id: number): boolean {
  for (let handle = glass.first(from); handle >= 0; handle = glass.next(handle)) {
    if (glass.id(handle) === id && glass.kind(handle) === kind && glass.to(handle) === to) return true;
  }
  return false;
}
