/** A cable to scale along its way: what lies open, the coils at its stops, and the coils that would cure it. */
import { useId } from "react";
import type { CoilsCure, CoilsLine, CoilsStretch } from "../../../core/repair/coils/answer.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";

const K = textScale();
const SIDE = 64 * K;
const Y = 74 * K;
const HALF = 13;
/** Words of neighbours closer than this stand on two levels. */
const CLOSE = 84 * K;

type State = CoilsStretch["state"];

/** Each state has its own texture, so that none is told by colour alone. */
function Textures({ id }: { readonly id: string }) {
  return (
    <defs>
      <pattern id={`${id}-lacks`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path d="M0 0V6" stroke="var(--ink)" strokeWidth="3" />
      </pattern>
      <pattern id={`${id}-to_prove`} width="6" height="6" patternUnits="userSpaceOnUse">
        <circle cx="3" cy="3" r="1.4" fill="var(--ink)" />
      </pattern>
    </defs>
  );
}

const fillOf = (id: string, state: State): string => (state === "untold" ? "none" : `url(#${id}-${state})`);

/** Whether it is so with a pull to one side or the other. */
const eitherWay = ({ slides, slides_back }: CoilsLine["legs"][number], so: "no" | "unproven"): boolean =>
  slides === so || slides_back === so;

/** The texture beside its word. */
export function StateMark({ state }: { readonly state: State }) {
  const id = useId();
  return (
    <svg width="18" height="12" aria-hidden="true">
      <Textures id={id} />
      <rect
        x="0.75"
        y="0.75"
        width="16.5"
        height="10.5"
        fill={fillOf(id, state)}
        stroke="var(--ink)"
        strokeDasharray={state === "untold" ? "2 2" : undefined}
      />
    </svg>
  );
}

export function LineDrawing({
  line,
  cable,
  stretches,
  cure,
}: {
  readonly line: CoilsLine;
  readonly cable: RecordRef | null;
  readonly stretches: readonly CoilsStretch[];
  readonly cure: CoilsCure | null;
}) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const length = useLength();
  const id = useId();
  const inner = Math.max(40, width - 2 * SIDE);
  const x = (at_m: number): number => SIDE + (at_m / (line.end_m || 1)) * inner;
  const states = (["lacks", "to_prove", "untold"] as const).filter((state) =>
    stretches.some((one) => one.state === state),
  );
  const more = new Map(cure?.coils.map(({ stop, more_m }) => [stop.id, more_m]));
  const coilWords = (stop: CoilsLine["stops"][number]): string => {
    const { coil_left_m: a, coil_right_m: b } = stop;
    const one = (coil: number | null): string =>
      coil === null ? "coil ?" : coil === 0 ? say`no coil` : length(coil, 1);
    return stop.kind === "opened" && a !== b ? `${one(a)} | ${one(b)}` : one(a);
  };
  let level = 0;
  let last = Number.NEGATIVE_INFINITY;
  const stops = line.stops.map((stop) => {
    const at = x(stop.left_m + stop.through_m / 2);
    level = at - last < CLOSE ? (level + 1) % 3 : 0;
    last = at;
    return { ...stop, at, level };
  });
  const deepest = Math.max(0, ...stops.map((stop) => stop.level));
  const height = Y + 52 * K + 28 * K * deepest;
  const told = stretches.map(({ from, to, state }) => say`${WORDS[state]} from ${from.words} to ${to.words}`);
  return (
    <div ref={holder}>
      <svg
        width={width}
        height={height}
        role="img"
        aria-label={say`${cable?.tag ?? say`The cable`} to scale: ${told.length > 0 ? told.join("; ") : say`mended from coils wherever it is cut`}.`}
      >
        <Textures id={id} />
        {line.legs.map((leg, at) => {
          const [a, b] = [line.stops[at], line.stops[at + 1]];
          if (!a || !b) return null;
          return (
            <path
              key={a.stop.id}
              d={`M${x(a.left_m)} ${Y}H${x(b.left_m + b.through_m)}`}
              stroke="var(--ink)"
              strokeWidth={eitherWay(leg, "no") ? 7 : 3}
              strokeDasharray={eitherWay(leg, "unproven") ? "8 4" : undefined}
            />
          );
        })}
        {stretches.map(({ from, to, state }) => (
          <rect
            key={from.at_m}
            x={x(from.at_m)}
            width={Math.max(2, x(to.at_m) - x(from.at_m))}
            y={Y - HALF}
            height={2 * HALF}
            fill={fillOf(id, state)}
            stroke="var(--ink)"
            strokeDasharray={state === "untold" ? "2 2" : undefined}
          />
        ))}
        {line.gaps_m.map((at_m) => (
          <path
            key={at_m}
            d={`M${x(at_m) - 7} ${Y + HALF + 6}l6 ${-2 * HALF - 12}m2 ${2 * HALF + 12}l6 ${-2 * HALF - 12}`}
            stroke="var(--ink)"
            strokeWidth="2"
          />
        ))}
        {stops.map((stop) => (
          <g key={stop.stop.id} transform={`translate(${stop.at} ${Y})`} textAnchor="middle">
            <path d={`M0 ${-HALF - 4}V${-22 - 15 * K * stop.level}`} stroke="var(--ink3)" />
            <circle
              r="7"
              fill={stop.kind === "opened" || stop.kind === "severed" ? "var(--ink)" : "var(--paper)"}
              stroke="var(--ink)"
              strokeWidth="2"
            />
            <text className="strip-tag" y={-26 - 15 * K * stop.level}>
              {stop.place?.tag ?? stop.words}
            </text>
            <path d={`M0 ${HALF + 4}V${20 + 28 * K * stop.level}`} stroke="var(--ink3)" />
            <text className="strip-length" y={32 * K + 28 * K * stop.level}>
              {coilWords(stop)}
            </text>
            {more.has(stop.stop.id) ? (
              <text className="strip-length coils-more" y={45 * K + 28 * K * stop.level}>
                +{length(more.get(stop.stop.id) ?? 0, 1)}
              </text>
            ) : null}
          </g>
        ))}
      </svg>
      <p className="coils-legend">
        <span>{say`To scale along the way, coils below the stops, + what would cure it.`}</span>
        {states.map((state) => (
          <span key={state}>
            <StateMark state={state} /> {WORDS[state]}
          </span>
        ))}
        {line.gaps_m.length > 0 ? <span>{say`Two strokes: a gap, drawn as if there were none.`}</span> : null}
        <span>{say`Thick: can't slide, at least one way; dashed: not proven to.`}</span>
      </p>
    </div>
  );
}

const WORDS: Readonly<Record<State, string>> = {
  lacks: say`can't be mended from coils`,
  to_prove: say`only by legs that are not proven to slide`,
  untold: say`can't be told`,
};
