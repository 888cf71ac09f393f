/** What a cell shows while nobody edits it. */
import { Fragment, type ReactNode } from "react";
import type { Value } from "../../core/model/dictionary.ts";
import type { LengthUnit } from "../../core/model/units.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { shortWords } from "../drawing/colours.ts";
import { Swatch } from "../drawing/swatch.tsx";
import type { GridColumn } from "./columns.ts";
import { cellText } from "./showing.ts";
import type { TypedCell } from "./typed.ts";

interface Props {
  readonly column: GridColumn;
  readonly value: Value;
  /** The tag of the record a reference names. */
  readonly name: string | null;
  readonly typed: TypedCell | undefined;
  readonly lengths: LengthUnit;
  /** Layers of the glass the cell names, or whose own colour it is; empty for other cells. */
  readonly colours: readonly ColourLayer[];
}

const STATES = { saving: "", waiting: "cell-waiting", refused: "cell-refused" } as const;

/** A clock: what waits is told by its shape, not by a colour. */
export const WaitsMark = () => (
  <svg className="cell-waits" width="11" height="11" viewBox="0 0 11 11" aria-hidden="true">
    <circle cx="5.5" cy="5.5" r="4.5" />
    <path d="M5.5 2.8V5.7L7.6 6.9" />
  </svg>
);

/** In a row of one line, a line break is seen as a sign; taller rows break there. */
const broken = (text: string): ReactNode =>
  text.split(/\r?\n/).map((line, at) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: lines have nothing but places
    <Fragment key={at}>
      {at === 0 ? null : (
        <>
          <span className="cell-break" aria-hidden="true">
            {"\u21b5"}
          </span>
          {"\n"}
        </>
      )}
      {line}
    </Fragment>
  ));

export function CellText({ column, value, name, typed, lengths, colours }: Props) {
  if (typed)
    return (
      <span
        className={["cell-typed", STATES[typed.state], column.mono ? "tag" : ""].filter(Boolean).join(" ")}
        {...(typed.state === "waiting" ? { title: say`Typed, and not written yet: it waits` } : {})}
      >
        {typed.state === "waiting" ? <WaitsMark /> : null}
        {typed.text === "" ? <span className="cell-none">{say`empty`}</span> : broken(typed.text)}
      </span>
    );
  if (colours.length > 0 && (value === null || column.to))
    return (
      <span className="cell-glass">
        <Swatch colours={colours} />
        {column.to ? <span className="tag">{cellText(column.field, value, name, lengths)}</span> : null}
        <span className="cell-colours">{shortWords(colours)}</span>
      </span>
    );
  const text = cellText(column.field, value, name, lengths);
  if (text === "") return null;
  return <span className={column.mono ? (column.names ? "tag strong" : "tag") : "cell-text"}>{broken(text)}</span>;
}
