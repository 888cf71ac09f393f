/** Many records at once, like the one one is in: its values are copied, its name counts on; one act with one undo. */
import { useEffect, useRef, useState } from "react";
import { z } from "zod";
import { type KindName, kindOf, type Value } from "../../../core/model/dictionary.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { few } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { useKeptForm } from "../../forms/kept-form.ts";
import { addressOf } from "../../frame/router.ts";
import type { GridColumn } from "../../grid/columns.ts";
import { type ReadingHabits, readCell } from "../../grid/reading.ts";
import type { GridRow } from "../../grid/row-source.ts";
import { countOn } from "../../grid/series.ts";
import { copyText } from "../../grid/showing.ts";
import type { Suggest } from "../../grid/suggestions.ts";
import { firstFree, useTaken } from "./use-taken.ts";
import { faultOf, ValueField } from "./value-field.tsx";

interface Props {
  readonly kind: KindName;
  readonly columns: readonly GridColumn[];
  /** The record they are like; null where one is in none. */
  readonly model: GridRow | null;
  readonly habits: ReadingHabits;
  readonly suggest: Suggest;
  /** Shows records just made; answers false where the table, as it is filtered, has none of them. */
  readonly onNew: (ids: readonly number[], field: string) => Promise<boolean>;
  readonly onDone: (said: string) => void;
  readonly onClose: () => void;
}

/** What is typed into it, as it is kept. */
const asks = z.object({
  number: z.string(),
  texts: z.record(z.string(), z.string()),
  /** Somebody typed another name than the first free one. */
  named: z.boolean(),
  counting: z.array(z.string()),
});
type Asked = z.output<typeof asks>;

const MOST = 5000;
const MOST_PROBLEMS = 12;
const NOTHING: ReadonlySet<string> = new Set();

/** What names records of the kind; without a name of its own, its first field. */
const nameOf = (kind: KindName): string => kindOf(kind).address?.name ?? kindOf(kind).key[0] ?? "";

