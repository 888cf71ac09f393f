/**
 * A length of glass as it lies: its tube outside, the strand inside, both in their colours. A stripe runs along, a ring
 * goes round, as many to a group as the dozen asks; clear glass is a dashed edge. Drawn with strokes, so that a straight
 * run can span percents while its width stays in pixels, and a run may bend.
 */
import type { ColourLayer } from "../../core/trace/answer.ts";
import { markPaint, type Paint, type PaintedLayer, paintedLayers } from "./colours.ts";

export type Course =
  | { readonly d: string }
  | {
      readonly x1: number | string;
      readonly y1: number | string;
      readonly x2: number | string;
      readonly y2: number | string;
    };

interface StrokeProps {
  readonly course: Course;
  readonly colour: string;
  readonly width: number;
  readonly dash?: string;
  readonly cap?: "butt" | "round";
}

function Stroke({ course, colour, width, dash, cap = "butt" }: StrokeProps) {
  const stroke = { stroke: colour, strokeWidth: width, strokeDasharray: dash, strokeLinecap: cap, fill: "none" };
  return "d" in course ? <path d={course.d} {...stroke} /> : <line {...course} {...stroke} />;
}

/** Dashes of one group and the gap after it: `count` dashes of `on`, `off` apart. */
const groups = (count: number, on: number, off: number, gap: number): string =>
  Array.from({ length: count }, (_, index) => `${on} ${index === count - 1 ? gap : off}`).join(" ");

/** Most marks of a group that are still told apart; the words beside it give the number. */
const MOST_MARKS = 5;

function Mark({ course, mark, width }: { course: Course; mark: PaintedLayer["mark"]; width: number }) {
  if (!mark) return null;
  const count = Math.min(mark.count, MOST_MARKS);
  return mark.kind === "stripe" ? (
    <Stroke
      course={course}
      colour={markPaint(mark.colour)}
      width={Math.min(1.8, width * 0.36)}
      dash={groups(count, 6, 2, 5)}
    />
  ) : (
    <Stroke course={course} colour={markPaint(mark.colour)} width={width} dash={groups(count, 2, 2, 7)} />
  );
}

/** One coat: edge, fill, and marks. Clear glass shows the ground through and a dashed edge. */
function Coat({ course, paint, width, edge }: { course: Course; paint: Paint; width: number; edge: string }) {
  if (paint.fill === null) {
    return (
      <>
        <Stroke course={course} colour={edge} width={width} dash="3 2.5" />
        <Stroke course={course} colour="var(--paper)" width={width - 2} />
      </>
    );
  }
  return (
    <>
      <Stroke course={course} colour={edge} width={width} />
      <Stroke course={course} colour={paint.fill} width={width - 2} />
    </>
  );
}

export interface RunProps {
  readonly course: Course;
  readonly colours: readonly ColourLayer[];
  /** Over all, in pixels; a strand without a tube is drawn two fifths as wide. */
  readonly width?: number;
}

export function Run({ course, colours, width = 14 }: RunProps) {
  const { tubes, strand } = paintedLayers(colours);
  const inner = tubes.length === 0 ? width * 0.5 : width * 0.36;
  const [outerTube, innerTube] = tubes;
  return (
    <g>
      {outerTube ? (
        <Tube
          course={course}
          layer={outerTube}
          width={width}
          within={innerTube ? width * 0.7 : inner}
          edge="var(--outline)"
        />
      ) : null}
      {innerTube && outerTube ? (
        <Tube course={course} layer={innerTube} width={width * 0.7} within={inner} edge={outerTube.paint.hairline} />
      ) : null}
      {strand ? (
        <>
          <Coat
            course={course}
            paint={strand.paint}
            width={inner + (tubes.length > 0 ? 1.6 : 2)}
            edge={(innerTube ?? outerTube)?.paint.hairline ?? "var(--outline)"}
          />
          <Mark course={course} mark={strand.mark} width={inner} />
        </>
      ) : null}
    </g>
  );
}

/** A tube with its marks on the two bands that stay visible beside what lies inside. */
function Tube({
  course,
  layer,
  width,
  within,
  edge,
}: {
  course: Course;
  layer: PaintedLayer;
  width: number;
  within: number;
  edge: string;
}) {
  const { paint, mark } = layer;
  const band = (width - 2 - within) / 2;
  return (
    <>
      <Coat course={course} paint={paint} width={width} edge={edge} />
      {mark?.kind === "ring" ? <Mark course={course} mark={mark} width={width - 2} /> : null}
      {mark?.kind === "stripe" && paint.fill !== null ? (
        <>
          <Stroke
            course={course}
            colour={markPaint(mark.colour)}
            width={within + band + 1.4}
            dash={groups(Math.min(mark.count, MOST_MARKS), 6, 2, 5)}
          />
          <Stroke course={course} colour={paint.fill} width={Math.max(0, within + band - 1.4)} />
        </>
      ) : null}
    </>
  );
}

/** A cord: thinner than any cable, in its jacket's colour where that is on record, otherwise in ink. */
export function Cord({
  course,
  colours = [],
  assumed = false,
}: {
  course: Course;
  colours?: readonly ColourLayer[];
  assumed?: boolean;
}) {
  if (assumed) return <Stroke course={course} colour="var(--ink)" width={2} dash="2 4" cap="round" />;
  const paint = paintedLayers(colours).strand?.paint;
  return paint?.fill && !paint.unknown ? (
    <>
      <Stroke course={course} colour="var(--outline)" width={5.5} />
      <Stroke course={course} colour={paint.fill} width={3.5} />
    </>
  ) : (
    <Stroke course={course} colour="var(--ink)" width={2.5} />
  );
}

/** A sheath, closed. `unmarked`: its course is known by pathway only, so it is dotted. */
export function Sheath({
  course,
  width = 10,
  unmarked = false,
}: {
  course: Course;
  width?: number;
  unmarked?: boolean;
}) {
  return <Stroke course={course} colour="var(--ink)" width={width} {...(unmarked ? { dash: "2 3" } : {})} />;
}

/** A line whose record ends: dotted away into nothing. */
export function Fading({ course }: { course: Course }) {
  return <Stroke course={course} colour="var(--ink3)" width={2} dash="1.5 4" cap="round" />;
}
