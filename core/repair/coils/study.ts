/** Where should coils be? Every cable asked about, cut in thought at every place, and ranked by what a cut takes down. */
import { Refusal, refuse } from "../../result.ts";
import { cautionSaid } from "../../standards/cautions.ts";
import { type Limits, limitSource, limitsInUse } from "../../standards/limits/in-use.ts";
import { resolveOne } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import type { RecordRef } from "../../trace/answer.ts";
import { Cables } from "../../trace/cables.ts";
import { counted } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import type { Course } from "../course.ts";
import { courseRows } from "../course-rows.ts";
import type { MendPolicy } from "../plans.ts";
import { heldBy, pullFacts } from "../pulls.ts";
import { courseOnRecord } from "../read-course.ts";
import { keepable } from "../room.ts";
import type { CoilsAnswer, CoilsCable, CoilsLine } from "./answer.ts";
import { openCourse } from "./open.ts";
import { endedAtGaps, partsOf } from "./parts.ts";
import { Stakes } from "./stake.ts";
import { lineOf, type PartStudied, placed, type Reckoning, toldCable } from "./told.ts";

/** Cables read at once. */
const PAGE = 200;

export interface CoilsAsked {
  /** A cable or building by its address; null for the whole plant. */
  readonly of: string | null;
  /** Metres lost on each side of a cut; null for the plant's policy. */
  readonly lost_m: number | null;
}

export interface CoilsOptions {
  readonly today: string;
  /** Told now and then how far it is; may end it. */
  heard(what: string, done: number, total: number): Promise<void>;
}

const OWN = `c.life = 'in_place' and (c.owner_id is null or exists
  (select 1 from party o where o.id = c.owner_id and o.role is 'self'))`;

/** Ids of the plant's own cables in place: all, one, or those with a stop in a building. */
export async function cablesOf(reader: Reader, of: RecordRef | null): Promise<number[]> {
  const [within, values] =
    of === null
      ? ["", []]
      : of.kind === "cable"
        ? [" and c.id = ?", [of.id]]
        : [
            ` and c.id in (select st.cable_id from space s cross join stop st on st.space_id = s.id where s.building_id = ?)`,
            [of.id],
          ];
  const rows = await reader.lists(`select c.id from cable c where ${OWN}${within} order by c.id`, values);
  return rows.map(([id]) => id as number);
}

export const reckoningBy = (limits: Limits, lost_m: number | null): Reckoning => {
  const lost = lost_m ?? limits.get("repair.lost_m")?.value ?? 0;
  return {
    lost: { left_m: lost, right_m: lost },
    policy: {
      waste: limits.get("repair.waste")?.value ?? 0,
      case_m: limits.get("repair.case_room_m")?.value ?? 0,
      held_too: true,
    },
  };
};

export interface Studied {
  readonly cable: RecordRef;
  /** All its stops in order. */
  readonly stops: readonly number[];
  /** Why it can't be told, or its parts, each with its course and where it is open, and why others can't be told. */
  readonly found: string | { readonly parts: readonly PartStudied[]; readonly untold: readonly string[] };
}

/**
 * Cable after cable, read in sets.
 * @param page told which are read next, so that more may be read of them along
 */
export async function* studied(
  reader: Reader,
  ids: readonly number[],
  limits: Limits,
  by: Reckoning,
  page: (ids: readonly number[]) => Promise<void> = async () => {},
): AsyncGenerator<Studied> {
  for (let from = 0; from < ids.length; from += PAGE) {
    const some = ids.slice(from, from + PAGE);
    const cables = await Cables.read(reader, some, []);
    const rows = await courseRows(reader, some);
    const pulls = await pullFacts(reader, some);
    await page(some);
    const most_m = limits.get("repair.coil_most_m")?.value;
    const indoors_m = limits.get("repair.coil_most_indoors_m")?.value;
    for (const id of some) {
      const cable = cables.byId.get(id);
      if (!cable) continue;
      const parts: PartStudied[] = [];
      const untold: string[] = [];
      for (const part of partsOf(cable)) {
        try {
          const on = heldBy(pulls, id, await courseOnRecord(reader, cables, part.cable, limits, rows));
          const own = endedAtGaps(on, part);
          const held = { ...own, course: bounded(own.course, by.policy, most_m, indoors_m) };
          const first = cable.stops.findIndex((stop) => stop.id === part.cable.stops[0]?.id);
          parts.push({ on: held, open: openCourse(held.course, by.lost, by.policy), first });
        } catch (refused) {
          if (!(refused instanceof Refusal)) throw refused;
          const [problem] = refused.failure.problems;
          untold.push(problem?.reason ?? refused.failure.message);
        }
      }
      const stops = cable.stops.map((stop) => stop.id);
      const none = untold[0] ?? say`lies in no part that has a way on record`;
      yield { cable: cable.ref, stops, found: parts.length === 0 ? none : { parts, untold } };
    }
  }
}

