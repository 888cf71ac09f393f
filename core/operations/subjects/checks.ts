/** The consistency report. */
import { z } from "zod";
import { FAMILIES, type RuleDescription, SEVERITIES } from "../../check/finding.ts";
import { csvReport } from "../../check/paper-csv.ts";
import { htmlReport } from "../../check/paper-html.ts";
import { statedPolicies } from "../../check/policies.ts";
import { type Found, findAll, part, reportOf, type Wanted } from "../../check/report.ts";
import { RULES, RULES_VERSION } from "../../check/rules.ts";
import { KIND_NAMES, type KindName } from "../../model/dictionary.ts";
import { pick } from "../../store/addresses.ts";
import { lastChangeSet } from "../../store/change-set.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import { type Context, defineLong, defineRead } from "../define.ts";

const RULE_NAMES = RULES.map(({ name }) => name) as [string, ...string[]];

export const filters = {
  families: z
    .array(z.enum(Object.keys(FAMILIES) as [keyof typeof FAMILIES]))
    .optional()
    .describe(say`Only rules of these families.`),
  rules: z.array(z.enum(RULE_NAMES)).optional().describe(say`Only these rules.`),
  severities: z
    .array(z.enum(SEVERITIES as [string, ...string[]]))
    .optional()
    .describe(say`Only these severities.`),
  building: z
    .union([z.string().trim().min(1).max(400), z.int().min(1)])
    .optional()
    .describe(say`Only findings in this building, by its tag or id.`),
  record: z
    .strictObject({ kind: z.enum(KIND_NAMES as [KindName]), id: z.int().min(1) })
    .optional()
    .describe(say`Only findings that name this record.`),
};

const filtersInput = z.strictObject(filters);

export async function wantedOf(reader: Reader, input: z.output<typeof filtersInput>): Promise<Wanted> {
  const { building, ...rest } = input;
  if (building === undefined) return rest;
  const { id, tag } = await pick(reader, building, { kinds: ["building"], field: "building" });
  return { ...rest, building: id, place: tag };
}

const KEPT = "check.found";
interface Kept {
  readonly revision: number;
  readonly today: string;
  readonly found: Found;
}

/**
 * What is found now, from the cache while nothing was written that a rule reads: accepting a finding or signing a report
 * changes no fact.
 */
export async function foundNow(context: Context): Promise<Found> {
  const { reader, today, cache } = context;
  const kept = cache.get(KEPT) as Kept | undefined;
  const revision = (await lastChangeSet(reader))?.id ?? 0;
  if (kept?.today === today && kept.revision <= revision && !(await written(reader, kept.revision))) return kept.found;
  const found = await findAll({
    reader,
    today,
    glass: () => context.glass(),
    heard: (what, done, total) => context.progress(what, done, total),
  });
  const bytes = found.findings.reduce((sum, one) => sum + 1500 + one.records.length * 150, 0);
  cache.set(KEPT, { revision, today, found } satisfies Kept, bytes);
  return found;
}

async function written(reader: Reader, since: number): Promise<boolean> {
  const rows = await reader.rows(
    "select 1 from change_entry where change_set_id > ? and kind not in ('exception', 'sign_off') limit 1",
    [since],
  );
  return rows.length > 0;
}

export const reportNow = async (context: Context) => reportOf(context.reader, context.today, await foundNow(context));

export const checkRun = defineLong({
  name: "check.run",
  help: say`The consistency report: what contradicts itself, what is not known, what is not labelled. The same file on the same day gives the same findings in the same order.`,
  writes: false,
  input: filtersInput,
  run: async (context, input) => part(await reportNow(context), await wantedOf(context.reader, input)),
});

export interface RulesAnswer {
  readonly rules: readonly RuleDescription[];
  readonly rules_version: string;
  /** The plant's own numbers that rules use; null where a rule is off for want of one. */
  readonly policies: Readonly<Record<string, number | null>>;
}

export const checkRules = defineRead({
  name: "check.rules",
  help: say`Every rule with its severity, why it matters and where it comes from, and the policies rules use.`,
  input: z.strictObject({}),
  run: async ({ reader }): Promise<RulesAnswer> => ({
    rules: RULES.map(({ name, family, severity, title, why, source }) => ({
      name,
      family,
      severity,
      title,
      why,
      source,
    })),
    rules_version: RULES_VERSION,
    policies: await statedPolicies(reader),
  }),
});

export interface ReportText {
  readonly format: "csv" | "html";
  /** A name for the file. */
  readonly file: string;
  readonly media_type: string;
  readonly text: string;
}

export const checkReport = defineLong({
  name: "check.report",
  help: say`The consistency report as text to keep or print: a table (CSV) or a page (HTML). It opens with what is new since the last sign-off.`,
  writes: false,
  input: z.strictObject({ format: z.enum(["csv", "html"]), ...filters }),
  run: async (context, { format, ...asked }): Promise<ReportText> => {
    const { reader, today } = context;
    const report = part(await reportNow(context), await wantedOf(reader, asked));
    const [plant] = await reader.rows<{ name: string }>("select name from plant order by id limit 1");
    const paper = { plant: plant?.name ?? "", day: today, report };
    const file = `consistency-${today}.${format}`;
    return format === "csv"
      ? { format, file, media_type: "text/csv;charset=utf-8", text: csvReport(paper) }
      : { format, file, media_type: "text/html;charset=utf-8", text: htmlReport(paper) };
  },
});
