/** The step pointed at: what it records, and what differed from the plan when it was done. */
import { type FormEvent, useState } from "react";
import { z } from "zod";
import type { JobAnswer, JobStepShown } from "../../../core/jobs/show.ts";
import { Fault } from "../../../core/model/clean-text.ts";
import type { Failure } from "../../../core/result.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { Refused } from "../../controls/refused.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { useKeptForm } from "../../forms/kept-form.ts";
import { dayWords } from "../../frame/ages.ts";
import { notify } from "../../frame/notices.tsx";
import { goWith, stillHere } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import { readNumber } from "../../grid/reading-numbers.ts";
import { type Asked, askedOf, otherwiseOf } from "./otherwise.ts";

interface Props {
  readonly job: JobAnswer;
  readonly step: JobStepShown;
  readonly next: number | null;
}

export function StepLeaf({ job, step }: Props) {
  const readOnly = useStatus()?.read_only ?? null;
  const ended = job.state === "done" || job.state === "abandoned";
  const others = ended ? [] : job.cautions.filter((words) => !step.cautions.includes(words));
  return (
    <>
      <LeafHead tag={say`Step ${step.ordinal}`}>{unbroken(step.words)}</LeafHead>
      {step.state === "open" && !ended ? <Cautions cautions={step.cautions} /> : null}
      <Facts>
        <Fact name={say`Where`}>{step.place ? <TagLink record={step.place} /> : null}</Fact>
        <Fact name={say`On record`}>
          {step.act === null ? say`only that it is done` : say`what it changes is recorded when it is done`}
        </Fact>
        <Fact name={say`Done`}>
          {step.done_on ? `${dayWords(step.done_on)}, ${step.done_by ?? say`nobody named`}` : null}
        </Fact>
        <Fact name={say`Remark`}>{step.notes}</Fact>
        <Fact name={say`Job`}>
          <TagLink record={job.job} />
        </Fact>
        <Fact name={say`People`}>{job.people}</Fact>
        <Fact name={say`Until`}>{job.replace_by ? say`to be replaced by ${dayWords(job.replace_by)}` : null}</Fact>
      </Facts>
      {step.state === "open" && !ended && !readOnly ? (
        <LeafPart title={say`What was done`}>
          <DoStep job={job} step={step} asked={askedOf(step)} />
        </LeafPart>
      ) : null}
      {others.length > 0 ? (
        <LeafPart title={say`To mind at other steps`}>
          <Cautions cautions={others} />
        </LeafPart>
      ) : null}
    </>
  );
}

/** What a crew says of a step, as it is kept while it is typed. */
const said = z.object({ typed: z.record(z.string(), z.string()), who: z.string(), notes: z.string() });
type Said = z.output<typeof said>;
const NOTHING_SAID: Said = { typed: {}, who: "", notes: "" };

