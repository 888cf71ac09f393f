/**
 * What another file of the same plant knows since both parted, as changes to this one. Both are read record by record and
 * field by field: what only they changed is taken, what both changed otherwise is a conflict.
 */
import type { KindName, Value } from "../../model/dictionary.ts";
import { FIELD_NAMES, SUBJECT } from "../../store/relations.ts";
import { lastId } from "../moments.ts";
import { type Net, type Nets, netChanges, valuesAt } from "../net.ts";
import { type Choices, type Conflict, Conflicts, sameTagKey } from "./conflicts.ts";
import { Draft } from "./draft.ts";
import { keepTogether } from "./keep-together.ts";
import { LeftOut, type LeftOutView, leftOutViews } from "./left-out.ts";
import { bringBack, type Merging, type Sides } from "./merging.ts";
import { type Entered, enteredIn, movedTo, newsOf, type Values } from "./news.ts";
import { matched } from "./same-records.ts";
import { settleTags } from "./same-tag.ts";
import type { Pairs, Seen } from "./seen.ts";
import { isSeenThere, settledThere, takeSettled } from "./settled-there.ts";
import { isTagged } from "./tagged.ts";

export interface Merged {
  readonly draft: Draft;
  readonly conflicts: readonly Conflict[];
  /** Our records of which each was entered there alike. */
  readonly alike: readonly { readonly kind: KindName; readonly id: number }[];
  /** For the merges to come. */
  readonly pairs: Pairs;
  readonly left: readonly LeftOutView[];
}

export async function merged(sides: Sides, choices: Choices): Promise<Merged> {
  const { ours, theirs, ancestor, seen } = sides;
  const netsHere = await netChanges(ours, ancestor, await lastId(ours));
  const settled = isSeenThere(seen) ? await settledThere(ours, theirs, ancestor, seen) : null;
  const news = settled ?? (await newsOf(theirs, ancestor, seen));
  const here = await enteredIn(ours, netsHere);
  const isApart = (kind: KindName, id: number): boolean =>
    isTagged(kind) && choices.of.get(sameTagKey(`${kind} ${id}`))?.take === "both";
  const ids = matched(here, news, isApart, seen?.pairs);
  const ourNets = withTakenAndDeleted(netsHere, here, seen);
  const merging: Merging = {
    ...sides,
    ...{
      ourNets,
      theirNets: news.nets,
      ids,
      draft: new Draft(),
      conflicts: new Conflicts(choices),
      giveWay: new Set(),
      leftOut: new LeftOut(),
    },
  };
  const fresh = await giveIds(merging, news.there);
  const alike: { kind: KindName; id: number }[] = [];
  if (settled) await takeSettled(merging, settled);
  for (const [kind, nets] of news.nets) {
    const now = settled ? new Map<number, Values>() : await asHere(merging, kind, nets);
    for (const [id, net] of nets) {
      if (settled && !(net.op === "insert" && news.there.get(kind)?.has(id))) continue;
      const own = ids.of(kind, id);
      if (own === null) continue;
      if (net.op === "insert") {
        const values = news.there.get(kind)?.get(id) ?? {};
        if (fresh.get(kind)?.has(id)) enter(merging, kind, id, values);
        else if (!joinEntered(merging, kind, id, values, here)) alike.push({ kind, id: own });
      } else if (net.op === "delete") remove(merging, kind, own, net, now.get(own));
      else await change(merging, kind, id, net, now.get(own));
    }
  }
  const told = new Set<string>();
  do await keepTogether(merging);
  while (await settleTags(merging, told));
  const pairs = pairsAfter(merging, here);
  const left = await leftOutViews(theirs, ids, merging.leftOut.all);
  return { draft: merging.draft, conflicts: [...merging.conflicts.found.values()], alike, pairs, left };
}

/** What an earlier merge took and was deleted here since leaves no trace in the net of both. */
function withTakenAndDeleted(nets: Nets, here: Entered, seen: Seen | null): Nets {
  const all = new Map([...nets].map(([kind, own]) => [kind, new Map(own)]));
  for (const [kind, own] of seen?.pairs ?? [])
    for (const id of own.values())
      if (!here.get(kind)?.has(id))
        all.set(kind, (all.get(kind) ?? new Map<number, Net>()).set(id, { op: "delete", before: {} }));
  return all;
}

/** Our records that they changed or deleted, as they are now. */
async function asHere({ ours, ids }: Merging, kind: KindName, nets: ReadonlyMap<number, Net>) {
  const asked = [...nets].flatMap(([id, { op }]) => (op === "insert" ? [] : (ids.of(kind, id) ?? [])));
  return valuesAt(ours, kind, asked, await lastId(ours));
}

/** Which of ours stands for which of theirs once this is written; what is left out has none. */
function pairsAfter({ ids, draft, seen }: Merging, here: Entered): Pairs {
  return new Map(
    [...ids.pairs].map(([kind, own]) => {
      const stays = ([theirs, id]: readonly [number, number]) =>
        here.get(kind)?.has(id) || draft.get(kind, id)?.op === "insert" || seen?.pairs.get(kind)?.has(theirs);
      return [kind, new Map([...own].filter(stays))];
    }),
  );
}

