/** Second reading of a folder: what each row would change, and what it would write. */
import type { AnyRow, KindName, Value } from "../model/dictionary.ts";
import type { BulkRow } from "../store/bulk.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import type { Record4180 } from "./csv.ts";
import { CHANGED, NEW, REFUSED, SAME } from "./fates.ts";
import type { Folder, ReadFile } from "./folder.ts";
import type { Identities } from "./identify.ts";
import { eachReference, readRow } from "./rows.ts";
import type { ChangedRow, Heard, NewRow, Sink } from "./told.ts";

/** Rows compared with the record at a time. */
const CHUNK = 2_000;
/** So many changed and new rows are kept to be shown. */
const SHOWN = 300;

export class Comparison {
  readonly changed: ChangedRow[] = [];
  readonly added: NewRow[] = [];
  readonly #reader: Reader;
  readonly #identities: Identities;
  readonly #folder: Folder;
  readonly #heard: Heard;
  /** New records whose rows were refused, as kind and id. */
  readonly #refusedNew = new Set<string>();

  constructor(reader: Reader, identities: Identities, folder: Folder, heard: Heard) {
    this.#reader = reader;
    this.#identities = identities;
    this.#folder = folder;
    this.#heard = heard;
  }

  /** Compares a file's rows. `partly` writes even though rows were refused: those are left out. */
  async file(file: ReadFile, sink: Sink | null, partly = false): Promise<void> {
    const { kind } = file;
    const { fates } = this.#identities;
    // Rows that waited for their parent have later ids than rows below them; the writer wants ids ascending.
    const hold = sink !== null && !this.#identities.ascending(kind);
    const held: BulkRow[] = [];
    for await (const { chunk, first } of chunks(this.#folder, file)) {
      const writes = { added: [] as BulkRow[], changed: [] as Change[] };
      const stored = await this.#stored(kind, first, chunk.length);
      for (let i = 0; i < chunk.length; i += 1) {
        if (!fates.is(kind, first + i, REFUSED)) this.#row(file, first + i, chunk[i] as Record4180, stored, writes);
      }
      if (sink && (partly || fates.refused === 0)) {
        if (hold) held.push(...writes.added);
        await sink(kind, hold ? [] : writes.added, writes.changed);
      }
      await this.#heard(sink ? `writing ${file.name}` : `comparing ${file.name}`, chunk.length);
    }
    if (!sink || (fates.refused > 0 && !partly)) return;
    held.sort((a, b) => a.id - b.id);
    for (let from = 0; from < held.length; from += CHUNK) await sink(kind, held.slice(from, from + CHUNK), []);
  }

  async #stored(kind: KindName, first: number, rows: number): Promise<ReadonlyMap<number, AnyRow>> {
    const { fates } = this.#identities;
    const known: number[] = [];
    for (let index = first; index < first + rows; index += 1) {
      const id = fates.ids[kind].at(index);
      if (!fates.is(kind, index, REFUSED) && !this.#identities.isNew(kind, id)) known.push(id);
    }
    if (known.length === 0) return new Map();
    const found = await this.#reader.rows<AnyRow>(
      `select * from "${kind}" where id in (select value from json_each(?))`,
      [JSON.stringify(known)],
    );
    return new Map(found.map((row) => [row.id, row]));
  }

  #row(
    file: ReadFile,
    index: number,
    record: Record4180,
    stored: ReadonlyMap<number, AnyRow>,
    writes: { added: BulkRow[]; changed: Change[] },
  ): void {
    const { kind } = file;
    const { fates } = this.#identities;
    const id = fates.ids[kind].at(index);
    const isNew = this.#identities.isNew(kind, id);
    const { values, problems } = readRow(this.#identities, file, record, isNew);
    if (problems.length > 0) {
      for (const { field, reason } of problems) {
        fates.refuse(kind, index, { file: file.name, row: record.row, field, reason });
      }
      if (isNew) this.#refusedNew.add(`${kind} ${id}`);
      return;
    }
    if (isNew) {
      fates.fates[kind].set(index, NEW);
      writes.added.push({ id, values, row: record.row });
      if (this.added.length < SHOWN) this.added.push({ file: file.name, row: record.row, kind, values });
      return;
    }
    const fields = differences(stored.get(id), values);
    fates.fates[kind].set(index, fields.length > 0 ? CHANGED : SAME);
    if (fields.length === 0) return;
    const set = Object.fromEntries(fields.map(({ field, after }) => [field, after]));
    writes.changed.push({ op: "update", kind, id, values: set });
    if (this.changed.length < SHOWN) this.changed.push({ file: file.name, row: record.row, kind, id, fields });
  }

  /** Refuses rows that rest on new records which were refused themselves, and what rests on those. */
  async refuseResting(files: readonly ReadFile[]): Promise<void> {
    const { fates } = this.#identities;
    for (let before = -1; this.#refusedNew.size > 0 && fates.refused !== before; ) {
      before = fates.refused;
      for (const file of files) await this.#refuseRestingIn(file);
    }
  }

  async #refuseRestingIn(file: ReadFile): Promise<void> {
    const { kind } = file;
    const { fates } = this.#identities;
    for await (const { chunk, first } of chunks(this.#folder, file)) {
      for (let i = 0; i < chunk.length; i += 1) {
        const index = first + i;
        const record = chunk[i] as Record4180;
        if (fates.is(kind, index, REFUSED)) continue;
        eachReference(this.#identities, file, record, (field, _name, target, to) => {
          if (typeof target !== "number" || to === null || !this.#refusedNew.has(`${to} ${target}`)) return;
          fates.refuse(kind, index, {
            file: file.name,
            row: record.row,
            field,
            reason: "rests on a row that is refused",
          });
          const id = fates.ids[kind].at(index);
          if (this.#identities.isNew(kind, id)) this.#refusedNew.add(`${kind} ${id}`);
        });
      }
    }
  }
}

function differences(stored: AnyRow | undefined, values: Readonly<Record<string, Value>>): ChangedRow["fields"] {
  const fields: { field: string; before: Value; after: Value }[] = [];
  for (const field of Object.keys(values)) {
    const before = stored?.[field] ?? null;
    const after = values[field] ?? null;
    if (before !== after) fields.push({ field, before, after });
  }
  return fields;
}

/** The rows of a file in chunks, with the index of each chunk's first row. */
async function* chunks(folder: Folder, file: ReadFile): AsyncIterable<{ chunk: Record4180[]; first: number }> {
  let first = 0;
  let chunk: Record4180[] = [];
  for await (const lot of folder.rows(file)) {
    for (const record of lot) {
      chunk.push(record);
      if (chunk.length < CHUNK) continue;
      yield { chunk, first };
      first += chunk.length;
      chunk = [];
    }
  }
  if (chunk.length > 0) yield { chunk, first };
}
