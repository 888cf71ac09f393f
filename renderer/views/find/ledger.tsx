/** Hop by hop, with the line drawn on the same rows. One row is selected; drawing, ledger and leaf agree on it. */
import { type KeyboardEvent, type ReactNode, useContext, useEffect, useMemo, useRef } from "react";
import { basisWords } from "../../../core/model/wording.ts";
import type { Hop, TraceEnd } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { onRowKey, WALKED } from "../../controls/row-keys.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { recordAddress, TabStops, TagLink } from "../../controls/tag-link.tsx";
import { STATE_WORDS, StateMark } from "../../drawing/states.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { cellWidth, LineCell } from "./line-cell.tsx";
import { type HopRow, lanesOf, placeOf, type Row } from "./rows.ts";
import { colourLines, jointName, LENGTH_FROM, placeWords, shortTags, waysOf } from "./words.ts";

export interface LedgerProps {
  readonly rows: readonly Row[];
  readonly strands: number;
  readonly selected: string | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen: (row: Row) => void;
  readonly label: string;
  /** Sums under the last row. */
  readonly foot?: ReactNode;
}

export function Ledger({ rows, strands, selected, onSelect, onOpen, label, foot }: LedgerProps) {
  const table = useRef<HTMLTableElement>(null);
  const lanes = useMemo(() => lanesOf(rows), [rows]);
  const width = cellWidth(strands, lanes);
  const at = Math.max(
    0,
    rows.findIndex(({ key }) => key === selected),
  );

  const onKeyDown = (event: KeyboardEvent): void =>
    onRowKey(event, {
      at,
      rows: rows.length,
      goTo: (next) => {
        const { key } = rows[next] as Row;
        onSelect(key);
        table.current?.querySelector<HTMLElement>(`[data-row="${CSS.escape(key)}"]`)?.focus();
      },
      open: () => onOpen(rows[at] as Row),
    });

  return (
    <table ref={table} className="ledger" {...WALKED} aria-label={label} onKeyDown={onKeyDown}>
      <thead>
        <tr>
          <th className="ledger-number">
            <span className="hush">{say`hop`}</span>
          </th>
          <th className="ledger-place">{say`place or way`}</th>
          <th style={{ width }}>
            <span className="hush">{say`the line, drawn`}</span>
          </th>
          <th className="ledger-by">{say`joined by`}</th>
          <th>{say`colours, or how`}</th>
          <th className="ledger-circuit">{say`circuit`}</th>
          <th className="figure ledger-length">{say`length`}</th>
          <th className="figure ledger-length">{say`so far`}</th>
          <th className="ledger-from">{say`known by`}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <TabStops key={row.key} value={row.key === selected ? undefined : -1}>
            <LedgerRow
              row={row}
              before={rows[index - 1] ?? null}
              after={rows[index + 1] ?? null}
              width={width}
              lanes={lanes}
              selected={row.key === selected}
              reachable={index === at}
              onSelect={onSelect}
            />
          </TabStops>
        ))}
      </tbody>
      {foot ? <tfoot>{foot}</tfoot> : null}
    </table>
  );
}

interface LedgerRowProps {
  readonly row: Row;
  readonly before: Row | null;
  readonly after: Row | null;
  readonly width: number;
  readonly lanes: number;
  readonly selected: boolean;
  readonly reachable: boolean;
  readonly onSelect: (key: string) => void;
}

const sameSpace = (one: Row | null, other: Row): boolean => {
  if (!one) return false;
  const [a, b] = [placeOf(one), placeOf(other)];
  return a !== null && b !== null && a.space?.id === b.space?.id;
};

