/** A strand in its tube, as small as fits a row. Never without its words beside it. */
import type { ColourLayer } from "../../core/trace/answer.ts";
import { Run } from "./run.tsx";

export function Swatch({
  colours,
  width = 26,
  height = 14,
}: {
  readonly colours: readonly ColourLayer[];
  readonly width?: number;
  readonly height?: number;
}) {
  if (colours.length === 0) return null;
  // A strand or tube by itself fills the swatch; as a run it would be drawn half as wide.
  const alone = colours.length === 1;
  return (
    <svg className="swatch" width={width} height={height} aria-hidden="true">
      <Run
        course={{ x1: 0, y1: height / 2, x2: width, y2: height / 2 }}
        colours={colours}
        width={alone ? 2 * height - 4 : height}
      />
      <path
        d={`M0.5 ${height / 2 - height / 2}V${height}M${width - 0.5} 0V${height}`}
        stroke="var(--outline)"
        strokeWidth="1"
        className="swatch-end"
      />
    </svg>
  );
}
