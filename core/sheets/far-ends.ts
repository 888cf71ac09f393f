/** Where glass leads from many ends at once: read once, walked in memory, put in the words of the trace. */
import { idOf, isPosition, NOWHERE } from "../glass/end.ts";
import { CORD, type Glass, jointsAt } from "../glass/glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import { Service } from "../glass/service.ts";
import { walk } from "../glass/walk.ts";
import type { Reader } from "../store/handle.ts";
import type { TraceEnd } from "../trace/answer.ts";
import { Cables } from "../trace/cables.ts";
import { type EndFacts, endOf } from "../trace/ends.ts";
import {
  cordsOf,
  inPorts,
  interfacesOf,
  manyPositions,
  markCut,
  type SectionFacts,
  sectionsOf,
} from "../trace/facts.ts";
import { type Stopped, stoppedAt } from "../trace/line.ts";

export interface Leads {
  /** Null where it forks. */
  readonly end: TraceEnd | null;
  readonly ends: number;
}

export interface FarEnds {
  readonly glass: Glass;
  /** Of everything that is joined to the ends asked for, and of everything they lead to. */
  readonly facts: EndFacts & { readonly sections: ReadonlyMap<number, SectionFacts> };
  /** By the end it was asked from. */
  readonly leads: ReadonlyMap<number, Leads>;
}

/** @param starts ends of sections or sides of positions; what is joined to each is told as well */
export async function farEnds(reader: Reader, starts: readonly number[], today: string): Promise<FarEnds> {
  const glass = await glassAround(reader, starts, today);
  const stops = new Map<number, Stopped[]>();
  const touched = new Set(starts);
  const cordIds = new Set<number>();
  for (const start of starts) {
    const done = walk(glass, start);
    const own = done.steps === 0 ? [stoppedAt(done, -1)] : done.leaves().map((step) => stoppedAt(done, step));
    stops.set(start, own);
    for (const { end, id, kind } of own) {
      if (end === NOWHERE) cordIds.add(id);
      else touched.add(end);
      if (kind === CORD) cordIds.add(id);
    }
    for (const { to, kind, id } of jointsAt(glass, start)) {
      if (to !== NOWHERE) touched.add(to);
      if (kind === "cord") cordIds.add(id);
    }
  }
  const [sectionIds, positionIds] = [new Set<number>(), new Set<number>()];
  for (const end of touched) (isPosition(end) ? positionIds : sectionIds).add(idOf(end));
  const sections = await sectionsOf(reader, sectionIds);
  const positions = await manyPositions(reader, await inPorts(reader, positionIds));
  const equipment = [...positions.values()].flatMap(({ device_id, port_id }) => (device_id === null ? [] : [port_id]));
  const all = [...sections.values()];
  const cables = await Cables.read(
    reader,
    new Set(all.map(({ cable_id }) => cable_id)),
    new Set(all.flatMap(({ unit_id }) => unit_id ?? [])),
    new Set([...positions.values()].flatMap(({ space_id }) => space_id ?? [])),
  );
  await markCut(reader, all, (stop) => cables.stops.get(stop ?? 0)?.kind === "end");
  const facts = {
    ...{ glass, sections, positions, cables },
    interfaces: await interfacesOf(reader, equipment),
    cords: await cordsOf(reader, cordIds),
    service: await Service.read(reader, sections.keys(), today, glass),
  };
  const leads = new Map(
    [...stops].map(([start, own]) => {
      const [only] = own;
      return [start, { end: only && own.length === 1 ? endOf(facts, only) : null, ends: own.length }];
    }),
  );
  return { glass, facts, leads };
}
