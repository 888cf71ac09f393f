/**
 * One page of labels as it will come out: places already used, labels in theirs, places still free. Arrows walk over the
 * places, Enter (or a click on one without a label) lets the first label begin there.
 */
import { type KeyboardEvent, useId, useRef } from "react";
import { say } from "../../../core/words/say.ts";
import type { LaidOne, Lay } from "./asked.ts";
import { LabelPrint } from "./label-drawing.tsx";

export interface SheetDrawingProps {
  readonly lay: Lay;
  readonly page: number;
  /** The place that is pointed at, from 0 through all pages. */
  readonly cursor: number;
  readonly onCursor: (place: number) => void;
  readonly onBegin: (place: number) => void;
}

export function SheetDrawing({ lay, page, cursor, onCursor, onBegin }: SheetDrawingProps) {
  const id = useId();
  const drawing = useRef<HTMLDivElement>(null);
  const { sheet, start } = lay;
  const { per_page: each, columns } = sheet;
  const labels = new Map(
    lay.labels.flatMap((label) => (label.at?.page === page ? [[label.at.row * columns + label.at.column, label]] : [])),
  );
  const on = cursor - page * each;
  const width = sheet.page_width_mm ?? 0;
  const height = sheet.page_height_mm ?? 0;

  const onKeyDown = (event: KeyboardEvent): void => {
    const steps: Readonly<Record<string, number>> = {
      ArrowLeft: -1,
      ArrowRight: 1,
      ArrowUp: -columns,
      ArrowDown: columns,
      Home: -on,
      End: each - 1 - on,
    };
    const step = steps[event.key];
    if (step !== undefined && on + step >= 0 && on + step < each) {
      event.preventDefault();
      onCursor(cursor + step);
    }
    if (event.key === "Enter" && page === 0) {
      event.preventDefault();
      onBegin(cursor);
    }
  };

  return (
    <div
      ref={drawing}
      className="label-sheet"
      role="listbox"
      tabIndex={0}
      aria-label={say`Places of page ${page + 1}. Arrows move; Enter begins here.`}
      aria-activedescendant={`${id}-${on}`}
      onKeyDown={onKeyDown}
    >
      <svg viewBox={`0 0 ${width} ${height}`} role="presentation">
        <rect width={width} height={height} fill="#fff" />
        {Array.from({ length: each }, (_, place) => {
          const label = labels.get(place);
          const used = page === 0 && place < start - 1;
          const x = sheet.left_mm + (place % columns) * sheet.pitch_x_mm;
          const y = sheet.top_mm + Math.floor(place / columns) * sheet.pitch_y_mm;
          const heard = label ? say`Place ${place + 1}, ${nameOf(label)}:` : used ? "Place" : say`Free place`;
          return (
            <g
              key={`${x} ${y}`}
              id={`${id}-${place}`}
              role="option"
              aria-selected={place === on}
              transform={`translate(${x} ${y})`}
              className={label ? "label-place" : used ? "label-place label-used" : "label-place label-free"}
              onClick={() => {
                drawing.current?.focus();
                onCursor(page * each + place);
                if (!label && page === 0) onBegin(place);
              }}
            >
              {/* Heard, not seen: what is drawn goes on from it. */}
              <text className="label-heard">{heard}</text>{" "}
              <rect
                className="label-box"
                width={sheet.label_width_mm ?? 0}
                height={sheet.label_height_mm}
                rx={sheet.corner_mm}
              />
              {label?.laid ? <LabelPrint laid={label.laid} /> : null}
              {used ? <path d={`M2 ${sheet.label_height_mm - 2}L${(sheet.label_width_mm ?? 0) - 2} 2`} /> : null}
              {label ? null : (
                <text
                  x={used ? 3 : (sheet.label_width_mm ?? 0) / 2}
                  y={used ? 6 : sheet.label_height_mm / 2 + 2}
                  textAnchor={used ? "start" : "middle"}
                >
                  {place + 1}
                  {used ? say` used` : ""}
                </text>
              )}
            </g>
          );
        })}
        {on >= 0 && on < each ? (
          <rect
            className="label-cursor"
            x={sheet.left_mm + (on % columns) * sheet.pitch_x_mm - 0.6}
            y={sheet.top_mm + Math.floor(on / columns) * sheet.pitch_y_mm - 0.6}
            width={(sheet.label_width_mm ?? 0) + 1.2}
            height={sheet.label_height_mm + 1.2}
            rx={sheet.corner_mm + 0.6}
          />
        ) : null}
      </svg>
    </div>
  );
}

const nameOf = ({ record, place }: LaidOne): string =>
  `${record}${place === null || place === record ? "" : say` at ${place}`}`;

export const wordsOf = (label: LaidOne): string => `${nameOf(label)}: ${(label.lines ?? []).join(", ")}`;
