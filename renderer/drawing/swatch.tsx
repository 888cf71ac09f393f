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
        // By itself it fills the swatch, edges and all; inside a tube only its ends are open.
        d={`M0.5 0V${height}M${width - 0.5} 0V${height}${alone ? `M0 0.5H${width}M0 ${height - 0.5}H${width}` : ""}`}
        stroke="var(--outline)"
        strokeWidth="1"
        className="swatch-end"
      />
    </svg>
  );
}
