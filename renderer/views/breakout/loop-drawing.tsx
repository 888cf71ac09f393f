/** The opening as a crew sees it: the loop, its window, units opened and those that run on, the cut, the lateral; and what the loop takes. */
import type { BreakoutAnswer, BreakoutPlan, Half, UnitOpened } from "../../../core/breakout/answer.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { ClosureMark } from "../../drawing/joints.tsx";
import { Run, Sheath } from "../../drawing/run.tsx";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { LoopBars } from "./loop-bars.tsx";

const K = textScale();
/** Units drawn one by one; more are told as a number. */
const MOST_UNITS = 3;
const ROW = 17 * K;
const CASE_Y = 24 * K;
const FIRST_Y = 62 * K;
const HEIGHT = 236 * K;
const GROUND_Y = HEIGHT - 66 * K;
const SHEATH_Y = HEIGHT - 34 * K;

export function LoopDrawing({ answer, plan }: { readonly answer: BreakoutAnswer; readonly plan: BreakoutPlan | null }) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const beside = width >= 860 * K;
  const own = beside ? width * 0.62 : width;
  return (
    <div ref={holder} className={beside ? "breakout-drawn beside" : "breakout-drawn"}>
      <Opening answer={answer} plan={plan} width={Math.floor(own)} />
      <LoopBars loop={answer.loop} width={Math.floor(beside ? width - own : width)} />
    </div>
  );
}

interface OpeningProps {
  readonly answer: BreakoutAnswer;
  readonly plan: BreakoutPlan | null;
  readonly width: number;
}

function Opening({ answer, plan, width }: OpeningProps) {
  const length = useLength();
  const { loop, cut, ends, place, lateral, side } = answer;
  const opened = plan?.units ?? [];
  const shown = opened.slice(0, MOST_UNITS);
  const express = answer.units.length - opened.length;
  const inside = loop.reaches !== "yes" && loop.reaches !== "to_prove";
  const cx = width / 2;
  const half = Math.min(120 * K, width * 0.17);
  const [left, right] = [cx - half, cx + half];
  const rows = shown.length + 1;
  const windowY = FIRST_Y + ((rows - 1) * ROW) / 2;
  const [from, to] = [left - 14, right + 14];
  const cutX = cut.at === "middle" ? cx : cut.edge === "a" ? left + 12 : right - 12;
  const beside = (inside ? 10 : 34) * K;
  const hole = { x: from - beside, width: to - from + 2 * beside, y: inside ? 6 : GROUND_Y };
  return (
    <svg width={width} height={HEIGHT} role="img" aria-label={altText(answer, plan, length)}>
      <rect
        x={hole.x}
        y={hole.y}
        width={hole.width}
        height={HEIGHT - 18 * K - hole.y}
        fill="var(--band)"
        stroke="var(--rule2)"
        strokeDasharray="4 3"
      />
      <Sheath course={{ d: loopPath(0, left, from, windowY, width, "a") }} width={9} />
      <Sheath course={{ d: loopPath(0, right, to, windowY, width, "z") }} width={9} />
      <rect
        x={left}
        y={FIRST_Y - ROW * 0.75}
        width={right - left}
        height={rows * ROW + ROW * 0.5}
        fill="var(--paper)"
        stroke="var(--ink3)"
      />
      {shown.map((unit, index) => (
        <CutUnit
          key={unit.words}
          unit={unit}
          y={FIRST_Y + index * ROW}
          ends={[left, right]}
          cut={{ x: cutX, answer }}
        />
      ))}
      <Express count={express} y={FIRST_Y + shown.length * ROW} ends={[left, right]} />
      {opened.length > 0 ? (
        <>
          <path
            d={`M${cutX} ${FIRST_Y - 5}C${cutX} ${CASE_Y + 14} ${cx} ${FIRST_Y - 8} ${cx} ${CASE_Y + 8}`}
            fill="none"
            stroke="var(--ink)"
            strokeWidth="1.5"
          />
          <g transform={`translate(${cx} ${CASE_Y})`}>
            <ClosureMark />
          </g>
          <path d={`M${cx + 15} ${CASE_Y}H${width - 8}`} stroke="var(--ink)" strokeWidth="4" />
          <text className="strip-tag" x={width - 8} y={CASE_Y - 8} textAnchor="end">
            {say`${lateral.tag} to ${lateral.to?.tag ?? say`its far end`}`}
          </text>
          <text className="strip-length" x={width - 8} y={CASE_Y + 18 * K} textAnchor="end">
            {counted(plan?.splices.length ?? 0, "strand")}
            {lateral.length_m === null ? say`, length not known` : `, ${length(lateral.length_m)}`}
          </text>
          <text className="strip-tag" x={cx - 22} y={CASE_Y + 4} textAnchor="end">
            {plan?.case.tag}
          </text>
        </>
      ) : null}
      <UnitWords shown={shown} more={opened.length - shown.length} express={express} x={to + 20 * K} />
      <CutWords cut={cut} x={from - 20 * K} loop={loop} length={length} side={side} ends={ends} />
      <End x={8} anchor="start" half="a" answer={answer} length={length} />
      <End x={width - 8} anchor="end" half="z" answer={answer} length={length} />
      <text className="strip-tag" x={cx} y={HEIGHT - 4} textAnchor="middle">
        {place.tag}
      </text>
    </svg>
  );
}

