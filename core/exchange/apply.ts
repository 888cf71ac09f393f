/** Carries a plan of a folder out through the gateway's bulk writer: all of it, or nothing. */
import type { KindName } from "../model/dictionary.ts";
import type { BulkRow, BulkWriter } from "../store/bulk.ts";
import type { Change } from "../store/plan.ts";
import { CHANGED, NEW } from "./fates.ts";
import type { ReadFile } from "./folder.ts";
import { chunks, differences, type FolderPlan, type Heard, storedRows } from "./plan.ts";
import { readRow } from "./rows.ts";

export async function applyFolder(bulk: BulkWriter, plan: FolderPlan, heard: Heard): Promise<void> {
  for (const file of plan.files) {
    await insertNew(bulk, plan, file, heard);
    await writeChanged(bulk, plan, file, heard);
  }
}

async function insertNew(bulk: BulkWriter, plan: FolderPlan, file: ReadFile, heard: Heard): Promise<void> {
  const { kind } = file;
  const { identities } = plan;
  if (identities.taken(kind) === 0) return;
  // Rows that had to wait for their parent have later ids than rows below them; the writer wants ids ascending.
  let held: BulkRow[] = [];
  let last = 0;
  let ascending = true;
  for (let i = 0, ids = identities.fates.ids[kind]; i < ids.length && ascending; i += 1) {
    if (!identities.fates.is(kind, i, NEW)) continue;
    ascending = ids.at(i) > last;
    last = ids.at(i);
  }
  for await (const { chunk, first } of chunks(plan.folder, file)) {
    for (let i = 0; i < chunk.length; i += 1) {
      if (!identities.fates.is(kind, first + i, NEW)) continue;
      const record = chunk[i] as (typeof chunk)[number];
      const { values } = readRow(identities, file, record, true);
      held.push({ id: identities.fates.ids[kind].at(first + i), values, row: record.row });
    }
    if (ascending) {
      if (held.length > 0) await bulk.insertMany(kind, held);
      held = [];
    }
    await heard(`writing ${file.name}`, chunk.length);
  }
  held.sort((a, b) => a.id - b.id);
  for (let from = 0; from < held.length; from += 2_000) await bulk.insertMany(kind, held.slice(from, from + 2_000));
}

async function writeChanged(bulk: BulkWriter, plan: FolderPlan, file: ReadFile, heard: Heard): Promise<void> {
  const { kind } = file;
  const { fates } = plan.identities;
  if (!some(fates.fates[kind], CHANGED)) return;
  for await (const { chunk, first } of chunks(plan.folder, file)) {
    const rows = chunk.flatMap((record, i) =>
      fates.is(kind, first + i, CHANGED) ? [{ id: fates.ids[kind].at(first + i), record }] : [],
    );
    const stored = await storedRows(
      bulk.reader,
      kind,
      rows.map(({ id }) => id),
    );
    const changes = rows.map(({ id, record }): Change => {
      const { values } = readRow(plan.identities, file, record, false);
      const set = Object.fromEntries(differences(stored.get(id), values).map(({ field, after }) => [field, after]));
      return { op: "update", kind, id, values: set };
    });
    if (changes.length > 0) await bulk.apply(changes);
    await heard(`writing ${file.name}`, chunk.length);
  }
}

function some(list: { readonly length: number; at(index: number): number }, value: number): boolean {
  for (let i = 0; i < list.length; i += 1) if (list.at(i) === value) return true;
  return false;
}

/** Ids promised to the new rows of each kind must be the ones the plan counted with. */
export async function reserve(
  plan: FolderPlan,
  newIds: (kind: KindName, count: number) => Promise<number>,
): Promise<void> {
  for (const { kind } of plan.files) {
    const count = plan.identities.taken(kind);
    if (count > 0) await newIds(kind, count);
  }
}
