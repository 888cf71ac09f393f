/** Verdicts as a ledger, the worst first; and the one pointed at, with everything its numbers rest on. */
import type { FitnessVerdict, RuleName, Verdict } from "../../../core/fitness/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { Lacks } from "../../controls/lacks.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { Said } from "../../controls/said.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { BASIS_WORDS, figureWords, RULE_WORDS, shapeOf, VERDICT_WORDS } from "./words.ts";
import "./verdicts.css";

export const keyOf = ({ rule, records }: FitnessVerdict): string =>
  [rule, ...records.map(({ kind, id }) => `${kind}.${id}`)].join("-");

export function VerdictMark({ rule, verdict }: { readonly rule: RuleName; readonly verdict: Verdict }) {
  const shape = shapeOf(rule, verdict);
  return shape ? (
    <FindingMark shape={shape} />
  ) : (
    <svg className="sign" width="12" height="12" viewBox="-6 -6 12 12" aria-hidden="true">
      <path d="M-4 0-1.2 3 4-3.4" fill="none" stroke="currentColor" strokeWidth="1.6" />
    </svg>
  );
}

export const VerdictWord = ({ rule, verdict }: { readonly rule: RuleName; readonly verdict: Verdict }) => (
  <span className="state-word">
    <VerdictMark rule={rule} verdict={verdict} />
    {VERDICT_WORDS[verdict]}
  </span>
);

const COLUMNS: readonly WalkedColumn<FitnessVerdict>[] = [
  { key: "verdict", head: say`verdict`, show: ({ rule, verdict }) => <VerdictWord rule={rule} verdict={verdict} /> },
  { key: "rule", head: say`held against`, show: ({ rule }) => RULE_WORDS[rule] },
  { key: "fact", head: say`what was found`, show: ({ fact, records }) => <Said text={fact} records={records} /> },
  {
    key: "remedy",
    head: say`what to do`,
    show: ({ remedy, records }) =>
      remedy ? <Said text={remedy} records={records} /> : <span className="faint">{say`nothing`}</span>,
  },
];

export interface VerdictsProps {
  readonly verdicts: readonly FitnessVerdict[];
  readonly selected: FitnessVerdict | null;
  readonly onSelect: (key: string) => void;
}

export function Verdicts({ verdicts, selected, onSelect }: VerdictsProps) {
  return (
    <Walked
      label={say`Verdicts, the worst first`}
      className="verdicts"
      columns={COLUMNS}
      rows={verdicts}
      keyOf={keyOf}
      selected={selected ? keyOf(selected) : null}
      onSelect={onSelect}
    />
  );
}

export function VerdictPart({ one }: { readonly one: FitnessVerdict }) {
  const { unit } = useSettings();
  const { rule, verdict, fact, rule_words, source, remedy, figures, lacks, records } = one;
  return (
    <div className="verdict-leaf">
      <LeafHead tag={RULE_WORDS[rule]}>
        <VerdictWord rule={rule} verdict={verdict} />
      </LeafHead>
      <p className="verdict-fact">
        <Said text={fact} records={records} />
      </p>
      <Facts>
        <Fact name={say`Rule`}>{rule_words}</Fact>
        <Fact name={say`Source`}>{source}</Fact>
        <Fact name={say`To do`}>{remedy ? <Said text={remedy} records={records} /> : null}</Fact>
        <Fact name={say`Rests on`}>
          {records.map((record, index) => (
            <span key={`${record.kind} ${record.id}`}>
              {index > 0 ? ", " : ""}
              <TagLink record={record} />
            </span>
          ))}
        </Fact>
      </Facts>
      {lacks.length > 0 ? (
        <LeafPart title={say`Not on record`}>
          <Lacks words={lacks} records={records} />
        </LeafPart>
      ) : null}
      {figures.length > 0 ? (
        <LeafPart title={say`Its numbers`}>
          <ul className="verdict-figures">
            {figures.map((figure) => (
              <li key={`${figure.words} ${figure.value} ${figure.rests_on.map(({ tag }) => tag).join()}`}>
                <span>{figure.words}</span>
                <b>{figureWords(figure, unit)}</b>
                <span className="soft small">
                  {BASIS_WORDS[figure.basis]}: {figure.source}
                  {figure.rests_on.length > 0 ? `, ${figure.rests_on.map(({ tag }) => tag).join(", ")}` : ""}
                </span>
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
    </div>
  );
}
