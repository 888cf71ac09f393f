/** The columns of a kind's table, derived from the dictionary: nothing here names a field that the dictionary doesn't. */
import { KIND_NAMES, KINDS, type KindName, kindOf } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { physical, provenance } from "../../core/model/kind.ts";
import { say } from "../../core/words/say.ts";
import { unitOf } from "./showing.ts";

export interface GridColumn {
  /** The field's name. */
  readonly id: string;
  readonly field: Field;
  /** The kind a reference points at; null for a record of any kind, or no reference. */
  readonly to: KindName | null;
  /** Width in pixels before anybody changed it. */
  readonly width: number;
  /** Shown before anybody chose. */
  readonly shown: boolean;
  /** Figures stand to the right. */
  readonly figures: boolean;
  /** Set in the type of tags. */
  readonly mono: boolean;
  /** Part of what the record is called. */
  readonly names: boolean;
}

const SHARED = new Set([...Object.keys(physical), ...Object.keys(provenance)]);

/** What a kind's own name is made of; these stand first and in the type of tags. */
const namesOf = (kind: KindName): ReadonlySet<string> => {
  const { address, key } = kindOf(kind);
  return new Set(address ? [address.name] : key.slice(0, 1));
};

const longest = (values: Readonly<Record<string, string>>): number =>
  Math.max(...Object.values(values).map((word) => word.length));

/** Room for what the field holds, and for its label. */
function widthOf(field: Field, isName: boolean): number {
  // The head says the unit too, feet in two letters.
  const unit = unitOf(field, "ft");
  const head = (unit ? `${field.label}, ${unit}` : field.label).length * 6.6 + 26;
  const body = (): number => {
    switch (field.type) {
      case "integer":
      case "number":
        // A place is told to a hundredth of a metre: seven figures behind the point.
        return field.unit === "deg" ? 108 : 76;
      case "date":
        return 100;
      case "choice":
        return longest(field.values) * 7 + 26;
      case "set":
        return 150;
      case "kind":
        return 110;
      case "reference":
      case "subject":
        // A strand stands with its colours and their names beside it.
        return field.type === "reference" && (field.to === "section" || field.to === "strand") ? 252 : 132;
      case "shape":
        return 150;
      case "text":
        return isName ? 112 : field.max <= 60 ? 116 : field.max <= 120 ? 168 : 220;
    }
  };
  return Math.round(Math.min(280, Math.max(head, body())));
}

/** What stands in these is longer than what such fields usually hold: a colour with its number, a limit's many words. */
const WIDER: Readonly<Record<string, number>> = { "strand.colour": 214, "unit.colour": 214, "limit_value.tag": 190 };

/** Texts that may be longer than this are read on the record's page. */
const LONG_TEXT = 1000;
/** Beyond this many, own fields wait behind the choice of columns. */
const SHOWN_AT_FIRST = 14;

function planOf(kind: KindName): readonly GridColumn[] {
  const names = namesOf(kind);
  const { address, fields } = kindOf(kind);
  const parents = new Set(address?.parents ?? []);
  // Without an address the dictionary's own order reads best: a splice begins with its tray.
  // A number means little before one knows of what: strand 12 of F-014, stop 3 of F-033.
  const numbered = address !== null && address.name !== "tag";
  const rank = (name: string): number => {
    if (!address) return 0;
    if (names.has(name)) return numbered ? 1 : 0;
    return parents.has(name) ? (numbered ? 0 : 1) : 2;
  };
  let own = 0;
  return Object.entries(fields)
    .toSorted(([one], [other]) => rank(one) - rank(other))
    .map(([id, field]) => {
      const shared = SHARED.has(id);
      const quiet = shared || field.type === "shape" || (field.type === "text" && field.max >= LONG_TEXT);
      const shown = names.has(id) || id === "life" || (!quiet && own < SHOWN_AT_FIRST);
      if (!quiet) own++;
      const isTag = id === "tag" || field.type === "reference" || field.type === "subject";
      return {
        id,
        field,
        to: field.type === "reference" ? (field.to as KindName) : null,
        width: WIDER[`${kind}.${id}`] ?? widthOf(field, names.has(id)),
        shown,
        figures: field.type === "integer" || field.type === "number",
        mono: isTag || names.has(id),
        names: names.has(id),
      };
    });
}

/** Made once for each kind, so that tables keep their columns. */
export const GRID_COLUMNS: Readonly<Record<KindName, readonly GridColumn[]>> = Object.fromEntries(
  KIND_NAMES.map((kind) => [kind, planOf(kind)]),
) as Record<KindName, readonly GridColumn[]>;

export const columnOf = (kind: KindName, id: string): GridColumn | undefined =>
  GRID_COLUMNS[kind].find((column) => column.id === id);

/** Groups of kinds in the order of the dictionary, for the index. */
export const GROUP_WORDS = {
  places: say`Places`,
  ways: say`Ways`,
  cable: say`Cable`,
  glass: say`Glass`,
  patching: say`Patching`,
  service: say`Service`,
  evidence: say`Evidence`,
  work: say`Work`,
  plant: say`Plant`,
} as const;

export const KIND_GROUPS: readonly { readonly name: string; readonly kinds: readonly KindName[] }[] = Object.entries(
  GROUP_WORDS,
).map(([group, name]) => ({ name, kinds: KIND_NAMES.filter((kind) => KINDS[kind].group === group) }));
