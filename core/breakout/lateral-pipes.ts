/** The pipe a lateral takes in each pathway of its way: one in which it has room, an empty one first; or that none has. */
import type { Row } from "../model/dictionary.ts";
import type { Pipe } from "../pathway/answer.ts";
import { fillWith, pathwayShown, roomIn } from "../pathway/pathway.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

/** What a lateral is pulled into in one pathway of its way. */
export interface LateralPipe {
  readonly pathway: RecordRef;
  /** Null where the pathway has no pipe on record, or none with room. */
  readonly pipe: RecordRef | null;
  /** It has pipes on record. */
  readonly has_pipes: boolean;
  /** Cables that lie in it already. */
  readonly beside: readonly RecordRef[];
  /** Part of the bore that is filled with the lateral, and the most that is usual; null where a size is not on record. */
  readonly fill: number | null;
  readonly fill_limit: number | null;
  /** The thickest cable for which the pipe has room, in millimetres; null where a size is not on record. */
  readonly takes_mm: number | null;
}

export interface LateralPipes {
  /** One for each pathway, in order. */
  readonly pipes: readonly LateralPipe[];
  readonly to_prove: readonly string[];
  /** Pathways that have pipes of known size, and none with room. */
  readonly too_narrow: readonly RecordRef[];
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
  const too_narrow: RecordRef[] = [];
  for (const pathway of pathways) {
    const all = (await pathwayShown(reader, pathway.id)).pipes;
    const has_pipes = all.length > 0;
    const none: LateralPipe = {
      pathway,
      has_pipes,
      pipe: null,
      beside: [],
      fill: null,
      fill_limit: null,
      takes_mm: null,
    };
    if (!has_pipes) {
      pipes.push(none);
      continue;
    }
    // A pipe that holds others is not pulled into: they are.
    const open = all.filter(({ state, pipes: inside }) => state !== "blocked" && inside.length === 0);
    const looked = open.map((pipe) => ({ pipe, ...fillWith(pipe, type, limits), takes_mm: roomIn(pipe, limits) }));
    const fits = looked.filter(({ fill, fill_limit }) => fill !== null && fill_limit !== null && fill <= fill_limit);
    // Where no size says so, an empty pipe may do; and while nobody knows how thick it is, one that takes any at all.
    const sized = type?.outer_diameter_mm != null;
    const maybe = looked.filter(
      ({ pipe, fill, takes_mm }) =>
        fill === null && (pipe.occupants.length === 0 || (!sized && takes_mm !== null && takes_mm > 0)),
    );
    const [best] = [...fits.toSorted(order), ...maybe.toSorted(sized ? order : roomiest)];
    if (!best) {
      const unknown = looked.some(({ fill }) => fill === null);
      if (!unknown) too_narrow.push(pathway);
      to_prove.push(
        unknown
          ? say`which pipe of ${pathway.tag} has room: sizes are not on record, and none that is open is empty`
          : say`which pipe of ${pathway.tag} has room: by the record none of its ${all.length} has${thickest(looked)}`,
      );
      pipes.push(none);
      continue;
    }
    const { pipe, fill, fill_limit, takes_mm } = best;
    if (fill === null) {
      to_prove.push(
        takes_mm === null
          ? say`whether the lateral fits ${pipe.conduit.tag}: a diameter is not on record`
          : say`whether the lateral fits ${pipe.conduit.tag}: how thick it is, is not on record, and up to ${takes_mm} mm fit`,
      );
    }
    if (pipe.state !== "free" && pipe.state !== "in_use")
      to_prove.push(say`whether ${pipe.conduit.tag} can be used: its state is ${pipe.state ?? say`not on record`}`);
    pipes.push({
      pathway,
      pipe: pipe.conduit,
      has_pipes,
      beside: pipe.occupants.map(({ cable }) => cable),
      fill: fill === null ? null : Math.round(fill * 10_000) / 10_000,
      fill_limit,
      takes_mm,
    });
  }
  return { pipes, to_prove, too_narrow };
}

const proven = ({ pipe: { state } }: { readonly pipe: Pipe }): number => Number(state !== "free" && state !== "in_use");

interface Looked {
  readonly pipe: Pipe;
  readonly takes_mm: number | null;
}

/** While nobody knows how thick the lateral is: known to be open first, then an empty one, then the one that takes the thickest. */
const roomiest = (a: Looked, b: Looked): number =>
  proven(a) - proven(b) ||
  Number(a.pipe.occupants.length > 0) - Number(b.pipe.occupants.length > 0) ||
  (b.takes_mm ?? 0) - (a.takes_mm ?? 0);

/** What would fit where the lateral doesn't. */
function thickest(looked: readonly Looked[]): string {
  const [best] = looked.filter(({ takes_mm }) => takes_mm !== null && takes_mm > 0).sort(roomiest);
  return best ? say`; ${best.pipe.conduit.tag} takes up to ${best.takes_mm} mm` : "";
}

/** Known to be open first, then the fewest cables, then the narrowest that does. */
function order(a: { readonly pipe: Pipe }, b: { readonly pipe: Pipe }): number {
  return (
    proven(a) - proven(b) ||
    a.pipe.occupants.length - b.pipe.occupants.length ||
    (a.pipe.inner_diameter_mm ?? 1e9) - (b.pipe.inner_diameter_mm ?? 1e9)
  );
}

/** A pipe as a step says it: how full it becomes, and what lies in it. */
export function pipeWords({ pathway, pipe, beside, fill, fill_limit, takes_mm }: LateralPipe): string {
  if (!pipe) return pathway.tag;
  const part = (value: number): string => `${Math.round(value * 100)} %`;
  const full =
    fill === null
      ? takes_mm === null
        ? ""
        : say`up to ${takes_mm} mm thick`
      : say`${part(fill)} full then${fill_limit === null ? "" : say`, of ${part(fill_limit)} at most`}`;
  const with_ =
    beside.length > 0 ? say`beside ${beside.map(({ tag }) => tag).join(", ")}, pulled with care over them` : "";
  const told = [full, with_].filter(Boolean).join("; ");
  return `${pipe.tag}${told ? ` (${told})` : ""}`;
}
