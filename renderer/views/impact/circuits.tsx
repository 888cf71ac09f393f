/** Circuits that stop, by priority: the order in which they are put back. */
import type { HitHow, ImpactCircuit } from "../../../core/impact/answer.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { StateWord } from "../../drawing/states.tsx";
import { addressOf } from "../../frame/router.ts";

export const HOW: Readonly<Record<HitHow, string>> = {
  given: say`its own glass`,
  port: say`its port`,
  joined: say`glass joined to its own`,
  rides_on: say`what it rides on`,
};

export const Tags = ({ records, page }: { readonly records: readonly RecordRef[]; readonly page?: string }) =>
  records.map((record, index) => (
    <span key={`${record.kind} ${record.id}`}>
      {index > 0 ? ", " : ""}
      <TagLink record={record} {...(page ? { href: addressOf(page, { of: record.tag }) } : {})} />
    </span>
  ));

const COLUMNS: readonly WalkedColumn<ImpactCircuit>[] = [
  {
    key: "priority",
    head: say`priority`,
    show: ({ priority }) => (priority === null ? <span className="faint">{say`none set`}</span> : <b>{priority}</b>),
  },
  {
    key: "circuit",
    head: say`circuit`,
    show: ({ circuit }) => <TagLink record={circuit} strong href={addressOf("find", { of: circuit.tag })} />,
  },
  {
    key: "name",
    head: say`what it carries`,
    show: ({ name, owner }) => (
      <>
        {name ?? <span className="faint">{say`not named`}</span>}
        {owner ? <span className="soft">{say`, of ${owner}`}</span> : null}
      </>
    ),
  },
  { key: "state", head: say`state`, show: ({ state }) => <StateWord state={state} /> },
  {
    key: "how",
    head: say`loses`,
    show: ({ how, cables, rides_on }) => (
      <>
        {HOW[how]}
        {how === "rides_on" && rides_on ? (
          <>
            , <TagLink record={rides_on} />
          </>
        ) : null}
        {cables.length > 0 ? sayWith` in ${<Tags records={cables} page="cable" />}` : null}
      </>
    ),
  },
  {
    key: "stays",
    head: say`declared diverse`,
    show: ({ stays, also_hit }) => (
      <>
        {also_hit.length > 0 ? (
          <span className="signed">
            <FindingMark shape="error" />
            <span>{sayWith`${<Tags records={also_hit} />} hit too`}</span>
          </span>
        ) : null}
        {stays.length > 0 ? sayWith`${<Tags records={stays} />} stays` : null}
      </>
    ),
  },
];

export interface CircuitsProps {
  readonly circuits: readonly ImpactCircuit[];
  readonly selected: ImpactCircuit | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen: (circuit: ImpactCircuit) => void;
}

export function Circuits({ circuits, selected, onSelect, onOpen }: CircuitsProps) {
  return (
    <Walked
      label={say`Circuits that are hit, by priority`}
      className="impact-circuits"
      columns={COLUMNS}
      rows={circuits}
      keyOf={({ circuit }) => String(circuit.id)}
      selected={selected ? String(selected.circuit.id) : null}
      onSelect={onSelect}
      onOpen={onOpen}
    />
  );
}
