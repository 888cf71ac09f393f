/** Losses, ways into buildings and shared ways, as text. */
import type {
  DiverseAnswer,
  DiversePair,
  ImpactAnswer,
  ImpactBuilding,
  ImpactCable,
  ImpactCircuit,
  WaysInAnswer,
  WaysInBuilding,
} from "../../core/impact/answer.ts";
import { KINDS } from "../../core/model/dictionary.ts";
import type { RecordRef } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { type Column, printable, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

const tags = (refs: readonly RecordRef[]): string => refs.map(({ tag }) => tag).join(", ");
const paragraph = (text: string, width: number): string => `${wrap(spoken(text), width).join("\n")}\n`;
const parts = (texts: readonly string[]): string => texts.filter((text) => text !== "").join("\n");
const notKnown = (words: readonly string[], width: number): string =>
  words.map((one) => paragraph(say`Not known: ${one}`, width)).join("");

const HOW = {
  given: say`its glass`,
  port: say`its port`,
  joined: say`glass joined to its own`,
  rides_on: say`what it rides on`,
} as const satisfies Record<ImpactCircuit["how"], string>;

export function impactText(answer: ImpactAnswer, width: number): string {
  const cables = [
    { head: say`cable`, cell: (one: ImpactCable) => one.cable.tag },
    { head: say`strands lost`, cell: (one: ImpactCable) => one.strands, right: true },
    { head: say`of`, cell: (one: ImpactCable) => one.of, right: true },
    { head: say`with`, cell: (one: ImpactCable) => tags(one.by) },
  ];
  const circuits = [
    { head: say`priority`, cell: (one: ImpactCircuit) => one.priority, right: true },
    { head: say`circuit`, cell: (one: ImpactCircuit) => one.circuit.tag },
    { head: say`name`, cell: (one: ImpactCircuit) => one.name },
    { head: say`state`, cell: (one: ImpactCircuit) => KINDS.circuit.fields.state.values[one.state] },
    { head: say`loses`, cell: (one: ImpactCircuit) => HOW[one.how] },
    { head: say`in`, cell: (one: ImpactCircuit) => tags(one.cables) },
    { head: say`stays`, cell: (one: ImpactCircuit) => tags(one.stays) },
  ];
  const buildings = [
    { head: say`building`, cell: (one: ImpactBuilding) => one.building.tag },
    { head: say`name`, cell: (one: ImpactBuilding) => one.name },
    { head: say`lost`, cell: (one: ImpactBuilding) => one.circuits, right: true },
    { head: say`lit`, cell: (one: ImpactBuilding) => one.lit.length, right: true },
    { head: "", cell: (one: ImpactBuilding) => (one.dark ? say`dark` : "") },
    { head: say`whole strands`, cell: (one: ImpactBuilding) => one.whole_strands, right: true },
    { head: say`of`, cell: (one: ImpactBuilding) => one.strands, right: true },
  ];
  const both = answer.diverse.map(({ circuit, other, shared }) =>
    paragraph(
      say`${circuit.tag} and ${other.tag} are declared diverse and both hit${shared.length > 0 ? say`, both with ${tags(shared)}` : ""}.`,
      width,
    ),
  );
  return parts([
    paragraph(answer.sentence, width),
    answer.cables.length > 0 ? table(answer.cables, cables, width) : "",
    answer.circuits.length > 0 ? table(answer.circuits, circuits, width) : "",
    answer.buildings.length > 0 ? table(answer.buildings, buildings, width) : "",
    both.join(""),
    notKnown(answer.unknown, width),
    cautions(answer.cautions, width),
  ]);
}

export function waysInText(answer: WaysInAnswer, width: number): string {
  const columns: Column<WaysInBuilding>[] = [
    { head: say`building`, cell: (one: WaysInBuilding) => one.building.tag },
    { head: say`name`, cell: (one: WaysInBuilding) => one.name },
    { head: say`separate ways`, cell: (one: WaysInBuilding) => one.ways, right: true },
    { head: say`wanted`, cell: (one: WaysInBuilding) => one.wanted, right: true },
    { head: say`is cut off without`, cell: (one: WaysInBuilding) => tags(one.single_points) },
  ];
  if (answer.buildings.some((one) => one.single_points_today !== null)) {
    columns.push({
      head: say`as its glass is joined today`,
      cell: (one: WaysInBuilding) => tags(one.single_points_today ?? []),
    });
  }
  const [only] = answer.buildings;
  const ways =
    answer.buildings.length === 1 && only
      ? only.separate.map((way, n) => say`way ${n + 1}: ${printable(tags(way))}\n`)
      : [];
  const unknown = [...new Set(answer.buildings.flatMap((one) => one.unknown))];
  return parts([
    paragraph(answer.sentence, width),
    table(answer.buildings, columns, width),
    ways.join(""),
    notKnown(unknown, width),
  ]);
}

export function diverseText(answer: DiverseAnswer, width: number): string {
  const columns = [
    { head: say`circuit`, cell: (one: DiversePair) => one.circuit.tag },
    { head: say`diverse from`, cell: (one: DiversePair) => one.other.tag },
    { head: say`verdict`, cell: (one: DiversePair) => one.verdict },
    {
      head: say`both run through`,
      cell: (one: DiversePair) =>
        one.shared
          .map(({ record, both_end_here }) => `${record.tag}${both_end_here ? say` (both end)` : ""}`)
          .join(", "),
    },
  ];
  const unknown = [...new Set(answer.pairs.flatMap((one) => one.unknown))];
  return parts([
    paragraph(answer.sentence, width),
    answer.pairs.length > 0 ? table(answer.pairs, columns, width) : "",
    notKnown(unknown, width),
  ]);
}