/**
 * The course with the longest coil that each place is to hold: what the policy says, for a room of a building its own, and
 * what it has room for beside a case and what hangs there already, where its size is known. Whole turns and less don't
 * matter: by the half metre.
 * @param indoors_m for rooms of buildings; left out, they are as any other place
 */
export function bounded(
  course: Course,
  policy: MendPolicy,
  most_m: number | undefined,
  indoors_m: number | undefined = most_m,
): Course {
  if (most_m === undefined) return course;
  const stops = course.stops.map((stop) => {
    const own_m = Math.min(most_m, stop.indoors ? (indoors_m ?? most_m) : most_m);
    // A splice in a room has all the room it needs; a coil that stays for good does not, where its size is known.
    const place = { ...stop, indoors: false };
    return { ...stop, coil_most_m: keepable(course, place, 0, own_m, own_m, policy) };
  });
  return { ...course, stops };
}

/** Refuses `not_found` or `ambiguous` for what was asked, `not_possible` for a cable that is not the plant's or not in place. */
export async function coilStudy(
  reader: Reader,
  { of, lost_m }: CoilsAsked,
  { today, heard }: CoilsOptions,
): Promise<CoilsAnswer> {
  const asked: RecordRef | null =
    of === null ? null : await resolveOne(reader, of, { kinds: ["cable", "building"], field: "of" });
  const ids = await cablesOf(reader, asked);
  if (asked?.kind === "cable" && ids.length === 0) {
    const reason = say`is not in place, or not the plant's own: a cut of it isn't ours to mend`;
    refuse("not_possible", `${asked.tag} ${reason}.`, [{ field: "of", record: asked.tag, reason }]);
  }
  const limits = await limitsInUse(reader);
  const by = { ...reckoningBy(limits, lost_m), nearly: asked?.kind === "cable" };
  const stakes = await Stakes.read(reader, today);
  const cables: CoilsCable[] = [];
  const untold: CoilsAnswer["untold"][number][] = [];
  const assumed = new Set<string>();
  let line: CoilsLine | null = null;
  let done = 0;
  const read = (some: readonly number[]) => stakes.readCables(reader, some);
  for await (const { cable, stops, found } of studied(reader, ids, limits, by, read)) {
    done += 1;
    if (done % 10 === 0) await heard(say`cutting cables in thought`, done, ids.length);
    if (typeof found === "string") {
      untold.push({ cable, reason: found });
      continue;
    }
    const parts = placed(found.parts);
    if (asked?.kind === "cable") line = lineOf(parts);
    if (parts.every(({ open }) => open.stretches.length === 0) && found.untold.length === 0) continue;
    const told = toldCable(cable, parts, found.untold, stops, stakes, by);
    if (told.lacks_m + told.to_prove_m > 0) cables.push(told);
    else untold.push({ cable, reason: told.stretches[0]?.why ?? found.untold[0] ?? "" });
    if (asked?.kind === "cable") for (const words of told.assumed) assumed.add(words);
  }
  cables.sort(byStake);
  const sound = done - cables.length - untold.length;
  return {
    of: asked,
    lost_m: by.lost.left_m,
    studied: done,
    sound,
    cables,
    untold,
    places: placesOf(cables),
    line,
    limits: limits
      .under("repair.")
      .filter(({ tag }) => !ASIDE.test(tag))
      .map((one) => ({
        tag: one.tag,
        meaning: one.meaning,
        value: one.value,
        unit: one.unit,
        source: limitSource(one),
      })),
    assumed: [...ASSUMED, ...assumed],
    sentence: sentenceOf(asked, done, sound, cables, untold.length),
    cautions: CAUTIONS,
  };
}

