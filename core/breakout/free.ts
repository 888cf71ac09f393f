/** Strands that can be taken, and why others can't; the sets that are made of them. */
import { coreOf } from "../light/classes.ts";
import { refuse } from "../result.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { UnitOpened } from "./answer.ts";
import { better, type Chosen, choose } from "./choose.ts";
import type { UnitHere } from "./strands.ts";

export interface StrandsWanted {
  readonly strands: number;
  /** Of whole ribbons: how many were asked for. */
  readonly asked?: number;
  /** So many sets at most. */
  readonly most: number;
}

/** Sets of one core each: single-mode and multimode strands of one sheath never serve together. */
export function oneCore(
  units: readonly UnitHere[],
  offered: readonly { live: number; opened_before: boolean; strands: UnitHere["strands"] }[],
  { strands, most }: StrandsWanted,
): Chosen[] {
  const core = (fibre: UnitHere["strands"][number]["fibre"]): string => (fibre ? coreOf(fibre) : "");
  const cores = [...new Set(units.flatMap((unit) => unit.strands.map(({ fibre }) => core(fibre))))];
  return cores
    .flatMap((own) =>
      choose(
        offered.map((unit) => ({ ...unit, strands: unit.strands.filter(({ fibre }) => core(fibre) === own) })),
        strands,
        most,
      ),
    )
    .sort(better)
    .slice(0, most);
}

/** More strands than the cable has, or than are free: with how many each unit has, and why not more. */
export function refuseTooMany(units: readonly UnitHere[], asked: StrandsWanted, tag: string, place: string): void {
  const all = units.flatMap(({ strands }) => strands);
  const wanted = asked.strands;
  const more =
    asked.asked === undefined || asked.asked === wanted ? "" : say` (for ${asked.asked}: ribbons are taken whole)`;
  if (all.length === 0) {
    refuse("not_possible", say`${tag} has no strands on record at ${place}.`, [
      { field: "cable", record: tag, reason: say`is on record without strands there` },
    ]);
  }
  if (wanted > all.length) {
    refuse(
      "not_possible",
      plural(
        wanted,
        "{0} strand is wanted{1}; {2} has {3} at {4}.",
        "{0} strands are wanted{1}; {2} has {3} at {4}.",
        more,
        tag,
        all.length,
        place,
      ),
      [{ field: "strands", record: tag, reason: say`has ${counted(all.length, "strand")} at ${place}` }],
    );
  }
  const cores = Map.groupBy(
    all.filter(({ taken }) => taken === null),
    ({ fibre }) => (fibre ? coreOf(fibre) : ""),
  );
  const most = Math.max(0, ...[...cores.values()].map((own) => own.length));
  if (wanted <= most) return;
  const found =
    most === 0
      ? say`none of ${tag}'s ${all.length} at ${place} is free`
      : plural(
          most,
          "{0} strand is free of {1}'s {2} at {3}",
          "{0} strands are free of {1}'s {2} at {3}",
          tag,
          all.length,
          place,
        );
  refuse(
    "not_possible",
    plural(wanted, "{0} strand is wanted{1}; {2}.", "{0} strands are wanted{1}; {2}.", more, found),
    units.map(({ record, words, strands }) => ({
      field: "strands",
      record: record?.tag ?? tag,
      reason: say`${words} has ${strands.filter(({ taken }) => taken === null).length} free of ${strands.length}${whyWords(strands)}`,
    })),
  );
}

const whyWords = (strands: UnitHere["strands"]): string => {
  const why = notFree(strands).map(({ reason, count }) => `${count} ${reason}`);
  return why.length === 0 ? "" : `: ${why.join(", ")}`;
};

export const notFree = (strands: UnitHere["strands"]): { reason: string; count: number }[] =>
  [...Map.groupBy(strands, ({ taken }) => taken ?? "")].flatMap(([reason, own]) =>
    reason === "" ? [] : [{ reason, count: own.length }],
  );

export const unitTold = (unit: UnitHere): Omit<UnitOpened, "takes" | "ribbons"> => ({
  unit: unit.record,
  layers: unit.layers,
  words: unit.words,
  strands: unit.strands.length,
  free: unit.strands.filter(({ taken }) => taken === null).length,
  opened_before: unit.opened_before,
  live: unit.live.length,
});
