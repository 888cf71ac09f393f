/** Lines of the plan: each kind of way in its own manner, so that it is told without colour. */
import type { Spot } from "../../../core/campus-plan/answer.ts";
import type { LineStyle } from "../../../core/paper/campus.ts";

export interface Stroke {
  readonly width: number;
  readonly colour: string;
  readonly dash?: string;
}

export const STROKES: Readonly<Record<LineStyle, readonly Stroke[]>> = {
  double: [
    { width: 4.5, colour: "var(--ink)" },
    { width: 2, colour: "var(--paper)" },
  ],
  wide: [
    { width: 7.5, colour: "var(--ink)" },
    { width: 4.75, colour: "var(--paper)" },
    { width: 1.25, colour: "var(--ink)", dash: "5 3" },
  ],
  rungs: [
    { width: 7, colour: "var(--ink)", dash: "1.5 5" },
    { width: 1.5, colour: "var(--ink)" },
  ],
  thick: [{ width: 3.5, colour: "var(--ink)" }],
  beads: [
    { width: 4.5, colour: "var(--ink)", dash: "5 6" },
    { width: 1.25, colour: "var(--ink)" },
  ],
  dashed: [{ width: 1.5, colour: "var(--ink)", dash: "6 4" }],
  dash_dot: [{ width: 1.5, colour: "var(--ink)", dash: "9 3 1.5 3" }],
  thin: [{ width: 1.5, colour: "var(--ink)" }],
  dotted: [{ width: 2, colour: "var(--ink2)", dash: "1.5 4" }],
};

/** The first thing asked about, the second, and further ones. */
export const ASKED_STROKES: readonly (readonly Stroke[])[] = [
  [
    { width: 8, colour: "var(--accent)" },
    { width: 2, colour: "var(--paper)" },
  ],
  [
    { width: 7, colour: "var(--paper)" },
    { width: 6, colour: "var(--accent)", dash: "12 5" },
  ],
  [
    { width: 7, colour: "var(--paper)" },
    { width: 6, colour: "var(--accent)", dash: "4 4" },
  ],
];
export const askedStroke = (n: number, straight: boolean): readonly Stroke[] =>
  straight
    ? [{ width: 5, colour: "var(--accent)", dash: n === 0 ? "2.5 6" : "10 4 2.5 4" }]
    : (ASKED_STROKES[Math.min(n, ASKED_STROKES.length - 1)] as readonly Stroke[]);

/** Lines in metres as one path. */
export const pathOf = (lines: Iterable<readonly Spot[]>): string => {
  const parts: string[] = [];
  for (const line of lines)
    parts.push(`M${line.map(([x, y]) => `${Math.round(x * 100) / 100} ${Math.round(y * 100) / 100}`).join("L")}`);
  return parts.join("");
};

/** Drawn in metres; the strokes stay as wide as they are, however near one looks. */
export function Lines({ d, strokes }: { readonly d: string; readonly strokes: readonly Stroke[] }) {
  if (d === "") return null;
  return strokes.map(({ width, colour, dash }) => (
    <path
      key={`${width} ${colour}`}
      d={d}
      fill="none"
      stroke={colour}
      strokeWidth={width}
      strokeDasharray={dash}
      strokeLinejoin="round"
      vectorEffect="non-scaling-stroke"
    />
  ));
}

/** A piece of a line for the key. */
export const Sample = ({ strokes }: { readonly strokes: readonly Stroke[] }) => (
  <svg width="32" height="12" aria-hidden="true" className="plan-sample">
    {strokes.map(({ width, colour, dash }) => (
      <path key={`${width} ${colour}`} d="M1 6H31" stroke={colour} strokeWidth={width} strokeDasharray={dash} />
    ))}
  </svg>
);
