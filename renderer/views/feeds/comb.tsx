/** Every strand as one bar, by way in, cable and tube. Left and Right walk from bar to bar, with the table below. */
import { type KeyboardEvent, memo, useMemo } from "react";
import type { FeedCable, FeedStrand, FeedsAnswer } from "../../../core/feeds/answer.ts";
import type { StrandState } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { COMB_FLAGGED, CombBar } from "../../drawing/comb.tsx";
import { Run } from "../../drawing/run.tsx";
import { STATE_WORDS, STATES } from "../../drawing/states.tsx";
import { addressOf } from "../../frame/router.ts";
import { placeWords } from "../find/words.ts";
import { type UnitGroup, unitGroups, waysIn } from "./grouping.ts";

const STEP = 6;
const BAR = 4.5;

export interface CombProps {
  readonly answer: FeedsAnswer;
  /** Those the question asks about. */
  readonly cables: readonly FeedCable[];
  /** Only strands in this state stand out; empty for all. */
  readonly shown: StrandState | "";
  readonly selected: string | null;
  readonly onSelect: (strand: string) => void;
}

export function Comb({ answer, cables, shown, selected, onSelect }: CombProps) {
  const strands = useMemo(
    () => cables.flatMap((cable) => cable.strands).filter(({ state }) => shown === "" || state === shown),
    [cables, shown],
  );
  const ways = useMemo(() => waysIn({ ...answer, cables }), [answer, cables]);
  const states = STATES.filter((state) => answer.counts[state] > 0);
  const at = strands.findIndex(({ strand }) => strand === selected);

  const onKeyDown = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: 12, ArrowUp: -12 }[event.key];
    if (step === undefined || event.altKey || event.target !== event.currentTarget) return;
    event.preventDefault();
    const next = strands[Math.max(0, Math.min(strands.length - 1, at + step))];
    if (next) onSelect(next.strand);
  };

  return (
    <>
      <div
        className="comb"
        role="slider"
        tabIndex={0}
        aria-label={say`Strands that feed ${answer.name}, one bar each. The arrows walk along them; the table says each.`}
        aria-valuemin={1}
        aria-valuemax={Math.max(1, strands.length)}
        aria-valuenow={Math.max(1, at + 1)}
        aria-valuetext={strands[at] ? `${strands[at].strand}, ${STATE_WORDS[strands[at].state]}` : say`no strand`}
        onKeyDown={onKeyDown}
        onClick={({ target }) => {
          const strand =
            target instanceof Element ? target.closest("[data-strand]")?.getAttribute("data-strand") : null;
          if (strand) onSelect(strand);
        }}
      >
        {ways.map((way) => (
          <div key={way.place.space?.id ?? 0} className="comb-way">
            <div className="comb-place">
              {way.place.space ? <b className="tag strong">{way.place.space.tag}</b> : <b>{say`place not known`}</b>}
              <span className="faint small">{placeWords(way.place)}</span>
            </div>
            <div className="comb-cables">
              {way.cables.map((cable) => (
                <CableComb key={cable.cable.id} cable={cable} shown={shown} selected={selected} />
              ))}
            </div>
          </div>
        ))}
      </div>
      <ul className="comb-key">
        {states.map((state) => (
          <li key={state}>
            <svg width="9" height={COMB_FLAGGED} aria-hidden="true">
              <g transform={`translate(4.5 ${COMB_FLAGGED})`}>
                <CombBar state={state} />
              </g>
            </svg>
            {STATE_WORDS[state]}
          </li>
        ))}
      </ul>
    </>
  );
}

interface CableCombProps extends Pick<CombProps, "shown" | "selected"> {
  readonly cable: FeedCable;
}

function CableComb({ cable, shown, selected }: CableCombProps) {
  const groups = useMemo(() => unitGroups(cable), [cable]);
  return (
    <div className="comb-cable">
      <div className="comb-name">
        <b className="tag strong">{cable.cable.tag}</b>
        <span className="faint small">
          {count(cable.strands.length)}
          {cable.from?.space ? sayWith` from ${<span className="tag">{cable.from.space.tag}</span>}` : null}
          {cable.passes_only ? say`, passes` : ""}
        </span>
      </div>
      <div className="comb-units">
        {cable.without_strands ? <span className="faint">{say`Its strands are not on record.`}</span> : null}
        {groups.map((group) => (
          <UnitComb
            key={group.key}
            group={group}
            shown={shown}
            selected={group.strands.some(({ strand }) => strand === selected) ? selected : null}
          />
        ))}
      </div>
    </div>
  );
}

interface UnitCombProps extends Pick<CombProps, "shown" | "selected"> {
  readonly group: UnitGroup;
}

/** Drawn anew only when its own selection changes: a campus building has thousands of bars. */
const UnitComb = memo(function UnitComb({ group, shown, selected }: UnitCombProps) {
  const width = group.strands.length * STEP;
  const foot = COMB_FLAGGED + 1;
  const at = group.strands.findIndex(({ strand }) => strand === selected);
  return (
    <div className="comb-unit">
      <svg width={width} height={foot + 10} aria-hidden="true">
        {group.strands.map((strand, index) => (
          <Bar
            key={strand.strand}
            strand={strand}
            x={index * STEP}
            foot={foot}
            faint={shown !== "" && strand.state !== shown}
          />
        ))}
        {at >= 0 ? (
          <rect
            x={at * STEP - 2}
            y="1"
            width={BAR + 4}
            height={foot + 1}
            fill="none"
            stroke="var(--accent)"
            strokeWidth="2"
          />
        ) : null}
        {group.layer ? (
          <Run
            course={{ x1: 0, y1: foot + 6, x2: width - 2, y2: foot + 6 }}
            colours={[{ ...group.layer, what: "strand" }]}
            width={14}
          />
        ) : null}
        {group.layer ? (
          <path d={`M0.5 ${foot + 2}V${foot + 10}M${width - 2.5} ${foot + 2}V${foot + 10}`} stroke="var(--outline)" />
        ) : (
          <path
            d={`M0.5 ${foot + 3.5}V${foot + 8.5}H${width - 2.5}V${foot + 3.5}`}
            fill="none"
            stroke="var(--outline)"
          />
        )}
      </svg>
      <span className="comb-words">{group.words}</span>
    </div>
  );
});

interface BarProps {
  readonly strand: FeedStrand;
  readonly x: number;
  readonly foot: number;
  readonly faint: boolean;
}

function Bar({ strand, x, foot, faint }: BarProps) {
  return (
    <g transform={`translate(${x + BAR / 2} ${foot})`} opacity={faint ? 0.22 : 1} data-strand={strand.strand}>
      <title>{`${strand.strand}, ${STATE_WORDS[strand.state]}`}</title>
      <rect x={-STEP / 2} y={-COMB_FLAGGED} width={STEP} height={COMB_FLAGGED + 9} fill="transparent" />
      <CombBar state={strand.state} width={BAR} />
    </g>
  );
}

/** The cable's name as a link, for the table and leaf. */
export const CableLink = ({ cable }: { readonly cable: FeedCable }) => (
  <TagLink record={cable.cable} href={addressOf("cable", { of: cable.cable.tag })} />
);
