/** What an answer will look like, in outline, where there is none yet. */
import type { ReactNode } from "react";
import { say } from "../../core/words/say.ts";

const EDGE = { fill: "none", stroke: "var(--ink3)", strokeWidth: 1.5 } as const;

const Ghost = ({
  width,
  height,
  label,
  children,
}: {
  readonly width: number;
  readonly height: number;
  readonly label: string;
  readonly children: ReactNode;
}) => (
  <svg className="ghost" width={width} height={height} role="img" aria-label={label}>
    {children}
  </svg>
);

export const GhostLine = () => (
  <Ghost width={400} height={64} label={say`A line from place to place, through a splice`}>
    <path d="M28 32H190M210 32H372" {...EDGE} strokeDasharray="5 4" />
    <rect x="8" y="22" width="20" height="20" {...EDGE} />
    <circle cx="200" cy="32" r="10" {...EDGE} />
    <rect x="372" y="22" width="20" height="20" {...EDGE} />
    <g className="ghost-words">
      <text x="18" y="12">
        {say`a place`}
      </text>
      <text x="200" y="12" textAnchor="middle">
        {say`a splice`}
      </text>
      <text x="392" y="12" textAnchor="end">
        {say`a place`}
      </text>
      <text x="110" y="52" textAnchor="middle">
        {say`a cable`}
      </text>
      <text x="290" y="52" textAnchor="middle">
        {say`a cable`}
      </text>
    </g>
  </Ghost>
);

export const GhostComb = () => (
  <Ghost width={400} height={64} label={say`Strands as bars, tube by tube`}>
    {[0, 1, 2].map((tube) => (
      <g key={tube} transform={`translate(${tube * 110} 0)`}>
        {Array.from({ length: 12 }, (_, bar) => bar * 7).map((x) => (
          <rect
            key={x}
            x={x + 1}
            y="10"
            width="5"
            height="18"
            fill="none"
            stroke="var(--ink3)"
            strokeDasharray="2 1.5"
          />
        ))}
        <rect x="0.5" y="32.5" width="84" height="6" {...EDGE} strokeWidth="1" />
        <text className="ghost-word" x="0" y="54">
          {say`tube ${tube + 1}`}
        </text>
      </g>
    ))}
  </Ghost>
);

export const GhostSheath = () => (
  <Ghost width={400} height={64} label={say`A cable from end to end with its stops`}>
    <path d="M20 36H380" stroke="var(--ink3)" strokeWidth="8" strokeDasharray="6 4" />
    {[20, 150, 290, 380].map((x, index) => (
      <g key={x}>
        <path d={`M${x} 18V30`} {...EDGE} />
        <rect x={x - 5} y="8" width="10" height="10" rx={index === 1 ? 5 : 0} {...EDGE} />
      </g>
    ))}
    <text className="ghost-word" x="20" y="58">
      {say`an end`}
    </text>
    <text className="ghost-word" x="150" y="58" textAnchor="middle">
      {say`a stop`}
    </text>
    <text className="ghost-word" x="380" y="58" textAnchor="end">
      {say`an end`}
    </text>
  </Ghost>
);
