/** Which labels an act is about: by their numbers on record, or by the thing they are on and the place. */
import { z } from "zod";
import { SEVERAL } from "../labels/what.ts";
import { KIND_NAMES, type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { resolve, resolvePorts } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cordNamed, cordWords } from "./cords.ts";
import { listed, type Place } from "./ends.ts";
import { address } from "./inputs.ts";
import { labelsOn } from "./label-due.ts";
import { named, spaceFor } from "./named.ts";

/** Kinds one can stick a label on and name by an address: what has a life, and the tubes of a cable. */
const ADDRESSED: readonly KindName[] = KIND_NAMES.filter(
  (kind) => kindOf(kind).address !== null && (kind === "unit" || Object.hasOwn(kindOf(kind).fields, "life")),
);

export const subjectKind = z
  .enum([...ADDRESSED, "cord" as const])
  .optional()
  .describe(say`What kind of thing it is, where the address alone can be read in two ways; needed for a cord.`);

export interface LabelSubject {
  readonly kind: KindName;
  readonly id: number;
  readonly tag: string;
  readonly space: Place | null;
}

interface SubjectInput {
  readonly subject: string;
  readonly kind?: KindName | undefined;
  readonly space?: string | null | undefined;
}

/** The thing and the place. Refuses a cable or way without a place: its labels are told apart by it. */
export async function subjectNamed(
  reader: Reader,
  { subject, kind: said, space }: SubjectInput,
): Promise<LabelSubject> {
  const place = await spaceFor(reader, space, "space");
  if (said === "cord") {
    const cord = await cordNamed(reader, subject, "subject");
    return { kind: "cord", id: cord.id, tag: await cordWords(reader, cord), space: place };
  }
  const { kind, id, tag } = await named(reader, subject, said ? [said] : ADDRESSED, "subject");
  if (!place && SEVERAL.has(kind)) {
    refuse("bad_input", say`Where on ${tag} is the label?`, [
      { field: "space", record: tag, reason: say`is needed: a thing that is at several places has a label at each` },
    ]);
  }
  return { kind, id, tag, space: place };
}

/** The labels on things at a place; those of a thing that is at one place only, wherever they say they are. */
export async function labelsThere(reader: Reader, things: readonly LabelSubject[]): Promise<Row<"label">[]> {
  const [first] = things;
  if (!first) return [];
  const labels = await labelsOn(
    { reader },
    first.kind,
    things.map(({ id }) => id),
  );
  const { space } = first;
  return space ? labels.filter(({ space_id }) => space_id === space.id) : labels;
}

export const labelTarget = {
  labels: z.array(z.int().positive()).min(1).max(5000).optional().describe(say`Labels by their numbers on record.`),
  subject: address(say`The thing the labels are on; ports may be a range.`).optional(),
  kind: subjectKind,
  space: address(say`The place, for a thing that is at several.`).nullable().optional(),
};

export interface LabelsMeant {
  readonly labels: readonly Row<"label">[];
  /** The things meant that have no label there. */
  readonly without: readonly LabelSubject[];
  readonly words: string;
}

interface Target extends Omit<SubjectInput, "subject"> {
  readonly labels?: readonly number[] | undefined;
  readonly subject?: string | undefined;
}

export async function labelsMeant(reader: Reader, input: Target): Promise<LabelsMeant> {
  const { labels: numbers, subject } = input;
  if (numbers && subject === undefined) return byNumber(reader, numbers);
  if (numbers || subject === undefined) {
    refuse("bad_input", say`Which labels?`, [
      { field: "subject", reason: say`must be given, or the numbers of the labels, and not both` },
    ]);
  }
  const things = await thingsNamed(reader, { ...input, subject });
  const there = await labelsThere(reader, things);
  const labelled = new Set(there.map(({ subject_id }) => subject_id));
  const [first] = things;
  const at = first?.space ? say` at ${first.space.tag}` : "";
  return {
    labels: there,
    without: things.filter(({ id }) => !labelled.has(id)),
    words: `${things.length > 1 ? subject : (first?.tag ?? subject)}${at}`,
  };
}

/** One thing, or a range of ports. */
async function thingsNamed(reader: Reader, input: SubjectInput): Promise<LabelSubject[]> {
  const { subject, space, kind } = input;
  const mayBeRange = subject.includes(":") && !space && (kind === undefined || kind === "port");
  // What is neither one thing nor ports is refused with the reason that a single thing would have.
  if (!mayBeRange || (await resolve(reader, subject, { kinds: ADDRESSED })).length > 0) {
    return [await subjectNamed(reader, input)];
  }
  const ports = await resolvePorts(reader, subject, { field: "subject" });
  return ports.map(({ id, port }) => ({ kind: "port", id, tag: port, space: null }));
}

async function byNumber(reader: Reader, ids: readonly number[]): Promise<LabelsMeant> {
  const labels = await reader.rows<Row<"label">>(
    "select * from label where id in (select value from json_each(?)) order by id",
    [listed(ids)],
  );
  const found = new Set(labels.map(({ id }) => id));
  const lost = [...new Set(ids)].filter((id) => !found.has(id));
  if (lost.length > 0) {
    refuse(
      "not_found",
      say`Label ${lost[0]} is not on record.`,
      lost.map((id) => ({ field: "labels", record: `label ${id}`, reason: say`is not on record` })),
    );
  }
  return { labels, without: [], words: counted(labels.length, "label") };
}
