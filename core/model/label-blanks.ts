/** The blanks a label's wording may have, what fills each, and the classes of place that have wordings of their own. */
import { say } from "../words/say.ts";

/** Name of a blank and what stands there. */
export const LABEL_BLANKS = {
  tag: say`its own tag, such as F-012, A or 07`,
  address: say`its whole address, such as LIB/101/A:07`,
  name: say`what it is called in words`,
  from: say`where it comes from: the space at its A end`,
  to: say`where it goes: the space at its B end; of a port, where its glass ends`,
  strands: say`how many strands it has`,
  count: say`how many strands it has`,
  fibre: say`the class of its fibre`,
  ranges: say`which of its strands go where from here, once they part`,
  place: say`where the label is put`,
  building: say`the building it is in`,
  owner: say`whose it is`,
  emergency: say`whom to call, by night where that is known`,
  port: say`the port's number`,
  panel: say`the panel's address`,
  strand: say`the strands that are landed on it`,
  rating: say`a firestop's rating`,
  system: say`a firestop's listed system`,
} as const;

export type LabelBlank = keyof typeof LABEL_BLANKS;
export const LABEL_BLANK_NAMES = Object.keys(LABEL_BLANKS) as readonly LabelBlank[];

/** Where a label hangs or what it is on, as far as that settles what stands on it. */
export const LABEL_CLASSES = {
  outdoor: say`cable outdoors`,
  indoor: say`cable indoors`,
  port: say`port`,
  panel: say`panel`,
  closure: say`closure`,
  tray: say`splice tray`,
  pathway: say`pathway`,
  conduit: say`conduit`,
  space: say`space`,
  busbar: say`busbar`,
  firestop: say`firestop`,
  other: say`anything else`,
} as const;

export type LabelClass = keyof typeof LABEL_CLASSES;
export const LABEL_CLASS_NAMES = Object.keys(LABEL_CLASSES) as readonly LabelClass[];

/** What a label in the street doesn't say: whoever reads it there learns what it serves. */
export const NOT_OUTDOORS: ReadonlySet<string> = new Set(["from", "to", "ranges", "building"]);

/** The names in the blanks of a wording, each once, in the order in which they stand. */
export const blanksOf = (wording: string): string[] => [
  ...new Set([...wording.matchAll(/\{([^{}]*)\}/g)].map(([, name = ""]) => name)),
];

/** The blanks of a wording that refer to nothing. */
export const strangeBlanks = (wording: string): string[] =>
  blanksOf(wording).filter((name) => !Object.hasOwn(LABEL_BLANKS, name));
