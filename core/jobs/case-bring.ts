/** Sheaths cut back and brought into a new case: coils pulled, where their ends lie and what the marks say, metal, marks read. */
import { escapeName } from "../model/address.ts";
import type { MarkBreak } from "../model/marks.ts";
import type { CaseArm, LostCase } from "../repair/lost-case.ts";
import { NONE } from "../repair/plan.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { listed, metres } from "./mend-facts.ts";
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
  /** Before anything is spliced, and what is read afterwards. */
  readonly bring: readonly PlannedStep[];
  readonly read: readonly PlannedStep[];
}

/** Cable by cable; one that comes into the case more than once, stop by stop. */
export async function bringSteps(reader: Reader, lost: LostCase, into: string): Promise<Brought> {
  const steps: Brought[] = [];
  for (const arms of Map.groupBy(lost.arms, ({ end }) => end.stop_id).values())
    steps.push(await bringOne(reader, lost, arms, into));
  return { bring: steps.flatMap(({ bring }) => bring), read: steps.flatMap(({ read }) => read) };
}

async function bringOne(
  reader: Reader,
  { place, lost_m }: LostCase,
  arms: readonly CaseArm[],
  into: string,
): Promise<Brought> {
  const [first] = arms;
  if (!first) return { bring: [], read: [] };
  const { cable, end } = first;
  const here = escapeName(cable.tag, "");
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
  for (const arm of arms)
    for (const [id, own] of marksAfter(arm, rows, breaks)) marks.set(id, { ...marks.get(id), ...own });
  const changed = rows.flatMap((row) => {
    const own = changedOf(row, marks.get(row.id) ?? {});
    return row.id === end.stop_id || Object.keys(own).length > 0 ? [{ row, own }] : [];
  });
  const steps: PlannedStep[] = [];
  const through = arms.flatMap(({ remain, on, at, side }) => {
    const far = remain.drawn.map(({ stop }) => stop);
    if (far.length === 0) return [];
    const [from, to] = side === "left" ? [Math.min(...far), at] : [at, Math.max(...far)];
    return on.stops.slice(from, to).map(({ stop }) => stop.id);
  });
  for (const seal of await sealsFrom(reader, through)) steps.push(openSeal(seal, cable.tag));
  for (const { remain, on } of arms)
    for (const { stop, pulled_m, left_m } of remain.drawn)
      steps.push(
        byHand(
          say`At ${on.stops[stop]?.name} take ${metres(pulled_m)} from the coil of ${cable.tag} and pull it towards ${place.tag}; ${metres(left_m)} stay coiled`,
          on.stops[stop]?.place ?? null,
        ),
      );
  const basis = (own: Marked) => (MARKS.some((field) => own[field] != null) ? { marks_basis: "computed" } : {});
  const ends = listed(
    arms.map(({ towards, needs_m }) => say`the end that comes from ${towards} (${metres(needs_m)} to work with)`),
  );
  const back = lost_m === 0 ? "" : say` by ${metres(lost_m)}, or`;
  const words = say`Cut ${cable.tag} back${back} as far as it is harmed; bring ${ends} into ${into} and prepare it`;
  if (arms.length > 1) {
    steps.push({
      act: "cable.move_cut",
      input: {
        cable: here,
        stop: end.ordinal,
        space: place.tag,
        places: changed.map(({ row, own }) => ({
          stop: row.ordinal,
          ...own,
          ...basis(own),
          ...(row.id === end.stop_id ? { closure: into } : {}),
        })),
      },
      words,
      place,
    });
  } else {
    const side = first.side === "left" ? "b" : "a";
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
            values: { ...own, ...basis(own), ...(row.id === end.stop_id ? { closure_id: into } : {}) },
          })),
          ...glass.map(({ id }) => ({ op: "edit", kind: "section", id, values: { [`${side}_stub`]: "yes" } })),
        ],
        summary: say`Bring ${cable.tag} into ${into}`,
      },
      words,
      place,
    });
  }
  const metal = sheet?.metal == null ? null : sheet.metal === 1;
  steps.push(...metalAt(cable.tag, `${here}@${end.ordinal}`, place, metal));
  return { bring: steps, read: readSteps(arms, cable.tag, changed) };
}

/** By stop what its mouths say once sheath has slid, and where the end lies. */
function marksAfter(
  { on, cut, at, side, remain, needs_m }: CaseArm,
  rows: readonly StopRow[],
  breaks: readonly MarkBreak[],
): Map<number, Marked> {
  const marks = marksOf({
    reckoned: { on, cut, inside: null, somewhere: null },
    before: at,
    plan: {
      ...{ kind: "one_point", landed: side === "left" ? "right" : "left", coils_m: [], new_cable_m: 0, joints: 1 },
      points: [{ at, hole_m: null, work_m: needs_m, held: false, unproven: [] }],
      ...{ new_holes: 0, pulled_m: 0, to_prove: false, sure: true, proven: true, unlooked: 0, waits_for_pipe: false },
      left: side === "left" ? remain : NONE,
      right: side === "right" ? remain : NONE,
    },
    printed: rows.flatMap((row) => MARKS.map((field) => row[field])),
    breaks,
  });
  return new Map(
    marks.slid.flatMap((one): [number, Marked][] => {
      const stop = one.at === "cut" ? undefined : on.stops[one.at];
      if (!stop) return [];
      const own =
        one.at !== at
          ? { mark_in: marks.printed(one.in_m), mark_out: marks.printed(one.out_m) }
          : side === "left"
            ? { mark_in: marks.printed(one.in_m), mark_open_from: marks.printed(one.left_end_m) }
            : { mark_open_to: marks.printed(one.right_end_m), mark_out: marks.printed(one.out_m) };
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
): PlannedStep[] =>
  changed.flatMap(({ row, own }) => {
    const stop = arms.flatMap(({ on }) => on.stops).find((one) => one.stop.id === row.id);
    const where = { name: stop?.name ?? say`a place not known`, place: stop?.place ?? null };
    return readMarks(tag, `${escapeName(tag, "")}@${row.ordinal}`, own, where);
  });
