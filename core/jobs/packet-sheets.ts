/** Splice sheets of a job: for each splice tray, strand by strand, what meets what, in the order of the steps. */
import { Refusal } from "../result.ts";
import { refsOf, resolveStrands } from "../store/addresses.ts";
import { strandColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { listedToCome, strandsToCome } from "./cable-to-come.ts";
import { landingSheets } from "./packet-landings.ts";
import { coloursOf, type SheetEnd, type SpliceSheet } from "./splice-sheet.ts";
import type { JobStep } from "./stored.ts";

interface Found {
  readonly id: number;
  readonly tag: string;
}

async function strandsOf(reader: Reader, text: unknown): Promise<readonly Found[] | null> {
  if (typeof text !== "string") return null;
  try {
    const { cable, strands } = await resolveStrands(reader, text, { field: "strands" });
    return strands.map(({ id, number }) => ({ id, tag: `${cable.tag}:${number}` }));
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

export async function spliceSheets(reader: Reader, steps: readonly JobStep[], today: string): Promise<SpliceSheet[]> {
  type Side = Found | SheetEnd;
  const sheets = new Map<string, { place: RecordRef | null; pairs: [JobStep, Side, Side][]; later: string[] }>();
  const toCome = await strandsToCome(reader, steps);
  // A half that isn't cut yet is told by its whole strand, glass of a cable still to come by what it will be.
  const named = async (text: unknown): Promise<readonly Side[] | null> =>
    (await strandsOf(reader, text)) ??
    (typeof text === "string" && text.includes("#") ? await strandsOf(reader, text.replace(/#\d+/g, "")) : null) ??
    listedToCome(text, toCome);
  for (const step of steps) {
    if (step.act !== "splice.close" && step.act !== "splice.range") continue;
    const input = step.input as Readonly<Record<string, unknown>>;
    const tray = typeof input.tray === "string" ? input.tray : say`no splice tray named`;
    const sheet = sheets.get(tray) ?? { place: step.place, pairs: [], later: [] };
    sheets.set(tray, sheet);
    const [from, to] =
      step.act === "splice.close"
        ? [await strandsOf(reader, input.strands), await strandsOf(reader, input.strands)]
        : [await named(input.from), await named(input.to)];
    if (!from || !to || from.length !== to.length) {
      sheet.later.push(step.words);
      continue;
    }
    from.forEach((one, index) => {
      sheet.pairs.push([step, one, to[index] as Side]);
    });
  }
  const ids = [
    ...new Set(
      [...sheets.values()].flatMap(({ pairs }) =>
        pairs.flatMap(([, ...both]) => both.flatMap((one) => ("id" in one ? one.id : []))),
      ),
    ),
  ];
  const colours = await strandColours(reader, ids);
  const lit = await circuitsOn(reader, ids, today);
  const end = (one: Side): SheetEnd =>
    "id" in one
      ? {
          strand: { kind: "strand", id: one.id, tag: one.tag },
          ...coloursOf(colours.get(one.id) ?? []),
        }
      : one;
  const idOf = (one: Side): number => ("id" in one ? one.id : 0);
  const landings = await landingSheets(reader, steps, (strands) => circuitsOn(reader, strands, today));
  const spliced = [...sheets].map(([tray, { place, pairs, later }]) => ({
    tray,
    case: caseOf(tray),
    place,
    later,
    rows: pairs.map(([step, a, b]) => ({
      step: step.ordinal,
      done: step.state === "done",
      from: end(a),
      to: end(b),
      circuits: lit.get(idOf(a)) ?? lit.get(idOf(b)) ?? [],
    })),
  }));
  return [...spliced, ...landings];
}

/** A splice tray's case, or the panel on which strands are landed: `MH-02/CL-42` of `MH-02/CL-42/T1`. */
const caseOf = (tray: string): string => {
  const stroke = tray.lastIndexOf("/");
  return stroke < 0 ? tray : tray.slice(0, stroke);
};

/** Circuits in service by strand, the most urgent first. */
async function circuitsOn(
  reader: Reader,
  strands: readonly number[],
  today: string,
): Promise<Map<number, RecordRef[]>> {
  const rows = await reader.rows<{ strand_id: number; id: number }>(
    `select distinct s.strand_id, c.id, c.priority, c.tag_key from section s join assignment a on a.section_id = s.id
       join circuit c on c.id = a.circuit_id
     where s.strand_id in (select value from json_each(?)) and c.state = 'in_service'
       and (a.until_on is null or a.until_on > ?)
     order by c.priority is null, c.priority, c.tag_key, c.id`,
    [JSON.stringify(strands), today],
  );
  const refs = await refsOf(reader, "circuit", new Set(rows.map(({ id }) => id)));
  const byStrand = new Map<number, RecordRef[]>();
  for (const { strand_id, id } of rows) {
    const ref = refs.get(id);
    if (ref) byStrand.set(strand_id, [...(byStrand.get(strand_id) ?? []), ref]);
  }
  return byStrand;
}
