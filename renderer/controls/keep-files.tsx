/** New photos and files for a record: dropped here or chosen, looked through, described, and kept. */

import { type DragEvent, type RefObject, useId, useRef, useState } from "react";
import { counted } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { DayField } from "../forms/day-field.tsx";
import { helpSaid } from "../frame/help-about.ts";
import { notify } from "../frame/notices.tsx";
import { Button } from "./button.tsx";
import { MOST_MB } from "./kept-files.ts";
import { type StagedFiles, type Subjects, subjectOf, useStagedFiles } from "./staged-files.ts";

interface Props {
  /** One or more: of several it is said for each file which one it shows; the first unless said otherwise. */
  readonly subjects: Subjects;
  /** The field that files are chosen by, for whoever puts the cursor there. */
  readonly chooser?: RefObject<HTMLInputElement | null>;
  /** What is staged, where a page holds it for longer than this part stands. */
  readonly held?: StagedFiles;
  /** What they wait for, in a sentence, where they aren't kept from here. */
  readonly waiting?: string;
}

export function KeepFiles({ held, ...props }: Props) {
  return held ? <Files {...props} files={held} /> : <Own {...props} />;
}

function Own(props: Omit<Props, "held">) {
  return <Files {...props} files={useStagedFiles()} />;
}

function Files({ subjects, chooser, waiting, files }: Omit<Props, "held"> & { readonly files: StagedFiles }) {
  const id = useId();
  const own = useRef<HTMLInputElement>(null);
  const field = chooser ?? own;
  const [over, setOver] = useState(false);
  const { staged, change } = files;

  const drop = (event: DragEvent): void => {
    event.preventDefault();
    setOver(false);
    void files.take([...event.dataTransfer.files]);
  };
  const keep = async (): Promise<void> => {
    if (files.amiss() !== null) return;
    const kept = await files.keep(subjects);
    if (kept.left.length > 0) return;
    // The button that was pressed is gone with the files.
    field.current?.focus();
    notify(say`${counted(kept.files, "file", "files")} kept with ${kept.with}.`);
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
        {...helpSaid(
          say`photos or files`,
          say`Kept inside the plant file with this record, byte for byte, so that moving the file on the disk loses nothing. At most ${MOST_MB} MB each.`,
        )}
        onChange={(event) => {
          void files.take([...(event.target.files ?? [])]);
          event.target.value = "";
        }}
      />
      {files.why.map((reason) => (
        <p key={reason} className="form-reason" role="alert">
          {reason}
        </p>
      ))}
      {staged.length > 0 ? (
        <>
          <ul className="keep-staged">
            {staged.map((one) => (
              <li key={one.key} className={subjects.length > 1 ? "of-several" : undefined}>
                <b>{one.file.name}</b>
                {subjects.length > 1 ? (
                  <label>
                    <span>{say`kept with`}</span>
                    <select
                      className="form-input"
                      aria-label={say`${one.file.name} is kept with`}
                      value={subjectOf(subjects, one).name}
                      onChange={(event) => change(one.key, { subject: event.target.value })}
                    >
                      {subjects.map(({ name }) => (
                        <option key={name}>{name}</option>
                      ))}
                    </select>
                  </label>
                ) : null}
                <label>
                  <span>{say`what it shows`}</span>
                  <input
                    className="form-input"
                    value={one.caption}
                    maxLength={4000}
                    onChange={(event) => change(one.key, { caption: event.target.value })}
                  />
                </label>
                <div className="keep-day">
                  <span aria-hidden="true">{say`taken on`}</span>
                  <DayField
                    label={say`taken on`}
                    day={one.taken_on}
                    onDay={(day) => change(one.key, { taken_on: day })}
                    onReadable={(readable) => change(one.key, { readable })}
                  />
                </div>
                <Button
                  onClick={() => {
                    files.leaveOut(one.key);
                    field.current?.focus();
                  }}
                  title={say`Leave ${one.file.name} out`}
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
                value={files.by}
                maxLength={80}
                onChange={(event) => files.named(event.target.value)}
              />
            </label>
            {waiting ? null : (
              <Button filled busy={files.running > 0 ? say`Keeping` : null} onClick={() => void keep()}>
                {say`Keep ${counted(staged.length, "file", "files")}`}
              </Button>
            )}
          </p>
          {waiting ? <p className="keep-waiting">{waiting}</p> : null}
        </>
      ) : null}
    </div>
  );
}
