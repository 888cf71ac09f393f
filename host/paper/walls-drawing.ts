/** The walls of a hole drawn on paper: windows as seen from inside, each pipe with its tag and the cables in it. */
import { type LaidPipe, type LaidWindow, layWalls, type PipeState, type WallsDrawing } from "../../core/paper/walls.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, type Sheet } from "./sheet.ts";

const SIZE = 7;
const LINE = 8.6;
const LEGEND = say`Seen from inside, turning clockwise; not to scale. Thin ring: free. Thick ring: in use. Crossed: blocked. Dashed: unproven or not known.`;

export function drawWalls(sheet: Sheet, drawing: WallsDrawing): void {
  // Walls in twos, so that a hole with many ways goes on over the page.
  for (let from = 0; from < drawing.walls.length; from += 2) {
    const laid = layWalls({ walls: drawing.walls.slice(from, from + 2) }, sheet.width);
    sheet.room(laid.height + 8);
    const top = sheet.y;
    sheet.tagged("Figure", () => {
      for (const { wall, box, windows } of laid.walls) {
        sheet.pdf
          .rect(MARGIN + box.x, top + box.y, box.width, box.height)
          .lineWidth(1)
          .strokeColor(INK)
          .stroke();
        words(sheet, wall.name, MARGIN + box.x + 5, top + box.y + 4, box.width - 10, "bold", 8);
        if (windows.length === 0)
          words(sheet, say`Nothing enters here on record.`, MARGIN + box.x + 10, top + box.y + 18, box.width - 20);
        for (const one of windows) drawWindow(sheet, one, top);
      }
    });
    sheet.y = top + laid.height + 8;
  }
  for (const text of sheet.lines(LEGEND, sheet.width, "text", SIZE)) {
    sheet.room(LINE);
    sheet.tagged("P", () => sheet.write(text, MARGIN, sheet.y, "text", SIZE, QUIET));
    sheet.y += LINE;
  }
  sheet.y += 6;
}

function drawWindow(sheet: Sheet, { window, box, pipes, placed }: LaidWindow, top: number): void {
  const { pdf } = sheet;
  const [x, y] = [MARGIN + box.x, top + box.y];
  words(sheet, `${window.pathway} → ${window.to ?? say`nobody knows where`}`, x, y - 18, box.width + 6, "bold");
  const doubts = [window.by_map ? say`wall by the map` : "", placed || pipes.length < 2 ? "" : say`rows not on record`];
  words(sheet, [window.kind, ...doubts].filter(Boolean).join(", "), x, y - 9.5, box.width + 6, "text", 6, QUIET);
  pdf.rect(x, y, box.width, box.height).lineWidth(0.6).strokeColor(INK);
  if (window.by_map) pdf.dash(3, { space: 2 });
  pdf.stroke().undash();
  for (const one of pipes) drawPipe(sheet, one, top, box.width);
  if (pipes.length === 0 && window.loose.length === 0)
    words(sheet, say`no pipe on record`, x + 4, y + 5, box.width - 8, "text", 6);
  if (window.loose.length > 0 && pipes.length === 0) listed(sheet, window.loose, x + 4, y + 4, box.width - 8, 5);
}

function drawPipe(sheet: Sheet, { pipe, x, y, r }: LaidPipe, top: number, room: number): void {
  const [cx, cy] = [MARGIN + x, top + y];
  ring(sheet, pipe.state, cx, cy, r);
  const [tag = ""] = sheet.lines(pipe.tag, 2 * r + 20, "bold", SIZE);
  sheet.write(tag, cx - sheet.widthOf(tag, "bold", SIZE) / 2, cy - 4.5, "bold", SIZE);
  const wide = Math.min(52, room);
  listed(sheet, pipe.cables, cx - wide / 2 + 1, cy + r + 2, wide - 2, 2, true);
}

function ring({ pdf }: Sheet, state: PipeState, x: number, y: number, r: number): void {
  pdf
    .circle(x, y, r)
    .lineWidth(state === "in_use" ? 2.2 : 0.8)
    .strokeColor(INK);
  if (state === "unproven" || state === "not_known") pdf.dash(2, { space: 2 });
  pdf.stroke().undash();
  if (state !== "blocked") return;
  const d = r * Math.SQRT1_2;
  for (const way of [1, -1])
    pdf
      .moveTo(x - d, y - d * way)
      .lineTo(x + d, y + d * way)
      .lineWidth(0.8)
      .stroke();
}

/** So many tags, the rest as a number. */
function listed(
  sheet: Sheet,
  tags: readonly string[],
  x: number,
  y: number,
  width: number,
  most: number,
  centred = false,
): void {
  const shown = tags.length > most ? [...tags.slice(0, most - 1), say`and ${tags.length - most + 1} more`] : tags;
  shown.forEach((tag, index) => {
    const [line = ""] = sheet.lines(tag, width, "text", 6);
    const left = centred ? x + (width - sheet.widthOf(line, "text", 6)) / 2 : x;
    sheet.write(line, left, y + index * 7.2, "text", 6);
  });
}

function words(
  sheet: Sheet,
  text: string,
  x: number,
  y: number,
  width: number,
  face: "text" | "bold" = "text",
  size = SIZE,
  colour = INK,
): void {
  const [line = ""] = sheet.lines(text, width, face, size);
  sheet.write(line, x, y, face, size, colour);
}
