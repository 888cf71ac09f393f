/** The campus from above on paper, as vectors: to one scale, north up, with a scale bar, its key and the names that fit. */
import {
  type CampusDrawing,
  type LineStyle,
  type PlanSpot,
  placeLabels,
  roundLength,
  roundScale,
} from "../../core/paper/campus.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, type Sheet } from "./sheet.ts";

const NAME = 6.5;
const KEY = 7.5;
const EDGE = 16;
/** Kept free below the drawing for the caution that belongs to it. */
const BELOW = 60;
/** Points on paper for a metre at 1 : 1. */
const POINTS_A_METRE = 72 / 0.0254;
const GROUND = "#e9e9e6";
/** Room for the scale bar above the drawing. */
const HEAD = 34;

type Strokes = readonly { readonly width: number; readonly colour: string; readonly dash?: readonly number[] }[];
const STROKES: Readonly<Record<LineStyle, Strokes>> = {
  double: [
    { width: 2.6, colour: INK },
    { width: 1.4, colour: "#ffffff" },
  ],
  wide: [
    { width: 4.2, colour: INK },
    { width: 3, colour: "#ffffff" },
    { width: 0.7, colour: INK, dash: [3.5, 2] },
  ],
  rungs: [
    { width: 4, colour: INK, dash: [0.8, 3] },
    { width: 0.8, colour: INK },
  ],
  thick: [{ width: 2, colour: INK }],
  beads: [
    { width: 2.6, colour: INK, dash: [3, 3.5] },
    { width: 0.7, colour: INK },
  ],
  dashed: [{ width: 0.9, colour: INK, dash: [4, 2.5] }],
  dash_dot: [{ width: 0.9, colour: INK, dash: [6, 2, 1, 2] }],
  thin: [{ width: 0.8, colour: INK }],
  dotted: [{ width: 1.1, colour: INK, dash: [0.8, 2.4] }],
};
/** Things asked about on a grey printer: told apart by width and dash, named in the key. */
const ASKED: readonly { readonly width: number; readonly dash: readonly number[]; readonly words: string }[] = [
  { width: 3.4, dash: [], words: say`thick line` },
  { width: 3.4, dash: [9, 3], words: say`thick long dashes` },
  { width: 3.4, dash: [3, 3], words: say`thick short dashes` },
  { width: 2.4, dash: [12, 3, 3, 3], words: say`thick dash and dot` },
  { width: 2.4, dash: [1.5, 2.5], words: say`thick dots` },
  { width: 2.4, dash: [14, 6], words: say`thick dashes far apart` },
];

interface Size {
  readonly ratio: number;
  readonly scale: number;
  readonly height: number;
  readonly keyHeight: number;
}

/** @param rest what is left of the page where it begins */
function sizeOf(sheet: Sheet, { extent_m, key, asked }: CampusDrawing, rest: number): Size {
  const [west, south, east, north] = extent_m;
  const [wide, tall] = [Math.max(east - west, 1), Math.max(north - south, 1)];
  const keyHeight = (Math.ceil((key.length + asked.length) / 3) + 1) * sheet.lineHeight(KEY) + 8;
  // What is left of this page where that is most of one, so that the drawing stands under its title.
  const most = (rest > sheet.tall / 2 ? rest : sheet.tall) - HEAD - keyHeight - 2 * EDGE - BELOW;
  const fits = Math.min((sheet.width - 2 * EDGE) / wide, most / tall);
  const ratio = roundScale(POINTS_A_METRE / fits);
  const scale = POINTS_A_METRE / ratio;
  return { ratio, scale, height: tall * scale + 2 * EDGE, keyHeight };
}

/** How much of a page it takes, for whoever keeps a heading with it that is so many points high. */
export function heightOfCampus(sheet: Sheet, drawing: CampusDrawing, heading: number): number {
  const { height, keyHeight } = sizeOf(sheet, drawing, sheet.bottom - sheet.y - heading);
  return HEAD + height + keyHeight;
}

