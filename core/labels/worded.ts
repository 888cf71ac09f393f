/**
 * What the record would write on labels at their places, by the wordings in use. Acts that write a label, the print and the
 * checks all say this and nothing else: what is printed is what is recorded, and what a sighting is held against.
 */
import type { KindName } from "../model/dictionary.ts";
import { type Filled, fillPattern } from "../model/label-text.ts";
import type { Reader } from "../store/handle.ts";
import { type FactsContext, factsAt, type LabelPlace, placeKey } from "./facts.ts";
import { inOwnSpaces } from "./what.ts";
import { classOf, type Wordings, wordingFor } from "./wordings.ts";

/** Those of some spaces that are in a building: there a cable's label may say what it serves. */
export async function spacesIndoors(
  reader: Reader,
  places: readonly Pick<LabelPlace, "space_id">[],
): Promise<Set<number>> {
  const inside = await reader.rows<{ id: number }>(
    "select id from space where building_id is not null and id in (select value from json_each(?))",
    [JSON.stringify([...new Set(places.flatMap(({ space_id }) => space_id ?? []))])],
  );
  return new Set(inside.map(({ id }) => id));
}

/** The text of the label of each thing of one kind at its place, by `placeKey`; nothing for what is not on record. */
export async function textsAt(
  context: FactsContext,
  kind: KindName,
  places: readonly Omit<LabelPlace, "kind">[],
  wordings: Wordings,
): Promise<Map<string, Filled>> {
  const { reader } = context;
  const own = await inOwnSpaces(reader, kind, places);
  const indoors = await spacesIndoors(reader, own);
  const texts = new Map<string, Filled>();
  const byWording = Map.groupBy(
    own.keys(),
    (at) => wordingFor(wordings, kind, classOf(kind, isAmong(indoors, own[at]?.space_id))).text,
  );
  for (const [wording, ats] of byWording) {
    const here = ats.map((at) => ({ kind, ...(own[at] as (typeof own)[number]) }));
    const facts = await factsAt(context, kind, here, [wording]);
    ats.forEach((at, index) => {
      const known = facts.get(placeKey(here[index] as (typeof here)[number]));
      if (known) texts.set(placeKey(places[at] as (typeof places)[number]), fillPattern(wording, known));
    });
  }
  return texts;
}

const isAmong = (indoors: ReadonlySet<number>, space: number | null | undefined): boolean =>
  typeof space === "number" && indoors.has(space);
