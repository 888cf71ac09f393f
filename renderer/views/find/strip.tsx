/** The strip map: the line through its places, lengths to scale, in its colours, with the names written. */
import { type KeyboardEvent, useMemo } from "react";
import { metresAs } from "../../../core/model/units.ts";
import type { Place, TraceLine } from "../../../core/trace/answer.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { count, useLength } from "../../controls/figures.ts";
import { At } from "../../drawing/at.tsx";
import { ForkMark, SplitterMark } from "../../drawing/joints.tsx";
import { PlaceMark, placeShape } from "../../drawing/places.tsx";
import { Cord, Run } from "../../drawing/run.tsx";
import { monoWidth, type Name, placeNames, roundStep, sansWidth, stepsTo } from "../../drawing/scale.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { endMark } from "./line-cell.tsx";
import { layOut, type StripLayout, type StripPlace, type StripRun } from "./strip-layout.ts";
import { placeWords, shortTags } from "./words.ts";

/** Pixels at ordinary letters; with larger ones all of it grows. */
const LEFT_PX = 34;
const RIGHT_PX = 40;
/** Names keep this much from the edge. */
const EDGE = 10;
const TOP_PX = 46;
const LANE_PX = 80;
const STRANDS = 18;

const K = textScale();
const [LEFT, RIGHT, TOP, LANE] = [LEFT_PX * K, RIGHT_PX * K, TOP_PX * K, LANE_PX * K];
const mono = (text: string): number => monoWidth(text) * K;
const sans = (text: string): number => sansWidth(text) * K;

export interface StripProps {
  /** Lines of one course, drawn side by side. */
  readonly lines: readonly TraceLine[];
  readonly selected: string | null;
  readonly onSelect: (key: string) => void;
}

export function Strip({ lines, selected, onSelect }: StripProps) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const inner = width - LEFT - RIGHT;
  const layouts = useMemo(() => lines.map((line) => layOut(line, inner)), [lines, inner]);
  const [layout] = layouts;
  const [line] = lines;
  if (!layout || !line) return null;
  const thick = (lines.length - 1) * STRANDS;
  const offsets = laneOffsets(layout);
  const yOf = (lane: number): number => offsets[lane] ?? 0;
  const below = layout.ring ? 84 : layout.runs.some(({ lane }) => lane === layout.lanes - 1) ? 54 : 24;
  const axis = TOP + thick + yOf(layout.lanes - 1) + below * K;
  const height = axis + 30 * K;

  const onKeyDown = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (step === undefined || event.altKey) return;
    event.preventDefault();
    const next = layout.runs[Math.max(0, Math.min(layout.runs.length - 1, at + step))];
    if (next) onSelect(next.key);
  };

  const at = layout.runs.findIndex(({ key }) => key === selected);
  const run = layout.runs[at];
  return (
    // Walking along the line is what a slider does; its value is said as the stretch pointed at.
    <div
      ref={holder}
      className="strip"
      role="slider"
      tabIndex={0}
      aria-label={alternative(line, layout)}
      aria-valuemin={1}
      aria-valuemax={Math.max(1, layout.runs.length)}
      aria-valuenow={Math.max(1, at + 1)}
      aria-valuetext={run ? run.hop.record.tag : say`between stretches`}
      onKeyDown={onKeyDown}
      onClick={({ target }) => {
        const key = target instanceof Element ? target.closest("[data-key]")?.getAttribute("data-key") : null;
        if (key) onSelect(key);
      }}
    >
      <svg width={width} height={height} aria-hidden="true">
        <g transform={`translate(${LEFT} ${TOP})`}>
          {layout.forks.map((fork) => (
            <ForkLines key={fork.key} x={fork.x} y={yOf(fork.lane)} to={fork.to.map(yOf)} />
          ))}
          {layouts.map((each, index) => (
            <g key={each.runs[0]?.hop.record.id ?? 0} transform={`translate(0 ${index * STRANDS})`}>
              {each.runs.map((run) => (
                <RunShape key={run.key} run={run} y={yOf(run.lane)} selected={run.key === selected} />
              ))}
            </g>
          ))}
          {layout.ring ? <RingBack layout={layout} thick={thick} /> : null}
          {layout.forks.map((fork) => (
            <At key={fork.key} x={fork.x} y={yOf(fork.lane)}>
              {fork.doubt ? <ForkMark /> : <SplitterMark />}
            </At>
          ))}
          {layout.places.map((place) => (
            <PlaceShape key={place.key} place={place} y={yOf(place.lane)} thick={thick} />
          ))}
          {Array.from({ length: layout.lanes }, (_, lane) => lane).map((lane) => (
            <LaneNames
              key={lane}
              lines={layouts}
              layout={layout}
              lane={lane}
              y={yOf(lane)}
              inner={inner}
              thick={thick}
              selected={selected}
            />
          ))}
        </g>
        <Axis layout={layout} y={axis} inner={inner} />
      </svg>
    </div>
  );
}

