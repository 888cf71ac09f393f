/** What would become of each row of a folder, by reading it twice: who is who, then what differs. Writes nothing. */
import { type AnyRow, KIND_NAMES, type KindName, type Value } from "../model/dictionary.ts";
import type { FolderPort } from "../ports.ts";
import type { Reader } from "../store/handle.ts";
import type { Record4180 } from "./csv.ts";
import { CHANGED, NEW, REFUSED, SAME, Taste } from "./fates.ts";
import { Folder, type ReadFile } from "./folder.ts";
import { Identities, READING_ORDER } from "./identify.ts";
import { eachReference, readRow } from "./rows.ts";

/** Reports rows read; may end everything by throwing. */
export type Heard = (what: string, rows: number) => Promise<void>;

/** Chunk of rows compared with the record at a time. */
const CHUNK = 2_000;
/** So many changed and new rows are kept to be shown. */
const SHOWN = 300;

export interface ChangedRow {
  readonly file: string;
  readonly row: number;
  readonly kind: KindName;
  readonly id: number;
  readonly fields: readonly { readonly field: string; readonly before: Value; readonly after: Value }[];
}
export interface NewRow {
  readonly file: string;
  readonly row: number;
  readonly kind: KindName;
  readonly values: Readonly<Record<string, Value>>;
}

export interface FolderPlan {
  readonly folder: Folder;
  readonly files: readonly ReadFile[];
  readonly identities: Identities;
  readonly changed: readonly ChangedRow[];
  readonly added: readonly NewRow[];
  /** Names this plan on this content: another folder, plant or fate gives another. */
  readonly digest: string;
}

export async function planFolder(
  reader: Reader,
  port: FolderPort,
  path: string,
  firstNew: (kind: KindName) => Promise<number>,
  revision: number,
  heard: Heard,
): Promise<FolderPlan> {
  const folder = await Folder.open(port, path);
  const starts = new Map<KindName, number>();
  for (const kind of KIND_NAMES) starts.set(kind, await firstNew(kind));
  const [plant] = await reader.rows<{ id: number }>("select id from plant order by id limit 1");
  const identities = new Identities(starts, plant?.id ?? null);
  await identities.directory.load(reader, READING_ORDER, async () => heard("reading what is on record", 0));

  const files = READING_ORDER.flatMap((kind) => folder.file(kind) ?? []);
  const taste = new Taste();
  for (const file of files) {
    await identities.read(folder, file, taste.text, (rows) => heard(`reading ${file.name}`, rows));
  }
  const shown = { changed: [] as ChangedRow[], added: [] as NewRow[] };
  const refusedNew = new Set<string>();
  for (const file of files) await compare(reader, identities, folder, file, shown, refusedNew, heard);
  while (refusedNew.size > 0) {
    const before = identities.fates.refused;
    for (const file of files) await refuseResting(identities, folder, file, refusedNew);
    if (identities.fates.refused === before) break;
  }
  taste.number(revision);
  for (const file of files) {
    taste.text(file.name);
    const { [file.kind]: fates } = identities.fates.fates;
    const { [file.kind]: ids } = identities.fates.ids;
    for (let i = 0; i < fates.length; i += 1) taste.number(fates.at(i) + 4 * ids.at(i));
  }
  return { folder, files, identities, ...shown, digest: taste.toString() };
}

async function compare(
  reader: Reader,
  identities: Identities,
  folder: Folder,
  file: ReadFile,
  shown: { changed: ChangedRow[]; added: NewRow[] },
  refusedNew: Set<string>,
  heard: Heard,
): Promise<void> {
  const { kind } = file;
  const { fates } = identities;
  for await (const { chunk, first } of chunks(folder, file)) {
    const known: number[] = [];
    for (let i = 0; i < chunk.length; i += 1) {
      const id = fates.ids[kind].at(first + i);
      if (id !== 0 && !fates.is(kind, first + i, REFUSED) && !identities.isNew(kind, id)) known.push(id);
    }
    const stored = await storedRows(reader, kind, known);
    for (let i = 0; i < chunk.length; i += 1) {
      const index = first + i;
      const record = chunk[i] as Record4180;
      if (fates.is(kind, index, REFUSED)) continue;
      const id = fates.ids[kind].at(index);
      const isNew = identities.isNew(kind, id);
      const { values, problems } = readRow(identities, file, record, isNew);
      if (problems.length > 0) {
        for (const { field, reason } of problems) {
          fates.refuse(kind, index, { file: file.name, row: record.row, field, reason });
        }
        if (isNew) refusedNew.add(`${kind} ${id}`);
        continue;
      }
      if (isNew) {
        fates.fates[kind].set(index, NEW);
        if (shown.added.length < SHOWN) shown.added.push({ file: file.name, row: record.row, kind, values });
        continue;
      }
      const fields = differences(stored.get(id), values);
      fates.fates[kind].set(index, fields.length > 0 ? CHANGED : SAME);
      if (fields.length > 0 && shown.changed.length < SHOWN) {
        shown.changed.push({ file: file.name, row: record.row, kind, id, fields });
      }
    }
    await heard(`comparing ${file.name}`, chunk.length);
  }
}

export function differences(stored: AnyRow | undefined, values: Readonly<Record<string, Value>>): ChangedRow["fields"] {
  const fields: { field: string; before: Value; after: Value }[] = [];
  for (const field of Object.keys(values)) {
    const before = stored?.[field] ?? null;
    const after = values[field] ?? null;
    if (before !== after) fields.push({ field, before, after });
  }
  return fields;
}

export async function storedRows(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, AnyRow>> {
  if (ids.length === 0) return new Map();
  const rows = await reader.rows<AnyRow>(`select * from "${kind}" where id in (select value from json_each(?))`, [
    JSON.stringify(ids),
  ]);
  return new Map(rows.map((row) => [row.id, row]));
}

/** The rows of a file in chunks, with the index of each chunk's first row. */
export async function* chunks(folder: Folder, file: ReadFile): AsyncIterable<{ chunk: Record4180[]; first: number }> {
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

/** Refuses rows that refer to new records which were refused themselves. */
async function refuseResting(
  identities: Identities,
  folder: Folder,
  file: ReadFile,
  refusedNew: Set<string>,
): Promise<void> {
  const { kind } = file;
  const { fates } = identities;
  for await (const { chunk, first } of chunks(folder, file)) {
    for (let i = 0; i < chunk.length; i += 1) {
      const index = first + i;
      const record = chunk[i] as Record4180;
      if (fates.is(kind, index, REFUSED)) continue;
      eachReference(identities, file, record, (field, _name, target, to) => {
        if (typeof target !== "number" || to === null || !refusedNew.has(`${to} ${target}`)) return;
        fates.refuse(kind, index, {
          file: file.name,
          row: record.row,
          field,
          reason: "rests on a row that is refused",
        });
        const id = fates.ids[kind].at(index);
        if (identities.isNew(kind, id)) refusedNew.add(`${kind} ${id}`);
      });
    }
  }
}
