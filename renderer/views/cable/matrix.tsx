/** Every strand in its tube and position, by what it is doing. The arrows move; Enter asks where it goes. */

import { type KeyboardEvent, useMemo, useRef } from "react";
import { UNIT_KINDS } from "../../../core/model/lists.ts";
import type { ColourLayer } from "../../../core/trace/answer.ts";
import type { CableAnswer, CableStrand, CableUnit } from "../../../core/trace/cable-answer.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { WALKED } from "../../controls/row-keys.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { nameWord, plainWord } from "../../drawing/colours.ts";
import { STATE_WORDS, STATES, StateMark } from "../../drawing/states.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { addressOf } from "../../frame/router.ts";
import { seenFrom } from "./seen-from.ts";

interface MatrixRow {
  readonly key: string;
  readonly words: string;
  readonly layers: readonly ColourLayer[];
  readonly strands: readonly CableStrand[];
}

/** Most strands in a row; a unit with more is told in dozens. */
const WIDEST = 24;
const DOZEN = 12;

function rowsOf(units: readonly CableUnit[]): MatrixRow[] {
  return units.flatMap((unit, index): MatrixRow[] => {
    const own = unit.layers.at(-1);
    const words = unit.layers.map(plainWord).join(", ");
    const step = unit.strands.length > WIDEST ? DOZEN : WIDEST;
    const parts = Array.from({ length: Math.ceil(unit.strands.length / step) }, (_, part) =>
      unit.strands.slice(part * step, (part + 1) * step),
    );
    return parts.map((strands, part) => ({
      key: `${unit.record?.id ?? index} ${part}`,
      words:
        parts.length > 1 || !own
          ? [words, say`${strands[0]?.number} to ${strands.at(-1)?.number}`].filter(Boolean).join(": ")
          : words,
      layers: unit.layers,
      strands,
    }));
  });
}

export interface MatrixProps {
  readonly sheet: CableAnswer;
  readonly far: boolean;
  readonly selected: number | null;
  readonly onSelect: (number: number) => void;
}

export function Matrix({ sheet, far, selected, onSelect }: MatrixProps) {
  const table = useRef<HTMLTableElement>(null);
  const rows = useMemo(() => rowsOf(sheet.units), [sheet]);
  const widest = Math.max(1, ...rows.map(({ strands }) => strands.length));
  const narrow = widest > DOZEN;
  const model = rows.find(({ strands }) => strands.length === widest)?.strands ?? [];
  const counts = STATES.map((state) => ({
    state,
    number: rows.flatMap(({ strands }) => strands).filter((strand) => seenFrom(strand, far)?.state === state).length,
  })).filter(({ number }) => number > 0);
  const at = findCell(rows, selected);

  const onKeyDown = (event: KeyboardEvent): void => {
    const move = {
      ArrowRight: [0, 1],
      ArrowLeft: [0, -1],
      ArrowDown: [1, 0],
      ArrowUp: [-1, 0],
      Home: [0, -widest],
      End: [0, widest],
    }[event.key];
    if (!move || event.altKey) return;
    event.preventDefault();
    const row = rows[Math.max(0, Math.min(rows.length - 1, at.row + (move[0] ?? 0)))];
    const strand = row?.strands[Math.max(0, Math.min(row.strands.length - 1, at.column + (move[1] ?? 0)))];
    if (!strand) return;
    onSelect(strand.number);
    table.current?.querySelector<HTMLElement>(`[data-number="${strand.number}"]`)?.focus();
  };

  if (rows.length === 0) return <p className="soft">{say`Its strands are not on record.`}</p>;
  return (
    <>
      <table
        ref={table}
        className={narrow ? "matrix narrow" : "matrix"}
        {...WALKED}
        aria-label={say`Strands by tube and position`}
        onKeyDown={onKeyDown}
      >
        <thead>
          <tr>
            <th className="matrix-unit">{unitHead(rows[0]?.layers.at(-1))}</th>
            {model.map((strand, index) => (
              <th key={strand.number} className="matrix-place">
                <Position strand={strand} place={index + 1} narrow={narrow} />
              </th>
            ))}
            {narrow ? null : <th className="figure">{say`used`}</th>}
            <th className="figure">{say`free`}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, place) => (
            <tr key={row.key}>
              <th scope="row" className="matrix-unit">
                <span>
                  <Swatch
                    colours={row.layers
                      .filter(({ name }) => name !== null)
                      .slice(-1)
                      .map((layer) => ({ ...layer, what: "strand" as const }))}
                    width={16}
                    height={15}
                  />
                  {row.words}
                </span>
              </th>
              {model.map((head, column) => {
                const strand = row.strands[column];
                return strand ? (
                  <Cell
                    key={strand.number}
                    strand={strand}
                    far={far}
                    reachable={at.row === place && at.column === column}
                    selected={strand.number === selected}
                    onSelect={onSelect}
                  />
                ) : (
                  <td key={`none ${head.number}`} />
                );
              })}
              {narrow ? null : <td className="figure">{usedIn(row, far)}</td>}
              <td className="figure">
                {row.strands.filter((strand) => seenFrom(strand, far)?.state === "spare").length}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul className="matrix-key">
        {counts.map(({ state, number }) => (
          <li key={state}>
            <StateMark state={state} /> {STATE_WORDS[state]} {count(number)}
          </li>
        ))}
        {sheet.cut > 0 ? (
          <li>
            {sayWith`${<span className="matrix-cut" />} cut: shown as seen from ${far ? say`the B end` : say`the A end`}`}
          </li>
        ) : null}
      </ul>
    </>
  );
}

