/** A cable's line drawn on paper: stops and coils above it, legs and breaks below; every length is written as well. */
import { type LineDrawing, layLine, packLabels } from "../../core/paper/line.ts";
import { say } from "../../core/words/say.ts";
import { INK, MARGIN, QUIET, type Sheet } from "./sheet.ts";

const SIZE = 7.5;
const GAP = 6;
const LIFT = 16;
/** New cable lies so far below the line. */
const PIECE = 12;

const metres = (value: number | null): string => (value === null ? say`length not known` : `${round(value)} m`);
const round = (value: number): string => String(Math.round(value * 10) / 10);

/** Of what was destroyed long ago, and is told by its place alone, nothing is said. */
function destroyedWords(destroyed_m: number | null, exact: boolean): string[] {
  if (destroyed_m === null) return [say`destroyed: not known`];
  if (destroyed_m === 0) return [];
  return [exact ? say`destroyed: ${round(destroyed_m)} m` : say`given up: ${round(destroyed_m)} m`];
}

export function drawLine(sheet: Sheet, drawing: LineDrawing): void {
  const laid = layLine(drawing);
  const line = sheet.lineHeight(SIZE);
  const wide = sheet.width;
  const pack = (labels: readonly { words: readonly string[]; at: number }[]) => {
    const broken = labels.map(({ words, at }) => {
      const lines = words.flatMap((text) => sheet.lines(text, wide / 3, "text", SIZE));
      return { lines, at, width: Math.max(...lines.map((text) => sheet.widthOf(text, "text", SIZE))) };
    });
    const tall = Math.max(0, ...broken.map(({ lines }) => lines.length)) * line + 4;
    const places = packLabels(broken, wide, GAP);
    const rows = Math.max(0, ...places.map(({ row }) => row + 1));
    return { broken, places, tall, height: rows * tall };
  };
  const above = pack(
    laid.stops.map(({ stop, from, to }) => ({
      at: ((from + to) / 2) * wide,
      words: [
        stop.name + (stop.spliced ? " ◆ splice" : ""),
        ...(stop.mark === null ? [] : [say`mark ${stop.mark}`]),
        ...(stop.coil_m === 0 ? [] : [say`coil ${stop.coil_m === null ? say`not known` : `${round(stop.coil_m)} m`}`]),
      ],
    })),
  );
  const below = pack(
    laid.legs.map(({ leg, from, to }) => ({
      at: ((from + to) / 2) * wide,
      words: [metres(leg.metres), leg.pathway ?? say`way not on record`].filter(Boolean),
    })),
  );
  const breaks = pack(
    laid.breaks.map(({ break: one, from, to, exact }) => ({
      at: ((from + to) / 2) * wide,
      words: [
        exact ? `✕ ${one.words}` : one.words,
        ...destroyedWords(one.destroyed_m, exact),
        ...(exact ? [] : [say`somewhere on this leg`]),
      ],
    })),
  );
  const fresh = pack(
    laid.fresh.map(({ fresh: { words }, from, to }) => ({ at: ((from + to) / 2) * wide, words: [words] })),
  );
  const pieces = laid.fresh.some(({ fresh: { to } }) => to !== undefined);
  /** New cable is drawn below the line, and its words below what is written of the break. */
  const drop = pieces ? PIECE : 0;
  const unsure = [
    ...(laid.legs.every(({ exact }) => exact) ? [] : [say`dashed legs were given room`]),
    ...(drawing.stops.every(({ coil_m }) => coil_m !== null) ? [] : [say`a coil that isn't known has no length`]),
  ];
  const piece = pieces ? say` Double line below: new cable.` : "";
  const foot = say`${drawing.cable}: ${unsure.length === 0 ? say`to scale, in metres of cable` : say`not to scale throughout: ${unsure.join(say`, and `)}`}. ○ coil, ◆ splice, ${laid.breaks.every(({ exact }) => exact) ? say`✕ break` : say`dotted: where the break may be`}.${piece}`;
  sheet.room(above.height + below.height + breaks.height + fresh.height + drop + 3 * LIFT + line);
  const top = sheet.y;
  const at = top + above.height + LIFT;
  const { pdf } = sheet;

  sheet.tagged("Figure", () => {
    for (const { from, to, exact } of laid.legs) {
      pdf.lineWidth(2).strokeColor(INK);
      if (!exact) pdf.dash(4, { space: 2 });
      pdf
        .moveTo(MARGIN + from * wide, at)
        .lineTo(MARGIN + to * wide, at)
        .stroke()
        .undash();
    }
    laid.stops.forEach(({ stop, from, to }, index) => {
      const [left, right] = [MARGIN + from * wide, MARGIN + to * wide];
      const middle = (left + right) / 2;
      if (right > left) pdf.lineWidth(2).moveTo(left, at).lineTo(right, at).stroke();
      if (stop.coil_m !== 0)
        pdf
          .circle(middle, at - 5, 5)
          .lineWidth(1)
          .strokeColor(INK)
          .stroke();
      pdf
        .lineWidth(1)
        .moveTo(middle, at - 5)
        .lineTo(middle, at + 5)
        .stroke();
      if (stop.spliced) diamond(middle);
      const place = above.places[index];
      const label = above.broken[index];
      if (place && label) write(label, place, top + above.height - (place.row + 1) * above.tall);
    });
    laid.legs.forEach((_, index) => {
      const place = below.places[index];
      const label = below.broken[index];
      if (place && label) write(label, place, at + 10 + drop + place.row * below.tall);
    });
    laid.breaks.forEach(({ from, to, exact }, index) => {
      const [left, right] = [MARGIN + from * wide, MARGIN + to * wide];
      const middle = (left + right) / 2;
      if (right - left > 1)
        pdf
          .rect(left, at - 4, right - left, 8)
          .lineWidth(0.8)
          .dash(1.5, { space: 1.5 })
          .stroke()
          .undash();
      // A cross is a place: where only the leg is known there is none.
      if (exact) {
        pdf.lineWidth(2.2).strokeColor(INK);
        pdf
          .moveTo(middle - 5, at - 6)
          .lineTo(middle + 5, at + 6)
          .stroke();
        pdf
          .moveTo(middle - 5, at + 6)
          .lineTo(middle + 5, at - 6)
          .stroke();
      }
      const place = breaks.places[index];
      const label = breaks.broken[index];
      if (place && label) write(label, place, at + 10 + drop + below.height + place.row * breaks.tall);
    });
    laid.fresh.forEach(({ fresh: { to: end }, from, to }, index) => {
      const [left, right] = [MARGIN + from * wide, MARGIN + to * wide];
      if (end === undefined) diamond(left);
      else {
        pdf.lineWidth(0.9).strokeColor(INK);
        for (const y of [at + PIECE - 3, at + PIECE]) pdf.moveTo(left, y).lineTo(right, y).stroke();
        for (const x of [left, right])
          pdf
            .moveTo(x, at + 5)
            .lineTo(x, at + PIECE)
            .stroke();
      }
      const place = fresh.places[index];
      const label = fresh.broken[index];
      if (place && label) write(label, place, at + 10 + drop + below.height + breaks.height + place.row * fresh.tall);
    });
    sheet.y = at + 14 + drop + below.height + breaks.height + fresh.height;
    for (const text of sheet.lines(foot, wide, "text", SIZE)) {
      sheet.write(text, MARGIN, sheet.y, "text", SIZE, QUIET);
      sheet.y += line;
    }
  });
  sheet.y += 8;

  function diamond(x: number): void {
    pdf
      .polygon([x, at - 4], [x + 4, at], [x, at + 4], [x - 4, at])
      .fillColor(INK)
      .fill();
  }

  function write(label: { lines: readonly string[] }, { from }: { from: number }, y: number): void {
    label.lines.forEach((text, index) => {
      sheet.write(text, MARGIN + from, y + index * line, "text", SIZE);
    });
  }
}
