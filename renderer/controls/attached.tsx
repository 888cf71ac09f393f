/** Photos and files of a record: looked at, opened, saved again, and new ones dropped or chosen. */
import { useEffect, useRef, useState } from "react";
import type { AnswerOf } from "../../core/operations/list.ts";
import type { RecordRef } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { useClient } from "../client/context.ts";
import { useAnswer } from "../client/use-answer.ts";
import { sayRefused } from "../frame/notices.tsx";
import { addressOf } from "../frame/router.ts";
import { handOver } from "../grid/table-file.ts";
import { Answered } from "./answer.tsx";
import { Button } from "./button.tsx";
import { KeepFiles } from "./keep-files.tsx";
import { fetched, keepPicture, recallPicture, SHOWN_TYPES } from "./kept-files.ts";
import "./attached.css";

type One = AnswerOf<"attachment.list">["attached"][number];
const KINDS = ["attachment"] as const;

export interface AttachedProps {
  readonly record: Pick<RecordRef, "kind" | "id">;
  /** What it is called, for whoever listens. */
  readonly name: string;
  /** Why nothing can be added; null where it can. */
  readonly readOnly: string | null;
}

export function Attached({ record, name, readOnly }: AttachedProps) {
  const { kind, id } = record;
  const answer = useAnswer("attachment.list", { of: { kind, id } }, { kinds: KINDS });
  return (
    <>
      <Answered answer={answer} word={say`Looking`}>
        {({ attached }) =>
          attached.length === 0 ? (
            <p className="soft">{say`Nothing is kept with it yet.`}</p>
          ) : (
            <ul className="attached" aria-label={say`Photos and files of ${name}`}>
              {attached.map((one) => (
                <OneFile key={one.id} one={one} />
              ))}
            </ul>
          )
        }
      </Answered>
      {readOnly === null ? <KeepFiles subjects={[{ of: { kind, id }, name }]} /> : null}
    </>
  );
}

/** The photos of a record in a leaf: small, each leading to its page. */
export function AttachedSmall({ record }: { readonly record: RecordRef }) {
  const { kind, id } = record;
  const list = useAnswer("attachment.list", { of: { kind, id } }, { kinds: KINDS }).value;
  if (!list || list.attached.length === 0) return null;
  return (
    <ul className="attached small" aria-label={say`Photos and files of ${record.tag}`}>
      {list.attached.slice(0, 6).map((one) => (
        <li key={one.id}>
          <a href={addressOf("record", { kind, id: String(id), tag: record.tag })}>
            {SHOWN_TYPES.has(one.media_type ?? "") && one.there ? <Picture one={one} /> : one.name}
            <span className="hush">{one.caption ?? one.name}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function OneFile({ one }: { readonly one: One }) {
  const client = useClient();
  const [open, setOpen] = useState(false);
  const picture = SHOWN_TYPES.has(one.media_type ?? "") && one.there;
  const save = async (): Promise<void> => {
    const file = await fetched(client, one.id);
    if ("blob" in file) handOver(file.blob, file.name);
    else sayRefused(file);
  };
  return (
    <li className={open ? "attached-one open" : "attached-one"}>
      {picture ? (
        <button
          type="button"
          className="attached-picture"
          aria-expanded={open}
          aria-label={`${open ? say`Make smaller` : say`Enlarge`} ${one.caption ?? one.name}`}
          onClick={() => setOpen(!open)}
        >
          <Picture one={one} />
        </button>
      ) : (
        <span className="attached-file" aria-hidden="true">
          {/\.([^.]{1,5})$/.exec(one.name)?.[1] ?? say`file`}
        </span>
      )}
      <div className="attached-words">
        {one.caption ? <p>{one.caption}</p> : null}
        <p className="soft">
          {one.name}
          {one.taken_on ? say`, taken on ${one.taken_on}` : ""}
          {one.taken_by ? say` by ${one.taken_by}` : ""}
          {one.bytes === null ? "" : `, ${sizeWords(one.bytes)}`}
        </p>
        {one.there ? null : <p>{say`Its content is not in this file: it came with tables alone.`}</p>}
        <p className="attached-acts">
          {one.there ? <Button onClick={() => void save()}>{say`Save a copy`}</Button> : null}
          <a
            className="button"
            href={addressOf("record", { kind: "attachment", id: String(one.id) })}
            aria-label={say`Edit details of ${one.name}`}
          >
            {say`Edit details`}
          </a>
        </p>
      </div>
    </li>
  );
}

const sizeWords = (bytes: number): string =>
  bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1000))}\u202fkB` : `${(bytes / 1_000_000).toFixed(1)}\u202fMB`;

/** Fetched when it comes into sight; what can't be drawn says so. */
function Picture({ one }: { readonly one: One }) {
  const client = useClient();
  const holder = useRef<HTMLSpanElement>(null);
  const [address, setAddress] = useState(() => recallPicture(one.hash));
  const [why, setWhy] = useState<string | null>(null);
  useEffect(() => {
    const element = holder.current;
    if (address !== null || !element) return;
    let gone = false;
    const watch = new IntersectionObserver(async (entries) => {
      if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
      watch.disconnect();
      const file = await fetched(client, one.id);
      if (gone) return;
      if ("blob" in file && file.picture) setAddress(keepPicture(one.hash, file.blob));
      else setWhy("blob" in file ? say`no picture by its content` : file.message);
    });
    watch.observe(element);
    return () => {
      gone = true;
      watch.disconnect();
    };
  }, [address, client, one.id, one.hash]);
  return (
    <span ref={holder} className="attached-frame">
      {why ? (
        <span className="small">{why}</span>
      ) : address ? (
        <img src={address} alt={one.caption ?? one.name} onError={() => setWhy(say`can't be drawn`)} />
      ) : null}
    </span>
  );
}
