/** Signing the report as it stands: the next one opens with what is new since. */
import { type FormEvent, useEffect, useRef, useState } from "react";
import { z } from "zod";
import type { Failure } from "../../../core/result.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { settings, useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { useKeptForm } from "../../forms/kept-form.ts";
import { notify } from "../../frame/notices.tsx";
import type { Report } from "./rules.ts";

const written = z.string();

export function SignOff({ report, onClose }: { readonly report: Report; readonly onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const { person } = useSettings();
  const [by, setBy] = useState(person);
  const kept = useKeptForm("sign the report", say`Sign this report`, "", written);
  const notes = kept.value;
  const [refused, setRefused] = useState<Failure | null>(null);
  const { act, running } = useAct();
  useEffect(() => dialog.current?.showModal(), []);
  const open = report.counts.hazard + report.counts.error;
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const name = by.trim();
    if (name === "") return;
    if (!person) settings.set({ person: name });
    const reply = await act("sign_off.make", { by: name, ...(notes.trim() ? { notes } : {}) });
    if (!reply) return;
    if (!reply.ok) {
      setRefused(reply.error);
      return;
    }
    notify(say`Signed by ${name}. The next report opens with what is new since.`);
    dialog.current?.close();
  };
  return (
    <dialog
      ref={dialog}
      className="dialog"
      aria-labelledby="sign-title"
      onClose={() => {
        // It was signed, or left on purpose.
        kept.end("");
        onClose();
      }}
    >
      <form onSubmit={(event) => void submit(event)}>
        <h2 id="sign-title">{say`Sign this report`}</h2>
        <p>
          {sayWith`${counted(report.findings.length, "finding", "findings")}, ${report.accepted} of them accepted, over the content ${<span className="tag">{report.content_hash.slice(0, 8)}</span>}, by the rules ${<span className="tag">{report.rules_version}</span>}.`}
          {open > 0 ? (
            <b>
              {" "}
              {plural(
                open,
                "{0} hazard or error is still open; signing does not close them.",
                "{0} hazards and errors are still open; signing does not close them.",
              )}
            </b>
          ) : null}
        </p>
        <label className="field">
          <span>{say`Who signs`}</span>
          <input value={by} maxLength={80} required onChange={(event) => setBy(event.target.value)} />
        </label>
        <label className="field">
          <span>{say`Notes, if any`}</span>
          <input value={notes} maxLength={4000} onChange={(event) => kept.type(() => event.target.value)} />
        </label>
        {refused ? (
          <p role="alert">
            <b>{refused.message}</b>
          </p>
        ) : null}
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Not now`}</Button>
          <Button filled submit disabled={by.trim() === ""} busy={running > 0 ? say`Signing` : null}>
            {say`Sign it`}
          </Button>
        </div>
      </form>
    </dialog>
  );
}
