/** Where the strands of a cable that takes another's place are joined: at each end, what the old one is joined to there. */
import { addressesOf, refsOf } from "../store/addresses.ts";
import { strandColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { SheetRow, SpliceSheet } from "./splice-sheet.ts";
import type { JobStep } from "./stored.ts";

interface EndRow {
  readonly strand_id: number;
  readonly number: number;
  readonly space_id: number | null;
  readonly position_id: number | null;
}

/**
 * One sheet an end, in the order of the strands' numbers; strands that are joined to nothing are left out.
 * @param circuits circuits in service by strand of the old cable
 */
export async function landingSheets(
  reader: Reader,
  step: JobStep,
  circuits: (strands: readonly number[]) => Promise<ReadonlyMap<number, readonly RecordRef[]>>,
): Promise<SpliceSheet[]> {
  const { cable, by } = step.input as { readonly cable?: unknown; readonly by?: unknown };
  if (typeof cable !== "string" || typeof by !== "string") return [];
  const rows = async (side: "A" | "B"): Promise<EndRow[]> =>
    reader.rows<EndRow>(
      `select t.id as strand_id, t.number, st.space_id, m.position_id
       from cable c join strand t on t.cable_id = c.id join section s on s.strand_id = t.id
         join termination m on m.section_id = s.id and m.side = ? and m.life in ('in_place', 'out_of_use')
         left join stop st on st.id = case when ? = 'A' then s.a_stop_id else s.b_stop_id end
       where c.tag = ? and (case when ? = 'A' then s.ordinal = 1 else not exists
         (select 1 from section later where later.strand_id = t.id and later.ordinal > s.ordinal) end)
       order by t.number`,
      [side, side, cable, side],
    );
  const news = await reader.rows<{ id: number; number: number }>(
    "select t.id, t.number from strand t join cable c on c.id = t.cable_id where c.tag = ? order by t.number",
    [by],
  );
  const newOf = new Map(news.map(({ id, number }) => [number, id]));
  const colours = await strandColours(
    reader,
    news.map(({ id }) => id),
  );
  const sheets: SpliceSheet[] = [];
  for (const side of ["A", "B"] as const) {
    const own = await rows(side);
    if (own.length === 0) continue;
    const lit = await circuits(own.map(({ strand_id }) => strand_id));
    const positions = await refsOf(
      reader,
      "position",
      own.flatMap(({ position_id }) => position_id ?? []),
    );
    const [space] = own.flatMap(({ space_id }) => space_id ?? []);
    const places = space === undefined ? null : await addressesOf(reader, "space", [space]);
    const tag = places?.get(space ?? 0) ?? (side === "A" ? "its first stop" : "its last stop");
    sheets.push({
      tray: `${tag}: ${by} onto what ${cable} is joined to`,
      place: space === undefined ? null : { kind: "space", id: space, tag },
      later: [],
      rows: own.flatMap(({ strand_id, number, position_id }): SheetRow[] => {
        const [to, id] = [positions.get(position_id ?? 0), newOf.get(number)];
        if (!to || id === undefined) return [];
        return [
          {
            step: step.ordinal,
            done: step.state === "done",
            from: {
              strand: { kind: "strand", id, tag: `${by}:${number}` },
              colours: (colours.get(id) ?? []).map(({ words }) => words).join(", "),
            },
            to: { strand: to, colours: "the back of the port" },
            circuits: lit.get(strand_id) ?? [],
          },
        ];
      }),
    });
  }
  return sheets;
}
