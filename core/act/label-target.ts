/** Which labels an act is about: by their numbers on record, or by the thing they are on and the place. */
import { z } from "zod";
import { KIND_NAMES, type KindName, kindOf, type Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { resolve, resolvePorts } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { listed, type Place } from "./ends.ts";
import { address } from "./inputs.ts";
import { labelsOn } from "./label-due.ts";
import { named, spaceFor } from "./named.ts";
import { counted } from "./numbering.ts";

/** Kinds one can stick a label on: things with an address. */
const LABELLED: readonly KindName[] = KIND_NAMES.filter(
  (kind) =>
    kindOf(kind).address !== null &&
    ["places", "ways", "cable", "glass", "patching", "service"].includes(kindOf(kind).group),
);

/** Kinds that are at several places, where a label's place must be said. */
const SEVERAL: ReadonlySet<KindName> = new Set(["cable", "pathway", "conduit", "unit"]);

export interface LabelSubject {
  readonly kind: KindName;
  readonly id: number;
  readonly tag: string;
  readonly space: Place | null;
}

/** The thing and the place. Refuses a cable or way without a place: its labels are told apart by it. */
export async function subjectNamed(
  reader: Reader,
  subject: string,
  space: string | null | undefined,
): Promise<LabelSubject> {
  const { kind, id, tag } = await named(reader, subject, LABELLED, "subject");
  const place = await spaceFor(reader, space, "space");
  if (!place && SEVERAL.has(kind)) {
    refuse("bad_input", `Where on ${tag} is the label?`, [
      { field: "space", record: tag, reason: "is needed: a thing that is at several places has a label at each" },
    ]);
  }
  return { kind, id, tag, space: place };
}

export const labelTarget = {
  labels: z.array(z.int().positive()).min(1).max(5000).optional().describe("Labels by their numbers on record."),
  subject: address("The thing the labels are on; ports may be a range.").optional(),
  space: address("The place, for a thing that is at several.").nullable().optional(),
};

export interface LabelsMeant {
  readonly labels: readonly Row<"label">[];
  /** The things meant that have no label there. */
  readonly without: readonly LabelSubject[];
  readonly words: string;
}

interface Target {
  readonly labels?: readonly number[] | undefined;
  readonly subject?: string | undefined;
  readonly space?: string | null | undefined;
}

export async function labelsMeant(reader: Reader, input: Target): Promise<LabelsMeant> {
  if ((input.labels === undefined) === (input.subject === undefined)) {
    refuse("bad_input", "Which labels?", [
      { field: "subject", reason: "must be given, or the numbers of the labels, and not both" },
    ]);
  }
  if (input.labels) return byNumber(reader, input.labels);
  const subject = input.subject ?? "";
  const things = await thingsNamed(reader, subject, input.space);
  const [first] = things;
  const labels = await labelsOn(
    { reader },
    first?.kind ?? "",
    things.map(({ id }) => id),
  );
  const there = labels.filter(({ space_id }) => space_id === (first?.space?.id ?? null));
  const labelled = new Set(there.map(({ subject_id }) => subject_id));
  const at = first?.space ? ` at ${first.space.tag}` : "";
  return {
    labels: there,
    without: things.filter(({ id }) => !labelled.has(id)),
    words: `${things.length > 1 ? subject : (first?.tag ?? subject)}${at}`,
  };
}

/** One thing, or a range of ports. */
async function thingsNamed(reader: Reader, subject: string, space: string | null | undefined): Promise<LabelSubject[]> {
  const range = subject.includes(":") && !space && (await resolve(reader, subject, { kinds: LABELLED })).length === 0;
  // What is neither one thing nor ports is refused with the reason that a single thing would have.
  if (!range) return [await subjectNamed(reader, subject, space)];
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
      `Label ${lost[0]} is not on record.`,
      lost.map((id) => ({ field: "labels", record: `label ${id}`, reason: "is not on record" })),
    );
  }
  return { labels, without: [], words: counted(labels.length, "label") };
}