/** Where each lane lies below the first: branches without a length need no room for names. */
function laneOffsets({ lanes, runs }: StripLayout): readonly number[] {
  const offsets: number[] = [];
  let y = 0;
  for (let lane = 0; lane < lanes; lane++) {
    if (lane > 0) y += runs.some((run) => run.lane === lane) ? LANE : LANE * 0.42;
    offsets.push(y);
  }
  return offsets;
}

/** What the drawing says, for those who don't see it; the ledger is the long form. */
function alternative(line: TraceLine, { places, forks, ring }: StripLayout): string {
  const names = [...new Set(places.flatMap(({ place }) => place?.space?.tag ?? []))];
  const shape = ring ? say`a ring through` : forks.length > 0 ? say`a line that forks, through` : say`a line through`;
  return say`Strip map of ${line.asked}: ${shape} ${names.join(", ")}. Left and Right walk along it; the rows below say each hop.`;
}

function RunShape({ run, y, selected }: { readonly run: StripRun; readonly y: number; readonly selected: boolean }) {
  const course = { x1: run.x1, y1: y, x2: run.x2, y2: y };
  return (
    <g className="strip-run" data-key={run.key}>
      {selected ? <rect x={run.x1} y={y - 13} width={run.x2 - run.x1} height={26} fill="var(--accent-soft)" /> : null}
      {run.unscaled ? (
        <line {...course} stroke="var(--ink3)" strokeWidth="1.5" strokeDasharray="2 4" transform="translate(0 11)" />
      ) : null}
      {run.glass.kind === "strand" ? (
        <Run course={course} colours={run.glass.colours} width={15} />
      ) : (
        <Cord course={course} />
      )}
      <rect x={run.x1} y={y - 12} width={Math.max(run.x2 - run.x1, 6)} height={24} fill="transparent" />
      {selected ? <rect x={run.x1} y={y + 12} width={run.x2 - run.x1} height={2.5} fill="var(--accent)" /> : null}
    </g>
  );
}

function PlaceShape({ place, y, thick }: { readonly place: StripPlace; readonly y: number; readonly thick: number }) {
  const shape = placeShape(place.place?.space_kind ?? null, place.place?.building !== null && place.place !== null);
  const ends = place.end && place.end.kind !== "empty_port" && place.end.kind !== "interface" ? place.end : null;
  return (
    <g>
      {thick > 0 && !place.passed ? (
        <line x1={place.x} x2={place.x} y1={y - 8} y2={y + thick + 8} stroke="var(--ink)" strokeWidth="1.5" />
      ) : null}
      <At x={place.x} y={y + thick / 2}>
        <g transform={place.passed ? "scale(0.62)" : undefined}>
          <PlaceMark shape={shape} />
        </g>
      </At>
      {ends ? (
        <At x={place.x + 20} y={y + thick / 2}>
          <g transform={ends.kind === "open_end" || ends.kind === "handed_over" ? "rotate(-90)" : undefined}>
            {endMark(ends)}
          </g>
        </At>
      ) : null}
    </g>
  );
}

function ForkLines({ x, y, to }: { readonly x: number; readonly y: number; readonly to: readonly number[] }) {
  return (
    <g fill="none" stroke="var(--ink2)" strokeWidth="2">
      {to.map((other) => (
        <path
          key={other}
          d={other === y ? `M${x} ${y}h36` : `M${x} ${y}C${x + 24} ${y} ${x + 6} ${other} ${x + 36} ${other}`}
        />
      ))}
    </g>
  );
}

/** A ring goes back to where it began. */
function RingBack({ layout, thick }: { readonly layout: StripLayout; readonly thick: number }) {
  const last = Math.max(...layout.runs.map(({ x2 }) => x2));
  // Below the names of the strands.
  const drop = 58 * K;
  return (
    <path
      className="strip-ring"
      d={`M${last} ${thick}c20 0 20 ${drop} 0 ${drop}H0c-20 0-20-${drop} 0-${drop}`}
      fill="none"
      stroke="var(--ink)"
      strokeWidth="2"
      strokeDasharray="5 3"
    />
  );
}

interface LaneNamesProps extends Pick<StripProps, "selected"> {
  readonly lines: readonly StripLayout[];
  readonly layout: StripLayout;
  readonly lane: number;
  readonly y: number;
  readonly inner: number;
  readonly thick: number;
}

