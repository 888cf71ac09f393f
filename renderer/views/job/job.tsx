/** One job: its steps in order, what is done and what is open, who else wants the same, and the step pointed at. */
import { useEffect } from "react";
import type { JobAnswer, JobStepShown } from "../../../core/jobs/show.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { PrintButton } from "../../controls/print-button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { dayWords } from "../../frame/ages.ts";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { JobsOnRecord } from "./jobs-on-record.tsx";
import { StepLeaf } from "./step-leaf.tsx";
import "./job.css";

export function JobPage({ values }: ViewProps) {
  const { of = "" } = values;
  const answer = useAnswer("job.show", of ? { job: of } : null);
  if (!of) {
    return (
      <Page answer={say`Name a job, or choose one that is on record.`}>
        <JobsOnRecord />
      </Page>
    );
  }
  return answer.value ? (
    <Page {...told(answer.value, values)} />
  ) : (
    <Page>
      <Answered
        answer={answer}
        word={say`Reading the job`}
        {...(answer.error?.code === "not_found" ? { asked: of } : {})}
      >
        {() => null}
      </Answered>
    </Page>
  );
}

/**
 * Whoever comes to a job, or has just said that a step of it is done, goes on in its steps: what had the focus is no longer
 * there, and keys would lead nowhere.
 */
function HeldFocus() {
  useEffect(() => {
    if (document.activeElement === null || document.activeElement === document.body)
      document.querySelector<HTMLElement>('.job-steps tr[aria-selected="true"]')?.focus({ preventScroll: true });
  });
  return null;
}

const STATES = { open: say`open`, done: say`done`, skipped: say`left out` } as const;

/** @param records what the words may name beside the step's own place */
const columnsFor = (records: readonly RecordRef[]): readonly WalkedColumn<JobStepShown>[] => [
  { key: "number", head: say`step`, className: "figure", show: ({ ordinal }) => ordinal },
  {
    key: "state",
    head: say`state`,
    show: ({ state }) => (
      <span className={`job-state is-${state}`}>
        <span aria-hidden="true">{state === "done" ? "✓" : state === "skipped" ? "–" : "○"}</span> {STATES[state]}
      </span>
    ),
  },
  {
    key: "what",
    head: say`what is done`,
    show: ({ words, place, notes }) => (
      <>
        <Tagged text={words} records={[place, ...records]} />
        {notes ? <span className="job-under">{notes}</span> : null}
      </>
    ),
  },
  { key: "place", head: say`where`, show: ({ place }) => (place ? <TagLink record={place} /> : null) },
  {
    key: "done",
    head: say`done`,
    show: ({ done_on, done_by }) => (done_on ? `${dayWords(done_on)}${done_by ? `, ${done_by}` : ""}` : ""),
  },
];

function told(answer: JobAnswer, values: Readonly<Record<string, string>>): PageProps {
  const { steps, clashes, planned, review, review_holds, job } = answer;
  const next = steps.find(({ state }) => state === "open") ?? steps[0] ?? null;
  const selected = steps.find(({ ordinal }) => String(ordinal) === values.at) ?? next;
  const columns = columnsFor([job, ...planned, ...steps.flatMap(({ place }) => place ?? [])]);
  const ended = answer.state === "done" || answer.state === "abandoned";
  return {
    answer: <Tagged text={answer.sentence} records={[job, ...clashes.map((clash) => clash.job)]} />,
    acts: (
      <>
        <PrintButton name="job.print" input={{ job: job.tag }}>
          {say`Print the packet`}
        </PrintButton>
        {answer.wants_lasting ? (
          <a className="button" href={addressOf("acts", { do: "job.plan_lasting", follows: job.tag })}>
            {say`Make it permanent`}
          </a>
        ) : null}
        {ended ? null : (
          <a className="button" href={addressOf("acts", { do: "job.abandon", job: job.tag })}>
            {say`Give it up`}
          </a>
        )}
      </>
    ),
    leaf: selected ? (
      <StepLeaf key={selected.ordinal} job={answer} step={selected} next={next?.ordinal ?? null} />
    ) : null,
    children: (
      <Region name="ledger" label={say`Steps`} className="job-ledger">
        {review ? (
          <p className="job-note">
            <FindingMark shape={review_holds ? "advice" : "warning"} /> {review}
          </p>
        ) : null}
        {clashes.map((clash) => (
          <p key={clash.job.id} className="job-note">
            <FindingMark shape="warning" />
            <span>
              {sayWith`${<TagLink record={clash.job} />} wants the same ${clash.words}:`}{" "}
              {clash.wanted.map((record, index) => (
                <span key={`${record.kind} ${record.id}`}>
                  {index > 0 ? ", " : ""}
                  <TagLink record={record} />
                </span>
              ))}
              {clash.count > clash.wanted.length ? say` and ${clash.count - clash.wanted.length} more` : ""}
            </span>
          </p>
        ))}
        {steps.length === 0 ? (
          <p className="job-note">{say`No steps of it are on record.`}</p>
        ) : (
          <Walked
            label={say`Steps of ${job.tag}`}
            columns={columns}
            rows={steps}
            keyOf={({ ordinal }) => String(ordinal)}
            selected={selected ? String(selected.ordinal) : null}
            onSelect={(at) => goWith({ at }, { replace: true })}
            className="job-steps"
          />
        )}
        <HeldFocus />
        {planned.length > 0 ? (
          <p className="job-note soft">
            <span>
              {say`Planned, and not in place yet:`}{" "}
              {planned.map((record, index) => (
                <span key={`${record.kind} ${record.id}`}>
                  {index > 0 ? ", " : ""}
                  <TagLink record={record} />
                </span>
              ))}
            </span>
          </p>
        ) : null}
      </Region>
    ),
  };
}
