/**
 * What another file of the same plant knows since both parted, as changes to this one. Both are read record by record and
 * field by field: what only they changed is taken, what both changed otherwise is a conflict.
 */
import type { AnyRow, KindName, Value } from "../../model/dictionary.ts";
import type { Reader } from "../../store/handle.ts";
import { FIELD_NAMES, SQL, SUBJECT } from "../../store/relations.ts";
import { lastId } from "../moments.ts";
import { type Net, type Nets, netChanges, valuesAt } from "../net.ts";
import { type Choices, type Conflict, Conflicts, sameTagKey } from "./conflicts.ts";
import { Draft } from "./draft.ts";
import { keepTogether } from "./keep-together.ts";
import { knownAgain } from "./known-again.ts";
import { bringBack, type Merging, type Sides } from "./merging.ts";
import { type Entered, matched, type Values } from "./same-records.ts";
import { settleTags } from "./same-tag.ts";
import { isTagged } from "./tagged.ts";

export interface Merged {
  readonly draft: Draft;
  readonly conflicts: readonly Conflict[];
  /** Our records of which each was entered there alike. */
  readonly alike: readonly { readonly kind: KindName; readonly id: number }[];
}

export async function merged(sides: Sides, choices: Choices): Promise<Merged> {
  const { ours, theirs, ancestor } = sides;
  const ourNets = await netChanges(ours, ancestor, await lastId(ours));
  const theirNets = await netChanges(theirs, ancestor, await lastId(theirs));
  const [here, there] = [await enteredIn(ours, ourNets), await enteredIn(theirs, theirNets)];
  const isApart = (kind: KindName, id: number): boolean =>
    isTagged(kind) && choices.of.get(sameTagKey(`${kind} ${id}`))?.take === "both";
  const ids = matched(here, there, isApart, await knownAgain(ours, ancestor, here, there));
  const merging: Merging = {
    ...sides,
    ...{ ourNets, theirNets, ids, draft: new Draft(), conflicts: new Conflicts(choices), giveWay: new Set() },
  };
  const fresh = await giveIds(merging, there);
  const alike: { kind: KindName; id: number }[] = [];
  for (const [kind, nets] of theirNets)
    for (const [id, net] of nets) {
      if (net.op === "insert") {
        const values = there.get(kind)?.get(id) ?? {};
        if (fresh.get(kind)?.has(id)) enter(merging, kind, id, values);
        else if (!joinEntered(merging, kind, id, values, here)) alike.push({ kind, id: ids.of(kind, id) as number });
      } else if (net.op === "delete") remove(merging, kind, id, net);
      else await change(merging, kind, id, net);
    }
  const told = new Set<string>();
  do await keepTogether(merging);
  while (await settleTags(merging, told));
  return { draft: merging.draft, conflicts: [...merging.conflicts.found.values()], alike };
}

async function enteredIn(reader: Reader, nets: Nets): Promise<Entered> {
  const entered = new Map<KindName, ReadonlyMap<number, Values>>();
  const last = await lastId(reader);
  for (const [kind, own] of nets) {
    const ids = [...own].flatMap(([id, net]) => (net.op === "insert" ? [id] : []));
    if (ids.length > 0) entered.set(kind, await valuesAt(reader, kind, ids, last));
  }
  return entered;
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
  // Of a pair that was kept apart before, the tag was settled then.
  const fields = FIELD_NAMES[kind].filter((field) => field !== "tag" || !ids.isRenamed(kind, own));
  const differing = fields.filter((field) => (ours[field] ?? null) !== (theirs[field] ?? null));
  const told = (side: Values) => differing.filter((field) => (side[field] ?? null) !== null);
  if (differing.length > 0 && isTagged(kind) && !ids.isRenamed(kind, own)) {
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

function remove({ ourNets, conflicts, draft }: Merging, kind: KindName, id: number, _: Removed): void {
  const own = ourNets.get(kind)?.get(id);
  if (own?.op === "delete") return;
  const whole = { kind, id, field: null, before: null, ours: null, theirs: null };
  if (own && conflicts.decide({ why: "deleted_there", ...whole }) === "ours") return;
  draft.delete(kind, id);
}

async function change(merging: Merging, kind: KindName, id: number, net: Changed): Promise<void> {
  const { ourNets, conflicts, draft, ids } = merging;
  const own = ourNets.get(kind)?.get(id);
  if (own?.op === "delete") {
    const whole = { kind, id, field: null, before: null, ours: null, theirs: null };
    if (conflicts.decide({ why: "deleted_here", ...whole }) === "theirs") await bringBack(merging, kind, id);
    return;
  }
  const pair = await subjectPair(merging, kind, id, net);
  const full = { ...net.after, ...pair?.theirs };
  const after = ids.translated(kind, full) ?? full;
  const taken: Record<string, Value> = {};
  for (const [field, theirs] of Object.entries(after)) {
    if (pair && field in pair.theirs) continue;
    const both = own?.op === "update" && field in own.after;
    const ours = both ? (own.after[field] ?? null) : null;
    if (both && ours === theirs) continue;
    const said = { kind, id, field, before: net.before[field] ?? null, ours, theirs };
    if (!both || conflicts.decide({ why: "both_changed", ...said }) === "theirs") taken[field] = theirs;
  }
  if (pair) {
    const [theirs, ours] = [after[pair.field] ?? null, pair.ours[pair.field] ?? null];
    const same = theirs === ours && after[pair.kindField] === pair.ours[pair.kindField];
    const both = own?.op === "update" && (pair.field in own.after || pair.kindField in own.after);
    const said = { kind, id, field: pair.field, before: net.before[pair.field] ?? null, ours, theirs };
    if (!same && (!both || conflicts.decide({ why: "both_changed", ...said }) === "theirs"))
      for (const field of [pair.kindField, pair.field]) taken[field] = after[field] ?? null;
  }
  if (Object.keys(taken).length > 0) draft.update(kind, id, taken);
}

/** What a record is about is a kind and an id: where they changed either, both speak, here and there. */
async function subjectPair({ ours, theirs }: Merging, kind: KindName, id: number, { after }: Changed) {
  const pair = SUBJECT[kind];
  if (!pair || !(pair.field in after || pair.kindField in after)) return null;
  const read = async (reader: Reader): Promise<Values> => {
    const [row] = await reader.rows<AnyRow>(SQL[kind].rows, [JSON.stringify([id])]);
    return { [pair.kindField]: row?.[pair.kindField] ?? null, [pair.field]: row?.[pair.field] ?? null };
  };
  return { ...pair, ours: await read(ours), theirs: await read(theirs) };
}
