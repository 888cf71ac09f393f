/** Joints in a splice case, by the glass that lies in them: whose it is, and at which stop of its cable it ends. */
import type { Side } from "../glass/end.ts";
import type { Row } from "../model/dictionary.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";

/** One end of glass that lies in the case. */
export interface GlassEnd {
  readonly section_id: number;
  readonly side: Side;
  readonly cable_id: number;
  readonly cable: string;
  readonly number: number;
  readonly unit_id: number | null;
  readonly stop_id: number;
  /** Order of that stop along its cable. */
  readonly ordinal: number;
}

export interface CaseJoint {
  readonly id: number;
  readonly a: GlassEnd;
  readonly b: GlassEnd;
  readonly ribbon: boolean;
}

export interface JointRow {
  readonly id: number;
  readonly form: Row<"splice">["form"];
  readonly a_section_id: number;
  readonly a_side: Side;
  readonly b_section_id: number;
  readonly b_side: Side;
}
interface EndRow {
  readonly id: number;
  readonly cable_id: number;
  readonly number: number;
  readonly unit_id: number | null;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
}

/** Of joints the glass, with each end's place along its cable; and strands of which that isn't on record. */
export async function jointsOf(
  reader: Reader,
  splices: readonly JointRow[],
): Promise<{ readonly joints: readonly CaseJoint[]; readonly nowhere: readonly string[] }> {
  const ids = JSON.stringify(splices.flatMap(({ a_section_id, b_section_id }) => [a_section_id, b_section_id]));
  const rows = await reader.rows<EndRow>(
    `select s.id, t.cable_id, t.number, t.unit_id, s.a_stop_id, s.b_stop_id
     from section s join strand t on t.id = s.strand_id where s.id in (select value from json_each(?))`,
    [ids],
  );
  const sections = new Map(rows.map((row) => [row.id, row]));
  const tags = await addressesOf(reader, "cable", new Set(rows.map(({ cable_id }) => cable_id)));
  const stop_ids = new Set(rows.flatMap(({ a_stop_id, b_stop_id }) => [a_stop_id ?? 0, b_stop_id ?? 0]));
  const orders = new Map(
    (
      await reader.rows<{ id: number; ordinal: number }>(
        "select id, ordinal from stop where id in (select value from json_each(?))",
        [JSON.stringify([...stop_ids])],
      )
    ).map(({ id, ordinal }) => [id, ordinal]),
  );
  const nowhere = new Set<string>();
  const endOf = (section_id: number, side: Side): GlassEnd[] => {
    const row = sections.get(section_id);
    if (!row) return [];
    const stop_id = side === "A" ? row.a_stop_id : row.b_stop_id;
    const cable = tags.get(row.cable_id) ?? "";
    const ordinal = orders.get(stop_id ?? 0);
    if (stop_id === null || ordinal === undefined) {
      nowhere.add(`${cable}:${row.number}`);
      return [];
    }
    return [
      { section_id, side, cable_id: row.cable_id, cable, number: row.number, unit_id: row.unit_id, stop_id, ordinal },
    ];
  };
  const joints = splices.flatMap(({ id, form, a_section_id, a_side, b_section_id, b_side }): CaseJoint[] => {
    const [[a], [b]] = [endOf(a_section_id, a_side), endOf(b_section_id, b_side)];
    return a && b ? [{ id, a, b, ribbon: form === "ribbon" }] : [];
  });
  return { joints, nowhere: [...nowhere] };
}
