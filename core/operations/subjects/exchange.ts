/** The plant to a folder of CSV files and back. */
import { z } from "zod";
import { fileOf, METADATA_FILE } from "../../exchange/columns.ts";
import { writeContents } from "../../exchange/contents.ts";
import { Exporter } from "../../exchange/export.ts";
import type { ReasonGroup } from "../../exchange/fates.ts";
import { metadata } from "../../exchange/metadata.ts";
import { type FolderPlan, type Ground, planFolder, writePlanned } from "../../exchange/plan.ts";
import type { Sink } from "../../exchange/told.ts";
import { KIND_NAMES, type KindName, kindOf, type Value } from "../../model/dictionary.ts";
import { type Problem, refuse } from "../../result.ts";
import type { Reader } from "../../store/handle.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineLong, type LongContext } from "../define.ts";

const folder = z.string().trim().min(1, say`a folder is needed`).max(4000);

export interface FileFates {
  readonly file: string;
  readonly kind: KindName;
  readonly rows: number;
  readonly new: number;
  readonly changed: number;
  readonly same: number;
  readonly refused: number;
}

export interface FolderRehearsal {
  readonly files: readonly FileFates[];
  readonly totals: Omit<FileFates, "file" | "kind">;
  /** Names this plan; hand it to the import, which then does exactly this or nothing. */
  readonly digest: string;
  /** The same reasons together, most rows first. */
  readonly reasons: readonly ReasonGroup[];
  readonly refused: readonly Problem[];
  readonly changed: readonly {
    readonly file: string;
    readonly row: number;
    readonly record: string;
    readonly fields: readonly {
      readonly field: string;
      readonly label: string;
      readonly before: Value;
      readonly after: Value;
    }[];
  }[];
  readonly added: readonly { readonly file: string; readonly row: number; readonly record: string }[];
  /** Contents of attachments: how many the folder brings, and how many are neither on record nor in the folder. */
  readonly contents: { readonly new: number; readonly missing: number };
  readonly sentence: string;
}

const groundOf = async (context: LongContext, reader: Reader, path: string): Promise<Ground> => {
  let rows = 0;
  return {
    reader,
    port: context.folders,
    path,
    revision: await context.gateway.revision(reader),
    newIds: (kind, count) => context.gateway.newIds(reader, kind, count),
    heard: async (what, more) => {
      rows += more;
      await context.progress(what, rows, null);
    },
  };
};

export const exchangeRehearse = defineLong({
  name: "exchange.rehearse",
  help: say`Says what reading a folder of CSV files would change, row by row. Nothing is written.`,
  writes: false,
  input: z.strictObject({ folder }),
  run: async (context, input) =>
    rehearsal(await planFolder(await groundOf(context, context.reader, input.folder), null)),
});

export const exchangeImport = defineLong({
  name: "exchange.import",
  help: say`Reads a folder of CSV files into the plant, as one change that can be undone.`,
  writes: true,
  input: z.strictObject({
    folder,
    /** The digest of a rehearsal: refuses when the plan would no longer be that one. */
    digest: z.string().max(64).optional(),
    /** Leaves refused rows, and what rests on them, out instead of refusing everything. */
    valid_rows_only: z.boolean().optional(),
  }),
  run: async (context, input) => {
    const name =
      input.folder
        .replace(/[/\\]+$/, "")
        .split(/[/\\]/)
        .at(-1) ?? input.folder;
    return context.gateway.stream("exchange.import", say`Read the folder ${name}`, context.occasion, async (bulk) => {
      const ground = await groundOf(context, bulk.reader, input.folder);
      const sink: Sink = async (kind, added, changed) => {
        if (added.length > 0) await bulk.insertChecked(kind, added);
        if (changed.length > 0) await bulk.apply(changed);
      };
      const plan = await planFolder(ground, input.valid_rows_only ? null : sink);
      const told = rehearsal(plan);
      if (input.digest !== undefined && input.digest !== plan.digest) {
        refuse(
          "stale",
          say`The folder or the plant changed since the rehearsal. Rehearse it again. Nothing was changed.`,
        );
      }
      const { fates } = plan.identities;
      if (input.valid_rows_only) await writePlanned(ground, plan, sink);
      else if (fates.refused > 0) {
        refuse(
          "bad_input",
          say`Of ${counted(told.totals.rows, "row")}, ${fates.refused} can't be read. Nothing was changed.`,
          fates.problems.slice(0, 200),
          { reasons: told.reasons },
        );
      }
      await plan.contents.each((hash, bytes) => bulk.addContent(hash, bytes));
      return told;
    });
  },
});

