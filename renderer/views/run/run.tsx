/** "How does a new cable run?": typed on one page, drawn as it grows, kept unfinished, entered as one change. */
import { type DragEvent, type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { KeepFiles } from "../../controls/keep-files.tsx";
import { Refused } from "../../controls/refused.tsx";
import { type StagedFiles, useStagedFiles } from "../../controls/staged-files.ts";
import { notify } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { go, stillHere } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import { Course } from "../cable/course.tsx";
import { useTried } from "../sheet/use-tried.ts";
import type { ViewProps } from "../view.ts";
import { CableFields } from "./cable-fields.tsx";
import { DeskList } from "./desk-list.tsx";
import { Entered, type EnteredRun, enteredRun } from "./entered.tsx";
import { focusField } from "./field.tsx";
import { LandingsTable } from "./landings-table.tsx";
import { MakeList } from "./make-list.tsx";
import { SplicesTable } from "./splices-table.tsx";
import { StopsTable } from "./stops-table.tsx";
import { Beside, ToldProvider, useAnyTold } from "./told.tsx";
import { inputOf, isEmpty } from "./typed.ts";
import { useDesk } from "./use-desk.ts";
import { throwWaiting, useWaiting } from "./use-waiting.ts";
import { Labels, WouldEnter } from "./would-enter.tsx";
import "./run.css";
import { counted, plural } from "../../../core/words/counted.ts";

export function Run({ values }: ViewProps) {
  const open = values.draft ? Number(values.draft) : null;
  const readOnly = useStatus()?.read_only ?? null;
  const desk = useDesk(Number.isInteger(open) ? open : null, readOnly !== null);
  const { typed, type } = desk;
  const [refused, setRefused] = useState<Failure | null>(null);
  const [thrown, setThrown] = useState(0);
  /** The one that was entered last from this page. */
  const [entered, setEntered] = useState<EnteredRun | null>(null);
  const client = useClient();
  const waiting = useWaiting(desk.id, desk.turn);
  const photos = useRef<HTMLInputElement>(null);
  /** Of the one entered last. */
  const later = useStagedFiles();
  const greeted = useRef<EnteredRun | null>(null);
  const { act, running } = useAct();
  const empty = isEmpty(typed);
  const tried = useTried("run.rehearse", readOnly === null && !empty ? inputOf(typed) : null, "change");
  const plan = empty ? null : tried.value;
  const told = useMemo(() => ({ problems: plan?.problems ?? [], doubts: plan?.doubts ?? [] }), [plan]);
  const pending = typed.next.trim();
  const may = plan?.ready === true && !tried.busy && !waiting.reading && readOnly === null && pending === "";

  useEffect(() => {
    if (open === null) focusField("tag");
  }, [open]);
  const done = empty ? entered : null;
  useEffect(() => {
    // After a cable come its photos, once: the next one is typed below them.
    if (done === null || greeted.current === done) return;
    greeted.current = done;
    photos.current?.focus();
  }, [done]);

  const enter = async () => {
    if (pending) return notify(notTaken(pending));
    if (!may || !plan) return;
    setRefused(null);
    const unread = waiting.amiss();
    if (unread) return notify(unread);
    const draft = desk.id === null ? {} : { draft: desk.id };
    const still = stillHere();
    const reply = await act("run.enter", { ...inputOf(typed), digest: plan.digest, ...draft });
    if (!reply) return;
    if (!reply.ok) return setRefused(reply.error);
    const run = enteredRun(typed, plan);
    const kept = await waiting.keep(run.things);
    if (kept.files === 0) notify(say`${run.tag} is entered. One undo takes all of it back.`);
    else notify(say`${run.tag} is entered, and ${counted(kept.files, "file", "files")} kept with ${kept.with}.`);
    // A file that was refused is still there, now beside the cable it shows.
    later.put(kept.left);
    waiting.put([]);
    setEntered(run);
    if (still()) go("run");
  };
  const throwAway = async (id: number, name: string) => {
    const still = stillHere();
    const reply = await act("desk.throw_away", { form: "run", id });
    if (!reply) return;
    if (!reply.ok) return setRefused(reply.error);
    notify(say`${name || say`What was typed`} is thrown away.`);
    throwWaiting(client, id);
    setThrown((before) => before + 1);
    if (id === desk.id && still()) go("run");
  };
  const pressed = (event: KeyboardEvent) => {
    if (event.key !== "Enter" || !(event.ctrlKey || event.metaKey)) return;
    event.preventDefault();
    void enter();
  };

  /** A photo may be dropped anywhere on the page; what is no file of this cable is left to the window. */
  const dropped = (event: DragEvent) => {
    const files = [...event.dataTransfer.files];
    if (event.defaultPrevented || readOnly !== null || files.length === 0 || files.some(isPlant)) return;
    event.preventDefault();
    void (done ? later : waiting).take(files);
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Ctrl+Enter in any field is the button above
    <div className="run-page" onKeyDown={pressed} onDrop={dropped}>
      <ToldProvider value={told}>
        <Page
          acts={
            <>
              {desk.id === null ? null : <Button onClick={() => go("run")}>{say`Begin another`}</Button>}
              <Button
                filled
                disabled={!may}
                busy={running + waiting.running > 0 ? say`Writing` : null}
                title={pending ? notTaken(pending) : "Ctrl+Enter"}
                onClick={() => void enter()}
              >
                {typed.tag.trim() ? say`Enter ${typed.tag.trim()}` : say`Enter the cable`}
              </Button>
            </>
          }
          answer={
            readOnly ?? (
              <>
                {done ? say`${done.tag} is entered. ` : null}
                {plan?.sentence ?? say`Type the number and the first place; the line is drawn as it grows.`}{" "}
                <Keeping id={desk.id} kept={desk.kept} why={desk.why} />
              </>
            )
          }
          leaf={
            <div className="run-beside">
              {plan ? (
                <WouldEnter plan={plan} />
              ) : (
                <p className="soft">
                  {readOnly === null
                    ? say`What is typed is kept as it is typed, and becomes a record only when it is entered.`
                    : say`What is typed here is not kept.`}
                </p>
              )}
              {plan ? <Labels typed={typed} type={type} labels={plan.labels} /> : null}
              {plan ? <LabelsTold /> : null}
              {readOnly === null && !done ? <WaitingTold files={waiting} /> : null}
              <DeskList
                open={desk.id}
                turn={desk.turn + thrown}
                throwAway={readOnly === null ? (id, name) => void throwAway(id, name) : null}
              />
            </div>
          }
        >
          {plan?.course ? (
            <Region name="drawing" label={say`The line as it is typed`} className="run-course">
              <Course sheet={plan.course} />
            </Region>
          ) : null}
          <Region name="ledger" label={say`The cable`} className="run-form">
            {done ? <Entered run={done} first={photos} files={later} /> : null}
            {refused ? <Refused failure={refused} /> : null}
            {tried.failure ? <Refused failure={tried.failure} again={tried.again} /> : null}
            <CableFields typed={typed} type={type} />
            <h2>{say`Where it runs`}</h2>
            <div className="run-scroll">
              <StopsTable typed={typed} type={type} />
            </div>
            <StopsTold />
            <h2>{say`Landed at its ends`}</h2>
            <LandingsTable typed={typed} type={type} />
            <h2>{say`Spliced on its way`}</h2>
            <SplicesTable typed={typed} type={type} />
            <MakeList typed={typed} type={type} missing={plan?.missing ?? []} />
            {readOnly === null && !done ? (
              <section aria-labelledby="run-photos">
                <h2 id="run-photos">{say`Photos`}</h2>
                <KeepFiles
                  subjects={enteredRun(typed, plan).things}
                  held={waiting}
                  waiting={
                    desk.id === null
                      ? say`They wait in this window and are kept as soon as ${typed.tag.trim() || say`the cable`} is entered.`
                      : say`They wait in the plant file and are kept as soon as ${typed.tag.trim() || say`the cable`} is entered.`
                  }
                />
              </section>
            ) : null}
          </Region>
        </Page>
      </ToldProvider>
    </div>
  );
}

const notTaken = (place: string): string =>
  say`${place} is not taken as the next place yet: Enter or Tab there takes it.`;

const isPlant = ({ name }: File): boolean => name.endsWith(".strandbook");

/** What was dropped on the page while the cable is typed, by name: the list itself stands at the foot of the form. */
function WaitingTold({ files: { staged, why } }: { readonly files: StagedFiles }) {
  const names = staged.map(({ file }) => file.name).join(", ");
  return (
    <>
      {why.map((reason) => (
        <p key={reason} className="form-reason">
          {reason}
        </p>
      ))}
      {staged.length === 0 ? (
        <p className="soft">{say`Photos may be dropped on this page; they are kept with the cable as soon as it is entered.`}</p>
      ) : (
        <p role="status">
          {plural(staged.length, "{0} file waits for the entry: {1}.", "{0} files wait for the entry: {1}.", names)}
        </p>
      )}
    </>
  );
}

/** Whether what is on screen is in the file. */
function Keeping({
  id,
  kept,
  why,
}: {
  readonly id: number | null;
  readonly kept: boolean;
  readonly why: string | null;
}) {
  if (why) return <b role="alert">{say`Not kept: ${why}`}</b>;
  if (id === null) return null;
  return <span className="soft">{kept ? say`Kept unfinished in the plant file.` : say`Keeping`}</span>;
}

/** What is amiss with the list of places as a whole stands below it; what a row lacks stands at the row. */
function StopsTold() {
  const any = useAnyTold("stops-whole");
  return any ? <Beside row="stops-whole" /> : null;
}

function LabelsTold() {
  return useAnyTold("labels") ? <Beside row="labels" /> : null;
}
