/** Sheaths cut back and brought into a new case: coils pulled, where their ends lie and what the marks say, metal, marks read. */
import { escapeName } from "../model/address.ts";
import type { MarkBreak } from "../model/marks.ts";
import { formatNumber } from "../model/units.ts";
import { landsAnew } from "../repair/case-piece.ts";
import { type CaseArm, type LostCase, leftLying, remainOf } from "../repair/lost-case.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { caseBeside } from "./case-ends.ts";
import { keyOf, keyOfPiece, MARKS, type Marked, marksAfter, printedAt, type Site, sitesOf } from "./case-marks.ts";
import type { CaseOrders } from "./case-orders.ts";
import { clearFor, spanning } from "./case-pieces.ts";
import type { CasePiecePlanned } from "./case-planned.ts";
import { deadLengths, deadTold } from "./mend-dead.ts";
import { type DeadLength, listed, metres } from "./mend-facts.ts";
import { marksOf } from "./mend-marks.ts";
import { sealsFrom } from "./mend-ways.ts";
import { metalAt } from "./metal-steps.ts";
import { openSeal } from "./open-seal.ts";
import { readMarks } from "./read-marks.ts";
import { byHand, type PlannedStep } from "./step.ts";

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
  readonly orders: CaseOrders;
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

/** What becomes of the sheaths of one cable. */
interface Sheaths {
  readonly arms: readonly CaseArm[];
  /** Brought into the new case, and to where new cable goes on for them. */
  readonly near: readonly CaseArm[];
  readonly far: readonly CasePiecePlanned[];
  /** Left where they lie. */
  readonly lying: readonly CaseArm[];
  readonly sites: readonly Site[];
  /** By the key of a site the case that hangs at it, and what is written of it. */
  readonly cases: ReadonlyMap<string, string>;
  readonly changed: readonly { readonly site: Site; readonly own: Marked }[];
}

