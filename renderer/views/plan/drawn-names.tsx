/** Marks and names of the plan, in pixels: what fits without meeting; nearer, more of it. */
import { memo, useMemo } from "react";
import type { PlanAnswer, PlanPlace, Spot } from "../../../core/campus-plan/answer.ts";
import { type LabelWish, placeLabels } from "../../../core/paper/campus.ts";
import { PlaceMark, placeShape } from "../../drawing/places.tsx";
import { monoWidth, sansWidth } from "../../drawing/scale.ts";
import { type Camera, type Size, toScreen } from "./camera.ts";
import { half, keyOf, type Thing, type Things } from "./things.ts";

/** So many marks are drawn each by its shape; more are dots. */
const SHAPED = 350;
const NAMED = 160;
/** Pixels a metre takes from which rooms that no way comes to are drawn. */
const ROOMS_FROM = 3;
const WAYS_FROM = 0.35;

/** Room of the scale in one upper corner and of the buttons in the other, at letters of the usual size. */
const SCALE_BAR_PX = 260;
const BUTTONS_PX = 250;
const CORNER_PX = 44;

export interface NamesProps {
  readonly plan: PlanAnswer;
  readonly things: Things;
  readonly camera: Camera;
  readonly size: Size;
  /** Keys of what is asked about and of what is selected. */
  readonly lit: ReadonlySet<string>;
  readonly selected: Thing | null;
  readonly k: number;
}

/** Drawn anew only when what is seen changes: a drag moves it as a whole. */
export const MarksAndNames = memo(function MarksAndNames(props: NamesProps) {
  const { plan, things, camera, size, lit, selected, k } = props;
  const marks = useMemo(() => marksIn(plan, things, camera, size, lit), [plan, things, camera, size, lit]);
  const names = useMemo(
    () => namesIn({ plan, camera, size, lit, selected, k }, marks),
    [plan, camera, size, lit, selected, k, marks],
  );
  return (
    <>
      {marks.length > SHAPED ? (
        <Dots marks={marks} lit={lit} size={size} />
      ) : (
        marks.map(({ place, at: [x, y] }) => (
          <g key={keyOf(place.ref)} transform={`translate(${x} ${y})`}>
            {lit.has(keyOf(place.ref)) ? (
              <circle r="11" fill="var(--accent-soft)" stroke="var(--accent)" strokeWidth="1.5" />
            ) : null}
            <g transform={place.building === null ? undefined : "scale(0.62)"}>
              <PlaceMark
                shape={place.ref.kind === "building" ? "room" : placeShape(place.kind, place.building !== null)}
              />
            </g>
          </g>
        ))
      )}
      {names.map(({ key, x, y, tag, words, over, strong }) => (
        <text
          key={key}
          x={x}
          y={y + 11 * k}
          className={over ? "plan-name over" : "plan-name"}
          fontWeight={strong ? 700 : undefined}
        >
          <tspan className="tag">{tag}</tspan>
          {words ? <tspan className="plan-words"> {words}</tspan> : null}
        </text>
      ))}
    </>
  );
});

interface Mark {
  readonly place: PlanPlace;
  readonly at: Spot;
}

function marksIn(
  { places }: PlanAnswer,
  { waysAt }: Things,
  camera: Camera,
  size: Size,
  lit: ReadonlySet<string>,
): Mark[] {
  const marks: Mark[] = [];
  for (const place of places) {
    const { ref, at, from, outline, building } = place;
    if (!at || outline) continue;
    const key = keyOf(ref);
    // A room without coordinates of its own stands in for nothing but itself.
    if (building !== null && !lit.has(key)) {
      if (from !== "own") continue;
      if (camera.scale < ROOMS_FROM && !(waysAt.has(ref.id) && camera.scale > 0.4)) continue;
    }
    const spot = toScreen(camera, size, at);
    if (spot[0] < -20 || spot[1] < -20 || spot[0] > size.width + 20 || spot[1] > size.height + 20) continue;
    marks.push({ place, at: spot });
  }
  return marks;
}

