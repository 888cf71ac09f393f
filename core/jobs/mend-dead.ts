/**
 * Sheath that a mend cuts off and that lies dead in its way: what can't or needn't come back at a splice, and the piece up to
 * an end in whose place another is landed. As one dead length each, from place to place with its marks.
 */
import { escapeName, unescapeName } from "../model/address.ts";
import { eitherWay, PIPE_TO_LAY_IN } from "../repair/doubtful.ts";
import type { MendReckoned } from "../repair/mend.ts";
import type { MendPlan } from "../repair/plans.ts";
import type { CourseOnRecord } from "../repair/read-course.ts";
import { addressesOf, refsOfRows } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type DeadLength, type DeadStop, type DeadWay, listed, metres } from "./mend-facts.ts";
import { ASKED, type PlannedStep } from "./step.ts";

/** What is less is cut off where the splicer sits. */
const LEAST_M = 0.5;

type Dead = Omit<DeadLength, "tag">;

export interface DeadAsked {
  /** Metres along the sheath at a metre of way, as the mark printed there. */
  readonly printed: (way_m: number, more_m: number) => number | null;
  /** The place before the cut, and the one in which it is cut, by their order. */
  readonly before: number;
  readonly inside: number | null;
  /** The way that a new hole divides: the part beyond the hole, and whether the cable runs from the pathway's from end. */
  readonly divided: { readonly pathway: string; readonly tag: string; readonly forward: boolean } | null;
  /** The way is divided only when all is done, and until then nobody can say in which part anything lies. */
  readonly late: boolean;
  /** So many further numbers are taken by other dead lengths of the same job. */
  readonly skip?: number;
}

type Reckoned = Pick<MendReckoned, "cable" | "on" | "cut" | "somewhere"> & Partial<Pick<MendReckoned, "doubts">>;

/** Empty where nothing of it lies in a way on record, and where a new hole divides that only later. */
export async function deadLengths(
  reader: Reader,
  reckoned: Reckoned,
  plan: MendPlan,
  asked: DeadAsked,
): Promise<DeadLength[]> {
  // A sheath that is not parted stays where it is.
  if (plan.kind === "new_cable" || (plan.new_holes > 0 && asked.late) || plan.dark_only) return [];
  const ways = await waysOf(reader, reckoned);
  const found = (["left", "right"] as const).flatMap((side) => deadOn(side, reckoned, plan, asked, ways) ?? []);
  const numbers = (await freeNumbers(reader, unescapeName(reckoned.cable.tag), found.length + (asked.skip ?? 0))).slice(
    asked.skip,
  );
  return found.map((one, index) => ({ ...one, tag: numbers[index] ?? "" }));
}

