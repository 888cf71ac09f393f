/** New photos and files for a record: dropped here or chosen, looked through, described, and kept. */
import { type DragEvent, useId, useState } from "react";
import type { RecordRef } from "../../core/trace/answer.ts";
import { useAct } from "../client/use-act.ts";
import { say, sayRefused } from "../frame/notices.tsx";
import { Button } from "./button.tsx";
import { counted } from "./figures.ts";
import { base64Of, MOST_MB, unfit } from "./kept-files.ts";

interface Staged {
  readonly key: number;
  readonly file: File;
  readonly caption: string;
  readonly taken_on: string;
}

let count = 0;

export function KeepFiles({
  record,
  name,
}: {
  readonly record: Pick<RecordRef, "kind" | "id">;
  readonly name: string;
}) {
  const id = useId();
  const { act, running } = useAct();
  const [staged, setStaged] = useState<readonly Staged[]>([]);
  const [by, setBy] = useState("");
  const [why, setWhy] = useState<readonly string[]>([]);
  const [over, setOver] = useState(false);

  const take = async (files: Iterable<File>): Promise<void> => {
    const reasons: string[] = [];
    const fit: Staged[] = [];
    for (const file of files) {
      const reason = await unfit(file);
      if (reason) reasons.push(reason);
      else fit.push({ key: ++count, file, caption: "", taken_on: "" });
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
    let kept = 0;
    for (const { key, file, caption, taken_on } of staged) {
      const reply = await act("attachment.add", {
        of: { kind: record.kind, id: record.id },
        ...{ name: file.name, content: await base64Of(file) },
        ...(caption.trim() === "" ? {} : { caption }),
        ...(taken_on === "" ? {} : { taken_on }),
        ...(by.trim() === "" ? {} : { taken_by: by.trim() }),
      });
      if (!reply) return;
      if (!reply.ok) {
        sayRefused(reply.error);
        return;
      }
      kept += 1;
      for (const notice of reply.value.notices) say(notice);
      setStaged((before) => before.filter((one) => one.key !== key));
    }
    say(`${counted(kept, "file", "files")} kept with ${name}.`);
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
        Photos or files, at most {MOST_MB} MB each; they may be dropped here
      </label>
      <input
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
            {staged.map(({ key, file, caption, taken_on }) => (
              <li key={key}>
                <b>{file.name}</b>
                <label>
                  <span>what it shows</span>
                  <input
                    className="form-input"
                    value={caption}
                    maxLength={4000}
                    onChange={(event) => change(key, { caption: event.target.value })}
                  />
                </label>
                <label>
                  <span>taken on</span>
                  <input
                    className="form-input"
                    type="date"
                    value={taken_on}
                    title="Left empty, the day that the camera wrote into it"
                    onChange={(event) => change(key, { taken_on: event.target.value })}
                  />
                </label>
                <Button
                  onClick={() => setStaged(staged.filter((one) => one.key !== key))}
                  title={`Leave ${file.name} out`}
                >
                  Leave out
                </Button>
              </li>
            ))}
          </ul>
          <p className="soft small">A day left empty is the one that the camera wrote into its picture, if it did.</p>
          <p className="keep-acts">
            <label>
              <span>taken by</span>
              <input className="form-input" value={by} maxLength={80} onChange={(event) => setBy(event.target.value)} />
            </label>
            <Button filled busy={running > 0 ? "Keeping" : null} onClick={() => void keep()}>
              {`Keep ${counted(staged.length, "file", "files")}`}
            </Button>
          </p>
        </>
      ) : null}
    </div>
  );
}
