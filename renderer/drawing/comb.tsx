/** One bar a strand, by what it is doing: full, half, hollow, stub, split, flagged. */
import type { StrandState } from "../../core/trace/answer.ts";

const H = 18;
const INK = "var(--ink)";

/** A bar around the middle of its foot, `width` pixels wide. */
export function CombBar({ state, width = 5 }: { readonly state: StrandState; readonly width?: number }) {
  const x = -width / 2;
  switch (state) {
    case "in_service":
      return <rect x={x} y={-H} width={width} height={H} fill={INK} />;
    case "leased":
      return (
        <g>
          <rect x={x} y={-H} width={width} height={H} fill={INK} />
          <rect x={-0.75} y={-H + 3} width="1.5" height={H - 6} fill="var(--paper)" />
        </g>
      );
    case "reserved":
      return (
        <g>
          <Hollow width={width} />
          <rect x={x} y={-H / 2} width={width} height={H / 2} fill={INK} />
        </g>
      );
    case "planned":
      return <Hollow width={width} colour="var(--accent)" dash="2 1.5" />;
    case "spare":
      return <Hollow width={width} />;
    case "dead":
      return <rect x={-0.75} y={-5} width="1.5" height="5" fill={INK} />;
    case "broken":
      return (
        <g fill={INK}>
          <rect x={x} y={-H} width={width} height={H / 2 - 3} />
          <rect x={x} y={-H / 2 + 3} width={width} height={H / 2 - 3} />
        </g>
      );
    case "assigned_twice":
      return (
        <g fill={INK}>
          <rect x={x} y={-H} width={width} height={H} />
          <rect x={-width / 2 - 0.5} y={-H - 7} width={width + 1} height="5" />
        </g>
      );
    case "unknown":
      return <Hollow width={width} dash="1.5 2" />;
  }
}

function Hollow({ width, colour = INK, dash }: { width: number; colour?: string; dash?: string }) {
  return (
    <rect
      x={-width / 2 + 0.5}
      y={-H + 0.5}
      width={width - 1}
      height={H - 1}
      fill="var(--paper)"
      stroke={colour}
      strokeDasharray={dash}
    />
  );
}

/** Height of the bars, and with the flag above them. */
export const COMB_HEIGHT = H;
export const COMB_FLAGGED = H + 8;
