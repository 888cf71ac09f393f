/** What a crew takes along for a mend, told before anything is cut: the cable by its make, the cases by their room, and what is in stock. */
import type { MendReckoned } from "../repair/mend.ts";
import { glassWords, readStock, stockFor } from "../repair/stock.ts";
import type { Reader } from "../store/handle.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { PlannedCase } from "./case.ts";
import { metres } from "./mend-facts.ts";
import { byHand, type Fetch, type PlannedStep } from "./step.ts";

export interface Fetched {
  readonly reckoned: Pick<MendReckoned, "cable" | "cables">;
  readonly piece: Fetch["piece"];
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
  const fresh = cases.flatMap(({ tag, fresh: own }) => (own === undefined ? [] : [{ tag, ...own }]));
  if (piece === null && fresh.length === 0) return [];
  const stock = stockFor(await readStock(reader), {
    metres: piece?.metres ?? 0,
    strands: piece?.strands ?? splices,
    splices,
    fibre_class,
    cases: fresh.length,
  });
  const wanted = [
    ...(piece ? [say`for ${piece.tag} ${metres(piece.metres)} of ${cableWords({ ...piece, fibre_class })}`] : []),
    // Cases that are alike are told once.
    ...[...Map.groupBy(fresh, ({ trays, capacity }) => `${trays} ${capacity}`).values()].map((alike) => {
      const [first] = alike as [(typeof alike)[number]];
      const trays = counted(first.trays, "splice tray", "splice trays");
      const places = placesWords(first.capacity, ribbons);
      return alike.length === 1
        ? say`for ${first.tag} a case that takes ${counted(splices, "splice")} in ${trays}, with ${places}, and ports for 2 cables`
        : say`for ${alike.map(({ tag }) => tag).join(say` and `)} a case each that takes ${counted(splices, "splice")} in ${trays}, with ${places}, and ports for 2 cables`;
    }),
  ];
  const step = byHand([say`Have at hand: ${wanted.join("; ")}.`, ...stock.words].join(" "));
  return [{ ...step, fetch: { piece, splices, ribbons, fibre_class, cases: fresh } }];
}

export const cableWords = ({
  type,
  strands,
  fibre_class,
}: Pick<NonNullable<Fetch["piece"]>, "type" | "strands"> & Pick<Fetch, "fibre_class">): string =>
  say`${type ?? say`cable, its make not on record`}, ${counted(strands, "strand", "strands")}, ${glassWords(fibre_class)}`;

export const placesWords = (capacity: number, ribbons: boolean): string =>
  say`${capacity} places in all${ribbons ? say`, one for each ribbon` : ""}`;
