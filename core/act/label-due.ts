/** Labels that become due because what they say has changed. */
import type { Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { plantRow } from "../store/label-facts.ts";
import { type ActContext, dayOf, type PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";

/**
 * Marks the labels on some records as due for renewal; records that need one by policy but have none on record get a
 * label that waits to be written. A label that was due already keeps its day.
 */
export async function makeDue(
  draft: PlanDraft,
  kind: "panel" | "port" | "cord" | "device",
  whys: ReadonlyMap<number, string>,
  needed: boolean,
): Promise<number> {
  const { context } = draft;
  const day = dayOf(context);
  const labels = await labelsOn(context, kind, whys.keys());
  const without = new Set(whys.keys());
  for (const { id, subject_id, due_on, space_id: _ } of labels) {
    without.delete(subject_id);
    draft.update("label", id, { due_on: due_on ?? day, due_why: whys.get(subject_id) ?? null });
  }
  if (!needed) return labels.length;
  await draft.insert(
    "label",
    [...without].map((id) => ({ subject_kind: kind, subject_id: id, due_on: day, due_why: whys.get(id) ?? null })),
  );
  return labels.length + without.size;
}

export const labelsOn = (
  { reader }: Pick<ActContext, "reader">,
  kind: string,
  ids: Iterable<number>,
): Promise<Row<"label">[]> =>
  reader.rows<Row<"label">>(
    "select * from label where subject_kind = ? and subject_id in (select value from json_each(?)) order by id",
    [kind, listed(ids)],
  );

/** Whether each port, or each panel, needs a label of its own. */
export async function portLabelPolicy(reader: Reader): Promise<Row<"plant">["port_labels"]> {
  return (await plantRow(reader))?.port_labels ?? "panel";
}
