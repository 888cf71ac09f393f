/** Loss against distance: one curve a wavelength, told apart by their dashes and by the name at each end. */
import { metresAs } from "../../../core/model/units.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { count, decimal } from "../../controls/figures.ts";
import { roundStep, stepsTo } from "../../drawing/scale.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { type Bound, type Curve, type Stretch, sumWords } from "./curves.ts";

const K = textScale();
const [LEFT, RIGHT, TOP] = [64 * K, 156 * K, 12 * K];
const LINE = 15 * K;
/** The first is drawn whole; the others are told apart in print and by those who see no colours. */
const DASHES = ["", "7 3", "2 3", "9 3 2 3", "1 4"];

export function LossChart({
  curves,
  bound,
  selected,
  tall,
}: {
  readonly curves: readonly Curve[];
  /** The loss at which what is wanted no longer runs. */
  readonly bound: Bound | null;
  /** The term pointed at, on the first curve. */
  readonly selected: Stretch | null;
  readonly tall: boolean;
}) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const { unit } = useSettings();
  const longest = Math.max(...curves.flatMap(({ points }) => points.map(({ m }) => m)));
  const most = Math.max(...curves.flatMap(({ points }) => points.map(({ db }) => db)));
  if (!(longest > 0) || !(most > 0)) {
    return (
      <p ref={holder} className="loss-none soft">
        {say`Nothing to draw: neither a length nor a loss is known here.`}
      </p>
    );
  }
  // What bears far more than is lost would flatten the curve; then it is said in words alone.
  const inside = bound && bound.db <= most * 2.5 ? bound : null;
  const deepest = Math.max(most, inside?.db ?? 0);
  const height = (tall ? 168 : 96) * K;
  const inner = width - LEFT - RIGHT;
  const x = (m: number): number => (m / longest) * inner;
  const y = (db: number): number => (db / deepest) * height;
  const total = metresAs(longest, unit);
  const along = roundStep(total, Math.max(2, Math.floor(inner / (130 * K))));
  const down = roundStep(deepest, tall ? 5 : 3);
  const names = spread(
    curves.map(({ points }) => y(points.at(-1)?.db ?? 0)),
    LINE,
  );
  return (
    <div ref={holder} className="loss-chart">
      <svg
        width={width}
        height={height + TOP + 40 * K}
        role="img"
        aria-label={say`Loss against distance. ${curves.map(said).join(" ")} The rows below say each part.`}
      >
        <g transform={`translate(${LEFT} ${TOP})`}>
          {stepsTo(deepest, down).map((db) => (
            <g key={db} transform={`translate(0 ${y(db)})`}>
              <path d={`M0 0H${inner}`} stroke="var(--rule)" />
              <text className="strip-length" x={-10} y="0.3em" textAnchor="end">
                {db === 0 ? "0 dB" : decimal(db, down < 1 ? 1 : 0)}
              </text>
            </g>
          ))}
          {selected ? (
            <rect
              x={x(selected.from.m) - 2}
              width={Math.max(4, x(selected.to.m) - x(selected.from.m) + 4)}
              y={0}
              height={height}
              fill="var(--accent-soft)"
            />
          ) : null}
          {inside ? (
            <g transform={`translate(0 ${y(inside.db)})`}>
              <path d={`M0 0H${inner}`} stroke="var(--ink)" strokeDasharray="1 3" />
              <text className="strip-length" x={inner} y={-5} textAnchor="end">
                {inside.words}
              </text>
            </g>
          ) : null}
          {curves.map(({ wavelength_nm, points }, index) => (
            <polyline
              key={wavelength_nm}
              points={points.map(({ m, db }) => `${x(m)},${y(db)}`).join(" ")}
              fill="none"
              stroke="var(--ink)"
              strokeWidth={index === 0 ? 2 : 1.5}
              strokeDasharray={DASHES[index % DASHES.length]}
              strokeLinejoin="round"
            />
          ))}
          {curves.map((curve, index) => (
            <g key={curve.wavelength_nm} transform={`translate(${inner + 10} ${names[index] ?? 0})`}>
              <path
                d={`M0 0H${22 * K}`}
                stroke="var(--ink)"
                strokeWidth={index === 0 ? 2 : 1.5}
                strokeDasharray={DASHES[index % DASHES.length]}
              />
              <text className="loss-name" x={28 * K} y={4}>
                {sumWords(curve)}
              </text>
            </g>
          ))}
          <g transform={`translate(0 ${height + 8 * K})`}>
            <path d={`M0 0H${inner}`} stroke="var(--ink2)" />
            {stepsTo(total, along).map((value) => (
              <g key={value} transform={`translate(${(value / total) * inner} 0)`}>
                <path d="M0-3V3" stroke="var(--ink2)" />
                <text className="strip-length" textAnchor="middle" y="1.0625rem">
                  {value === 0 ? "0" : `${count(value)} ${unit}`}
                </text>
              </g>
            ))}
          </g>
        </g>
      </svg>
      {curves.some(({ ends }) => ends) ? (
        <p className="loss-ends soft">{say`Drawn as far as lengths are known; what is lost beyond is in the sums.`}</p>
      ) : null}
    </div>
  );
}

const said = ({ wavelength_nm, loss_db, lacks }: Curve): string =>
  loss_db === null
    ? say`At ${wavelength_nm} nm it is not known.`
    : say`At ${wavelength_nm} nm ${asKnown(`${decimal(loss_db, 2)} dB`, !lacks)}.`;

/** Heights of names that would stand on each other, moved apart and kept in their order. */
export function spread(heights: readonly number[], least: number): readonly number[] {
  const order = heights.map((_, index) => index).sort((a, b) => (heights[a] ?? 0) - (heights[b] ?? 0));
  const placed = [...heights];
  for (const [rank, index] of order.entries()) {
    const before = rank === 0 ? Number.NEGATIVE_INFINITY : (placed[order[rank - 1] as number] ?? 0);
    placed[index] = Math.max(heights[index] ?? 0, before + least);
  }
  return placed;
}