/** Above the line the places, below it the strands and their lengths; what finds no room stays in the ledger. */
function LaneNames({ lines, layout, lane, y, inner, thick, selected }: LaneNamesProps) {
  const length = useLength();
  // A branch begins where the line forks: that place is named once.
  const places = layout.places.filter(
    (place, index) =>
      place.lane === lane && place.place?.space && !(lane > 0 && layout.places[index - 1]?.lane !== lane),
  );
  const runs = layout.runs.filter((run) => run.lane === lane);
  const names = placeNames(
    places.map(
      (place, index): Name => ({
        key: place.key,
        x: place.x + LEFT - EDGE,
        width: Math.max(mono(tagOf(place.place)), sans(buildingOf(place.place))),
        rank: place.passed ? 2 : index === 0 || index === places.length - 1 ? 0 : 1,
      }),
    ),
    inner + LEFT + RIGHT - 2 * EDGE,
    1,
  );
  const passedAt = new Set(places.flatMap((place) => (place.passed ? [place.key] : [])));
  return (
    <g>
      {names.map(({ key, x }) => {
        const place = places.find((one) => one.key === key)?.place ?? null;
        return (
          <g key={key} transform={`translate(${x - LEFT + EDGE} ${y})`} textAnchor="middle">
            <text className="strip-building" y="-1.9375rem">
              {buildingOf(place)}
            </text>
            <text className={passedAt.has(key) ? "strip-tag strip-passed" : "strip-tag"} y="-1.0625rem">
              {tagOf(place)}
            </text>
          </g>
        );
      })}
      {runs.map((run, index) => {
        // Lines side by side are named together: `F-014:25, 26`.
        const side = lines.map(
          (line) => line.runs.filter((one) => one.lane === lane)[index]?.hop.record ?? run.hop.record,
        );
        const tag = shortTags(side)
          .map(({ words }) => words)
          .join(", ");
        const words = run.hop.length_m === null ? say`length not given` : length(run.hop.length_m, 0);
        const room = run.x2 - run.x1 - 6;
        if (room < mono(tag)) return null;
        return (
          <g key={run.key} transform={`translate(${(run.x1 + run.x2) / 2} ${y + thick})`} textAnchor="middle">
            <text className={run.key === selected ? "strip-tag strong" : "strip-tag"} y="1.625rem">
              {tag}
            </text>
            {room > sans(words) ? (
              <text className="strip-length" y="2.5625rem">
                {words}
              </text>
            ) : null}
          </g>
        );
      })}
    </g>
  );
}

const tagOf = (place: Place | null): string => place?.space?.tag ?? "";
const buildingOf = (place: Place | null): string => (place?.building ? placeWords(place) : "");

function Axis({ layout, y, inner }: { readonly layout: StripLayout; readonly y: number; readonly inner: number }) {
  const { unit } = useSettings();
  const { perMetre, longest_m } = layout;
  if (perMetre === null) {
    return (
      <text className="strip-length" x={LEFT} y={y + 16}>
        {say`Not to scale: no length is on record.`}
      </text>
    );
  }
  const total = metresAs(longest_m, unit);
  const step = roundStep(total, Math.max(3, Math.floor(inner / 130)));
  const px = (longest_m * perMetre) / total;
  const large = unit === "m" && step >= 500;
  const words = (value: number): string =>
    value === 0 ? "0" : large ? `${count(value) === "0" ? "" : value / 1000} km` : `${count(value)} ${unit}`;
  const note =
    layout.forks.length > 0
      ? say`Lengths to scale along each way${layout.unscaled ? say`; dotted where not given` : ""}.`
      : layout.unscaled
        ? say`To scale, except dotted stretches: their length isn't given.`
        : "";
  // Where a stretch has no length the distance from the beginning means nothing; a bar shows the scale instead.
  if (note) {
    return (
      <g transform={`translate(${LEFT} ${y})`}>
        <path d={`M0 0V5H${step * px}V0`} fill="none" stroke="var(--ink2)" />
        <text className="strip-length" x={step * px + 8} y="8">
          {words(step)} · {note}
          {layout.left > 0
            ? plural(layout.left, " {0} more way is in the rows below.", " {0} more ways are in the rows below.")
            : ""}
        </text>
      </g>
    );
  }
  return (
    <g transform={`translate(${LEFT} ${y})`}>
      <path d={`M0 0H${total * px}`} stroke="var(--ink2)" />
      {stepsTo(total, step / 2).map((value, index) => (
        <g key={value} transform={`translate(${value * px} 0)`}>
          <path d={index % 2 === 0 ? "M0-3V3" : "M0 0V3"} stroke="var(--ink2)" />
          {index % 2 === 0 ? (
            <text className="strip-length" textAnchor="middle" y="1.0625rem" x={value === 0 ? 3 : 0}>
              {words(value)}
            </text>
          ) : null}
        </g>
      ))}
    </g>
  );
}
