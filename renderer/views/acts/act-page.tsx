/** One act: its sentence with blanks, further blanks below, and beside them what would change. */

import { Fragment, type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import { z } from "zod";
import type { InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import type { Occasion } from "../../../core/store/plan.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Button } from "../../controls/button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { type Act, type Blank, partsOf } from "../../forms/act.ts";
import { BlankField } from "../../forms/blank-field.tsx";
import { labelled } from "../../forms/blanks.ts";
import { buildInput, type FormRow, type FormValues, labelAt, placeProblems, rowsOf } from "../../forms/input.ts";
import { useKeptForm } from "../../forms/kept-form.ts";
import { Rehearsed } from "../../forms/rehearsed.tsx";
import { RowsField } from "../../forms/rows-field.tsx";
import { useRehearsal } from "../../forms/use-rehearsal.ts";
import { notify } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, stillHere } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { today } from "../../grid/today.ts";
import { useSuggest } from "../enter/use-table.ts";
import { OccasionFields } from "./occasion.tsx";
import "./acts.css";

interface Props {
  readonly act: Act;
  /** Values of the address, which fill blanks at first. */
  readonly values: Readonly<Record<string, string>>;
}

/** What is typed into an act, as it is kept. */
const filling = z.object({
  filled: z.record(z.string(), z.union([z.string(), z.array(z.record(z.string(), z.string()))])),
  occasion: z.object({
    reason: z.string().nullable().exactOptional(),
    meaning: z.enum(["change", "correction"]).exactOptional(),
    day: z.string().nullable().exactOptional(),
  }),
});
interface Filling {
  readonly filled: FormValues;
  readonly occasion: Omit<Occasion, "author">;
}

const seeded = (act: Act, values: Readonly<Record<string, string>>): FormValues =>
  Object.fromEntries(Object.entries(values).filter(([name]) => Object.hasOwn(act.blanks, name)));

export function ActPage({ act, values }: Props) {
  const { unit } = useSettings();
  const habits: ReadingHabits = useMemo(() => ({ today: today(), lengths: unit }), [unit]);
  const first: Filling = { filled: seeded(act, values), occasion: { meaning: "change" } };
  const kept = useKeptForm<Filling>(addressOf("acts", { do: act.name, ...values }), act.title, first, filling);
  const { occasion } = kept.value;
  const [numbered, setNumbered] = useState(false);
  const next = useAnswer("job.list", act.blanks.job?.as === "text" ? {} : null).value?.next;
  // The next number stands in until somebody says another one, or none.
  const proposed = next !== undefined && !numbered && !Object.hasOwn(kept.value.filled, "job") ? next : null;
  const filled: FormValues = proposed === null ? kept.value.filled : { ...kept.value.filled, job: proposed };
  const [refused, setRefused] = useState<Failure | null>(null);
  const { act: carryOut, running } = useAct();
  const suggest = useSuggest();
  const status = useStatus();
  const form = useRef<HTMLFormElement>(null);

  useEffect(() => {
    form.current?.querySelector<HTMLElement>("[data-first-blank]")?.focus();
  }, []);

  useEffect(() => {
    const at = document.activeElement;
    // Whoever types in the blank that has just been filled writes over what stands there.
    if (proposed !== null && at instanceof HTMLInputElement && at.value === proposed) at.select();
  }, [proposed]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `filled` is made of these two
  const built = useMemo(() => buildInput(act, filled, habits), [act, kept.value.filled, proposed, habits]);
  const ready = built.missing.length === 0 && built.problems.size === 0;
  const rehearsal = useRehearsal(act, ready ? built.input : null, occasion);
  const failure = refused ?? rehearsal.failure;
  const placed = useMemo(
    () => (failure ? placeProblems(act, failure) : { at: new Map<string, readonly string[]>(), elsewhere: [] }),
    [act, failure],
  );
  const reasons = useMemo(() => {
    const all = new Map<string, readonly string[]>(placed.at);
    for (const [path, reason] of built.problems) all.set(path, [`${labelAt(act, path)} ${reason}`]);
    return all;
  }, [act, placed, built.problems]);

  const set = (name: string, value: string | readonly FormRow[]) => {
    setRefused(null);
    if (name === "job") setNumbered(true);
    kept.type((before) => {
      // An emptied blank is as if nothing had been typed into it.
      const { [name]: _, ...others } = before.filled;
      return { ...before, filled: value === "" ? others : { ...before.filled, [name]: value } };
    });
  };
  const sentence = partsOf(act.sentence);
  const inSentence = sentence.flatMap((part) => ("blank" in part ? [part.blank] : []));
  // What the address filled needs no typing: the first that does comes first.
  const wanting = sentence.findIndex(
    (each) => "blank" in each && act.blanks[each.blank]?.required && textIn(filled, each.blank) === "",
  );
  const begins = wanting >= 0 ? wanting : sentence.findIndex((each) => "blank" in each);
  const button = rehearsal.written && !rehearsal.busy ? act.button(rehearsal.written.answer) : act.title;
  const nothing = rehearsal.written?.counts.length === 0;
  const may = ready && rehearsal.written !== null && !rehearsal.busy && !nothing && !status?.read_only;

  const submit = async () => {
    if (!may) return;
    const still = stillHere();
    const reply = await carryOut(act.operation, built.input as InputOf<Act["operation"]>, occasion);
    if (!reply) return;
    if (!reply.ok) {
      setRefused(reply.error);
      return;
    }
    const written = reply.value as { summary: string; answer: unknown };
    notify(say`${written.summary}. Undo takes it back.`);
    if (act.leadsTo) {
      // Nothing of it waits to be written any more.
      kept.end(first);
      if (still()) go(...act.leadsTo(written.answer));
      return;
    }
    // What the next one will share stays: how, by whom, on which day. What it was about goes.
    const shared = Object.entries(filled).filter(
      ([name, value]) => typeof value === "string" && !inSentence.includes(name),
    );
    kept.end({ filled: Object.fromEntries(shared), occasion });
    form.current?.querySelector<HTMLElement>("[data-first-blank]")?.focus();
  };
  const pressed = (event: KeyboardEvent) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      void submit();
    }
  };

  return (
    <form
      ref={form}
      className="act-form"
      onKeyDown={pressed}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <Page
        sentence={
          <h1 className="act-sentence">
            {sentence.map((part, at) =>
              "words" in part ? (
                <Fragment key={part.words}>{part.words}</Fragment>
              ) : (
                <BlankField
                  key={part.blank}
                  inSentence
                  first={at === begins}
                  blank={act.blanks[part.blank] as Blank}
                  value={textIn(filled, part.blank)}
                  onChange={(text) => set(part.blank, text)}
                  suggest={suggest}
                  label={act.blanks[part.blank]?.label ?? part.blank}
                  describedBy={`reason-${part.blank}`}
                  invalid={reasons.has(part.blank)}
                />
              ),
            )}
          </h1>
        }
        acts={
          <>
            <a className="button" href={addressOf("acts")}>
              {say`Other acts`}
            </a>
            <Button filled submit disabled={!may} busy={running > 0 ? say`Writing` : null} title="Ctrl+Enter">
              {button}
            </Button>
          </>
        }
        answer={<SentenceReasons act={act} names={inSentence} reasons={reasons} readOnly={status?.read_only ?? null} />}
      >
        <div className="act">
          <Region name="ledger" label={say`Further blanks`} className="act-more">
            {act.more.map((group) => (
              <Group key={group.join()} act={act} names={group} {...{ filled, set, suggest, reasons }} />
            ))}
            <OccasionFields
              occasion={occasion}
              onOccasion={(next) => kept.type((before) => ({ ...before, occasion: next }))}
            />
            {/* Behind the blanks: on the way from one to the next, a blank typed for would throw all of it away. */}
            {kept.typed ? (
              <Button
                title={say`Nothing on record changes`}
                onClick={() => {
                  setRefused(null);
                  kept.end(first);
                  form.current?.querySelector<HTMLElement>("[data-first-blank]")?.focus();
                }}
              >
                {say`Leave what is typed`}
              </Button>
            ) : null}
          </Region>
          <Region name="leaf" label={say`What would change`} as="aside" className="act-beside" reachable>
            <Rehearsed
              missing={built.missing}
              written={rehearsal.written}
              failure={failure}
              elsewhere={placed.elsewhere}
              cautions={act.cautions ?? []}
              busy={rehearsal.busy}
            />
          </Region>
        </div>
      </Page>
    </form>
  );
}

