/** A panel's face drawn on paper: each port in its place with its number, what is in it, and what it carries. */
import { type FaceDrawing, layFace } from "../../core/paper/face.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, RULE, type Sheet } from "./sheet.ts";

const SIZE = 7;
const SMALL = 5.8;
const LINE = 7.2;

/** The drawing, the lines of its legend, and the room both take. */
function measured(sheet: Sheet, drawing: FaceDrawing) {
  const laid = layFace(drawing, sheet.width);
  const legend = [
    drawing.seen === "front" ? say`Seen from the front.` : say`Seen from behind: rows run the other way.`,
    drawing.legend,
    ...(laid.wrapped ? [say`Rows too long for the sheet go on in the line below.`] : []),
  ].join(" ");
  const lines = sheet.lines(legend, sheet.width, "text", SIZE);
  return { laid, lines, height: laid.height + lines.length * 9 + 4 };
}

/** How much room a face takes that isn't broken between pages. */
export const heightOfFace = (sheet: Sheet, drawing: FaceDrawing): number => measured(sheet, drawing).height;

export function drawFace(sheet: Sheet, drawing: FaceDrawing): void {
  const { laid, lines, height } = measured(sheet, drawing);
  sheet.room(height);
  const top = sheet.y;
  const { pdf } = sheet;
  sheet.tagged("Figure", () => {
    pdf.rect(MARGIN, top, laid.width, laid.height).lineWidth(1.4).strokeColor(INK).stroke();
    for (const { port, x, y } of laid.ports) {
      const [left, up] = [MARGIN + x, top + y];
      const { width, height } = laid.cell;
      pdf
        .rect(left + 1.2, up + 1.2, width - 2.4, height - 2.4)
        .lineWidth(0.6)
        .strokeColor(RULE)
        .stroke();
      put(sheet, port.tag, left + 3, up + 3, width - 16, "bold", SIZE);
      const sign = sheet.lines(port.sign, 14, "text", SIZE)[0] ?? "";
      sheet.write(sign, left + width - 4 - sheet.widthOf(sign, "text", SIZE), up + 3, "text", SIZE);
      port.lines.slice(0, 2).forEach((line, index) => {
        put(sheet, line, left + 3, up + 14 + index * LINE, width - 6, "text", SMALL);
      });
    }
  });
  sheet.y = top + laid.height + 4;
  sheet.tagged("P", () => {
    lines.forEach((line, index) => {
      sheet.write(line, MARGIN, sheet.y + index * 9, "text", SIZE, QUIET);
    });
  });
  sheet.y += lines.length * 9 + 8;
}

/** What doesn't fit is cut where it ends, with a sign: the table below has it whole. */
function put(
  sheet: Sheet,
  text: string,
  x: number,
  y: number,
  width: number,
  face: "text" | "bold",
  size: number,
): void {
  const whole = sheet.drawable(text, face);
  let kept = whole;
  while (kept.length > 1 && sheet.widthOf(kept === whole ? kept : `${kept}…`, face, size) > width)
    kept = kept.slice(0, -1);
  sheet.write(kept === whole ? whole : `${kept}…`, x, y, face, size);
}
