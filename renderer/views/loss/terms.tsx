/** Part by part what light loses, walked with the arrows; drawing and leaf follow. */
import type { WavelengthLoss } from "../../../core/light/answer.ts";
import type { LossTerm } from "../../../core/light/terms.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { recordAddress } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { runningSums } from "./curves.ts";
import { BASIS_WORDS, decibels } from "./words.ts";

interface Row {
  readonly term: LossTerm;
  readonly index: number;
  readonly sum_db: number;
}

function Along({ term: { at_m } }: { readonly term: LossTerm }) {
  const length = useLength();
  return at_m === null ? <span className="faint">{say`not given`}</span> : length(at_m);
}

const COLUMNS: readonly WalkedColumn<Row>[] = [
  { key: "what", head: say`what loses`, show: ({ term }) => <Tagged text={term.words} records={[term.record]} /> },
  { key: "along", head: say`up to here`, className: "figure", show: ({ term }) => <Along term={term} /> },
  {
    key: "loss",
    head: say`loss`,
    className: "figure",
    show: ({ term }) =>
      term.loss_db === null ? <span className="faint">{say`not known`}</span> : decibels(term.loss_db, 3),
  },
  { key: "sum", head: say`so far`, className: "figure", show: ({ sum_db }) => decibels(sum_db) },
  {
    key: "basis",
    head: say`basis`,
    show: ({ term }) => (
      <span className={term.basis === "measured" ? "strong" : "soft"}>{BASIS_WORDS[term.basis]}</span>
    ),
  },
  {
    key: "source",
    head: say`source`,
    className: "small faint",
    show: ({ term }) => term.lacks ?? term.source,
  },
];

export function Terms({
  loss,
  selected,
  onSelect,
}: {
  readonly loss: WavelengthLoss;
  readonly selected: number;
  readonly onSelect: (index: number) => void;
}) {
  const sums = runningSums(loss.terms);
  const rows = loss.terms.map((term, index): Row => ({ term, index, sum_db: sums[index] ?? 0 }));
  return (
    <Walked
      className="loss-terms"
      label={say`What is lost at ${loss.wavelength_nm} nm`}
      columns={COLUMNS}
      rows={rows}
      keyOf={({ index }) => String(index)}
      selected={String(selected)}
      onSelect={(key) => onSelect(Number(key))}
      onOpen={({ term }) => {
        location.hash = recordAddress(term.record);
      }}
      foot={<Foot loss={loss} />}
    />
  );
}

function Foot({ loss }: { readonly loss: WavelengthLoss }) {
  const { terms, complete, loss_db, unknown } = loss;
  return (
    <>
      <tr className="loss-sum">
        <td>
          {complete
            ? counted(terms.length, "part")
            : plural(terms.length, "at least, for what is known; {0} part", "at least, for what is known; {0} parts")}
        </td>
        <td />
        <td className="figure">{loss_db === null ? say`not known` : decibels(loss_db, 3)}</td>
        <td colSpan={3} className="soft">
          {byBasis(loss)}
        </td>
      </tr>
      {unknown.map((words) => (
        <tr key={words}>
          <td colSpan={6} className="soft">
            {say`Not known, and not counted: ${words}`}
          </td>
        </tr>
      ))}
    </>
  );
}

const byBasis = ({ by_basis: by }: WavelengthLoss): string =>
  (["measured", "typical", "limit"] as const)
    .filter((basis) => by[basis] > 0)
    .map((basis) => `${decibels(by[basis])} ${basis === "limit" ? say`by limits` : BASIS_WORDS[basis]}`)
    .join(", ");
