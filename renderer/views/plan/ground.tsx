/** What is drawn in metres: footprints, ways by kind, and what is asked about on top of them. */
import { memo, useMemo } from "react";
import type { PlanAnswer, Spot } from "../../../core/campus-plan/answer.ts";
import { type LineStyle, wayStyle } from "../../../core/paper/campus.ts";
import type { Camera, Size } from "./camera.ts";
import { askedStroke, Lines, pathOf, STROKES } from "./strokes.tsx";
import { keyOf, type Thing } from "./things.ts";

interface GroundProps {
  readonly plan: PlanAnswer;
  readonly view: Camera;
  readonly size: Size;
  readonly selected: Thing | null;
  readonly asked: ReadonlySet<string>;
}

export const Ground = memo(function Ground({ plan, view, size, selected, asked }: GroundProps) {
  const plain = useMemo(() => {
    const byStyle = new Map<LineStyle, (readonly Spot[])[]>();
    for (const { points, kind, shape } of plan.ways) {
      if (!points) continue;
      const style = wayStyle(kind, shape);
      const alike = byStyle.get(style);
      if (alike) alike.push(points);
      else byStyle.set(style, [points]);
    }
    return [...byStyle].map(([style, lines]) => ({ style, d: pathOf(lines) }));
  }, [plan]);
  const footprints = useMemo(() => {
    const of = (wanted: boolean) =>
      pathOf(plan.places.flatMap(({ outline, ref }) => (outline && asked.has(keyOf(ref)) === wanted ? [outline] : [])));
    return { plain: of(false), strong: of(true) };
  }, [plan, asked]);
  const lit = useMemo(
    () =>
      plan.asked.flatMap(({ legs }, n) =>
        [false, true].map((straight) => ({
          key: `${n} ${straight}`,
          d: pathOf(
            legs.flatMap(({ points, shape }) => (points && (shape === "straight") === straight ? [points] : [])),
          ),
          strokes: askedStroke(n, straight),
        })),
      ),
    [plan],
  );
  const outline = selected?.place?.outline;
  const line = selected?.way?.points;
  const { east, north, scale } = view;
  return (
    <g
      transform={`translate(${size.width / 2 - east * scale} ${size.height / 2 + north * scale}) scale(${scale} ${-scale})`}
    >
      <path
        d={footprints.plain}
        fill="var(--sunk)"
        stroke="var(--outline)"
        strokeWidth="1.25"
        vectorEffect="non-scaling-stroke"
      />
      <path
        d={footprints.strong}
        fill="var(--sunk)"
        stroke="var(--ink)"
        strokeWidth="3"
        vectorEffect="non-scaling-stroke"
      />
      {outline ? (
        <path
          d={pathOf([outline])}
          fill="var(--accent-soft)"
          stroke="var(--accent)"
          strokeWidth="2.5"
          vectorEffect="non-scaling-stroke"
        />
      ) : null}
      {line ? <Lines d={pathOf([line])} strokes={[{ width: 15, colour: "var(--accent-soft)" }]} /> : null}
      {plain.map(({ style, d }) => (
        <Lines key={style} d={d} strokes={STROKES[style]} />
      ))}
      {lit.map(({ key, d, strokes }) => (
        <Lines key={key} d={d} strokes={strokes} />
      ))}
    </g>
  );
});
