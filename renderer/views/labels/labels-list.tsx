/** Every label that was asked for: on what, what it says, why it is to be made, and what doesn't fit. */

import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { withDays } from "../../controls/said.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { keyOf, type LaidOne } from "./asked.ts";

/** More rows than this are counted, not drawn. */
const SHOWN = 300;

const COLUMNS: readonly WalkedColumn<LaidOne>[] = [
  {
    key: "on",
    head: say`on`,
    show: ({ kind, id, record }) => <TagLink record={{ kind, id, tag: record }} strong />,
  },
  {
    key: "at",
    head: say`at`,
    show: ({ place, record, space_id }) =>
      place === null ? (
        <span className="faint">{say`not on record`}</span>
      ) : place === record || space_id === null ? null : (
        <TagLink record={{ kind: "space", id: space_id, tag: place }} />
      ),
  },
  { key: "says", head: say`says`, show: ({ lines }) => (lines ?? []).slice(1).join(" / ") },
  {
    key: "fits",
    head: say`fit`,
    show: ({ over, lines, lacks }) =>
      lines === null ? (
        <span className="state-word">
          <FindingMark shape="gap" />
          {say`lacks ${lacks.join(", ")}`}
        </span>
      ) : over.length > 0 ? (
        <span className="state-word">
          <FindingMark shape="warning" />
          {say`doesn't fit`}
        </span>
      ) : null,
  },
  {
    key: "why",
    head: say`to be made because`,
    show: ({ needed }) =>
      (needed === null ? null : withDays(needed)) ?? <span className="faint">{say`on record`}</span>,
  },
];

export interface LabelsListProps {
  readonly labels: readonly LaidOne[];
  readonly selected: LaidOne | null;
  readonly onSelect: (key: string) => void;
}

export function LabelsList({ labels, selected, onSelect }: LabelsListProps) {
  // Where all fit, the room is the words'.
  const fitting = labels.every(({ lines, over }) => lines !== null && over.length === 0);
  return (
    <>
      <Walked
        label={say`Labels`}
        className="labels-table"
        columns={fitting ? COLUMNS.filter(({ key }) => key !== "fits") : COLUMNS}
        rows={labels.slice(0, SHOWN)}
        keyOf={keyOf}
        selected={selected ? keyOf(selected) : null}
        onSelect={onSelect}
      />
      {labels.length > SHOWN ? <p className="soft">{say`and ${count(labels.length - SHOWN)} more`}</p> : null}
    </>
  );
}
