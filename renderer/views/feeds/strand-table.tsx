/** Each strand in one row. Rows are made only where they are seen, so that thousands scroll. */
import { useVirtualizer } from "@tanstack/react-virtual";
import { type KeyboardEvent, useEffect, useRef } from "react";
import type { FeedStrand } from "../../../core/feeds/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { onRowKey, WALKED } from "../../controls/row-keys.ts";
import { TabStops, TagLink } from "../../controls/tag-link.tsx";
import { shortWords } from "../../drawing/colours.ts";
import { FindingMark } from "../../drawing/findings.tsx";
import { StateWord } from "../../drawing/states.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { addressOf } from "../../frame/router.ts";
import { placeWords } from "../find/words.ts";

const ROW_REM = 1.75;

export interface StrandTableProps {
  readonly strands: readonly FeedStrand[];
  readonly selected: string | null;
  readonly onSelect: (strand: string) => void;
  readonly onOpen: (strand: FeedStrand) => void;
}

export function StrandTable({ strands, selected, onSelect, onOpen }: StrandTableProps) {
  const scroller = useRef<HTMLDivElement>(null);
  const focusNext = useRef(false);
  const at = Math.max(
    0,
    strands.findIndex(({ strand }) => strand === selected),
  );
  const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
  const height = ROW_REM * rem;
  const rows = useVirtualizer({
    count: strands.length,
    getScrollElement: () => scroller.current,
    estimateSize: (index) => (strands[index]?.why ? 2 * height : height),
    getItemKey: (index) => strands[index]?.strand ?? index,
    overscan: 8,
    scrollPaddingStart: height,
  });

  // Heights follow the strands, the view follows the selection.
  useEffect(() => {
    if (strands.length > 0) rows.measure();
  }, [rows, strands]);
  useEffect(() => {
    if (strands.length > 0) rows.scrollToIndex(at, { align: "auto" });
    if (!focusNext.current) return;
    focusNext.current = false;
    requestAnimationFrame(() => scroller.current?.querySelector<HTMLElement>('[aria-selected="true"]')?.focus());
  }, [rows, strands, at]);

  const onKeyDown = (event: KeyboardEvent): void =>
    onRowKey(event, {
      at,
      rows: strands.length,
      goTo: (next) => {
        focusNext.current = true;
        onSelect((strands[next] as FeedStrand).strand);
      },
      open: () => onOpen(strands[at] as FeedStrand),
    });

  if (strands.length === 0) return <p className="feeds-none">{say`No strand here is in that state.`}</p>;
  const owners = strands.some(({ owner }) => owner !== null);
  // One more than there are would take its share of the width.
  const columns = owners ? 8 : 7;
  const items = rows.getVirtualItems();
  const before = items[0]?.start ?? 0;
  const after = rows.getTotalSize() - (items.at(-1)?.end ?? 0);
  return (
    <div ref={scroller} className="strand-scroller">
      <table
        className="strand-table"
        {...WALKED}
        aria-label={say`Strands`}
        aria-rowcount={strands.length + 1}
        onKeyDown={onKeyDown}
      >
        <thead>
          <tr>
            <th className="strand-name">{say`strand`}</th>
            <th>{say`tube, strand`}</th>
            <th className="strand-state">{say`state`}</th>
            <th>{say`far end`}</th>
            <th className="strand-where">{say`where`}</th>
            <th className="strand-circuit">{say`circuit`}</th>
            {owners ? <th className="strand-owner">{say`owner`}</th> : null}
            <th className="strand-length figure">{say`length`}</th>
          </tr>
        </thead>
        <tbody>
          {before > 0 ? <Spacer height={before} columns={columns} /> : null}
          {items.map((item) => {
            const strand = strands[item.index];
            return strand ? (
              <TabStops key={item.key} value={item.index === at ? undefined : -1}>
                <StrandRow
                  strand={strand}
                  index={item.index}
                  selected={strand.strand === selected}
                  reachable={item.index === at}
                  owners={owners}
                  onSelect={onSelect}
                />
              </TabStops>
            ) : null;
          })}
          {after > 0 ? <Spacer height={after} columns={columns} /> : null}
        </tbody>
      </table>
    </div>
  );
}

/** Stands for the rows that aren't seen. */
const Spacer = ({ height, columns }: { readonly height: number; readonly columns: number }) => (
  <tr>
    <td colSpan={columns} className="strand-spacer" style={{ height }} />
  </tr>
);

interface StrandRowProps {
  readonly strand: FeedStrand;
  readonly index: number;
  readonly selected: boolean;
  readonly reachable: boolean;
  readonly owners: boolean;
  readonly onSelect: (strand: string) => void;
}

/** "6 white, 11 rose" */
const tight = (strand: FeedStrand): string => shortWords(strand.colours);

function StrandRow({ strand, index, selected, reachable, owners, onSelect }: StrandRowProps) {
  const length = useLength();
  const { far } = strand;
  return (
    <>
      <tr
        className={strand.why ? "strand-line with-why" : "strand-line"}
        aria-rowindex={index + 2}
        aria-selected={selected}
        tabIndex={reachable ? 0 : -1}
        onClick={() => onSelect(strand.strand)}
        onFocus={(event) => {
          if (event.target === event.currentTarget && !selected) onSelect(strand.strand);
        }}
      >
        <td>
          <TagLink
            record={strand.section}
            words={strand.strand}
            href={addressOf("find", { of: strand.section.tag })}
            strong
          />
        </td>
        <td>
          <span className="strand-colours">
            <Swatch colours={strand.colours} width={22} height={13} />
            {tight(strand)}
          </span>
        </td>
        <td>
          <StateWord state={strand.state} />
        </td>
        <td>
          <FarEnd strand={strand} />
          {strand.assumed ? <span className="faint">{say` assumed cord`}</span> : null}
        </td>
        <td className="soft">{far?.place?.space ? placeWords(far.place) || far.place.space.tag : ""}</td>
        <td>
          {strand.circuits.map((circuit, place) => (
            <span key={circuit.id}>
              {place > 0 ? ", " : ""}
              <TagLink record={circuit} />
            </span>
          ))}
        </td>
        {owners ? <td className="soft">{strand.owner ?? ""}</td> : null}
        <td className="figure">
          {strand.length_m === null ? <span className="faint">{say`not given`}</span> : length(strand.length_m, 0)}
        </td>
      </tr>
      {strand.why ? (
        <tr className={selected ? "strand-why selected" : "strand-why"}>
          <td />
          <td colSpan={owners ? 7 : 6}>
            <FindingMark shape={strand.state === "assigned_twice" ? "error" : "gap"} /> {strand.why}
          </td>
        </tr>
      ) : null}
    </>
  );
}

function FarEnd({ strand }: { readonly strand: FeedStrand }) {
  const { far } = strand;
  if (!far) return <span className="soft">{say`forks to ${strand.far_ends}`}</span>;
  if (far.cut) {
    return (
      <span>
        <FindingMark shape={strand.cut && strand.circuits.length > 0 ? "error" : "gap"} /> {far.in_brief ?? say`cut`}
      </span>
    );
  }
  if (far.kind === "open_end") return <span className="faint">{say`open end`}</span>;
  if (!far.record) return <span className="faint">{far.words}</span>;
  return <TagLink record={far.record} href={addressOf("find", { of: far.record.tag })} />;
}
