/** Sheaths cut back and brought into a new case: coils pulled, where their ends lie and what the marks say, metal, marks read. */
import type { MarkBreak } from "../model/marks.ts";
import { formatNumber } from "../model/units.ts";
import { type CaseArm, type LostCase, remainOf } from "../repair/lost-case.ts";
import { NONE } from "../repair/plan.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { type CasePiecePlanned, clearFor } from "./case-pieces.ts";
import { deadLengths, deadTold } from "./mend-dead.ts";
import { type DeadLength, listed, metres } from "./mend-facts.ts";
import { marksOf } from "./mend-marks.ts";
import { sealsFrom } from "./mend-ways.ts";
import { metalAt } from "./metal-steps.ts";
import { openSeal } from "./open-seal.ts";
import { readMarks } from "./read-marks.ts";
import { byHand, type PlannedStep } from "./step.ts";

const MARKS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;
type Marked = Partial<Record<(typeof MARKS)[number], number | null>> & { readonly slack_m?: number };

interface StopRow {
  readonly id: number;
  readonly ordinal: number;
  readonly kind: string;
  readonly mark_in: number | null;
  readonly mark_open_from: number | null;
  readonly mark_open_to: number | null;
  readonly mark_out: number | null;
}

interface Brought {
  /** Before anything is spliced, what is read afterwards, and what became of dead sheath. */
  readonly bring: readonly PlannedStep[];
  readonly read: readonly PlannedStep[];
  readonly dead: readonly PlannedStep[];
}

/** Where sheaths are brought to: the new case, and for those that lack the case from which new cable goes there. */
export interface BroughtTo {
  readonly into: string;
  readonly pieces: readonly CasePiecePlanned[];
  /** The order of a stop once what lies between has gone. */
  readonly after: (cable_id: number, ordinal: number) => number;
}

/** Cable by cable; one that comes into the case more than once, stop by stop. */
export async function bringSteps(reader: Reader, lost: LostCase, to: BroughtTo): Promise<Brought> {
  const steps: Brought[] = [];
  for (const arms of Map.groupBy(lost.arms, ({ end }) => end.stop_id).values())
    steps.push(await bringOne(reader, lost, arms, to));
  return {
    bring: steps.flatMap(({ bring }) => bring),
    read: steps.flatMap(({ read }) => read),
    dead: steps.flatMap(({ dead }) => dead),
  };
}

