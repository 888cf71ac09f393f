/** What a crew takes along for a mend, told before anything is cut: the cable by its make, the cases by their room, and what is in stock. */
import type { MendReckoned } from "../repair/mend.ts";
import { glassWords, readStock, stockFor } from "../repair/stock.ts";
import type { Reader } from "../store/handle.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { PlannedCase } from "./case.ts";
import { metres } from "./mend-facts.ts";
import { byHand, type PlannedStep } from "./step.ts";

export interface Fetched {
  readonly reckoned: Pick<MendReckoned, "cable" | "cables">;
  /** The new cable, by its number, make, strands and metres, waste included; null where none is laid. */
  readonly piece: {
    readonly tag: string;
    readonly type: string | null;
    readonly strands: number;
    readonly metres: number;
  } | null;
  /** Strands spliced in each case. */
  readonly splices: number;
  /** Some are ribbons spliced at once. */
  readonly ribbons: boolean;
  readonly cases: readonly PlannedCase[];
}

/** Empty where nothing is wanted that isn't there. */
export async function fetchSteps(
  reader: Reader,
  { reckoned, piece, splices, ribbons, cases }: Fetched,
): Promise<PlannedStep[]> {
  const { cable, cables } = reckoned;
  const fibre_class = cables.byId.get(cable.id)?.fibre_class ?? null;
  // One that hangs there already, or that was chosen from stock, is named at its own step.
  const fresh = cases.filter(({ fresh: own }) => own !== undefined);
  if (piece === null && fresh.length === 0) return [];
  const stock = stockFor(await readStock(reader), {
    metres: piece?.metres ?? 0,
    strands: piece?.strands ?? splices,
    splices,
    fibre_class,
    cases: fresh.length,
  });
  const glass = glassWords(fibre_class);
  const wanted = [
    ...(piece
      ? [
          say`for ${piece.tag} ${metres(piece.metres)} of ${piece.type ?? say`cable, its make not on record`}, ${counted(piece.strands, "strand", "strands")}, ${glass}`,
        ]
      : []),
    // Cases that are alike are told once.
    ...[...Map.groupBy(fresh, ({ fresh: own }) => `${own?.trays} ${own?.capacity}`).values()].map((alike) => {
      const [first] = alike as [PlannedCase];
      const trays = counted(first.fresh?.trays ?? 0, "splice tray", "splice trays");
      const places = say`${first.fresh?.capacity ?? 0} places in all${ribbons ? say`, one for each ribbon` : ""}`;
      return alike.length === 1
        ? say`for ${first.tag} a case that takes ${counted(splices, "splice")} in ${trays}, with ${places}, and ports for 2 cables`
        : say`for ${alike.map(({ tag }) => tag).join(say` and `)} a case each that takes ${counted(splices, "splice")} in ${trays}, with ${places}, and ports for 2 cables`;
    }),
  ];
  return [byHand([say`Have at hand: ${wanted.join("; ")}.`, ...stock.words].join(" "))];
}