function deadOn(
  side: "left" | "right",
  { on, cut, somewhere, doubts = [] }: Reckoned,
  plan: MendPlan,
  { printed, before, inside, divided }: DeadAsked,
  ways: ReadonlyMap<number, DeadWay>,
): Dead | null {
  const { stops } = on.course;
  const left = side === "left";
  const point = left ? plan.points[0] : plan.points.at(-1);
  if (!point || typeof point.at !== "number") return null;
  const whole = plan.landed === side;
  const tip_m = left ? cut.at_m - cut.lost_left_m : cut.at_m + cut.lost_right_m;
  const remain = plan[side];
  const dead_m = remain.trimmed_m - remain.over_m;
  // Where nobody knows the break all of its leg is given up, and what is sound of it lies there all the same.
  const given_up = somewhere !== null && plan.kind !== "one_point";
  if (!whole && !given_up && dead_m <= LEAST_M) return null;
  const to = whole ? (left ? 0 : stops.length - 1) : point.at;
  const leg = brokenLeg(stops, left, left ? before : (inside ?? before), tip_m);
  const { legs, length_m } = legsOfDead(stops, { left, leg, to, tip_m, dead_m: whole ? null : dead_m });
  if (legs.length === 0 || (length_m <= LEAST_M && !given_up)) return null;
  const [first, last] = [legs[0] ?? 0, (legs.at(-1) ?? 0) + 1];
  const wayOf = (index: number): DeadWay => {
    const way = ways.get(on.stops[index]?.stop.id ?? 0) ?? {};
    // On the side of the to end it lies in the part beyond the hole.
    return divided && index === before && divided.forward !== left ? beyondHole(way, divided) : way;
  };
  const spaceOf = (index: number): string | null => on.stops[index]?.place?.tag ?? null;
  const own_m = given_up ? null : whole ? length_m : dead_m;
  const broken = { space: null, kind: "severed" as const };
  const inner = legs.slice(1).map((index): DeadStop => {
    const stop = on.stops[index];
    const marks = { mark_in: stop?.in?.mark ?? null, mark_out: stop?.out?.mark ?? null };
    return { space: spaceOf(index), ...marks, way: wayOf(index) };
  });
  // Where a place is destroyed in part, what is whole begins at its mouth.
  const [near, far] = [stops[leg], stops[leg + 1]];
  const mouth_m = left ? (near ? near.left_m + near.through_m : tip_m) : (far?.left_m ?? tip_m);
  const tip = given_up ? null : printed(left ? Math.max(tip_m, mouth_m) : Math.min(tip_m, mouth_m), 0);
  const outer =
    whole || (given_up && dead_m <= LEAST_M)
      ? ((left ? on.stops[first]?.out?.mark : on.stops[last]?.in?.mark) ?? null)
      : printed(tip_m, left ? -dead_m : dead_m);
  const run: DeadStop[] = left
    ? [
        { space: spaceOf(first), kind: "end", mark_out: outer, way: wayOf(first) },
        ...inner,
        { ...broken, mark_in: tip },
      ]
    : [
        { ...broken, mark_out: tip, way: wayOf(first) },
        ...inner,
        { space: spaceOf(last), kind: "end", mark_in: outer },
      ];
  const either = eitherWay(doubts);
  const lies = legs.flatMap((index) => {
    const doubted = either.get(on.stops[index]?.stop.id ?? 0);
    return doubted === undefined ? (Object.values(wayOf(index)) as string[]) : [doubted];
  });
  return {
    length_m: own_m,
    stops: run,
    place: on.stops[left ? first : last]?.place ?? null,
    lies: [...new Set(lies)],
  };
}

/** The leg in which what is whole begins: past each place that is destroyed with all that lies in it. */
function brokenLeg(stops: CourseOnRecord["course"]["stops"], left: boolean, leg: number, tip_m: number): number {
  const outward = stops.map(({ left_m, through_m }, index) => ({ index, first_m: left_m, last_m: left_m + through_m }));
  if (left) return outward.findLast(({ index, first_m }) => index <= leg && first_m < tip_m)?.index ?? leg;
  return outward.findLast(({ index, last_m }) => index > leg && last_m <= tip_m)?.index ?? leg;
}

/** The same pipe, or the same way, in the part beyond a hole. */
function beyondHole(way: DeadWay, { pathway, tag }: NonNullable<DeadAsked["divided"]>): DeadWay {
  const moved = (address: string): string =>
    address === pathway || address.startsWith(`${pathway}/`)
      ? escapeName(tag, "") + address.slice(pathway.length)
      : address;
  if ("conduit" in way) return { conduit: moved(way.conduit) };
  return "pathway" in way ? { pathway: moved(way.pathway) } : way;
}

/**
 * The legs in which dead sheath lies, in the order of the stops: the one with its broken end, and from there outward as far
 * as it is dead, or up to the stop `to`. What lies beyond comes back to the splice and is cut off there.
 */
export function legsOfDead(
  stops: CourseOnRecord["course"]["stops"],
  {
    left,
    leg,
    to,
    tip_m,
    dead_m,
  }: {
    readonly left: boolean;
    readonly leg: number;
    readonly to: number;
    readonly tip_m: number;
    /** Null for all of it up to `to`. */
    readonly dead_m: number | null;
  },
): { readonly legs: readonly number[]; readonly length_m: number } {
  const legs: number[] = [];
  let length_m = 0;
  const told = (): boolean => dead_m !== null && length_m >= dead_m - LEAST_M;
  for (let at = leg; left ? at >= to : at < to; at += left ? -1 : 1) {
    const [from, next] = [stops[at], stops[at + 1]];
    if (!from || !next) break;
    const mouth_m = from.left_m + from.through_m;
    length_m += left ? Math.min(tip_m, next.left_m) - mouth_m : next.left_m - Math.max(tip_m, mouth_m);
    legs.push(at);
    if (told()) break;
    const [stop, outer] = [left ? from : next, left ? at === to : at + 1 === to];
    if (!outer) length_m += stop.through_m + (stop.coil_left_m ?? 0);
    if (told()) break;
  }
  return { legs: left ? legs.toReversed() : legs, length_m };
}