async function bringOne(
  reader: Reader,
  { place, lost_m }: LostCase,
  arms: readonly CaseArm[],
  { into, pieces, after }: BroughtTo,
): Promise<Brought> {
  const [first] = arms;
  if (!first) return { bring: [], read: [], dead: [] };
  const pieceOf = (arm: CaseArm): CasePiecePlanned | undefined => pieces.find((one) => one.arm === arm);
  const { cable, end } = first;
  const here = cable.tag;
  const [sheet] = await reader.rows<{ mark_breaks: string | null; metal: number | null }>(
    `select c.mark_breaks, coalesce(json_extract(c.differs, '$.armour'), t.armour) = 'metallic'
       or coalesce(json_extract(c.differs, '$.metal'), t.metal) = 'yes' as metal
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [cable.id],
  );
  const rows = await reader.rows<StopRow>(
    `select id, ordinal, kind, mark_in, mark_open_from, mark_open_to, mark_out from stop where cable_id = ? order by ordinal`,
    [cable.id],
  );
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const marks = new Map<number, Marked>();
  for (const arm of arms) {
    for (const [id, own] of marksAfter(arm, rows, breaks)) marks.set(id, { ...marks.get(id), ...own });
    // What came into the place from there doesn't any more.
    if (arm.piece) marks.set(end.stop_id, { ...marks.get(end.stop_id), ...NOTHING_LEFT[arm.side] });
  }
  /** By the stop the case that hangs at it. */
  const cases = new Map([
    [end.stop_id, into],
    ...arms.flatMap((arm) => {
      const own = pieceOf(arm);
      return own ? [[arm.on.stops[own.piece.at]?.stop.id ?? 0, own.case.tag] as const] : [];
    }),
  ]);
  if (arms.every(({ piece }) => piece)) cases.delete(end.stop_id);
  const changed = rows.flatMap((row) => {
    const own = changedOf(row, marks.get(row.id) ?? {});
    const goes = row.id === end.stop_id && !cases.has(row.id);
    return !goes && (cases.has(row.id) || Object.keys(own).length > 0) ? [{ row, own }] : [];
  });
  const steps: PlannedStep[] = [];
  const through = arms.flatMap((arm) => {
    const { piece, on, at, side } = arm;
    const far = [...remainOf(arm).drawn.map(({ stop }) => stop), ...(piece ? [piece.at] : [])];
    if (far.length === 0) return [];
    const [from, to] = side === "left" ? [Math.min(...far), at] : [at, Math.max(...far)];
    return on.stops.slice(from, to).map(({ stop }) => stop.id);
  });
  for (const seal of await sealsFrom(reader, through)) steps.push(openSeal(seal, cable.tag));
  for (const arm of arms)
    for (const { stop, pulled_m, left_m } of remainOf(arm).drawn) {
      const { on } = arm;
      const towards = pieceOf(arm)?.name ?? place.tag;
      steps.push(
        byHand(
          say`At ${on.stops[stop]?.name} take ${metres(pulled_m)} from the coil of ${cable.tag} and pull it towards ${towards}; ${metres(left_m)} stay coiled`,
          on.stops[stop]?.place ?? null,
        ),
      );
    }
  const basis = (own: Marked) => (MARKS.some((field) => own[field] != null) ? { marks_basis: "computed" } : {});
  const back = lost_m === 0 ? "" : say` by ${metres(lost_m)}, or`;
  const words = broughtWords(arms, { cable: cable.tag, back, into, pieceOf, marks });
  const lacking = arms.flatMap((arm) => pieceOf(arm) ?? []);
  if (arms.length > 1) {
    const moved = lacking.map(({ arm, ordinal }) => [arm.side === "left" ? "left_to" : "right_to", ordinal]);
    steps.push({
      act: "cable.move_cut",
      input: {
        cable: here,
        stop: end.ordinal,
        ...(lacking.length === arms.length ? {} : { space: place.tag }),
        ...Object.fromEntries(moved),
        places: changed.map(({ row, own }) => {
          const closure = cases.get(row.id);
          return { stop: row.ordinal, ...own, ...basis(own), ...(closure === undefined ? {} : { closure }) };
        }),
      },
      words,
      place: lacking.length === 0 ? place : null,
    });
  } else {
    const side = first.side === "left" ? "b" : "a";
    const [own] = lacking;
    if (own)
      steps.push({
        act: "cable.sever",
        input: { cable: here, stop: own.ordinal, [side === "b" ? "stub_a" : "stub_b"]: "yes" },
        words: say`Cut ${cable.tag} at ${own.name}: what lies of it from there to ${place.tag} is given up`,
        place: own.place,
      });
    const glass = await reader.rows<{ id: number }>(
      `select s.id from section s join strand t on t.id = s.strand_id where t.cable_id = ? and s.${side}_stop_id = ? order by s.id`,
      [cable.id, end.stop_id],
    );
    steps.push({
      act: "record.change_many",
      input: {
        changes: [
          ...changed.map(({ row, own }) => ({
            ...{ op: "edit", kind: "stop", id: row.id },
            values: { ...own, ...basis(own), ...(cases.has(row.id) ? { closure_id: cases.get(row.id) } : {}) },
          })),
          ...(lacking.length > 0 ? [] : glass).map(({ id }) => ({
            op: "edit",
            kind: "section",
            id,
            values: { [`${side}_stub`]: "yes" },
          })),
        ],
        summary: say`Bring ${cable.tag} into ${own?.case.tag ?? into}`,
      },
      words,
      place: own?.place ?? place,
    });
  }
  const metal = sheet?.metal == null ? null : sheet.metal === 1;
  if (lacking.length < arms.length)
    steps.push(...metalAt(cable.tag, `${here}@${stopAfter(lacking, end.ordinal, after)}`, place, metal));
  const dead: PlannedStep[] = [];
  const clear: PlannedStep[] = [];
  for (const one of lacking) {
    const now = one.arm.alone ? one.ordinal : after(cable.id, one.ordinal);
    steps.push(...metalAt(cable.tag, `${here}@${now}`, one.place, metal));
    const lengths = await deadOf(reader, one, dead.length, rows, breaks);
    if (lengths.length > 0)
      clear.push(
        clearFor(
          one,
          place.tag,
          lengths.flatMap(({ lies }) => lies),
        ),
      );
    dead.push(...deadTold({ cable }, lengths, false));
  }
  return { bring: [...steps, ...clear], read: readSteps(arms, cable.tag, changed, after), dead };
}

const NOTHING_LEFT = {
  left: { mark_in: null, mark_open_from: null },
  right: { mark_open_to: null, mark_out: null },
} as const;

/** Of a cable that ends in the case nothing goes before new cable has taken its place. */
const stopAfter = (lacking: readonly CasePiecePlanned[], ordinal: number, after: BroughtTo["after"]): number =>
  lacking[0] ? after(lacking[0].arm.cable.id, ordinal) : ordinal;

function broughtWords(
  arms: readonly CaseArm[],
  given: {
    readonly cable: string;
    readonly back: string;
    readonly into: string;
    readonly pieceOf: (arm: CaseArm) => CasePiecePlanned | undefined;
    readonly marks: ReadonlyMap<number, Marked>;
  },
): string {
  const { cable, back, into, pieceOf, marks } = given;
  const near = arms.filter((arm) => !pieceOf(arm));
  const ends = listed(
    near.map(({ towards, needs_m }) => say`the end that comes from ${towards} (${metres(needs_m)} to work with)`),
  );
  const far = arms.flatMap((arm) => {
    const own = pieceOf(arm);
    if (!own) return [];
    // Whoever stands there sees nothing else of the plan.
    const there = marks.get(arm.on.stops[own.piece.at]?.stop.id ?? 0);
    const mark = arm.side === "left" ? there?.mark_open_from : there?.mark_open_to;
    const unit = arm.on.unit === null ? "" : ` ${arm.on.unit}`;
    const cut = mark == null ? "" : say`, cut at mark ${formatNumber(mark, 1)}${unit}`;
    return [
      say`bring the end that comes from ${arm.towards} into ${own.case.tag} (${metres(own.piece.point.work_m)} to work with${cut}) and prepare it`,
    ];
  });
  if (near.length > 0)
    return [
      say`Cut ${cable} back${back} as far as it is harmed; bring ${ends} into ${into} and prepare it`,
      ...far,
    ].join("; ");
  return say`Of ${cable} ${listed(far)}`;
}

/** Sheath that lies dead between where new cable begins and the wrecked case. */
async function deadOf(
  reader: Reader,
  { arm, piece }: CasePiecePlanned,
  skip: number,
  rows: readonly StopRow[],
  breaks: readonly MarkBreak[],
): Promise<DeadLength[]> {
  const { on, cut, at, side, cable } = arm;
  const reckoned = { cable, on, cut, inside: null, somewhere: null };
  const before = side === "left" ? at - 1 : at;
  const printed = rows.flatMap((row) => MARKS.map((field) => row[field]));
  const marks = marksOf({ reckoned, before, plan: piece.plan, printed, breaks });
  const asked = { printed: marks.at, before, inside: null, divided: null, late: false, skip };
  return deadLengths(reader, reckoned, piece.plan, asked);
}

/** By stop what its mouths say once sheath has slid, and where the end lies. */
function marksAfter(arm: CaseArm, rows: readonly StopRow[], breaks: readonly MarkBreak[]): Map<number, Marked> {
  const { on, cut, side, piece } = arm;
  const [at, work_m, remain] = [piece?.at ?? arm.at, piece?.point.work_m ?? arm.needs_m, remainOf(arm)];
  const marks = marksOf({
    reckoned: { on, cut, inside: null, somewhere: null },
    before: at,
    plan: {
      ...{ kind: "one_point", landed: side === "left" ? "right" : "left", coils_m: [], new_cable_m: 0, joints: 1 },
      points: [{ at, hole_m: null, work_m, held: false, unproven: [] }],
      ...{ new_holes: 0, pulled_m: 0, to_prove: false, sure: true, proven: true, unlooked: 0, waits_for_pipe: false },
      left: side === "left" ? remain : NONE,
      right: side === "right" ? remain : NONE,
    },
    printed: rows.flatMap((row) => MARKS.map((field) => row[field])),
    breaks,
  });
  // In the new case the other side has its own end; where new cable begins nothing goes on.
  const beyond = (other: CaseArm["side"]): Marked => (piece ? NOTHING_LEFT[other] : {});
  return new Map(
    marks.slid.flatMap((one): [number, Marked][] => {
      const stop = one.at === "cut" ? undefined : on.stops[one.at];
      if (!stop) return [];
      const own =
        one.at !== at
          ? { mark_in: marks.printed(one.in_m), mark_out: marks.printed(one.out_m) }
          : side === "left"
            ? { ...beyond("right"), mark_in: marks.printed(one.in_m), mark_open_from: marks.printed(one.left_end_m) }
            : { ...beyond("left"), mark_open_to: marks.printed(one.right_end_m), mark_out: marks.printed(one.out_m) };
      const known = one.at !== at && own.mark_in !== null && own.mark_out !== null;
      const slack = one.coil_m === null || known ? {} : { slack_m: Math.round(one.coil_m * 1000) / 1000 };
      return [[stop.stop.id, { ...own, ...slack }]];
    }),
  );
}

/** What differs from what is on record; marks are worked out to a tenth. */
function changedOf(row: StopRow, own: Marked): Marked {
  const { slack_m, ...marks } = own;
  const changed = Object.entries(marks).filter(([field, mark]) => {
    const was = row[field as (typeof MARKS)[number]];
    return mark === null || mark === undefined ? was !== null : was === null || Math.abs(was - mark) >= 0.1;
  });
  return { ...Object.fromEntries(changed), ...(slack_m === undefined ? {} : { slack_m }) };
}

/** What is worked out is read before the job is done. */
const readSteps = (
  arms: readonly CaseArm[],
  tag: string,
  changed: readonly { readonly row: StopRow; readonly own: Marked }[],
  after: BroughtTo["after"],
): PlannedStep[] =>
  changed.flatMap(({ row, own }) => {
    const stop = arms.flatMap(({ on }) => on.stops).find((one) => one.stop.id === row.id);
    const where = { name: stop?.name ?? say`a place not known`, place: stop?.place ?? null };
    const order = after(arms[0]?.cable.id ?? 0, row.ordinal);
    return readMarks(tag, `${tag}@${order}`, own, where);
  });
