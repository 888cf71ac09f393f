/** The reel in stock that a lateral is cut from: long enough, with as many strands of the core, and fit for the way; or that none does. */
import { type Core, classWords, coreOf, type FibreClass } from "../light/classes.ts";
import { formatLength } from "../model/units.ts";
import { readStock } from "../repair/stock.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";

export interface ReelAsked {
  readonly strands: number;
  /** Null takes any. */
  readonly type_id: number | null;
  readonly core: Core | null;
  /** To be cut off, waste included; null where the lateral's length is not known. */
  readonly order_m: number | null;
}

/** A reel that has enough strands of the core. */
export interface Candidate {
  readonly cable: RecordRef;
  readonly type_id: number | null;
}

export interface LateralReel {
  /** Those that would do or may do, the shortest of those known to be long enough first. */
  readonly stock: readonly RecordRef[];
  /** The one to take: known to be long enough. */
  readonly reel: { readonly cable: RecordRef; readonly type_id: number | null; readonly length_m: number } | null;
  /** The reel by whose make the pipes of the way are chosen: the one to take, or else the first that may do. */
  readonly likely: Candidate | null;
  readonly words: string;
}

/** Why a reel doesn't suit the way, in words; null where nothing on record is against it. */
export type Against = (reel: Candidate) => Promise<string | null>;

const metres = (value: number): string => formatLength(value, "m", 1);

export async function reelFor(
  reader: Reader,
  { strands, type_id, core, order_m }: ReelAsked,
  against: Against,
): Promise<LateralReel> {
  const { reels } = await readStock(reader);
  const ids = JSON.stringify(reels.map(({ cable }) => cable.id));
  // A reel without a data sheet, or of two kinds of glass, says by its units what it holds.
  const classes = Map.groupBy(
    await reader.rows<{ cable_id: number; fibre_class: FibreClass }>(
      `select distinct cable_id, fibre_class from unit
       where cable_id in (select value from json_each(?)) and fibre_class is not null`,
      [ids],
    ),
    ({ cable_id }) => cable_id,
  );
  const ofCore = ({ cable, fibre_class }: (typeof reels)[number]): boolean => {
    const own = classes.get(cable.id)?.map((unit) => unit.fibre_class) ?? (fibre_class ? [fibre_class] : []);
    return core === null || own.length === 0 || own.every((one) => coreOf(one) === core);
  };
  const types = new Map(
    (
      await reader.rows<{ id: number; type_id: number | null }>(
        "select id, type_id from cable where id in (select value from json_each(?))",
        [ids],
      )
    ).map((row) => [row.id, row.type_id]),
  );
  const alike = reels.filter(
    (reel) => reel.strands >= strands && (type_id === null || types.get(reel.cable.id) === type_id) && ofCore(reel),
  );
  const made = ({ cable }: (typeof reels)[number]): Candidate => ({ cable, type_id: types.get(cable.id) ?? null });
  const unfit = new Map<number, string>();
  for (const reel of alike) {
    const why = await against(made(reel));
    if (why !== null) unfit.set(reel.cable.id, why);
  }
  const suits = alike.filter(({ cable }) => !unfit.has(cable.id));
  const long = suits
    .filter(({ length_m }) => order_m !== null && length_m !== null && length_m >= order_m)
    .sort((a, b) => (a.length_m ?? 0) - (b.length_m ?? 0) || a.strands - b.strands);
  const unknown = suits.filter(({ length_m }) => length_m === null || order_m === null);
  const short = suits.filter((reel) => !long.includes(reel) && !unknown.includes(reel));
  const [best] = long;
  const glass = counted(strands, "strand");
  const wanted = order_m === null ? glass : say`${glass} and ${metres(order_m)}`;
  const tags = (some: typeof alike): string => some.map(({ cable }) => cable.tag).join(", ");
  const tooShort = short.map(({ cable, length_m }) => say`${cable.tag} has ${metres(length_m ?? 0)}`).join(", ");
  const passed = alike
    .flatMap(({ cable }) =>
      unfit.has(cable.id) ? [say` ${cable.tag} doesn't suit the way: ${unfit.get(cable.id)}.`] : [],
    )
    .join("");
  const words = best
    ? say`${best.cable.tag} in stock does: ${counted(best.strands, "strand")}${best.fibre_class ? say` of ${classWords(best.fibre_class)}` : ""}, ${metres(best.length_m ?? 0)}; ${metres(order_m ?? 0)} are cut off.`
    : unknown.length > 0
      ? order_m === null
        ? say`${tags(unknown)} in stock may do: how long the lateral is, is not known.`
        : plural(
            unknown.length,
            "{1} in stock may do: how long it is, is not on record, and {2} are needed.",
            "{1} in stock may do: how long they are, is not on record, and {2} are needed.",
            tags(unknown),
            metres(order_m),
          )
      : say`No reel in stock does for ${wanted}${tooShort ? say`: ${tooShort}` : ""}.`;
  return {
    stock: [...long, ...unknown].map(({ cable }) => cable),
    reel: best
      ? { cable: best.cable, type_id: types.get(best.cable.id) ?? null, length_m: best.length_m as number }
      : null,
    likely: long[0] || unknown[0] ? made((long[0] ?? unknown[0]) as (typeof reels)[number]) : null,
    words: `${words}${passed}`,
  };
}