/** From the end of the cable into the hole and up to the edge of the window. */
function loopPath(_: number, edge: number, leg: number, y: number, width: number, half: Half): string {
  const start = half === "a" ? 0 : width;
  const bend = half === "a" ? -14 : 14;
  return `M${start} ${SHEATH_Y}H${leg + bend}Q${leg} ${SHEATH_Y} ${leg} ${SHEATH_Y - 16}V${y + 14}Q${leg} ${y} ${edge} ${y}`;
}

interface CutUnitProps {
  readonly unit: UnitOpened;
  readonly y: number;
  readonly ends: readonly [number, number];
  readonly cut: { readonly x: number; readonly answer: BreakoutAnswer };
}

/** A unit that is opened: whole along the window but for the strands cut. */
function CutUnit({ unit, y, ends: [left, right], cut: { x } }: CutUnitProps) {
  return (
    <g>
      <Run course={{ x1: left, y1: y, x2: right, y2: y }} colours={unit.layers} width={9} />
      <path d={`M${x - 4} ${y + 8}L${x + 4} ${y - 8}`} stroke="var(--paper)" strokeWidth="6" />
      <path
        d={`M${x - 7} ${y + 8}L${x + 1} ${y - 8}M${x - 1} ${y + 8}L${x + 7} ${y - 8}`}
        stroke="var(--ink)"
        strokeWidth="1.75"
      />
    </g>
  );
}

const Express = ({ count, y, ends: [left, right] }: { count: number; y: number; ends: readonly [number, number] }) =>
  count === 0 ? null : (
    <path d={`M${left} ${y - 3}H${right}M${left} ${y}H${right}M${left} ${y + 3}H${right}`} stroke="var(--ink3)" />
  );

interface UnitWordsProps {
  readonly shown: readonly UnitOpened[];
  readonly more: number;
  readonly express: number;
  readonly x: number;
}

function UnitWords({ shown, more, express, x }: UnitWordsProps) {
  return (
    <>
      {shown.map((unit, index) => (
        <text key={unit.words} className="strip-length strong" x={x} y={FIRST_Y + index * ROW + 4}>
          {unit.words}
          {say`${more > 0 && index === shown.length - 1 ? say` and ${more} more` : ""}: ${unit.takes.length} cut`}
          {unit.live > 0 ? say`, ${unit.live} in service` : ""}
        </text>
      ))}
      <text className="strip-length" x={x} y={FIRST_Y + shown.length * ROW + 4}>
        {express === 0 ? say`no other unit` : plural(express, "{0} unit runs on uncut", "{0} units run on uncut")}
      </text>
    </>
  );
}

