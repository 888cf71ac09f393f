/** Impact in plain sentences. */
import { formatNumber } from "../model/units.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { ImpactAnswer, LostThing, WaysInBuilding } from "./answer.ts";
import { anyOf, fewOf } from "./named.ts";

export const thingWords = ({ record, marks }: LostThing): string =>
  marks === null
    ? record.tag
    : say`${record.tag} from mark ${marks.from} to ${marks.to}${marks.unit ? ` ${marks.unit}` : ""}`;

export const CAUTIONS = [
  say`Whether equipment turns to another line by itself is not on record: a circuit counts as lost when some glass on its line is.`,
];

export function sentenceOf(answer: Omit<ImpactAnswer, "sentence" | "cautions">): string {
  const { lost, cables, strands, circuits, by_priority, buildings, diverse, unknown } = answer;
  const what = fewOf(lost.map(thingWords));
  const told = unknown.length > 0 ? say` The record leaves some of it open.` : "";
  if (strands === 0 && circuits.length === 0)
    return say`No glass and no circuit on record is lost with ${what}.${told}`;
  const inService = circuits.filter(({ state }) => state === "in_service").length;
  const [first] = by_priority;
  const urgent =
    first && first.priority !== null && first.in_service > 0
      ? say`, ${first.in_service === inService ? say`all` : first.in_service} of priority ${first.priority}`
      : "";
  const service =
    inService > 0 ? say`${counted(inService, "circuit")} in service${urgent}` : say`no circuit in service`;
  const dark = buildings.filter((building) => building.dark).map(({ building }) => building.tag);
  const both =
    diverse.length > 0
      ? plural(
          diverse.length,
          " {0} pair declared diverse is hit on both sides.",
          " {0} pairs declared diverse are hit on both sides.",
        )
      : "";
  const leaves = dark.length > 0 ? say`, and leaves ${fewOf(dark)} dark` : "";
  return say`Losing ${what} takes ${counted(strands, "strand")} of ${counted(cables.length, "cable")} and ${service}${leaves}.${both}${told}`;
}

export function waysSentence(buildings: readonly WaysInBuilding[]): string {
  const [only] = buildings;
  if (!only) return say`No building is on record.`;
  if (buildings.length > 1) {
    const count = (test: (building: WaysInBuilding) => boolean) => buildings.filter(test).length;
    const few = count(({ ways, wanted }) => wanted !== null && ways < wanted);
    const wanting =
      few > 0 ? plural(few, " {0} building has fewer than wanted.", " {0} buildings have fewer than wanted.") : "";
    const all = counted(buildings.length, "building");
    const [several, one, none] = [
      count(({ ways }) => ways > 1),
      count(({ ways }) => ways === 1),
      count(({ ways }) => ways === 0),
    ].map((some) => formatNumber(some));
    return none === "0"
      ? say`Of ${all}, ${several} have separate ways in and ${one} have one.${wanting}`
      : say`Of ${all}, ${several} have separate ways in, ${one} have one, ${none} none on record.${wanting}`;
  }
  const { building, ways, wanted, single_points, single_points_today } = only;
  if (ways === 0) return say`No way from ${building.tag} to another building is on record.`;
  const wants = wanted === null ? "" : ways < wanted ? say`, ${wanted} wanted` : say`, as many as wanted`;
  const tags = single_points.map(({ tag }) => tag);
  const single = tags.length > 0 ? say` Losing ${anyOf(tags)} cuts it off.` : "";
  const more = (single_points_today ?? []).filter(
    ({ kind, id }) => !single_points.some((point) => point.kind === kind && point.id === id),
  );
  const today = anyOf(more.map(({ tag }) => tag));
  const now =
    more.length === 0
      ? ""
      : tags.length > 0
        ? say` As its glass is joined today, losing ${today} cuts it off too.`
        : say` As its glass is joined today, losing ${today} cuts it off.`;
  return say`${building.tag} has ${counted(ways, "way in", "separate ways in")}${wants}.${single}${now}`;
}
