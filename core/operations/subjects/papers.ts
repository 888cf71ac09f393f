/** Papers that a crew takes along, each a document to be printed. What they say is what the questions answer. */
import { z } from "zod";
import { part } from "../../check/report.ts";
import { feeds } from "../../feeds/feeds.ts";
import type { LossAnswer } from "../../light/answer.ts";
import { loss } from "../../light/loss.ts";
import { Refusal } from "../../result.ts";
import { cableSheetDocument } from "../../sheets/cable-paper.ts";
import { feedSheetDocument } from "../../sheets/feed-sheet.ts";
import { holeCardDocument } from "../../sheets/hole-card.ts";
import { holeOf } from "../../sheets/hole-facts.ts";
import { lengthUnit } from "../../sheets/in-words.ts";
import { panelFace, panelFaceDocument } from "../../sheets/panel-face.ts";
import { reportDocument } from "../../sheets/report-paper.ts";
import { spliceCsv } from "../../sheets/splice-csv.ts";
import { spliceSheet } from "../../sheets/splice-sheet.ts";
import { spliceSheetDocument } from "../../sheets/splice-sheet-document.ts";
import { tableDocument } from "../../sheets/table-paper.ts";
import { titleOf } from "../../sheets/title.ts";
import { traceSheetDocument } from "../../sheets/trace-sheet.ts";
import { resolveOne } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { windowOf } from "../../store/window.ts";
import { cableSheet } from "../../trace/cable-sheet.ts";
import { trace } from "../../trace/trace.ts";
import { say } from "../../words/say.ts";
import { defineLong, defineRead } from "../define.ts";
import { address } from "../inputs.ts";
import { filters, reportNow, wantedOf } from "./checks.ts";
import { selectionInput, selectionOf } from "./records.ts";

const spliceCase = address.describe(say`The splice case, such as MH-03/CL-1; or the place where it hangs alone.`);

export const paperSpliceSheet = defineRead({
  name: "paper.splice_sheet",
  help: say`A case's splice sheet as a document: each unit of each cable with its fate, each joint in tray order, boxes to tick and room for the loss.`,
  input: z.strictObject({ case: spliceCase }),
  run: async ({ reader, today }, asked) =>
    spliceSheetDocument(await spliceSheet(reader, asked.case, today), await titleOf(reader, today, say`Splice sheet`)),
});

export const paperSpliceTable = defineRead({
  name: "paper.splice_table",
  help: say`A case's splice sheet as a table (CSV) to be filled in; read again as a splice matrix it records exactly what was filled in.`,
  input: z.strictObject({ case: spliceCase }),
  run: async ({ reader, today }, asked) => {
    const sheet = await spliceSheet(reader, asked.case, today);
    return {
      file: `splice-sheet-${sheet.glass.ref.tag.replaceAll(/[^\p{L}\p{N}]+/gu, "-")}.csv`,
      media_type: "text/csv;charset=utf-8",
      text: spliceCsv(sheet),
    };
  },
});

export const paperHoleCard = defineRead({
  name: "paper.hole_card",
  help: say`A hole's or room's card as a document: its walls unfolded as seen from inside, what enters where, what passes, what coil lies there, what is opened, and the cautions.`,
  input: z.strictObject({ place: address.describe(say`The hole or room, such as MH-03 or LIB/101.`) }),
  run: async ({ reader, today }, { place }) => {
    const space = await resolveOne(reader, place, { kinds: ["space"], field: "place" });
    return holeCardDocument(await holeOf(reader, space), await titleOf(reader, today, say`Hole card`));
  },
});

export const paperPanelFace = defineRead({
  name: "paper.panel_face",
  help: say`A panel's face as a document: its ports in their layout from the front and from behind, what is plugged and landed, what rides and where it leads.`,
  input: z.strictObject({ panel: address.describe(say`The panel, such as LIB/101/A.`) }),
  run: async ({ reader, today }, asked) => {
    const panel = await resolveOne(reader, asked.panel, { kinds: ["panel"], field: "panel" });
    return panelFaceDocument(await panelFace(reader, panel, today), await titleOf(reader, today, say`Panel face`));
  },
});

