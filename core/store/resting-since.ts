/** Later changes by which records came to rest on what a change set made: whoever wants it back must go by those first. */
import { shownDay } from "../model/wording.ts";
import type { Problem } from "../result.ts";
import { say } from "../words/say.ts";
import { changedFields, entriesOf } from "./entries.ts";
import type { Reader } from "./handle.ts";
import type { RestingView } from "./rests-on.ts";
import { type Head, headOf } from "./stack.ts";

const SOME = 3;

/** "change 301: Enter F-012 (R. Añorga, 4 Mar 2026)". */
export const changeWords = ({ id, summary, author, at }: Head): string =>
  say`change ${id}: ${summary} (${author}, ${shownDay(at.slice(0, 10))})`;

/**
 * The refusal's problems, each with the changes since which its records rest there.
 * @param others change sets that came in between
 */
export async function withChanges(
  reader: Reader,
  problems: readonly Problem[],
  views: readonly RestingView[],
  others: readonly number[],
): Promise<{ problems: Problem[]; since: Head[] }> {
  const later = new Set(others);
  const all = new Map<number, Head>();
  const told: Problem[] = [];
  for (const [index, problem] of problems.entries()) {
    const view = views[index];
    const ids = new Set<number>();
    for (const { id } of view?.first ?? []) {
      const change = view && (await broughtBy(reader, view, id, later));
      if (change) ids.add(change);
    }
    const heads = await Promise.all([...ids].map((id) => headOf(reader, id)));
    for (const head of heads) all.set(head.id, head);
    const more = heads.length > SOME ? say`; and ${heads.length - SOME} more` : "";
    const words = heads.slice(0, SOME).map(changeWords).join("; ");
    told.push(words === "" ? problem : { ...problem, reason: say`${problem.reason}. That came by ${words}${more}` });
  }
  return { problems: told, since: [...all.values()] };
}

/** The last change in between that entered the record or gave it that field. */
async function broughtBy(reader: Reader, { kind, field }: RestingView, id: number, later: ReadonlySet<number>) {
  const entries = (await entriesOf(reader, kind, id)).filter(({ change_set_id }) => later.has(change_set_id));
  const named = entries.find((entry) => entry.op !== "update" || field in changedFields(entry));
  return (named ?? entries[0])?.change_set_id;
}