const textIn = (values: FormValues, name: string): string => {
  const value = values[name];
  return typeof value === "string" ? value : "";
};

/** Under the sentence: what it asks of each blank while it is empty, or why one of them can't be. */
function SentenceReasons(props: {
  readonly act: Act;
  readonly names: readonly string[];
  readonly reasons: ReadonlyMap<string, readonly string[]>;
  readonly readOnly: string | null;
}) {
  const { act, names, reasons, readOnly } = props;
  if (readOnly) return <>{readOnly}</>;
  const told = names.filter((name) => reasons.has(name));
  if (told.length === 0)
    return (
      <>
        {names.map((name) => (
          <span key={name} id={`reason-${name}`} className="act-help">
            <b>{act.blanks[name]?.label}</b>: {act.blanks[name]?.help}
            {act.blanks[name]?.example ? (
              <>
                {" "}
                <span className="faint">
                  {sayWith`For example ${<span className="tag">{act.blanks[name]?.example}</span>}.`}
                </span>
              </>
            ) : null}{" "}
          </span>
        ))}
      </>
    );
  return (
    <span role="alert">
      {told.map((name) => (
        <span key={name} id={`reason-${name}`} className="act-help">
          {reasons.get(name)?.join("; ")}.{" "}
        </span>
      ))}
    </span>
  );
}

