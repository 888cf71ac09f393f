/**
 * What may be amiss with a run as it is typed, each beside its field. A doubt blocks nothing: what was found can be
 * recorded. Marks, lengths and fill are held against the record by the parts that answer these questions elsewhere.
 */
import { MARK_LABELS, MARKS, marksProblems } from "../act/cable-stops.ts";
import { fitnessOf } from "../fitness/fitness.ts";
import { formatLength } from "../model/units.ts";
import { limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { CableAnswer } from "../trace/cable-answer.ts";
import { say } from "../words/say.ts";
import { MARK_FIELDS, type ReadStop } from "./read.ts";

export interface Doubt {
  /** Field it stands beside; null where it is about the whole cable. */
  readonly at: string | null;
  readonly sentence: string;
  readonly source: string | null;
}

/** Marks that run against the others, by the rule that the acts hold them to. */
export function doubtfulMarks(stops: readonly ReadStop[]): Doubt[] {
  const [mark_in, mark_open_from, mark_open_to, mark_out] = [0, 1, 2, 3];
  const of = ({ marks }: ReadStop, index: number) => marks[index] ?? null;
  const found = marksProblems(
    stops.map((stop) => ({
      at: { row: stop.index + 1 },
      marks: {
        mark_in: of(stop, mark_in as number),
        mark_open_from: of(stop, mark_open_from as number),
        mark_open_to: of(stop, mark_open_to as number),
        mark_out: of(stop, mark_out as number),
      },
    })),
    [],
  );
  return found.map(({ row = 1, field = "", reason }) => ({
    at: `stops.${row - 1}.${FIELD_OF.get(field) ?? MARK_FIELDS[0]}`,
    sentence: say`This mark ${reason}.`,
    source: null,
  }));
}

/** Marks by the labels that the rule gives them, which are of the language spoken. */
const FIELD_OF: ReadonlyMap<string, string> = new Map(MARKS.map((mark) => [MARK_LABELS[mark], mark]));

interface Way {
  readonly id: number;
  readonly tag: string;
  readonly length_m: number | null;
}

/** Sheath between two places that is longer, or shorter, than the way it lies in allows. */
export async function doubtfulLengths(reader: Reader, course: CableAnswer): Promise<Doubt[]> {
  const limits = await limitsInUse(reader);
  const [metres, ratio] = [limits.get("tolerance.length_m"), limits.get("tolerance.length_ratio")];
  if (!metres || !ratio) return [];
  const ids = course.legs.flatMap(({ pathway }) => pathway?.id ?? []);
  const ways = await reader.rows<Way>(
    "select id, tag, length_m from pathway where id in (select value from json_each(?))",
    [JSON.stringify(ids)],
  );
  return course.legs.flatMap((leg, index): Doubt[] => {
    const way = ways.find(({ id }) => id === leg.pathway?.id);
    if (leg.length_from !== "marks" || leg.length_m === null || way?.length_m == null) return [];
    const over = leg.length_m - way.length_m;
    if (Math.abs(over) <= metres.value + ratio.value * way.length_m) return [];
    const [sheath, long, off] = [leg.length_m, way.length_m, Math.abs(over)].map((length_m) =>
      formatLength(length_m, "m"),
    );
    return [
      {
        at: `stops.${index + 1}.mark_in`,
        sentence:
          over > 0
            ? say`By its marks ${sheath} of sheath lie in ${way.tag}, which is ${long} long: ${off} too much.`
            : say`By its marks ${sheath} of sheath lie in ${way.tag}, which is ${long} long: ${off} too little.`,
        source: limitSource(metres),
      },
    ];
  });
}

/** What the cable doesn't suit where it lies: pipes that are full, bends, weather, marking. */
export async function doubtfulFit(reader: Reader, course: CableAnswer, today: string): Promise<Doubt[]> {
  const { verdicts } = await fitnessOf(reader, { what: course.cable.id }, today);
  const stopOf = new Map(course.stops.map(({ record }, index) => [record.tag, index]));
  return verdicts
    .filter(({ verdict }) => verdict === "does_not")
    .map(({ records, fact, rule_words, source }) => {
      const leg = records.flatMap(({ kind, id }) =>
        course.legs.flatMap(({ pathway, conduit }, index) =>
          (kind === "conduit" && conduit?.id === id) || (kind === "pathway" && pathway?.id === id) ? [index] : [],
        ),
      )[0];
      const stop = records.flatMap(({ kind, tag }) => (kind === "stop" ? (stopOf.get(tag) ?? []) : []))[0];
      const at = leg !== undefined ? `stops.${leg}.way` : stop !== undefined ? `stops.${stop}.space` : null;
      return { at, sentence: `${fact} ${rule_words}`, source };
    });
}
