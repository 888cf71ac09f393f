/** Pipes and what lies in them: size, fill and jamming. */
import type { LimitInUse } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { Facts, FitCable, FitConduit, Occupant } from "./facts.ts";
import {
  type About,
  derived,
  type Figure,
  type Judgement,
  judgement,
  type Lack,
  limitFigure,
  recorded,
  round,
} from "./judgement.ts";
import type { Limits } from "./limits.ts";
import { fillOf, jamRatio } from "./reckon.ts";
import { lacking } from "./weather.ts";

/** Something in a pipe: a cable, or a pipe inside it. */
interface Inside {
  readonly about: About;
  readonly size_mm: number | null;
  /** Its outside is not on record; it is at least as large as its bore. */
  readonly at_least: boolean;
}

export interface Added {
  readonly about: About;
  readonly outer_diameter_mm: number | null;
  readonly construction: Occupant["construction"];
}

/** Judges each pipe that some cables lie in. */
export function pipes(facts: Facts, ids: Iterable<number>, limits: Limits): Judgement[] {
  return [...ids].flatMap((id) => {
    const pipe = facts.conduits.get(id);
    return pipe ? onePipe(facts, pipe, limits) : [];
  });
}

/** The pipes a cable lies in, each before the ones that it lies in itself. */
export function pipesOf(facts: Facts, { legs }: Pick<FitCable, "legs">): Set<number> {
  const own = legs.flatMap(({ conduit_id }) => facts.conduits.get(conduit_id ?? 0) ?? []);
  return new Set(own.flatMap((pipe) => [pipe.id, ...aroundOf(facts, pipe)]));
}

/** One pipe with what is in it, and with a further cable where one is to be laid. */
export function onePipe(facts: Facts, pipe: FitConduit, limits: Limits, added: readonly Added[] = []): Judgement[] {
  const cables: readonly Added[] = [
    ...(facts.occupants.get(pipe.id) ?? []).map((one) => ({ ...one, about: ["cable", one.cable_id] as const })),
    ...added,
  ];
  // A pipe that lies in itself, through others, is a contradiction of its own and no filling.
  const around = aroundOf(facts, pipe);
  const pipesInside = (facts.inside.get(pipe.id) ?? []).filter((id) => !around.has(id));
  const inside: Inside[] = [
    ...cables.map(({ about, outer_diameter_mm }) => ({ about, size_mm: sizeOf(outer_diameter_mm), at_least: false })),
    ...pipesInside.map((id) => ({
      about: ["conduit", id] as const,
      size_mm: sizeOf(facts.conduits.get(id)?.inner_diameter_mm ?? null),
      at_least: true,
    })),
  ];
  if (inside.length === 0) return [];
  const of: About = ["conduit", pipe.id];
  const records: About[] = [of, ...inside.map(({ about }) => about)];
  const bore = sizeOf(pipe.inner_diameter_mm);
  const lacks: Lack[] = [
    ...(bore === null ? [lacking(say`its inner diameter`, of)] : []),
    ...inside.flatMap(({ about, size_mm, at_least }) =>
      size_mm === null
        ? [lacking(about[0] === "conduit" ? say`the diameter` : say`the outer diameter`, about)]
        : at_least
          ? [lacking(say`the outer diameter`, about)]
          : [],
    ),
  ];
  if (bore === null) return [judgement("fill", "cannot_tell", records, { lacks })];
  const figures: Figure[] = [
    recorded(say`inner diameter of the pipe`, bore, "mm", of, say`the pipe`),
    ...inside.flatMap(({ about, size_mm, at_least }) =>
      size_mm === null
        ? []
        : [
            recorded(
              at_least ? say`inner diameter, the least its outside can be` : say`outer diameter`,
              size_mm,
              "mm",
              about,
              at_least ? say`the pipe inside` : say`the data sheet`,
            ),
          ],
    ),
  ];
  const large = inside.filter(({ size_mm }) => size_mm !== null && size_mm > bore);
  const out: Judgement[] = [];
  if (large.length > 0) {
    out.push(
      judgement("bore", "does_not", [of, ...large.map(({ about }) => about)], {
        facts: { bore_mm: bore, sizes_mm: large.map(({ size_mm }) => String(size_mm)) },
        figures,
      }),
    );
    return out;
  }
  return [
    ...fill(pipe, inside, cables, limits, { bore, records, figures, lacks }),
    ...jam(pipesInside.length === 0, inside, limits, { bore, records, figures, lacks }),
  ];
}