export function AddManyDialog({ kind, columns, model, habits, suggest, onNew, onDone, onClose }: Props) {
  const { one, many, fields } = kindOf(kind);
  const dialog = useRef<HTMLDialogElement>(null);
  const { act, running } = useAct();
  const name = nameOf(kind);
  const [first] = useState<Asked>(() => ({
    number: "12",
    texts: firstTexts(columns, model, habits),
    named: false,
    counting: [name],
  }));
  const kept = useKeptForm<Asked>(`add many ${kind}`, say`Add many ${many}`, first, asks);
  const { number, texts: typed, named } = kept.value;
  const counting = new Set(kept.value.counting);
  const [failure, setFailure] = useState<Failure | null>(null);
  useEffect(() => {
    dialog.current?.showModal();
    // Not the link before it: the number is typed at once.
    dialog.current?.querySelector<HTMLInputElement>("[data-first]")?.select();
  }, []);
  const taken = useTaken(kind, model, name);
  // Names are taken in one place only: in another the program says which are.
  const names = taken?.where.every((field) => typed[field] === first.texts[field]) ? taken.names : NOTHING;
  const size = Number(number);
  const from = first.texts[name] ?? "";
  // Until it is typed, the name is the first free one.
  const free = model && !named ? (firstFree(from, names, Math.max(1, Math.min(MOST, size || 1))) ?? "") : null;
  const texts = free === null ? typed : { ...typed, [name]: free };

  // What must be given is asked, and what the record one is in has.
  const asked = [...columns]
    .filter(
      ({ id, field }) =>
        field.type !== "subject" && (id === name || Boolean(field.required) || texts[id] !== undefined),
    )
    .sort((a, b) => Number(b.id === name) - Number(a.id === name));
  const sizeFault =
    !Number.isInteger(size) || size < 1 || size > MOST ? say`must be a whole number from 1 to ${count(MOST)}` : null;
  const listOf = (id: string): readonly string[] | null => {
    const text = (texts[id] ?? "").trim();
    if (sizeFault) return null;
    if (!counting.has(id) || text === "") return Array(size).fill(text);
    const more = countOn([text], size - 1);
    return more && [text, ...more];
  };
  const lists = new Map(asked.map(({ id }) => [id, listOf(id)]));
  const faults = asked.flatMap(({ id, field }) => {
    const text = (texts[id] ?? "").trim();
    const fault =
      text === "" && (field.required || id === name)
        ? say`is missing`
        : text === ""
          ? null
          : (faultOf(kind, id, text, habits) ??
            (lists.get(id) === null && !sizeFault ? say`has no number to count on from` : null));
    return fault ? [`${field.label} ${fault}`] : [];
  });
  const made = lists.get(name);
  const there = (made ?? []).filter((each) => names.has(each));
  const label = fields[name]?.label;
  if (there.length === 1) faults.push(say`${label} ${there[0]} is on record already`);
  else if (there.length > 1) faults.push(say`${label} ${few(there, MOST_PROBLEMS)} are on record already`);

  // Names are told apart by where they are.
  const parent = kindOf(kind).address?.parents.find((id) => (texts[id] ?? "").trim() !== "");
  const place = parent === undefined ? "" : range(lists.get(parent));

  const write = async () => {
    const changes = Array.from({ length: size }, (_, at) => {
      const values: Record<string, Value> = {};
      for (const { id, field } of asked) {
        const reading = readCell(kind, id, field, lists.get(id)?.[at] ?? "", habits);
        if (reading.is === "record") values[id] = reading.text;
        else if (reading.is === "value" && reading.value !== null) values[id] = reading.value;
      }
      return { op: "add" as const, kind, values };
    });
    const reply = await act("record.change_many", {
      changes,
      summary: say`Add ${counted(size, one, many)}, ${range(made)}${place ? say`, in ${place}` : ""}`.slice(0, 200),
    });
    if (!reply) return;
    if (!reply.ok) return setFailure(reply.error);
    dialog.current?.close();
    const shown = await onNew(reply.value.answer.ids, name);
    onDone(
      shown
        ? say`${reply.value.summary}. Undo takes them away.`
        : say`${reply.value.summary}. The table, as it is filtered, doesn't show them. Undo takes them away.`,
    );
  };
  return (
    <dialog
      ref={dialog}
      className="dialog set-dialog"
      aria-labelledby="many-title"
      onClose={() => {
        // It was written, or left on purpose.
        kept.end(first);
        onClose();
      }}
    >
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          if (!sizeFault && faults.length === 0 && running === 0) void write();
        }}
      >
        <h2 id="many-title">
          {say`Add many ${many}`}
          {model ? <> {sayWith`like ${<span className="tag">{model.address}</span>}`}</> : null}
        </h2>
        {kind === "port" ? <BarePorts on={texts.panel_id || texts.module_id || texts.device_id || ""} /> : null}
        <label className="value-field">
          <span>{say`how many`}</span>
          <input
            type="text"
            inputMode="numeric"
            data-first
            title={say`How many records are added; each has the name after the one before it.`}
            value={number}
            aria-invalid={sizeFault !== null}
            onChange={(event) => kept.type((before) => ({ ...before, number: event.target.value.trim() }))}
          />
        </label>
        <div className="add-many-fields">
          {asked.map(({ id, field }) => (
            <div key={id}>
              <ValueField
                kind={kind}
                field={id}
                label={field.label}
                text={texts[id] ?? ""}
                onText={(text) => {
                  kept.type((before) => ({
                    ...before,
                    texts: { ...before.texts, [id]: text },
                    named: before.named || id === name,
                  }));
                  setFailure(null);
                }}
                habits={habits}
                suggest={suggest}
              />
              <label className="add-many-count">
                <input
                  type="checkbox"
                  aria-label={say`${field.label} counts on`}
                  checked={counting.has(id)}
                  onChange={(event) =>
                    kept.type((before) => ({
                      ...before,
                      counting: [
                        ...before.counting.filter((each) => each !== id),
                        ...(event.target.checked ? [id] : []),
                      ],
                    }))
                  }
                />
                {say`counts on${counting.has(id) && size > 1 && lists.get(id)?.[0] ? say` to ${lists.get(id)?.at(-1)}` : ""}`}
              </label>
            </div>
          ))}
        </div>
        {sizeFault || faults.length > 0 ? (
          <p className="soft">{sizeFault ? say`How many ${sizeFault}.` : `${faults.join("; ")}.`}</p>
        ) : null}
        {failure ? (
          <div role="alert" className="refused-changes">
            <p>
              <b>{say`Nothing was written.`}</b> {failure.problems.length === 0 ? failure.message : ""}
            </p>
            <ul>
              {failure.problems.slice(0, MOST_PROBLEMS).map((problem) => (
                <li key={`${problem.row} ${problem.field} ${problem.reason}`}>
                  <span className="tag">{problem.row === undefined ? "" : made?.[problem.row - 1]}</span>{" "}
                  {fields[problem.field ?? ""]?.label ?? problem.field} {problem.reason}
                </li>
              ))}
            </ul>
          </div>
        ) : null}
        <div className="dialog-acts">
          <Button onClick={() => dialog.current?.close()}>{say`Leave it`}</Button>
          <Button
            filled
            submit
            disabled={sizeFault !== null || faults.length > 0}
            busy={running > 0 ? say`Writing` : null}
          >
            {sizeFault ? say`Add ${many}` : say`Add ${counted(size, one, many)}`}
          </Button>
        </div>
      </form>
    </dialog>
  );
}

/** "P1 to P9", or what all of them are. */
function range(names: readonly string[] | null | undefined): string {
  const [first = ""] = names ?? [];
  const last = names?.at(-1) ?? first;
  return first === last ? first : say`${first} to ${last}`;
}

/** The values of the record they are like. */
function firstTexts(
  columns: readonly GridColumn[],
  model: GridRow | null,
  habits: ReadingHabits,
): Record<string, string> {
  if (!model) return {};
  return Object.fromEntries(
    columns.flatMap(({ id, field }): [string, string][] => {
      const text = copyText(field, model.values[id] ?? null, model.shown[id] ?? null, habits.lengths);
      if (text === "" || field.type === "subject") return [];
      return [[id, text]];
    }),
  );
}

/** A row of ports is ports alone: where they get their positions, too, is told before they are made. */
function BarePorts({ on }: { readonly on: string }) {
  const where = on ? { on } : {};
  return (
    <p className="soft">
      {sayWith`Ports added here have no positions yet, and nothing lands on them until ${<a href={addressOf("acts", { do: "port.add_positions", ...where })}>{say`they are given theirs`}</a>}. With their positions they are made by ${<a href={addressOf("acts", { do: "port.enter", ...where })}>{say`the act that adds ports`}</a>}.`}
    </p>
  );
}
