/** A merge as one change: what it takes from the other file, what is in conflict, and the words for both. */
import { type AnyRow, KIND_NAMES, KINDS, type KindName, type Value } from "../../model/dictionary.ts";
import type { Field } from "../../model/field.ts";
import { shownValue } from "../../model/wording.ts";
import type { MergeSeenTable } from "../../schema/database.ts";
import { addressesOf } from "../../store/describe.ts";
import { foldedDraft } from "../../store/draft.ts";
import type { Reader } from "../../store/handle.ts";
import { loadNames } from "../../store/names.ts";
import type { Change } from "../../store/plan.ts";
import { labelOf, SQL } from "../../store/relations.ts";
import { headOf } from "../../store/stack.ts";
import { say } from "../../words/say.ts";
import { lastId } from "../moments.ts";
import { commonAncestor, hashOf } from "./ancestor.ts";
import { type Choices, CONFLICTS, type Conflict, type Take } from "./conflicts.ts";
import type { LeftOutView } from "./left-out.ts";
import { type Merged, merged } from "./merged.ts";
import type { Sides } from "./merging.ts";
import { seenBefore, seenNow } from "./seen.ts";
import { isTagged } from "./tagged.ts";

/** A conflict in words. */
export interface ConflictView {
  readonly key: string;
  readonly why: keyof typeof CONFLICTS;
  readonly words: string;
  readonly kind: KindName;
  readonly id: number;
  readonly record: string;
  readonly field: string | null;
  readonly label: string | null;
  readonly before: string | null;
  readonly ours: string | null;
  readonly theirs: string | null;
  readonly takes: readonly Take[];
  readonly take: Take | null;
  readonly tag: string | null;
  readonly offered: boolean;
}

export interface Authored {
  readonly author: string;
  readonly change_sets: number;
}

export interface MergePlan {
  /** The last change both files have. */
  readonly ancestor: { readonly change_set: number; readonly at: string; readonly summary: string };
  /** Who wrote how much since, here and there: since that merge, where there was one. */
  readonly here: readonly Authored[];
  readonly there: readonly Authored[];
  /** The last merge of both that is in effect, and in which file: what was settled then isn't asked again. */
  readonly merged_before:
    | (MergePlan["ancestor"] & {
        readonly in: "here" | "there";
      })
    | null;
  /** Names this moment of both files; handed to the merge, it does exactly this or nothing. */
  readonly seen: string;
  readonly summary: string;
  readonly changes: readonly Change[];
  readonly conflicts: readonly ConflictView[];
  /** What they say and isn't taken, because of what is chosen or still open. */
  readonly left_out: readonly LeftOutView[];
  /** Keys of choices that fit no conflict: misspelt, or of one that another choice leaves out, such as both of one tag. */
  readonly idle: readonly string[];
  /** How many records both entered since, alike, and some of them by name: those with a tag of their own first. */
  readonly alike: number;
  readonly alike_named: readonly string[];
}

export interface Planned {
  readonly plan: MergePlan;
  /** What the merge keeps of how far it saw the other file. */
  readonly seen: Omit<MergeSeenTable, "change_set_id">;
}

export async function planMerge(
  { ours, theirs, newIds }: Omit<Sides, "ancestor" | "seen">,
  choices: Choices,
  name: string,
): Promise<Planned> {
  const ancestor = await commonAncestor(ours, theirs, name);
  const before = await seenBefore(ours, theirs, ancestor);
  const sides = { ours, theirs, newIds, ancestor, seen: before };
  const { draft, conflicts, alike, pairs, left } = await merged(sides, choices);
  const changes = draft.changes();
  const there = await authorsSince(theirs, before?.taken_to ?? ancestor);
  const plan: MergePlan = {
    ancestor: await momentOf(ours, ancestor),
    merged_before:
      before &&
      (before.our_id === null
        ? { ...(await momentOf(ours, before.change_set)), in: "here" }
        : { ...(await momentOf(theirs, before.change_set)), in: "there" }),
    here: await authorsSince(ours, before?.our_id ?? before?.change_set ?? ancestor),
    there,
    seen: `${await hashOf(ours, await lastId(ours))} ${await hashOf(theirs, await lastId(theirs))}`,
    summary: summaryOf(there, name),
    changes,
    conflicts: await viewsOf(ours, theirs, changes, conflicts),
    left_out: left,
    idle: idleIn(choices, conflicts),
    alike: alike.length,
    alike_named: await named(ours, alike),
  };
  return { plan, seen: await seenNow(theirs, pairs) };
}

async function momentOf(reader: Reader, id: number): Promise<MergePlan["ancestor"]> {
  const { at, summary } = await headOf(reader, id);
  return { change_set: id, at, summary };
}

/** Records that are named of many. */
const NAMED = 12;

