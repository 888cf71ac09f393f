/** The pipe pointed at, enlarged: each thing in it with its name and size, and the line that measures the bore. */
import type { Pipe } from "../../../core/pathway/answer.ts";
import { say } from "../../../core/words/say.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { textScale } from "../../drawing/text-scale.ts";
import { InsidePipe, lyingOn } from "./inside-pipe.tsx";

const K = textScale();
const R = 104;
const [LEFT, TOP] = [R + 12, R + 14];
/** Where names begin, and how far they stand from each other. */
const NAMES = 2 * R + 52;
const STEP = 20 * K;
const MOST_NAMED = 11;

const sizeWords = (mm: number | null): string => (mm === null ? say`size not given` : `${mm}\u202fmm`);

/** Beside what they name where there is room, never closer to each other than a step. */
function heights(wanted: readonly number[]): readonly number[] {
  const lowest = 2 * R + 10;
  const down: number[] = [];
  for (const y of wanted) down.push(Math.max(y, (down.at(-1) ?? -STEP) + STEP, 34 * K));
  const over = Math.max(0, (down.at(-1) ?? 0) - lowest);
  // The last ones move up, and push those above them.
  let limit = Number.POSITIVE_INFINITY;
  return down
    .toReversed()
    .map((y, index) => {
      limit = Math.min(index === 0 ? y - over : y, index === 0 ? limit : limit - STEP);
      return limit;
    })
    .toReversed();
}

export function Enlarged({ pipe, pipes }: { readonly pipe: Pipe; readonly pipes: readonly Pipe[] }) {
  const bore = pipe.inner_diameter_mm;
  const perMm = bore !== null && bore > 0 ? (2 * R) / bore : null;
  const lying = lyingOn({ pipe, pipes, r: R, perMm });
  const named = lying.slice(0, MOST_NAMED).toSorted((one, other) => one.disc.y - other.disc.y);
  const ys = heights(named.map(({ disc }) => TOP + disc.y));
  return (
    <svg className="bank-enlarged" width={NAMES + 190 * K} height={2 * R + 62 * K} aria-hidden="true">
      <text className="bank-words" x={NAMES} y={14 * K}>
        {sayWith`pipe ${<tspan className="bank-number">{pipe.conduit.tag.split("/").at(-1)}</tspan>}, enlarged`}
      </text>
      <g transform={`translate(${LEFT} ${TOP})`}>
        <circle
          r={R + 2}
          fill="var(--paper)"
          stroke="var(--ink)"
          strokeWidth="3"
          strokeDasharray={perMm === null ? "5 4" : undefined}
        />
        <InsidePipe pipe={pipe} pipes={pipes} r={R} perMm={perMm} />
      </g>
      {named.map(({ disc, pipe: inner, cable }, index) => {
        const y = ys[index] ?? TOP;
        const [x1, y1] = [LEFT + disc.x, TOP + disc.y];
        const tag = inner ? (inner.conduit.tag.split("/").at(-1) ?? "") : (cable?.cable.tag ?? "");
        return (
          <g key={inner ? `pipe ${inner.conduit.id}` : cable?.cable.id}>
            <path d={`M${x1} ${y1}L${NAMES - 22} ${y}H${NAMES - 6}`} fill="none" stroke="var(--ink3)" />
            <circle cx={x1} cy={y1} r="2" fill="var(--paper)" stroke="var(--ink3)" />
            <text x={NAMES} y={y + 4 * K}>
              <tspan className="bank-number">{tag}</tspan>
              <tspan className="bank-words" dx="8">
                {inner ? say`pipe, ${sizeWords(inner.inner_diameter_mm)}` : sizeWords(cable?.outer_diameter_mm ?? null)}
              </tspan>
            </text>
          </g>
        );
      })}
      {lying.length === 0 ? (
        <text className="bank-words" x={NAMES - 20} y={TOP + 4}>
          {say`nothing in it`}
        </text>
      ) : null}
      {lying.length > MOST_NAMED ? (
        <text className="bank-words" x={NAMES} y={(ys.at(-1) ?? TOP) + STEP + 4 * K}>
          {say`and ${lying.length - MOST_NAMED} more`}
        </text>
      ) : null}
      <g transform={`translate(${LEFT} ${TOP + R + 20})`}>
        <path d={`M${-R}-5V5M${R}-5V5M${-R} 0H-34M34 0H${R}`} stroke="var(--ink2)" fill="none" />
        <text className="bank-words" textAnchor="middle" y="4">
          {sizeWords(bore)}
        </text>
      </g>
    </svg>
  );
}
