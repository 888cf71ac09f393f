/** Everything some lines touch, gathered first and then read in sets. */
import { idOf, isPosition, NOWHERE } from "../glass/end.ts";
import { ASSUMED, CORD, type Glass, JOIN, SPLICE, TERMINATION } from "../glass/glass.ts";
import { Service } from "../glass/service.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { Cables } from "./cables.ts";
import { Evidence, type Subject } from "./evidence.ts";
import {
  type CordFacts,
  cordsOf,
  type GlassSection,
  type InterfaceFacts,
  interfacesOf,
  type JoinFacts,
  joinsOf,
  type Known,
  type Landings,
  markCut,
  type PositionFacts,
  portAddress,
  readLandings,
  type SectionFacts,
  type SpliceFacts,
  sectionsOf,
  splicesOf,
  strandWords,
  type TerminationFacts,
} from "./facts.ts";
import { everyItem, everyStretch, type Line } from "./line.ts";
import { type PlannedJoints, plannedAt } from "./planned.ts";

export interface LineFacts {
  readonly glass: Glass;
  readonly today: string;
  readonly sections: ReadonlyMap<number, SectionFacts>;
  readonly positions: ReadonlyMap<number, PositionFacts>;
  /** By port. */
  readonly interfaces: ReadonlyMap<number, InterfaceFacts>;
  readonly splices: ReadonlyMap<number, SpliceFacts>;
  readonly terminations: ReadonlyMap<number, TerminationFacts>;
  readonly cords: ReadonlyMap<number, CordFacts>;
  readonly joins: ReadonlyMap<number, JoinFacts>;
  readonly cables: Cables;
  readonly service: Service;
  readonly evidence: Evidence;
  /** What is planned where lines end in glass that is joined to nothing. */
  readonly planned: PlannedJoints;
}

/** Ids by what they are of. */
class Touched {
  readonly sections = new Set<number>();
  readonly positions = new Set<number>();
  readonly joints = [SPLICE, TERMINATION, CORD, JOIN, ASSUMED].map(() => new Set<number>());

  end(end: number): void {
    if (end === NOWHERE) return;
    (isPosition(end) ? this.positions : this.sections).add(idOf(end));
  }
}

