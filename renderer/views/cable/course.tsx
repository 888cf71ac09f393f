/** The sheath from end to end: its stops with marks and coils, the ways between. */
import { useMemo } from "react";
import { formatMark } from "../../../core/model/units.ts";
import type { CableAnswer, CableStop } from "../../../core/trace/cable-answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { At } from "../../drawing/at.tsx";
import { Coil, CutMark } from "../../drawing/joints.tsx";
import { PlaceMark, placeShape } from "../../drawing/places.tsx";
import { Sheath } from "../../drawing/run.tsx";
import { monoWidth, placeNames, sansWidth } from "../../drawing/scale.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { type CourseLayout, courseLayout, isCoiled } from "./course-layout.ts";

/** Pixels at ordinary letters; with larger ones all of it grows. */
const K = textScale();
const LEFT = 62 * K;
const RIGHT = 62 * K;
const Y = 84 * K;
const mono = (text: string): number => monoWidth(text) * K;
const sans = (text: string): number => sansWidth(text) * K;
const EDGE = 8;
const NOWHERE = say`place not known`;

export const KIND_WORDS: Readonly<Record<CableStop["kind"], string>> = {
  end: say`ends`,
  passing: say`passes`,
  opened: say`opened`,
  severed: say`severed`,
};

export function Course({ sheet }: { readonly sheet: CableAnswer }) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const length = useLength();
  const inner = width - LEFT - RIGHT;
  const layout = useMemo(() => courseLayout(sheet, inner), [sheet, inner]);
  if (sheet.stops.length < 2) {
    return (
      <div ref={holder} className="course-none">
        {say`Its course is not on record: enter its stops to see where it runs.`}
      </div>
    );
  }
  const wordsOf = (stop: CableStop): readonly string[] => [
    marksWords(stop, sheet.mark_unit),
    coilWords(stop, length),
    [KIND_WORDS[stop.kind], stop.closure ? stop.closure.tag.split("/").at(-1) : ""].filter(Boolean).join(", "),
  ];
  const last = sheet.stops.length - 1;
  const placed = (widthOf: (stop: CableStop) => number) =>
    placeNames(
      layout.stops.map(({ index, x }) => ({
        key: String(index),
        x: x + LEFT - EDGE,
        width: widthOf(sheet.stops[index] as CableStop),
        rank: index === 0 || index === last ? 0 : 1,
      })),
      width - 2 * EDGE,
      1,
    );
  const names = placed(({ place }) => Math.max(mono(place.space?.tag ?? NOWHERE), sans(place.building_name ?? "")));
  const notes = placed((stop) => Math.max(...wordsOf(stop).map((words) => sans(words))));
  const there = [names, notes].map((texts) => new Set(texts.map(({ key }) => Number(key))));
  const crowded = sheet.stops.filter((_, index) => there.some((shown) => !shown.has(index)));
  const marked = sheet.length_from === "marks" || sheet.length_from === "mixed";
  const below = [scaleWords(layout, marked), crowdedWords(crowded)].filter(Boolean).join(" ");
  return (
    <div ref={holder}>
      <svg width={width} height={below === "" ? 172 * K : 188 * K} role="img" aria-label={alternative(sheet)}>
        <g transform={`translate(${LEFT} ${Y})`}>
          {layout.legs.map((leg) => (
            <Sheath
              key={leg.index}
              course={{ x1: leg.x1, y1: 0, x2: leg.x2, y2: 0 }}
              unmarked={leg.unscaled || sheet.legs[leg.index]?.length_from !== "marks"}
            />
          ))}
          {layout.stops.map(({ index, x, width: breadth }) => (
            <StopShape key={index} stop={sheet.stops[index] as CableStop} x={x} breadth={breadth} />
          ))}
          {layout.legs.map(({ index, x1, x2 }) => {
            const leg = sheet.legs[index];
            const way = leg?.conduit?.tag ?? leg?.pathway?.tag ?? say`way not given`;
            const words = leg?.length_m == null ? say`length not given` : length(leg.length_m);
            const room = x2 - x1 - 26;
            return (
              <g key={index} transform={`translate(${(x1 + x2) / 2} 0)`} textAnchor="middle">
                {room > mono(way) ? (
                  <text className={leg?.pathway ? "strip-tag" : "strip-length"} y="-0.8125rem">
                    {way}
                  </text>
                ) : null}
                {room > sans(words) ? (
                  <text className="strip-length" y="1.5rem">
                    {words}
                  </text>
                ) : null}
              </g>
            );
          })}
          {names.map(({ key, x }) => {
            const stop = sheet.stops[Number(key)] as CableStop;
            return (
              <g key={key} transform={`translate(${x - LEFT + EDGE} 0)`} textAnchor="middle">
                <text className="strip-building" y="-4rem">
                  {stop.place.building_name ?? ""}
                </text>
                <text className="strip-tag" y="-3.125rem">
                  {stop.place.space?.tag ?? NOWHERE}
                </text>
              </g>
            );
          })}
          {notes.map(({ key, x }) => (
            <g key={key} transform={`translate(${x - LEFT + EDGE} 0)`} textAnchor="middle">
              {wordsOf(sheet.stops[Number(key)] as CableStop).map((words, row) => (
                <text key={words || row} className="strip-length" y={`${3 + row * 0.9375}rem`}>
                  {words}
                </text>
              ))}
            </g>
          ))}
        </g>
        {below === "" ? null : (
          <text className="strip-length" x={20} y="11.5rem">
            {below}
          </text>
        )}
      </svg>
    </div>
  );
}