/** The pipes that a pipe lies in. */
function aroundOf(facts: Facts, pipe: FitConduit): Set<number> {
  const around = new Set<number>();
  for (let at = pipe.parent_id; at !== null && !around.has(at); at = facts.conduits.get(at)?.parent_id ?? null)
    around.add(at);
  return around;
}

/** A diameter that makes sense; nothing that isn't above 0 does. */
const sizeOf = (value: number | null): number | null => (value !== null && value > 0 ? value : null);

interface Found {
  readonly bore: number;
  readonly records: readonly About[];
  readonly figures: readonly Figure[];
  readonly lacks: readonly Lack[];
}

function fillLimit(pipe: FitConduit, count: number, cables: readonly Added[], limits: Limits): LimitInUse | undefined {
  if (pipe.parent_id !== null && cables.length > 0) {
    const blown = cables.every(({ construction }) => construction === "microduct");
    return limits.get(blown ? "fill.microduct" : "fill.innerduct");
  }
  return limits.get(count === 1 ? "fill.one" : count === 2 ? "fill.two" : "fill.more");
}

function fill(
  pipe: FitConduit,
  inside: readonly Inside[],
  cables: readonly Added[],
  limits: Limits,
  { bore, records, figures, lacks }: Found,
): Judgement[] {
  const limit = fillLimit(pipe, inside.length, cables, limits);
  if (!limit) return [];
  const sizes = inside.flatMap(({ size_mm }) => size_mm ?? []);
  const part = sizes.length === 0 ? null : fillOf(bore, sizes);
  const over = part !== null && part > limit.value;
  return [
    judgement("fill", over ? "does_not" : lacks.length > 0 ? "cannot_tell" : "fits", records, {
      facts: {
        percent: part === null ? null : round(part * 100, 1),
        at_least: lacks.length > 0 ? "yes" : "no",
        limit_percent: round(limit.value * 100, 1),
        inside: inside.length,
      },
      figures: [
        ...(part === null
          ? []
          : [derived("fill", part * 100, "%", say`areas of what is inside over the area of the bore`, records)]),
        limitFigure({ ...limit, value: limit.value * 100, unit: "%" }, say`fill to stay under`),
        ...figures,
      ],
      lacks,
    }),
  ];
}

function jam(
  onlyCables: boolean,
  inside: readonly Inside[],
  limits: Limits,
  { bore, records, figures, lacks }: Found,
): Judgement[] {
  const [from, to, alike] = ["jam.from", "jam.to", "jam.alike"].map((tag) => limits.get(tag));
  if (!from || !to || !alike || !onlyCables || inside.length !== 3) return [];
  if (lacks.length > 0) return [judgement("jam", "cannot_tell", records, { lacks })];
  const sizes = inside.flatMap(({ size_mm }) => size_mm ?? []);
  const ratio = jamRatio(bore, sizes, alike.value);
  if (ratio === null) return [];
  return [
    judgement("jam", ratio >= from.value && ratio <= to.value ? "does_not" : "fits", records, {
      facts: { ratio: round(ratio, 2), from: from.value, to: to.value },
      figures: [
        derived(say`jam ratio`, ratio, "ratio", say`bore over the mean diameter of the three`, records),
        limitFigure(from, say`jams from`),
        limitFigure(to, say`jams up to`),
        ...figures,
      ],
    }),
  ];
}
