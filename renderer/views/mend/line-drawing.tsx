/** The cut cable to scale along its way: the break, the coils and marks at its stops, and where a plan splices and pulls. */
import type { MendLine, MendWholePlan } from "../../../core/repair/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";

const K = textScale();
const SIDE = 64 * K;
const Y = 78 * K;
/** Words of neighbours closer than this stand on two levels. */
const CLOSE = 92 * K;

export function LineDrawing({
  tag,
  line,
  unit,
  somewhere,
  plan,
}: {
  readonly tag: string;
  readonly line: MendLine;
  /** What its marks are printed in. */
  readonly unit: "m" | "ft" | null;
  /** Nobody knows where on what is lost it is cut. */
  readonly somewhere: boolean;
  readonly plan: (MendWholePlan & { readonly number: number }) | null;
}) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const length = useLength();
  const inner = Math.max(40, width - 2 * SIDE);
  const x = (at_m: number): number => SIDE + (at_m / (line.end_m || 1)) * inner;
  const pulled = new Map(
    [...(plan?.sides ?? []), ...(plan?.loops ?? [])].flatMap(({ pulls }) =>
      pulls.map(({ stop, pulled_m }) => [stop.id, pulled_m] as const),
    ),
  );
  const points = new Set(plan?.points.flatMap(({ place, words }) => (place ? [words] : [])));
  const holes = plan?.points.flatMap(({ place, at_m, words }) => (place ? [] : [{ at_m, words }])) ?? [];
  let level = 0;
  let last = Number.NEGATIVE_INFINITY;
  const stops = line.stops.map((stop) => {
    const at = x(stop.at_m + stop.through_m / 2);
    level = at - last < CLOSE ? (level + 1) % 3 : 0;
    last = at;
    return { ...stop, at, level };
  });
  const deepest = Math.max(0, ...stops.map((stop) => stop.level));
  const [from, to] = [x(line.lost_from_m), x(line.lost_to_m)];
  const cut = somewhere ? (from + to) / 2 : x(line.cut_m);
  const words = [
    somewhere
      ? say`${tag} to scale, cut somewhere from ${length(line.lost_from_m)} to ${length(line.lost_to_m)} along its way`
      : say`${tag} to scale, cut ${length(line.cut_m)} along its way`,
    ...stops.map(
      ({ name, coil_m }) =>
        `${name}, ${coil_m === null ? say`coil not known` : coil_m === 0 ? say`no coil` : say`coil ${length(coil_m, 1)}`}`,
    ),
  ];
  const inPlace = stops.some(({ at }) => Math.abs(at - cut) < 12);
  return (
    <div ref={holder} className="mend-line">
      <svg width={width} height={Y + 66 * K + 44 * K * deepest} role="img" aria-label={`${words.join("; ")}.`}>
        <path d={`M${x(0)} ${Y}H${from}M${to} ${Y}H${x(line.end_m)}`} stroke="var(--ink)" strokeWidth="3" />
        <path d={`M${from} ${Y}H${to}`} stroke="var(--ink)" strokeWidth="3" strokeDasharray="2 3" />
        {somewhere ? null : (
          <g stroke="var(--ink)" strokeWidth="2.5" transform={`translate(${cut} ${Y})`}>
            <path d="M-7 -9L7 9M-7 9L7 -9" />
          </g>
        )}
        {holes.map(({ at_m, words }) => (
          <rect
            key={words}
            x={x(at_m) - 13}
            y={Y - 13}
            width="26"
            height="26"
            fill="none"
            stroke="var(--ink)"
            strokeWidth="2"
          />
        ))}
        {plan?.landed ? (
          <path
            d={`M${x(plan.landed.at_m) - 12} ${Y + 12}H${x(plan.landed.at_m) + 12}V${Y - 12}H${x(plan.landed.at_m) - 12}Z`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth="2"
            strokeDasharray="4 3"
          />
        ) : null}
        <text
          className="strip-length mend-pull"
          // Cut in a place the word stands beside the line that leads to the place's name.
          x={cut + (inPlace ? 7 : 0)}
          y={Y - 20}
          textAnchor={inPlace ? "start" : "middle"}
        >
          {somewhere ? say`cut somewhere here` : say`cut`}
        </text>
        {stops.map((stop) => {
          const splice = points.has(stop.name);
          const down = Y + 20 + 44 * K * stop.level;
          const mark = [stop.mark_in, stop.mark_out].filter((one) => one !== null).join(" | ");
          const pull = pulled.get(stop.stop.id);
          return (
            <g key={stop.stop.id} textAnchor="middle">
              <path d={`M${stop.at} ${Y - 9}V${Y - 40 - 14 * K * stop.level}`} stroke="var(--ink3)" />
              <circle
                cx={stop.at}
                cy={Y}
                r="6.5"
                fill={stop.kind === "opened" || stop.kind === "severed" ? "var(--ink)" : "var(--paper)"}
                stroke="var(--ink)"
                strokeWidth="2"
              />
              {splice ? (
                <rect
                  x={stop.at - 13}
                  y={Y - 13}
                  width="26"
                  height="26"
                  fill="none"
                  stroke="var(--ink)"
                  strokeWidth="2"
                />
              ) : null}
              <text className="strip-tag" x={stop.at} y={Y - 44 - 14 * K * stop.level}>
                {stop.place?.tag ?? stop.name}
              </text>
              <path d={`M${stop.at} ${Y + 9}V${down}`} stroke="var(--ink3)" />
              <text className="strip-length" x={stop.at} y={down + 12 * K}>
                {stop.coil_m === null
                  ? say`coil ?`
                  : stop.coil_m === 0
                    ? say`no coil`
                    : say`coil ${length(stop.coil_m, 1)}`}
              </text>
              <text className="strip-length" x={stop.at} y={down + 25 * K}>
                {mark === "" ? say`no mark` : `${mark} ${unit ?? ""}`.trim()}
              </text>
              {pull === undefined ? null : (
                <text className="strip-length mend-pull" x={stop.at} y={down + 38 * K}>
                  {say`pull ${length(pull, 1)}`}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <p className="mend-legend">
        {say`To scale along the way. ${somewhere ? say`Dotted is where the break may be, and what is given up` : say`× is the break, dotted what is lost`}; under each stop its coil and the marks at its mouths.`}
        {plan && plan.points.length > 0 ? say` A square: way ${plan.number} splices there.` : ""}
        {plan?.landed ? say` A broken square: new cable is landed there in place of the old.` : ""}
      </p>
    </div>
  );
}
