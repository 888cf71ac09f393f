/**
 * Holds a draft against what is on record, in sets: the records exist and are as they were seen, what they refer to
 * exists, keys are free, nothing rests on what goes. Every refusal names record, field and the missing or other thing.
 */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { type Beside, clashDoubt, NOTHING, refuseDoubts } from "./doubts.ts";
import { type Draft, foldedDraft, type KindDraft, refuseFaults, sentenceOf } from "./draft.ts";
import type { Reader } from "./handle.ts";
import { refuseOtherPlants } from "./one-plant.ts";
import type { Change } from "./plan.ts";
import { missingTargets } from "./references.ts";
import { SQL } from "./relations.ts";
import { refuseResting } from "./rests-on.ts";
import { refuseStale } from "./stale.ts";
import { Together } from "./together.ts";
import { keyClashes, type Parked } from "./unique.ts";

/** Folds and checks changes; refuses with all that is wrong with any of them, not only with the first kind of it. */
export async function checkedDraft(
  reader: Reader,
  changes: readonly Change[],
): Promise<{ draft: Draft; parked: Parked }> {
  const { draft, faults } = foldedDraft(changes);
  const told = new Together();
  await told.take(() => refuseFaults(reader, faults));
  return { draft, parked: await prepare(reader, draft, NOTHING, told) };
}

export async function prepare(
  reader: Reader,
  draft: Draft,
  beside: Beside = NOTHING,
  told: Together = new Together(),
): Promise<Parked> {
  for (const part of draft.values()) await told.take(() => readCurrent(reader, part));
  await told.take(() => refuseStale(reader, draft));
  await told.take(() => refuseOtherPlants(reader, draft));
  for (const part of draft.values()) dropUnchanged(part);
  const { clashes, parked } = await keyClashes(reader, draft, beside.goes);
  if (!beside.certain) {
    const missing = await missingTargets(reader, draft, beside);
    await told.take(() => refuseDoubts(reader, draft, "not_found", missing));
    await told.take(() => refuseDoubts(reader, draft, "duplicate", clashes.map(clashDoubt)));
    await told.take(() => refuseResting(reader, draft, beside));
  }
  told.refuse();
  return parked;
}

/** Reads what is touched as it stands. What isn't there is taken out of the draft, and refused. */
export async function readCurrent(reader: Reader, part: KindDraft): Promise<void> {
  const touched = [...part.updates.values(), ...part.deletes.values()];
  if (touched.length === 0) return;
  const rows = await reader.rows<AnyRow>(SQL[part.kind].rows, [JSON.stringify(touched.map((one) => one.id))]);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const gone: Problem[] = [];
  for (const one of touched) {
    const current = byId.get(one.id);
    if (current) one.current = current;
    else {
      part.updates.delete(one.id);
      part.deletes.delete(one.id);
      gone.push({
        ...(one.row === undefined ? {} : { row: one.row }),
        record: `${KINDS[part.kind].one} ${one.id}`,
        reason: say`is not on record; it may have been deleted since`,
      });
    }
  }
  if (gone.length > 0) refuse("not_found", sentenceOf(gone), gone);
}

function dropUnchanged(part: KindDraft): void {
  for (const update of part.updates.values()) {
    const values: Record<string, Value> = {};
    let [given, kept] = [0, 0];
    for (const field in update.values) {
      given++;
      const value = update.values[field] as Value;
      if (value === update.current[field]) continue;
      values[field] = value;
      kept++;
    }
    if (kept === 0) part.updates.delete(update.id);
    else if (kept < given) update.values = values;
  }
}

/** Holds rows that come back beside a draft against what is on record: what they refer to, and their keys. */
export async function prepareRows(
  reader: Reader,
  kind: KindName,
  rows: readonly { readonly id: number; readonly values: Record<string, Value> }[],
  draft: Draft,
  beside: Beside,
): Promise<void> {
  const inserts = new Map(rows.map(({ id, values }) => [id, { id, values, row: undefined }]));
  const pages: Draft = new Map([[kind, { kind, inserts, updates: new Map(), deletes: new Map() }]]);
  const all: Beside = {
    ...beside,
    goes: (k, id) => beside.goes(k, id) || (draft.get(k)?.deletes.has(id) ?? false),
    comes: (k, id) => beside.comes(k, id) || (draft.get(k)?.inserts.has(id) ?? false),
  };
  await refuseDoubts(reader, pages, "not_found", await missingTargets(reader, pages, all));
  const { clashes } = await keyClashes(reader, pages, all.goes);
  await refuseDoubts(reader, pages, "duplicate", clashes.map(clashDoubt));
}