function Group(props: {
  readonly act: Act;
  readonly names: readonly string[];
  readonly filled: FormValues;
  readonly set: (name: string, value: string | readonly FormRow[]) => void;
  readonly suggest: ReturnType<typeof useSuggest>;
  readonly reasons: ReadonlyMap<string, readonly string[]>;
}) {
  const { act, names, filled, set, suggest, reasons } = props;
  const { unit } = useSettings();
  return (
    <div className="form-group">
      {names.map((name) => {
        const blank = act.blanks[name];
        if (!blank) return null;
        const told = reasons.get(name) ?? [];
        if (blank.as === "rows" || blank.as === "overrides")
          return (
            <fieldset key={name} className="form-field wide">
              <legend title={blank.help}>
                <b>{blank.label}</b> <span className="soft">{blank.help}</span>
              </legend>
              <RowsField
                name={name}
                blank={blank}
                rows={rowsOf(filled, name)}
                onRows={(rows) => set(name, rows)}
                suggest={suggest}
                reasons={reasons}
              />
              {told.length > 0 ? <p className="form-reason">{told.join("; ")}</p> : null}
            </fieldset>
          );
        return (
          // biome-ignore lint/a11y/noLabelWithoutControl: the field is inside
          <label key={name} className={blank.as === "flag" ? "form-field flag" : "form-field"}>
            <span title={blank.help}>{labelled(blank, unit)}</span>
            <BlankField
              blank={blank}
              value={textIn(filled, name)}
              onChange={(text) => set(name, text)}
              suggest={suggest}
              label={blank.label}
              describedBy={`reason-${name}`}
              invalid={told.length > 0}
            />
            {told.length > 0 ? (
              <span className="form-reason" id={`reason-${name}`}>
                {told.join("; ")}
              </span>
            ) : null}
          </label>
        );
      })}
    </div>
  );
}
