/** How many separate ways lead into buildings, and the single things whose loss cuts one off. */
import { feeds } from "../feeds/feeds.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { WaysInAnswer, WaysInBuilding } from "./answer.ts";
import { type Ends, reaches, separateWays, unavoidable } from "./flow.ts";
import { Named } from "./named.ts";
import { WaysNet } from "./ways-net.ts";
import { waysSentence } from "./wording.ts";

/** What is found for one building, as nodes and record ids. */
export interface FoundWays {
  readonly building: number;
  readonly ways: readonly (readonly number[])[];
  /** Nodes that every way passes. */
  readonly points: readonly number[];
  readonly cables: readonly number[];
  readonly conduits: readonly number[];
}

/**
 * @param buildings by address or id; null for every building on record
 * @param pause called now and then, with how many are done and to do
 */
export async function waysInto(
  reader: Reader,
  buildings: readonly (string | number)[] | null,
  { today, held }: { readonly today: string; readonly held: PlantGlass | null },
  pause: (done: number, of: number) => Promise<void>,
): Promise<WaysInAnswer> {
  const ids: number[] = [];
  for (const building of buildings ?? []) {
    ids.push((await pick(reader, building, { kinds: ["building"], field: "building" })).id);
  }
  const rows = await reader.rows<{ id: number; name: string | null; ways_wanted: number | null }>(
    `select id, name, ways_wanted from building ${buildings ? "where id in (select value from json_each(?))" : ""} order by tag_key`,
    buildings ? [JSON.stringify(ids)] : [],
  );
  const net = await WaysNet.read(reader);
  const found: FoundWays[] = [];
  for (const [n, { id }] of rows.entries()) {
    found.push(waysOf(net, id));
    if (n % 20 === 19) await pause(n + 1, rows.length);
  }
  const named = new Named();
  named.want(
    "building",
    rows.map(({ id }) => id),
  );
  for (const { ways, points, cables, conduits } of found) {
    const nodes = [...ways.flat(), ...points];
    for (const kind of ["space", "pathway"] as const) {
      named.want(
        kind,
        nodes.filter((node) => net.kinds[node] === kind).map((node) => net.records[node] as number),
      );
    }
    named.want("cable", [...cables, ...nodes.flatMap((node) => [...(net.unknown.get(node) ?? [])])]);
    named.want("conduit", conduits);
  }
  for (const { id } of rows) named.want("cable", net.bare.get(id) ?? []);
  await named.read(reader);
  const answers: WaysInBuilding[] = [];
  for (const [n, row] of rows.entries()) {
    const of = { kind: "building", id: row.id } as const;
    const now = buildings ? (await feeds(reader, of, { today, held })).single_points : null;
    answers.push({ ...told(net, row, found[n] as FoundWays, named), single_points_today: now });
    if (buildings) await pause(n + 1, rows.length);
  }
  return { buildings: answers, sentence: waysSentence(answers) };
}

/** The ways from one building to any other. */
export function waysOf(net: WaysNet, building: number): FoundWays {
  const ends: Ends = {
    sources: [...(net.endsIn.get(building) ?? [])],
    isGoal: (node) => {
      const other = net.buildingAt(node);
      return other > 0 && other !== building && (net.endsIn.get(other)?.has(node) ?? false);
    },
    // What is asked is how to come in, not what the building itself may lose.
    isFree: (node) => net.buildingAt(node) === building,
  };
  const ways = separateWays(net, ends);
  const [first] = ways;
  if (!first) return { building, ways, points: [], cables: [], conduits: [] };
  const points = ways.length === 1 ? unavoidable(net, ends, first) : [];
  const [cables, conduits] = [new Set<number>(), new Set<number>()];
  for (const [n, node] of first.entries()) {
    const by = n === 0 ? [] : net.by(first[n - 1] as number, node);
    const alone = new Set(by.map(({ cable }) => cable));
    if (alone.size === 1) for (const cable of alone) cables.add(cable);
    const pipes = new Set(by.map(({ conduit }) => conduit));
    if (pipes.size === 1) for (const conduit of pipes) if (conduit > 0) conduits.add(conduit);
  }
  const isSingle = (of: "cable" | "conduit", id: number): boolean =>
    !reaches(net, ends, (from, to) => net.by(from, to).some((one) => one[of] !== id));
  return {
    building,
    ways,
    points,
    cables: [...cables].filter((id) => isSingle("cable", id)),
    conduits: [...conduits].filter((id) => isSingle("conduit", id)),
  };
}

function told(
  net: WaysNet,
  { id, name, ways_wanted }: { id: number; name: string | null; ways_wanted: number | null },
  { ways, points, cables, conduits }: FoundWays,
  named: Named,
): Omit<WaysInBuilding, "single_points_today"> {
  const refsOf = (nodes: readonly number[]): RecordRef[] =>
    nodes.flatMap((node) => {
      const kind = net.kinds[node];
      return kind === "space" || kind === "pathway" ? [named.of(kind, net.records[node] as number)] : [];
    });
  const doubts = new Set([...ways.flat(), ...points].filter((node) => net.kinds[node] === "unknown"));
  const doubtful = new Set([...doubts].flatMap((node) => [...(net.unknown.get(node) ?? [])]));
  return {
    building: named.of("building", id),
    name,
    ways: ways.length,
    wanted: ways_wanted,
    separate: ways.map(refsOf),
    single_points: [...refsOf(points), ...named.all("conduit", conduits), ...named.all("cable", cables)],
    unknown: [
      ...named
        .all("cable", doubtful)
        .map(({ tag }) => say`The way of ${tag} is not wholly on record: ways beside it count as one with it.`),
      ...named
        .all("cable", net.bare.get(id) ?? [])
        .map(({ tag }) => say`${tag} has no whole strand on record: it counts as no way.`),
    ],
  };
}
