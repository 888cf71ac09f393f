/** Records that would bear one tag once changes are put together that were never made together. */
import { type AnyRow, KINDS, type KindName, type Value } from "../model/dictionary.ts";
import { shownDay } from "../model/wording.ts";
import { addressesOf } from "../store/describe.ts";
import { foldedDraft } from "../store/draft.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { readCurrent } from "../store/prepare.ts";
import { SQL } from "../store/relations.ts";
import { type KeyClash, keyClashes } from "../store/unique.ts";
import { say } from "../words/say.ts";

/** How a note of this begins; an earlier one is taken out by it. */
const SHOWN_AS = say`Shown as `;

/** Keys that these changes would give to two records each. */
export async function clashesOf(reader: Reader, changes: readonly Change[]): Promise<readonly KeyClash[]> {
  const { draft } = foldedDraft(changes, true);
  for (const part of draft.values()) await readCurrent(reader, part);
  return (await keyClashes(reader, draft)).clashes;
}

const MOST_TAG = 50;

/** A tag of its own for the second who bears one, which says so: `F-014 (also)`. */
const alsoTag = (tag: Value, count: number): string =>
  say`${String(tag ?? "").slice(0, MOST_TAG)} (also${count > 1 ? ` ${count}` : ""})`;

/**
 * Changes to a picture of the past in which two records bear one tag: the second is shown under a tag that says so, with
 * the reason in its notes. Other keys that clash are left as they are: the store refuses them by name.
 */
export async function withBothShown(
  reader: Reader,
  given: readonly Change[],
  day: string,
): Promise<{ readonly changes: readonly Change[]; readonly notices: readonly string[] }> {
  const notices: string[] = [];
  let changes = given;
  const given_times = new Map<string, { readonly tag: Value; readonly count: number }>();
  for (;;) {
    const clashes = (await clashesOf(reader, changes)).filter(({ field }) => field === "tag");
    if (clashes.length === 0) return { changes, notices };
    const instead = new Map<string, Change>();
    for (const { kind, id, value, holder } of clashes) {
      const change = changes.find((one) => one.kind === kind && one.id === id);
      if (!change || change.op === "delete") continue;
      const key = `${kind} ${id}`;
      const before = given_times.get(key);
      const [tag, count] = [before?.tag ?? value, (before?.count ?? 0) + 1];
      given_times.set(key, { tag, count });
      const shown = alsoTag(tag, count);
      const { one } = KINDS[kind];
      const other = (await addressesOf(reader, kind, [holder])).get(holder);
      const now =
        other === undefined || other === String(tag) ? say`another ${one}` : say`the ${one} that is ${other} now`;
      const reason = `${SHOWN_AS}${say`${shown}: on ${shownDay(day)} it bore the tag ${String(tag)}, and so did ${now}, by what is known now.`}`;
      if (count === 1)
        notices.push(say`Two ${KINDS[kind].many} bear the tag ${String(tag)}; one of them is shown as ${shown}.`);
      const notes = "notes" in KINDS[kind].fields ? await noted(reader, change, reason) : {};
      instead.set(key, { ...change, values: { ...change.values, tag: shown, ...notes } });
    }
    changes = changes.map((change) => instead.get(`${change.kind} ${change.id}`) ?? change);
  }
}

/** The record's notes, the reason first; one that was given before is given anew. */
async function noted(
  reader: Reader,
  change: Exclude<Change, { op: "delete" }>,
  reason: string,
): Promise<Readonly<Record<string, Value>>> {
  const { kind, id, values } = change;
  const own = "notes" in values ? values.notes : change.op === "insert" ? null : await notesOf(reader, kind, id);
  const before = String(own ?? "")
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith(SHOWN_AS));
  return { notes: [reason, ...before].join("\n") };
}

async function notesOf(reader: Reader, kind: KindName, id: number): Promise<Value> {
  const [row] = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([id])]);
  return (row?.notes as Value | undefined) ?? null;
}
