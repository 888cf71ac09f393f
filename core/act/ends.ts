/** Which end of a strand's glass is meant at a place. An end is a strand section and one of its two sides. */
import type { Side } from "../glass/end.ts";
import { escapeName } from "../model/address.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, type NamedStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { idList as listed } from "../store/record-address.ts";
import { either } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { shortRange } from "./numbering.ts";

export { listed };

export interface End {
  readonly section_id: number;
  readonly side: Side;
  readonly strand_id: number;
  readonly number: number;
  /** Order of the section along the strand, and how many the strand has. */
  readonly ordinal: number;
  readonly of: number;
  readonly stop_id: number | null;
  readonly space_id: number | null;
  /** Whether enough is left to splice; null where nobody knows. */
  readonly stub: "yes" | "no" | null;
  /** `F-012:25`, or `F-012:25#2` where the strand is cut. */
  readonly words: string;
}

export const endKey = (section_id: number, side: Side): string => `${section_id}${side}`;

export interface Place {
  readonly id: number;
  readonly tag: string;
}

/** `F-012:25-36,40`. */
export const rangeOf = ({ cable, strands }: NamedStrands): string =>
  strandsWords(
    cable.tag,
    strands.map(({ number }) => number),
  );

/** Strands of a cable by their numbers, as an address. */
export const strandsWords = (cable: string, numbers: readonly number[]): string =>
  `${escapeName(cable, "")}:${shortRange(numbers)}`;

/** Both ends of every section of the strands, by strand, in order along it. */
export async function endsOf(reader: Reader, named: NamedStrands): Promise<Map<number, End[]>> {
  const rows = await reader.rows<{
    id: number;
    strand_id: number;
    ordinal: number;
    a_stop_id: number | null;
    b_stop_id: number | null;
    a_space_id: number | null;
    b_space_id: number | null;
    a_stub: "yes" | "no" | null;
    b_stub: "yes" | "no" | null;
  }>(
    `select s.id, s.strand_id, s.ordinal, s.a_stop_id, s.b_stop_id, s.a_stub, s.b_stub, a.space_id as a_space_id, b.space_id as b_space_id
     from section s left join stop a on a.id = s.a_stop_id left join stop b on b.id = s.b_stop_id
     where s.strand_id in (select value from json_each(?)) order by s.strand_id, s.ordinal`,
    [listed(named.strands.map(({ id }) => id))],
  );
  const sections = Map.groupBy(rows, (row) => row.strand_id);
  return new Map(
    named.strands.map(({ id, number }) => {
      const own = sections.get(id) ?? [];
      const ends = own.flatMap((row) =>
        (["A", "B"] as const).map((side): End => {
          const end = side === "A" ? "a" : "b";
          return {
            section_id: row.id,
            side,
            strand_id: id,
            number,
            ordinal: row.ordinal,
            of: own.length,
            stop_id: row[`${end}_stop_id`],
            space_id: row[`${end}_space_id`],
            stub: row[`${end}_stub`],
            words: `${escapeName(named.cable.tag, "")}:${number}${own.length > 1 ? `#${row.ordinal}` : ""}`,
          };
        }),
      );
      return [id, ends];
    }),
  );
}

/** Refuses (`bad_input`) an end that is meant twice: a strand and one of its sections can be written side by side. */
function refuseTwice(ends: readonly End[], field: string): void {
  const seen = new Set<string>();
  const twice = ends.filter(({ section_id, side }) => seen.size === seen.add(endKey(section_id, side)).size);
  const [first] = twice;
  if (first) {
    refuse(
      "bad_input",
      say`${first.words} is named twice.`,
      twice.map(({ words }) => ({ field, record: words, reason: say`comes twice` })),
    );
  }
}

/** Ends that, on record, have too little glass left to be joined, in a sentence. */
export function stubNotice(ends: readonly End[]): string | null {
  const without = ends.filter(({ stub }) => stub === "no");
  const [first] = without;
  if (!first) return null;
  const more = without.length > 1 ? say` and ${without.length - 1} more` : "";
  return say`${first.words}${more} has no stub left at that end on record.`;
}

