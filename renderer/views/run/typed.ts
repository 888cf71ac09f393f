/** What is typed of a new cable run: every field as it stands, and what a further row of a list begins with. */
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";

type Whole<T> = { readonly [K in keyof T]-?: Exclude<T[K], undefined> };
type Row<T> = T extends readonly (infer R)[] ? Whole<R> : never;
type Input = Whole<InputOf<"run.rehearse">>;

export type StopRow = Row<Input["stops"]>;
export type LandingRow = Row<Input["landings"]>;
export type SpliceRow = Row<Input["splices"]>;
export type MakeRow = Row<Input["make"]>;

export interface TypedRun extends Omit<Input, "stops" | "landings" | "splices" | "make"> {
  readonly stops: readonly StopRow[];
  readonly landings: readonly LandingRow[];
  readonly splices: readonly SpliceRow[];
  readonly make: readonly MakeRow[];
  /** The place that is being typed and not yet taken. */
  readonly next: string;
}

export type RunPlan = AnswerOf<"run.rehearse">;
export type Offers = AnswerOf<"run.offers">;

export const EMPTY: TypedRun = {
  ...{ tag: "", name: "", type: "", strands: "", per_tube: "12", mark_unit: "", installed_on: "" },
  ...{ run: "", reel: "", notes: "", stops: [], landings: [], splices: [], make: [], labels: true, printed_on: "" },
  next: "",
};

export const EMPTY_STOP: StopRow = {
  ...{ space: "", mark_in: "", mark_open_from: "", mark_open_to: "", mark_out: "", slack: "", coil_diameter: "" },
  ...{ closure: "", cut: "", way: "" },
};

/** The second row is most often the other end; how they are landed stays. */
export function nextLanding({ landings }: TypedRun): LandingRow {
  const last = landings.at(-1);
  return { end: landings.length === 0 ? "A" : "B", strands: "", panel: "", ports: "", method: last?.method ?? "" };
}

/** The place of the splices before; else the last place that has a case. */
export function nextSplice({ splices, stops }: TypedRun): SpliceRow {
  const at = splices.at(-1)?.at ?? stops.findLast(({ closure }) => closure !== "")?.space ?? "";
  return { at, strands: "", side: splices.at(-1)?.side ?? "A", to: "", tray: "" };
}

/** A draft as it was kept, whatever a later form has more. */
export function taken(content: unknown): TypedRun {
  const kept = { ...EMPTY, ...(content as Partial<TypedRun>) };
  return { ...kept, stops: kept.stops.map((stop) => ({ ...EMPTY_STOP, ...stop })) };
}

/** What is tried and entered. */
export function inputOf({ next: _, stops, landings, splices, make, ...rest }: TypedRun): InputOf<"run.rehearse"> {
  return { ...rest, stops: [...stops], landings: [...landings], splices: [...splices], make: [...make] };
}

/** Nothing is typed yet that would be worth keeping. */
export const isEmpty = (run: TypedRun): boolean => JSON.stringify(run) === JSON.stringify(EMPTY);

/** How a draft is called in the list: its number, else the places it goes by. */
export function nameOf({ tag, stops }: TypedRun): string {
  const places = stops.flatMap(({ space }) => (space ? [space] : []));
  const course = places.length > 1 ? say`${places[0]} to ${places.at(-1)}` : (places[0] ?? "");
  return [tag, course].filter(Boolean).join(", ").slice(0, 200);
}

/** How many strands a list such as `1-24,30` is; null where it is no plain list. */
export function strandCount(text: string): number | null {
  let sum = 0;
  for (const part of text.split(",")) {
    const [, first, last] = /^\s*(\d{1,5})(?:\s*-\s*(\d{1,5}))?\s*$/.exec(part) ?? [];
    if (first === undefined) return null;
    sum += last === undefined ? 1 : Number(last) - Number(first) + 1;
  }
  return sum > 0 ? sum : null;
}

/** The first ports in a row that are free and take just so many strands, as `01-12`; null where there are none. */
export function portsFor(free: Offers["panels"][number]["free"], strands: number): string | null {
  let left = strands;
  for (const [at, { positions }] of free.entries()) {
    left -= positions;
    if (left > 0) continue;
    const [first, last] = [free[0]?.port ?? "", free[at]?.port ?? ""];
    return left < 0 ? null : first === last ? first : `${first}-${last}`;
  }
  return null;
}
