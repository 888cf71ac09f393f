/** The cables that a job works on, and which of their strands are cut, cleaved, or lie in a unit that is opened for it. */

import { Refusal } from "../result.ts";
import { refsOfRows, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { Situation } from "./situation.ts";
import type { JobStep } from "./stored.ts";

export interface Worked {
  readonly cable: RecordRef;
  /** Numbers of the strands that are touched; null where the sheath is parted, so that all of them are. */
  readonly strands: ReadonlySet<number> | null;
}

const JOINTS: ReadonlySet<string> = new Set(["splice.close", "splice.range", "splice.reopen", "strand.land"]);

/** What is only planned is no glass yet. */
export async function workedOn(
  reader: Reader,
  steps: readonly JobStep[],
  situations: readonly Situation[],
): Promise<Worked[]> {
  // By tag the ranges named of it, null once its sheath is parted.
  const named = new Map<string, string[] | null>();
  const add = (tag: string, range: string | null): void => {
    const before = named.get(tag);
    named.set(tag, range === null || before === null ? null : [...(before ?? []), range]);
  };
  for (const { act, input } of steps) {
    const { cable, cut, strands, from, to } = (input ?? {}) as Readonly<Record<string, unknown>>;
    if (act === "cable.open" && typeof cable === "string" && typeof cut === "string") add(cable, `${cable}:${cut}`);
    else if (act?.startsWith("cable.") && act !== "cable.enter" && act !== "cable.carry" && act !== "cable.open") {
      if (typeof cable === "string") add(cable, null);
    } else if (act !== null && JOINTS.has(act)) {
      for (const text of [strands, from, to])
        if (typeof text === "string" && text.includes(":")) add(text.slice(0, text.indexOf(":")), text);
    }
  }
  const tags = new Map([...named].map(([tag, ranges]) => [decodeURIComponent(tag), ranges]));
  const rows = await reader.rows<{ id: number; tag: string }>(
    "select id, tag from cable where (tag in (select value from json_each(?)) and life <> 'planned') or id in (select value from json_each(?)) order by tag_key, id",
    [JSON.stringify([...tags.keys()]), JSON.stringify(situations.map(({ cable }) => cable.id))],
  );
  const refs = new Map((await refsOfRows(reader, "cable", rows)).map((ref) => [ref.id, ref]));
  const parted = new Set(situations.flatMap(({ cable, whole }) => (whole ? [] : [cable.id])));
  const worked: Worked[] = [];
  for (const { id, tag } of rows) {
    const cable = refs.get(id);
    const whole = situations.find((one) => one.cable.id === id)?.whole;
    if (!cable) continue;
    const strands = whole
      ? await allBut(reader, id, new Set(whole))
      : parted.has(id)
        ? null
        : await touched(reader, id, tags.get(tag) ?? null);
    worked.push({ cable, strands });
  }
  return worked;
}

async function allBut(reader: Reader, cable: number, whole: ReadonlySet<number>): Promise<ReadonlySet<number>> {
  const rows = await reader.rows<{ number: number }>("select number from strand where cable_id = ?", [cable]);
  return new Set(rows.flatMap(({ number }) => (whole.has(number) ? [] : [number])));
}

/** The strands named, and those that lie with them in the units that are opened for it; null where nothing says which. */
async function touched(
  reader: Reader,
  cable: number,
  ranges: readonly string[] | null,
): Promise<ReadonlySet<number> | null> {
  if (ranges === null) return null;
  const ids = new Set<number>();
  for (const range of new Set(ranges.map((text) => text.replace(/#\d+/g, "")))) {
    try {
      for (const { id } of (await resolveStrands(reader, range, { field: "strands" })).strands) ids.add(id);
    } catch (error) {
      // Read otherwise than as strands on record it says nothing, and all are taken for touched.
      if (error instanceof Refusal) return null;
      throw error;
    }
  }
  const rows = await reader.rows<{ number: number }>(
    `with outer_of as (select s.id, s.number, coalesce(u.parent_id, u.id) as unit from strand s
       left join unit u on u.id = s.unit_id where s.cable_id = ?1)
     select number from outer_of where id in (select value from json_each(?2))
       or unit in (select unit from outer_of where id in (select value from json_each(?2)))`,
    [cable, JSON.stringify([...ids])],
  );
  return rows.length === 0 ? null : new Set(rows.map(({ number }) => number));
}
