/**
 * Ribbons in a break-out: a ribbon is cut and spliced whole, twelve strands at a time or as many as it has, unless the
 * plant's policy lets it be split. Common practice, no source.
 */
import type { UnitGroup } from "../act/cable-design.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { limitOf } from "./limits.ts";
import type { StrandHere, UnitHere } from "./strands.ts";

export interface RibbonRule {
  /** Strands of a ribbon of this cable; null where it has none. Where ribbons differ, what most of them have. */
  readonly size: number | null;
  readonly split: boolean;
}

export async function ribbonRule(reader: Reader, cable: number, limits: Limits): Promise<RibbonRule> {
  const rows = await reader.rows<{ size: number; ribbons: number }>(
    `select size, count(*) as ribbons from (
       select count(*) as size from strand t join unit u on u.id = t.unit_id
       where t.cable_id = ? and u.kind = 'ribbon' group by u.id
     ) where size > 1 group by size order by ribbons desc, size desc`,
    [cable],
  );
  return { size: rows[0]?.size ?? null, split: limitOf(limits, "breakout.split_ribbons", 0) > 0 };
}

/** Strands as they are taken: whole ribbons, where they aren't split. */
export const takenWhole = (strands: number, { size, split }: RibbonRule): number =>
  size === null || split ? strands : Math.ceil(strands / size) * size;

/** Of a ribbon that isn't split nothing is taken where one strand can't be. */
export function byRibbon(units: readonly UnitHere[], { size, split }: RibbonRule): UnitHere[] {
  if (size === null || split) return [...units];
  const strands = units.flatMap((unit) => unit.strands);
  const ribbons = Map.groupBy(strands, ({ ribbon }) => ribbon);
  const why = new Map(
    [...ribbons].flatMap(([ribbon, own]): [number | null, string][] => {
      if (ribbon === null) return [[ribbon, say`in no ribbon, and the lateral takes ribbons`]];
      if (own.length !== size) return [[ribbon, say`in a ribbon of ${own.length}`]];
      return own.some(({ taken }) => taken !== null)
        ? [[ribbon, say`in a ribbon with others, and it isn't split`]]
        : [];
    }),
  );
  return units.map((unit) => ({
    ...unit,
    strands: unit.strands.map((strand) => ({ ...strand, taken: strand.taken ?? why.get(strand.ribbon) ?? null })),
  }));
}

/** Strands of a set ribbon by ribbon where they are taken whole; else together. */
export function ribbonsOf(strands: readonly StrandHere[], { size, split }: RibbonRule): (readonly StrandHere[])[] {
  if (size === null || split) return [strands];
  return [...Map.groupBy(strands, ({ ribbon }) => ribbon).values()];
}

/** Ribbons of which only some strands are taken, as people name them. */
export function splitIn(units: readonly UnitHere[], chosen: readonly StrandHere[]): string[] {
  const picked = Map.groupBy(chosen, ({ ribbon }) => ribbon);
  const all = Map.groupBy(
    units.flatMap((unit) => unit.strands),
    ({ ribbon }) => ribbon,
  );
  return [...picked].flatMap(([ribbon, own]) =>
    ribbon === null || own.length === all.get(ribbon)?.length ? [] : [ribbonWords(own)],
  );
}

/** `tube 1 blue, ribbon 2 orange`. */
export const ribbonWords = ([first]: readonly StrandHere[]): string =>
  first?.colours
    .slice(0, -1)
    .map(({ words }) => words)
    .join(", ") ?? "";

/** Whether what is made of such groups lies in ribbons of one size, so that ribbon is spliced to ribbon. */
export function ribbonsIn(groups: readonly UnitGroup[], size: number): boolean {
  const innermost = (group: UnitGroup): UnitGroup[] => [
    ...(group.strands > 0 ? [group] : []),
    ...group.units.flatMap(innermost),
  ];
  return groups.flatMap(innermost).every(({ kind, strands }) => kind === "ribbon" && strands === size);
}
