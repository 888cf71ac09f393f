/** What one job for all cables takes: its figures, why a cable is mended otherwise than alone, and who comes back when. */
import type { MendSeveralAnswer } from "../../../core/repair/several-answer.ts";
import { say } from "../../../core/words/say.ts";
import { CircuitsByPriority } from "../../controls/circuits-by-priority.tsx";
import { count, decimal, useLength } from "../../controls/figures.ts";
import { Heads } from "../../controls/heads.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

/** So many turns are shown at once: what comes later carries nothing urgent. */
const MOST = 24;

export function OneJob({ answer: { one_job: job, together } }: { readonly answer: MendSeveralAnswer }) {
  const length = useLength();
  const metres = (of: number): string => (of === 0 ? say`none` : length(of));
  const why = together.flatMap(({ cable, why: words }) => (words === null ? [] : [{ cable, words }]));
  const rows = [
    [say`From coils`, metres(job.pulled_m)],
    [say`New cable`, metres(job.new_cable_m)],
    [say`Holes to dig`, job.new_holes === 0 ? say`none` : count(job.new_holes)],
    [say`Cases`, job.cases === 0 ? say`none` : count(job.cases)],
    [
      say`Hours of work`,
      job.hours === null ? say`not known` : say`${decimal(job.hours)}, what cables share set up and dug once`,
    ],
  ] as const;
  return (
    <>
      <section className="locate-part" aria-labelledby="mend-job">
        <h2 id="mend-job">{say`One job for all takes`}</h2>
        <dl className="facts mend-job">
          {rows.map(([head, value]) => (
            <div key={head}>
              <dt>{head}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
        <ul>
          {job.shared.map(({ place, cables, words, fits }) => (
            <li key={place?.id ?? `new ${cables[0]?.id}`}>
              {fits === true ? null : <FindingMark shape={fits === false ? "error" : "gap"} />} {unbroken(words)}
            </li>
          ))}
          {together.flatMap(({ cable, way }) =>
            way.crowded.map((words) => (
              <li key={`${cable.id} ${words}`}>
                {sayWith`${<FindingMark shape="warning" />} ${<TagLink record={cable} />}: no room as things lie: ${unbroken(words)}`}
              </li>
            )),
          )}
          {why.map(({ cable, words }) => (
            <li key={cable.id}>
              <TagLink record={cable} />: {unbroken(words)}
            </li>
          ))}
        </ul>
      </section>
      <section className="locate-part" aria-labelledby="mend-turns">
        <h2 id="mend-turns">{say`In which order they come back`}</h2>
        <table className="mend-losses mend-turns">
          <Heads of={[say`turn`, say`cable`, say`unit`, say`strands`, say`circuits, by priority`]} />
          <tbody>
            {job.turns.slice(0, MOST).map(({ cable, unit, strands, circuits }, index) => (
              <tr key={`${cable.id} ${strands}`}>
                <th scope="row">{index + 1}</th>
                <td>
                  <TagLink record={cable} />
                </td>
                <td>{unit ?? say`no unit`}</td>
                <td>{strands}</td>
                <td>
                  {circuits.length === 0 ? (
                    say`none in service`
                  ) : (
                    <CircuitsByPriority of={circuits} most={circuits.length} />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {job.turns.length > MOST ? (
          <p className="small faint">{say`and ${count(job.turns.length - MOST)} more units, in the job’s own steps`}</p>
        ) : null}
      </section>
    </>
  );
}
