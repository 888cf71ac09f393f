/**
 * They merged this file, up to a change set of ours: what their merge made of both is what both came to, so that we take what
 * they say otherwise than we said when they saw us, as long as we still say that. What both changed since is asked, and what
 * they settled against us and changed since.
 */
import type { KindName, Value } from "../../model/dictionary.ts";
import type { Reader } from "../../store/handle.ts";
import { FIELD_NAMES, SUBJECT } from "../../store/relations.ts";
import { lastId } from "../moments.ts";
import { type Net, type Nets, netChanges, valuesAt } from "../net.ts";
import { bringBack, type Merging } from "./merging.ts";
import { enteredIn, type News, type Values } from "./news.ts";
import type { Seen } from "./seen.ts";

type SeenThere = Seen & { readonly our_id: number };

export interface SettledThere extends News {
  /** What became of each of our records up to when they saw it. */
  readonly up_to_then: Nets;
  /** What became of each of their records since. */
  readonly since: Nets;
  readonly seen: SeenThere;
}

export const isSeenThere = (seen: Seen | null): seen is SeenThere => seen !== null && seen.our_id !== null;

/** Of `nets` all that became of their records since both parted, of `there` and what is to be entered only what is new here. */
export async function settledThere(
  ours: Reader,
  theirs: Reader,
  ancestor: number,
  seen: SeenThere,
): Promise<SettledThere> {
  const last = await lastId(theirs);
  const nets = await netChanges(theirs, ancestor, last);
  const isPaired = (kind: KindName, id: number): boolean => seen.pairs.get(kind)?.has(id) ?? false;
  const lone = new Map(
    [...nets].map(([kind, own]) => [kind, new Map([...own].filter(([id]) => !isPaired(kind, id)))] as const),
  );
  const there = await enteredIn(theirs, lone);
  const kinds = new Set([...there.keys(), ...seen.pairs.keys()]);
  const entered = new Map(
    [...kinds].map((kind) => [
      kind,
      { has: (id: number) => isPaired(kind, id) || (there.get(kind)?.has(id) ?? false) },
    ]),
  );
  const up_to_then = await netChanges(ours, ancestor, seen.our_id);
  return { nets, there, entered, up_to_then, since: await netChanges(theirs, seen.their_id, last), seen };
}

/** One of our records and theirs; neither need be there any more. */
interface Both {
  readonly own: number;
  /** Null where they left ours out. */
  readonly their: number | null;
}

/** Of each kind those that either file touched, by our id. */
function touched(merging: Merging, { nets, up_to_then, seen }: SettledThere): Map<KindName, Both[]> {
  const { ids } = merging;
  const found = new Map<KindName, Map<number, Both>>();
  const put = (kind: KindName, both: Both): void => {
    found.set(kind, (found.get(kind) ?? new Map<number, Both>()).set(both.own, both));
  };
  for (const [kind, own] of up_to_then) {
    // Where a record that they entered later stands for ours, ours isn't left out any more.
    const known = new Set(ids.pairs.get(kind)?.values());
    for (const [id, { op }] of own) {
      if (op !== "insert") put(kind, { own: id, their: id });
      else if (!known.has(id)) put(kind, { own: id, their: null });
    }
  }
  for (const [kind, own] of nets)
    for (const [id, { op }] of own) if (op !== "insert") put(kind, { own: id, their: id });
  for (const [kind, own] of seen.pairs) for (const [their, id] of own) put(kind, { own: id, their });
  return new Map([...found].map(([kind, own]) => [kind, [...own.values()]]));
}

export async function takeSettled(merging: Merging, settled: SettledThere): Promise<void> {
  const { ours, theirs } = merging;
  const [our_last, their_last] = [await lastId(ours), await lastId(theirs)];
  for (const [kind, all] of touched(merging, settled)) {
    const own = all.map((both) => both.own);
    const base = await valuesAt(ours, kind, own, settled.seen.our_id);
    const now = await valuesAt(ours, kind, own, our_last);
    const their = all.flatMap((both) => both.their ?? []);
    const after = await valuesAt(theirs, kind, their, their_last);
    for (const both of all) {
      const values = both.their === null ? undefined : after.get(both.their);
      const one: One = {
        ...both,
        kind,
        base: base.get(both.own),
        now: now.get(both.own),
        after: values && inOurs(merging, kind, values),
        since: both.their === null ? undefined : settled.since.get(kind)?.get(both.their),
        until: settled.up_to_then.get(kind)?.get(both.own),
      };
      await take(merging, one);
    }
  }
}

const inOurs = ({ ids }: Merging, kind: KindName, values: Values): Values => ids.translated(kind, values) ?? values;

interface One extends Both {
  readonly kind: KindName;
  /** Ours when they saw it, ours now and theirs now, each where it is there. */
  readonly base: Values | undefined;
  readonly now: Values | undefined;
  readonly after: Values | undefined;
  /** What became of theirs since, and of ours up to then. */
  readonly since: Net | undefined;
  readonly until: Net | undefined;
}

const WHOLE = { field: null, before: null, ours: null, theirs: null } as const;

async function take(merging: Merging, one: One): Promise<void> {
  const { kind, own: id, their, base, now, after, since } = one;
  const { conflicts, draft, ids } = merging;
  if (!after) {
    if (!base || !now) return;
    const isChanged = FIELD_NAMES[kind].some((field) => differs(now, base, field) || isOverruled(merging, one, field));
    const why = their === null ? "left_out_there" : "deleted_there";
    if (!isChanged || conflicts.decide({ why, kind, id, ...WHOLE }) === "theirs") draft.delete(kind, id);
  } else if (!now) {
    // That it stays there though it was deleted here was settled there; what was deleted here since was not.
    if (base && !FIELD_NAMES[kind].some((field) => differs(after, base, field))) return;
    const isSettled = !base && !since;
    const asked = { why: "deleted_here", kind, id, their_id: ids.theirs(kind, id), ...WHOLE } as const;
    if (isSettled || conflicts.decide(asked) === "theirs") await bringBack(merging, kind, id);
  } else takeFields(merging, one, now, after);
}

function takeFields(merging: Merging, one: One, now: Values, after: Values): void {
  const { kind, own: id, base } = one;
  const pair = SUBJECT[kind];
  const taken: Record<string, Value> = {};
  for (const field of FIELD_NAMES[kind]) {
    if (field === pair?.kindField) continue;
    const together = field === pair?.field ? [pair.kindField, field] : [field];
    const isOther = (a: Values, b: Values) => together.some((name) => differs(a, b, name));
    if (!isOther(after, now) || (base && !isOther(after, base))) continue;
    const isAsked = isOther(now, base ?? {}) || together.some((name) => isOverruled(merging, one, name));
    const values = { before: base?.[field] ?? null, ours: now[field] ?? null, theirs: after[field] ?? null };
    if (isAsked && merging.conflicts.decide({ why: "both_changed", kind, id, field, ...values }) === "ours") continue;
    for (const name of together) taken[name] = after[name] ?? null;
  }
  if (Object.keys(taken).length > 0) merging.draft.update(kind, id, taken);
}

const differs = (a: Values, b: Values, field: string): boolean => (a[field] ?? null) !== (b[field] ?? null);

/** Whether they settled a field otherwise than we said, and say something else again since. */
function isOverruled(merging: Merging, { kind, base, since, until }: One, field: string): boolean {
  if (!base || !since || since.op === "insert" || !(field in since.before)) return false;
  const isOurs = until?.op === "insert" || (until?.op === "update" && field in until.before);
  return isOurs && differs(inOurs(merging, kind, since.before), base, field);
}
