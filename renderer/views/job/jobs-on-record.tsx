/** The jobs on record that are not ended, each a link: what to choose from where none is named. */

import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { addressOf } from "../../frame/router.ts";

export function JobsOnRecord() {
  const answer = useAnswer("job.list", {});
  return (
    <Answered answer={answer} word={say`Reading the jobs`}>
      {({ jobs }) => (
        <section className="job-list" aria-labelledby="jobs-on-record">
          <h2 id="jobs-on-record">{jobs.length === 0 ? say`No job is on record` : say`Jobs that are not ended`}</h2>
          {jobs.length === 0 ? (
            <p className="soft">
              {say`A job begins with a chosen way to mend a cut, a break-out, or free strands that are wanted.`}
            </p>
          ) : (
            <ul>
              {jobs.map(({ job, state, open, reason }) => (
                <li key={job.id}>
                  <a className="link tag" href={addressOf("job", { of: job.tag })}>
                    {job.tag}
                  </a>{" "}
                  {plural(open, "{1}, {0} step open{2}", "{1}, {0} steps open{2}", state, reason ? `: ${reason}` : "")}
                </li>
              ))}
            </ul>
          )}
        </section>
      )}
    </Answered>
  );
}
