/** The labels of things at their places: what stands on each, and what is on record of it. */

import type { KindName, Row } from "../model/dictionary.ts";
import type { LabelClass } from "../model/label-blanks.ts";
import { fillPattern, judgeLabel, type LabelFacts, patternsFor } from "../model/label-text.ts";
import { shownDay } from "../model/wording.ts";
import { codeOf } from "../paper/document.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { type FactsContext, factsAt, type LabelPlace, placeKey } from "./facts.ts";
import { SEVERAL } from "./what.ts";
import { spacesIndoors } from "./worded.ts";
import { alsoRight, type CodeForm, classOf, saysItself, type Wording, type Wordings, wordingFor } from "./wordings.ts";

/** What is on record of the label on a thing at a place. */
export interface LabelOnRecord {
  readonly ids: readonly number[];
  readonly text: string | null;
  readonly printed_on: string | null;
  readonly state: Row<"label">["state"];
  readonly seen_on: string | null;
  readonly due_on: string | null;
}

export interface LabelToMake {
  readonly kind: KindName;
  readonly id: number;
  /** Its address. */
  readonly record: string;
  readonly space_id: number | null;
  /** The space's address; null where the place is not on record. */
  readonly place: string | null;
  readonly class: LabelClass;
  readonly wording: string;
  /** Where that wording comes from. */
  readonly wording_from: Wording["from"];
  readonly code: CodeForm;
  /** What the code says. */
  readonly says: string;
  /** What stands on it, line by line; null where the record lacks what the wording asks for. */
  readonly lines: readonly string[] | null;
  readonly lacks: readonly string[];
  /** Blanks whose part was left out, since the record doesn't know them. */
  readonly left_out: readonly string[];
  readonly on_record: LabelOnRecord | null;
  /** Why it is to be made, in words; null where a label that says the same was printed or seen. */
  readonly needed: string | null;
}

export interface MakeOptions {
  /** A wording that is used wherever its class fits, in place of the one in use. */
  readonly wording?: Wording | null;
}

/** In the order given; a label named twice is made once. */
export async function labelsToMake(
  context: FactsContext,
  places: readonly LabelPlace[],
  wordings: Wordings,
  { wording: chosen = null }: MakeOptions = {},
): Promise<LabelToMake[]> {
  const { reader } = context;
  const unique = [...new Map(places.map((place) => [keyOf(place), place])).values()];
  const indoors = await spacesIndoors(reader, unique);
  const spaces = await addressesOf(reader, "space", new Set(unique.flatMap(({ space_id }) => space_id ?? [])));
  const made = new Map<string, LabelToMake>();
  for (const [kind, own] of Map.groupBy(unique, (place) => place.kind)) {
    const worded = own.map((place) => {
      const at = classOf(kind, place.space_id !== null && indoors.has(place.space_id));
      return { place, at, wording: chosen?.place === at ? chosen : wordingFor(wordings, kind, at) };
    });
    const asked = new Set(worded.map(({ wording }) => wording.text));
    // Only then must a label on record say just this; otherwise one that says more or less is as good.
    const strict = worded.some(({ at }) => saysItself(wordings, kind, at));
    if (strict)
      for (const text of [...patternsFor(wordings.patterns, kind), ...alsoRight(wordings, kind)]) asked.add(text);
    const facts = await factsAt(context, kind, own, asked);
    const ids = new Set(own.map(({ id }) => id));
    const addresses = await addressesOf(reader, kind, ids);
    const records = await onRecord(reader, kind, ids);
    for (const { place, at, wording } of worded) {
      const known = facts.get(placeKey(place));
      const record = addresses.get(place.id);
      if (!known || record === undefined) continue;
      const { text, lacks, left_out } = fillPattern(wording.text, known);
      const found = records.get(placeKey(SEVERAL.has(kind) ? place : { id: place.id, space_id: null })) ?? null;
      made.set(keyOf(place), {
        kind,
        id: place.id,
        record,
        space_id: place.space_id,
        place: place.space_id === null ? null : (spaces.get(place.space_id) ?? null),
        class: at,
        wording: wording.name,
        wording_from: wording.from,
        code: wording.code,
        says: codeOf(kind, record).says,
        lines: text?.split("\n") ?? null,
        lacks,
        left_out,
        on_record: found,
        needed: whyNeeded(found, (one) => saysItself(wordings, kind, at) && isWrong(one, kind, known, wordings)),
      });
    }
  }
  return unique.flatMap((place) => made.get(keyOf(place)) ?? []);
}

const keyOf = ({ kind, id, space_id }: LabelPlace): string => `${kind} ${id} ${space_id ?? ""}`;

async function onRecord(reader: Reader, kind: KindName, ids: Iterable<number>): Promise<Map<string, LabelOnRecord>> {
  const rows = await reader.rows<Row<"label">>(
    "select * from label where subject_kind = ? and subject_id in (select value from json_each(?)) order by id",
    [kind, JSON.stringify([...ids])],
  );
  const groups = Map.groupBy(rows, ({ subject_id, space_id }) =>
    placeKey({ id: subject_id, space_id: SEVERAL.has(kind) ? space_id : null }),
  );
  return new Map(
    [...groups].map(([key, [first, ...others]]) => {
      const last = others.at(-1) ?? (first as Row<"label">);
      const due = [first as Row<"label">, ...others].find(({ due_on }) => due_on !== null);
      return [
        key,
        {
          ids: [first as Row<"label">, ...others].map(({ id }) => id),
          text: last.text_read ?? last.text,
          printed_on: last.printed_on,
          state: last.state,
          seen_on: last.seen_on,
          due_on: due?.due_on ?? null,
        },
      ];
    }),
  );
}

const SEEN = {
  missing: say`was seen to be missing`,
  illegible: say`can't be read`,
  wrong: say`was seen to be wrong`,
} as const;

const isWrong = (text: string, kind: KindName, facts: LabelFacts, wordings: Wordings): boolean =>
  judgeLabel(text, kind, facts, wordings.patterns, alsoRight(wordings, kind)) === "wrong";

function whyNeeded(found: LabelOnRecord | null, contradicts: (text: string) => boolean): string | null {
  if (!found) return say`none is on record`;
  if (found.due_on !== null) return say`due since ${shownDay(found.due_on)}`;
  if (found.state !== null && found.state !== "present") return SEEN[found.state];
  if (found.text !== null && contradicts(found.text)) return say`the record says something else now`;
  if (found.state === null && found.printed_on === null) return say`not printed yet`;
  return null;
}