export interface Choice {
  /** The field of the input that named the strands. */
  readonly field: string;
  /** The field that says which end. */
  readonly endField: string;
  readonly end?: Side | undefined;
  /** Only ends at this stop, where that was said. */
  readonly stop_id?: number | undefined;
  /** Take an end although it isn't on record at the place. */
  readonly elsewhere?: boolean | undefined;
}

/**
 * The one end of each strand that lies in a space, in the order the strands were named.
 * Refuses `not_possible` where none lies there (unless `elsewhere`), `ambiguous` where more than one does.
 */
export async function endsAt(reader: Reader, named: NamedStrands, place: Place, choice: Choice): Promise<End[]> {
  const byStrand = await endsOf(reader, named);
  const chosen: End[] = [];
  const nowhere: { number: number; ends: readonly End[] }[] = [];
  const several: { number: number; ends: readonly End[] }[] = [];
  for (const { id, number, section } of named.strands) {
    const all = (byStrand.get(id) ?? []).filter(({ ordinal }) => section === undefined || ordinal === section);
    const here = all.filter(
      ({ space_id, stop_id }) => space_id === place.id && (choice.stop_id === undefined || stop_id === choice.stop_id),
    );
    const pool = here.length > 0 ? here : choice.elsewhere ? all : [];
    const fit = choice.end ? pool.filter(({ side }) => side === choice.end) : pool;
    const [only] = fit;
    if (fit.length === 1 && only) chosen.push(only);
    else if (fit.length === 0) nowhere.push({ number, ends: all });
    else several.push({ number, ends: fit });
  }
  const { cable } = named;
  if (nowhere.length > 0) {
    const problems = await whereTheyEnd(reader, cable.tag, nowhere, place, choice);
    const range = strandsWords(
      cable.tag,
      nowhere.map(({ number }) => number),
    );
    refuse(
      "not_possible",
      say`${range} has no ${choice.end ? say`end ${choice.end}` : say`end`} in ${place.tag}.`,
      problems,
    );
  }
  if (several.length > 0) {
    refuse(
      "ambiguous",
      say`Which end of ${strandsWords(
        cable.tag,
        several.map(({ number }) => number),
      )} is meant in ${place.tag}?`,
      grouped(several).map(({ numbers, ends }) => ({
        field: choice.endField,
        record: strandsWords(cable.tag, numbers),
        reason: say`can be ${either(ends.map(sideWords))}; say which`,
      })),
    );
  }
  refuseTwice(chosen, choice.field);
  return chosen;
}

const sideWords = (end: End): string =>
  end.of > 1 ? say`end ${end.side} of section ${end.ordinal}` : say`end ${end.side}`;

/** Strands whose ends read alike make one problem. */
function grouped(
  cases: readonly { number: number; ends: readonly End[] }[],
): { numbers: number[]; ends: readonly End[] }[] {
  const alike = Map.groupBy(cases, ({ ends }) =>
    ends.map(({ ordinal, of, side, space_id }) => `${ordinal}/${of}${side}@${space_id}`).join(),
  );
  return [...alike.values()].map((group) => ({
    numbers: group.map(({ number }) => number),
    ends: group[0]?.ends ?? [],
  }));
}

async function whereTheyEnd(
  reader: Reader,
  cable: string,
  cases: readonly { number: number; ends: readonly End[] }[],
  place: Place,
  choice: Choice,
): Promise<Problem[]> {
  const spaces = new Set(cases.flatMap(({ ends }) => ends.flatMap(({ space_id }) => space_id ?? [])));
  const tags = await addressesOf(reader, "space", [...spaces]);
  return grouped(cases).map(({ numbers, ends }) => ({
    field: choice.field,
    record: strandsWords(cable, numbers),
    reason:
      ends.length === 0
        ? say`has no strand section on record`
        : say`has no ${choice.end ? say`end ${choice.end}` : say`end`} in ${place.tag}, but ${ends
            .map(
              (end) =>
                say`${sideWords(end)} in ${end.space_id ? (tags.get(end.space_id) ?? say`a place without tag`) : say`an unknown place`}`,
            )
            .join(", ")}`,
  }));
}
