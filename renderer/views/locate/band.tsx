/** The break between its two places, to scale: the band that is likely, the bound, and what lies within. */
import type { BreakPlace } from "../../../core/locate/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";

const K = textScale();
const SIDE = 72 * K;
const Y = 54 * K;

export function BandDrawing({ place: { where, band } }: { readonly place: BreakPlace }) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const length = useLength();
  const [a, b] = where.between;
  if (!a || !b) return <div ref={holder} className="locate-none soft" />;
  const whole = a.metres + b.metres;
  const inner = width - 2 * SIDE;
  const x = (metres: number): number => SIDE + (Math.min(Math.max(metres, 0), whole) / (whole || 1)) * inner;
  const at = a.metres;
  return (
    <div ref={holder}>
      <svg
        width={width}
        height={112 * K}
        role="img"
        aria-label={say`Between ${a.words} and ${b.words}, ${length(whole)} apart: the break ${length(at)} from the first, likely within ${length(band.likely_m)} to either side, at most ${length(band.nearer_m)} nearer to the first and ${length(band.farther_m)} farther.`}
      >
        <rect
          x={x(at - band.nearer_m)}
          width={Math.max(2, x(at + band.farther_m) - x(at - band.nearer_m))}
          y={Y - 16}
          height={32}
          fill="none"
          stroke="var(--ink3)"
          strokeDasharray="2 3"
        />
        <rect
          x={x(at - band.likely_m)}
          width={Math.max(2, x(at + band.likely_m) - x(at - band.likely_m))}
          y={Y - 16}
          height={32}
          fill="var(--accent-soft)"
          stroke="var(--accent)"
        />
        <path d={`M${SIDE} ${Y}H${SIDE + inner}`} stroke="var(--ink)" strokeWidth="4" />
        <path d={`M${x(at) - 5} ${Y - 11}l10 22M${x(at) + 5} ${Y - 11}l-10 22`} stroke="var(--ink)" strokeWidth="2.5" />
        {[a, b].map((place, index) => (
          <g key={place.words} transform={`translate(${index === 0 ? SIDE : SIDE + inner} ${Y})`} textAnchor="middle">
            <circle r="7" fill="var(--paper)" stroke="var(--ink)" strokeWidth="2" />
            <text className="strip-tag" y={-26}>
              {place.place?.tag ?? place.words}
            </text>
            <text className="strip-length" y={34}>
              {length(place.metres)}
            </text>
          </g>
        ))}
        <text className="strip-length" x={x(at)} y={Y + 34} textAnchor="middle">
          {say`± ${length(band.likely_m)} likely`}
        </text>
        <text className="strip-length" x={SIDE} y={106 * K}>
          {say`To scale along the sheath. Filled: 95 of 100 breaks lie so near; dotted: every term at its worst.`}
        </text>
      </svg>
    </div>
  );
}
