/** Deleting what others rest on: they are named, and may go along as one act with one undo. */
import { useEffect, useRef, useState } from "react";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { Failure } from "../../../core/result.ts";
import type { RestingView } from "../../../core/store/rests-on.ts";
import type { Written } from "../../../core/store/written.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import type { GridRow } from "../../grid/row-source.ts";

interface Props {
  readonly kind: KindName;
  readonly rows: readonly GridRow[];
  /** The refusal that says what rests on them. */
  readonly failure: Failure;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

const restingOf = (failure: Failure): readonly RestingView[] =>
  ((failure.details ?? {}) as { resting?: readonly RestingView[] }).resting ?? [];

export function DeleteDialog({ kind, rows, failure, onDone, onClose }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const { act, running } = useAct();
  const [whole, setWhole] = useState<Written<unknown> | null>(null);
  const [refused, setRefused] = useState<Failure | null>(null);
  const ids = rows.map((row) => row.id);
  const revs = rows.map((row) => row.rev);
  const asked = useRef({ kind, ids, revs });
  useEffect(() => dialog.current?.showModal(), []);
  useEffect(() => {
    let ended = false;
    void act("record.remove", { ...asked.current, along: true }, { rehearse: true }).then((reply) => {
      if (ended || !reply) return;
      if (reply.ok) setWhole(reply.value);
      else setRefused(reply.error);
    });
    return () => {
      ended = true;
    };
  }, [act]);

  const groups = restingOf(failure);
  const [first] = rows;
  const what =
    rows.length === 1 && first ? (
      <span className="tag">{first.address}</span>
    ) : (
      counted(rows.length, KINDS[kind].one, KINDS[kind].many)
    );
  const deleted = whole?.counts.reduce((sum, one) => sum + one.deleted, 0) ?? 0;
  const others = deleted - rows.length;
  const remove = async () => {
    const reply = await act("record.remove", { kind, ids, revs, along: true });
    if (!reply) return;
    if (!reply.ok) {
      setRefused(reply.error);
      return;
    }
    onDone(say`${reply.value.summary}. Undo brings it back.`);
    dialog.current?.close();
  };
  return (
    <dialog ref={dialog} className="dialog delete-dialog" aria-labelledby="delete-title" onClose={onClose}>
      <h2 id="delete-title">
        {rows.length === 1 ? sayWith`${what} carries other records` : sayWith`${what} carry other records`}
      </h2>
      <ul className="resting">
        {groups.map((group) => (
          <li key={`${group.kind} ${group.field}`}>
            <b>{counted(group.count, KINDS[group.kind].one, KINDS[group.kind].many)}</b>{" "}
            {group.goes
              ? plural(group.count, "rests on it", "rest on it")
              : plural(
                  group.count,
                  "names it as {1}; only that mention would go",
                  "name it as {1}; only that mention would go",
                  group.label,
                )}
            <span className="soft resting-first">
              {group.first.map((one) => one.address).join(", ")}
              {group.count > group.first.length ? say`, and ${count(group.count - group.first.length)} more` : ""}
            </span>
          </li>
        ))}
      </ul>
      {whole ? (
        <p>
          {say`All of it is one act: ${deletedWords(whole)}. Undo brings everything back.`}
          {whole.notices.map((notice) => (
            <span key={notice}> {notice}</span>
          ))}
        </p>
      ) : refused ? null : (
        <p className="soft" role="status">
          {say`Counting what would go along`}
        </p>
      )}
      {refused ? (
        <p role="alert">
          <b>{refused.message}</b>
        </p>
      ) : null}
      <div className="dialog-acts">
        <Button onClick={() => dialog.current?.close()}>{say`Keep everything`}</Button>
        <Button
          filled
          disabled={!whole}
          busy={running > 0 && whole ? say`Deleting` : null}
          onClick={() => void remove()}
        >
          {whole && others > 0
            ? plural(rows.length, "Delete {0} and {1} with it", "Delete {0} and {1} with them", count(others))
            : say`Delete`}
        </Button>
      </div>
    </dialog>
  );
}

function deletedWords(whole: Written<unknown>): string {
  const parts = whole.counts
    .filter((one) => one.deleted > 0)
    .map((one) => counted(one.deleted, KINDS[one.kind].one, KINDS[one.kind].many));
  return say`${parts.join(", ")} would be deleted`;
}
