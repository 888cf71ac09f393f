/** What is printed on one label, as vectors in millimetres: lines of type and the code's squares. */
import { Fragment } from "react";
import type { LaidOne } from "./asked.ts";
import { tenths } from "./asked.ts";

type Laid = NonNullable<LaidOne["laid"]>;

/** Paper is white and its print black in either theme. */
const INK = "#191a18";

export function LabelPrint({ laid }: { readonly laid: Laid }) {
  const { code } = laid;
  return (
    <>
      {code ? (
        <path
          d={squares(code)}
          transform={`translate(${code.x_mm} ${code.y_mm})`}
          fill={INK}
          shapeRendering="crispEdges"
        />
      ) : null}
      {laid.lines.map((line) => (
        <Fragment key={line.y_mm}>
          <text
            x={line.x_mm}
            y={line.y_mm}
            fontSize={line.size_mm}
            textLength={line.width_mm > 0 ? line.width_mm : undefined}
            lengthAdjust="spacingAndGlyphs"
            className={line.face === "bold" ? "label-line label-head" : "label-line"}
          >
            {line.text}
          </text>{" "}
        </Fragment>
      ))}
    </>
  );
}

function squares({ dark, columns, rows, module_mm: side }: NonNullable<Laid["code"]>): string {
  const bars: string[] = [];
  for (let row = 0; row < rows; row += 1) {
    for (const bar of dark.slice(row * columns, (row + 1) * columns).matchAll(/1+/g))
      bars.push(`M${bar.index * side} ${row * side}h${bar[0].length * side}v${side}h${-bar[0].length * side}z`);
  }
  return bars.join("");
}

/** Widest and tallest that one label is drawn, in pixels. */
const WIDE = 520;
const TALL = 180;
const MOST_PER_MM = 8;

/** One label with its measures. */
export function LabelDrawing({
  laid,
  corner_mm,
  words,
}: {
  readonly laid: Laid;
  readonly corner_mm: number;
  readonly words: string;
}) {
  const scale = Math.min(WIDE / laid.width_mm, TALL / laid.height_mm, MOST_PER_MM);
  const [width, height] = [laid.width_mm * scale, laid.height_mm * scale];
  const { code } = laid;
  const side = code ? code.columns * code.module_mm : 0;
  return (
    <figure className="label-one">
      <svg
        width={width + 96}
        height={height + (code ? 52 : 30)}
        viewBox={`-2 -26 ${width + 96} ${height + (code ? 52 : 30)}`}
        role="img"
        aria-label={words}
      >
        <g transform={`scale(${scale})`}>
          <rect width={laid.width_mm} height={laid.height_mm} rx={corner_mm} fill="#fff" />
          {laid.print_height_mm < laid.height_mm ? (
            <rect
              y={laid.print_top_mm}
              width={laid.width_mm}
              height={laid.print_height_mm}
              className="label-printable"
              strokeDasharray="1 1"
            />
          ) : null}
          <LabelPrint laid={laid} />
        </g>
        <rect width={width} height={height} rx={corner_mm * scale} className="label-edge" />
        <Measure from={[0, -14]} to={[width, -14]} words={`${tenths(laid.width_mm)} mm`} />
        <Measure from={[width + 14, 0]} to={[width + 14, height]} words={`${tenths(laid.height_mm)} mm`} />
        {code ? (
          <Measure
            from={[code.x_mm * scale, height + 14]}
            to={[(code.x_mm + side) * scale, height + 14]}
            words={`${tenths(side)} mm`}
          />
        ) : null}
      </svg>
    </figure>
  );
}

type Point = readonly [number, number];

/** A dimension line: its length in words beside or across it. */
function Measure({
  from: [ax, ay],
  to: [bx, by],
  words,
}: {
  readonly from: Point;
  readonly to: Point;
  readonly words: string;
}) {
  const level = ay === by;
  const [dx, dy] = level ? [0, 4] : [4, 0];
  const middle = [(ax + bx) / 2, (ay + by) / 2] as const;
  return (
    <g className="label-measure">
      <path
        d={`M${ax} ${ay}L${bx} ${by}M${ax - dx} ${ay - dy}L${ax + dx} ${ay + dy}M${bx - dx} ${by - dy}L${bx + dx} ${by + dy}`}
      />
      {level && bx - ax < 72 ? (
        <text x={bx + 8} y={ay + 4}>
          {words}
        </text>
      ) : level ? (
        <>
          <rect x={middle[0] - 32} y={ay - 8} width="64" height="16" />
          <text x={middle[0]} y={ay + 4} textAnchor="middle">
            {words}
          </text>
        </>
      ) : (
        <text x={ax + 8} y={middle[1] + 4}>
          {words}
        </text>
      )}
    </g>
  );
}
