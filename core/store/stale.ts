/** A record that changed since it was seen: the change is refused with both versions, and who changed it. */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { shownValue } from "../model/wording.ts";
import { type Problem, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import type { Draft } from "./draft.ts";
import { changedFields, deletedRows, entriesOf } from "./entries.ts";
import type { Reader } from "./handle.ts";
import { loadNames } from "./names.ts";

interface StaleRecord {
  readonly kind: KindName;
  readonly id: number;
  readonly rev: number;
  readonly row: number | undefined;
  readonly current: AnyRow;
  /** What was to be changed; null for a deletion. */
  readonly yours: Readonly<Record<string, Value>> | null;
}

/** What one stale record's refusal carries in `details.stale`. */
export interface StaleVersions {
  readonly kind: KindName;
  readonly id: number;
  readonly record: string;
  readonly seen_rev: number;
  readonly current_rev: number;
  /** The version that was seen, from history; null when the record didn't exist then. */
  readonly seen: Readonly<Record<string, Value>> | null;
  readonly current: Readonly<Record<string, Value>>;
  readonly yours: Readonly<Record<string, Value>> | null;
  /** Fields that differ between the version seen and the one on record, in words; without one seen, those to be changed. */
  readonly fields: readonly { field: string; label: string; seen: string | null; current: string | null }[];
  readonly changed_by: { readonly author: string; readonly at: string; readonly summary: string } | null;
}

export async function refuseStale(reader: Reader, draft: Draft): Promise<void> {
  const stale: StaleRecord[] = [];
  for (const { kind, updates, deletes } of draft.values()) {
    for (const { id, rev, row, current, values } of updates.values())
      if (rev !== undefined && rev !== current.rev) stale.push({ kind, id, rev, row, current, yours: values });
    for (const { id, rev, row, current } of deletes.values())
      if (rev !== undefined && rev !== current.rev) stale.push({ kind, id, rev, row, current, yours: null });
  }
  if (stale.length === 0) return;
  const versions: StaleVersions[] = [];
  const problems: Problem[] = [];
  for (const one of stale.slice(0, 100)) {
    const both = await bothVersions(reader, one);
    versions.push(both);
    const by = both.changed_by ? say` (by ${both.changed_by.author}: ${both.changed_by.summary})` : "";
    const what = both.fields
      .map((f) => say`${f.label} was ${f.seen ?? say`empty`}, is ${f.current ?? say`empty`}`)
      .join("; ");
    problems.push({
      ...(one.row === undefined ? {} : { row: one.row }),
      record: both.record,
      reason: say`was changed since you read it${by}${what ? `: ${what}` : ""}`,
    });
  }
  const [first] = problems;
  const more = stale.length > 1 ? say` So were ${stale.length - 1} more.` : "";
  refuse("stale", say`${first?.record} ${first?.reason}.${more} Look at it and enter your change again.`, problems, {
    stale: versions,
  });
}

/** The record as it stood after change set `rev`, read back from history; null when it wasn't there. */
export async function versionAt(
  reader: Reader,
  kind: KindName,
  id: number,
  rev: number,
  current: Readonly<Record<string, Value>> | null,
): Promise<Record<string, Value> | null> {
  let version: Record<string, Value> | null = current ? { ...current } : null;
  for (const entry of await entriesOf(reader, kind, id, rev)) {
    if (entry.op === "insert" || entry.op === "insert_range") version = null;
    else if (entry.op === "update") {
      if (version) for (const [field, [before]] of Object.entries(changedFields(entry))) version[field] = before;
    } else version = deletedRows(entry).find((row) => row.id === id)?.values ?? null;
  }
  return version;
}

const contentOf = (kind: KindName, row: AnyRow): Record<string, Value> =>
  Object.fromEntries(Object.keys(KINDS[kind].fields).map((field) => [field, row[field] ?? null]));

async function bothVersions(reader: Reader, one: StaleRecord): Promise<StaleVersions> {
  const { kind, id } = one;
  const current = contentOf(kind, one.current);
  const seen = await versionAt(reader, kind, id, one.rev, current);
  const wanted = new Map<KindName, Set<number>>([[kind, new Set([id])]]);
  const differing = Object.entries<Field>(KINDS[kind].fields).filter(([name]) =>
    seen ? seen[name] !== current[name] : one.yours?.[name] !== undefined && one.yours[name] !== current[name],
  );
  for (const [name, field] of differing)
    if (field.type === "reference")
      for (const target of [seen?.[name], current[name]])
        if (typeof target === "number") {
          const ids = wanted.get(field.to as KindName) ?? new Set();
          wanted.set(field.to as KindName, ids.add(target));
        }
  const names = await loadNames(reader, wanted, new Map());
  const [changed_by] = await reader.rows<{ author: string; at: string; summary: string }>(
    "SELECT author, at, summary FROM change_set WHERE id = ?",
    [one.current.rev],
  );
  const shown = (field: Field, name: string, row: Readonly<Record<string, Value>> | null) =>
    shownValue(
      field,
      row?.[name],
      (target) => (field.type === "reference" ? names.nameOf(field.to as KindName, target) : String(target)),
      row ?? {},
    );
  return {
    kind,
    id,
    record: names.nameOf(kind, id),
    seen_rev: one.rev,
    current_rev: one.current.rev,
    seen,
    current,
    yours: one.yours,
    fields: differing.map(([name, field]) => ({
      field: name,
      label: field.label,
      seen: shown(field, name, seen),
      current: shown(field, name, current),
    })),
    changed_by: changed_by ?? null,
  };
}