/** Those of their new records that are new here get ids of ours. */
async function giveIds(merging: Merging, there: Entered): Promise<Map<KindName, Set<number>>> {
  const fresh = new Map<KindName, Set<number>>();
  for (const [kind, own] of there) {
    const lacking = [...own.keys()].filter((id) => merging.ids.of(kind, id) === null);
    if (lacking.length === 0) continue;
    const first = await merging.newIds(kind, lacking.length);
    for (const [at, id] of lacking.entries()) merging.ids.set(kind, id, first + at);
    fresh.set(kind, new Set(lacking));
  }
  return fresh;
}

function enter({ ids, draft }: Merging, kind: KindName, id: number, values: Values): void {
  draft.insert(kind, ids.of(kind, id) as number, ids.translated(kind, values) as Values);
}

/**
 * Entered in both: what one doesn't know the other tells. Answers whether anything differs. Two crews may have given one tag
 * to two things, so that a pair of one tag that differs in anything is shown as one and the same unless both are chosen.
 */
function joinEntered(
  { ids, draft, conflicts }: Merging,
  kind: KindName,
  id: number,
  values: Values,
  here: Entered,
): boolean {
  const own = ids.of(kind, id) as number;
  const ours = here.get(kind)?.get(own) ?? {};
  const theirs = ids.translated(kind, values) ?? {};
  const differing = FIELD_NAMES[kind].filter((field) => (ours[field] ?? null) !== (theirs[field] ?? null));
  const told = (side: Values) => differing.filter((field) => (side[field] ?? null) !== null);
  if (differing.length > 0 && isTagged(kind)) {
    const [here_told, there_told] = [told(ours), told(theirs)];
    const only = {
      here: here_told.filter((field) => !there_told.includes(field)),
      there: there_told.filter((field) => !here_told.includes(field)),
    };
    const said = { before: null, ours: ours.tag ?? null, theirs: theirs.tag ?? null };
    conflicts.chosen({ why: "same_tag", kind, id: own, field: null, ...said, takes: ["both"], offered: true, only });
  }
  for (const field of told(theirs)) {
    const [mine, their] = [ours[field] ?? null, theirs[field] ?? null];
    const both = { kind, id: own, field, before: null, ours: mine, theirs: their };
    if (mine === null || conflicts.decide({ why: "both_added", ...both }) === "theirs")
      draft.update(kind, own, { [field]: their });
  }
  return differing.length > 0;
}

type Removed = Extract<Net, { op: "delete" }>;
type Changed = Extract<Net, { op: "update" }>;

/** @param now ours as it is, where it is there */
function remove(merging: Merging, kind: KindName, id: number, { before }: Removed, now: Values | undefined): void {
  const { conflicts, draft, ids } = merging;
  if (!now) return;
  const base = ids.translated(kind, before);
  const whole = { kind, id, field: null, before: null, ours: null, theirs: null };
  const isChanged = !base || FIELD_NAMES[kind].some((field) => (now[field] ?? null) !== (base[field] ?? null));
  if (isChanged && conflicts.decide({ why: "deleted_there", ...whole }) === "ours") return;
  draft.delete(kind, id);
}

/**
 * A field is theirs to change as long as it says here what it said there before.
 * @param their_id the record's id in their file
 */
async function change(
  merging: Merging,
  kind: KindName,
  their_id: number,
  net: Changed,
  now: Values | undefined,
): Promise<void> {
  const { conflicts, draft, ids } = merging;
  const id = ids.of(kind, their_id) as number;
  if (!now) {
    const whole = { kind, id, their_id: ids.theirs(kind, id), field: null, before: null, ours: null, theirs: null };
    if (conflicts.decide({ why: "deleted_here", ...whole }) === "theirs") await bringBack(merging, kind, id);
    return;
  }
  const about = await movedTo(merging.theirs, kind, their_id, net.after);
  const translated = (values: Values): Values | null => ids.translated(kind, { ...about, ...values });
  const after = translated(net.after) ?? { ...about, ...net.after };
  const base = translated(net.before);
  const changed = (field: string): boolean => !base || (base[field] ?? null) !== (now[field] ?? null);
  const agrees = (field: string): boolean => (after[field] ?? null) === (now[field] ?? null);
  const taken: Record<string, Value> = {};
  const take = (field: string, together: readonly string[]): void => {
    if (together.every(agrees)) return;
    const values = { before: base?.[field] ?? null, ours: now[field] ?? null, theirs: after[field] ?? null };
    if (!together.some(changed) || conflicts.decide({ why: "both_changed", kind, id, field, ...values }) === "theirs")
      for (const one of together) taken[one] = after[one] ?? null;
  };
  for (const field of Object.keys(net.after)) if (!(field in about)) take(field, [field]);
  const pair = SUBJECT[kind];
  if (pair && pair.field in about) take(pair.field, [pair.kindField, pair.field]);
  if (Object.keys(taken).length > 0) draft.update(kind, id, taken);
}