/** Many places at once: round or square, by strokes of no length, in four paths however many there are. */
function Dots({
  marks,
  lit,
  size,
}: {
  readonly marks: readonly Mark[];
  readonly lit: ReadonlySet<string>;
  readonly size: Size;
}) {
  // The closer they stand, the smaller, so that the lines between them are still seen.
  const dot = Math.min(7, Math.max(2, Math.sqrt((size.width * size.height) / marks.length) / 5));
  const round = (kind: string | null) => kind === "maintenance_hole" || kind === "pole";
  const d = (wanted: (mark: Mark) => boolean) =>
    marks
      .filter(wanted)
      .map(({ at: [x, y] }) => `M${x.toFixed(1)} ${y.toFixed(1)}h0`)
      .join("");
  const stroke = (path: string, cap: "round" | "square", colour: string, width: number) =>
    path && width > 0 ? <path d={path} stroke={colour} strokeWidth={width} strokeLinecap={cap} /> : null;
  const [circles, squares] = [d(({ place }) => round(place.kind)), d(({ place }) => !round(place.kind))];
  return (
    <>
      {stroke(
        d(({ place }) => lit.has(keyOf(place.ref))),
        "round",
        "var(--accent)",
        14,
      )}
      {stroke(circles, "round", "var(--ink)", dot)}
      {stroke(circles, "round", "var(--paper)", dot > 4 ? dot - 3 : 0)}
      {stroke(squares, "square", "var(--ink)", dot - 1)}
      {stroke(squares, "square", "var(--paper)", dot > 4 ? dot - 4 : 0)}
    </>
  );
}

interface Named {
  readonly wish: LabelWish;
  readonly tag: string;
  readonly words: string | null;
  readonly strong: boolean;
}

function namesIn({ plan, camera, size, lit, selected, k }: Omit<NamesProps, "things">, marks: readonly Mark[]) {
  const wanted = new Map<string, Named>();
  const chosen = selected?.key ?? null;
  const add = (
    key: string,
    at: Spot,
    rank: number,
    clear: readonly [number, number],
    tag: string,
    words: string | null,
  ) => {
    if (at[0] < 0 || at[1] < 0 || at[0] > size.width || at[1] > size.height) return;
    const strong = lit.has(key) || key === chosen;
    const width = (monoWidth(tag, 13) + (words ? sansWidth(` ${words}`, 13) : 0)) * k * (strong ? 1.06 : 1);
    const wish = {
      key,
      x: at[0],
      y: at[1],
      clear,
      width,
      height: 15 * k,
      rank: key === chosen ? -1 : strong ? 0 : rank,
    };
    wanted.set(key, { wish, tag, words, strong });
  };
  for (const { ref, name, at, outline } of plan.places)
    if (ref.kind === "building" && at) {
      const spot = toScreen(camera, size, at);
      add(keyOf(ref), spot, 1, outline ? halfOf(outline, camera.scale) : [9, 9], ref.tag, name);
    }
  for (const { place, at } of marks) {
    const key = keyOf(place.ref);
    const inner = place.building !== null && !lit.has(key);
    if (inner && camera.scale < ROOMS_FROM) continue;
    // Among very many dots only what is asked about or chosen has its name.
    if (marks.length > SHAPED && !lit.has(key) && key !== chosen) continue;
    const tag = place.ref.tag;
    add(keyOf(place.ref), at, inner ? 4 : 2, [9, 9], inner ? (tag.split("/").at(-1) ?? tag) : tag, null);
  }
  for (const { ref, points } of plan.ways) {
    if (!points || (camera.scale < WAYS_FROM && !lit.has(keyOf(ref)))) continue;
    add(keyOf(ref), toScreen(camera, size, half(points)), 3, [2, 3], ref.tag, null);
  }
  const onScreen = (all: readonly (readonly Spot[] | null)[]) =>
    all.flatMap((points) => (points ? [points.map((spot) => toScreen(camera, size, spot))] : []));
  const grounds = onScreen(plan.places.map(({ outline }) => outline));
  const lines = [...onScreen(plan.ways.map(({ points }) => points)), ...grounds];
  const near = lines.filter((line) =>
    line.some(([x, y]) => x > -200 && y > -200 && x < size.width + 200 && y < size.height + 200),
  );
  const wishes = [...wanted.values()].map(({ wish }) => wish);
  const first = wishes.length > 4 * NAMED ? wishes.toSorted((a, b) => a.rank - b.rank).slice(0, 4 * NAMED) : wishes;
  return placeLabels(first, {
    ...size,
    most: NAMED,
    covered: [
      { left: 0, top: 0, right: SCALE_BAR_PX * k, bottom: CORNER_PX * k },
      { left: size.width - BUTTONS_PX * k, top: 0, right: size.width, bottom: CORNER_PX * k },
    ],
    lines: near.length > 600 ? [] : near,
    grounds: near.length > 600 ? [] : grounds,
  }).flatMap(({ key, x, y, over }) => {
    const one = wanted.get(key);
    return one
      ? [{ key, x, y, over: over || near.length > 600, tag: one.tag, words: one.words, strong: one.strong }]
      : [];
  });
}

function halfOf(outline: readonly Spot[], scale: number): readonly [number, number] {
  const half = (at: 0 | 1): number => {
    let [least, most] = [Infinity, -Infinity];
    for (const spot of outline) {
      least = Math.min(least, spot[at]);
      most = Math.max(most, spot[at]);
    }
    return ((most - least) / 2) * scale;
  };
  return [half(0), half(1)];
}