/** A step that tells what became of each, once the cable on record has left its way. */
export function deadTold(
  { cable }: Pick<Reckoned, "cable">,
  lengths: readonly DeadLength[],
  over_ground: boolean,
): PlannedStep[] {
  return lengths.map(({ tag, length_m, stops, place, lies }): PlannedStep => {
    const where = lies.length > 0 ? listed(lies) : say`its way`;
    const what =
      length_m === null
        ? place === null
          ? say`what is left of ${cable.tag} up to the break`
          : say`what is left of ${cable.tag} from ${place.tag} up to the break`
        : say`the ${metres(length_m)} of dead sheath of ${cable.tag}`;
    return {
      act: "cable.dead_length",
      input: { cable: cable.tag, tag, became: over_ground ? "left" : ASKED, stops },
      words: over_ground
        ? say`Record as ${tag} that ${what} stays in ${where}, for it takes room there; hang its number at its end, and that it is dead`
        : say`Say what became of ${what} in ${where}: pulled out, or left there as ${tag}, where it goes on taking room; what is left gets its number at its end, and that it is dead`,
      place,
    };
  });
}

/** What a temporary mend left dead in its way and the record still has there, as steps that take it out. */
export async function deadTakenOut(
  reader: Reader,
  steps: readonly { readonly act: string | null; readonly input: unknown; readonly state: string }[],
): Promise<PlannedStep[]> {
  const told = steps.flatMap(({ act, input, state }) =>
    act === "cable.dead_length" && state === "done" ? [input as { readonly cable: string; readonly tag: string }] : [],
  );
  const there = await reader.rows<{ tag: string }>(
    "select tag from cable where tag in (select value from json_each(?)) and life = 'out_of_use' order by tag_key",
    [JSON.stringify(told.map(({ tag }) => tag))],
  );
  const out = new Set(there.map(({ tag }) => tag));
  return told.flatMap(({ cable, tag }): PlannedStep[] =>
    out.has(tag)
      ? [
          {
            act: "cable.dead_length",
            input: { cable, tag, became: ASKED },
            words: say`Take the dead sheath ${tag} out of its way before anything is pulled through there, only what is proven dead by measuring; say whether it was pulled out or is left, for it takes room there`,
            place: null,
          },
        ]
      : [],
  );
}

/** The dead lengths that these steps take out, as records. */
export async function deadThere(reader: Reader, steps: readonly PlannedStep[]): Promise<RecordRef[]> {
  const tags = steps.map(({ input }) => (input as { readonly tag: string }).tag);
  const rows = await reader.rows<{ id: number }>(
    "select id from cable where tag in (select value from json_each(?)) order by tag_key",
    [JSON.stringify(tags)],
  );
  return refsOfRows(reader, "cable", rows);
}

async function waysOf(reader: Reader, { on }: Reckoned): Promise<Map<number, DeadWay>> {
  const rows = await reader.rows<{ from_stop_id: number; pathway_id: number | null; conduit_id: number | null }>(
    `select l.from_stop_id, l.pathway_id, ${PIPE_TO_LAY_IN} as conduit_id from leg l
     where l.from_stop_id in (select value from json_each(?)) and l.life in ('in_place', 'out_of_use') order by l.id`,
    [JSON.stringify(on.stops.map(({ stop }) => stop.id))],
  );
  const pathways = await addressesOf(reader, "pathway", new Set(rows.flatMap(({ pathway_id }) => pathway_id ?? [])));
  const conduits = await addressesOf(reader, "conduit", new Set(rows.flatMap(({ conduit_id }) => conduit_id ?? [])));
  return new Map(
    rows.map(({ from_stop_id, pathway_id, conduit_id }) => {
      const [conduit, pathway] = [conduits.get(conduit_id ?? 0), pathways.get(pathway_id ?? 0)];
      return [from_stop_id, conduit !== undefined ? { conduit } : pathway !== undefined ? { pathway } : {}] as const;
    }),
  );
}

/** Numbers that follow from the cable's and are nobody's: F-050-D1, F-050-D2. */
async function freeNumbers(reader: Reader, cable: string, count: number): Promise<string[]> {
  const rows = await reader.rows<{ tag: string }>("select tag from cable where substr(tag, 1, ?) = ?", [
    cable.length + 2,
    `${cable}-D`,
  ]);
  const taken = new Set(rows.map(({ tag }) => tag));
  const free: string[] = [];
  for (let at = 1; free.length < count; at++) if (!taken.has(`${cable}-D${at}`)) free.push(`${cable}-D${at}`);
  return free;
}
