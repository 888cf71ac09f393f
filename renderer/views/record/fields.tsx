/** A record's fields as a form that is edited in place: each is kept by itself, as in the table. */

import { type KeyboardEvent, useCallback, useMemo, useRef, useState, useSyncExternalStore } from "react";
import { type KindName, kindOf } from "../../../core/model/dictionary.ts";
import { physical, provenance } from "../../../core/model/kind.ts";
import type { PageField, RecordPage } from "../../../core/store/record-page.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { helpMark } from "../../frame/help-about.ts";
import { CellEditor } from "../../grid/CellEditor.tsx";
import { GRID_COLUMNS, type GridColumn } from "../../grid/columns.ts";
import { commit, type Found, type GridCalls, type KnownRows, staleOf } from "../../grid/commit.ts";
import type { Command } from "../../grid/keys.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { cellText, editText, unitOf } from "../../grid/showing.ts";
import { StaleWords } from "../../grid/stale-words.tsx";
import { type Suggest, sourceFor } from "../../grid/suggestions.ts";
import { keyOf, typedOf } from "../../grid/typed.ts";

interface Props {
  readonly page: RecordPage;
  readonly habits: ReadingHabits;
  readonly readOnly: string | null;
  readonly calls: GridCalls;
  readonly suggest: Suggest;
  readonly say: (words: string) => void;
}

const GROUPS = [
  { title: say`Life and owner`, fields: new Set(Object.keys(physical)) },
  { title: say`How it is known`, fields: new Set(Object.keys(provenance)) },
] as const;

const own = (id: string): boolean => !GROUPS.some((group) => group.fields.has(id));

export function Fields({ page, ...rest }: Props) {
  const columns = GRID_COLUMNS[page.kind];
  const groups = [
    { title: null, columns: columns.filter((column) => own(column.id)) },
    ...GROUPS.map((group) => ({
      title: group.title,
      columns: columns.filter((column) => group.fields.has(column.id)),
    })),
  ].filter((group) => group.columns.length > 0);
  return (
    <div className="record-fields">
      {groups.map((group) => (
        <section key={group.title ?? "own"} {...(group.title ? { "aria-label": group.title } : {})}>
          {group.title ? <h2>{group.title}</h2> : null}
          <FieldList page={page} columns={group.columns} {...rest} />
        </section>
      ))}
    </div>
  );
}

function FieldList({ page, columns, ...rest }: Props & { readonly columns: readonly GridColumn[] }) {
  const list = useRef<HTMLDListElement>(null);
  const next = (from: number, step: number) =>
    list.current?.querySelectorAll<HTMLElement>(".field-button")[from + step]?.focus();
  return (
    <dl ref={list}>
      {columns.map((column, at) => {
        const field = page.fields.find((one) => one.field === column.id);
        return field ? (
          <FieldRow
            key={column.id}
            page={page}
            column={column}
            field={field}
            onNext={(step) => next(at, step)}
            {...rest}
          />
        ) : null;
      })}
    </dl>
  );
}

