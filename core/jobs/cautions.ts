/**
 * Cautions of planned work: those of a step by what it does and where, and those of a whole job, each once, in the order in
 * which a crew meets them. By what is stored of a step, never by its words, which are in the language of whoever planned it.
 */
import { type CautionId, cautionsSaid } from "../standards/cautions.ts";
import type { Mind } from "./step.ts";

const CAUTIONS: Readonly<Record<Mind, readonly CautionId[]>> = {
  identify: ["identify"],
  glass: ["lit", "dark", "pulse", "shards"],
  metal: ["voltage"],
  pole: ["climbing", "span"],
  riser: ["floors"],
  ground: ["ground"],
  hole: ["hole", "asbestos", "traffic"],
  dig: ["digging"],
  firestop: ["firestop"],
};

/** Kinds of spaces that are holes in the ground, and those that are climbed. */
const HOLES: ReadonlySet<string> = new Set(["hand_hole", "maintenance_hole", "pull_box"]);

/** Data of older files, never what is said now. */
const OF_OLD: readonly string[] = ["Dig ", "Have every owner mark"];

interface StepFacts {
  readonly act: string | null;
  readonly input: unknown;
  readonly words: string;
}

const isGlass = (act: string): boolean => /^(splice|cable)\./.test(act) || act === "strand.land";
const CUTS: ReadonlySet<string> = new Set([
  "cable.sever",
  "cable.open",
  "cable.move_cut",
  "cable.close_gap",
  "cable.replace",
]);

/** What a step has to mind. @param kind of the space it is done in, where one is on record */
export function mindsOf({ act, input, words }: StepFacts, kind: string | null): ReadonlySet<Mind> {
  const own = input as {
    readonly kind?: string;
    readonly minds?: readonly Mind[];
    readonly changes?: readonly { readonly kind?: string }[];
  } | null;
  const minds = new Set<Mind>(act === null ? (own?.minds ?? []) : []);
  // Steps stored before one could say what it minds were written in English alone: these two began so.
  if (act === null && !own?.minds && OF_OLD.some((begin) => words.startsWith(begin))) minds.add("dig");
  if (act !== null && isGlass(act)) minds.add("glass").add("metal");
  // Whoever takes splices out has the ends in the hand.
  if (act === "record.change_many" && own?.changes?.some((change) => change.kind === "splice")) minds.add("glass");
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
  cautionsSaid([...minds].flatMap((mind) => CAUTIONS[mind]));

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