async function named(reader: Reader, records: Merged["alike"]): Promise<string[]> {
  const order = new Map(KIND_NAMES.map((kind, at) => [kind, at + (isTagged(kind) ? 0 : KIND_NAMES.length)]));
  const first = [...records].sort((a, b) => (order.get(a.kind) ?? 0) - (order.get(b.kind) ?? 0)).slice(0, NAMED);
  const names: string[] = [];
  for (const [kind, own] of Map.groupBy(first, ({ kind }) => kind)) {
    const ids = own.map(({ id }) => id);
    const addresses = await addressesOf(reader, kind, ids);
    names.push(...ids.map((id) => `${KINDS[kind].one} ${addresses.get(id) ?? id}`));
  }
  return names;
}

function summaryOf(there: readonly Authored[], name: string): string {
  const by = there.map(({ author }) => author).join(", ");
  return say`Merge ${name}${by ? say`: what ${by} entered there` : ""}`;
}

/** What history calls the merge, before it is planned. */
export async function mergeSummary(ours: Reader, theirs: Reader, name: string): Promise<string> {
  const ancestor = await commonAncestor(ours, theirs, name);
  const before = await seenBefore(ours, theirs, ancestor);
  return summaryOf(await authorsSince(theirs, before?.taken_to ?? ancestor), name);
}

function idleIn({ of }: Choices, conflicts: readonly Conflict[]): string[] {
  const known = new Set(conflicts.map(({ key }) => key));
  return [...of.keys()].filter((key) => !known.has(key));
}

const authorsSince = (reader: Reader, since: number): Promise<Authored[]> =>
  reader.rows<Authored>(
    `SELECT author, count(*) AS change_sets FROM change_set WHERE id > ?
     GROUP BY author ORDER BY change_sets DESC, author`,
    [since],
  );

/** What only one of a pair tells, by the labels of its fields. */
function onlyWords({ kind, only }: Conflict): string[] {
  const labels = (fields: readonly string[]) => fields.map((field) => labelOf(kind, field)).join(", ");
  const { here = [], there = [] } = only ?? {};
  return [
    ...(here.length > 0 ? [say`only here: ${labels(here)}`] : []),
    ...(there.length > 0 ? [say`only there: ${labels(there)}`] : []),
  ];
}

async function rowOf(ours: Reader, { kind, id }: Conflict): Promise<Partial<AnyRow>> {
  const [row] = await ours.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([id])]);
  return row ?? {};
}

async function viewsOf(
  ours: Reader,
  theirs: Reader,
  changes: readonly Change[],
  conflicts: readonly Conflict[],
): Promise<ConflictView[]> {
  const wanted = new Map<KindName, Set<number>>();
  const want = (kind: KindName, id: number) => wanted.set(kind, (wanted.get(kind) ?? new Set()).add(id));
  const fieldOf = ({ kind, field }: Conflict): Field | null =>
    field === null ? null : ((KINDS[kind].fields as Readonly<Record<string, Field>>)[field] ?? null);
  for (const conflict of conflicts) {
    want(conflict.kind, conflict.id);
    const field = fieldOf(conflict);
    if (field?.type === "reference")
      for (const value of [conflict.before, conflict.ours, conflict.theirs])
        if (typeof value === "number") want(field.to as KindName, value);
  }
  const { draft } = foldedDraft(changes, true);
  const names = await loadNames(ours, wanted, draft);
  const views: ConflictView[] = [];
  for (const conflict of conflicts) {
    const { key, why, kind, id, their_id, field: name, take, takes, tag, offered } = conflict;
    const field = fieldOf(conflict);
    const row = field?.type === "number" && field.unit_in ? await rowOf(ours, conflict) : {};
    const shown = (value: Value) =>
      why === "same_tag" && value !== null
        ? String(value)
        : field &&
          shownValue(
            field,
            value,
            (target) => (field.type === "reference" ? names.nameOf(field.to as KindName, target) : String(target)),
            row,
          );
    const gone = why === "deleted_here" || their_id !== null;
    const record = gone ? (await addressesOf(theirs, kind, [their_id ?? id])).get(their_id ?? id) : undefined;
    views.push({
      ...{ key, why, kind, id, take, takes, tag, offered, field: name },
      words: offered
        ? [say`entered in both under one tag`, ...onlyWords(conflict)].join("; ")
        : why === "same_tag"
          ? `${CONFLICTS[why]}: ${conflict.theirs}`
          : CONFLICTS[why],
      record: record ?? names.nameOf(kind, id),
      label: field?.label ?? null,
      before: shown(conflict.before),
      ours: shown(conflict.ours),
      theirs: shown(conflict.theirs),
    });
  }
  const order = new Map(KIND_NAMES.map((kind, at) => [kind, at]));
  return views.sort((a, b) => (order.get(a.kind) ?? 0) - (order.get(b.kind) ?? 0) || a.id - b.id);
}
