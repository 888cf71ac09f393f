/** Papers that a crew takes along, each a document to be printed. What they say is what the questions answer. */
import { z } from "zod";
import { holeCardDocument } from "../../sheets/hole-card.ts";
import { holeOf } from "../../sheets/hole-facts.ts";
import { panelFace, panelFaceDocument } from "../../sheets/panel-face.ts";
import { spliceCsv } from "../../sheets/splice-csv.ts";
import { spliceSheet } from "../../sheets/splice-sheet.ts";
import { spliceSheetDocument } from "../../sheets/splice-sheet-document.ts";
import { titleOf } from "../../sheets/title.ts";
import { resolveOne } from "../../store/addresses.ts";
import { defineRead } from "../define.ts";

const address = z.string().trim().min(1, "is empty").max(400, "is longer than 400 characters");
const spliceCase = address.describe("The splice case, such as MH-03/CL-1; or the place where it hangs alone.");

export const paperSpliceSheet = defineRead({
  name: "paper.splice_sheet",
  help: "A case's splice sheet as a document: each unit of each cable with its fate, each joint in tray order, boxes to tick and room for the loss.",
  input: z.strictObject({ case: spliceCase }),
  run: async ({ reader, today }, asked) =>
    spliceSheetDocument(await spliceSheet(reader, asked.case, today), await titleOf(reader, today, "Splice sheet")),
});

export const paperSpliceTable = defineRead({
  name: "paper.splice_table",
  help: "A case's splice sheet as a table (CSV) to be filled in; read again as a splice matrix it records exactly what was filled in.",
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
  help: "A hole's or room's card as a document: its walls unfolded as seen from inside, what enters where, what passes, what coil lies there, what is opened, and the cautions.",
  input: z.strictObject({ place: address.describe("The hole or room, such as MH-03 or LIB/101.") }),
  run: async ({ reader, today }, { place }) => {
    const space = await resolveOne(reader, place, { kinds: ["space"], field: "place" });
    return holeCardDocument(await holeOf(reader, space), await titleOf(reader, today, "Hole card"));
  },
});

export const paperPanelFace = defineRead({
  name: "paper.panel_face",
  help: "A panel's face as a document: its ports in their layout from the front and from behind, what is plugged and landed, what rides and where it leads.",
  input: z.strictObject({ panel: address.describe("The panel, such as LIB/101/A.") }),
  run: async ({ reader, today }, asked) => {
    const panel = await resolveOne(reader, asked.panel, { kinds: ["panel"], field: "panel" });
    return panelFaceDocument(await panelFace(reader, panel, today), await titleOf(reader, today, "Panel face"));
  },
});
