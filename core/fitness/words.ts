/** The words of fitness: for each rule what it asks, where that comes from, and how a judgement is told. */
import { KINDS, type KindName } from "../model/dictionary.ts";
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

export const CAUTION = "The local code and a licensed person decide; this is a reminder and no approval.";

/** Written with a thin space: so a window tells it in feet where that is wanted. */
export const metres = (value: unknown): string => `${value}\u2009m`;
/** Of a depth a tenth counts, whatever the unit. */
const depth = (value: unknown): string => metres(Number.isInteger(value) ? `${value}.0` : value);

const PRACTICE = "Common practice, no source";
const NEC = "NEC 770, from memory";

const PLACES = { ...KINDS.space.fields.kind.values, ...KINDS.pathway.fields.kind.values };

const environment = (one: Judgement): string => {
  const value = one.facts.environment as keyof typeof KINDS.pathway.fields.environment.values | null;
  const kind = one.facts.kind as keyof typeof PLACES | null | undefined;
  const words = value ? KINDS.pathway.fields.environment.values[value] : null;
  return [words, kind ? PLACES[kind] : null].filter(Boolean).join(", ") || "in surroundings not on record";
};

/** The way or place that a cable lies in. */
const lies = (q: (kind: KindName) => string): string => q("pathway") || q("space");

const is = (one: Judgement, value: Judgement["verdict"]): boolean => one.verdict === value;
const unless = (one: Judgement, words: string): string | null =>
  is(one, "does_not") || is(one, "caution") ? words : null;
const inPlaces = ({ facts: { places } }: Judgement): string => `${places} ${places === 1 ? "place" : "places"}`;
/** Both of what is printed, and which decides. */
const contradiction = ({ facts: { contradicts } }: Judgement): string =>
  contradicts
    ? ` Its marking says ${contradicts}, which contradict each other: ${String(contradicts).split(" and ")[0]}, which allows least, decides.`
    : "";
const least = (one: Judgement): string => (one.facts.at_least === "yes" ? "at least " : "");

const BOND: Readonly<Record<string, string>> = {
  bonded: "is bonded",
  isolated: "is isolated where the cable comes in",
  unbonded: "is unbonded",
  not_on_record: "has no bond on record",
  planned: "has to be bonded, or isolated where the cable comes in,",
};