/** `landed` was read before. */
export async function readLineFacts(
  reader: Reader,
  glass: Glass,
  lines: readonly Line[],
  today: string,
  landed: Landings = { positions: new Map(), terminations: new Map() },
): Promise<LineFacts> {
  const touched = new Touched();
  for (const line of lines) {
    for (const item of everyItem(line)) {
      if (item.what === "through") touched.end(item.in);
      else {
        touched.joints[item.kind]?.add(item.id);
        touched.end(item.from);
        touched.end(item.to);
      }
    }
    for (const { stop } of everyStretch(line)) if (stop) touched.end(stop.end);
    touched.end(line.from.end);
  }
  const none = <T>(): Map<number, T> => new Map();
  const some = <T>(kind: number, read: (reader: Reader, ids: Set<number>) => Promise<Map<number, T>>) => {
    const ids = touched.joints[kind] as Set<number>;
    return ids.size > 0 ? read(reader, ids) : Promise.resolve(none<T>());
  };
  const sections = touched.sections.size > 0 ? await sectionsOf(reader, touched.sections) : none<SectionFacts>();
  const { positions, terminations } = landed;
  const further = [...touched.positions].filter((id) => !positions.has(id));
  if (further.length > 0) await readLandings(reader, landed, further);
  const equipment = [...positions.values()].flatMap(({ device_id, port_id }) => (device_id === null ? [] : [port_id]));
  const interfaces = equipment.length > 0 ? await interfacesOf(reader, equipment) : none<InterfaceFacts>();
  const splices = await some(SPLICE, splicesOf);
  const cords = await some(CORD, cordsOf);
  const joins = await some(JOIN, joinsOf);

  const rooms = new Set<number>();
  for (const facts of [positions, splices, joins]) {
    for (const { space_id } of facts.values()) if (space_id !== null) rooms.add(space_id);
  }
  const cableIds = new Set([...sections.values()].map(({ cable_id }) => cable_id));
  const units = new Set([...sections.values()].flatMap(({ unit_id }) => unit_id ?? []));
  const cables = await Cables.read(reader, cableIds, units, rooms);
  await markCut(reader, sections.values(), (stop) => cables.stops.get(stop ?? 0)?.kind === "end");
  const service = await Service.read(reader, sections.keys(), today, glass);
  await service.readCircuits(reader, touched.joints[ASSUMED] as Set<number>);

  const known: Known[] = [
    ...[positions, splices, terminations, cords, joins].flatMap((facts) => [...facts.values()]),
    ...cables.byId.values(),
    ...cables.stops.values(),
  ];
  const visits = new Set(known.flatMap(({ basis_visit_id }) => basis_visit_id ?? []));
  for (const { basis_visit_id, strand_visit_id } of sections.values()) {
    for (const id of [basis_visit_id, strand_visit_id]) if (id !== null) visits.add(id);
  }
  const evidence = await Evidence.read(
    reader,
    subjectsOf(cableIds, positions, splices, cords, joins),
    cables.spaces.keys(),
    cableIds,
    visits,
  );
  const open = lines.flatMap((line) =>
    [line.from, ...[...everyStretch(line)].flatMap(({ stop }) => stop ?? [])].flatMap(({ why, end }) =>
      why === "end" && end !== NOWHERE && !isPosition(end) && glass.first(end) < 0 ? [end] : [],
    ),
  );
  const planned = await plannedAt(reader, open, sections, cables);
  return {
    planned,
    glass,
    today,
    sections,
    positions,
    interfaces,
    splices,
    terminations,
    cords,
    joins,
    cables,
    service,
    evidence,
  };
}

function subjectsOf(
  cables: Iterable<number>,
  positions: ReadonlyMap<number, PositionFacts>,
  splices: ReadonlyMap<number, SpliceFacts>,
  cords: ReadonlyMap<number, CordFacts>,
  joins: ReadonlyMap<number, JoinFacts>,
): Subject[] {
  const subjects = new Map<string, Subject>();
  const add = (kind: Subject["kind"], id: number | null) => {
    if (id !== null) subjects.set(`${kind} ${id}`, { kind, id });
  };
  for (const id of cables) add("cable", id);
  for (const { port_id, panel_id, module_id } of positions.values()) {
    add("port", port_id);
    add("panel", panel_id);
    add("module", module_id);
  }
  for (const { closure_id, tray_id } of splices.values()) {
    add("closure", closure_id);
    add("tray", tray_id);
  }
  for (const { id } of cords.values()) add("cord", id);
  for (const { module_id } of joins.values()) add("module", module_id);
  return [...subjects.values()];
}

/** What a strand section is called: `F-014:31`. */
export function sectionTag({ cables }: Pick<LineFacts, "cables">, section: GlassSection): string {
  return strandWords(cables.byId.get(section.cable_id)?.ref.tag ?? "…", section);
}

export const portTag = ({ cables }: Pick<LineFacts, "cables">, position: PositionFacts): string =>
  portAddress(position, cables.spaces);

/** Where a position sits on its port, where that needs saying: "position A", "position 7 of 12". */
export function positionWords({ ordinal, of }: PositionFacts): string | null {
  if (of < 2) return null;
  return of === 2 ? say`position ${ordinal === 1 ? "A" : "B"}` : say`position ${ordinal} of ${of}`;
}

/** The spaces a stop, splice or position is in. */
export const spaceOfStop = ({ cables }: Pick<LineFacts, "cables">, stop_id: number | null): number | null =>
  cables.stops.get(stop_id ?? 0)?.space_id ?? null;