async function bringOne(
  reader: Reader,
  { place, lost_m }: LostCase,
  arms: readonly CaseArm[],
  { into, pieces, orders }: BroughtTo,
): Promise<Brought> {
  const [first] = arms;
  if (!first) return { bring: [], read: [], dead: [] };
  const own = pieces.filter(({ arm }) => arms.includes(arm));
  const { cable, end } = first;
  const here = cable.tag;
  const [sheet] = await reader.rows<{ mark_breaks: string | null; metal: number | null }>(
    `select c.mark_breaks, coalesce(json_extract(c.differs, '$.armour'), t.armour) = 'metallic'
       or coalesce(json_extract(c.differs, '$.metal'), t.metal) = 'yes' as metal
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [cable.id],
  );
  const breaks = JSON.parse(sheet?.mark_breaks ?? "[]") as MarkBreak[];
  const sites = await sitesOf(reader, arms, own, orders);
  const sheaths = sheathsOf(arms, own, { sites, breaks, into });
  const { near, far } = sheaths;
  const steps: PlannedStep[] = own.flatMap((one) => caseBeside(one, orders));
  const through = arms.flatMap((arm) => {
    const { piece, on, at, side } = arm;
    const drawn = [...remainOf(arm).drawn.map(({ stop }) => stop), ...(piece ? [piece.at] : [])];
    if (drawn.length === 0) return [];
    const [from, to] = side === "left" ? [Math.min(...drawn), at] : [at, Math.max(...drawn)];
    return on.stops.slice(from, to).map(({ stop }) => stop.id);
  });
  for (const seal of await sealsFrom(reader, through)) steps.push(openSeal(seal, cable.tag));
  for (const arm of arms)
    for (const { stop, pulled_m, left_m } of remainOf(arm).drawn) {
      const { on } = arm;
      const towards = own.find((one) => one.arm === arm)?.name ?? place.tag;
      steps.push(
        byHand(
          say`At ${on.stops[stop]?.name} take ${metres(pulled_m)} from the coil of ${cable.tag} and pull it towards ${towards}; ${metres(left_m)} stay coiled`,
          on.stops[stop]?.place ?? null,
        ),
      );
    }
  if (near.length + far.length > 0) {
    const back = lost_m === 0 ? "" : say` by ${metres(lost_m)}, or`;
    const words = broughtWords(sheaths, { cable: cable.tag, back, into });
    steps.push(
      ...(first.alone
        ? await broughtAlone(reader, sheaths, { place, into, words, orders })
        : [broughtBoth(sheaths, { place, words, orders }), ...(await leftLyingSteps(reader, sheaths))]),
    );
  }
  const metal = sheet?.metal == null ? null : sheet.metal === 1;
  const metals = [
    ...(near.length > 0 ? metalAt(cable.tag, `${here}@${orders.after(cable.id, end.ordinal)}`, place, metal) : []),
    ...own.flatMap((one) => [
      ...(one.case ? metalAt(cable.tag, `${here}@${orders.pieceAfter(one)}`, one.place, metal) : []),
      ...metalOfPiece(one, metal),
    ]),
  ];
  const dead: PlannedStep[] = [];
  const clear: PlannedStep[] = [];
  for (const one of own) {
    const lengths = await deadOf(reader, one, dead.length, printedAt(sites), breaks);
    const lies = lengths.flatMap((length) => length.lies);
    if (lengths.length > 0) clear.push(clearFor(one, place.tag, lies));
    if (!orders.whole(cable.id)) dead.push(...deadTold({ cable }, lengths, false));
  }
  const read = sheaths.changed.flatMap(({ site, own: marks }) =>
    readMarks(cable.tag, `${here}@${site.after}`, marks, site),
  );
  return { bring: [...steps, ...clear], read: [...metals, ...read], dead };
}

function sheathsOf(
  arms: readonly CaseArm[],
  own: readonly CasePiecePlanned[],
  {
    sites,
    breaks,
    into,
  }: { readonly sites: readonly Site[]; readonly breaks: readonly MarkBreak[]; readonly into: string },
): Sheaths {
  const lying = arms.filter(leftLying);
  const near = arms.filter((arm) => arm.piece === null && !leftLying(arm));
  const far = own.filter((one) => one.case !== null);
  const end = keyOf(arms[0]?.end.stop_id ?? 0);
  const cases = new Map([
    ...(near.length > 0 ? [[end, into] as const] : []),
    ...far.flatMap((one) => (one.case ? [[keyOfPiece(one), one.case.tag] as const] : [])),
  ]);
  const marks = marksAfter(arms, sites, breaks);
  const changed = sites.flatMap((site) => {
    const said = marks.get(site.key) ?? {};
    const goes = site.key === end && near.length + lying.length === 0;
    return !goes && (cases.has(site.key) || Object.keys(said).length > 0) ? [{ site, own: said }] : [];
  });
  return { arms, near, far, lying, sites, cases, changed };
}

const basis = (own: Marked) => (MARKS.some((field) => own[field] != null) ? { marks_basis: "computed" } : {});

/** Of a cable that comes from both sides. */
function broughtBoth(
  { arms, near, far, cases, changed }: Sheaths,
  { place, words, orders }: { readonly place: RecordRef; readonly words: string; readonly orders: CaseOrders },
): PlannedStep {
  const [{ cable, end }] = arms as readonly [CaseArm];
  return {
    act: "cable.move_cut",
    input: {
      cable: cable.tag,
      stop: orders.now(cable.id, end.ordinal),
      ...(near.length > 0 ? { space: place.tag } : {}),
      ...Object.fromEntries(far.map((one) => [one.arm.side === "left" ? "left_to" : "right_to", orders.pieceNow(one)])),
      places: changed.map(({ site, own }) => {
        const closure = cases.get(site.key);
        return { stop: site.now, ...own, ...basis(own), ...(closure === undefined ? {} : { closure }) };
      }),
    },
    words,
    place: far.length === 0 ? place : null,
  };
}

/** Of a cable that ends in the case. */
async function broughtAlone(
  reader: Reader,
  { arms, far, cases, changed }: Sheaths,
  {
    place,
    into,
    words,
    orders,
  }: { readonly place: RecordRef; readonly into: string; readonly words: string; readonly orders: CaseOrders },
): Promise<PlannedStep[]> {
  const [arm] = arms as readonly [CaseArm];
  const { cable } = arm;
  const here = cable.tag;
  const side = arm.side === "left" ? "b" : "a";
  const [own] = far;
  const glass = own ? [] : await glassAt(reader, arm);
  return [
    ...(own
      ? [
          {
            act: "cable.sever" as const,
            input: { cable: here, stop: orders.pieceNow(own), [side === "b" ? "stub_a" : "stub_b"]: "yes" },
            words: say`Cut ${cable.tag} at ${own.name}: what lies of it from there to ${place.tag} is given up`,
            place: own.place,
          },
        ]
      : []),
    {
      act: "record.change_many",
      input: {
        changes: [
          ...changed.map(({ site, own: said }) => {
            const closure = cases.get(site.key);
            return {
              ...{ op: "edit", kind: "stop", id: site.id ?? `${here}@${site.now}` },
              values: { ...said, ...basis(said), ...(closure === undefined ? {} : { closure_id: closure }) },
            };
          }),
          ...glass.map((id) => ({ op: "edit", kind: "section", id, values: { [`${side}_stub`]: "yes" } })),
        ],
        summary: say`Bring ${cable.tag} into ${own?.case?.tag ?? into}`,
      },
      words,
      place: own?.place ?? place,
    },
  ];
}

/** Of an end that isn't brought anywhere nothing is left to splice. */
async function leftLyingSteps(reader: Reader, { lying }: Sheaths): Promise<PlannedStep[]> {
  const steps: PlannedStep[] = [];
  for (const arm of lying) {
    const { cable, towards, side, on, at } = arm;
    const glass = await glassAt(reader, arm);
    if (glass.length === 0) continue;
    const stub = side === "left" ? "b_stub" : "a_stub";
    steps.push({
      act: "record.change_many",
      input: {
        changes: glass.map((id) => ({ op: "edit", kind: "section", id, values: { [stub]: "no" } })),
        summary: say`Leave the end of ${cable.tag} from ${towards} where it lies`,
      },
      words: say`Cap the end of ${cable.tag} that comes from ${towards} where it lies, and record that no glass is left there to splice: nothing of it was joined in the case`,
      place: on.stops[at]?.place ?? null,
    });
  }
  return steps;
}

/** Sections that end at the case on the side of a sheath. */
async function glassAt(reader: Reader, { cable, end, side }: CaseArm): Promise<number[]> {
  const rows = await reader.rows<{ id: number }>(
    `select s.id from section s join strand t on t.id = s.strand_id
     where t.cable_id = ? and s.${side === "left" ? "b" : "a"}_stop_id = ? order by s.id`,
    [cable.id, end.stop_id],
  );
  return rows.map(({ id }) => id);
}

/** New cable is of the make of the old: what becomes of its metal at both its ends; where that isn't known it is looked at. */
function metalOfPiece({ made, places, case: spliced }: CasePiecePlanned, metal: boolean | null): PlannedStep[] {
  const own = escapeName(made.tag, "");
  const [near, far] = [places[0] ?? null, places.at(-1) ?? null];
  if (metal === null) return spliced ? [] : metalAt(made.tag, `${own}@1`, near, null);
  return [...metalAt(made.tag, `${own}@1`, near, metal), ...metalAt(made.tag, `${own}@${made.stops}`, far, metal)];
}

function broughtWords(
  { near, far, changed }: Sheaths,
  { cable, back, into }: { readonly cable: string; readonly back: string; readonly into: string },
): string {
  const ends = listed(
    near.map(({ towards, needs_m }) => say`the end that comes from ${towards} (${metres(needs_m)} to work with)`),
  );
  const marks = new Map(changed.map(({ site, own }) => [site.key, own]));
  const brought = far.map((one) => {
    const { arm, piece } = one;
    // Whoever stands there sees nothing else of the plan.
    const there = marks.get(keyOfPiece(one));
    const mark = arm.side === "left" ? there?.mark_open_from : there?.mark_open_to;
    const unit = arm.on.unit === null ? "" : ` ${arm.on.unit}`;
    const cut = mark == null ? "" : say`, cut at mark ${formatNumber(mark, 1)}${unit}`;
    return say`bring the end that comes from ${arm.towards} into ${one.case?.tag} (${metres(piece.point.work_m)} to work with${cut}) and prepare it`;
  });
  if (near.length > 0)
    return [
      say`Cut ${cable} back${back} as far as it is harmed; bring ${ends} into ${into} and prepare it`,
      ...brought,
    ].join("; ");
  return say`Of ${cable} ${brought.join("; ")}`;
}

/** Sheath that lies dead between where new cable begins and the wrecked case. */
async function deadOf(
  reader: Reader,
  { arm, piece }: CasePiecePlanned,
  skip: number,
  printed: readonly (number | null)[],
  breaks: readonly MarkBreak[],
): Promise<DeadLength[]> {
  const { on, cut, at, side, cable } = arm;
  const reckoned = { cable, on, cut, inside: null, somewhere: null };
  const before = side === "left" ? at - 1 : at;
  const plan = landsAnew(piece) ? spanning(arm, piece) : piece.plan;
  const marks = marksOf({ reckoned, before, plan, printed, breaks });
  const asked = { printed: marks.at, before, inside: null, divided: null, late: false, skip };
  return deadLengths(reader, reckoned, plan, asked);
}