export const paperTraceSheet = defineRead({
  name: "paper.trace_sheet",
  help: say`A trace as a document: the line drawn through the places it visits, hop by hop with what each rests on, its loss term by term.`,
  input: z.strictObject({ what: address.describe(say`What to follow, such as F-012:25, LIB/101/A:07 or a circuit.`) }),
  run: async ({ reader, today }, { what }) => {
    const answer = await trace(reader, what, today);
    const { reckoned, why } = await lossOf(reader, what, today);
    const title = await titleOf(reader, today, say`Trace`);
    return traceSheetDocument(answer, reckoned, why, await lengthUnit(reader), title);
  },
});

/** A trace that has no loss, such as one without glass, is printed all the same. */
async function lossOf(
  reader: Reader,
  what: string,
  today: string,
): Promise<{ readonly reckoned: LossAnswer | null; readonly why: string | null }> {
  try {
    const asked = { what, direction: "a_to_b", worst: "limit", reference_method: "one_cord" } as const;
    return { reckoned: await loss(reader, { ...asked, wanted_only: true, brief: true }, today), why: null };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { reckoned: null, why: error.message };
  }
}

export const paperFeedSheet = defineRead({
  name: "paper.feed_sheet",
  help: say`What feeds a building or space as a document: cables by entrance, every strand with its state and far end.`,
  input: z.strictObject({ place: address.describe(say`The building or space, such as LIB or LIB/101.`) }),
  run: async ({ reader, today, heldGlass }, { place }) => {
    const answer = await feeds(reader, place, { today, held: await heldGlass() });
    return feedSheetDocument(answer, await lengthUnit(reader), await titleOf(reader, today, say`Feeds`));
  },
});

export const paperCableSheet = defineRead({
  name: "paper.cable_sheet",
  help: say`A cable as a document: its course with marks and coils, its legs, itself cut across, every strand with what it does.`,
  input: z.strictObject({ cable: address.describe(say`The cable, such as F-012.`) }),
  run: async ({ reader, today }, { cable }) =>
    cableSheetDocument(
      await cableSheet(reader, cable, today),
      await lengthUnit(reader),
      await titleOf(reader, today, say`Cable`),
    ),
});

export const paperReport = defineLong({
  name: "paper.report",
  help: say`The consistency report as a document: findings by severity with facts, records, reason and source, exceptions, content hash, version of the rules and policies.`,
  writes: false,
  input: z.strictObject(filters),
  run: async (context, input) => {
    const { reader, today } = context;
    const report = part(await reportNow(context), await wantedOf(reader, input));
    return reportDocument(report, await titleOf(reader, today, say`Consistency report`));
  },
});

export const paperTable = defineLong({
  name: "paper.table",
  help: say`A kind's table as a document, as it is filtered and sorted, every row of it.`,
  writes: false,
  input: z.strictObject({
    ...selectionInput,
    columns: z.array(z.string().max(60)).min(1, say`names no field`).max(100).describe(say`Fields in the order shown.`),
    lengths: z.enum(["m", "ft"]).optional().describe(say`The unit of lengths; the plant's where left out.`),
    where: z.string().max(400).default("").describe(say`What is filtered, in words, for the head of the paper.`),
  }),
  run: async (context, { columns, lengths, where, ...asked }) => {
    const { reader, today, cache, progress } = context;
    const selection = await selectionOf(reader, asked);
    return tableDocument(
      reader,
      { kind: asked.kind, columns, lengths: lengths ?? (await lengthUnit(reader)), where },
      (offset, limit) => windowOf(reader, cache, selection, offset, limit, columns),
      (done, total) => progress(say`Rows read`, done, total),
      await titleOf(reader, today, say`Table`),
    );
  },
});
