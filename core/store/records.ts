/** Which record an address names, by the names in it alone. */
import { parseAddress, type Segment, tidy } from "../model/address.ts";
import { Fault } from "../model/clean-text.ts";
import { KIND_NAMES, type KindName, kindOf } from "../model/dictionary.ts";
import { addressesOf } from "./describe.ts";
import type { Reader } from "./handle.ts";
import { type Comparison, Lookup } from "./lookup.ts";

/** A record by kind, id and the address or description people know it by. */
export interface RecordRef {
  readonly kind: KindName;
  readonly id: number;
  readonly tag: string;
}

export interface Match extends RecordRef {
  /** `exact`; by a `former` tag (then `tag` is what it is called now); or `folded`: case, spaces and dashes aside. */
  readonly how: Comparison;
}

const ADDRESSED = KIND_NAMES.filter((kind) => kindOf(kind).address !== null);

async function matches(
  reader: Reader,
  found: ReadonlyMap<KindName, ReadonlySet<number>>,
  how: Comparison,
): Promise<Match[]> {
  const all: Match[] = [];
  for (const [kind, ids] of found) {
    if (ids.size === 0) continue;
    const tags = await addressesOf(reader, kind, ids);
    for (const [id, tag] of tags) all.push({ kind, id, tag, how });
  }
  return all;
}

async function byNames(
  lookup: Lookup,
  kinds: readonly KindName[],
  segments: readonly Segment[],
): Promise<Map<KindName, ReadonlySet<number>>> {
  const found = new Map<KindName, ReadonlySet<number>>();
  for (const kind of kinds) {
    const ids = await lookup.find(kind, segments);
    if (ids.size > 0) found.set(kind, ids);
  }
  return found;
}

/** More words than this are not tried as rooms and panels written with spaces between them. */
const MOST_WORDS = 5;

/** Ways to read words with spaces between them as levels: `LIB 101 A` as `LIB/101/A`, `MH 03 CL-1` as `MH 03/CL-1`. */
function* spacedReadings(segments: readonly Segment[]): Generator<Segment[]> {
  yield [...segments];
  const spaced = segments.findIndex(({ separator, name }) => separator !== ":" && name.includes(" "));
  const segment = segments[spaced];
  if (segment === undefined) return;
  const words = segment.name.split(" ");
  if (words.length > MOST_WORDS) return;
  for (let cuts = 1; cuts < 1 << (words.length - 1); cuts++) {
    const names: string[] = [words[0] ?? ""];
    for (const [index, word] of words.slice(1).entries()) {
      if (cuts & (1 << index)) names.push(word);
      else names.push(`${names.pop()} ${word}`);
    }
    yield segments.flatMap((each, index): Segment[] =>
      index === spaced ? names.map((name, at) => ({ separator: at === 0 ? each.separator : "/", name })) : [each],
    );
  }
}

/**
 * Records of some kinds that an address names: as written, else by a former tag, else after the kind's own word
 * ("panel LIB/101/A"), else after folding case, spaces and dashes.
 */
export async function resolveRecord(
  reader: Reader,
  text: string,
  kinds: readonly KindName[] = ADDRESSED,
): Promise<Match[]> {
  const whole = tidy(text);
  const segments = parseAddress(text);
  if (segments instanceof Fault) return [];
  const exact = new Lookup(reader, "exact");
  const found = await byNames(exact, kinds, segments);
  if (segments.length > 1) {
    for (const kind of kinds) {
      const ids = await exact.whole(kind, whole);
      if (ids.size > 0) found.set(kind, new Set([...(found.get(kind) ?? []), ...ids]));
    }
  }
  if (found.size > 0) return matches(reader, found, "exact");

  const former = await byNames(new Lookup(reader, "former"), kinds, segments);
  if (former.size > 0) return matches(reader, former, "former");

  const lower = whole.toLowerCase();
  for (const kind of kinds) {
    const { one } = kindOf(kind);
    if (lower.startsWith(`${one} `)) {
      const named = await resolveRecord(reader, whole.slice(one.length + 1), [kind]);
      if (named.length > 0) return named;
    }
  }

  const folded = new Lookup(reader, "folded");
  const all = new Map<KindName, Set<number>>();
  for (const reading of spacedReadings(segments)) {
    for (const [kind, ids] of await byNames(folded, kinds, reading)) {
      all.set(kind, new Set([...(all.get(kind) ?? []), ...ids]));
    }
  }
  return matches(reader, all, "folded");
}
