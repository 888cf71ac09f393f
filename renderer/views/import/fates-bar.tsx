/** What would become of the rows, as one bar: solid new, hatched changed, empty same, crossed refused. */
import { useId } from "react";
import { FATE_WORDS } from "../../../core/model/wording.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { type Fate, FateMark } from "../../drawing/findings.tsx";

const FATES: readonly Fate[] = ["new", "changed", "same", "refused"];

interface Props {
  readonly totals: Readonly<Record<Fate, number>> & { readonly rows: number };
}

const HEIGHT = 16;
/** Least share of the bar for a fate that any row has. */
const LEAST = 0.012;

export function FatesBar({ totals }: Props) {
  const id = useId();
  // One row among thousands is still seen.
  const share = (fate: Fate): number => (totals[fate] === 0 ? 0 : Math.max(LEAST, totals[fate] / totals.rows));
  const whole = FATES.reduce((sum, fate) => sum + share(fate), 0);
  const width = (fate: Fate): number => (whole === 0 ? 0 : (share(fate) / whole) * 100);
  const fills: Readonly<Record<Fate, string>> = {
    new: "currentColor",
    changed: `url(#${id}-hatch)`,
    same: "var(--paper)",
    refused: `url(#${id}-cross)`,
  };
  const words = FATES.map((fate) => `${count(totals[fate])} ${FATE_WORDS[fate]}`).join(", ");
  let from = 0;
  return (
    <div className="fates">
      <svg width="100%" height={HEIGHT} role="img" aria-label={say`${counted(totals.rows, "row")}: ${words}`}>
        <defs>
          <pattern id={`${id}-hatch`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="6" height="6" fill="var(--paper)" />
            <path d="M0 0V6" stroke="currentColor" strokeWidth="4" />
          </pattern>
          <pattern id={`${id}-cross`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect width="6" height="6" fill="var(--paper)" />
            <path d="M0 0V6M0 0H6" stroke="currentColor" strokeWidth="1.6" />
          </pattern>
        </defs>
        {FATES.map((fate) => {
          const x = from;
          from += width(fate);
          return totals[fate] > 0 ? (
            <rect
              key={fate}
              x={`${x}%`}
              width={`${width(fate)}%`}
              height={HEIGHT}
              fill={fills[fate]}
              stroke="currentColor"
              strokeWidth="1.5"
            />
          ) : null;
        })}
      </svg>
      <ul>
        {FATES.map((fate) => (
          <li key={fate}>
            <FateMark fate={fate} /> <b>{count(totals[fate])}</b> {FATE_WORDS[fate]}
          </li>
        ))}
      </ul>
    </div>
  );
}
