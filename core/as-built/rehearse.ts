/** A sheet tried out row by row: what each row would do, what is missing, and the one plan all of it comes to. */
import { Digest } from "../model/digest.ts";
import type { Problem } from "../result.ts";
import { resolve } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { foldTag } from "../store/lookup.ts";
import type { Trial } from "../store/trial.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type Fate, type Outcome, type PlanAct, refused, takeUp } from "./carry.ts";
import { dittoed } from "./ditto.ts";
import { chosen, type Missing, making, missingIn, type ToMake } from "./missing.ts";
import { alsoMissing, alsoRefused } from "./reasons.ts";
import { type Manner, type ReadCell, RowCells } from "./row-cells.ts";
import type { Act, Shape } from "./shape.ts";
import type { SheetRow } from "./table.ts";

export interface SheetWork {
  readonly shape: Shape;
  readonly rows: readonly SheetRow[];
  readonly manner: Manner;
  readonly make: readonly ToMake[];
  /** Numbers of rows that are left out by choice. */
  readonly leaveOut: ReadonlySet<number>;
  /** Headings of columns that stand for nothing. */
  readonly unread: readonly string[];
  /** What is to be known of the sheet as a whole, such as that its macros are not run. */
  readonly notices: readonly string[];
}

export interface RowFate extends Outcome {
  readonly row: number;
  /** The act it was understood as. */
  readonly words: string;
  readonly acts: readonly string[];
  /** What was read of its other cells, each by the label of its column. */
  readonly values: readonly ReadCell[];
}

export interface MadeFate extends Outcome {
  readonly kind: Missing["kind"];
  readonly address: string;
}

export interface SheetRehearsal {
  readonly shape: string;
  readonly rows: readonly RowFate[];
  readonly totals: Readonly<Record<Fate, number>> & { readonly rows: number };
  readonly missing: readonly Missing[];
  readonly made: readonly MadeFate[];
  /** Headings of columns that are not taken over. */
  readonly unread: readonly string[];
  /** What is to be known of the sheet as a whole. */
  readonly notices: readonly string[];
  /** Names this plan; hand it over when it is applied, and exactly this is done or nothing. */
  readonly digest: string;
  readonly sentence: string;
}

export type Heard = (done: number, total: number) => Promise<void>;

export async function tryRows(
  trial: Trial,
  revision: number,
  plan: PlanAct,
  work: SheetWork,
  heard: Heard,
): Promise<SheetRehearsal> {
  const { shape, manner, leaveOut } = work;
  const digest = new Digest().update(`${revision}\n${shape.name}\n`);
  const all = dittoed(work.rows).map((row) => new RowCells(shape, row, manner));
  const kept = all.filter(({ row }) => !leaveOut.has(row));
  const missing = await missingIn(trial.reader, shape, kept);
  const made: MadeFate[] = [];
  for (const one of chosen(missing, work.make)) {
    const act = making(one.missing, one.make);
    digest.update(`${JSON.stringify(act)}\n`);
    const outcome = await takeUp(trial, plan, [act]);
    made.push({ kind: one.make.kind, address: one.make.address, ...outcome });
  }
  const unmade = missing.filter(
    ({ address }) => !made.some((one) => one.address === address && one.fate !== "refused"),
  );
  const lacking = (cells: RowCells, problems: readonly Problem[]) => alsoMissing(shape, cells, unmade, problems);
  const claims = new Map<string, number>();
  const rows: RowFate[] = [];
  for (const cells of all) {
    if (rows.length % 50 === 0) await heard(rows.length, all.length);
    const fate = leaveOut.has(cells.row)
      ? { ...NOTHING, row: cells.row, fate: "left_out" as const }
      : await tryRow(trial, plan, shape, cells, claims, digest, lacking);
    digest.update(`${fate.row} ${fate.fate}\n`);
    rows.push(fate);
  }
  const totals = { rows: rows.length, new: 0, changed: 0, same: 0, refused: 0, left_out: 0 };
  for (const { fate } of rows) totals[fate] += 1;
  return {
    shape: shape.name,
    rows,
    totals,
    missing,
    made,
    unread: work.unread,
    notices: work.notices,
    digest: digest.hex(),
    sentence: sentenceOf(totals),
  };
}

