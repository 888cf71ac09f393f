/** Places and ways of the plan in words. */
import type { PlanPlace, PlanWay } from "../../../core/campus-plan/answer.ts";
import { kindOf } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import type { Thing } from "./things.ts";

const valuesOf = (kind: "space" | "pathway"): Readonly<Record<string, string>> => {
  const field = kindOf(kind).fields.kind;
  return field?.type === "choice" ? field.values : {};
};
const SPACES = valuesOf("space");
const WAYS = valuesOf("pathway");

export const placeWords = ({ ref, kind, name }: PlanPlace): string =>
  ref.kind === "building" ? (name ?? say`building`) : (name ?? (kind === null ? say`space` : (SPACES[kind] ?? kind)));
export const wayWords = ({ kind }: Pick<PlanWay, "kind">): string => (kind === null ? say`way` : (WAYS[kind] ?? kind));

export const whereWords = ({ at, from, accuracy_m }: PlanPlace, length: (m: number) => string): string =>
  at === null
    ? say`no coordinates on record`
    : from === "own"
      ? say`by its coordinates${accuracy_m === null ? "" : `, ± ${length(accuracy_m)}`}`
      : from === "outline"
        ? say`by its outline`
        : say`at its building`;

export const shapeWords = ({ shape, accuracy_m }: PlanWay, length: (m: number) => string): string =>
  shape === null
    ? say`not on the plan: its ends have no coordinates`
    : shape === "straight"
      ? say`drawn straight: no line on record`
      : say`by its line${accuracy_m === null ? "" : `, ± ${length(accuracy_m)}`}`;

export const told = ({ place, way }: Thing, length: (m: number) => string): string =>
  place
    ? `${place.ref.tag}, ${placeWords(place)}, ${whereWords(place, length)}`
    : `${way.ref.tag}, ${wayWords(way)}, ${way.length_m === null ? say`length not given` : length(way.length_m)}, ${shapeWords(way, length)}`;
