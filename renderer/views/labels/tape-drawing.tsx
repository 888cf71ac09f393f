/** Labels of a tape one below the other, as they will be cut. */

import { say } from "../../../core/words/say.ts";
import { keyOf, type LaidOne } from "./asked.ts";
import { LabelPrint } from "./label-drawing.tsx";
import { wordsOf } from "./sheet-drawing.tsx";

/** Widest that one is drawn, in pixels. */
const WIDE = 400;
const MOST_PER_MM = 4;

export interface TapeDrawingProps {
  readonly labels: readonly LaidOne[];
  readonly selected: LaidOne | null;
  readonly onSelect: (key: string) => void;
}

export function TapeDrawing({ labels, selected, onSelect }: TapeDrawingProps) {
  const drawn = labels.flatMap((label) => (label.laid && label.at ? [{ label, laid: label.laid }] : []));
  const longest = Math.max(1, ...drawn.map(({ laid }) => laid.width_mm));
  const scale = Math.min(MOST_PER_MM, WIDE / longest);
  return (
    <ol className="label-tape">
      {drawn.map(({ label, laid }) => (
        <li key={keyOf(label)}>
          <button
            type="button"
            aria-pressed={label === selected}
            onClick={() => onSelect(keyOf(label))}
            title={say`Shows it in full`}
          >
            <svg
              width={laid.width_mm * scale}
              height={laid.height_mm * scale}
              viewBox={`0 0 ${laid.width_mm} ${laid.height_mm}`}
              role="img"
              aria-label={wordsOf(label)}
            >
              <LabelPrint laid={laid} />
            </svg>
          </button>
        </li>
      ))}
    </ol>
  );
}
