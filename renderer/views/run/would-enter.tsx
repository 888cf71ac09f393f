/** What would be entered, step by step, and the labels to be printed and stuck on. */

import { say } from "../../../core/words/say.ts";
import { Said } from "../../controls/said.tsx";
import { FateMark, FindingMark } from "../../drawing/findings.tsx";
import { Field } from "./field.tsx";
import type { RunPlan, TypedRun } from "./typed.ts";

export function WouldEnter({ plan }: { readonly plan: RunPlan }) {
  const general = plan.doubts.filter(({ at }) => at === null);
  return (
    <section aria-labelledby="run-steps">
      <h2 id="run-steps">{say`What would be entered`}</h2>
      <ol className="run-steps">
        {plan.steps.map(({ at, words, fate, notices }) => (
          <li key={at}>
            <FateMark fate={fate === "done" ? "new" : "refused"} />
            <span>
              {fate === "refused" ? <b>{say`not yet: `}</b> : null}
              {words}
              {notices.map((notice) => (
                <span key={notice} className="line-why">
                  {notice}
                </span>
              ))}
            </span>
          </li>
        ))}
      </ol>
      {general.length > 0 ? (
        <ul className="run-told">
          {general.map(({ sentence, source }) => (
            <li key={sentence}>
              <FindingMark shape="warning" />
              <span title={source ?? undefined}>
                <b>{say`doubtful: `}</b>
                <Said text={sentence} records={[]} />
              </span>
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}

interface LabelsProps {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
  readonly labels: RunPlan["labels"];
}

export function Labels({ typed, type, labels }: LabelsProps) {
  return (
    <section aria-labelledby="run-labels">
      <h2 id="run-labels">{say`Labels`}</h2>
      <label className="run-check">
        <input
          type="checkbox"
          checked={typed.labels}
          onChange={(event) => type({ ...typed, labels: event.target.checked })}
        />
        <span>{say`wherever the plant wants one`}</span>
      </label>
      {typed.labels ? (
        <>
          <div className="form-field">
            <span aria-hidden="true">{say`printed on; empty while they are still to be printed`}</span>
            <Field
              at="printed_on"
              label={say`labels printed on`}
              value={typed.printed_on}
              onChange={(printed_on) => type({ ...typed, printed_on })}
              placeholder={say`3 Apr 2026`}
              size={12}
            />
          </div>
          <dl className="run-labels">
            {labels.map(({ place, text }) => (
              <div key={place}>
                <dt className="tag">{place}</dt>
                <dd>{text}</dd>
              </div>
            ))}
          </dl>
        </>
      ) : null}
    </section>
  );
}
