/** What a job left out, and the circuits that stay down for it. */

import { refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { JobStep } from "./stored.ts";
import { strandsOfStep } from "./wants.ts";

export interface LeftOutSteps {
  /** Their orders in the job. */
  readonly steps: readonly number[];
  /** In service, on glass that those steps would have joined and that ends at a cut, joined to nothing. */
  readonly down: readonly RecordRef[];
}

const DOWN = `select distinct c.id from section s join assignment a on a.section_id = s.id join circuit c on c.id = a.circuit_id
  join stop t on t.id in (s.a_stop_id, s.b_stop_id) and t.kind in ('severed', 'opened')
  where s.strand_id in (select value from json_each(?)) and c.state = 'in_service'
    and (a.from_on is null or a.from_on <= ?) and (a.until_on is null or a.until_on > ?)
    and not exists (select 1 from splice p where p.life in ('in_place', 'out_of_use') and (
      (p.a_section_id = s.id and p.a_side = case when t.id = s.a_stop_id then 'A' else 'B' end)
      or (p.b_section_id = s.id and p.b_side = case when t.id = s.a_stop_id then 'A' else 'B' end)))
  order by c.tag_key, c.id`;

export async function leftOut(reader: Reader, steps: readonly JobStep[], today: string): Promise<LeftOutSteps> {
  const skipped = steps.filter(({ state }) => state === "skipped");
  const strands = new Set<number>();
  for (const step of skipped) for (const id of await strandsOfStep(reader, step)) strands.add(id);
  const ids =
    strands.size === 0 ? [] : await reader.rows<{ id: number }>(DOWN, [JSON.stringify([...strands]), today, today]);
  const refs = await refsOf(
    reader,
    "circuit",
    ids.map(({ id }) => id),
  );
  return {
    steps: skipped.map(({ ordinal }) => ordinal),
    down: ids.flatMap(({ id }) => refs.get(id) ?? []),
  };
}
