/**
 * The length of a cable schedule. Sheath has its metres from the marks, or leg by leg: a length of the whole has a place
 * where there is one leg and no marks tell it, less what is coiled at its ends. Else it is told what holds it.
 */
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";
import type { Act } from "../shape.ts";

export interface Sheath {
  /** Metres of sheath of the one leg; undefined where the row says none or it has no place. */
  readonly leg_m: number | undefined;
  /** Goes on after what the row is understood as; empty where nothing is to be told. */
  readonly words: string;
}

interface Course {
  readonly legs: number;
  /** Whether marks at both ends tell it, in a unit that is known. */
  readonly marked: boolean;
  /** Metres coiled at both ends, as far as anybody says. */
  readonly coiled_m: number;
}

export function sheathOf(cells: RowCells, { legs, marked, coiled_m }: Course): Sheath {
  const length_m = cells.length_m("length");
  const none = (why: string): Sheath => ({ leg_m: undefined, words: say`; its length is not taken over: ${why}` });
  if (length_m === undefined) return { leg_m: undefined, words: "" };
  if (legs === 0) return none(say`a cable in stock has no leg to hold it`);
  if (marked) return none(say`it follows from the marks`);
  if (legs > 1)
    return none(say`over ${legs} legs it follows from the marks at each place, or from the sheath of each leg`);
  if (length_m > coiled_m) return { leg_m: Math.round((length_m - coiled_m) * 1000) / 1000, words: "" };
  cells.problem("length", say`is no more than what is coiled at its ends`);
  return { leg_m: undefined, words: "" };
}

interface LegRow {
  readonly id: number;
  readonly length_m: number | null;
  readonly marked: number;
  readonly coiled_m: number;
}

/** The same of a cable on record: the act that gives its one leg another length, if the sheet says another. */
export async function sheathOnRecord(
  reader: Reader,
  cells: RowCells,
  cable: number,
): Promise<{ readonly act: Act | null; readonly words: string }> {
  const rows = await reader.rows<LegRow>(
    `select l.id, l.length_m, a.mark_out is not null and b.mark_in is not null and c.mark_unit is not null as marked,
       coalesce(a.slack_m, 0) + coalesce(b.slack_m, 0) as coiled_m
     from leg l join stop a on a.id = l.from_stop_id join stop b on b.id = l.to_stop_id join cable c on c.id = a.cable_id
     where c.id = ? and l.life in ('in_place', 'out_of_use') order by a.ordinal`,
    [cable],
  );
  const [leg] = rows;
  const { leg_m, words } = sheathOf(cells, {
    legs: rows.length,
    marked: leg?.marked === 1,
    coiled_m: leg?.coiled_m ?? 0,
  });
  if (!leg || leg_m === undefined || leg.length_m === leg_m) return { act: null, words };
  const values = { length_m: leg_m, length_basis: "measured" };
  return { act: { name: "record.edit", input: { kind: "leg", id: leg.id, values } }, words };
}
