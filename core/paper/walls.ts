/**
 * The walls of a hole as one sees them from inside, turning clockwise, and in each the windows of the ways that enter there.
 * Pure geometry in the writer's own unit; walls are not to scale, for nobody measured where on a wall a window lies.
 */

/** What a pipe can take, told by how its ring is drawn. */
export type PipeState = "free" | "in_use" | "blocked" | "unproven" | "not_known";

export interface WallPipe {
  readonly tag: string;
  /** Row from the top and column from the left, as seen from inside this hole; null where nobody says. */
  readonly row: number | null;
  readonly column: number | null;
  readonly state: PipeState;
  /** Tags of the cables in it, those of its innerducts too. */
  readonly cables: readonly string[];
}

export interface WallWindow {
  readonly pathway: string;
  /** Where it leads; null where nobody knows. */
  readonly to: string | null;
  /** "duct bank". */
  readonly kind: string;
  readonly pipes: readonly WallPipe[];
  /** Cables that lie in it and in no pipe on record. */
  readonly loose: readonly string[];
  /** The wall follows from the line on the map; nobody recorded it. */
  readonly by_map: boolean;
}

export interface Wall {
  /** "North wall". */
  readonly name: string;
  readonly windows: readonly WallWindow[];
}

export interface WallsDrawing {
  readonly walls: readonly Wall[];
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface LaidPipe {
  readonly pipe: WallPipe;
  /** Its middle, and half its width. */
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

export interface LaidWindow {
  readonly window: WallWindow;
  /** The window itself; its two lines of words stand above it. */
  readonly box: Box;
  readonly pipes: readonly LaidPipe[];
  /** False where pipes stand in the order of their tags, because rows and columns are not on record. */
  readonly placed: boolean;
}

export interface LaidWall {
  readonly wall: Wall;
  readonly box: Box;
  readonly windows: readonly LaidWindow[];
}

export interface LaidWalls {
  readonly walls: readonly LaidWall[];
  readonly height: number;
}

/** Room of one pipe with the cables written below it, of a window's words, and between things. */
const CELL = { width: 52, height: 52 };
const WORDS = 20;
const GAP = 10;
const HEAD = 15;
const RADIUS = 14;
const PER_ROW = 2;

export function layWalls({ walls }: WallsDrawing, width: number): LaidWalls {
  const wide = (width - GAP * (PER_ROW - 1)) / PER_ROW;
  const laid: LaidWall[] = [];
  let y = 0;
  for (let from = 0; from < walls.length; from += PER_ROW) {
    const row = walls.slice(from, from + PER_ROW).map((wall, index) => layWall(wall, index * (wide + GAP), y, wide));
    const height = Math.max(...row.map(({ box }) => box.height));
    laid.push(...row.map((one) => ({ ...one, box: { ...one.box, height } })));
    y += height + GAP;
  }
  return { walls: laid, height: Math.max(0, y - GAP) };
}

/** Windows stand side by side as long as they fit, the next row below. */
function layWall(wall: Wall, x: number, y: number, width: number): LaidWall {
  const windows: LaidWindow[] = [];
  let [left, top, tall] = [x + GAP, y + HEAD, 0];
  for (const window of wall.windows) {
    const one = layWindow(window, left, top + WORDS, width - 2 * GAP);
    const needs = one.box.width;
    if (left > x + GAP && left + needs > x + width - GAP) {
      [left, top, tall] = [x + GAP, top + tall + GAP, 0];
    }
    const settled = layWindow(window, left, top + WORDS, width - 2 * GAP);
    windows.push(settled);
    left += settled.box.width + GAP;
    tall = Math.max(tall, settled.box.height + WORDS);
  }
  const height = HEAD + (tall === 0 ? WORDS : top - y - HEAD + tall + GAP);
  return { wall, box: { x, y, width, height }, windows };
}

function layWindow(window: WallWindow, x: number, y: number, most: number): LaidWindow {
  const { pipes } = window;
  const spots = new Set(pipes.map(({ row, column }) => `${row} ${column}`));
  const placed = spots.size === pipes.length && pipes.every(({ row, column }) => row !== null && column !== null);
  const perRow = Math.max(1, Math.floor(most / CELL.width));
  const columns = placed ? Math.max(1, ...pipes.map(({ column }) => column ?? 1)) : Math.min(perRow, pipes.length || 1);
  const cells = pipes.map(({ row, column }, index) =>
    placed
      ? { row: (row ?? 1) - 1, column: (column ?? 1) - 1 }
      : { row: Math.floor(index / columns), column: index % columns },
  );
  const rows = 1 + Math.max(0, ...cells.map(({ row }) => row));
  // A way without pipes has one opening, with its cables in it.
  const wide = Math.min(CELL.width, most / columns);
  return {
    window,
    placed,
    box: { x, y, width: Math.max(columns * wide, Math.min(most, 2 * CELL.width)), height: rows * CELL.height },
    pipes: pipes.map((pipe, index) => {
      const { row, column } = cells[index] as { row: number; column: number };
      return {
        pipe,
        x: x + (column + 0.5) * wide,
        y: y + row * CELL.height + RADIUS + 4,
        r: Math.min(RADIUS, wide / 2 - 2),
      };
    }),
  };
}
