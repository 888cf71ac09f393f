/** One finding: the fact, what it rests on, what would repair it, and what was said of it before. */
import { type FormEvent, useRef, useState, useSyncExternalStore } from "react";
import { z } from "zod";
import type { Finding } from "../../../core/check/finding.ts";
import { BASIS } from "../../../core/model/kind.ts";
import { shownDay } from "../../../core/model/wording.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { Said } from "../../controls/said.tsx";
import { recordAddress } from "../../controls/tag-link.tsx";
import { FindingMark, SEVERITY_WORDS } from "../../drawing/findings.tsx";
import { DayField } from "../../forms/day-field.tsx";
import { drop, formOf, onForms, useKeptForm } from "../../forms/kept-form.ts";
import { notify } from "../../frame/notices.tsx";
import { addressOf } from "../../frame/router.ts";
import { dayFrom } from "../../grid/reading-days.ts";
import { today } from "../../grid/today.ts";

const basisWord = (basis: string): string => (BASIS as Readonly<Record<string, string>>)[basis] ?? basis;
const BASIS_UNKNOWN = say`how it is known is not on record`;

export function FindingItem({ finding, readOnly }: { readonly finding: Finding; readonly readOnly: string | null }) {
  const [asked, setAsked] = useState(false);
  // A reason that was typed and not written stands there again.
  const typed = useSyncExternalStore(onForms, () => formOf(formKey(finding)) !== undefined);
  const accepting = asked || (typed && readOnly === null);
  const { act, running } = useAct();
  const [refused, setRefused] = useState<Failure | null>(null);
  const { exception, records } = finding;
  const [first] = records;
  const accepted = exception?.holds ?? false;
  const withdraw = async () => {
    const reply = await act("exception.withdraw", { rule: finding.rule, key: finding.key });
    if (reply && !reply.ok) setRefused(reply.error);
  };
  return (
    <li className={accepted ? "finding accepted" : "finding"} data-finding={finding.key}>
      <FindingMark shape={accepted ? "accepted" : finding.severity} />
      <div className="finding-body">
        <p className="finding-said">
          <span className="hush">{accepted ? say`accepted` : SEVERITY_WORDS[finding.severity].one}: </span>
          <Said text={finding.sentence} records={records} />
          {finding.is_new && !accepted ? <span className="finding-new">{say`new`}</span> : null}
        </p>
        {exception ? <Earlier exception={exception} /> : null}
        {finding.repair && !accepted ? (
          <p className="finding-repair">
            <span className="faint">{say`To repair:`}</span> <Said text={finding.repair} records={records} />
          </p>
        ) : null}
        {finding.caution && !accepted ? (
          <p className="caution">
            <FindingMark shape="caution" />
            <span>{finding.caution}</span>
          </p>
        ) : null}
        <p className="finding-rests">
          {[
            finding.count > 1 ? counted(finding.count, "case", "cases") : null,
            say`rests on ${counted(records.length, "record", "records")}`,
            finding.basis.length > 0 ? say`known by: ${finding.basis.map(basisWord).join(", ")}` : BASIS_UNKNOWN,
            finding.last_visit ? say`last visit ${shownDay(finding.last_visit)}` : say`never visited on record`,
          ]
            .filter(Boolean)
            .join(" · ")}
        </p>
        {refused ? (
          <p role="alert">
            <b>{refused.message}</b>
          </p>
        ) : null}
      </div>
      <div className="finding-ways">
        {first ? (
          <a className="button" href={recordAddress(first)}>
            {say`Open`}
          </a>
        ) : null}
        {finding.act && !readOnly && !accepted ? (
          <a className="button" href={addressOf("acts", { do: finding.act.operation, ...finding.act.input })}>
            {finding.act.words}
          </a>
        ) : null}
        {readOnly ? null : accepted ? (
          <Button busy={running > 0 ? say`Writing` : null} onClick={() => void withdraw()}>
            {say`No longer accept`}
          </Button>
        ) : (
          <Button
            onClick={() => {
              drop(formKey(finding));
              setAsked(!accepting);
            }}
          >
            {accepting ? say`Not now` : say`Accept`}
          </Button>
        )}
      </div>
      {accepting ? (
        <AcceptForm finding={finding} asked={asked} onDone={() => setAsked(false)} onRefused={setRefused} />
      ) : null}
    </li>
  );
}

