/** Circuits declared diverse: the places, ways and cables that both run through. */

import type { DiversePair } from "../../../core/impact/answer.ts";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Lacks } from "../../controls/lacks.tsx";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import { Tags } from "../impact/circuits.tsx";
import type { ViewProps } from "../view.ts";
import "./diverse.css";

const VERDICT = {
  shared: { shape: "error", words: say`share` },
  unknown: { shape: "gap", words: say`can't tell` },
  separate: { shape: null, words: "separate" },
} as const;

function Verdict({ verdict }: { readonly verdict: DiversePair["verdict"] }) {
  const { shape, words } = VERDICT[verdict];
  return (
    <span className="state-word">
      {shape ? <FindingMark shape={shape} /> : null}
      {words}
    </span>
  );
}

const FIRST: readonly DiversePair["verdict"][] = ["shared", "unknown", "separate"];
/** Sharing the place where both end can't be helped. */
const more = ({ shared }: DiversePair) => shared.filter(({ both_end_here }) => !both_end_here);

const COLUMNS: readonly WalkedColumn<DiversePair>[] = [
  {
    key: "pair",
    head: say`declared diverse`,
    show: ({ circuit, other }) => (
      <>{sayWith`${<TagLink record={circuit} strong />} and ${<TagLink record={other} strong />}`}</>
    ),
  },
  { key: "verdict", head: say`they`, show: ({ verdict }) => <Verdict verdict={verdict} /> },
  {
    key: "shared",
    head: say`both run through`,
    show: (pair) => {
      const shared = more(pair).map(({ record }) => record);
      return shared.length === 0 ? (
        <span className="faint">{say`nothing but where both end`}</span>
      ) : (
        <Tags records={shared} />
      );
    },
  },
  {
    key: "ends",
    head: say`both end in`,
    show: ({ shared }) => <Tags records={shared.flatMap((one) => (one.both_end_here ? [one.record] : []))} />,
  },
];

const keyOf = ({ diversity }: DiversePair): string => String(diversity.id);

export function Diverse({ values }: ViewProps) {
  const of = values.of ?? "";
  const answer = useAnswer("impact.diverse", of ? { circuit: of } : {});
  const told = answer.value;
  const pairs = (told?.pairs ?? []).toSorted((one, other) => FIRST.indexOf(one.verdict) - FIRST.indexOf(other.verdict));
  const selected = pairs.find((pair) => keyOf(pair) === values.at) ?? pairs[0] ?? null;
  return (
    <Page
      answer={told ? <Tagged text={told.sentence} records={pairs.flatMap((p) => [p.circuit, p.other])} /> : undefined}
      leaf={selected ? <PairLeaf pair={selected} /> : undefined}
    >
      {!told ? (
        <Answered answer={answer} asked={of} word={say`Following both`}>
          {() => null}
        </Answered>
      ) : (
        <Region name="ledger" label={say`Circuits declared diverse`} className="half-ledger diverse-ledger">
          {pairs.length === 0 ? (
            <p className="diverse-none">
              <a className="link" href={addressOf("enter", { kind: "diversity" })}>
                {say`Declare two circuits diverse`}
              </a>
            </p>
          ) : (
            <Walked
              label={say`Circuits declared diverse`}
              className="diverse-table"
              columns={COLUMNS}
              rows={pairs}
              keyOf={keyOf}
              selected={selected ? keyOf(selected) : null}
              onSelect={(at) => goWith({ at }, { replace: true })}
              onOpen={({ circuit }) => go("find", { of: circuit.tag })}
            />
          )}
        </Region>
      )}
    </Page>
  );
}

/** These can be lost whole, so what breaks with them can be asked. */
const LOSABLE: readonly KindName[] = ["building", "space", "pathway", "conduit", "cable"];

function PairLeaf({ pair }: { readonly pair: DiversePair }) {
  const { circuit, other, shared, unknown, diversity } = pair;
  return (
    <>
      <LeafHead tag={sayWith`${<TagLink record={circuit} strong />} and ${<TagLink record={other} strong />}`}>
        <Tagged text={pair.sentence} records={[circuit, other, ...shared.map(({ record }) => record)]} />
      </LeafHead>
      <p className="diverse-goes">
        <a className="link" href={addressOf("record", { kind: "diversity", id: String(diversity.id) })}>
          {say`What was declared`}
        </a>
        <a className="link" href={addressOf("plan", { of: circuit.tag, beside: other.tag })}>
          {say`Both on the plan`}
        </a>
      </p>
      {shared.length > 0 ? (
        <LeafPart title={say`Both run through`}>
          <ul className="diverse-shared">
            {shared.map(({ record, both_end_here }) => (
              <li key={`${record.kind} ${record.id}`}>
                <span>
                  <TagLink record={record} /> <span className="soft">{KINDS[record.kind].one}</span>
                </span>
                {both_end_here ? (
                  <span className="faint small">{say`both end here`}</span>
                ) : LOSABLE.includes(record.kind) ? (
                  <a className="link small" href={addressOf("impact", { of: record.tag })}>
                    {say`What breaks with it?`}
                  </a>
                ) : null}
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      {unknown.length > 0 ? (
        <LeafPart title={say`Not on record`}>
          <Lacks words={unknown} />
        </LeafPart>
      ) : null}
    </>
  );
}