const NOTHING = { words: "", acts: [], values: [], problems: [], notices: [] };

async function tryRow(
  trial: Trial,
  plan: PlanAct,
  shape: Shape,
  cells: RowCells,
  claims: Map<string, number>,
  digest: Digest,
  lacking: (cells: RowCells, problems: readonly Problem[]) => Problem[],
): Promise<RowFate> {
  const { row } = cells;
  if (cells.sums) {
    const reason = say`seems to sum up the rows above it: leave it out`;
    return { ...NOTHING, row, fate: "refused", problems: [{ row, reason }] };
  }
  const claim = shape.claims(cells);
  const before =
    claim === null ? undefined : (claims.get(claim) ?? (await spelled(trial.reader, shape, claim, claims)));
  if (before !== undefined) {
    const reason = say`is claimed by row ${before} already`;
    return { ...NOTHING, row, fate: "refused", problems: [{ row, record: claim as string, reason }] };
  }
  if (claim !== null) claims.set(claim, row).set(anySpelling(claim), row);
  let words = "";
  let same = "";
  let acts: readonly Act[] = [];
  const told = (outcome: Outcome, names: readonly string[]): RowFate => {
    const said = named(outcome, row, shape);
    const problems = said.fate === "refused" ? [...said.problems, ...lacking(cells, said.problems)] : said.problems;
    const notices = [...cells.notices.filter((one) => !said.notices.includes(one)), ...said.notices];
    const understood = said.fate === "same" ? same : words;
    return { row, words: understood, acts: names, values: cells.read(understood), ...said, problems, notices };
  };
  const unread = (problems: readonly Problem[]): RowFate =>
    told({ fate: "refused", problems: [...cells.problems, ...problems], notices: [] }, []);
  try {
    const read = await shape.read(trial.reader, cells);
    words = read?.words ?? "";
    acts = read?.acts ?? [];
    same = (acts.length === 0 ? read?.same : undefined) ?? words;
  } catch (error) {
    return unread(refused(error).problems);
  }
  if (cells.problems.length > 0) return unread(await alsoRefused(trial, plan, shape, acts, cells.problems));
  digest.update(`${JSON.stringify(acts)}\n`);
  const outcome = await takeUp(trial, plan, acts);
  const names = acts.map(({ name }) => name);
  if (outcome.fate === "refused" && (await isOnRecord(trial.reader, shape, cells)))
    return told({ fate: "same", problems: [], notices: [] }, names);
  return told(outcome, names);
}

/** A key that no claim is by itself. */
const anySpelling = (claim: string): string => `\0${foldTag(claim)}`;

/** The row that claims the same record by another spelling of its tag; none where this very spelling is on record. */
async function spelled(
  reader: Reader,
  { claimed }: Shape,
  claim: string,
  claims: ReadonlyMap<string, number>,
): Promise<number | undefined> {
  if (!claimed) return undefined;
  const row = claims.get(anySpelling(claim));
  if (row === undefined) return undefined;
  const own = await resolve(reader, claim, { kinds: [claimed] });
  return own.some(({ how }) => how === "exact") ? undefined : row;
}

async function isOnRecord(reader: Reader, shape: Shape, cells: RowCells): Promise<boolean> {
  if (!shape.onRecord) return false;
  try {
    return await shape.onRecord(reader, cells);
  } catch (error) {
    // What isn't on record at all isn't the same.
    refused(error);
    return false;
  }
}

/** Problems of an act as problems of its row: a row counted inside the act's own input isn't the sheet's. */
function named(outcome: Outcome, row: number, shape: Shape): Outcome {
  const labelOf = (field: string): string => shape.columns.find(({ name }) => name === field)?.label ?? field;
  const problems = outcome.problems.map((problem): Problem => {
    const { field } = problem;
    return { ...problem, row, ...(field === undefined ? {} : { field: labelOf(field) }) };
  });
  return { ...outcome, problems };
}

export function sentenceOf(totals: SheetRehearsal["totals"]): string {
  const left = totals.left_out > 0 ? say`, ${totals.left_out} left out` : "";
  const rows = counted(totals.rows, "row");
  return say`${rows}: ${totals.new} new, ${totals.changed} changed, ${totals.same} same, ${totals.refused} refused${left}.`;
}
