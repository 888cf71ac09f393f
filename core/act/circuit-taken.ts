/** Who has glass already: other circuits on the same days and in the same light. */
import { idOf, isPosition, NOWHERE } from "../glass/end.ts";
import { bandsShare, periodsShare } from "../model/bands.ts";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { listed } from "./ends.ts";
import type { Chained } from "./line-chain.ts";
import { sectionsOf } from "./lines.ts";

interface Standing {
  readonly section_id: number;
  readonly circuit_id: number;
  readonly circuit: string;
  readonly state: Row<"circuit">["state"];
  readonly rides_on_id: number | null;
  readonly a_port_id: number | null;
  readonly z_port_id: number | null;
  readonly band: string | null;
  readonly from_on: string | null;
  readonly until_on: string | null;
}

/** When and in which light glass is wanted. */
export type Claim = Pick<Row<"assignment">, "band" | "from_on" | "until_on">;

interface Splitters {
  /** Sections that feed a splitter's input on these lines: they serve every output, so sharing them is as built. */
  readonly feeds: ReadonlySet<number>;
  /** Ports below the splitters on these lines: a circuit that ends there is on the same output. */
  readonly below: ReadonlySet<number>;
}

async function splittersOn(reader: Reader, chains: readonly Chained[]): Promise<Splitters> {
  const lines = chains.flatMap((one) => one.lines);
  const rows = await reader.rows<{ id: number; a_position_id: number }>(
    `select j.id, j.a_position_id from module_join j join module m on m.id = j.module_id
     where m.kind = 'splitter' and j.id in (select value from json_each(?))`,
    [listed(lines.flatMap(({ joins }) => joins.map(({ id }) => id)))],
  );
  const input = new Map(rows.map((row) => [row.id, row.a_position_id]));
  const feeds = new Set<number>();
  const below = new Set<number>();
  for (const line of lines) {
    for (const { id, after } of line.joins) {
      const position = input.get(id);
      if (position === undefined) continue;
      const near = line.pieces.slice(0, after + 1);
      const far = line.pieces.slice(after + 1);
      const fed = idOf(line.pieces[after]?.exit ?? NOWHERE) === position;
      for (const section of sectionsOf({ ...line, pieces: fed ? near : far })) feeds.add(section);
      for (const { entry } of fed ? far : near) if (isPosition(entry)) below.add(idOf(entry));
    }
  }
  const ports = await reader.rows<{ port_id: number }>(
    "select distinct port_id from position where id in (select value from json_each(?))",
    [listed(below)],
  );
  return { feeds, below: new Set(ports.map(({ port_id }) => port_id)) };
}

/** Names the sections that another circuit has on the same days and in the same light. */
export async function takenSections(
  reader: Reader,
  circuit: Pick<Row<"circuit">, "id" | "tag" | "rides_on_id">,
  chains: readonly Chained[],
  mine: Claim,
  words: ReadonlyMap<number, string>,
): Promise<Problem[]> {
  const sections = [...words.keys()];
  const standing = await reader.rows<Standing>(
    `select a.section_id, a.circuit_id, c.tag as circuit, c.state, c.rides_on_id, c.a_port_id, c.z_port_id, a.band, a.from_on, a.until_on
     from assignment a join circuit c on c.id = a.circuit_id where a.section_id in (select value from json_each(?))`,
    [listed(sections)],
  );
  const { feeds, below } = await splittersOn(reader, chains);
  const onAnotherOutput = ({ section_id, a_port_id, z_port_id }: Standing) =>
    feeds.has(section_id) && !below.has(a_port_id ?? 0) && !below.has(z_port_id ?? 0);
  const own = standing.filter(
    (one) => one.circuit_id === circuit.id && periodsShare(one, mine) && one.band === mine.band,
  );
  if (own.length > 0) {
    const problems = own.map(({ section_id }) => ({
      field: "what",
      record: words.get(section_id) ?? "",
      reason: say`is given to ${circuit.tag} already`,
    }));
    refuse("not_possible", `${problems[0]?.record} ${problems[0]?.reason}.`, problems);
  }
  return standing
    .filter(
      (one) =>
        one.circuit_id !== circuit.id &&
        one.state !== "retired" &&
        one.circuit_id !== circuit.rides_on_id &&
        one.rides_on_id !== circuit.id &&
        !onAnotherOutput(one) &&
        periodsShare(one, mine) &&
        bandsShare(one.band, mine.band),
    )
    .map(({ section_id, circuit: other, band }) => ({
      field: "what",
      record: words.get(section_id) ?? "",
      reason: say`is given to ${other} already${band ? say` (${band} nm)` : ""}`,
    }));
}
