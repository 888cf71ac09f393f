/** What the line can carry: applications with their margins, what equipment sends and bears, and readings beside limits. */
import type { Acceptance, ApplicationVerdict, Disagreement, Power } from "../../../core/light/answer.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { decibels, verdictWords } from "./words.ts";

/** A verdict is told by its sign and in words. */
function Verdict({ one }: { readonly one: ApplicationVerdict }) {
  const shape =
    one.runs === "no" ? "error" : one.runs === "cannot_tell" ? "gap" : one.runs_at_worst === "no" ? "warning" : null;
  return (
    <span className="loss-verdict">
      {shape ? <FindingMark shape={shape} /> : null} {verdictWords(one)}
    </span>
  );
}

function Rows({ some }: { readonly some: readonly ApplicationVerdict[] }) {
  const length = useLength();
  return some.map((one) => (
    <tr key={one.application}>
      <td className={one.wanted ? "strong" : ""}>{unbroken(one.application)}</td>
      <td>
        <Verdict one={one} />
      </td>
      <td className="figure">{one.margin_db === null ? "" : decibels(one.margin_db)}</td>
      <td className="figure">{one.worst_margin_db === null ? "" : decibels(one.worst_margin_db)}</td>
      <td className="figure">
        {one.margin_m !== null
          ? length(one.margin_m, 0)
          : one.length_m !== null && one.limit_m !== null
            ? one.limit_m > one.length_m
              ? say`below ${length(one.limit_m - one.length_m, 0)}`
              : length(one.limit_m - one.length_m, 0)
            : ""}
      </td>
      <td className="figure">{one.limit_db === null ? "" : decibels(one.limit_db)}</td>
      <td className="faint small" title={one.sources.join("; ")}>
        {one.reasons.join("; ") || one.sources[0]}
      </td>
    </tr>
  ));
}

export function Applications({ all }: { readonly all: readonly ApplicationVerdict[] }) {
  const wanted = all.filter((one) => one.wanted);
  const others = all.filter((one) => !one.wanted);
  const run = others.filter(({ runs }) => runs === "yes").length;
  const head = (
    <thead>
      <tr>
        <th>{say`application`}</th>
        <th>{say`verdict`}</th>
        <th className="figure">{say`margin`}</th>
        <th className="figure">{say`at worst`}</th>
        <th className="figure">{say`length to spare`}</th>
        <th className="figure">{say`it bears`}</th>
        <th>{say`because, or by what source`}</th>
      </tr>
    </thead>
  );
  return (
    <section className="loss-part" aria-labelledby="loss-runs">
      <h2 id="loss-runs">{say`What it can carry`}</h2>
      {wanted.length > 0 ? (
        <table className="loss-table">
          {head}
          <tbody>
            <Rows some={wanted} />
          </tbody>
        </table>
      ) : (
        <p className="soft">{say`No equipment or circuit on it names an application.`}</p>
      )}
      {others.length > 0 ? (
        <details className="loss-others" open={wanted.length === 0}>
          <summary>
            {plural(
              others.length,
              "{0} other application; of such would run: {1}",
              "{0} other applications; of such would run: {1}",
              run,
            )}
          </summary>
          <table className="loss-table">
            {head}
            <tbody>
              <Rows some={others} />
            </tbody>
          </table>
        </details>
      ) : null}
    </section>
  );
}

export function Powers({ powers }: { readonly powers: readonly Power[] }) {
  if (powers.length === 0) return null;
  return (
    <section className="loss-part" aria-labelledby="loss-powers">
      <h2 id="loss-powers">{say`What equipment sends and bears`}</h2>
      <table className="loss-table">
        <thead>
          <tr>
            <th>{say`from`}</th>
            <th>{say`to`}</th>
            <th className="figure">{say`at`}</th>
            <th className="figure">{say`budget`}</th>
            <th className="figure">{say`loss`}</th>
            <th className="figure">{say`margin`}</th>
            <th>{say`too much light?`}</th>
          </tr>
        </thead>
        <tbody>
          {powers.map((one) => (
            <tr key={`${one.transmitter.id} ${one.receiver.id} ${one.wavelength_nm}`}>
              <td>
                <TagLink record={one.transmitter} />
              </td>
              <td>
                <TagLink record={one.receiver} />
              </td>
              <td className="figure">{one.wavelength_nm} nm</td>
              <td className="figure">{one.budget_db === null ? say`not given` : decibels(one.budget_db)}</td>
              <td className="figure">{one.loss_db === null ? say`not known` : decibels(one.loss_db)}</td>
              <td className="figure">{one.margin_db === null ? "" : decibels(one.margin_db)}</td>
              <td>
                {one.overload.severity === "error" || one.overload.severity === "warning" ? (
                  <FindingMark shape={one.overload.severity} />
                ) : null}{" "}
                {one.overload.words}
                {one.lacks.length > 0 ? <span className="faint">{say` Lacks ${one.lacks.join(", ")}.`}</span> : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

export function Accepted({ some }: { readonly some: readonly Acceptance[] }) {
  if (some.length === 0) return null;
  return (
    <section className="loss-part" aria-labelledby="loss-accepted">
      <h2 id="loss-accepted">{say`What it may lose when it is accepted`}</h2>
      <ul className="loss-accepted">
        {some.map((one) => (
          <li key={one.wavelength_nm}>
            <b>
              {one.wavelength_nm} nm: {one.limit_db === null ? say`not known` : decibels(one.limit_db)}
            </b>{" "}
            <span className="soft">{one.formula}</span>
            {one.unknown.length > 0 ? (
              <span className="soft">{say` Not known: ${one.unknown.join("; ")}.`}</span>
            ) : null}
            <dl className="loss-parts">
              {one.parts.map((part) => (
                <div key={part.words}>
                  <dt>{part.words}</dt>
                  <dd>
                    {part.loss_db === null ? say`not known` : decibels(part.loss_db, 3)}{" "}
                    <span className="small faint">{part.source}</span>
                  </dd>
                </div>
              ))}
            </dl>
            {one.measurements.map((reading) => (
              <p key={`${reading.measurement.id} ${reading.words}`}>
                {reading.passes ? null : <FindingMark shape="error" />} {decibels(reading.loss_db)}{" "}
                {reading.passes ? say`passes` : say`fails`}:{" "}
                <Tagged text={reading.words} records={[reading.measurement]} />
                {reading.doubt ? <span className="soft"> ({reading.doubt})</span> : null}
              </p>
            ))}
            {one.mean_db === null ? null : <p>{say`Mean of both ways: ${decibels(one.mean_db)}.`}</p>}
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Disagreements({ some }: { readonly some: readonly Disagreement[] }) {
  if (some.length === 0) return null;
  return (
    <section className="loss-part" aria-labelledby="loss-disagrees">
      <h2 id="loss-disagrees">{say`What disagrees with the record`}</h2>
      <ul>
        {some.map((one) => (
          <li key={`${one.what} ${one.measurement.id}`}>
            {sayWith`${<FindingMark shape="warning" />} ${<Tagged text={one.sentence} records={[one.measurement, one.look_first]} />} Look first at ${<TagLink record={one.look_first} />}: ${one.why}. ${<span className="faint">{one.source}</span>}`}
          </li>
        ))}
      </ul>
    </section>
  );
}