interface CutWordsProps {
  readonly cut: BreakoutAnswer["cut"];
  readonly loop: BreakoutAnswer["loop"];
  readonly x: number;
  readonly length: (metres: number) => string;
  readonly side: BreakoutAnswer["side"];
  readonly ends: BreakoutAnswer["ends"];
}

function CutWords({ cut, loop, x, length, ends }: CutWordsProps) {
  const where =
    cut.glass === "no"
      ? say`no cut here`
      : cut.at === "middle"
        ? say`cut in the middle`
        : say`cut at the edge to ${cut.edge ? (ends[cut.edge]?.tag ?? say`its end`) : ""}`;
  const stub = (half: Half): string =>
    half === "a"
      ? say`stub left: ${cut.stub_a ?? say`to be looked at`}`
      : say`stub right: ${cut.stub_z ?? say`to be looked at`}`;
  return (
    <g textAnchor="end" className="strip-length">
      <text className="strip-length strong" x={x} y={FIRST_Y + 4}>
        {where}
      </text>
      <text className="strip-length" x={x} y={FIRST_Y + ROW + 4}>
        {stub("a")}
      </text>
      <text className="strip-length" x={x} y={FIRST_Y + 2 * ROW + 4}>
        {stub("z")}
      </text>
      <text className="strip-length" x={x} y={FIRST_Y + 3 * ROW + 4}>
        {loop.reaches === "opened" ? say`in the opening that is there` : say`window wanted ${length(loop.window_m)}`}
      </text>
    </g>
  );
}

interface EndProps {
  readonly x: number;
  readonly anchor: "start" | "end";
  readonly half: Half;
  readonly answer: BreakoutAnswer;
  readonly length: (metres: number) => string;
}

/** What lies that way: the cable's end, and the coils that lend. */
function End({ x, anchor, half, answer: { ends, loop, cable }, length }: EndProps) {
  const pulls = loop.pulls.filter(({ from }) => from === half);
  const tag = ends[half]?.tag ?? say`a place not known`;
  return (
    <g textAnchor={anchor}>
      <text className="strip-tag" x={x} y={SHEATH_Y - 12}>
        {half === "a" ? `\u2190 ${tag}` : `${tag} \u2192`}
      </text>
      <text className="strip-length" x={x} y={SHEATH_Y + 20 * K}>
        {pulls.length > 0
          ? `${pulls.map(({ place, stop, pulled_m }) => say`${length(pulled_m)} from ${place?.tag ?? stop.tag}`).join(", ")}`
          : half === "a"
            ? cable.tag
            : ""}
      </text>
    </g>
  );
}

function altText(answer: BreakoutAnswer, plan: BreakoutPlan | null, length: (metres: number) => string): string {
  const { cable, place, cut, loop, lateral, ends } = answer;
  const units =
    plan?.units.map(({ words, takes }) => say`${counted(takes.length, "strand")} of ${words}`).join(", ") ??
    say`nothing`;
  const pulls = loop.pulls.map(({ place: at, stop, pulled_m }) => say`${length(pulled_m)} from ${at?.tag ?? stop.tag}`);
  return [
    say`${cable.tag} at ${place.tag}, between ${ends.a?.tag ?? say`its first stop`} on the left and ${ends.z?.tag ?? say`its last stop`} on the right.`,
    loop.words,
    pulls.length > 0 ? say`Pulled: ${pulls.join(", ")}.` : "",
    say`Opened: ${units}. ${cut.words}`,
    say`${lateral.tag} leads from ${plan?.case.tag ?? say`the case`} to ${lateral.to?.tag ?? say`its far end`}.`,
  ]
    .filter(Boolean)
    .join(" ");
}