export function drawCampus(sheet: Sheet, drawing: CampusDrawing): void {
  const [west, , east, north] = drawing.extent_m;
  const wide = Math.max(east - west, 1);
  const { ratio, scale, height, keyHeight } = sizeOf(sheet, drawing, sheet.bottom - sheet.y);
  sheet.room(HEAD + height + keyHeight);
  const top = sheet.y + HEAD;
  const left = MARGIN + EDGE + (sheet.width - 2 * EDGE - wide * scale) / 2;
  const at = ([x, y]: PlanSpot): readonly [number, number] => [
    left + (x - west) * scale,
    top + EDGE + (north - y) * scale,
  ];
  const { pdf } = sheet;
  const trace = (points: readonly PlanSpot[]): void => {
    for (const [i, point] of points.entries()) {
      const [x, y] = at(point);
      if (i === 0) pdf.moveTo(x, y);
      else pdf.lineTo(x, y);
    }
  };
  const stroke = (points: readonly PlanSpot[], width: number, colour: string, dash: readonly number[]): void => {
    trace(points);
    pdf.lineWidth(width).lineJoin("round").strokeColor(colour);
    if (dash.length > 0) pdf.dash(dash as unknown as number, {});
    pdf.stroke();
    pdf.undash();
  };
  sheet.tagged("Figure", () => {
    drawScale(sheet, { scale, ratio, unit: drawing.unit }, MARGIN, sheet.y + 6);
    if (drawing.cropped) pdf.save().rect(MARGIN, top, sheet.width, height).clip();
    for (const { points, strong } of drawing.outlines) {
      trace(points);
      pdf
        .closePath()
        .lineWidth(strong ? 1.8 : 0.7)
        .strokeColor(INK)
        .fillAndStroke(GROUND, INK);
    }
    const plain = drawing.lines.filter(({ asked }) => asked === null);
    for (const pass of [0, 1, 2])
      for (const { points, style } of plain) {
        const one = STROKES[style][pass];
        if (one) stroke(points, one.width, one.colour, one.dash ?? []);
      }
    for (const { points, asked, style } of drawing.lines) {
      if (asked === null) continue;
      const { width, dash } = ASKED[asked % ASKED.length] as (typeof ASKED)[number];
      stroke(points, width, INK, style === "dotted" ? [width * 0.6, width * 1.2] : dash);
    }
    for (const { at: spot, shape, strong } of drawing.marks) drawMark(sheet, at(spot), shape, strong);
    if (drawing.cropped) {
      pdf.restore();
      pdf.rect(MARGIN, top, sheet.width, height).lineWidth(0.5).strokeColor(QUIET).stroke();
    }
    drawNames(sheet, drawing, { at, scale, left: MARGIN, top, width: sheet.width, height });
    sheet.y = top + height + 4;
    drawKey(sheet, drawing);
  });
  sheet.y += 8;
}

/** A round length, halved, with the unit, and north beside it. */
function drawScale(
  sheet: Sheet,
  { scale, ratio, unit }: { readonly scale: number; readonly ratio: number; readonly unit: "m" | "ft" },
  x: number,
  y: number,
): void {
  const { pdf } = sheet;
  const perUnit = unit === "ft" ? scale * 0.3048 : scale;
  const length = roundLength(sheet.width / 3 / perUnit);
  const width = length * perUnit;
  pdf.lineWidth(0.7).strokeColor(INK);
  pdf.rect(x, y + 10, width / 2, 4).fillAndStroke(INK, INK);
  pdf.rect(x + width / 2, y + 10, width / 2, 4).fillAndStroke("#ffffff", INK);
  const said = `${length} ${unit}`;
  sheet.write("0", x, y, "text", KEY);
  sheet.write(said, x + width - sheet.widthOf(said, "text", KEY), y, "text", KEY);
  const [nx, ny] = [x + sheet.width - 12, y + 2];
  pdf
    .polygon([nx, ny], [nx + 4, ny + 14], [nx, ny + 11], [nx - 4, ny + 14])
    .fillColor(INK)
    .fill();
  sheet.write("N", nx - 2.6, ny + 15, "bold", KEY);
  const words = say`1 : ${grouped(ratio)} on this sheet, printed at its own size`;
  sheet.write(words, x + width + 14, y + 8, "text", KEY, QUIET);
}

const grouped = (ratio: number): string => String(Math.round(ratio * 100) / 100).replace(/\B(?=(\d{3})+$)/g, " ");