function LedgerRow({ row, before, after, width, lanes, selected, reachable, onSelect }: LedgerRowProps) {
  const line = useRef<HTMLTableRowElement>(null);
  useEffect(() => {
    if (selected) line.current?.scrollIntoView({ block: "nearest" });
  }, [selected]);
  const place = placeOf(row);
  const begins = place !== null && !sameSpace(before, row);
  const tall = row.kind === "hop" && row.hops[0]?.kind === "strand";
  const kind = row.kind === "hop" ? (tall ? "glass" : "joint") : row.kind;
  return (
    <tr
      ref={line}
      className={`ledger-${kind}`}
      aria-selected={selected}
      data-row={row.key}
      tabIndex={reachable ? 0 : -1}
      onClick={() => onSelect(row.key)}
      onFocus={(event) => {
        if (event.target === event.currentTarget && !selected) onSelect(row.key);
      }}
    >
      <td className="ledger-number">{row.kind === "hop" ? row.number : ""}</td>
      <td
        className={
          place ? `ledger-place within ${sameSpace(after, row) ? "" : "last"} ${begins ? "first" : ""}` : "ledger-place"
        }
      >
        {row.kind === "hop" && tall ? <Ways hop={row.hops[0] as Hop} /> : null}
        {place && begins ? (
          <>
            {place.space ? (
              <TagLink record={place.space} strong />
            ) : (
              <span className="faint">{say`place not known`}</span>
            )}{" "}
            <span className="faint small">{placeWords(place)}</span>
          </>
        ) : null}
      </td>
      <td className="ledger-line" style={{ width }}>
        <LineCell row={row} width={width} lanes={lanes} />
      </td>
      <RowWords row={row} />
    </tr>
  );
}

const waysTitle = (hop: Hop): string => {
  const passed = hop.passes.flatMap(({ place }) => place.space?.tag ?? []);
  const ways = waysOf(hop).map(({ tag }) => tag);
  return `${ways.join(", ")}${passed.length > 0 ? say`, passing ${passed.join(", ")}` : ""}`;
};

function Ways({ hop }: { readonly hop: Hop }) {
  const ways = waysOf(hop);
  return ways.length === 0 ? (
    <span className="faint small">{say`way not given`}</span>
  ) : (
    <span className="ledger-ways small" title={waysTitle(hop)}>
      {ways.map((way, index) => (
        <span key={`${way.kind} ${way.id}`}>
          {index > 0 ? ", " : ""}
          <TagLink record={way} />
        </span>
      ))}
    </span>
  );
}

function RowWords({ row }: { readonly row: Row }) {
  switch (row.kind) {
    case "hop":
      return <HopWords row={row} />;
    case "end":
      return (
        <td colSpan={6} className="ledger-words">
          <EndWords ends={row.ends} />
        </td>
      );
    case "fork":
      return (
        <td colSpan={6} className="ledger-words">
          <b>{row.words}</b>
          {row.doubt ? <span className="soft">{say` Both ways are followed.`}</span> : null}
        </td>
      );
    case "branch":
      return (
        <td colSpan={6} className="ledger-words">
          <b>{row.words}</b>
          {row.end ? <span className="soft">{sayWith`: to ${endTag(row)}`}</span> : null}
        </td>
      );
  }
}

/** Ends of lines side by side, each once. */
function EndWords({ ends }: { readonly ends: readonly TraceEnd[] }) {
  const words = [...new Set(ends.map((end) => end.words))];
  const [only] = ends;
  return (
    <>
      <b>{words.join(" · ")}</b> {only?.record && ends.length === 1 ? <TagLink record={only.record} /> : null}
    </>
  );
}

const endTag = (row: Extract<Row, { kind: "branch" }>): ReactNode => {
  const { end } = row;
  if (!end) return null;
  return (
    <>
      {end.record ? <TagLink record={end.record} /> : null} {end.words}
    </>
  );
};

