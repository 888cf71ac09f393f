/** A way cut across: its pipes where they stand in the bank, with what lies in each, to one scale. Walked with the arrows. */
import { type KeyboardEvent, useMemo } from "react";
import type { Pipe } from "../../../core/pathway/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { type BankLayout, type DrawnPipe, layOutBank } from "./bank-layout.ts";
import { InsidePipe } from "./inside-pipe.tsx";
import { fillWords, STATE_WORDS } from "./words.ts";

const K = textScale();
export const BANK_HEIGHT = 290;

export interface BankProps {
  readonly pipes: readonly Pipe[];
  readonly label: string;
  readonly mirrored: boolean;
  readonly selected: number | null;
  readonly onSelect: (key: string) => void;
}

export function Bank({ pipes, label, mirrored, selected, onSelect }: BankProps) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const layout = useMemo(
    () => layOutBank(pipes, { width: width - 40, height: BANK_HEIGHT * K, mirrored, k: K }),
    [pipes, width, mirrored],
  );
  const { drawn } = layout;
  // A pipe inside another is drawn in it; it is the outer one that stands in the bank.
  const chosen = pipes.find(({ conduit }) => conduit.id === selected);
  const shownId = chosen?.inside?.id ?? selected;
  const at = drawn.findIndex(({ pipe }) => pipe.conduit.id === shownId);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const next = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    const one = nextOf(layout, at, event.key);
    if (one) onSelect(String(one.pipe.conduit.id));
  };

  const here = drawn[at]?.pipe;
  return (
    <div
      ref={holder}
      className="bank"
      role="slider"
      tabIndex={0}
      aria-label={say`${label} The arrows walk from pipe to pipe; the table says each.`}
      aria-valuemin={1}
      aria-valuemax={Math.max(1, drawn.length)}
      aria-valuenow={Math.max(1, at + 1)}
      aria-valuetext={
        here
          ? `${here.conduit.tag}, ${counted(here.occupants.length, "cable", "cables")}, ${fillWords(here)}`
          : say`no pipe`
      }
      onKeyDown={onKeyDown}
      onClick={({ target }) => {
        const id = target instanceof Element ? target.closest("[data-pipe]")?.getAttribute("data-pipe") : null;
        if (id) onSelect(id);
      }}
    >
      <svg width={layout.width} height={layout.height} aria-hidden="true">
        {drawn.map((one) => (
          <PipeShape
            key={one.pipe.conduit.id}
            one={one}
            pipes={pipes}
            perMm={layout.perMm}
            selected={one.pipe.conduit.id === shownId}
          />
        ))}
      </svg>
    </div>
  );
}

/** The nearest pipe in that direction; along the row, or the next row. */
function nextOf({ drawn }: BankLayout, at: number, key: string): DrawnPipe | undefined {
  const here = drawn[at];
  if (!here) return drawn[0];
  const [dx, dy] = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] }[key] ?? [0, 0];
  const ahead = drawn.filter(({ x, y }) => Math.sign(Math.round(dx ? x - here.x : y - here.y)) === (dx || dy));
  const far = ({ x, y }: DrawnPipe): number => {
    const [along, aside] = dx
      ? [Math.abs(x - here.x), Math.abs(y - here.y)]
      : [Math.abs(y - here.y), Math.abs(x - here.x)];
    return along + 4 * aside;
  };
  return ahead.toSorted((one, other) => far(one) - far(other))[0];
}

interface PipeShapeProps {
  readonly one: DrawnPipe;
  readonly pipes: readonly Pipe[];
  readonly perMm: number | null;
  readonly selected: boolean;
}

function PipeShape({ one, pipes, perMm, selected }: PipeShapeProps) {
  const { pipe, x, y, r } = one;
  const number = pipe.conduit.tag.split("/").at(-1) ?? pipe.conduit.tag;
  const empty = pipe.occupants.length + pipe.pipes.length === 0;
  return (
    <g transform={`translate(${x} ${y})`} data-pipe={pipe.conduit.id} className="bank-pipe">
      <rect x={-52 * K} y={-r - 20 * K} width={104 * K} height={2 * r + 40 * K} fill="transparent" />
      {selected ? <circle r={r + 6} fill="var(--accent-soft)" stroke="var(--accent)" strokeWidth="2" /> : null}
      <circle
        r={r + 1.5}
        fill="var(--paper)"
        stroke="var(--ink)"
        strokeWidth="2.5"
        strokeDasharray={one.scaled ? undefined : "4 3"}
      />
      {pipe.state === "blocked" ? <path d={crossIn(r)} stroke="var(--ink2)" strokeWidth="1.5" /> : null}
      <InsidePipe pipe={pipe} pipes={pipes} r={r} perMm={one.scaled ? perMm : null} />
      <text className="bank-number" textAnchor="middle" y={-r - 10 * K}>
        {number}
      </text>
      <text className="bank-words" textAnchor="middle" y={r + 16 * K}>
        {empty ? (pipe.state ? STATE_WORDS[pipe.state] : say`empty`) : namesIn(pipe)}
      </text>
    </g>
  );
}

const crossIn = (r: number): string => {
  const d = r * 0.5;
  return `M${-d} ${-d} ${d} ${d}M${-d} ${d} ${d} ${-d}`;
};

/** What fits under a pipe: one or two names, else how many. */
function namesIn({ occupants, pipes }: Pipe): string {
  const tags = occupants.map(({ cable }) => cable.tag);
  if (pipes.length > 0)
    return [counted(pipes.length, "pipe", "pipes"), ...(tags.length > 0 ? [`+ ${tags.length}`] : [])].join(" ");
  const words = tags.join(", ");
  return words.length <= 15 ? words : counted(tags.length, "cable", "cables");
}
