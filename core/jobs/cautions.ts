/**
 * Cautions of planned work: those of a step by what it does and where, and those of a whole job, each once, in the order in
 * which a crew meets them. By what is stored of a step, never by its words, which are in the language of whoever planned it.
 */
import { say } from "../words/say.ts";
import type { Mind } from "./step.ts";

const WORDS: readonly (readonly [Mind, readonly string[]])[] = [
  [
    "identify",
    [say`Identify the cable by two independent signs before anybody cuts it: a neighbour may look the same.`],
  ],
  [
    "glass",
    [
      say`Treat every end as lit: this light cannot be seen. Measure that a strand is dark before cleaving it, and don't look into an end.`,
      say`No instrument's pulse into a lit receiver: unplug or switch off the equipment at the far end first.`,
      say`Shards of glass cut and can't be seen: glasses on, no food, every piece into the bin for glass.`,
    ],
  ],
  [
    "metal",
    [
      say`Test for voltage before touching armour or a messenger; metal carries lightning and fault current. The local code and a licensed person decide how it is bonded again.`,
    ],
  ],
  [
    "pole",
    [
      say`On a pole, ladder or lift: only who is trained for it, tied on, never alone; look at pole, messenger and ladder before climbing, and keep the distance to power lines that the local rules ask for.`,
      say`Where a span hangs over a street, guard traffic and walkers below as the local authority asks before it is lowered or hung.`,
    ],
  ],
  [
    "riser",
    [
      say`In a riser keep everybody from below an open floor sleeve; hold the cable at each floor before a clamp is loosened, for its weight pulls it down.`,
    ],
  ],
  [
    "ground",
    [
      say`What lies on the ground is in the way of people and vehicles: keep them off while it is worked on, guard and mark all of it, ramp it where it is crossed, and have somebody look at it as long as it lies there.`,
    ],
  ],
  [
    "hole",
    [
      say`A hole may hold gas, water or power. Test the air before going in and while inside; no arc and no flame in it: splice outside, in the open. Entering is for people trained and allowed to by the local rules for confined spaces.`,
      say`Old grey cement pipe may hold asbestos: don't saw or break it, ask.`,
      say`Where traffic passes, guard the place as the local authority asks before a lid is lifted.`,
    ],
  ],
  [
    "dig",
    [
      say`Before digging have all owners mark the ground. Private lines are not marked by the one-call service, a locator can't hear cable without metal, and a coordinate of this record never replaces locating.`,
    ],
  ],
  [
    "firestop",
    [say`Each firestop that is opened is sealed again by its listed system the same day; the local fire code decides.`],
  ],
];

/** Kinds of spaces that are holes in the ground, and those that are climbed. */
const HOLES: ReadonlySet<string> = new Set(["hand_hole", "maintenance_hole", "pull_box"]);

interface StepFacts {
  readonly act: string | null;
  readonly input: unknown;
  readonly words: string;
}

const isGlass = (act: string): boolean => /^(splice|cable)\./.test(act) || act === "strand.land";
const CUTS: ReadonlySet<string> = new Set(["cable.sever", "cable.open", "cable.move_cut", "cable.replace"]);

/** What a step has to mind. @param kind of the space it is done in, where one is on record */
export function mindsOf({ act, input, words }: StepFacts, kind: string | null): ReadonlySet<Mind> {
  const own = input as { readonly kind?: string; readonly minds?: readonly Mind[] } | null;
  const minds = new Set<Mind>(act === null ? (own?.minds ?? []) : []);
  // Jobs planned before steps said what to mind did so in English alone.
  if (act === null && !own?.minds && /^(Dig |Have every owner mark)/.test(words)) minds.add("dig");
  if (act !== null && isGlass(act)) minds.add("glass").add("metal");
  if (act !== null && CUTS.has(act)) minds.add("identify");
  if (act === "pathway.divide" || (act === "record.edit" && own?.kind === "space")) minds.add("dig");
  if (act === "record.edit" && own?.kind === "firestop") minds.add("firestop");
  if (act === "record.edit" && own?.kind === "stop") minds.add("metal");
  if (kind !== null && HOLES.has(kind)) minds.add("hole");
  if (kind === "pole") minds.add("pole");
  // Whoever digs stands in what was dug.
  if (minds.has("dig")) minds.add("hole");
  return minds;
}

export const cautionWords = (minds: ReadonlySet<Mind>): string[] =>
  WORDS.flatMap(([mind, words]) => (minds.has(mind) ? words : []));

interface Placed {
  readonly place: { readonly kind: string; readonly id: number } | null;
}

/** The kind of space in which a step is done; null where it is in none that is known. */
export const kindOf = ({ place }: Placed, kinds: ReadonlyMap<number, string | null>): string | null =>
  place?.kind === "space" ? (kinds.get(place.id) ?? null) : null;

/** What all steps of a job have to mind, and who goes to its other places. */
export const mindsOfAll = (
  steps: readonly (StepFacts & Placed)[],
  kinds: ReadonlyMap<number, string | null>,
): ReadonlySet<Mind> =>
  new Set([
    ...steps.flatMap((step) => [...mindsOf(step, kindOf(step, kinds))]),
    ...[...kinds.values()].flatMap((kind) => [...mindsOf({ act: null, input: { minds: [] }, words: "" }, kind)]),
  ]);
