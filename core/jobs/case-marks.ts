/** What the mouths of a cable say once its sheaths are brought into a new case, or to where new cable goes on for them. */
import type { MarkBreak } from "../model/marks.ts";
import { isBeside, landsAnew } from "../repair/case-piece.ts";
import { type CaseArm, leftLying, remainOf } from "../repair/lost-case.ts";
import { NONE } from "../repair/plan.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { markBeside } from "./case-ends.ts";
import type { CaseOrders } from "./case-orders.ts";
import type { CasePiecePlanned } from "./case-planned.ts";
import { marksOf } from "./mend-marks.ts";

export const MARKS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;
export type Marked = Partial<Record<(typeof MARKS)[number], number | null>> & { readonly slack_m?: number };

/** A stop of the cable as it is by then; one beside a case or panel is no record yet. */
export interface Site {
  /** Its id, and whether the stop beside it is meant. */
  readonly key: string;
  readonly id: number | null;
  readonly name: string;
  readonly place: RecordRef | null;
  readonly now: number;
  readonly after: number;
  readonly marks: Required<Omit<Marked, "slack_m">>;
}

export const keyOf = (stop_id: number, beside = false): string => (beside ? `${stop_id} beside` : `${stop_id}`);

/** Where the sheath is spliced to its piece. */
export const keyOfPiece = ({ arm, piece }: CasePiecePlanned): string =>
  keyOf(arm.on.stops[piece.at]?.stop.id ?? 0, isBeside(piece));

type StopRow = Site["marks"] & { readonly id: number; readonly ordinal: number };

/** In order along the cable. */
export async function sitesOf(
  reader: Reader,
  arms: readonly CaseArm[],
  pieces: readonly CasePiecePlanned[],
  orders: CaseOrders,
): Promise<Site[]> {
  const cable_id = arms[0]?.cable.id ?? 0;
  const rows = await reader.rows<StopRow>(
    "select id, ordinal, mark_in, mark_open_from, mark_open_to, mark_out from stop where cable_id = ? order by ordinal",
    [cable_id],
  );
  const told = new Map(arms.flatMap(({ on }) => on.stops.map((one) => [one.stop.id, one] as const)));
  const own = rows.map(({ id, ordinal, ...marks }): Site => {
    const stop = told.get(id);
    return {
      ...{ key: keyOf(id), id, marks },
      ...{ name: stop?.name ?? say`a place not known`, place: stop?.place ?? null },
      ...{ now: orders.now(cable_id, ordinal), after: orders.after(cable_id, ordinal) },
    };
  });
  const beside = pieces
    .filter((one) => isBeside(one.piece))
    .map((one): Site => {
      const mark = markBeside(one);
      return {
        ...{ key: keyOfPiece(one), id: null, name: one.name, place: one.place },
        ...{ now: orders.pieceNow(one), after: orders.pieceAfter(one) },
        marks: { mark_in: mark, mark_open_from: null, mark_open_to: null, mark_out: mark },
      };
    });
  return [...own, ...beside].sort((a, b) => a.now - b.now);
}

export const printedAt = (sites: readonly Site[]): (number | null)[] =>
  sites.flatMap(({ id, marks }) => (id === null ? [] : MARKS.map((field) => marks[field])));

const NOTHING_LEFT = {
  left: { mark_in: null, mark_open_from: null },
  right: { mark_open_to: null, mark_out: null },
} as const;

/** By stop what differs from what is on record: what its mouths say once sheath has slid, and where the ends lie. */
export function marksAfter(
  arms: readonly CaseArm[],
  sites: readonly Site[],
  breaks: readonly MarkBreak[],
): Map<string, Marked> {
  const marks = new Map<string, Marked>();
  const add = (key: string, own: Marked): void => void marks.set(key, { ...marks.get(key), ...own });
  for (const arm of arms) {
    for (const [key, own] of marksOfArm(arm, sites, breaks)) add(key, own);
    // What came into the place from there doesn't any more.
    if (arm.piece) add(keyOf(arm.end.stop_id), NOTHING_LEFT[arm.side]);
  }
  return new Map(sites.map((site) => [site.key, changedOf(site, marks.get(site.key) ?? {})]));
}

function marksOfArm(arm: CaseArm, sites: readonly Site[], breaks: readonly MarkBreak[]): [string, Marked][] {
  const { on, cut, side, piece } = arm;
  // What is given up up to its end, or left lying, slides nowhere.
  if (leftLying(arm) || (piece && landsAnew(piece))) return [];
  const [at, work_m, remain] = [piece?.at ?? arm.at, piece?.point.work_m ?? arm.needs_m, remainOf(arm)];
  const marks = marksOf({
    reckoned: { on, cut, inside: null, somewhere: null },
    before: at,
    plan: {
      ...{ kind: "one_point", landed: side === "left" ? "right" : "left", coils_m: [], new_cable_m: 0, joints: 1 },
      points: [{ at, hole_m: null, work_m, held: piece !== null && isBeside(piece), unproven: [] }],
      ...{ new_holes: 0, pulled_m: 0, to_prove: false, sure: true, proven: true, unlooked: 0, waits_for_pipe: false },
      left: side === "left" ? remain : NONE,
      right: side === "right" ? remain : NONE,
    },
    printed: printedAt(sites),
    breaks,
  });
  // In the new case the other side has its own end; where new cable begins nothing goes on.
  const beyond = (other: CaseArm["side"]): Marked => (piece ? NOTHING_LEFT[other] : {});
  return marks.slid.flatMap((one): [string, Marked][] => {
    const stop = one.at === "cut" ? undefined : on.stops[one.at];
    if (!stop) return [];
    // Where it is held the sheath there stays as it is, and ends beside it.
    const ends = one.at === at && one.beside === (piece !== null && isBeside(piece));
    const own = !ends
      ? { mark_in: marks.printed(one.in_m), mark_out: marks.printed(one.out_m) }
      : side === "left"
        ? { ...beyond("right"), mark_in: marks.printed(one.in_m), mark_open_from: marks.printed(one.left_end_m) }
        : { ...beyond("left"), mark_open_to: marks.printed(one.right_end_m), mark_out: marks.printed(one.out_m) };
    const known = !ends && own.mark_in != null && own.mark_out != null;
    const slack = one.coil_m === null || known ? {} : { slack_m: Math.round(one.coil_m * 1000) / 1000 };
    return [[keyOf(stop.stop.id, one.beside), { ...own, ...slack }]];
  });
}

/** Marks are worked out to a tenth. */
function changedOf({ marks: was }: Site, { slack_m, ...marks }: Marked): Marked {
  const changed = Object.entries(marks).filter(([field, mark]) => {
    const before = was[field as (typeof MARKS)[number]];
    return mark === null || mark === undefined ? before !== null : before === null || Math.abs(before - mark) >= 0.1;
  });
  return { ...Object.fromEntries(changed), ...(slack_m === undefined ? {} : { slack_m }) };
}
