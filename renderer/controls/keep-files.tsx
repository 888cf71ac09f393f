/** New photos and files for a record: dropped here or chosen, looked through, described, and kept. */
import { type DragEvent, type RefObject, useId, useRef, useState } from "react";
import type { InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { useSettings } from "../client/settings.ts";
import { useAct } from "../client/use-act.ts";
import { DayField } from "../forms/day-field.tsx";
import { notify, sayRefused } from "../frame/notices.tsx";
import { Button } from "./button.tsx";
import { counted } from "./figures.ts";
import { base64Of, MOST_MB, unfit } from "./kept-files.ts";

interface Staged {
  readonly key: number;
  readonly file: File;
  readonly caption: string;
  readonly taken_on: string | null;
  /** What is typed as its day can be read. */
  readonly readable: boolean;
  /** Which of the subjects it is kept with. */
  readonly subject: number;
}

/** A record that files are kept with. */
export interface Subject {
  readonly of: InputOf<"attachment.add">["of"];
  /** What it is called. */
  readonly name: string;
}

let count = 0;

interface Props {
  /** One or more: of several it is said for each file which one it shows; the first unless said otherwise. */
  readonly subjects: readonly [Subject, ...Subject[]];
  /** The field that files are chosen by, for whoever puts the cursor there. */
  readonly chooser?: RefObject<HTMLInputElement | null>;
}

export function KeepFiles({ subjects, chooser }: Props) {
  const id = useId();
  const own = useRef<HTMLInputElement>(null);
  const field = chooser ?? own;
  const { act, running } = useAct();
  const [staged, setStaged] = useState<readonly Staged[]>([]);
  const { person } = useSettings();
  /** Who works here took them, unless somebody else is named. */
  const [named, setNamed] = useState<string | null>(null);
  const by = named ?? person;
  const [why, setWhy] = useState<readonly string[]>([]);
  const [over, setOver] = useState(false);

  const take = async (files: Iterable<File>): Promise<void> => {
    const reasons: string[] = [];
    const fit: Staged[] = [];
    for (const file of files) {
      const reason = await unfit(file);
      if (reason) reasons.push(reason);
      else fit.push({ key: ++count, file, caption: "", taken_on: null, readable: true, subject: 0 });
    }
    setWhy(reasons);
    setStaged((before) => [...before, ...fit]);
  };
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    setOver(false);
    void take([...event.dataTransfer.files]);
  };
  const change = (key: number, more: Partial<Staged>): void =>
    setStaged((before) => before.map((one) => (one.key === key ? { ...one, ...more } : one)));
  const keep = async (): Promise<void> => {
    const unread = staged.find(({ readable }) => !readable);
    if (unread) return setWhy([say`${unread.file.name}: the day can't be read. Mend it, or leave it empty.`]);
    setWhy([]);
    let kept = 0;
    const withWhat = new Set<string>();
    for (const { key, file, caption, taken_on, subject } of staged) {
      const { of, name } = subjects[subject] ?? subjects[0];
      const reply = await act("attachment.add", {
        of,
        ...{ name: file.name, content: await base64Of(file) },
        ...(caption.trim() === "" ? {} : { caption }),
        ...(taken_on === null ? {} : { taken_on }),
        ...(by.trim() === "" ? {} : { taken_by: by.trim() }),
      });
      if (!reply) return;
      if (!reply.ok) {
        sayRefused(reply.error);
        return;
      }
      kept += 1;
      withWhat.add(name);
      for (const notice of reply.value.notices) notify(notice);
      setStaged((before) => before.filter((one) => one.key !== key));
    }
    // The button that was pressed is gone with the files.
    field.current?.focus();
    notify(say`${counted(kept, "file", "files")} kept with ${listed([...withWhat])}.`);
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is one more way to what the field below does
    <div
      className={over ? "keep-files over" : "keep-files"}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <label className="keep-choose" htmlFor={id}>
        {say`Photos or files, at most ${MOST_MB} MB each; they may be dropped here`}
      </label>
      <input
        ref={field}
        id={id}
        type="file"
        multiple
        onChange={(event) => {
          void take([...(event.target.files ?? [])]);
          event.target.value = "";
        }}
      />
      {why.map((reason) => (
        <p key={reason} className="form-reason" role="alert">
          {reason}
        </p>
      ))}
      {staged.length > 0 ? (
        <>
          <ul className="keep-staged">
            {staged.map(({ key, file, caption, taken_on, subject }) => (
              <li key={key} className={subjects.length > 1 ? "of-several" : undefined}>
                <b>{file.name}</b>
                {subjects.length > 1 ? (
                  <label>
                    <span>{say`kept with`}</span>
                    <select
                      className="form-input"
                      aria-label={say`${file.name} is kept with`}
                      value={subject}
                      onChange={(event) => change(key, { subject: Number(event.target.value) })}
                    >
                      {subjects.map(({ name }, at) => (
                        <option key={name} value={at}>
                          {name}
                        </option>
                      ))}
                    </select>
                  </label>
                ) : null}
                <label>
                  <span>{say`what it shows`}</span>
                  <input
                    className="form-input"
                    value={caption}
                    maxLength={4000}
                    onChange={(event) => change(key, { caption: event.target.value })}
                  />
                </label>
                <div className="keep-day">
                  <span aria-hidden="true">{say`taken on`}</span>
                  <DayField
                    label={say`taken on`}
                    day={taken_on}
                    onDay={(day) => change(key, { taken_on: day })}
                    onReadable={(readable) => change(key, { readable })}
                  />
                </div>
                <Button
                  onClick={() => {
                    setStaged(staged.filter((one) => one.key !== key));
                    field.current?.focus();
                  }}
                  title={say`Leave ${file.name} out`}
                >
                  {say`Leave out`}
                </Button>
              </li>
            ))}
          </ul>
          <p className="soft small">{say`A day left empty is the one that the camera wrote into its picture, if it did.`}</p>
          <p className="keep-acts">
            <label>
              <span>{say`taken by`}</span>
              <input
                className="form-input"
                value={by}
                maxLength={80}
                onChange={(event) => setNamed(event.target.value)}
              />
            </label>
            <Button filled busy={running > 0 ? "Keeping" : null} onClick={() => void keep()}>
              {say`Keep ${counted(staged.length, "file", "files")}`}
            </Button>
          </p>
        </>
      ) : null}
    </div>
  );
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : say`${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