/** The most circuits first, then the most urgent, then the most strands in service. */
const byStake = (a: CoilsCable, b: CoilsCable): number =>
  b.circuits.length - a.circuits.length ||
  (a.circuits[0]?.priority ?? 10) - (b.circuits[0]?.priority ?? 10) ||
  b.strands_in_service - a.strands_in_service ||
  (a.cable.tag < b.cable.tag ? -1 : 1);

const ASSUMED = [
  say`A cable can be mended from coils where one splice does, by legs proven to slide and without new cable, wherever it is cut.`,
  say`A cut that takes an end or an opening with it is another repair and isn't counted.`,
  say`Circuits at stake are those in service on the cable's strands there, and those that ride on them.`,
  say`What hangs on coils that nobody knows is no part of the cure; in the rest such a coil counts as none.`,
  say`No place is to hold a longer coil of one cable than the policy says, a room of a building less than a hole, nor than it has room for where its size is known.`,
  say`Coils are counted cable by cable: one hole may have to hold several.`,
];

/** Limits of a mend that no coil hangs on. */
const ASIDE = /^repair\.(hours\.|waste$|keep_strands$)/;

const CAUTIONS = [
  say`A cable in service gains a coil only where cable can be drawn from, or when it is next spliced or laid anew: plan it with that work, and see whether the hole holds it at the cable's radius.`,
  cautionSaid("hole"),
];

function placesOf(cables: readonly CoilsCable[]): CoilsAnswer["places"] {
  const coils = cables.flatMap(({ cure, cure_once_proven }) => (cure_once_proven ?? cure).coils);
  const places = [...Map.groupBy(coils, ({ place, stop }) => (place ? `space ${place.id}` : stop.tag)).values()];
  return places
    .map((own) => ({
      place: own[0]?.place ?? null,
      words: own[0]?.words ?? "",
      coils: own.length,
      more_m: Math.round(own.reduce((sum, { more_m }) => sum + more_m, 0) * 10) / 10,
    }))
    .sort((a, b) => b.coils - a.coils || b.more_m - a.more_m || (a.words < b.words ? -1 : 1));
}

function sentenceOf(
  of: RecordRef | null,
  studied: number,
  sound: number,
  cables: readonly CoilsCable[],
  untold: number,
): string {
  const doubt = untold === 0 ? "" : say` Of ${counted(untold, "cable")} it can't be told.`;
  if (of?.kind === "cable") {
    const [own] = cables;
    if (untold > 0) return say`Whether ${of.tag} can be mended from coils can't be told.`;
    if (!own) return say`${of.tag} can be mended from coils wherever it is cut.`;
    const open_m = own.lacks_m + own.to_prove_m;
    const share = (part_m: number): number => Math.min(100, Math.max(1, Math.round((100 * part_m) / own.asked_m)));
    const words = say`${of.tag} can't be mended from coils in ${share(open_m)} % of its way.`;
    return own.untold_m === 0 ? words : say`${words} In ${share(own.untold_m)} % of it that can't be told.`;
  }
  const where = of === null ? "" : say` of ${of.tag}`;
  if (studied === 0) return say`No cable${where} is on record that is in place and the plant's own.`;
  const [first] = cables;
  if (!first)
    return say`Of ${counted(studied, "cable")}${where}, ${sound} can be mended from coils wherever they are cut.${doubt}`;
  const at_stake = first.circuits.length;
  const stake = at_stake === 0 ? say`no circuit` : counted(at_stake, "circuit");
  return say`Of ${counted(studied, "cable")}${where}, ${cables.length} can't be mended from coils wherever they are cut; first ${first.cable.tag}, with ${stake} at stake.${doubt}`;
}
