/** A cable cut across, drawn on paper, each unit with its number and code beside it. */
import { laySection, type SectionDrawing } from "../../core/paper/section.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, type Sheet } from "./sheet.ts";

const R = 62;
const BESIDE = 34;
const SIZE = 7;
const PAPER = "#ffffff";

export function drawSection(sheet: Sheet, drawing: SectionDrawing): void {
  const tall = 2 * (R + BESIDE / 2) + 14;
  const words = [
    say`${drawing.cable} cut across.`,
    drawing.diameter_mm === null
      ? say`Its outer diameter is not on record.`
      : say`Outer diameter ${Math.round(drawing.diameter_mm * 10) / 10} mm.`,
    drawing.armoured ? say`The dashed ring is its armour.` : "",
    say`What lies inside stands in the order of its numbers and is not to scale.`,
  ].filter(Boolean);
  const left = 2 * (R + BESIDE) + 16;
  const lines = sheet.lines(words.join(" "), sheet.width - left, "text", 8.5);
  sheet.room(tall);
  const [cx, cy] = [MARGIN + R + BESIDE, sheet.y + R + BESIDE / 2];
  const { pdf } = sheet;
  sheet.tagged("Figure", () => {
    pdf.circle(cx, cy, R).lineWidth(4).strokeColor(INK).stroke();
    if (drawing.armoured)
      pdf
        .circle(cx, cy, R - 5)
        .lineWidth(1.2)
        .dash(3, { space: 2 })
        .stroke()
        .undash();
    const disc = (x: number, y: number, r: number, fill: string, line: number): void => {
      pdf
        .circle(cx + x, cy + y, r)
        .fillColor(fill)
        .fill();
      pdf
        .circle(cx + x, cy + y, r)
        .lineWidth(line)
        .strokeColor(INK)
        .stroke();
    };
    const laid = laySection(drawing, R - (drawing.armoured ? 8 : 4), R + 6);
    for (const { x, y, r, fill } of laid.tubes) {
      disc(x, y, r, fill ?? PAPER, 0.5);
      const within = r - Math.max(1.2, r * 0.14);
      disc(x, y, within, PAPER, 0.3);
    }
    for (const { x, y, r, fill } of laid.strands) {
      disc(x, y, r, fill ?? PAPER, 0.4);
    }
    for (const { x, y, width, height, fill } of laid.flats) {
      const [left_, top] = [cx + x - width / 2, cy + y - height / 2];
      pdf
        .rect(left_, top, width, height)
        .fillColor(fill ?? PAPER)
        .fill();
      pdf.rect(left_, top, width, height).lineWidth(0.3).strokeColor(INK).stroke();
    }
    for (const { x, y, text } of laid.names) {
      const wide = sheet.widthOf(text, "bold", SIZE);
      const from = Math.abs(x) < 8 ? cx + x - wide / 2 : x > 0 ? cx + x : cx + x - wide;
      sheet.write(text, from, cy + y - 4.5, "bold", SIZE);
    }
  });
  sheet.tagged("P", () => {
    lines.forEach((line, index) => {
      sheet.write(line, MARGIN + left, sheet.y + 8 + index * sheet.lineHeight(8.5), "text", 8.5, QUIET);
    });
  });
  sheet.y += tall;
}
