/** Find in the table, and replace: every cell is shown as it is and as it would be before one act changes them. */
import { useEffect, useMemo, useRef, useState } from "react";
import { z } from "zod";
import { KINDS, kindOf } from "../../../core/model/dictionary.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { useKeptForm } from "../../forms/kept-form.ts";
import { type ChangesTold, changeRows } from "../../grid/change-rows.ts";
import type { GridColumn } from "../../grid/columns.ts";
import type { GridCalls } from "../../grid/commit.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { isSearched, type Match, matchesIn, type Sought } from "../../grid/replacing.ts";
import { HiddenChoice, type Meant, meantRows } from "./hidden-choice.tsx";
import { RefusedChanges } from "./refused-changes.tsx";
import { type About, useChosen } from "./use-chosen.ts";
import { askedOf, useCandidates } from "./use-matches.ts";

interface Props {
  readonly about: About;
  /** The columns shown, in order. */
  readonly columns: readonly GridColumn[];
  readonly calls: GridCalls;
  readonly habits: ReadingHabits;
  /** Why nothing can be written; then one only finds. */
  readonly readOnly: string | null;
  readonly onGo: (match: Match) => void;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

const MOST_SHOWN = 200;
const MOST_CELLS = 20_000;
const EVERY = "";

/** What is typed into it, as it is kept. */
const asks = z.object({
  sought: z.object({ text: z.string(), whole: z.boolean(), exact: z.boolean() }),
  by: z.string().nullable(),
  field: z.string(),
});
type Asks = z.output<typeof asks>;
const NOTHING: Asks = { sought: { text: "", whole: false, exact: false }, by: null, field: EVERY };

const turned = (set: ReadonlySet<string>, key: string): ReadonlySet<string> =>
  set.has(key) ? new Set([...set].filter((one) => one !== key)) : new Set([...set, key]);

const keyOf = (match: Match): string => `${match.row.id} ${match.field}`;

export function ReplaceDialog({ about, columns, calls, habits, readOnly, onGo, onDone, onClose }: Props) {
  const { kind } = about;
  const { one, many, fields } = kindOf(kind);
  const dialog = useRef<HTMLDialogElement>(null);
  const chosen = useChosen(about);
  const some = about.picked.length > 0 || about.block[1] > about.block[0];
  const kept = useKeptForm<Asks>(`replace ${kind}`, say`Find and replace in ${many}`, NOTHING, asks);
  const { sought, by } = kept.value;
  // A column that isn't shown any more can't be searched.
  const field = columns.some(({ id }) => id === kept.value.field) ? kept.value.field : EVERY;
  const type = (change: Partial<Asks>) => kept.type((before) => ({ ...before, ...change }));
  const [everywhere, setEverywhere] = useState(!some);
  const [meant, setMeant] = useState<Meant>(null);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [told, setTold] = useState<ChangesTold | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => dialog.current?.showModal(), []);

