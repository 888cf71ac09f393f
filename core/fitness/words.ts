/** The words of fitness: for each rule what it asks, where that comes from, and how a judgement is told. */
import { KINDS, type KindName } from "../model/dictionary.ts";
import { choiceWords, shownDay } from "../model/wording.ts";
import { counted, plural } from "../words/counted.ts";
import { asKnown, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { Judgement, RuleName } from "./judgement.ts";

export type Names = (kind: KindName, id: number) => string;

interface RuleWords {
  readonly title: string;
  /** What has to hold, in one sentence. */
  readonly rule: string;
  readonly source: string;
  readonly fact: (one: Judgement, q: (kind: KindName) => string) => string;
  readonly remedy: (one: Judgement, q: (kind: KindName) => string) => string | null;
}

export const CAUTION = say`The local code and a licensed person decide; this is a reminder and no approval.`;

/** Written with a narrow space: so a window tells it in feet where that is wanted. */
export const metres = (value: unknown): string => `${value}\u202fm`;
/** Of a depth a tenth counts, whatever the unit. */
const depth = (value: unknown): string => metres(Number.isInteger(value) ? `${value}.0` : value);

const day = (value: unknown): string => shownDay(String(value));

const PRACTICE = say`Common practice, no source`;

const PLACES = { ...KINDS.space.fields.kind.values, ...KINDS.pathway.fields.kind.values };

const environment = (one: Judgement): string => {
  const value = one.facts.environment as keyof typeof KINDS.pathway.fields.environment.values | null;
  const kind = one.facts.kind as keyof typeof PLACES | null | undefined;
  const words = value ? KINDS.pathway.fields.environment.values[value] : null;
  return [words, kind ? PLACES[kind] : null].filter(Boolean).join(", ") || say`in surroundings not on record`;
};

/** The way or place that a cable lies in. */
const lies = (q: (kind: KindName) => string): string => q("pathway") || q("space");

const is = (one: Judgement, value: Judgement["verdict"]): boolean => one.verdict === value;
const unless = (one: Judgement, words: string): string | null =>
  is(one, "does_not") || is(one, "caution") ? words : null;
const inPlaces = ({ facts: { places } }: Judgement): string => counted(Number(places), "place", "places");
/** Both of what is printed, and which decides. */
function contradiction({ facts: { contradicts } }: Judgement): string {
  if (!contradicts) return "";
  const printed = String(contradicts).split(" and ");
  return say` Its marking says ${listed(printed)}, which contradict each other: ${printed[0]}, which allows least, decides.`;
}
const least = (one: Judgement, amount: string): string => asKnown(amount, one.facts.at_least !== "yes");

/** What was done, or has to be done, about a cable's metal in a building or room. */
const BOND: Readonly<Record<string, (place: string) => string>> = {
  bonded: (place) => say`The cable's metal is bonded in ${place}.`,
  isolated: (place) => say`The cable's metal is isolated where the cable comes into ${place}.`,
  unbonded: (place) => say`The cable's metal is unbonded in ${place}.`,
  not_on_record: (place) => say`The cable's metal has no bond on record in ${place}.`,
  planned: (place) => say`The cable's metal has to be bonded in ${place}, or isolated where the cable comes in.`,
};

function bondWords(one: Judgement, q: (kind: KindName) => string): string {
  const within = q("building") || q("space");
  const place = q("stop") ? say`${within}, at ${q("stop")}` : within;
  return BOND[one.facts.state as string]?.(place) ?? "";
}

export const WORDS: Readonly<Record<RuleName, RuleWords>> = {
  outdoors: {
    title: say`Indoor cable outdoors`,
    rule: say`Cable made for indoors does not lie outdoors nor where it is wet.`,
    source: say`Common practice, no source: sun destroys its sheath, water gets in, and its warranty is void there`,
    fact: (one, q) =>
      is(one, "does_not")
        ? say`Cable made for indoors lies in ${lies(q)} (${environment(one)}), outdoors or in the wet.`
        : is(one, "caution")
          ? say`Cable made for indoors lies in ${lies(q)}, a damp room.`
          : is(one, "fits")
            ? say`What the cable is made for suits ${lies(q)} (${environment(one)}).`
            : say`Whether the cable suits the surroundings of ${lies(q) || q("leg") || q("stop")} can't be told.`,
    remedy: (one) =>
      is(one, "caution")
        ? say`Look whether water drips or stands there; move the cable or dry the room if it does.`
        : unless(
            one,
            say`Replace it by cable made for outdoors, or record what it is made for; ask whether its warranty still holds.`,
          ),
  },
  sun: {
    title: say`Sheath that does not stand sun`,
    rule: say`Where the sun reaches it a sheath stands sunlight.`,
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "does_not")
        ? say`The sun reaches ${lies(q)}, and the sheath does not stand sunlight.`
        : is(one, "fits")
          ? say`The sheath stands the sun in ${lies(q)}.`
          : say`Whether the sheath stands the sun in ${lies(q)} can't be told.`,
    remedy: (one) => unless(one, say`Shade it, or replace it by cable whose sheath stands sunlight.`),
  },
  water: {
    title: say`Cable without water blocking in the wet`,
    rule: say`Where it is wet, something in the cable keeps water out.`,
    source: say`Common practice, no source: water in the pipe gets inside and travels along`,
    fact: (one, q) =>
      is(one, "does_not")
        ? say`${lies(q)} is wet (${environment(one)}), and nothing keeps water out of the cable.`
        : is(one, "fits")
          ? say`The cable keeps out the water of ${lies(q)} (${environment(one)}).`
          : say`Whether water gets in along ${lies(q)} can't be told.`,
    remedy: (one) => unless(one, say`Replace it by cable with gel or dry water blocking.`),
  },
  rodents: {
    title: say`Bare cable among rodents`,
    rule: say`Where rodents gnaw, armour keeps them off.`,
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Rodents live in ${q("pathway")}; what armours the cable is not on record.`
        : is(one, "does_not")
          ? say`Rodents live in ${q("pathway")}, and the cable has no armour.`
          : say`Rodents live in ${q("pathway")}; the cable has ${String(one.facts.armour)} armour.`,
    remedy: (one) =>
      unless(
        one,
        say`Close the pipe's mouths, and look at the sheath when somebody goes there; when the cable is replaced, take armoured cable.`,
      ),
  },
  lightning: {
    title: say`Metal where lightning strikes`,
    rule: say`Metal where lightning strikes carries it into buildings; glass doesn't.`,
    source: say`Common practice, no source: armour keeps rodents off, and without metal a cable carries no lightning`,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Lightning strikes at ${q("pathway")}; whether the cable has metal is not on record.`
        : is(one, "fits")
          ? say`Lightning strikes at ${q("pathway")}; the cable has no metal.`
          : say`Lightning strikes at ${q("pathway")}, and the cable has metallic members.`,
    remedy: (one) =>
      unless(
        one,
        say`See that its metal is bonded at both ends; when the cable is replaced, take cable without metal.`,
      ),
  },
  unlisted: {
    title: say`Unlisted outdoor cable far indoors`,
    rule: say`Outside-plant cable without a fire marking runs only so many metres indoors from the point of entrance.`,
    source: say`NEC 770, second-hand; sources disagree on the clause`,
    fact: (one, q) =>
      one.facts.metres === undefined
        ? is(one, "fits")
          ? say`The cable is marked ${String(one.facts.marking)}.${contradiction(one)}`
          : one.facts.marking
            ? say`Whether the marking ${String(one.facts.marking)} is a fire listing is not known here.`
            : say`Whether the cable has a fire marking is not on record.`
        : say`The cable has no fire listing and runs ${least(one, metres(one.facts.metres))} in ${q("building") || q("stop") || q("space")}, of ${metres(one.facts.limit)} allowed.${contradiction(one)}`,
    remedy: (one) =>
      unless(one, say`End it nearer to the entrance, put it in rigid metal pipe, or go on with listed cable.`),
  },
  fire: {
    title: say`Fire marking less than the space asks`,
    rule: say`The fire marking suits the space: plenum for air spaces, riser or better from floor to floor.`,
    source: say`NEC 770, from memory; substitution goes downwards only (second-hand)`,
    fact: (one, q) => {
      const place = q("pathway") || q("space");
      const space = choiceWords("pathway", "environment", String(one.facts.environment));
      if (one.facts.environment === null) return say`What the fire marking has to be in ${place} can't be told.`;
      if (is(one, "cannot_tell")) {
        return one.facts.marking === null
          ? say`${place} is a ${space} space; the cable's fire marking is not on record.`
          : say`${place} is a ${space} space; how far the marking ${String(one.facts.marking)} goes there is not known here.`;
      }
      return one.facts.marking === null
        ? say`${place} is a ${space} space; the cable is not marked.`
        : say`${place} is a ${space} space; the cable is marked ${String(one.facts.marking)}.${contradiction(one)}`;
    },
    remedy: (one) =>
      unless(one, say`Replace it by cable marked for that space, or record the marking that is printed on it.`),
  },
  out_of_use: {
    title: say`Dead cable left indoors`,
    rule: say`Cable out of use inside a building is taken out, or labelled as kept for future use.`,
    source: say`NEC 770, from memory: accessible abandoned cable`,
    fact: (one) =>
      is(one, "fits")
        ? say`The cable is out of use; its label says "${String(one.facts.label)}".`
        : one.facts.against
          ? say`The cable is out of use at ${inPlaces(one)} indoors, and its labels contradict each other: one says "${String(one.facts.label)}", another "${String(one.facts.against)}". It counts as not reserved.`
          : say`The cable is out of use at ${inPlaces(one)} indoors, and no label reserves it.`,
    remedy: (one) =>
      unless(
        one,
        one.facts.against
          ? say`Ask which label is right and take the other off; then take the cable out, or keep the label that reserves it.`
          : say`Take it out, or label it as reserved and record the label.`,
      ),
  },
  firestop: {
    title: say`Firestop older than the cable through it`,
    rule: say`A firestop is sealed after the last cable was laid through it.`,
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Whether ${q("firestop")} was sealed after the cable was laid can't be told.`
        : say`${q("firestop")} was last sealed on ${day(one.facts.closed_on)}; the cable was laid on ${day(one.facts.installed_on)}.`,
    remedy: (one) =>
      unless(one, say`Look whether the seal is whole round the cable, have it made good, and record the day.`),
  },
  metal: {
    title: say`Metal between buildings not bonded`,
    rule: say`Metallic members that come into a building are bonded there, or broken by an isolating joint where they come in.`,
    source: say`NEC 770.93 and 770.100, from memory`,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Whether the cable has metallic members is not on record.`
        : one.facts.state === "no_metal"
          ? say`The cable has no metallic members.`
          : bondWords(one, q),
    remedy: (one) =>
      one.facts.state === "unbonded"
        ? say`Have it bonded or isolated there at once, and treat it as live until then.`
        : unless(
            one,
            say`Have somebody qualified look whether it is bonded, and record what was found; treat it as live until then.`,
          ),
  },
  armour_at_case: {
    title: say`Armour that ends at a case`,
    rule: say`At a case the armour is carried through or bonded.`,
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`The armour is cut at ${q("stop")}; which case it enters there is not on record.`
        : is(one, "does_not")
          ? say`At ${q("closure")} the armour is neither carried through nor bonded on record (${q("stop")}).`
          : say`At ${q("closure")} the armour is ${choiceWords("stop", "metal", String(one.facts.state ?? "bonded"))}.`,
    remedy: (one) => unless(one, say`Look at the case, carry the armour through or bond it, and record it.`),
  },
  buffer: {
    title: say`Connector on a strand too thin for it`,
    rule: say`A connector goes on a strand of 900 µm; a thinner one takes a pigtail, a splice-on connector or a furcation kit.`,
    source: PRACTICE,
    fact: (one, q) => {
      const { method, coating_um, strands } = one.facts;
      const how = method
        ? KINDS.termination.fields.method.values[method as keyof typeof KINDS.termination.fields.method.values]
        : null;
      const [count, panel] = [Number(strands), q("panel")];
      if (!how) {
        return panel
          ? plural(
              count,
              "How {0} strand on {1} is terminated is not on record.",
              "How {0} strands on {1} are terminated is not on record.",
              panel,
            )
          : plural(
              count,
              "How {0} strand is terminated is not on record.",
              "How {0} strands are terminated is not on record.",
            );
      }
      const n = counted(count, "strand");
      const sized = coating_um
        ? say`${n} of ${String(coating_um)} µm`
        : one.facts.construction
          ? say`${n} of ${choiceWords("cable_type", "construction", String(one.facts.construction))} cable`
          : say`${n} of a coating not on record`;
      return panel ? say`${sized} on ${panel}: ${how}.` : say`${sized}: ${how}.`;
    },
    remedy: (one) => unless(one, say`Terminate them by pigtails or a furcation kit, or record how it was done.`),
  },
  coil: {
    title: say`Coil too tight`,
    rule: say`A coil is no tighter than the cable's least bend radius at rest.`,
    source: say`The data sheet, else ten outside diameters (second-hand)`,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Whether the coil at ${q("stop")} is wide enough can't be told.`
        : say`The coil at ${q("stop")} has a radius of ${String(one.facts.radius_mm)} mm; the cable needs ${String(one.facts.least_mm)} mm.`,
    remedy: (one) => unless(one, say`Store the coil wider.`),
  },
  bore: {
    title: say`Pipe smaller than its cable`,
    rule: say`A cable is thinner than the pipe it lies in.`,
    source: say`Arithmetic`,
    fact: (one, q) =>
      say`${q("conduit")} is ${String(one.facts.bore_mm)} mm wide; what lies in it is ${listed(one.facts.sizes_mm as readonly string[])} mm thick.`,
    remedy: () => say`Correct the pipe's inner diameter, the cable's outer diameter, or which pipe it lies in.`,
  },
  fill: {
    title: say`Pipe fuller than advised`,
    rule: say`Cables fill a pipe only so far. For optical cable alone this is advice.`,
    source: say`NEC chapter 9 table 1 (read in its handbook); it does not bind optical cable alone`,
    fact: (one, q) =>
      one.facts.percent == null
        ? say`How full ${q("conduit")} is can't be told.`
        : say`${q("conduit")} is ${least(one, `${one.facts.percent} %`)} full; ${String(one.facts.limit_percent)} % is advised.`,
    remedy: (one) => unless(one, say`Use another pipe for what comes next.`),
  },
  jam: {
    title: say`Three cables that may jam`,
    rule: say`Three cables alike jam where the bore is about three diameters.`,
    source: say`A technician's course (second-hand)`,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? say`Whether three cables jam in ${q("conduit")} can't be told.`
        : say`The bore of ${q("conduit")} is ${String(one.facts.ratio)} diameters of the three cables in it; they jam between ${String(one.facts.from)} and ${String(one.facts.to)}.`,
    remedy: (one) => unless(one, say`Expect it to be stuck; do not count on pulling one of them.`),
  },
  tension: {
    title: say`Pull harder than the cable bears`,
    rule: say`Pulling a cable takes no more than the tension it bears.`,
    source: say`A technician's course (second-hand)`,
    fact: (one, q) => {
      const { there_n, back_n, most_n } = one.facts;
      const through = one.facts.ways ? say`all ${String(one.facts.ways)} ways in one pull` : q("pathway");
      if (there_n === undefined) return say`What pulling it through ${through} takes can't be told.`;
      const bends = one.facts.bends_over
        ? say` Its bends are ${String(one.facts.bends_deg)}° together, of ${String(one.facts.bends_over)}°.`
        : "";
      const takes =
        most_n === null
          ? say`Pulling it through ${through} takes ${least(one, `${there_n} N`)} along the way and ${String(back_n)} N against it; what it bears is not on record.`
          : say`Pulling it through ${through} takes ${least(one, `${there_n} N`)} along the way and ${String(back_n)} N against it; it bears ${String(most_n)} N.`;
      return `${takes}${one.facts.hangs === "yes" ? say` In a riser it hangs by its own weight.` : ""}${bends}`;
    },
    remedy: (one) =>
      is(one, "caution")
        ? say`Pull it from the better end, or from a point between; use lubricant.`
        : unless(one, say`Do not count on pulling it; pull from a point between, or blow it in.`),
  },
  depth: {
    title: say`Shallower than the owner asks`,
    rule: say`The cover is at least what the owner of the ground asks.`,
    source: say`The plant's policy depth.least`,
    fact: (one, q) =>
      one.facts.least_m === null
        ? plural(
            one.facts.ways as number,
            "No least depth is set for the way in the ground that it lies in.",
            "No least depth is set for the {0} ways in the ground that it lies in.",
          )
        : is(one, "cannot_tell")
          ? say`The depth of ${q("pathway")} is not on record; ${depth(one.facts.least_m)} is asked.`
          : say`${q("pathway")} lies at ${depth(one.facts.depth_m)}; ${depth(one.facts.least_m)} is asked.`,
    remedy: (one) => unless(one, say`Measure the cover where it matters, and tell the owner of the ground.`),
  },
  pipe_state: {
    title: say`Pipe that can't take a cable`,
    rule: say`A pipe that cable is to be pulled into is free of blockage, and proven.`,
    source: PRACTICE,
    fact: (one, q) =>
      !q("conduit")
        ? say`Which pipe of ${q("pathway")} is to be used is not said.`
        : one.facts.state === "blocked"
          ? say`${q("conduit")} is blocked.`
          : one.facts.state === "unproven" || one.facts.state === null
            ? say`${q("conduit")} is not proven.`
            : say`${q("conduit")} is ${choiceWords("conduit", "state", String(one.facts.state))}.`,
    remedy: (one) => unless(one, say`Prove the pipe before the cable is ordered.`),
  },
  warranty: {
    title: say`Warranty`,
    rule: say`While the warranty runs, what it asks for is kept.`,
    source: say`The cable's own record`,
    fact: (one) => {
      const { until, conditions } = one.facts;
      if (until === null) return say`The warranty asks: ${String(conditions)}. When it ends is not on record.`;
      if (is(one, "fits")) return say`The warranty ran out on ${day(until)}.`;
      return conditions === null
        ? say`The warranty runs until ${day(until)}; what it asks is not on record.`
        : say`The warranty runs until ${day(until)} and asks: ${String(conditions)}`;
    },
    remedy: (one) => unless(one, say`Read its conditions before the cable is opened, pulled or moved.`),
  },
};

/** The words of a judgement; `tag` names records, which stand between backquotes. */
export function wordsOf(
  one: Judgement,
  tag: Names,
): { readonly fact: string; readonly remedy: string | null; readonly lacks: readonly string[] } {
  const q = (kind: KindName): string => {
    const found = one.records.find(([of]) => of === kind);
    return found ? `\`${tag(...found)}\`` : "";
  };
  const { fact, remedy } = WORDS[one.rule];
  return {
    fact: fact(one, q),
    remedy: is(one, "cannot_tell") && one.lacks.length > 0 ? say`Record what is missing.` : remedy(one, q),
    lacks: one.lacks.map(({ what, of }) => say`${what}, of \`${tag(...of)}\``),
  };
}
