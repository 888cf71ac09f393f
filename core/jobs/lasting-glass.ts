/** A piece that lies over the ground for the time being: what its glass is joined to at both ends, and what waits there. */
import type { Reader } from "../store/handle.ts";
import { outerJoints } from "./outer-joints.ts";

/** One end of the piece. */
export interface PieceEnd {
  readonly space_id: number | null;
  /** Strands of the piece that are joined here. */
  readonly joined: ReadonlySet<number>;
  /** Whether any of them is spliced; else they are landed. */
  readonly spliced: boolean;
  /** The cable they are spliced to; at which of its stops that ends, and whether it stops in that place more than once. */
  readonly other: {
    readonly cable_id: number;
    readonly tag: string;
    readonly stop_ordinal: number;
    readonly twice: boolean;
  } | null;
  /** Strands of that cable which end here, and of which neither half is joined: they wait for the lasting piece. */
  readonly waiting: ReadonlySet<number>;
  /** The cases in which the splices lie. */
  readonly closures: readonly number[];
}

interface OtherRow {
  readonly cable_id: number;
  readonly tag: string;
  readonly stop_id: number;
  readonly ordinal: number;
  readonly twice: number;
}

/** The end towards the first stop of the mended cable, and the one towards its last. */
export async function pieceEnds(reader: Reader, piece_id: number): Promise<readonly [PieceEnd, PieceEnd]> {
  const stops = await reader.rows<{ id: number; space_id: number | null }>(
    "select id, space_id from stop where cable_id = ? order by ordinal",
    [piece_id],
  );
  const joints = await outerJoints(
    reader,
    piece_id,
    stops.map(({ id }) => id),
  );
  const endAt = async (at: number): Promise<PieceEnd> => {
    const here = joints.filter((joint) => joint.at === at);
    const joined = new Set(here.map(({ number }) => number));
    const spliced = here.flatMap(({ section_id }) => section_id ?? []);
    const other = await otherOf(reader, spliced, at === 0 ? "b" : "a");
    return {
      space_id: stops[at]?.space_id ?? null,
      joined,
      spliced: spliced.length > 0,
      other: other && {
        cable_id: other.cable_id,
        tag: other.tag,
        stop_ordinal: other.ordinal,
        twice: other.twice === 1,
      },
      waiting: other ? await freeAt(reader, other, at === 0 ? "B" : "A") : new Set(),
      closures: await closuresOf(
        reader,
        here.flatMap(({ tray_id }) => tray_id ?? []),
      ),
    };
  };
  return [await endAt(0), await endAt(Math.max(0, stops.length - 1))];
}

/** The cable whose glass most of these sections are, and the stop at which they end on that side. */
async function otherOf(reader: Reader, sections: readonly number[], side: "a" | "b"): Promise<OtherRow | null> {
  const [row] = await reader.rows<OtherRow>(
    `select t.cable_id, c.tag, st.id as stop_id, st.ordinal,
       (select count(*) from stop o where o.cable_id = st.cable_id and o.space_id = st.space_id) > 1 as twice
     from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       join stop st on st.id = s.${side}_stop_id
     where s.id in (select value from json_each(?)) group by t.cable_id, st.id order by count(*) desc, st.id limit 1`,
    [JSON.stringify(sections)],
  );
  return row ?? null;
}

/** Glass that ends on this side of the stop and is joined to nothing. */
async function freeAt(reader: Reader, { cable_id, stop_id }: OtherRow, side: "A" | "B"): Promise<Set<number>> {
  const carries = "life in ('in_place', 'out_of_use')";
  const rows = await reader.rows<{ number: number }>(
    `select t.number from section s join strand t on t.id = s.strand_id
     where t.cable_id = ?1 and s.${side === "A" ? "a" : "b"}_stop_id = ?2
       and not exists (select 1 from splice p where p.a_section_id = s.id and p.a_side = ?3 and p.${carries})
       and not exists (select 1 from splice p where p.b_section_id = s.id and p.b_side = ?3 and p.${carries})
       and not exists (select 1 from termination p where p.section_id = s.id and p.side = ?3 and p.${carries})
     order by t.number`,
    [cable_id, stop_id, side],
  );
  return new Set(rows.map(({ number }) => number));
}

async function closuresOf(reader: Reader, trays: readonly number[]): Promise<number[]> {
  const rows = await reader.rows<{ id: number }>(
    "select distinct closure_id as id from tray where id in (select value from json_each(?)) order by closure_id",
    [JSON.stringify(trays)],
  );
  return rows.map(({ id }) => id);
}
