/**
 * The campus drawn to scale, north up. Dragged and turned nearer with the mouse; with the keyboard the arrows step from
 * place to way to place, plus and minus zoom. Lines are drawn in metres and moved as a whole; marks and names in pixels.
 */
import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef, useState } from "react";
import type { PlanAnswer, Spot } from "../../../core/campus-plan/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { textScale } from "../../drawing/text-scale.ts";
import {
  type Camera,
  type Extent,
  extentOf,
  fitted,
  moved,
  type Size,
  showing,
  toGround,
  toScreen,
  zoomed,
} from "./camera.ts";
import { MarksAndNames } from "./drawn-names.tsx";
import { Ground } from "./ground.tsx";
import { ScaleBar } from "./scale-bar.tsx";
import { ARROWS, alongCourse, keyOf, spotOf, stepTo, type Thing, type Things, under } from "./things.ts";
import { useSize } from "./use-size.ts";

const K = textScale();
/** Pixels around the pointer in which a thing is hit. */
const REACH = 9;
const CLICK = 4;

const NOWHERE: Extent = [-50, -50, 50, 50];

export interface BreakMark {
  readonly at: Spot;
  readonly off_m: number | null;
  readonly words: string;
}

export interface PlanDrawingProps {
  readonly plan: PlanAnswer;
  readonly things: Things;
  readonly selected: Thing | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen: (thing: Thing) => void;
  /** Keys of what is asked about. */
  readonly asked: ReadonlySet<string>;
  readonly mark: BreakMark | null;
  readonly describe: (thing: Thing) => string;
}

export function PlanDrawing({ plan, things, selected, onSelect, onOpen, asked, mark, describe }: PlanDrawingProps) {
  const [holder, size] = useSize();
  const all = plan.extent_m ?? NOWHERE;
  const way = useMemo(() => askedExtent(plan, mark), [plan, mark]);
  const [camera, setCamera] = useState<Camera | null>(null);
  const drag = useRef<{ readonly x: number; readonly y: number; readonly from: Camera; moved: boolean } | null>(null);
  const [dragged, setDragged] = useState<readonly [number, number]>([0, 0]);
  const first = way ?? all;
  // Another question shows its own way; the same one keeps what the person looks at.
  const question = plan.asked.map(({ record }) => keyOf(record)).join();
  const shown = useRef("");
  const fresh = useMemo(() => fitted(first, size), [first, size]);
  const view = camera !== null && shown.current === question ? camera : fresh;
  useEffect(() => {
    shown.current = question;
    setCamera(null);
  }, [question]);
  const change = (next: Camera): void => setCamera(next);

  // What is chosen elsewhere comes into sight.
  const seen = useRef<string | null>(null);
  useEffect(() => {
    const key = selected?.key ?? null;
    if (seen.current === key) return;
    seen.current = key;
    const spot = selected ? spotOf(selected) : null;
    if (spot) setCamera((before) => showing(before ?? fitted(first, size), size, spot));
  }, [selected, size, first]);

  useEffect(() => {
    const element = holder.current;
    if (!element) return;
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const { left, top } = element.getBoundingClientRect();
      const at: Spot = [event.clientX - left, event.clientY - top];
      setCamera((before) => zoomed(before ?? fitted(first, size), size, Math.exp(-event.deltaY * 0.0015), at));
    };
    // Not as a property: React listens passively, and the page would scroll.
    element.addEventListener("wheel", wheel, { passive: false });
    return () => element.removeEventListener("wheel", wheel);
  }, [holder, size, first]);

  const onPointerDown = (event: PointerEvent<HTMLDivElement>): void => {
    if (event.button !== 0 || (event.target as Element).closest("button")) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    drag.current = { x: event.clientX, y: event.clientY, from: view, moved: false };
  };
  const onPointerMove = (event: PointerEvent): void => {
    const held = drag.current;
    if (!held) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.moved && Math.hypot(dx, dy) < CLICK) return;
    held.moved = true;
    setDragged([dx, dy]);
  };
  const onPointerUp = (event: PointerEvent<HTMLDivElement>): void => {
    const held = drag.current;
    drag.current = null;
    setDragged([0, 0]);
    if (!held) return;
    if (held.moved) {
      change(moved(held.from, event.clientX - held.x, event.clientY - held.y));
      return;
    }
    const { left, top } = event.currentTarget.getBoundingClientRect();
    const spot = toGround(view, size, [event.clientX - left, event.clientY - top]);
    const thing = under(things, spot, REACH / view.scale);
    if (thing) onSelect(thing.key);
  };

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey || (event.target as Element).closest("button")) return;
    const arrow = ARROWS[event.key];
    if (arrow && event.shiftKey) change(moved(view, -arrow[0] * 80, arrow[1] * 80));
    else if (event.key === "+" || event.key === "=") change(zoomed(view, size, 1.4, selectedAt(selected, view, size)));
    else if (event.key === "-") change(zoomed(view, size, 1 / 1.4, selectedAt(selected, view, size)));
    else if (event.key === "Home") change(fitted(all, size));
    else if (event.key === "End" && way) change(fitted(way, size));
    else if (event.key === "Enter" && selected) onOpen(selected);
    else {
      const next = arrow
        ? stepTo(things, selected, arrow)
        : event.key === "PageDown" || event.key === "PageUp"
          ? alongCourse(things, selected?.key ?? null, event.key === "PageDown" ? 1 : -1)
          : null;
      if (!next) return;
      onSelect(next.key);
    }
    event.preventDefault();
  };

  const position = selected ? things.all.indexOf(selected) + 1 : 0;
  return (
    <div className="plan-drawing-inner">
      <div
        ref={holder}
        className="plan-drawing"
        role="slider"
        tabIndex={0}
        aria-label={say`Plan of ${plan.plant || say`the campus`}, north up. ${plan.sentence} The arrows step from place to way to place, Page Down goes along what is asked about, plus and minus zoom; the table says all of it.`}
        aria-valuemin={0}
        aria-valuemax={things.all.length}
        aria-valuenow={position}
        aria-valuetext={selected ? describe(selected) : say`nothing chosen`}
        onKeyDown={onKeyDown}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={() => {
          drag.current = null;
          setDragged([0, 0]);
        }}
      >
        <svg width={size.width} height={size.height} aria-hidden="true">
          <g transform={`translate(${dragged[0]} ${dragged[1]})`}>
            <Ground plan={plan} view={view} size={size} selected={selected} asked={asked} />
            {mark ? <Broken mark={mark} view={view} size={size} /> : null}
            <MarksAndNames
              plan={plan}
              things={things}
              camera={view}
              size={size}
              lit={asked}
              selected={selected}
              k={K}
            />
            {selected ? <Chosen thing={selected} view={view} size={size} /> : null}
          </g>
        </svg>
      </div>
      <ScaleBar scale={view.scale} width={size.width} />
      <div className="plan-zoom">
        <Button onClick={() => change(zoomed(view, size, 1.4))} title={say`Nearer (+)`}>
          +
        </Button>
        <Button onClick={() => change(zoomed(view, size, 1 / 1.4))} title={say`Farther (−)`}>
          −
        </Button>
        {way ? (
          <Button onClick={() => change(fitted(way, size))} title="End">
            {say`Fit the way`}
          </Button>
        ) : null}
        <Button onClick={() => change(fitted(all, size))} title="Home">
          {say`Fit all`}
        </Button>
      </div>
    </div>
  );
}