const USED = new Set(["in_service", "reserved", "planned", "leased", "assigned_twice"]);
const usedIn = (row: MatrixRow, far: boolean): number =>
  row.strands.filter((strand) => USED.has(seenFrom(strand, far)?.state ?? "")).length;

function findCell(rows: readonly MatrixRow[], number: number | null): { row: number; column: number } {
  for (const [row, { strands }] of rows.entries()) {
    const column = strands.findIndex((strand) => strand.number === number);
    if (column >= 0) return { row, column };
  }
  return { row: 0, column: 0 };
}

/** Number and colour of a position: the name where there is room, the letter code where not. */
function Position({
  strand,
  place,
  narrow,
}: {
  readonly strand: CableStrand;
  readonly place: number;
  readonly narrow: boolean;
}) {
  const own = strand.colours.find(({ what }) => what === "strand");
  // The swatch shows its stripe or ring, the number tells it apart.
  const code = own?.code ?? nameWord(own?.name ?? null).slice(0, 2);
  return (
    <span title={own?.words}>
      {own?.position ?? place}
      {own ? <Swatch colours={[own]} width={narrow ? 16 : 20} height={17} /> : null}
      <span className="matrix-colour">{narrow ? code : nameWord(own?.name ?? null)}</span>
    </span>
  );
}

interface CellProps {
  readonly strand: CableStrand;
  readonly far: boolean;
  readonly reachable: boolean;
  readonly selected: boolean;
  readonly onSelect: (number: number) => void;
}

function Cell({ strand, far, reachable, selected, onSelect }: CellProps) {
  const section = seenFrom(strand, far);
  if (!section) return <td />;
  const circuits = section.circuits.map(({ tag }) => tag).join(", ");
  const words = [strand.strand.tag, STATE_WORDS[section.state], circuits].filter(Boolean).join(", ");
  return (
    <td className={[selected ? "selected" : "", strand.sections.length > 1 ? "cut" : ""].join(" ").trim()}>
      <a
        href={addressOf("find", { of: section.section.tag })}
        aria-label={say`${words}. Where does it go?`}
        title={words}
        aria-current={selected ? "true" : undefined}
        data-number={strand.number}
        tabIndex={reachable ? 0 : -1}
        onFocus={() => onSelect(strand.number)}
      >
        <StateMark state={section.state} />
      </a>
    </td>
  );
}

/** What the rows are: tubes, ribbons, or the strands themselves where they lie in no unit. */
const unitHead = (inner: ColourLayer | undefined): string =>
  inner === undefined || inner.what === "strand" || inner.what === "jacket" ? say`strands` : UNIT_KINDS[inner.what];