function HopWords({ row }: { readonly row: HopRow }) {
  const length = useLength();
  const { hops, soFar_m } = row;
  const [hop] = hops as [Hop];
  const lengths = hops.map(({ length_m }) => length_m);
  const same = new Set(lengths.map((each) => each?.toFixed(1))).size === 1;
  return (
    <>
      <td>
        <HopName hops={hops} />
      </td>
      <td className={hop.kind === "strand" ? "ledger-colours" : "soft"}>
        {hop.kind === "strand" ? <Colours hops={hops} /> : hop.how}
      </td>
      <td>
        <Circuits hops={hops} />
      </td>
      <td className="figure">
        {hop.length_m === null ? (
          hop.lacks ? (
            <span className="faint">{say`not given`}</span>
          ) : (
            ""
          )
        ) : same ? (
          length(hop.length_m)
        ) : (
          <span title={lengths.map((each) => (each === null ? say`not given` : length(each))).join(", ")}>
            {length(Math.min(...lengths.filter((each) => each !== null)))}+
          </span>
        )}
      </td>
      <td className="figure">{hop.length_m !== null && soFar_m !== null ? length(soFar_m) : ""}</td>
      <td className="faint small">{knownBy(hop)}</td>
    </>
  );
}

/** "marks, seen": where the length comes from, and how the records behind the hop are known. */
const knownBy = (hop: Hop): string =>
  [
    hop.length_from ? LENGTH_FROM[hop.length_from] : "",
    basisWords(hop.basis),
    hop.kind === "assumed" ? say`assumed` : "",
  ]
    .filter(Boolean)
    .join(", ");

function HopName({ hops }: { readonly hops: readonly Hop[] }) {
  const tabIndex = useContext(TabStops);
  const [hop] = hops as [Hop];
  if (hop.kind === "assumed") return <span className="faint">{say`no cord on record`}</span>;
  if (hop.kind === "strand" || hop.kind === "port" || hop.kind === "interface") {
    return shortTags(hops.map(({ record }) => record)).map(({ ref, words }, index) => (
      <span key={`${ref.kind} ${ref.id}`}>
        {index > 0 ? ", " : ""}
        <TagLink record={ref} words={words} strong={hop.kind === "strand"} />
      </span>
    ));
  }
  const { words, tag } = jointName(hop);
  return (
    <a tabIndex={tabIndex} className={tag ? "tag" : "link"} href={recordAddress(hop.record)} title={hop.record.tag}>
      {words}
    </a>
  );
}

function Colours({ hops }: { readonly hops: readonly Hop[] }) {
  const lines = colourLines(hops);
  return (
    <span className="ledger-swatches">
      <span>
        {hops.slice(0, 3).map((hop) => (
          <Swatch key={hop.record.id} colours={hop.colours} height={hops.length > 1 ? 11 : 14} />
        ))}
      </span>
      <span>
        {lines.map((line) => (
          <span key={line} className="ledger-colour">
            {line}
          </span>
        ))}
      </span>
    </span>
  );
}

function Circuits({ hops }: { readonly hops: readonly Hop[] }) {
  const circuits = new Map(hops.flatMap((hop) => hop.circuits.map((circuit) => [circuit.id, circuit] as const)));
  const [hop] = hops;
  if (!hop?.state) return null;
  return (
    <span className="ledger-state" title={STATE_WORDS[hop.state]}>
      <StateMark state={hop.state} />
      {circuits.size === 0 ? (
        <span className="soft">{STATE_WORDS[hop.state]}</span>
      ) : (
        [...circuits.values()].map((circuit) => <TagLink key={circuit.id} record={circuit} />)
      )}
    </span>
  );
}

/** The sum under a ledger. */
export function LedgerSum({
  length_m,
  lacks,
  words,
}: {
  readonly length_m: number | null;
  readonly lacks: readonly string[];
  readonly words: string;
}) {
  const length = useLength();
  return (
    <>
      <tr className="ledger-sum">
        <td colSpan={3} />
        <td colSpan={3}>{words}</td>
        <td className="figure">{length_m === null ? say`not given` : length(length_m)}</td>
        <td colSpan={2} className="soft small">
          {lacks.length > 0 ? say`at least` : say`sum`}
        </td>
      </tr>
      {lacks.length > 0 ? (
        <tr className="ledger-lacks">
          <td colSpan={3} />
          <td colSpan={6} className="soft small">
            {say`Lacks: ${lacks.join("; ")}.`}
          </td>
        </tr>
      ) : null}
    </>
  );
}
