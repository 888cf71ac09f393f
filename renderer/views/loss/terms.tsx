/** Part by part what light loses, walked with the arrows; drawing and leaf follow. */
import { type KeyboardEvent, useRef } from "react";
import type { WavelengthLoss } from "../../../core/light/answer.ts";
import { useLength } from "../../controls/figures.ts";
import { recordAddress, TabStops } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { runningSums } from "./curves.ts";
import { BASIS_WORDS, decibels } from "./words.ts";

/** Its rows are walked with the arrows, so it is told as a grid. */
const WALKED = { role: "grid" } as const;

export function Terms({
  loss,
  selected,
  onSelect,
}: {
  readonly loss: WavelengthLoss;
  readonly selected: number;
  readonly onSelect: (index: number) => void;
}) {
  const table = useRef<HTMLTableElement>(null);
  const length = useLength();
  const { terms } = loss;
  const sums = runningSums(terms);
  const onKeyDown = (event: KeyboardEvent): void => {
    if (!(event.target instanceof HTMLTableRowElement)) return;
    const last = terms.length - 1;
    const next = { ArrowDown: selected + 1, ArrowUp: selected - 1, Home: 0, End: last }[event.key];
    if (next !== undefined) {
      event.preventDefault();
      const to = Math.max(0, Math.min(last, next));
      onSelect(to);
      table.current?.querySelector<HTMLElement>(`[data-row="${to}"]`)?.focus();
    } else if (event.key === "Enter") {
      const term = terms[selected];
      if (term) location.hash = recordAddress(term.record);
    }
  };
  return (
    <table
      ref={table}
      className="loss-terms"
      {...WALKED}
      aria-label={`What is lost at ${loss.wavelength_nm} nm`}
      onKeyDown={onKeyDown}
    >
      <thead>
        <tr>
          <th>what loses</th>
          <th className="figure">up to here</th>
          <th className="figure">loss</th>
          <th className="figure">so far</th>
          <th>basis</th>
          <th>source</th>
        </tr>
      </thead>
      <tbody>
        {terms.map((term, index) => (
          <TabStops
            key={`${term.kind} ${term.hop} ${term.record.kind} ${term.record.id}`}
            value={index === selected ? undefined : -1}
          >
            <tr
              data-row={index}
              aria-selected={index === selected}
              tabIndex={index === selected ? 0 : -1}
              onClick={() => onSelect(index)}
              onFocus={(event) => {
                if (event.target === event.currentTarget && index !== selected) onSelect(index);
              }}
            >
              <td>
                <Tagged text={term.words} records={[term.record]} />
              </td>
              <td className="figure">
                {term.at_m === null ? <span className="faint">not given</span> : length(term.at_m)}
              </td>
              <td className="figure">
                {term.loss_db === null ? <span className="faint">not known</span> : decibels(term.loss_db, 3)}
              </td>
              <td className="figure">{decibels(sums[index] ?? 0)}</td>
              <td className={`loss-basis ${term.basis === "measured" ? "strong" : "soft"}`}>
                {BASIS_WORDS[term.basis]}
              </td>
              <td className="faint small">{term.lacks ?? term.source}</td>
            </tr>
          </TabStops>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <td>
            {loss.complete ? "" : "at least, for what is known; "}
            {terms.length} {terms.length === 1 ? "part" : "parts"}
          </td>
          <td />
          <td className="figure">{loss.loss_db === null ? "not known" : decibels(loss.loss_db, 3)}</td>
          <td colSpan={3} className="soft">
            {byBasis(loss)}
          </td>
        </tr>
        {loss.unknown.map((words) => (
          <tr key={words}>
            <td colSpan={6} className="soft">
              Not known, and not counted: {words}
            </td>
          </tr>
        ))}
      </tfoot>
    </table>
  );
}

const byBasis = ({ by_basis: by }: WavelengthLoss): string =>
  (["measured", "typical", "limit"] as const)
    .filter((basis) => by[basis] > 0)
    .map((basis) => `${decibels(by[basis])} ${basis === "limit" ? "by limits" : basis}`)
    .join(", ");