export const WORDS: Readonly<Record<RuleName, RuleWords>> = {
  outdoors: {
    title: "Indoor cable outdoors",
    rule: "Cable made for indoors does not lie outdoors nor where it is wet.",
    source: `${PRACTICE}: sun destroys its sheath, water gets in, and its warranty is void there`,
    fact: (one, q) =>
      is(one, "does_not")
        ? `Cable made for indoors lies in ${lies(q)} (${environment(one)}), outdoors or in the wet.`
        : is(one, "caution")
          ? `Cable made for indoors lies in ${lies(q)}, a damp room.`
          : is(one, "fits")
            ? `What the cable is made for suits ${lies(q)} (${environment(one)}).`
            : `Whether the cable suits the surroundings of ${lies(q) || q("leg") || q("stop")} can't be told.`,
    remedy: (one) =>
      is(one, "caution")
        ? "Look whether water drips or stands there; move the cable or dry the room if it does."
        : unless(
            one,
            "Replace it by cable made for outdoors, or record what it is made for; ask whether its warranty still holds.",
          ),
  },
  sun: {
    title: "Sheath that does not stand sun",
    rule: "Where the sun reaches it a sheath stands sunlight.",
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "does_not")
        ? `The sun reaches ${lies(q)}, and the sheath does not stand sunlight.`
        : is(one, "fits")
          ? `The sheath stands the sun in ${lies(q)}.`
          : `Whether sun harms it in ${lies(q)} can't be told.`,
    remedy: (one) => unless(one, "Shade it, or replace it by cable whose sheath stands sunlight."),
  },
  water: {
    title: "Cable without water blocking in the wet",
    rule: "Where it is wet, something in the cable keeps water out.",
    source: `${PRACTICE}: water in the pipe gets inside and travels along`,
    fact: (one, q) =>
      is(one, "does_not")
        ? `${lies(q)} is wet (${environment(one)}), and nothing keeps water out of the cable.`
        : is(one, "fits")
          ? `The cable keeps out the water of ${lies(q)} (${environment(one)}).`
          : `Whether water gets in along ${lies(q)} can't be told.`,
    remedy: (one) => unless(one, "Replace it by cable with gel or dry water blocking."),
  },
  rodents: {
    title: "Bare cable among rodents",
    rule: "Where rodents gnaw, armour keeps them off.",
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `Rodents live in ${q("pathway")}; what armours the cable is not on record.`
        : is(one, "does_not")
          ? `Rodents live in ${q("pathway")}, and the cable has no armour.`
          : `Rodents live in ${q("pathway")}; the cable has ${one.facts.armour} armour.`,
    remedy: (one) =>
      unless(
        one,
        "Close the pipe's mouths, and look at the sheath when somebody goes there; armoured cable when it is replaced.",
      ),
  },
  lightning: {
    title: "Metal where lightning strikes",
    rule: "Metal where lightning strikes carries it into buildings; glass doesn't.",
    source: `${PRACTICE}: armour keeps rodents off, and without metal a cable carries no lightning`,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `Lightning strikes at ${q("pathway")}; whether the cable has metal is not on record.`
        : is(one, "fits")
          ? `Lightning strikes at ${q("pathway")}; the cable has no metal.`
          : `Lightning strikes at ${q("pathway")}, and the cable has metallic members.`,
    remedy: (one) => unless(one, "See that its metal is bonded at both ends; cable without metal when it is replaced."),
  },
  unlisted: {
    title: "Unlisted outdoor cable far indoors",
    rule: "Outside-plant cable without a fire marking runs only so many metres indoors from the point of entrance.",
    source: "NEC 770, second-hand; sources disagree on the clause",
    fact: (one, q) =>
      one.facts.metres === undefined
        ? is(one, "fits")
          ? `The cable is marked ${one.facts.marking}.${contradiction(one)}`
          : one.facts.marking
            ? `Whether the marking ${one.facts.marking} is a fire listing is not known here.`
            : "Whether the cable has a fire marking is not on record."
        : `The cable has no fire listing and runs ${least(one)}${metres(one.facts.metres)} in ${q("building") || q("stop") || q("space")}, of ${metres(one.facts.limit)} allowed.${contradiction(one)}`,
    remedy: (one) =>
      unless(one, "End it nearer to the entrance, put it in rigid metal pipe, or go on with listed cable."),
  },
  fire: {
    title: "Fire marking less than the space asks",
    rule: "The fire marking suits the space: plenum for air spaces, riser or better from floor to floor.",
    source: "NEC 770, from memory; substitution goes downwards only (second-hand)",
    fact: (one, q) => {
      const place = q("pathway") || q("space");
      const space = String(one.facts.environment).replace("_", " ");
      if (one.facts.environment === null) return `What the fire marking has to be in ${place} can't be told.`;
      if (is(one, "cannot_tell")) {
        return one.facts.marking === null
          ? `${place} is a ${space} space; the cable's fire marking is not on record.`
          : `${place} is a ${space} space; how far the marking ${one.facts.marking} goes there is not known here.`;
      }
      return `${place} is a ${space} space; the cable is ${one.facts.marking === null ? "not marked" : `marked ${one.facts.marking}`}.${contradiction(one)}`;
    },
    remedy: (one) =>
      unless(one, "Replace it by cable marked for that space, or record the marking that is printed on it."),
  },
  out_of_use: {
    title: "Dead cable left indoors",
    rule: "Cable out of use inside a building is taken out, or labelled as kept for future use.",
    source: `${NEC}: accessible abandoned cable`,
    fact: (one) =>
      is(one, "fits")
        ? `The cable is out of use; its label says "${one.facts.label}".`
        : one.facts.against
          ? `The cable is out of use at ${inPlaces(one)} indoors, and its labels contradict each other: one says "${one.facts.label}", another "${one.facts.against}". It counts as not reserved.`
          : `The cable is out of use at ${inPlaces(one)} indoors, and no label reserves it.`,
    remedy: (one) =>
      unless(
        one,
        one.facts.against
          ? "Ask which label is right and take the other off; then take the cable out, or keep the label that reserves it."
          : "Take it out, or label it as reserved and record the label.",
      ),
  },
  firestop: {
    title: "Firestop older than the cable through it",
    rule: "A firestop is sealed after the last cable was laid through it.",
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `Whether ${q("firestop")} was sealed after the cable was laid can't be told.`
        : `${q("firestop")} was last sealed on ${one.facts.closed_on}; the cable was laid on ${one.facts.installed_on}.`,
    remedy: (one) =>
      unless(one, "Look whether the seal is whole round the cable, have it made good, and record the day."),
  },
  metal: {
    title: "Metal between buildings not bonded",
    rule: "Metallic members that come into a building are bonded there, or broken by an isolating joint where they come in.",
    source: "NEC 770.93 and 770.100, from memory",
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? "Whether the cable has metallic members is not on record."
        : one.facts.state === "no_metal"
          ? "The cable has no metallic members."
          : `The cable's metal ${BOND[one.facts.state as string]} in ${q("building") || q("space")}${q("stop") ? `, at ${q("stop")}` : ""}.`,
    remedy: (one) =>
      one.facts.state === "unbonded"
        ? "Have it bonded or isolated there at once, and treat it as live until then."
        : unless(
            one,
            "Have somebody qualified look whether it is bonded, and record what was found; treat it as live until then.",
          ),
  },
  armour_at_case: {
    title: "Armour that ends at a case",
    rule: "At a case the armour is carried through or bonded.",
    source: PRACTICE,
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `The armour is cut at ${q("stop")}; which case it enters there is not on record.`
        : is(one, "does_not")
          ? `At ${q("closure")} the armour is neither carried through nor bonded on record (${q("stop")}).`
          : `At ${q("closure")} the armour is ${String(one.facts.state ?? "bonded").replace("_", " ")}.`,
    remedy: (one) => unless(one, "Look at the case, carry the armour through or bond it, and record it."),
  },
  buffer: {
    title: "Connector on a strand too thin for it",
    rule: "A connector goes on a strand of 900 µm; a thinner one takes a pigtail, a splice-on connector or a furcation kit.",
    source: PRACTICE,
    fact: (one, q) => {
      const { method, coating_um, strands } = one.facts;
      const how = method
        ? KINDS.termination.fields.method.values[method as keyof typeof KINDS.termination.fields.method.values]
        : null;
      const n = `${strands} ${strands === 1 ? "strand" : "strands"}${q("panel") ? ` on ${q("panel")}` : ""}`;
      if (!how) return `How ${n} are terminated is not on record.`;
      const size = coating_um
        ? `of ${coating_um} µm`
        : one.facts.construction
          ? `of ${String(one.facts.construction).replace("_", "-")} cable`
          : "of a coating not on record";
      return `${n} ${size}: ${how}.`;
    },
    remedy: (one) => unless(one, "Terminate them by pigtails or a furcation kit, or record how it was done."),
  },
  coil: {
    title: "Coil too tight",
    rule: "A coil is no tighter than the cable's least bend radius at rest.",
    source: "The data sheet, else ten outside diameters (second-hand)",
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `Whether the coil at ${q("stop")} is wide enough can't be told.`
        : `The coil at ${q("stop")} has a radius of ${one.facts.radius_mm} mm; the cable needs ${one.facts.least_mm} mm.`,
    remedy: (one) => unless(one, "Store the coil wider."),
  },
  bore: {
    title: "Pipe smaller than its cable",
    rule: "A cable is thinner than the pipe it lies in.",
    source: "Arithmetic",
    fact: (one, q) =>
      `${q("conduit")} is ${one.facts.bore_mm} mm wide; what lies in it is ${(one.facts.sizes_mm as readonly string[]).join(" and ")} mm thick.`,
    remedy: () => "Correct the pipe's inner diameter, the cable's outer diameter, or which pipe it lies in.",
  },
  fill: {
    title: "Pipe fuller than advised",
    rule: "Cables fill a pipe only so far. For optical cable alone this is advice.",
    source: "NEC chapter 9 table 1 (read in its handbook); it does not bind optical cable alone",
    fact: (one, q) =>
      one.facts.percent == null
        ? `How full ${q("conduit")} is can't be told.`
        : `${q("conduit")} is ${least(one)}${one.facts.percent} % full; ${one.facts.limit_percent} % is advised.`,
    remedy: (one) => unless(one, "Use another pipe for what comes next."),
  },
  jam: {
    title: "Three cables that may jam",
    rule: "Three cables alike jam where the bore is about three diameters.",
    source: "A technician's course (second-hand)",
    fact: (one, q) =>
      is(one, "cannot_tell")
        ? `Whether three cables jam in ${q("conduit")} can't be told.`
        : `The bore of ${q("conduit")} is ${one.facts.ratio} diameters of the three cables in it; they jam between ${one.facts.from} and ${one.facts.to}.`,
    remedy: (one) => unless(one, "Expect it to be stuck; do not count on pulling one of them."),
  },
  tension: {
    title: "Pull harder than the cable bears",
    rule: "Pulling a cable takes no more than the tension it bears.",
    source: "A technician's course (second-hand)",
    fact: (one, q) => {
      const { there_n, back_n, most_n } = one.facts;
      const through = one.facts.ways ? `all ${one.facts.ways} ways in one pull` : q("pathway");
      if (there_n === undefined) return `What pulling it through ${through} takes can't be told.`;
      const bends = one.facts.bends_over
        ? ` Its bends are ${one.facts.bends_deg}° together, of ${one.facts.bends_over}°.`
        : "";
      return `Pulling it through ${through} takes ${least(one)}${there_n} N along the way and ${back_n} N against it; it bears ${most_n === null ? "a tension not on record" : `${most_n} N`}.${one.facts.hangs === "yes" ? " In a riser it hangs by its own weight." : ""}${bends}`;
    },
    remedy: (one) =>
      is(one, "caution")
        ? "Pull it from the better end, or from a point between; use lubricant."
        : unless(one, "Do not count on pulling it; pull from a point between, or blow it in."),
  },
  depth: {
    title: "Shallower than the owner asks",
    rule: "The cover is at least what the owner of the ground asks.",
    source: "The plant's policy depth.least",
    fact: (one, q) =>
      one.facts.least_m === null
        ? `No least depth is set for the ${one.facts.ways === 1 ? "way" : `${one.facts.ways} ways`} in the ground that it lies in.`
        : is(one, "cannot_tell")
          ? `The depth of ${q("pathway")} is not on record; ${depth(one.facts.least_m)} is asked.`
          : `${q("pathway")} lies at ${depth(one.facts.depth_m)}; ${depth(one.facts.least_m)} is asked.`,
    remedy: (one) => unless(one, "Measure the cover where it matters, and tell the owner of the ground."),
  },
  pipe_state: {
    title: "Pipe that can't take a cable",
    rule: "A pipe that cable is to be pulled into is free of blockage, and proven.",
    source: PRACTICE,
    fact: (one, q) =>
      !q("conduit")
        ? `Which pipe of ${q("pathway")} is to be used is not said.`
        : one.facts.state === "blocked"
          ? `${q("conduit")} is blocked.`
          : one.facts.state === "unproven" || one.facts.state === null
            ? `${q("conduit")} is not proven.`
            : `${q("conduit")} is ${String(one.facts.state).replace("_", " ")}.`,
    remedy: (one) => unless(one, "Prove the pipe before the cable is ordered."),
  },
  warranty: {
    title: "Warranty",
    rule: "While the warranty runs, what it asks for is kept.",
    source: "The cable's own record",
    fact: (one) => {
      const { until, conditions } = one.facts;
      if (until === null) return `The warranty asks: ${conditions}. When it ends is not on record.`;
      return is(one, "fits")
        ? `The warranty ran out on ${until}.`
        : `The warranty runs until ${until} and ${conditions === null ? "has no conditions on record" : `asks: ${conditions}`}`;
    },
    remedy: (one) => unless(one, "Read its conditions before the cable is opened, pulled or moved."),
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
    remedy: is(one, "cannot_tell") && one.lacks.length > 0 ? "Record what is missing." : remedy(one, q),
    lacks: one.lacks.map(({ what, of }) => `${what}, of \`${tag(...of)}\``),
  };
}
