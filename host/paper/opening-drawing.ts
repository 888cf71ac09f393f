/** A cable's opening drawn on paper: the window with its units, where they are cut, the case above it and the lateral. */
import { layOpening, type OpeningDrawing } from "../../core/paper/opening.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, type Sheet } from "./sheet.ts";

const SIZE = 7.5;
const ROW = 15;
/** Room for the case and its lateral above the window. */
const ABOVE = 44;
/** The window's width and its left edge, as shares of the sheet's. */
const [WIDE, FROM] = [0.28, 0.2];

export function drawOpening(sheet: Sheet, drawing: OpeningDrawing): void {
  const line = sheet.lineHeight(SIZE);
  const wide = sheet.width;
  const [left, right] = [MARGIN + FROM * wide, MARGIN + (FROM + WIDE) * wide];
  const beside = MARGIN + wide - right - 14;
  const rows = layOpening(drawing).rows.map((row) => ({
    ...row,
    lines: sheet.lines(row.unit.words, beside, "text", SIZE),
  }));
  const tall = Math.max(rows.length * ROW, ...rows.map(({ lines }) => lines.length * line * rows.length)) + 8;
  const words = [drawing.window, ...drawing.cut_words].flatMap((text) => sheet.lines(text, wide, "text", SIZE));
  const foot = sheet.lines(
    say`${drawing.cable} at ${drawing.place}, not to scale: the frame is the window in the sheath, a bar a unit that is opened, the strokes across it where it is cut, ◆ the case.`,
    wide,
    "text",
    SIZE,
  );
  const height = ABOVE + tall + 2 * line + (words.length + foot.length) * line + 16;
  sheet.room(height);
  const top = sheet.y + ABOVE;
  const middle = top + tall / 2;
  const { pdf } = sheet;
  sheet.tagged("Figure", () => {
    pdf.lineWidth(5).strokeColor(INK);
    pdf.moveTo(MARGIN, middle).lineTo(left, middle).stroke();
    pdf
      .moveTo(right, middle)
      .lineTo(Math.min(right + 10, MARGIN + wide), middle)
      .stroke();
    pdf
      .rect(left, top, right - left, tall)
      .lineWidth(0.8)
      .stroke();
    sheet.write(`\u2190 ${drawing.ends[0]}`, MARGIN, middle - 8 - line, "bold", SIZE);
    const cuts: { x: number; y: number }[] = [];
    for (const { at, unit, cut_at, lines } of rows) {
      const y = top + at * tall;
      if (unit.cut) {
        pdf
          .rect(left, y - 3, right - left, 6)
          .fillColor(unit.fill ?? "#ffffff")
          .fill();
        pdf
          .rect(left, y - 3, right - left, 6)
          .lineWidth(0.5)
          .strokeColor(INK)
          .stroke();
      } else {
        pdf.lineWidth(0.7).strokeColor(QUIET);
        for (const by of [-2.5, 0, 2.5])
          pdf
            .moveTo(left, y + by)
            .lineTo(right, y + by)
            .stroke();
      }
      if (cut_at !== null) {
        const x = left + cut_at * (right - left);
        cuts.push({ x, y });
        pdf
          .rect(x - 2, y - 4, 4, 8)
          .fillColor("#ffffff")
          .fill();
        pdf.lineWidth(1.3).strokeColor(INK);
        for (const by of [-2, 2])
          pdf
            .moveTo(x + by - 2, y + 6)
            .lineTo(x + by + 2, y - 6)
            .stroke();
      }
      const first = y - (lines.length * line) / 2;
      lines.forEach((text, index) => {
        sheet.write(text, right + 14, first + index * line, "text", SIZE);
      });
    }
    const [first] = cuts;
    const case_at = { x: (left + right) / 2, y: top - ABOVE + 18 };
    if (first) {
      pdf
        .moveTo(first.x, first.y - 6)
        .lineTo(first.x, top - 8)
        .lineTo(case_at.x, case_at.y + 5)
        .lineWidth(1)
        .strokeColor(INK)
        .stroke();
      pdf
        .moveTo(case_at.x, case_at.y)
        .lineTo(MARGIN + wide, case_at.y)
        .lineWidth(3)
        .stroke();
      pdf
        .polygon(
          [case_at.x, case_at.y - 6],
          [case_at.x + 6, case_at.y],
          [case_at.x, case_at.y + 6],
          [case_at.x - 6, case_at.y],
        )
        .fillColor(INK)
        .fill();
      const case_wide = sheet.widthOf(drawing.case, "bold", SIZE);
      sheet.write(drawing.case, case_at.x - 10 - case_wide, case_at.y - line / 2, "bold", SIZE);
      sheet.write(drawing.lateral, right + 14, case_at.y - 5 - line, "bold", SIZE);
    }
    const under = top + tall + 4;
    drawing.edges.forEach((edge, index) => {
      if (edge === null) return;
      const own = sheet.widthOf(edge, "text", SIZE);
      sheet.write(edge, index === 0 ? left - own / 2 : right - own / 2, under, "text", SIZE);
    });
    const end = sheet.widthOf(`${drawing.ends[1]} \u2192`, "bold", SIZE);
    sheet.write(`${drawing.ends[1]} \u2192`, MARGIN + wide - end, under, "bold", SIZE);
    sheet.y = under + line + 6;
    for (const text of words) {
      sheet.write(text, MARGIN, sheet.y, "text", SIZE);
      sheet.y += line;
    }
    for (const text of foot) {
      sheet.write(text, MARGIN, sheet.y, "text", SIZE, QUIET);
      sheet.y += line;
    }
  });
  sheet.y += 8;
}
