/** Always there: what state the file is in, what can be undone, in which unit, and who works here. */
import { useState } from "react";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { useChecked } from "../client/checked.ts";
import { useClient, useLost } from "../client/context.ts";
import { askNameAgain } from "../client/person.ts";
import { settings, useSettings } from "../client/settings.ts";
import { UNIT_WORDS } from "../controls/figures.ts";
import { sayWith } from "../controls/say-with.tsx";
import { Sign } from "../drawing/at.tsx";
import { viewOf } from "../views/registry.ts";
import { age, when } from "./ages.ts";
import { backUp, NEXT_THEME, turnTheme } from "./commands.ts";
import { askHelp } from "./help.tsx";
import { Region } from "./region.tsx";
import { redo, undo } from "./undo.ts";
import { useStatus } from "./use-status.ts";

type Status = NonNullable<ReturnType<typeof useStatus>>;

const THEME_WORDS = { system: say`as the system`, light: say`light`, dark: say`dark` } as const;

export function Foot() {
  const status = useStatus();
  const lost = useLost();
  const client = useClient();
  const { unit, theme, person } = useSettings();
  return (
    <Region name="foot" label={say`State of the file`} as="footer" className="foot">
      <FileState status={status} lost={lost} />
      {/* What the program must do itself can't be asked of it. */}
      {status && !lost ? <Backup status={status} /> : null}
      {lost ? null : <LastCheck />}
      {status && !lost ? <Steps status={status} /> : null}
      <span className="foot-push" />
      <button
        type="button"
        onClick={() => settings.set({ unit: unit === "m" ? "ft" : "m" })}
        title={say`Show lengths in ${unit === "m" ? say`feet` : say`metres`}`}
      >
        {UNIT_WORDS[unit]}
      </button>
      <button type="button" title={say`Show it ${THEME_WORDS[NEXT_THEME[theme]]}`} onClick={() => turnTheme(client)}>
        {say`Theme: ${THEME_WORDS[theme]}`}
      </button>
      <button type="button" onClick={() => void askNameAgain()} title={say`Who works here; written beside each change`}>
        {person || say`No name yet`}
      </button>
      <button type="button" title={say`What this page is, and the keys that work on it`} onClick={() => askHelp(null)}>
        {sayWith`Help ${<kbd>F1</kbd>}`}
      </button>
    </Region>
  );
}

function FileState({ status, lost }: { readonly status: Status | undefined; readonly lost: boolean }) {
  if (lost) {
    return (
      <span className="foot-state" role="status">
        <Sign>
          <path d="M-3.6-3.6 3.6 3.6M-3.6 3.6 3.6-3.6" stroke="currentColor" strokeWidth="1.8" />
        </Sign>
        {sayWith`${<b>{say`Strandbook doesn't answer`}</b>}: start it again; all that was written is kept`}
      </span>
    );
  }
  if (!status) return <span className="foot-state">{say`Opening`}</span>;
  if (status.integrity === "checking") {
    return (
      <span className="foot-state" title={say`The file itself is being read through; you can work meanwhile.`}>
        <Sign>
          <path d="M-5-2.5H5V2.5H-5Z" fill="none" stroke="currentColor" strokeWidth="1.4" />
          <path d="M-5-2.5H-.5V2.5H-5Z" fill="currentColor" />
        </Sign>
        {say`Being checked`}
      </span>
    );
  }
  if (status.integrity !== "fine") {
    return (
      <span className="foot-state" title={status.integrity}>
        <Sign>
          <rect x="-5" y="-5" width="10" height="10" fill="currentColor" />
        </Sign>
        <b>{say`The file is damaged`}</b>: {status.integrity}
      </span>
    );
  }
  if (status.read_only !== null) {
    const writer = status.writer;
    return (
      <span className="foot-state" title={status.read_only}>
        <Sign>
          <path d="M-4-1H4V5H-4Z" fill="currentColor" />
          <path d="M-2.5-1V-3a2.5 2.5 0 0 1 5 0V-1" fill="none" stroke="currentColor" strokeWidth="1.5" />
        </Sign>
        <span>
          <b>{say`Read only`}</b>
          {status.past ? `: ${status.past}` : ""}
          {writer && !status.past ? say`: ${writer.user} on ${writer.machine} writes` : ""}
        </span>
      </span>
    );
  }
  const last = status.last_change;
  return (
    <span
      className="foot-state"
      title={last ? say`Last: ${last.summary}, by ${last.author}` : say`Every change is saved at once`}
    >
      <Sign>
        <circle r="4.8" fill="currentColor" />
      </Sign>
      {last ? say`Saved · last change ${when(last.at)}` : say`Saved`}
    </span>
  );
}

function Backup({ status }: { readonly status: Status }) {
  const client = useClient();
  const [busy, setBusy] = useState(false);
  const make = async (): Promise<void> => {
    if (busy) return;
    setBusy(true);
    await backUp(client);
    setBusy(false);
  };
  const words = status.last_backup ? say`Backup ${ageWords(status.last_backup)}` : say`No backup yet`;
  return (
    <button type="button" onClick={() => void make()} aria-disabled={busy} title={say`Back up now, beside the file`}>
      {busy ? say`Backing up` : words}
    </button>
  );
}

const ageWords = (iso: string): string => {
  const old = age(iso);
  return old === "now" ? say`just made` : say`${old} old`;
};

function LastCheck() {
  const checked = useChecked();
  const client = useClient();
  if (!viewOf("check")) return null;
  const words = checked
    ? say`Checked ${when(checked.at)} · ${counted(checked.findings, "finding", "findings")}${
        checked.revision === client.revision ? "" : say`, changed since`
      }`
    : say`Not checked yet`;
  return (
    <a href="#/check" title={say`Does the record agree?`}>
      {words}
    </a>
  );
}

function Steps({ status }: { readonly status: Status }) {
  const client = useClient();
  if (status.read_only !== null) return null;
  return (
    <>
      {status.undo ? (
        <button
          type="button"
          className="foot-step"
          onClick={() => void undo(client)}
          title={say`Undo: ${status.undo.summary} (Ctrl+Z)`}
        >
          {say`Undo: ${status.undo.summary}`}
        </button>
      ) : (
        <span className="foot-none">{say`Nothing to undo`}</span>
      )}
      {status.redo ? (
        <button
          type="button"
          className="foot-step"
          onClick={() => void redo(client)}
          title={say`Redo: ${status.redo.summary} (Ctrl+Y)`}
        >
          {say`Redo: ${status.redo.summary}`}
        </button>
      ) : (
        <span className="foot-none">{say`Nothing to redo`}</span>
      )}
    </>
  );
}