const selectedAt = (selected: Thing | null, view: Camera, size: Size): Spot | undefined => {
  const spot = selected ? spotOf(selected) : null;
  return spot ? toScreen(view, size, spot) : undefined;
};

function askedExtent({ asked, places }: PlanAnswer, mark: BreakMark | null): Extent | null {
  const spots = asked.flatMap(({ record, stops, legs }) => [
    ...stops.flatMap(({ at }) => (at ? [at] : [])),
    ...legs.flatMap(({ points }) => points ?? []),
    ...places.flatMap(({ ref, at, outline }) =>
      ref.kind === record.kind && ref.id === record.id ? (outline ?? (at ? [at] : [])) : [],
    ),
  ]);
  return extentOf(mark ? [...spots, mark.at] : spots);
}

/** What is chosen has a ring of its own, whatever else it is. */
function Chosen({ thing, view, size }: { readonly thing: Thing; readonly view: Camera; readonly size: Size }) {
  const spot = spotOf(thing);
  if (!spot) return null;
  const [x, y] = toScreen(view, size, spot);
  if (thing.place?.outline) return null;
  return (
    <circle
      cx={x}
      cy={y}
      r={thing.way ? 6 : 13}
      fill={thing.way ? "var(--paper)" : "none"}
      stroke="var(--accent)"
      strokeWidth="3"
    />
  );
}

/** Where the glass is broken, with how far off that may be, to scale. */
function Broken({ mark, view, size }: { readonly mark: BreakMark; readonly view: Camera; readonly size: Size }) {
  const [x, y] = toScreen(view, size, mark.at);
  const r = (mark.off_m ?? 0) * view.scale;
  return (
    <g transform={`translate(${x} ${y})`}>
      {r > 2 ? <circle r={r} fill="none" stroke="var(--accent)" strokeDasharray="5 4" strokeWidth="1.5" /> : null}
      <path d="M-9-9 9 9M-9 9 9-9" stroke="var(--paper)" strokeWidth="7" />
      <path d="M-9-9 9 9M-9 9 9-9" stroke="var(--ink)" strokeWidth="3" />
      <text className="plan-name over" x="14" y="-10" fontWeight={700}>
        {mark.words}
      </text>
    </g>
  );
}
