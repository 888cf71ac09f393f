/** A cable as it stands, for acts along it: its stops in order, and the one an input means. */
import { z } from "zod";
import type { KindName, Row } from "../model/dictionary.ts";
import type { MarkBreak } from "../model/marks.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { evenIfMarksDisagree, type MarkValues, marksProblems, refuseMarks } from "./cable-stops.ts";
import type { PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";

export interface StopOnCable extends Row<"stop"> {
  /** Where it is, `@3` at an unknown place. */
  readonly place: string;
  readonly space_tag: string | null;
}

export interface CableStretch {
  readonly cable: Pick<Row<"cable">, "id" | "tag" | "mark_unit" | "life">;
  readonly breaks: readonly MarkBreak[];
  readonly stops: readonly StopOnCable[];
}

export const cableInput = address(say`The cable, such as F-012.`);
export const stopRef = z
  .union([z.int(), address("")])
  .describe(say`The stop: its order along the cable, its address (F-012@3), or the space it is in (MH-03).`);

/** Reads the named cable with its stops in order. Refuses `not_found`. */
export async function cableStretch(reader: Reader, text: string): Promise<CableStretch> {
  const { id } = await named(reader, text, ["cable"], "cable");
  const [cable] = await reader.rows<Row<"cable">>("select * from cable where id = ?", [id]);
  const rows = await reader.rows<Row<"stop">>("select * from stop where cable_id = ? order by ordinal", [id]);
  const tags = await addressesOf(reader, "space", new Set(rows.flatMap((row) => row.space_id ?? [])));
  if (cable === undefined) throw new Error(`cable ${id} is gone`);
  return {
    cable,
    breaks: cable.mark_breaks === null ? [] : (JSON.parse(cable.mark_breaks) as MarkBreak[]),
    stops: rows.map((row) => {
      const space_tag = row.space_id === null ? null : (tags.get(row.space_id) ?? null);
      return { ...row, space_tag, place: space_tag ?? `@${row.ordinal}` };
    }),
  };
}

/** The stop an input means. Refuses `not_found` where the cable has none such, `ambiguous` where it comes by twice. */
export async function stopNamed(
  reader: Reader,
  { cable, stops }: CableStretch,
  ref: string | number,
  field = "stop",
): Promise<StopOnCable> {
  const asked: Pick<Problem, "record" | "field"> = { record: String(ref), field };
  const notThere = (reason: string): never =>
    refuse("not_found", say`${cable.tag} has no stop ${ref}: ${reason}.`, [{ ...asked, reason }]);
  if (typeof ref === "number" || /^@?\d{1,5}$/.test(ref)) {
    const ordinal = typeof ref === "number" ? ref : Number(ref.replace("@", ""));
    const found = stops.find((stop) => stop.ordinal === ordinal);
    return (
      found ?? notThere(stops.length === 0 ? say`it has no stops on record` : say`its stops are 1 to ${stops.length}`)
    );
  }
  const kinds: readonly KindName[] = ["stop", "space"];
  const match = await named(reader, ref, kinds, field);
  const here = stops.filter((stop) => (match.kind === "stop" ? stop.id : stop.space_id) === match.id);
  const [only] = here;
  if (here.length > 1) {
    refuse(
      "ambiguous",
      say`${cable.tag} comes to ${match.tag} ${here.length} times.`,
      here.map(({ ordinal }) => ({ ...asked, reason: say`may be ${cable.tag}@${ordinal}` })),
    );
  }
  if (only === undefined) {
    const places = stops.map(({ place }) => place).join(", ");
    refuse("not_found", say`${cable.tag} has no stop at ${match.tag}; its stops are ${places || say`not on record`}.`, [
      { ...asked, reason: say`is not a stop of ${cable.tag}` },
    ]);
  }
  return only;
}

/**
 * Marks of the cable with some stops as they would be: refused when that makes them run backwards, unless it is meant.
 * What ran backwards on record before is no reason to refuse an act; it is told.
 */
export function holdMarks(
  draft: PlanDraft,
  { cable, breaks, stops: before }: CableStretch,
  stops: readonly (MarkValues & { readonly place: string })[],
  anyway: boolean | undefined,
): void {
  const problemsOf = (some: typeof stops) =>
    marksProblems(
      some.map(({ place, ...marks }) => ({ at: { record: place }, marks })),
      breaks,
    );
  const problems = problemsOf(stops);
  const key = ({ record, field }: Problem) => `${record} ${field}`;
  const known = new Set(problemsOf(before).map(key));
  refuseMarks(
    problems.filter((problem) => !known.has(key(problem))),
    cable.tag,
    anyway,
  );
  if (problems.length > 0) draft.notice(say`The marks of ${cable.tag} run backwards; lengths by marks will be wrong.`);
}

export { evenIfMarksDisagree };