function Earlier({ exception }: { readonly exception: NonNullable<Finding["exception"]> }) {
  const { holds, reason, accepted_by, accepted_on, review_on, review_due } = exception;
  return (
    <p className="finding-earlier">
      {holds
        ? say`Accepted ${shownDay(accepted_on)} by ${accepted_by}: “${reason}”.`
        : say`Was accepted ${shownDay(accepted_on)} by ${accepted_by}: “${reason}”.`}{" "}
      {holds ? null : <b>{say`What it rested on has changed since, so it counts again. `}</b>}
      {review_due && review_on ? (
        <b>{say`To be looked at again since ${shownDay(review_on)}.`}</b>
      ) : review_on ? (
        say`To be looked at again on ${shownDay(review_on)}.`
      ) : null}
    </p>
  );
}

/** So many days ahead stands in the field at first: a season. */
const REVIEW_DAYS = 90;

const formKey = ({ rule, key }: Finding): string => `accept ${rule} ${key}`;

/** What is typed into it, as it is kept. */
const accepting = z.object({ reason: z.string(), review: z.string().nullable() });
type Accepting = z.output<typeof accepting>;

function AcceptForm(props: {
  readonly finding: Finding;
  /** Now, and not in a window before this one. */
  readonly asked: boolean;
  readonly onDone: () => void;
  readonly onRefused: (failure: Failure) => void;
}) {
  const { finding, asked, onDone, onRefused } = props;
  const { person } = useSettings();
  const { act, running } = useAct();
  const [first] = useState<Accepting>(() => ({
    reason: finding.exception?.reason ?? "",
    review: dayFrom(today(), REVIEW_DAYS),
  }));
  const kept = useKeptForm<Accepting>(formKey(finding), say`The reason to accept a finding`, first, accepting);
  const { reason, review } = kept.value;
  const field = useRef<HTMLInputElement>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (reason.trim() === "") {
      field.current?.focus();
      return;
    }
    const reply = await act("exception.accept", {
      rule: finding.rule,
      key: finding.key,
      reason,
      facts_digest: finding.facts_digest,
      ...(review ? { review_on: review } : {}),
    });
    if (!reply) return;
    if (!reply.ok) {
      onRefused(reply.error);
      return;
    }
    kept.end(first);
    notify(say`Accepted. It stays listed, and counts again by itself when its facts change.`);
    onDone();
  };
  return (
    <form className="accept" onSubmit={(event) => void submit(event)}>
      <label>
        <span>{say`Accept because`}</span>
        <input
          ref={(input) => {
            field.current = input;
          }}
          className="form-input"
          size={34}
          maxLength={1000}
          value={reason}
          onChange={({ target }) => kept.type((before) => ({ ...before, reason: target.value }))}
          onKeyDown={(event) => {
            if (event.key !== "Escape") return;
            kept.end(first);
            onDone();
          }}
          // The form appears because it was asked for.
          // biome-ignore lint/a11y/noAutofocus: the button that opened it is gone
          autoFocus={asked}
        />
      </label>
      <span>{say`look again on`}</span>
      <DayField
        label={say`Look again on`}
        day={review}
        onDay={(day) => kept.type((before) => ({ ...before, review: day }))}
        placeholder={say`no day`}
      />
      <Button filled submit disabled={reason.trim() === ""} busy={running > 0 ? say`Writing` : null}>
        {person ? say`Accept, as ${person}` : say`Accept`}
      </Button>
    </form>
  );
}
