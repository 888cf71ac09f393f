/** Whether a make of cable suits the way of a lateral: its pipes by its own size, and what fitness says of it there. */
import { wouldFit } from "../fitness/would-fit.ts";
import type { Row } from "../model/dictionary.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type LateralPipes, pipesFor } from "./lateral-pipes.ts";
import type { Candidate } from "./lateral-reel.ts";

export type Make = Pick<Row<"cable_type">, "outer_diameter_mm" | "construction">;

/** Of a reel its own size where it has one of its own, else that of its type; null where neither is on record. */
export async function makeOf(reader: Reader, reel: number): Promise<Make | null> {
  const [row] = await reader.rows<Make>(
    `select case when json_type(c.differs, '$.outer_diameter_mm') is null then t.outer_diameter_mm
         else json_extract(c.differs, '$.outer_diameter_mm') end as outer_diameter_mm,
       case when json_type(c.differs, '$.construction') is null then t.construction
         else json_extract(c.differs, '$.construction') end as construction
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [reel],
  );
  return row ?? null;
}

export interface Suits {
  readonly pipes: LateralPipes;
  /** What speaks against it by the record, in words. */
  readonly against: readonly string[];
}

/** Pipes that are too narrow for it, and what fitness says doesn't belong there. */
export async function suitsWay(
  reader: Reader,
  limits: Limits,
  pathways: readonly RecordRef[],
  make: Make | null,
  type_id: number | null,
): Promise<Suits> {
  const pipes = await pipesFor(reader, limits, pathways, make);
  const narrow = pipes.too_narrow.map(({ tag }) => say`no pipe of ${tag} has room for it`);
  if (type_id === null || pathways.length === 0) return { pipes, against: narrow };
  const way = pipes.pipes.map(({ pipe, pathway }) => (pipe ?? pathway).tag);
  const { verdicts } = await wouldFit(reader, { way, cable_type: type_id });
  const unfit = verdicts.flatMap(({ verdict, fact }) => (verdict === "does_not" ? [fact.replace(/\.$/, "")] : []));
  return { pipes, against: [...narrow, ...new Set(unfit)] };
}

/** The first that speaks against a reel, looked at once for each make. */
export function againstReel(reader: Reader, limits: Limits, pathways: readonly RecordRef[]) {
  const seen = new Map<string, string | null>();
  return async ({ cable, type_id }: Candidate): Promise<string | null> => {
    const make = await makeOf(reader, cable.id);
    const key = JSON.stringify([make, type_id]);
    if (!seen.has(key)) seen.set(key, (await suitsWay(reader, limits, pathways, make, type_id)).against[0] ?? null);
    return seen.get(key) ?? null;
  };
}