function FieldRow(
  props: Props & {
    readonly column: GridColumn;
    readonly field: PageField;
    readonly onNext: (step: number) => void;
  },
) {
  const { page, column, field, habits, readOnly, calls, suggest, say: tells, onNext } = props;
  const { kind, id } = page;
  const typed = typedOf(kind);
  useSyncExternalStore(typed.subscribe, () => typed.stamp);
  const key = keyOf(id);
  const cell = typed.cell(key, column.id);
  const [edit, setEdit] = useState<{ initial: string; replaces: boolean } | null>(null);
  const button = useRef<HTMLButtonElement>(null);
  const known: KnownRows = useMemo(
    () => ({
      rev: () => page.rev,
      value: (_row, name) => page.fields.find((one) => one.field === name)?.value ?? null,
    }),
    [page],
  );
  const name = field.ref?.tag ?? null;
  const typing = (text: string | null) =>
    typed.edit({ row: key, field: column.id, text, rev: typed.edited?.rev ?? page.rev });
  const begin = (text: string | null) => {
    if (readOnly) return tells(readOnly);
    typed.edit({ row: key, field: column.id, text, rev: cell?.rev ?? page.rev });
    setEdit({
      initial: text ?? cell?.text ?? editText(column.field, field.value, name, habits.lengths),
      replaces: text !== null,
    });
  };
  const keep = useCallback(
    async (text: string, found: Found | null, rev?: number) => {
      const kept = { row: key, field: column.id, text, found, ...(rev === undefined ? {} : { rev }) };
      const result = await commit(kind, [kept], typed, known, habits, calls);
      tells(
        result.refused > 0
          ? say`Not written: the reason stands under the field.`
          : result.already > 0
            ? say`It stood on record already as typed: another window wrote the same.`
            : say`Written.`,
      );
    },
    [kind, key, column.id, typed, known, habits, calls, tells],
  );
  const end = (command: Command, text: string, found: Found | null) => {
    const before = edit;
    const rev = typed.edited?.rev ?? undefined;
    setEdit(null);
    typed.edit(null);
    const away = document.activeElement !== document.body && !button.current;
    if (command.do === "keep" && before && (found || before.replaces || text !== before.initial || cell))
      void keep(text, found, rev);
    if (command.do === "keep" && command.after === "stay" && away) return;
    const step = command.do === "keep" ? { down: 1, right: 1, up: -1, left: -1, stay: 0 }[command.after] : 0;
    requestAnimationFrame(() => onNext(step));
  };
  const pressed = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.nativeEvent.isComposing) return;
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) onNext(step);
    else if (event.key === "F2") begin(null);
    else if (event.key === "Delete" || event.key === "Backspace") void keep("", null);
    else if ([...event.key].length === 1 && event.key !== " ") begin(event.key);
    else return;
    event.preventDefault();
  };

  const text = cellText(column.field, field.value, name, habits.lengths);
  const unit = unitOf(column.field, habits.lengths);
  const stale = cell && staleOf(cell, kind, key);
  const subject =
    column.field.type === "subject" ? (known.value(key, column.field.kindField) as KindName | null) : null;
  return (
    <div className={cell?.state === "refused" ? "field-row not-kept" : "field-row"} {...helpMark(kind, column.id)}>
      <dt title={column.field.help}>{column.field.label}</dt>
      <dd>
        {edit ? (
          <span className="field-edit">
            <CellEditor
              kind={kind}
              column={column}
              initial={edit.initial}
              replaces={edit.replaces}
              source={sourceFor(column, subject)}
              suggest={suggest}
              habits={habits}
              label={say`${column.field.label} of ${page.address}`}
              onType={typing}
              onEnd={end}
            />
          </span>
        ) : (
          <>
            <button
              ref={button}
              type="button"
              className="field-button"
              aria-label={say`${column.field.label}: ${shownWords(cell?.text, text, unit)}. Change it`}
              onClick={() => begin(null)}
              onKeyDown={pressed}
            >
              {cell ? (
                <span className="cell-typed">{cell.text || say`empty`}</span>
              ) : text === "" ? (
                <span className="faint">{say`not given`}</span>
              ) : (
                <span className={column.mono && !field.ref ? "tag" : undefined}>
                  {field.ref ? <span className="tag">{text}</span> : text}
                  {unit ? <span className="soft"> {unit}</span> : null}
                </span>
              )}
            </button>
            {field.ref && !cell ? <TagLink record={field.ref} words={say`open`} /> : null}
          </>
        )}
        {cell?.state === "refused" ? (
          <p className="field-reason" role="note">
            {stale ? (
              <>
                <StaleWords label={column.field.label} field={column.id} cell={cell} stale={stale} />{" "}
                <Button onClick={() => typed.drop(key, column.id)}>{say`Leave it as it is`}</Button>{" "}
                <Button onClick={() => void keep(cell.text, null, stale.current_rev)}>{say`Write mine over it`}</Button>
              </>
            ) : (
              <>
                {sayWith`${kindOf(kind).fields[column.id]?.label} ${cell.reason}. Kept as typed, not written.`}{" "}
                <Button onClick={() => typed.drop(key, column.id)}>{say`Leave it as it was`}</Button>
              </>
            )}
          </p>
        ) : null}
      </dd>
    </div>
  );
}

/** What is read aloud of a field is what is seen: typed and not yet written, nothing, or the value with its unit. */
function shownWords(typed: string | undefined, text: string, unit: string | null | undefined): string {
  if (typed !== undefined) return typed || say`empty`;
  return text === "" ? say`not given` : `${text}${unit ? ` ${unit}` : ""}`;
}