  const searched = useMemo(() => columns.filter(isSearched), [columns]);
  const within = useMemo(() => searched.filter(({ id }) => field === EVERY || id === field), [searched, field]);
  const found = useCandidates(about.selection, within, everywhere ? sought : { ...sought, text: "" });
  const scope = chosen && "rows" in chosen ? chosen : null;
  const rows = everywhere ? found.rows : scope ? meantRows(scope, meant) : [];
  const matches = useMemo(
    () => matchesIn(rows, within, sought, by ?? "", habits.lengths),
    [rows, within, sought, by, habits.lengths],
  );
  const pending = everywhere && sought.text !== "" && found.asked !== askedOf(sought, within);
  const changing = by === null ? [] : matches.filter((match) => !left.has(keyOf(match)) && match.text !== match.before);
  const records = new Set(changing.map(({ row }) => row.id)).size;
  const tooMany = changing.length > MOST_CELLS;
  const again = (change: Partial<Sought>): void => {
    kept.type((before) => ({ ...before, sought: { ...before.sought, ...change } }));
    setLeft(new Set());
    setTold(null);
  };
  const write = async (list: readonly Match[]) => {
    setBusy(true);
    const of = new Set(list.map(({ row }) => row.id)).size;
    const labels = [...new Set(list.map((match) => fields[match.field]?.label ?? match.field))];
    const where = labels.length > 3 ? say`${labels.length} fields` : labels.join(", ");
    const result = await changeRows(
      kind,
      list,
      say`Replace ${sought.text.slice(0, 60)} in ${where} of ${counted(of, one, many)}`,
      habits,
      calls,
    );
    setBusy(false);
    if (result.failure || result.refused.length > 0) return setTold(result);
    onDone(say`Replaced in ${counted(list.length, "cell", "cells")} of ${counted(of, one, many)}. Undo takes it back.`);
    dialog.current?.close();
  };
  const refused = new Set(told?.refused.map(({ change }) => change.row.id));
  const rest = changing.filter(({ row }) => !refused.has(row.id));
  return (
    <dialog
      ref={dialog}
      className="dialog replace-dialog"
      aria-labelledby="replace-title"
      onClose={() => {
        kept.end(NOTHING);
        onClose();
      }}
    >
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (changing.length > 0 && !tooMany && !busy && !pending) void write(changing);
        }}
      >
        <h2 id="replace-title">{say`Find in ${KINDS[kind].many}${readOnly ? "" : say`, and replace`}`}</h2>
        <div className="replace-fields">
          <label className="value-field">
            <span>{say`find`}</span>
            <input
              type="text"
              className="tag"
              value={sought.text}
              autoComplete="off"
              spellCheck={false}
              onChange={(event) => again({ text: event.target.value })}
              onKeyDown={(event) => {
                const [first] = matches;
                // Nothing is to be replaced: Enter goes to what was found.
                if (event.key !== "Enter" || by !== null || !first || pending || event.nativeEvent.isComposing) return;
                event.preventDefault();
                dialog.current?.close();
                onGo(first);
              }}
            />
          </label>
          {readOnly ? null : (
            <label className="value-field">
              <span>{say`replace with`}</span>
              <input
                type="text"
                className="tag"
                value={by ?? ""}
                autoComplete="off"
                spellCheck={false}
                placeholder={say`nothing`}
                onFocus={() => type({ by: by ?? "" })}
                onChange={(event) => {
                  type({ by: event.target.value });
                  setTold(null);
                }}
              />
            </label>
          )}
          <label className="value-field">
            <span>{say`in`}</span>
            <select value={field} onChange={(event) => type({ field: event.target.value })}>
              <option value={EVERY}>{say`every column shown`}</option>
              {searched.map(({ id, field: own }) => (
                <option key={id} value={id}>
                  {own.label}
                </option>
              ))}
            </select>
          </label>
        </div>
        <div className="replace-ways">
          <label>
            <input
              type="checkbox"
              checked={sought.whole}
              onChange={(event) => again({ whole: event.target.checked })}
            />
            {say`The whole cell`}
          </label>
          <label>
            <input
              type="checkbox"
              checked={sought.exact}
              onChange={(event) => again({ exact: event.target.checked })}
            />
            {say`Match capitals`}
          </label>
          {some ? (
            <label>
              <input type="checkbox" checked={!everywhere} onChange={(event) => setEverywhere(!event.target.checked)} />
              {about.picked.length > 0 ? say`Only in the rows picked` : say`Only in the rows selected`}
            </label>
          ) : null}
        </div>
        {!everywhere && scope ? <HiddenChoice chosen={scope} meant={meant} onMeant={setMeant} /> : null}
        <p role="status">
          {sought.text === ""
            ? say`What is found is listed here.`
            : pending
              ? say`Looking`
              : plural(
                  matches.length,
                  "{0} cell holds it{1}.",
                  "{0} cells hold it{1}.",
                  found.more && everywhere
                    ? say`, and more that weren't read: narrow the text, the column or the filter`
                    : "",
                )}
        </p>
        {matches.length > 0 ? (
          <div className="replace-matches">
            <table>
              <thead>
                <tr>
                  {by === null ? null : <th scope="col">{say`do`}</th>}
                  <th scope="col">{one}</th>
                  <th scope="col">{say`field`}</th>
                  <th scope="col">{say`is`}</th>
                  {by === null ? null : <th scope="col">{say`becomes`}</th>}
                </tr>
              </thead>
              <tbody>
                {matches.slice(0, MOST_SHOWN).map((match) => {
                  const key = keyOf(match);
                  return (
                    <tr key={key}>
                      {by === null ? null : (
                        <td>
                          <label>
                            <input
                              type="checkbox"
                              aria-label={say`Replace in ${fields[match.field]?.label} of ${match.row.address}`}
                              checked={!left.has(key)}
                              onChange={() => setLeft(turned(left, key))}
                            />
                          </label>
                        </td>
                      )}
                      <td>
                        <button
                          type="button"
                          className="link tag"
                          title={say`Go to this cell`}
                          onClick={() => {
                            dialog.current?.close();
                            onGo(match);
                          }}
                        >
                          {match.row.address}
                        </button>
                      </td>
                      <td>{fields[match.field]?.label}</td>
                      <td className="replace-text">{match.before}</td>
                      {by === null ? null : (
                        <td className="replace-text">
                          {left.has(key) ? "" : match.text || <span className="soft">{say`empty`}</span>}
                        </td>
                      )}
                    </tr>
                  );
                })}
              </tbody>
            </table>
          </div>
        ) : null}
        {matches.length > MOST_SHOWN ? (
          <p className="soft">{say`and ${count(matches.length - MOST_SHOWN)} more cells, not listed`}</p>
        ) : null}
        {told ? <RefusedChanges kind={kind} told={told} rest={rest.length} onRest={() => void write(rest)} /> : null}
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Close`}</Button>
          {readOnly ? null : (
            <Button
              filled
              submit
              disabled={changing.length === 0 || tooMany || pending}
              busy={busy ? say`Writing` : null}
            >
              {changing.length === 0
                ? say`Replace`
                : say`Replace in ${counted(changing.length, "cell", "cells")} of ${counted(records, one, many)}`}
            </Button>
          )}
        </div>
      </form>
    </dialog>
  );
}
