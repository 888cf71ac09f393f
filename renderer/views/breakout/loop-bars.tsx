/** What the loop takes to come out, and what there is for it, one above the other to one scale. */
import type { Loop } from "../../../core/breakout/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { textScale } from "../../drawing/text-scale.ts";

const K = textScale();
const SIDE = 20;
const HEIGHT = 150 * K;

interface Piece {
  readonly words: string;
  readonly metres: number;
  readonly style: "plain" | "filled" | "dotted";
}

const STYLES = {
  plain: { fill: "var(--paper)", stroke: "var(--ink)" },
  filled: { fill: "var(--accent-soft)", stroke: "var(--accent)" },
  dotted: { fill: "var(--paper)", stroke: "var(--ink3)", strokeDasharray: "3 2" },
} as const;

export function LoopBars({ loop, width }: { readonly loop: Loop; readonly width: number }) {
  const length = useLength();
  const takes: Piece[] = [
    { words: say`reach`, metres: loop.reach_m, style: "plain" },
    { words: say`window`, metres: loop.window_m, style: "filled" },
    { words: say`reach`, metres: loop.reach_m, style: "plain" },
  ];
  const own: Piece[] =
    loop.has_m === null
      ? []
      : loop.coil_m !== null && loop.crossing_m !== null
        ? [
            { words: say`crossing`, metres: Math.min(loop.crossing_m, loop.has_m), style: "plain" },
            { words: say`coil`, metres: loop.coil_m, style: "plain" },
          ]
        : [{ words: say`crossing and coil`, metres: loop.has_m, style: "plain" }];
  const pulled = loop.pulls.reduce((sum, { pulled_m }) => sum + pulled_m, 0);
  const has: Piece[] = [...own, ...(pulled > 0 ? [{ words: "pulled", metres: pulled, style: "dotted" } as const] : [])];
  const sum = (pieces: readonly Piece[]): number => pieces.reduce((all, { metres }) => all + metres, 0);
  const scale = (width - 2 * SIDE) / Math.max(sum(takes), sum(has), 1);
  const there = loop.has_m === null ? say`not on record` : length(sum(has));
  if (loop.reaches === "opened") return <p className="breakout-says">{SAYS.opened}</p>;
  return (
    <svg
      width={width}
      height={HEIGHT}
      role="img"
      aria-label={say`The loop takes ${length(loop.needs_m)}; there is ${there}. ${loop.words}`}
    >
      <Bar y={34 * K} pieces={takes} scale={scale} title={say`The loop takes ${length(loop.needs_m)}`} />
      <Bar y={94 * K} pieces={has} scale={scale} title={say`There is ${there}`} />
      <text className="strip-length" x={SIDE} y={HEIGHT - 6}>
        {SAYS[loop.reaches]}
      </text>
    </svg>
  );
}

const SAYS: Readonly<Record<Loop["reaches"], string>> = {
  yes: say`It comes out of the hole.`,
  to_prove: say`It comes out if what is pulled slides: to be proved.`,
  in_place: say`Too little: it is opened in place only.`,
  opened: say`It is opened already: nothing is brought out.`,
  unknown: say`Not known: take it that it is opened in place.`,
};

interface BarProps {
  readonly y: number;
  readonly pieces: readonly Piece[];
  readonly scale: number;
  readonly title: string;
}

function Bar({ y, pieces, scale, title }: BarProps) {
  const length = useLength();
  let x = SIDE;
  return (
    <g>
      <text className="strip-tag strip-passed" x={SIDE} y={y - 6}>
        {title}
      </text>
      {pieces.map(({ words, metres, style }, index) => {
        const at = x;
        const wide = metres * scale;
        x += wide;
        return (
          // Two pieces may have one name: the reach comes twice.
          <g key={`${words} ${index === 0 ? "first" : "later"} ${at}`}>
            <rect x={at} y={y} width={Math.max(1, wide)} height={18 * K} {...STYLES[style]} />
            {wide > 46 * K ? (
              <text className="strip-length" x={at + wide / 2} y={y + 32 * K} textAnchor="middle">
                {words} {length(metres)}
              </text>
            ) : null}
          </g>
        );
      })}
    </g>
  );
}
