/** Places and ways from maps (GeoJSON, KML) and to GeoJSON. */
import { z } from "zod";
import { collectionOf } from "../../maps/collection.ts";
import { type MapPlan, planMap } from "../../maps/fates.ts";
import type { Mapped } from "../../maps/shape.ts";
import { readMap } from "../../maps/source.ts";
import { refuse } from "../../result.ts";
import type { Reader } from "../../store/handle.ts";
import type { Plan } from "../../store/plan.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { type Context, defineRead, defineWrite } from "../define.ts";
import { fileGiven } from "../inputs.ts";

const mapInput = {
  ...fileGiven(say`The file's path on this machine: GeoJSON, KML or KMZ.`, say`The file as text, where it was pasted.`),
  swapped: z.boolean().default(false).describe(say`Reads latitude before longitude, for a file that has them so.`),
  turn: z
    .array(z.int())
    .max(200_000)
    .default([])
    .describe(say`Numbers of features that are read the other way round than the rest of the file.`),
  as_written: z
    .array(z.int())
    .max(200_000)
    .default([])
    .describe(say`Numbers of features whose numbers look swapped and that are meant as they are written.`),
  tag_from: z.string().max(200).optional().describe(say`The property that holds the tag; tag, where left out.`),
  leave_out: z.array(z.int()).max(200_000).default([]).describe(say`Numbers of features that are left out.`),
};
const rehearseInput = z.strictObject(mapInput);
type MapInput = z.output<typeof rehearseInput>;

export interface MapRehearsal extends Omit<MapPlan, "changes"> {
  readonly name: string;
  readonly form: "GeoJSON" | "KML";
  readonly sentence: string;
}

async function planned(
  context: Context,
  input: MapInput,
  newIds: (kind: Mapped, count: number) => Promise<number>,
): Promise<{ readonly answer: MapRehearsal; readonly changes: MapPlan["changes"] }> {
  const file = await readMap(context.folders, input);
  const revision = await lastOf(context.reader);
  const manner = {
    swapped: input.swapped,
    turn: new Set(input.turn),
    asWritten: new Set(input.as_written),
    tagFrom: input.tag_from ?? null,
    leaveOut: new Set(input.leave_out),
  };
  const { changes, ...plan } = await planMap(context.reader, revision, file, manner, newIds, (done, total) =>
    context.progress(say`comparing features`, done, total),
  );
  return { answer: { name: file.name, form: file.form, ...plan, sentence: sentenceOf(plan) }, changes };
}

async function lastOf(reader: Reader): Promise<number> {
  const [row] = await reader.rows<{ id: number | null }>("select max(id) as id from change_set");
  return row?.id ?? 0;
}

function sentenceOf({ totals, swapped, far }: Omit<MapPlan, "changes">): string {
  const { rows, new: added, changed, same, refused, left_out } = totals;
  const features = counted(rows, "feature");
  const out = left_out > 0 ? say`, ${left_out} left out` : "";
  const warned =
    swapped > 0
      ? say` Longitude and latitude look swapped in ${swapped}.`
      : far > 0
        ? plural(far, " {0} lies far outside the campus.", " {0} lie far outside the campus.")
        : "";
  return say`${features}: ${added} new, ${changed} changed, ${same} same, ${refused} refused${out}.${warned}`;
}

export const mapRehearse = defineRead({
  name: "map.rehearse",
  help: say`Says what reading places and ways from a map would change, feature by feature: GeoJSON, KML or KMZ, matched by tag. Nothing is written.`,
  input: rehearseInput,
  run: async (context, input): Promise<MapRehearsal> => {
    let made = 0;
    // Nothing is written, so the numbers only tell new records apart.
    return (await planned(context, input, async () => --made)).answer;
  },
});

export const mapImport = defineWrite({
  name: "map.import",
  help: say`Takes places and ways over from a map, exactly as rehearsed, as one change that can be undone.`,
  input: rehearseInput.extend({
    digest: z.string().max(64).optional().describe(say`Of the rehearsal: another plan than that is refused.`),
    valid_only: z.boolean().optional().describe(say`Leaves refused features out instead of refusing all of them.`),
  }),
  plan: async (context, { digest, valid_only, ...input }): Promise<Plan<MapRehearsal>> => {
    const { answer, changes } = await planned(context, input, context.newIds);
    if (digest !== undefined && digest !== answer.digest)
      refuse("stale", say`The map or the plant changed since the rehearsal. Rehearse it again. Nothing was changed.`);
    const refused = answer.fates.filter(({ fate }) => fate === "refused");
    if (refused.length > 0 && !valid_only)
      refuse(
        "bad_input",
        say`${answer.sentence} Nothing was changed.`,
        refused.flatMap(({ problems }) => problems).slice(0, 200),
      );
    const { new: added, changed } = answer.totals;
    const count = added + changed;
    return {
      summary: plural(
        count,
        "Take over {0} place or way of the map {1}",
        "Take over {0} places and ways of the map {1}",
        answer.name,
      ).slice(0, 400),
      changes,
      answer,
    };
  },
});

export const mapExport = defineRead({
  name: "map.export",
  help: say`Answers every building, space and pathway as GeoJSON (RFC 7946), with what is on record of each.`,
  input: z.strictObject({}),
  run: async ({ reader }) => {
    const collection = await collectionOf(reader);
    const without = collection.features.filter(({ geometry }) => geometry === null).length;
    return { collection, features: collection.features.length, without };
  },
});
