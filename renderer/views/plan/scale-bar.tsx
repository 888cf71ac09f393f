/** North and a round length, as long as it is drawn. */
import { roundLength } from "../../../core/paper/campus.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";

export function ScaleBar({ scale, width }: { readonly scale: number; readonly width: number }) {
  const length = useLength();
  const metres = roundLength(Math.max(width / 5, 60) / scale);
  const wide = metres * scale;
  return (
    <div className="plan-scale">
      <span className="hush">{say`North is up; the bar is ${length(metres, metres < 1 ? 1 : 0)} long.`}</span>
      <svg width="22" height="34" aria-hidden="true">
        <path d="M11 13 17 32 11 27 5 32Z" fill="var(--ink)" />
        <text x="11" y="10" textAnchor="middle" className="plan-north">
          N
        </text>
      </svg>
      <svg width={wide + 60} height="34" aria-hidden="true">
        <g>
          <text x="0" y="12" className="plan-scale-words">
            0
          </text>
          <text x={wide} y="12" textAnchor="middle" className="plan-scale-words">
            {length(metres, metres < 1 ? 1 : 0)}
          </text>
          <rect x="1" y="19" width={wide / 2} height="5" fill="var(--ink)" stroke="var(--ink)" />
          <rect x={1 + wide / 2} y="19" width={wide / 2} height="5" fill="var(--paper)" stroke="var(--ink)" />
        </g>
      </svg>
    </div>
  );
}
