/** Second reading of a folder: what each row would change, and what it would write. */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import type { CheckedRow } from "../store/bulk.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { FIELD_NAMES, SQL } from "../store/relations.ts";
import { say } from "../words/say.ts";
import type { Contents } from "./contents.ts";
import type { Record4180 } from "./csv.ts";
import { CHANGED, NEW, REFUSED, SAME } from "./fates.ts";
import type { Folder, ReadFile } from "./folder.ts";
import { calledBy, type Identities, indexOf } from "./identify.ts";
import { type CellProblem, RowReader } from "./rows.ts";
import type { ChangedRow, Heard, NewRow, Sink } from "./told.ts";

/** Rows compared with the records at a time. */
const CHUNK = 1_000;
/** So many changed and new rows are kept to be shown. */
const SHOWN = 300;
const HASH = FIELD_NAMES.attachment.indexOf("content_hash");

interface Writes {
  readonly added: CheckedRow[];
  readonly changed: Change[];
}

export class Comparison {
  readonly changed: ChangedRow[] = [];
  readonly added: NewRow[] = [];
  readonly #reader: Reader;
  readonly #identities: Identities;
  readonly #folder: Folder;
  readonly #contents: Contents;
  readonly #heard: Heard;

  constructor(reader: Reader, identities: Identities, folder: Folder, contents: Contents, heard: Heard) {
    this.#reader = reader;
    this.#identities = identities;
    this.#folder = folder;
    this.#contents = contents;
    this.#heard = heard;
  }

  /** Compares a file's rows. `partly` writes even though rows were refused: those are left out. */
  async file(file: ReadFile, sink: Sink | null, partly = false): Promise<void> {
    const { kind } = file;
    const { fates } = this.#identities;
    const rows = new RowReader(this.#identities, file);
    for await (const chunk of chunks(this.#folder, file)) {
      const writes: Writes = { added: [], changed: [] };
      const stored = await this.#stored(kind, chunk);
      for (const record of chunk) this.#row(file, rows, record, stored, writes);
      if (sink && (partly || fates.refused === 0)) await sink(kind, writes.added, writes.changed);
      await this.#heard(sink ? say`writing ${file.name}` : say`comparing ${file.name}`, chunk.length);
    }
  }

  /** The records that rows of a chunk say and that are on record. */
  async #stored(kind: KindName, chunk: readonly Record4180[]): Promise<ReadonlyMap<number, AnyRow>> {
    const { fates } = this.#identities;
    const known: number[] = [];
    for (const record of chunk) {
      const index = indexOf(record);
      const id = fates.rows[kind].ids.at(index);
      if (!fates.is(kind, index, REFUSED) && !this.#identities.isNew(kind, id)) known.push(id);
    }
    if (known.length === 0) return new Map();
    const found = await this.#reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify(known)]);
    return new Map(found.map((row) => [row.id, row]));
  }

  #row(file: ReadFile, rows: RowReader, record: Record4180, stored: ReadonlyMap<number, AnyRow>, writes: Writes): void {
    const { kind } = file;
    const fates = this.#identities.fates.rows[kind];
    const index = indexOf(record);
    if (fates.fate(index) === REFUSED) return;
    const id = fates.ids.at(index);
    const isNew = this.#identities.isNew(kind, id);
    const problems: CellProblem[] = [];
    const values = rows.read(record, id, isNew, problems);
    if (problems.length > 0) {
      for (const problem of problems) this.#refuse(file, record, problem);
      return;
    }
    if (kind === "attachment") this.#contents.want(values[HASH]);
    if (isNew) {
      fates.decide(index, NEW);
      writes.added.push({ id, values: values as Value[], row: record.row });
      if (this.added.length < SHOWN) this.added.push({ file: file.name, row: record.row, kind, id });
      return;
    }
    const fields = differences(kind, stored.get(id), values);
    fates.decide(index, fields.length > 0 ? CHANGED : SAME);
    if (fields.length === 0) return;
    const set = Object.fromEntries(fields.map(({ field, after }) => [field, after]));
    writes.changed.push({ op: "update", kind, id, values: set });
    if (this.changed.length < SHOWN) this.changed.push({ file: file.name, row: record.row, kind, id, fields });
  }

  #refuse(file: ReadFile, record: Record4180, { field, reason }: CellProblem): void {
    const problem = { file: file.name, row: record.row, record: calledBy(file, record), field, reason };
    this.#identities.fates.refuse(file.kind, indexOf(record), problem);
  }

  /** Refuses rows that rest on new records which were refused themselves, and what rests on those. */
  async refuseResting(files: readonly ReadFile[]): Promise<void> {
    const { fates } = this.#identities;
    for (let before = 0; fates.refused !== before; ) {
      before = fates.refused;
      for (const file of files) await this.#refuseRestingIn(file);
    }
  }

  async #refuseRestingIn(file: ReadFile): Promise<void> {
    const { fates } = this.#identities;
    const rows = new RowReader(this.#identities, file);
    for await (const chunk of chunks(this.#folder, file)) {
      for (const record of chunk) {
        const index = indexOf(record);
        if (fates.is(file.kind, index, REFUSED)) continue;
        const problem = rows.restsOnRefused(record, fates.rows[file.kind].ids.at(index));
        if (problem) this.#refuse(file, record, problem);
      }
      await this.#heard(say`looking at what rests on refused rows in ${file.name}`, 0);
    }
  }
}

function differences(
  kind: KindName,
  stored: AnyRow | undefined,
  values: readonly (Value | undefined)[],
): ChangedRow["fields"] {
  const fields: { field: string; before: Value; after: Value }[] = [];
  const names = FIELD_NAMES[kind];
  for (let i = 0; i < names.length; i += 1) {
    const after = values[i];
    if (after === undefined) continue;
    const field = names[i] as string;
    const before = stored?.[field] ?? null;
    if (before !== after) fields.push({ field, before, after });
  }
  return fields;
}

/** The rows of a file in chunks. */
async function* chunks(folder: Folder, file: ReadFile): AsyncIterable<Record4180[]> {
  let chunk: Record4180[] = [];
  for await (const lot of folder.rows(file)) {
    for (const record of lot) {
      chunk.push(record);
      if (chunk.length < CHUNK) continue;
      yield chunk;
      chunk = [];
    }
  }
  if (chunk.length > 0) yield chunk;
}
