/** Buildings that a loss touches: what of their service is hit, what stays lit, how much of their glass is still whole. */
import { idOf, isPosition, NOWHERE, sideOf } from "../glass/end.ts";
import { ROOM, ROOM_JOINS } from "../glass/rooms.ts";
import { FROM, RUNS, runsOf, TO } from "../glass/runs.ts";
import type { Service } from "../glass/service.ts";
import type { Reader } from "../store/handle.ts";
import type { ImpactBuilding } from "./answer.ts";
import type { Hits } from "./circuits.ts";
import type { Line } from "./lines.ts";
import type { Asked } from "./lost.ts";
import { byTag, Named } from "./named.ts";
import { buildingsOf, type Serves, servedIn, strandsInto } from "./serves.ts";

interface Given {
  readonly asked: readonly Asked[];
  readonly hits: Hits;
  readonly service: Service;
  readonly lines: readonly Line[];
  readonly today: string;
}

export async function buildingsHit(reader: Reader, given: Given): Promise<ImpactBuilding[]> {
  const { asked, hits, service, lines, today } = given;
  const inService = [...hits.byId.keys()].filter((id) => service.circuits.get(id)?.state === "in_service");
  const lost = await lostBuildings(reader, asked);
  const touched = new Set([...lost, ...(await buildingsAtEnds(reader, lines))]);
  for (const { building } of await buildingsOf(reader, inService, today)) touched.add(building);
  const served = Map.groupBy(await servedIn(reader, touched, today), ({ building }) => building);
  const broken = new Set(lines.flatMap(({ section, sections }) => [section, ...sections]));
  const strands = Map.groupBy(await strandsInto(reader, touched), ({ building }) => building);
  const names = new Map(
    (
      await reader.rows<{ id: number; name: string | null }>(
        "select b.id, b.name from json_each(?) i cross join building b on b.id = i.value",
        [JSON.stringify([...touched])],
      )
    ).map(({ id, name }) => [id, name]),
  );
  const isHit = ({ circuit }: Serves): boolean => hits.byId.has(circuit);
  const named = new Named();
  named.want("building", touched);
  named.want(
    "circuit",
    [...served.values()].flatMap((own) => own.filter((one) => !isHit(one)).map(({ circuit }) => circuit)),
  );
  await named.read(reader);
  return [...touched]
    .map((id): ImpactBuilding => {
      const own = served.get(id) ?? [];
      const lit = own.filter((one) => !isHit(one));
      const into = strands.get(id) ?? [];
      return {
        building: named.of("building", id),
        name: names.get(id) ?? null,
        circuits: own.length - lit.length,
        lit: named.all(
          "circuit",
          lit.map(({ circuit }) => circuit),
        ),
        dark: own.length > 0 && lit.length === 0,
        whole_strands: into.filter(({ section }) => !broken.has(section)).length,
        strands: into.length,
        is_lost: lost.has(id),
      };
    })
    .sort((a, b) => Number(b.dark) - Number(a.dark) || b.circuits - a.circuits || byTag(a.building, b.building));
}

async function lostBuildings(reader: Reader, asked: readonly Asked[]): Promise<Set<number>> {
  const lost = new Set(asked.flatMap(({ thing: { record } }) => (record.kind === "building" ? [record.id] : [])));
  const spaces = JSON.stringify([...new Set(asked.flatMap((one) => [...one.spaces]))]);
  const rows = await reader.lists(
    "select distinct s.building_id from json_each(?) i cross join space s on s.id = i.value where s.building_id is not null",
    [spaces],
  );
  for (const [id] of rows) lost.add(id as number);
  return lost;
}

/** Buildings in which the lines end: there something no longer arrives. */
async function buildingsAtEnds(reader: Reader, lines: readonly Line[]): Promise<number[]> {
  const [positions, a, b] = [new Set<number>(), new Set<number>(), new Set<number>()];
  for (const { ends } of lines) {
    for (const end of ends) {
      if (end === NOWHERE) continue;
      if (isPosition(end)) positions.add(idOf(end));
      else (sideOf(end) === "A" ? a : b).add(idOf(end));
    }
  }
  const ofSections = (own: "a" | "b") => `
    select s.building_id from ${RUNS} cross join section e on e.id between ${FROM} and ${TO}
      cross join stop st on st.id = e.${own}_stop_id cross join space s on s.id = st.space_id`;
  const rows = await reader.lists(
    `select distinct building_id from (${ofSections("a")} union ${ofSections("b")}
       union select s.building_id from ${RUNS} cross join position po on po.id between ${FROM} and ${TO}
         cross join port p on p.id = po.port_id ${ROOM_JOINS} join space s on s.id = ${ROOM})
     where building_id is not null`,
    [runsOf(a), runsOf(b), runsOf(positions)],
  );
  return rows.map(([id]) => id as number);
}
