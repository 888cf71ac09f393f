/** What is on record against the strands and ports of a way, short of ruling them out. */
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { FreeWay } from "./answer.ts";

type Doubts = (way: Pick<FreeWay, "stretches">) => string[];

/** For some ways, what is to be looked at before any of them is promised. */
export async function doubtsOf(reader: Reader, ways: readonly Pick<FreeWay, "stretches">[]): Promise<Doubts> {
  const strands = ways.flatMap(({ stretches }) => stretches.flatMap((stretch) => stretch.strands));
  const list = (ids: Iterable<number>): string => JSON.stringify([...new Set(ids)]);
  const unproven = await reader.rows<{ id: number }>(
    `select s.id from section s join strand t on t.id = s.strand_id
     where t.condition = 'unproven' and s.id in (select value from json_each(?))`,
    [list(strands.flatMap(({ sections }) => sections.map(({ id }) => id)))],
  );
  const dirty = await reader.rows<{ id: number }>(
    `select po.id from position po join port p on p.id = po.port_id
     where p.condition = 'dirty' and po.id in (select value from json_each(?))`,
    [list(strands.flatMap(({ from, to }) => [from, to].filter(({ kind }) => kind === "position").map(({ id }) => id)))],
  );
  const [sections, positions] = [unproven, dirty].map((rows) => new Set(rows.map(({ id }) => id)));
  return ({ stretches }) => {
    const own = stretches.flatMap((stretch) => stretch.strands);
    const bad = own.flatMap((one) => one.sections).filter(({ id }) => sections?.has(id));
    const soiled = own
      .flatMap(({ from, to }) => [from, to])
      .filter(({ kind, id }) => kind === "position" && positions?.has(id));
    return [
      ...(bad.length > 0 ? [say`unproven on record: ${bad.map(({ tag }) => tag).join(", ")}`] : []),
      ...(soiled.length > 0
        ? [say`dirty on record, to be cleaned first: ${soiled.map(({ tag }) => tag).join(", ")}`]
        : []),
    ];
  };
}
