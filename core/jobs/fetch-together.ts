/**
 * One list of what a crew takes along for several mends of one job: cable of one make summed, cases that are alike told once,
 * each with what it is for; a reel or case in stock is promised once.
 */
import { readStock, type Stock, stockFor } from "../repair/stock.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cableWords, placesWords } from "./fetch-step.ts";
import { listed, metres } from "./mend-facts.ts";
import { byHand, type Fetch, type PlannedStep } from "./step.ts";

interface WantedPiece extends NonNullable<Fetch["piece"]>, Pick<Fetch, "fibre_class"> {}

interface WantedCase extends Pick<Fetch, "splices" | "ribbons"> {
  readonly tag: string;
  readonly trays: number;
  readonly capacity: number;
}

/** @param steps what each mend wants by itself; one of them alone stays as it is. Its lines are kept for the paper. */
export async function fetchTogether(reader: Reader, steps: readonly PlannedStep[]): Promise<PlannedStep[]> {
  const wants = steps.flatMap(({ fetch }) => fetch ?? []);
  if (wants.length < 2) return [...steps];
  const stock = await readStock(reader);
  const pieces = wants.flatMap(({ piece, fibre_class }) => (piece ? [{ ...piece, fibre_class }] : []));
  const cases = wants.flatMap(({ cases: own, splices, ribbons }) => own.map((one) => ({ ...one, splices, ribbons })));
  const lines = [
    `${totalWords(pieces, cases)}:`,
    ...pieceLines(pieces, reelsFor(stock, pieces)),
    ...caseLines(cases, stockCases(stock, cases)),
  ];
  return [{ ...byHand(lines.join(" ")), input: { at_hand: lines } }];
}

function totalWords(pieces: readonly WantedPiece[], cases: readonly WantedCase[]): string {
  const cable = say`${metres(sumOf(pieces))} of new cable`;
  const hung = counted(cases.length, "new case", "new cases");
  if (cases.length === 0) return say`Have at hand ${cable}`;
  return pieces.length === 0 ? say`Have at hand ${hung}` : say`Have at hand ${cable} and ${hung}`;
}

const sumOf = (pieces: readonly WantedPiece[]): number => pieces.reduce((sum, one) => sum + one.metres, 0);

interface Reeled {
  readonly reel: string;
  /** As much of it as is left for this piece; null where its length is not on record. */
  readonly length_m: number | null;
}

/** By piece. The one with the most strands chooses first, then the longest; what is left of a reel may do for the next. */
function reelsFor(stock: Stock, pieces: readonly WantedPiece[]): Map<string, Reeled> {
  const found = new Map<string, Reeled>();
  let left = stock.reels;
  for (const { tag, metres: wanted, strands, fibre_class } of pieces.toSorted(
    (a, b) => b.strands - a.strands || b.metres - a.metres,
  )) {
    const asked = { metres: wanted, strands, fibre_class, cases: 0 };
    const { cable } = stockFor({ reels: left, cases: [] }, asked);
    if (cable === null) continue;
    const length_m = left.find((reel) => reel.cable.id === cable.id)?.length_m ?? null;
    found.set(tag, { reel: cable.tag, length_m });
    left = left.flatMap((reel) =>
      reel.cable.id !== cable.id ? [reel] : length_m === null ? [] : [{ ...reel, length_m: length_m - wanted }],
    );
  }
  return found;
}

function pieceLines(pieces: readonly WantedPiece[], reels: ReadonlyMap<string, Reeled>): string[] {
  const makes = Map.groupBy(pieces, cableWords);
  return [...makes].map(([make, alike]) => {
    const own =
      alike.length === 1
        ? alike.map(({ tag }) => say`for ${tag}`)
        : alike.map(({ tag, metres: long }) => say`for ${tag} ${metres(long)}`);
    const head = say`${metres(sumOf(alike))} of ${make}: ${listed(own)}.`;
    const taken = alike.flatMap(({ tag }) => {
      const reeled = reels.get(tag);
      if (!reeled) return [];
      return reeled.length_m === null
        ? say`${reeled.reel} in stock may do for ${tag}: how long it is, is not on record.`
        : say`${reeled.reel} in stock would do for ${tag}: ${metres(reeled.length_m)} of it are left.`;
    });
    const bought = alike.filter(({ tag }) => !reels.has(tag));
    if (bought.length === 0) return [head, ...taken].join(" ");
    const long = metres(sumOf(bought));
    return [
      head,
      ...taken,
      taken.length === 0
        ? say`No cable in stock would do: buy ${long}.`
        : say`For ${listed(bought.map(({ tag }) => tag))} no cable in stock would do: buy ${long}.`,
    ].join(" ");
  });
}

/** By case, as it will be called. The one with the most splices chooses first. */
function stockCases(stock: Stock, cases: readonly WantedCase[]): Map<string, string> {
  const found = new Map<string, string>();
  let left = stock.cases;
  for (const { tag, splices } of cases.toSorted((a, b) => b.splices - a.splices)) {
    const asked = { metres: 0, strands: splices, fibre_class: null, cases: 1 };
    const [closure] = stockFor({ reels: [], cases: left }, asked).cases;
    if (!closure) continue;
    const known = left.some((one) => one.closure.id === closure.id && one.capacity !== null && one.entries !== null);
    found.set(tag, known ? closure.tag : say`${closure.tag} (its room is not on record)`);
    left = left.filter((one) => one.closure.id !== closure.id);
  }
  return found;
}

function caseLines(cases: readonly WantedCase[], found: ReadonlyMap<string, string>): string[] {
  const kinds = Map.groupBy(cases, ({ splices, trays, capacity, ribbons }) =>
    [splices, trays, capacity, ribbons].join(" "),
  );
  return [...kinds.values()].map((alike) => {
    const [first] = alike as [WantedCase];
    const takes = say`${counted(first.splices, "splice")} in ${counted(first.trays, "splice tray", "splice trays")}, with ${placesWords(first.capacity, first.ribbons)}, and ports for 2 cables`;
    const tags = listed(alike.map(({ tag }) => tag));
    const head =
      alike.length === 1
        ? say`1 case that takes ${takes}: ${tags}.`
        : say`${alike.length} cases, each of which takes ${takes}: ${tags}.`;
    const taken = alike.flatMap(({ tag }) => found.get(tag) ?? []);
    const buy = alike.length - taken.length;
    return [
      head,
      ...(taken.length > 0 ? [say`In stock: ${listed(taken)}.`] : []),
      ...(buy === 0
        ? []
        : taken.length > 0
          ? [plural(buy, "Buy {0} more.", "Buy {0} more.")]
          : [plural(buy, "None in stock would do: buy it.", "None in stock would do: buy {0}.")]),
    ].join(" ");
  });
}