function DoStep({
  job,
  step,
  asked,
}: {
  readonly job: JobAnswer;
  readonly step: JobStepShown;
  readonly asked: Asked[];
}) {
  const { act, running } = useAct();
  const kept = useKeptForm<Said>(
    `job ${job.job.id} step ${step.ordinal}`,
    say`Step ${step.ordinal} of ${job.job.tag}`,
    NOTHING_SAID,
    said,
  );
  const { typed, who, notes } = kept.value;
  const type = (change: Partial<Said>) => kept.type((before) => ({ ...before, ...change }));
  const [faults, setFaults] = useState<Readonly<Record<string, string>>>({});
  const [failure, setFailure] = useState<Failure | null>(null);

  const write = async (skip: boolean): Promise<void> => {
    const read = skip ? {} : readAll(asked, typed);
    setFailure(null);
    if (read instanceof Map) {
      setFaults(Object.fromEntries(read));
      document.querySelector<HTMLElement>(`.leaf-form [name="${[...read.keys()][0]}"]`)?.focus();
      return;
    }
    setFaults({});
    const otherwise = skip ? {} : otherwiseOf(step, read);
    const still = stillHere();
    const reply = await act("job.do", {
      job: job.job.id,
      step: step.ordinal,
      ...(Object.keys(otherwise).length > 0 ? { otherwise } : {}),
      ...(who.trim() ? { done_by: who.trim() } : {}),
      ...(notes.trim() ? { notes: notes.trim() } : {}),
      ...(skip ? { skip } : {}),
    });
    if (!reply) return;
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    kept.end(NOTHING_SAID);
    const { open } = reply.value.answer;
    const left = open === 0 ? say`None is open.` : plural(open, "{0} is open.", "{0} are open.");
    notify(
      skip
        ? say`Step ${step.ordinal} of ${job.job.tag} is left out. ${left} Undo takes it back.`
        : say`Step ${step.ordinal} of ${job.job.tag} is done. ${left} Undo takes it back.`,
    );
    for (const notice of reply.value.notices) notify(notice);
    if (!still()) return;
    const following = job.steps.find(({ ordinal, state }) => ordinal > step.ordinal && state === "open");
    if (following) goWith({ at: String(following.ordinal) }, { replace: true });
    requestAnimationFrame(() => document.querySelector<HTMLElement>('.job-steps tr[aria-selected="true"]')?.focus());
  };

  return (
    <form
      className="leaf-form"
      noValidate
      onSubmit={(event: FormEvent) => {
        event.preventDefault();
        void write(false);
      }}
    >
      {asked.map((one) => (
        <label key={one.name} htmlFor={`job-${one.name}`}>
          <span>{one.label}</span>
          {one.choices ? (
            <select
              id={`job-${one.name}`}
              name={one.name}
              value={typed[one.name] ?? ""}
              onChange={(event) => type({ typed: { ...typed, [one.name]: event.target.value } })}
              aria-invalid={faults[one.name] !== undefined}
              aria-describedby={faults[one.name] ? `job-${one.name}-why` : undefined}
            >
              <option value="">{say`choose`}</option>
              {Object.entries(one.choices).map(([value, words]) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          ) : (
            <input
              id={`job-${one.name}`}
              name={one.name}
              value={typed[one.name] ?? ""}
              placeholder={one.planned ?? ""}
              inputMode={one.list ? "text" : "decimal"}
              autoComplete="off"
              onChange={(event) => type({ typed: { ...typed, [one.name]: event.target.value } })}
              aria-invalid={faults[one.name] !== undefined}
              aria-describedby={faults[one.name] ? `job-${one.name}-why` : undefined}
            />
          )}
          {faults[one.name] ? (
            <span className="leaf-fault" id={`job-${one.name}-why`}>
              {faults[one.name]}
            </span>
          ) : null}
        </label>
      ))}
      <label>
        <span>{say`Who did it, if somebody else than you`}</span>
        <input value={who} maxLength={80} autoComplete="off" onChange={(event) => type({ who: event.target.value })} />
      </label>
      <label>
        <span>{say`Remark`}</span>
        <textarea value={notes} rows={2} maxLength={2000} onChange={(event) => type({ notes: event.target.value })} />
      </label>
      <div className="leaf-acts">
        <Button submit filled busy={running > 0 ? say`Writing` : null}>
          {say`It is done`}
        </Button>
        <Button onClick={() => void write(true)}>{say`Leave it out`}</Button>
      </div>
      {failure ? <Refused failure={failure} /> : null}
    </form>
  );
}

/** Numbers by name; or what is wrong with which. */
function readAll(
  asked: readonly Asked[],
  typed: Readonly<Record<string, string>>,
): Map<string, string> | Record<string, number | number[] | string> {
  const wrong = new Map<string, string>();
  const values: Record<string, number | number[] | string> = {};
  for (const { name, list, choices, required } of asked) {
    const text = typed[name]?.trim() ?? "";
    if (text === "" && required) wrong.set(name, say`Say it: without it the step isn't done.`);
    else if (text !== "" && choices) values[name] = text;
    if (choices) continue;
    if (text === "") continue;
    const parts = list ? text.split(/[\s;]+/) : [text];
    const numbers = parts.map((part) => readNumber(part, "none", "m"));
    const bad = numbers.findIndex((number) => typeof number !== "number");
    const fault = numbers[bad];
    if (bad >= 0)
      wrong.set(name, fault instanceof Fault ? `${parts[bad]} ${fault.reason}.` : say`${parts[bad]} is no number.`);
    else if (typeof list === "number" && numbers.length !== 1 && numbers.length !== list)
      wrong.set(name, say`There are ${numbers.length}; give one for all, or ${list}.`);
    else values[name] = list === undefined || numbers.length === 1 ? (numbers[0] as number) : (numbers as number[]);
  }
  return wrong.size > 0 ? wrong : values;
}
