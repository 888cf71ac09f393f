/** "What differs between these two moments?": records added, changed and removed, by kind, each field before and after. */
import { useEffect, useState } from "react";
import { Fault } from "../../../core/model/clean-text.ts";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { today } from "../../grid/today.ts";
import { ChangeLines } from "../history/change-lines.tsx";
import type { ViewProps } from "../view.ts";
import { readMoment } from "./moments.ts";
import { MomentsLeaf } from "./moments-leaf.tsx";
import "./compare.css";

type Comparison = AnswerOf<"history.compare">;
type Input = InputOf<"history.compare">;

const PAGE = 200;

export function Compare({ values }: ViewProps) {
  const from = values.from ? readMoment(values.from, today()) : null;
  const to = values.to ? readMoment(values.to, today()) : null;
  const wrong = from instanceof Fault ? from : to instanceof Fault ? to : null;
  const kind = Object.hasOwn(KINDS, values.kind ?? "") ? (values.kind as keyof typeof KINDS) : null;
  const base: Input | null =
    from && !wrong
      ? {
          from: from as Input["from"],
          ...(to ? { to: to as Input["from"] } : {}),
          ...(kind ? { kinds: [kind] } : {}),
          limit: PAGE,
        }
      : null;
  const key = JSON.stringify(base);
  // What was paged to belongs to one question.
  const [page, setPage] = useState<{ key: string; after: Comparison["next"] }>({ key, after: null });
  useEffect(() => setPage({ key, after: null }), [key]);
  const after = page.key === key ? page.after : null;
  const all = useAnswer("history.compare", base && { from: base.from, ...(base.to ? { to: base.to } : {}), limit: 1 });
  const answer = useAnswer("history.compare", base && { ...base, ...(after ? { after } : {}) });

  const signed = useAnswer("record.window", values.from ? null : { kind: "sign_off", limit: 0 }, {
    kinds: ["sign_off"],
  });

  if (!values.from || wrong)
    return (
      <Page
        answer={wrong ? say`That ${wrong.reason}.` : say`Name the earlier moment, and the later one if it isn't now.`}
      >
        <div className="compare-empty">
          <a href={addressOf("compare", { from: "yesterday" })}>{say`Since yesterday evening`}</a>
          {signed.value && signed.value.total > 0 ? (
            <a href={addressOf("compare", { from: "signed" })}>{say`Since the last sign-off`}</a>
          ) : null}
          {signed.value?.total === 0 ? (
            <p className="soft">
              {sayWith`Nobody has signed this record off yet: that is done on the page of ${<a href={addressOf("check")}>{say`the consistency report`}</a>}.`}
            </p>
          ) : null}
          <a href={addressOf("compare", { from: "change 0" })}>{say`Since the first change`}</a>
        </div>
      </Page>
    );
  const compared = answer.value;
  return (
    <Page answer={compared?.sentence ?? ""} leaf={compared ? <MomentsLeaf compared={compared} /> : undefined}>
      <div className="compare">
        <Answered answer={answer} word={say`Comparing`}>
          {(shown) => (
            <>
              <KindCounts counts={all.value?.counts ?? shown.counts} kind={kind} values={values} />
              <Region name="ledger" label={say`Records that differ`} className="compare-changes" reachable>
                {shown.changes.length === 0 ? (
                  <p className="soft">{say`No record differs.`}</p>
                ) : (
                  <ChangeLines changes={shown.changes} />
                )}
                <div className="compare-pages">
                  {after ? <Button onClick={() => setPage({ key, after: null })}>{say`From the first`}</Button> : null}
                  {shown.next ? (
                    <Button onClick={() => setPage({ key, after: shown.next })}>{say`The next ones`}</Button>
                  ) : null}
                </div>
              </Region>
            </>
          )}
        </Answered>
      </div>
    </Page>
  );
}

function KindCounts({
  counts,
  kind,
  values,
}: {
  readonly counts: Comparison["counts"];
  readonly kind: string | null;
  readonly values: ViewProps["values"];
}) {
  const { kind: _, ...rest } = values;
  const figure = (n: number) => (n === 0 ? "" : count(n));
  return (
    <nav className="compare-kinds" aria-label={say`Kinds of record`}>
      <table>
        <thead>
          <tr>
            <th scope="col">{say`kind`}</th>
            <th scope="col" className="figure">
              {say`added`}
            </th>
            <th scope="col" className="figure">
              {say`changed`}
            </th>
            <th scope="col" className="figure">
              {say`removed`}
            </th>
          </tr>
        </thead>
        <tbody>
          {counts.map((one) => (
            <tr key={one.kind} className={one.kind === kind ? "chosen" : ""}>
              <th scope="row">
                <a
                  href={addressOf("compare", one.kind === kind ? rest : { ...rest, kind: one.kind })}
                  {...(one.kind === kind ? { "aria-current": "true" } : {})}
                >
                  {KINDS[one.kind].many}
                </a>
              </th>
              <td className="figure">{figure(one.added)}</td>
              <td className="figure">{figure(one.changed)}</td>
              <td className="figure">{figure(one.removed)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {kind ? <a href={addressOf("compare", rest)}>{say`Show every kind`}</a> : null}
    </nav>
  );
}
