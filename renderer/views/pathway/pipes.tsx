/** Pipes one by one, and cables whose pipe nobody noted. */
import type { Occupant, Pipe } from "../../../core/pathway/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import { isEmpty, percent, STATE_WORDS, tooFull } from "./words.ts";

const COLUMNS: readonly WalkedColumn<Pipe>[] = [
  {
    key: "pipe",
    head: say`pipe`,
    show: ({ conduit, inside }) => (
      <>
        <TagLink record={conduit} strong />
        {inside ? <span className="faint small">{sayWith` in ${<TagLink record={inside} />}`}</span> : null}
      </>
    ),
  },
  {
    key: "place",
    head: say`row, column`,
    show: ({ row, column, inside }) =>
      row !== null && column !== null ? (
        `${row}, ${column}`
      ) : inside ? (
        ""
      ) : (
        <span className="faint">{say`not given`}</span>
      ),
  },
  {
    key: "bore",
    head: say`bore`,
    className: "figure",
    show: ({ inner_diameter_mm: mm }) =>
      mm === null ? <span className="faint">{say`not given`}</span> : `${count(mm)}\u202fmm`,
  },
  {
    key: "state",
    head: say`state`,
    show: ({ state }) => (state ? STATE_WORDS[state] : <span className="faint">{say`not said`}</span>),
  },
  {
    key: "cables",
    head: say`in it`,
    show: ({ occupants, pipes }) => (
      <>
        {[
          ...pipes.map((record) => ({ record, page: null })),
          ...occupants.map(({ cable }) => ({ record: cable, page: "cable" })),
        ].map(({ record, page }, index) => (
          <span key={`${record.kind} ${record.id}`}>
            {index > 0 ? ", " : ""}
            <TagLink record={record} {...(page ? { href: addressOf(page, { of: record.tag }) } : {})} />
          </span>
        ))}
        {occupants.length + pipes.length === 0 ? <span className="faint">{say`empty`}</span> : null}
      </>
    ),
  },
  { key: "fill", head: say`full`, show: (pipe) => <Fill pipe={pipe} /> },
  {
    key: "usual",
    head: say`usual at most`,
    className: "figure",
    show: ({ fill_limit }) => (fill_limit ? percent(fill_limit.value) : ""),
  },
];

const BAR = 84;

/** The bar is the bore; the stroke across it is what is usual at most. */
function Fill({ pipe }: { readonly pipe: Pipe }) {
  if (isEmpty(pipe)) return null;
  if (pipe.fill === null) return <span className="faint">{say`can't be told`}</span>;
  const width = Math.min(1, pipe.fill) * BAR;
  const limit = pipe.fill_limit ? pipe.fill_limit.value * BAR : null;
  return (
    <span className="bank-fill">
      <svg width={BAR + 2} height="14" aria-hidden="true">
        <rect x="0.75" y="2.75" width={BAR} height="8.5" fill="none" stroke="var(--ink2)" />
        <rect x="0.75" y="2.75" width={Math.max(1, width)} height="8.5" fill="var(--ink2)" />
        {limit === null ? null : <path d={`M${limit} 0V14`} stroke="var(--ink)" strokeWidth="1.5" />}
      </svg>
      <span>{asKnown(percent(pipe.fill), !pipe.at_least)}</span>
      {tooFull(pipe) ? sayWith`${<FindingMark shape="advice" />} above` : null}
      {pipe.jams ? sayWith`${<FindingMark shape="warning" />} may jam` : null}
    </span>
  );
}

export interface PipesProps {
  readonly pipes: readonly Pipe[];
  readonly selected: Pipe | null;
  readonly onSelect: (key: string) => void;
}

export function Pipes({ pipes, selected, onSelect }: PipesProps) {
  return (
    <Walked
      label={say`Pipes`}
      className="bank-pipes"
      columns={COLUMNS}
      rows={pipes}
      keyOf={({ conduit }) => String(conduit.id)}
      selected={selected ? String(selected.conduit.id) : null}
      onSelect={onSelect}
      onOpen={({ conduit }) => {
        location.hash = addressOf("record", { kind: "conduit", id: String(conduit.id), tag: conduit.tag });
      }}
    />
  );
}

export function Loose({ loose, alone }: { readonly loose: readonly Occupant[]; readonly alone: boolean }) {
  return (
    <section className="bank-loose" aria-labelledby="bank-loose">
      <h2 id="bank-loose">{alone ? say`Cables in it` : say`Cables whose pipe is not on record`}</h2>
      <ul>
        {loose.map(({ cable, strands, outer_diameter_mm: mm }) => (
          <li key={cable.id}>
            <TagLink record={cable} strong href={addressOf("cable", { of: cable.tag })} />
            <span className="soft">
              {strands === 0 ? say`strands not on record` : counted(strands, "strand")},{" "}
              {mm === null ? say`outer diameter not given` : say`${mm}\u202fmm across`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
