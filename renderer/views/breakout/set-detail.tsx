/** The set pointed at: each splice with the colours of both sides, losses, what goes dead, what is to be proved, the steps. */
import type { BreakoutAnswer, BreakoutPlan, CircuitLoss, Half } from "../../../core/breakout/answer.ts";
import { plural } from "../../../core/words/counted.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { count, useLength } from "../../controls/figures.ts";
import { Lacks } from "../../controls/lacks.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { decibels, verdictWords } from "../loss/words.ts";

export interface SetDetailProps {
  readonly plan: BreakoutPlan;
  readonly answer: BreakoutAnswer;
  readonly number: number;
}

export function SetDetail({ plan, answer, number }: SetDetailProps) {
  const end = (half: Half): string =>
    answer.ends[half]?.tag ?? (half === "a" ? say`its first stop` : say`its last stop`);
  return (
    <>
      <section className="locate-part" aria-labelledby="breakout-splices">
        <h2 id="breakout-splices">{say`Set ${number}: splices`}</h2>
        <Splices plan={plan} end={end} />
        <p className={plan.room.fits === "no" ? "" : "small soft"}>
          {plan.room.fits === "no" ? <FindingMark shape="caution" /> : null} {unbroken(plan.room.words)}.
        </p>
        {plan.case.passed_over.map(({ closure, reason }) => (
          <p key={closure.id} className="small soft">
            {sayWith`${<TagLink record={closure} />} won't do: it ${unbroken(reason)}.`}
          </p>
        ))}
      </section>
      <section className="locate-part" aria-labelledby="breakout-losses">
        <h2 id="breakout-losses">{say`What the new circuits lose`}</h2>
        {plan.losses.map((loss) => (
          <Loss key={loss.towards} loss={loss} end={end} />
        ))}
      </section>
      {plan.beyond.length > 0 ? (
        <section className="locate-part" aria-labelledby="breakout-beyond">
          <h2 id="breakout-beyond">{say`Beyond the cut`}</h2>
          <ul>
            {plan.beyond.map(({ words }) => (
              <li key={words}>{unbroken(words)}</li>
            ))}
          </ul>
        </section>
      ) : null}
      {plan.to_prove.length > 0 ? (
        <section className="locate-part" aria-labelledby="breakout-prove">
          <h2 id="breakout-prove">{say`To be proved first`}</h2>
          <Lacks words={plan.to_prove} />
        </section>
      ) : null}
      <section className="locate-part" aria-labelledby="breakout-steps">
        <h2 id="breakout-steps">{say`Steps`}</h2>
        <Steps steps={plan.steps} />
      </section>
    </>
  );
}

export function Steps({ steps }: { readonly steps: BreakoutPlan["steps"] }) {
  return (
    <ol className="breakout-steps">
      {steps.map(({ words, act }) => (
        <li key={words}>
          {unbroken(words)}
          {act ? <span className="small faint">{say` (recorded)`}</span> : null}
        </li>
      ))}
    </ol>
  );
}

function Splices({ plan, end }: { readonly plan: BreakoutPlan; readonly end: (half: Half) => string }) {
  return (
    <table className="locate-table breakout-splices">
      <thead>
        <tr>
          <th scope="col">{say`from`}</th>
          <th scope="col">{say`strand`}</th>
          <th scope="col">{say`its colours`}</th>
          <th scope="col">{say`lateral`}</th>
          <th scope="col">{say`its colours`}</th>
          <th scope="col">{say`splice tray`}</th>
          <th scope="col" className="figure">
            {say`place`}
          </th>
        </tr>
      </thead>
      <tbody>
        {plan.splices.map(({ towards, strand, lateral, tray, place }) => (
          <tr key={lateral.tag}>
            <td className="tag">{end(towards)}</td>
            <td>{strand.record ? <TagLink record={{ ...strand.record, tag: strand.tag }} /> : strand.tag}</td>
            <td>
              <Swatch colours={strand.colours} /> {strand.words}
            </td>
            <td className="tag">{lateral.tag}</td>
            <td>
              <Swatch colours={lateral.colours} /> {lateral.words}
            </td>
            <td className="tag">{tray}</td>
            <td className="figure">{place ?? say`any`}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Loss({ loss, end }: { readonly loss: CircuitLoss; readonly end: (half: Half) => string }) {
  const length = useLength();
  const runs = loss.applications.filter(({ runs_at_worst }) => runs_at_worst === "yes");
  const far = loss.far_record ? <TagLink record={loss.far_record} /> : end(loss.towards);
  const others = loss.applications.filter(({ runs_at_worst }) => runs_at_worst !== "yes");
  return (
    <div className="breakout-loss">
      <p>
        {loss.length_m === null
          ? sayWith`From ${far} to the lateral's end, length not known:`
          : sayWith`From ${far} to the lateral's end, ${length(loss.length_m)} of glass:`}{" "}
        {loss.wavelengths.map(({ wavelength_nm, loss_db, worst_loss_db, complete }, index) => (
          <span key={wavelength_nm}>
            {index > 0 ? "; " : ""}
            <b>
              {say`${worst_loss_db === null ? say`not known` : asKnown(decibels(worst_loss_db), complete)} at ${wavelength_nm} nm`}
            </b>
            {loss_db === null ? "" : say` (${decibels(loss_db)} with typical values)`}
          </span>
        ))}
        .{" "}
        <span className="soft">
          {unbroken(say`Of ${loss.strand}, which loses most of ${count(loss.reckoned)} reckoned.`)}
        </span>
      </p>
      <Lacks words={[...new Set(loss.wavelengths.flatMap(({ unknown }) => unknown))]} />
      <p>
        {runs.length > 0
          ? say`Runs, at worst too: ${runs.map(({ application }) => application).join(", ")}.`
          : say`Nothing is known to run at worst.`}
      </p>
      {others.length > 0 ? (
        <details>
          <summary>
            {plural(others.length, "{0} application that may not run", "{0} applications that may not run")}
          </summary>
          <ul>
            {others.map(({ application, reasons, ...verdict }) => (
              <li key={application}>
                {unbroken(application)}: {verdictWords(verdict)}; {unbroken(reasons.join("; "))}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
      <details>
        <summary>{say`What it is made of at worst`}</summary>
        <ul>
          {loss.terms.map(({ words, loss_db, source, hop, kind }) => (
            <li key={`${hop} ${kind} ${words}`}>
              {unbroken(words)}: {loss_db === null ? say`not known` : decibels(loss_db)}{" "}
              <span className="small faint">{source}</span>
            </li>
          ))}
          {loss.assumptions.map((words) => (
            <li key={words} className="soft">
              {unbroken(words)}
            </li>
          ))}
        </ul>
      </details>
    </div>
  );
}