function rehearsal(plan: FolderPlan): FolderRehearsal {
  const { fates, directory } = plan.identities;
  const files = plan.folder.files.map((file) => ({ file: file.name, kind: file.kind, ...fates.count(file.kind) }));
  const sum = (pick: (file: FileFates) => number) => files.reduce((total, file) => total + pick(file), 0);
  const totals = {
    rows: sum((file) => file.rows),
    new: sum((file) => file.new),
    changed: sum((file) => file.changed),
    same: sum((file) => file.same),
    refused: sum((file) => file.refused),
  };
  const labelOf = (kind: KindName, field: string): string => kindOf(kind).fields[field]?.label ?? field;
  return {
    files,
    totals,
    digest: plan.digest,
    reasons: fates.groups(),
    refused: fates.problems.slice(0, 500),
    changed: plan.changed.map(({ file, row, kind, id, fields }) => ({
      file,
      row,
      record: directory.addressOf(kind, id) ?? `${kindOf(kind).one}, row ${row}`,
      fields: fields.map((one) => ({ ...one, label: labelOf(kind, one.field) })),
    })),
    added: plan.added.map(({ file, row, kind, id }) => ({
      file,
      row,
      record: directory.addressOf(kind, id) ?? `${kindOf(kind).one}, row ${row}`,
    })),
    contents: { new: plan.contents.added, missing: plan.contents.missing },
    sentence: sentenceOf(totals, plan.contents.missing),
  };
}

function sentenceOf({ rows, new: added, changed, same, refused }: FolderRehearsal["totals"], missing: number): string {
  const gap =
    missing === 0
      ? ""
      : plural(
          missing,
          " The content of {0} attached file is not in the folder.",
          " The content of {0} attached files is not in the folder.",
        );
  return say`${counted(rows, "row")}: ${added} new, ${changed} changed, ${same} same, ${refused} refused.${gap}`;
}

export const exchangeExport = defineLong({
  name: "exchange.export",
  help: say`Writes the whole plant as a folder of CSV files with W3C metadata.`,
  writes: false,
  input: z.strictObject({
    folder,
    /** Shields cells that a spreadsheet would run as formulas; reading the folder takes the shield off again. */
    for_spreadsheet: z.boolean().optional(),
  }),
  run: async (context, input) => {
    const exporter = new Exporter(context.reader, { forSpreadsheet: input.for_spreadsheet ?? false });
    await exporter.prepare((done, total) => context.progress(say`reading names`, done, total));
    const counts = new Map<KindName, number>();
    // What an earlier export left behind must not come back with the next reading.
    const before = (await context.folders.isFolder(input.folder)) ? await context.folders.list(input.folder) : [];
    for (const kind of KIND_NAMES) {
      const rows = await exporter.count(kind);
      if (rows > 0 || before.includes(fileOf(kind))) counts.set(kind, rows);
    }
    const total = [...counts.values()].reduce((sum, rows) => sum + rows, 0);
    let done = 0;
    for (const kind of counts.keys()) {
      await context.folders.write(
        input.folder,
        fileOf(kind),
        exporter.file(kind, async (rows) => {
          done += rows;
          await context.progress(say`writing ${fileOf(kind)}`, done, total);
        }),
      );
    }
    const contents = await writeContents(context.reader, context.folders, input.folder, () =>
      context.progress(say`writing contents`, done, total),
    );
    await context.folders.write(
      input.folder,
      METADATA_FILE,
      (async function* () {
        yield metadata([...counts.keys()], input.for_spreadsheet ?? false);
      })(),
    );
    return {
      folder: input.folder,
      files: [...counts].map(([kind, rows]) => ({ file: fileOf(kind), kind, rows })),
      rows: total,
      contents,
    };
  },
});
