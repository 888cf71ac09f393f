/** Each building with its ways in. */
import type { WaysInBuilding } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import { Tags } from "../impact/circuits.tsx";

export const tooFew = ({ ways, wanted }: WaysInBuilding): boolean => wanted !== null && ways < wanted;

/** So many single things are written out in a row; the leaf has all. */
const SHOWN = 5;

const COLUMNS: readonly WalkedColumn<WaysInBuilding>[] = [
  {
    key: "building",
    head: say`building`,
    show: ({ building, name }) => (
      <>
        <TagLink record={building} strong href={addressOf("ways", { of: building.tag })} />{" "}
        <span className="soft">{name}</span>
      </>
    ),
  },
  {
    key: "ways",
    head: say`separate ways`,
    show: (one) => (
      <span className="ways-count">
        <WaysDrawn ways={one.ways} wanted={one.wanted} />
        <b>{one.ways === 0 ? say`none` : count(one.ways)}</b>
        <span className="soft">{one.wanted === null ? "" : say`of ${count(one.wanted)} wanted`}</span>
        {tooFew(one) ? (
          <span className="state-word">
            <FindingMark shape="warning" />
            {say`too few`}
          </span>
        ) : null}
      </span>
    ),
  },
  {
    key: "single",
    head: say`cut off by losing any one of`,
    show: ({ single_points: single, ways }) =>
      ways === 0 ? (
        <span className="faint">{say`no way out is on record`}</span>
      ) : single.length === 0 ? (
        <span className="faint">{say`nothing single on record`}</span>
      ) : (
        <>
          <Tags records={single.slice(0, SHOWN)} />
          {single.length > SHOWN ? (
            <span className="soft">{say` and ${count(single.length - SHOWN)} more`}</span>
          ) : null}
        </>
      ),
  },
  {
    key: "unknown",
    head: say`not on record`,
    className: "figure",
    show: ({ unknown }) => (unknown.length === 0 ? "" : count(unknown.length)),
  },
];

/** A line for each way there is, a dotted one for each that is wanted and isn't there. */
function WaysDrawn({ ways, wanted }: Pick<WaysInBuilding, "ways" | "wanted">) {
  const there = Math.min(ways, 4);
  const all = Math.max(there, Math.min(wanted ?? 0, 4), 1);
  return (
    <svg width="34" height="16" aria-hidden="true">
      <rect x="0.75" y="1.75" width="10" height="12.5" fill="none" stroke="var(--ink)" strokeWidth="1.5" />
      {Array.from({ length: all }, (_, index) => {
        const y = (16 * (index + 1)) / (all + 1);
        return (
          <path
            key={y}
            d={`M11 ${y}H33`}
            stroke={index < there ? "var(--ink)" : "var(--ink3)"}
            strokeWidth={index < there ? 2 : 1.5}
            strokeDasharray={index < there ? undefined : "2 3"}
          />
        );
      })}
    </svg>
  );
}

export interface EachBuildingProps {
  readonly buildings: readonly WaysInBuilding[];
  readonly selected: WaysInBuilding | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen: (one: WaysInBuilding) => void;
}

export function EachBuilding({ buildings, selected, onSelect, onOpen }: EachBuildingProps) {
  return (
    <Walked
      label={say`Ways into each building`}
      className="ways-table"
      columns={COLUMNS}
      rows={buildings}
      keyOf={({ building }) => String(building.id)}
      selected={selected ? String(selected.building.id) : null}
      onSelect={onSelect}
      onOpen={onOpen}
    />
  );
}
