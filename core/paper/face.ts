/** A panel's face as it stands before one: rows of ports in their order; from behind each row runs the other way. */

export interface FacePort {
  /** The number on it. */
  readonly tag: string;
  /** What was found in front or behind, in a letter or two that a grey printer keeps: told in `FaceDrawing.legend`. */
  readonly sign: string;
  /** What it carries, a line or two: a circuit, strands. */
  readonly lines: readonly string[];
}

export interface FaceDrawing {
  readonly panel: string;
  readonly seen: "front" | "back";
  /** From the top; of the front from the left. */
  readonly rows: readonly (readonly FacePort[])[];
  /** What the signs mean. */
  readonly legend: string;
}

export interface LaidPort {
  readonly port: FacePort;
  readonly x: number;
  readonly y: number;
}

export interface LaidFace {
  readonly width: number;
  readonly height: number;
  readonly cell: { readonly width: number; readonly height: number };
  readonly ports: readonly LaidPort[];
  /** A row was too long for the paper and goes on in the line below. */
  readonly wrapped: boolean;
}

const LEAST = 29;
const MOST = 62;
const TALL = 31;
const EDGE = 5;

export function layFace({ rows, seen }: FaceDrawing, width: number): LaidFace {
  const longest = Math.max(1, ...rows.map((row) => row.length));
  const fits = Math.max(1, Math.floor((width - 2 * EDGE) / LEAST));
  const columns = Math.min(longest, fits);
  const wide = Math.min(MOST, (width - 2 * EDGE) / columns);
  const ports: LaidPort[] = [];
  let y = EDGE;
  for (const row of rows) {
    for (let from = 0; from === 0 || from < row.length; from += columns) {
      const part = row.slice(from, from + columns);
      part.forEach((port, index) => {
        const column = seen === "back" ? columns - 1 - index : index;
        ports.push({ port, x: EDGE + column * wide, y });
      });
      y += TALL;
    }
  }
  return {
    width: 2 * EDGE + columns * wide,
    height: y + EDGE,
    cell: { width: wide, height: TALL },
    ports,
    wrapped: longest > columns,
  };
}