function scaleWords({ perMetre, unscaled }: CourseLayout, marked: boolean): string {
  if (perMetre === null) return say`Not to scale: no leg has a length on record.`;
  if (unscaled) return say`To scale, except stretches without a length.`;
  return marked ? "" : say`To scale; dotted where it is known by pathway, without marks.`;
}

/** Which stops the drawing has no room to write all of. */
function crowdedWords(stops: readonly CableStop[]): string {
  const tags = stops.map(({ place }) => place.space?.tag ?? NOWHERE);
  if (tags.length === 0) return "";
  const some = tags.length > 4 ? say`${tags.length} stops` : tags.join(", ");
  return say`No room here for all of ${some}: the table below says it.`;
}

function StopShape({ stop, x, breadth }: { readonly stop: CableStop; readonly x: number; readonly breadth: number }) {
  const shape = placeShape(stop.place.space_kind, stop.place.building !== null);
  const coil = isCoiled(stop) ? Math.max(breadth, 14) : 0;
  return (
    <g>
      <path d={`M${x}-31V${coil > 0 ? -15 : -6}`} stroke="var(--rule2)" />
      <path d={`M${x - Math.max(breadth, 1) / 2} 8V36M${x + Math.max(breadth, 1) / 2} 8V36`} stroke="var(--rule2)" />
      {breadth > 0 ? <Sheath course={{ x1: x - breadth / 2, y1: 0, x2: x + breadth / 2, y2: 0 }} /> : null}
      {coil > 0 ? (
        <At x={x} y={0}>
          <Coil width={coil} />
        </At>
      ) : null}
      {stop.kind === "severed" ? (
        <At x={x} y={0}>
          <CutMark />
        </At>
      ) : null}
      <At x={x} y={-38}>
        <PlaceMark shape={shape} />
      </At>
    </g>
  );
}

export function marksWords(stop: CableStop, unit: CableAnswer["mark_unit"]): string {
  const [first, last] = [stop.marks[0], stop.marks.at(-1)];
  if (first === undefined || last === undefined) return say`no marks`;
  const shown = (mark: number): string => formatMark(mark, null);
  return first === last ? formatMark(first, unit) : `${shown(first)}–${formatMark(last, unit)}`;
}

export function coilWords(stop: CableStop, length: (length_m: number) => string): string {
  if (stop.coil_m === 0) return say`no coil`;
  if (stop.coil_m !== null) return say`coil ${length(stop.coil_m)}`;
  return stop.inside_m === null ? say`coil not known` : say`${length(stop.inside_m)} inside`;
}

function alternative({ cable, stops }: CableAnswer): string {
  const names = stops.map(({ place }) => place.space?.tag ?? say`a place not known`);
  return say`${cable.tag} along its length: ${names.join(", ")}. The tables below say each stop and leg.`;
}
