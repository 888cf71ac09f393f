/** The line beside a row of the ledger: what comes in from above, what happens here, what goes on below. */
import type { ReactNode } from "react";
import type { TraceEnd } from "../../../core/trace/answer.ts";
import { At } from "../../drawing/at.tsx";
import {
  BareEnd,
  EndBar,
  ForkMark,
  FusionSleeve,
  HandedOver,
  InterfaceBlock,
  JoinMark,
  MechanicalSleeve,
  PortMark,
  RecordEnds,
  RingMark,
  SplitterMark,
} from "../../drawing/joints.tsx";
import { Cord, type Course, Run } from "../../drawing/run.tsx";
import type { Glass, HopRow, Row } from "./rows.ts";

const LANE = 30;
/** Between lines side by side: their marks must not touch. */
const STRAND = 30;
const FORK_HEIGHT = 44;

export const cellWidth = (strands: number, lanes: number): number =>
  Math.max(60, strands * STRAND + 26, lanes * LANE + 26);

/** Middle of a lane, or of one of several lines side by side. */
const middle = (row: Row, width: number, lanes: number, line: number, lines: number): number =>
  lanes > 1 ? 24 + row.lane * LANE : width / 2 + (line - (lines - 1) / 2) * STRAND;

const laneX = (lane: number): number => 24 + lane * LANE;

function GlassLine({ glass, course }: { readonly glass: Glass | null; readonly course: Course }) {
  if (!glass) return null;
  switch (glass.kind) {
    case "strand":
      return <Run course={course} colours={glass.colours} width={15} />;
    case "cord":
      return <Cord course={course} colours={glass.colours} />;
    case "assumed":
      return <Cord course={course} assumed />;
    case "front":
      return "d" in course ? null : (
        <line {...course} stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="2.5 2.5" />
      );
    case "inside":
      return "d" in course ? (
        <path d={course.d} fill="none" stroke="var(--ink)" strokeWidth="1.75" />
      ) : (
        <line {...course} stroke="var(--ink)" strokeWidth="1.75" />
      );
  }
}

const straight = (x: number, y1: string | number, y2: string | number): Course => ({ x1: x, y1, x2: x, y2 });

/** What a hop that is a point is drawn as. */
function hopMark(row: HopRow, index: number): ReactNode {
  const hop = row.hops[index] ?? row.hops[0];
  switch (hop?.kind) {
    case "interface":
      return <InterfaceBlock />;
    case "port":
      return <PortMark turned />;
    case "splice":
      return /mechanical/i.test(hop.how) ? <MechanicalSleeve turned /> : <FusionSleeve turned />;
    case "join":
      return <JoinMark turned />;
    default:
      return null;
  }
}

export function endMark(end: TraceEnd | undefined): ReactNode {
  switch (end?.kind) {
    case "interface":
      return <InterfaceBlock />;
    case "open_end":
      return <BareEnd turned />;
    case "handed_over":
      return <HandedOver turned />;
    case "record_ends":
      return <RecordEnds />;
    case "ring":
      return <RingMark />;
    case "empty_port":
      return <EndBar turned />;
    default:
      return null;
  }
}

export interface LineCellProps {
  readonly row: Row;
  readonly width: number;
  readonly lanes: number;
}

export function LineCell({ row, width, lanes }: LineCellProps) {
  const count = row.kind === "fork" ? 1 : Math.max(row.above.length, row.below.length);
  return (
    <svg className="line-cell" width={width} height="100%" aria-hidden="true">
      {row.passing.map((lane) => (
        <line key={lane} {...straight(laneX(lane), 0, "100%")} stroke="var(--ink2)" strokeWidth="1.5" />
      ))}
      {row.kind === "fork" ? (
        <Fork row={row} lanes={lanes} width={width} />
      ) : (
        Array.from({ length: count }, (_, index) => index).map((index) => (
          <OneLine key={index} row={row} index={index} x={middle(row, width, lanes, index, count)} />
        ))
      )}
    </svg>
  );
}

function OneLine({ row, index, x }: { readonly row: Row; readonly index: number; readonly x: number }) {
  const above = row.above[index] ?? null;
  const below = row.below[index] ?? null;
  const whole = row.kind === "branch" || (row.kind === "hop" && row.hops[index] && above === below && above !== null);
  const faint = row.kind === "end" && row.ends[index]?.kind === "record_ends";
  const mark = row.kind === "hop" ? hopMark(row, index) : row.kind === "end" ? endMark(row.ends[index]) : null;
  return (
    <>
      {whole ? (
        <GlassLine glass={above} course={straight(x, 0, "100%")} />
      ) : (
        <>
          <GlassLine glass={above} course={straight(x, 0, "50%")} />
          <GlassLine glass={below} course={straight(x, "50%", "100%")} />
        </>
      )}
      {faint ? <line {...straight(x, "50%", "50%")} /> : null}
      {mark ? (
        <At x={x} y="50%">
          {mark}
        </At>
      ) : null}
    </>
  );
}

/** The line parts: each branch goes into its lane. */
function Fork({
  row,
  lanes,
  width,
}: {
  readonly row: Extract<Row, { kind: "fork" }>;
  readonly lanes: number;
  readonly width: number;
}) {
  const from = lanes > 1 ? laneX(row.lane) : width / 2;
  return (
    <>
      <GlassLine glass={row.above[0] ?? null} course={straight(from, 0, 14)} />
      {row.lanes.map((lane, index) => {
        const to = lanes > 1 ? laneX(lane) : width / 2;
        const glass = row.below[index] ?? null;
        return (
          <g key={lane}>
            {lane === row.lane ? (
              <GlassLine glass={glass} course={straight(from, 14, "100%")} />
            ) : (
              <>
                <path
                  d={`M${from} 14C${from} 32 ${to} 18 ${to} ${FORK_HEIGHT}`}
                  fill="none"
                  stroke="var(--ink2)"
                  strokeWidth="1.5"
                />
                <line {...straight(to, FORK_HEIGHT, "100%")} stroke="var(--ink2)" strokeWidth="1.5" />
              </>
            )}
          </g>
        );
      })}
      <At x={from} y={14}>
        {row.doubt ? <ForkMark /> : <SplitterMark turned />}
      </At>
    </>
  );
}
