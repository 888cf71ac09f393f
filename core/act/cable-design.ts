/** The inside of a cable: its units one in another and its strands, numbered from 1 over the whole sheath. */
import { z } from "zod";
import type { Values } from "../model/dictionary.ts";
import { UNIT_KINDS } from "../model/lists.ts";
import { refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { PlanDraft } from "./context.ts";
import { given } from "./inputs.ts";

type UnitValues = Pick<Values<"unit">, "kind" | "fibre_class" | "coating_um">;

/** Some alike units side by side, with what lies in each. */
export interface UnitGroup extends UnitValues {
  readonly repeats: number;
  /** Strands lying directly in each. */
  readonly strands: number;
  readonly units: readonly UnitGroup[];
}

/** No cable made holds as many. */
const MOST_STRANDS = 20_000;
/** A tube in a sub-cable in a bundle is three; more is a circle or a slip. */
const DEEPEST = 6;

interface UnitGroupInput {
  readonly kind: UnitValues["kind"];
  readonly repeats: number;
  readonly strands: number;
  readonly fibre_class?: UnitValues["fibre_class"] | undefined;
  readonly coating_um?: UnitValues["coating_um"] | undefined;
  readonly units?: readonly UnitGroupInput[] | undefined;
}

const unitGroup: z.ZodType<UnitGroupInput> = z.strictObject({
  kind: z.enum(Object.keys(UNIT_KINDS) as [UnitValues["kind"]]).describe(say`What the unit is.`),
  repeats: z.int().min(1).max(1000).describe(say`How many of these lie side by side.`),
  strands: z.int().min(0).max(10_000).describe(say`Strands lying directly in each; 0 where they lie in units inside.`),
  fibre_class: given("unit", "fibre_class"),
  coating_um: given("unit", "coating_um"),
  get units() {
    return z.array(unitGroup).max(100).optional().describe(say`Units inside each of these.`);
  },
});

export const unitGroups = z
  .array(unitGroup)
  .max(100)
  .describe(say`What the cable holds, where that isn't as its type says or it has no type.`);

export const groupsGiven = (groups: readonly UnitGroupInput[]): UnitGroup[] =>
  groups.map(({ kind, repeats, strands, fibre_class, coating_um, units }) => ({
    kind,
    repeats,
    strands,
    fibre_class: fibre_class ?? null,
    coating_um: coating_um ?? null,
    units: groupsGiven(units ?? []),
  }));

/** What a cable type holds, from its units on record. */
export async function groupsOfType(reader: Reader, typeId: number): Promise<UnitGroup[]> {
  const rows = await reader.rows<
    UnitValues & { id: number; parent_id: number | null; repeats: number; strands: number }
  >(
    `select id, parent_id, kind, repeats, strands, fibre_class, coating_um from unit_type
     where cable_type_id = ? order by ordinal, id`,
    [typeId],
  );
  const inside = Map.groupBy(rows, (row) => row.parent_id);
  const build = (parent: number | null, depth: number): UnitGroup[] =>
    depth > DEEPEST
      ? []
      : (inside.get(parent) ?? []).map(({ id, kind, repeats, strands, fibre_class, coating_um }) => ({
          kind,
          repeats,
          strands,
          fibre_class,
          coating_um,
          units: build(id, depth + 1),
        }));
  return build(null, 1);
}

/**
 * Units that lie as a type's do, in kind, number and strands, with the glass and coating of the type where they say none
 * themselves; null where they lie otherwise.
 */
export function asOfType(groups: readonly UnitGroup[], ofType: readonly UnitGroup[]): UnitGroup[] | null {
  if (groups.length !== ofType.length) return null;
  const filled: UnitGroup[] = [];
  for (const [at, group] of groups.entries()) {
    const typical = ofType[at] as UnitGroup;
    const inside = asOfType(group.units, typical.units);
    const alike = (["kind", "repeats", "strands"] as const).every((name) => group[name] === typical[name]);
    if (!alike || !inside) return null;
    const { fibre_class, coating_um } = typical;
    filled.push({
      ...group,
      fibre_class: group.fibre_class ?? fibre_class,
      coating_um: group.coating_um ?? coating_um,
      units: inside,
    });
  }
  return filled;
}

/** How many strands a type holds, and in each of its units; null for units that hold different numbers. */
export async function countsOfType(
  reader: Reader,
  tag: string,
): Promise<{ readonly strands: number; readonly each: number | null } | null> {
  const [type] = await reader.rows<{ id: number }>("select id from cable_type where tag = ?", [tag]);
  const groups = type ? await groupsOfType(reader, type.id) : [];
  if (groups.length === 0) return null;
  const holding = (some: readonly UnitGroup[]): number[] =>
    some.flatMap(({ strands, units }) => [...(strands > 0 ? [strands] : []), ...holding(units)]);
  const each = new Set(holding(groups));
  return { strands: strandsIn(groups), each: each.size === 1 ? ([...each][0] as number) : null };
}

export const strandsIn = (groups: readonly UnitGroup[]): number =>
  groups.reduce((sum, { repeats, strands, units }) => sum + repeats * (strands + strandsIn(units)), 0);

/** How many units lie side by side at the outermost level, so that a list of tube colours has the right length. */
export const outerUnits = (groups: readonly UnitGroup[]): number =>
  groups.reduce((sum, { kind, repeats }) => (kind === "sheath" ? sum : sum + repeats), 0);

export function refuseAbsurdDesign(groups: readonly UnitGroup[], tag: string): void {
  const strands = strandsIn(groups);
  if (strands > MOST_STRANDS) {
    refuse("bad_input", say`${tag} would have ${strands} strands; no cable holds more than ${MOST_STRANDS}.`, [
      { record: tag, field: "units", reason: say`hold ${strands} strands; at most ${MOST_STRANDS} can be entered` },
    ]);
  }
}

interface PlannedStrand {
  readonly unit: number | null;
  readonly place: number;
}
interface PlannedUnit extends UnitValues {
  readonly parent: number | null;
  readonly ordinal: number;
}

/**
 * Lays units and strands out in order. Units of kind `sheath` come after their neighbours, for a tube's position decides
 * its colour; the strands in them are numbered where the type lists them.
 */
function layOut(groups: readonly UnitGroup[]): { units: PlannedUnit[]; strands: PlannedStrand[] } {
  const units: PlannedUnit[] = [];
  const strands: PlannedStrand[] = [];
  const fill = (neighbours: readonly UnitGroup[], parent: number | null) => {
    const count = (sheath: boolean) =>
      neighbours.reduce((sum, { kind, repeats }) => ((kind === "sheath") === sheath ? sum + repeats : sum), 0);
    const next = { unit: 1, sheath: count(false) + 1 };
    for (const { kind, repeats, strands: each, units: inside, fibre_class, coating_um } of neighbours) {
      for (let n = 0; n < repeats; n++) {
        const own = units.length;
        const ordinal = kind === "sheath" ? next.sheath++ : next.unit++;
        units.push({ parent, ordinal, kind, fibre_class, coating_um });
        for (let place = 1; place <= each; place++) strands.push({ unit: own, place });
        fill(inside, own);
      }
    }
  };
  fill(groups, null);
  return { units, strands };
}

export interface Inside {
  readonly units: number;
  /** Ids of the strands in order of their numbers. */
  readonly strands: readonly number[];
}

/** Adds the units and strands of a new cable. */
export async function insertInside(
  draft: PlanDraft,
  cableId: number,
  groups: readonly UnitGroup[],
  basis: Values<"unit">["basis"] | undefined,
): Promise<Inside> {
  const { units, strands } = layOut(groups);
  const first = units.length === 0 ? 0 : await draft.context.newIds("unit", units.length);
  const idOf = (unit: number | null): number | null => (unit === null ? null : first + unit);
  for (const [index, { parent, ...values }] of units.entries()) {
    draft.changes.push({
      op: "insert",
      kind: "unit",
      id: first + index,
      values: { cable_id: cableId, parent_id: idOf(parent), ...values, basis: basis ?? null },
    });
  }
  const made = await draft.insert(
    "strand",
    strands.map(({ unit, place }, index) => ({
      cable_id: cableId,
      number: index + 1,
      unit_id: idOf(unit),
      place,
      basis,
    })),
  );
  return { units: units.length, strands: made };
}