function drawMark(sheet: Sheet, [x, y]: readonly [number, number], shape: string, strong: boolean): void {
  const { pdf } = sheet;
  const r = strong ? 3.2 : 2.4;
  pdf.lineWidth(strong ? 1.4 : 0.9).strokeColor(INK);
  const ground = strong ? INK : "#ffffff";
  if (shape === "break") {
    const d = r * 1.5;
    pdf.lineWidth(2);
    pdf
      .moveTo(x - d, y - d)
      .lineTo(x + d, y + d)
      .stroke();
    pdf
      .moveTo(x - d, y + d)
      .lineTo(x + d, y - d)
      .stroke();
  } else if (shape === "maintenance_hole" || shape === "pole") pdf.circle(x, y, r).fillAndStroke(ground, INK);
  else if (shape === "room") pdf.rect(x - r, y - r, 2 * r, 2 * r).fillAndStroke(INK, INK);
  else if (shape === "pedestal")
    pdf
      .polygon([x - r, y + r], [x - r, y - r / 2], [x, y - r * 1.3], [x + r, y - r / 2], [x + r, y + r])
      .fillAndStroke(ground, INK);
  else if (shape === "cabinet") pdf.rect(x - r * 1.3, y - r, r * 2.6, 2 * r).fillAndStroke(ground, INK);
  else {
    if (shape === "unknown") pdf.dash(1.2, { space: 1 });
    pdf.rect(x - r, y - r, 2 * r, 2 * r).fillAndStroke(ground, INK);
    pdf.undash();
  }
  if (shape === "pole")
    pdf
      .circle(x, y, 0.9)
      .fillColor(strong ? "#ffffff" : INK)
      .fill();
}

interface Frame {
  readonly at: (spot: PlanSpot) => readonly [number, number];
  readonly scale: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

function drawNames(
  sheet: Sheet,
  { names, lines: drawn, outlines }: CampusDrawing,
  { at, scale, left, top, width, height }: Frame,
): void {
  const drawable = names.map(({ text }) => sheet.drawable(text, "text"));
  const wishes = names.map(({ at: spot, rank, clear_m }, index) => {
    const [x, y] = at(spot);
    return {
      ...{ key: String(index), x: x - left, y: y - top, rank },
      clear: [Math.max(3, clear_m[0] * scale), Math.max(3, clear_m[1] * scale)] as const,
      ...{ width: sheet.widthOf(drawable[index] ?? "", "text", NAME), height: sheet.lineHeight(NAME) },
    };
  });
  const placed = ({ points }: { readonly points: readonly PlanSpot[] }) =>
    points.map((spot) => at(spot)).map(([x, y]) => [x - left, y - top] as const);
  const grounds = outlines.map(placed);
  const lines = [...drawn.map(placed), ...grounds];
  for (const { key, x, y, over } of placeLabels(wishes, { width, height, gap: 1.5, lines, grounds })) {
    const words = drawable[Number(key)] ?? "";
    if (over) {
      const wide = sheet.widthOf(words, "text", NAME);
      sheet.pdf
        .rect(left + x - 0.5, top + y + 0.5, wide + 1, sheet.lineHeight(NAME) - 2)
        .fillOpacity(0.85)
        .fill("#ffffff")
        .fillOpacity(1);
    }
    sheet.write(words, left + x, top + y, "text", NAME);
  }
}

/** How lines and marks are drawn, in words. */
function drawKey(sheet: Sheet, { key, asked }: CampusDrawing): void {
  const { pdf } = sheet;
  const line = sheet.lineHeight(KEY);
  const column = sheet.width / 3;
  const entries = [
    ...asked.map((tag, n) => {
      const style = ASKED[n % ASKED.length] as (typeof ASKED)[number];
      return {
        words: `${tag}: ${style.words}`,
        draw: (x: number, y: number) => sample(x, y, [{ ...style, colour: INK }]),
      };
    }),
    ...key.map(({ words, line: style, mark }) => ({
      words,
      draw: (x: number, y: number) => {
        if (style) sample(x, y, STROKES[style]);
        else if (mark) drawMark(sheet, [x + 12, y], mark, false);
      },
    })),
  ];
  const rows = Math.ceil(entries.length / 3);
  for (const [i, { words, draw }] of entries.entries()) {
    const x = MARGIN + Math.floor(i / Math.max(rows, 1)) * column;
    const y = sheet.y + (i % Math.max(rows, 1)) * line;
    draw(x, y + line / 2);
    const [first = ""] = sheet.lines(words, column - 34, "text", KEY);
    sheet.write(first, x + 30, y, "text", KEY);
  }
  sheet.y += rows * line;

  function sample(
    x: number,
    y: number,
    strokes: readonly { width: number; colour: string; dash?: readonly number[] }[],
  ): void {
    for (const { width, colour, dash = [] } of strokes) {
      pdf
        .moveTo(x, y)
        .lineTo(x + 24, y)
        .lineWidth(width)
        .strokeColor(colour);
      if (dash.length > 0) pdf.dash(dash as unknown as number, {});
      pdf.stroke();
      pdf.undash();
    }
  }
}
