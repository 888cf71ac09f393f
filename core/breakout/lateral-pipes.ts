/** The pipe a lateral takes in each pathway of its way: one in which it has room, an empty one first; or that none has. */
import type { Row } from "../model/dictionary.ts";
import type { Pipe } from "../pathway/answer.ts";
import { fillWith, pathwayShown } from "../pathway/pathway.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";

/** What a lateral is pulled into in one pathway of its way. */
export interface LateralPipe {
  readonly pathway: RecordRef;
  /** Null where the pathway has no pipe on record, or none with room. */
  readonly pipe: RecordRef | null;
  /** Cables that lie in it already. */
  readonly beside: readonly RecordRef[];
  /** Part of the bore that is filled with the lateral, and the most that is usual; null where a size is not on record. */
  readonly fill: number | null;
  readonly fill_limit: number | null;
}

export interface LateralPipes {
  /** One for each pathway, in order. */
  readonly pipes: readonly LateralPipe[];
  readonly to_prove: readonly string[];
}

type Kind = Pick<Row<"cable_type">, "outer_diameter_mm" | "construction"> | null;

export async function pipesFor(
  reader: Reader,
  limits: Limits,
  pathways: readonly RecordRef[],
  type: Kind,
): Promise<LateralPipes> {
  const to_prove: string[] = [];
  const pipes: LateralPipe[] = [];
  for (const pathway of pathways) {
    const all = (await pathwayShown(reader, pathway.id)).pipes;
    const none: LateralPipe = { pathway, pipe: null, beside: [], fill: null, fill_limit: null };
    if (all.length === 0) {
      pipes.push(none);
      continue;
    }
    // A pipe that holds others is not pulled into: they are.
    const open = all.filter(({ state, pipes: inside }) => state !== "blocked" && inside.length === 0);
    const looked = open.map((pipe) => ({ pipe, ...fillWith(pipe, type, limits) }));
    const fits = looked.filter(({ fill, fill_limit }) => fill !== null && fill_limit !== null && fill <= fill_limit);
    // Where no size says so, an empty pipe may do.
    const maybe = looked.filter(({ pipe, fill }) => fill === null && pipe.occupants.length === 0);
    const [best] = [...fits.toSorted(order), ...maybe.toSorted(order)];
    if (!best) {
      const unknown = looked.some(({ fill }) => fill === null);
      to_prove.push(
        unknown
          ? `which pipe of ${pathway.tag} has room: sizes are not on record, and none that is open is empty`
          : `which pipe of ${pathway.tag} has room: by the record none of its ${all.length} has`,
      );
      pipes.push(none);
      continue;
    }
    const { pipe, fill, fill_limit } = best;
    if (fill === null) to_prove.push(`whether the lateral fits ${pipe.conduit.tag}: a diameter is not on record`);
    if (pipe.state !== "free" && pipe.state !== "in_use")
      to_prove.push(`whether ${pipe.conduit.tag} can be used: its state is ${pipe.state ?? "not on record"}`);
    pipes.push({
      pathway,
      pipe: pipe.conduit,
      beside: pipe.occupants.map(({ cable }) => cable),
      fill: fill === null ? null : Math.round(fill * 10_000) / 10_000,
      fill_limit,
    });
  }
  return { pipes, to_prove };
}

const proven = ({ pipe: { state } }: { readonly pipe: Pipe }): number => Number(state !== "free" && state !== "in_use");

/** Known to be open first, then the fewest cables, then the narrowest that does. */
function order(a: { readonly pipe: Pipe }, b: { readonly pipe: Pipe }): number {
  return (
    proven(a) - proven(b) ||
    a.pipe.occupants.length - b.pipe.occupants.length ||
    (a.pipe.inner_diameter_mm ?? 1e9) - (b.pipe.inner_diameter_mm ?? 1e9)
  );
}

/** A pipe as a step says it: how full it becomes, and what lies in it. */
export function pipeWords({ pathway, pipe, beside, fill, fill_limit }: LateralPipe): string {
  if (!pipe) return pathway.tag;
  const part = (value: number): string => `${Math.round(value * 100)} %`;
  const full =
    fill === null ? "" : `${part(fill)} full then${fill_limit === null ? "" : `, of ${part(fill_limit)} at most`}`;
  const with_ =
    beside.length > 0 ? `beside ${beside.map(({ tag }) => tag).join(", ")}, pulled with care over them` : "";
  const told = [full, with_].filter(Boolean).join("; ");
  return `${pipe.tag}${told ? ` (${told})` : ""}`;
}
