/** Runs that lie on the desk: left unfinished, or entered and still there should the entry be undone. */
import { useEffect, useState } from "react";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { when } from "../../frame/ages.ts";
import { addressOf } from "../../frame/router.ts";

type Item = AnswerOf<"desk.list">["items"][number];

interface Props {
  /** The one that is open. */
  readonly open: number | null;
  /** Another number asks again: something was put there or taken away. */
  readonly turn: number;
  readonly throwAway: ((id: number, name: string) => void) | null;
}

export function DeskList({ open, turn, throwAway }: Props) {
  const client = useClient();
  const [items, setItems] = useState<readonly Item[]>([]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another turn or another one open asks again
  useEffect(() => {
    let ended = false;
    void client.call("desk.list", { form: "run" }).then((reply) => {
      if (!ended && reply.ok) setItems(reply.value.items);
    });
    return () => {
      ended = true;
    };
  }, [client, turn, open]);
  const unfinished = items.filter(({ entered, id }) => entered === null && id !== open);
  const entered = items.filter((item) => item.entered !== null && item.id !== open);
  return (
    <>
      <Listed title={say`Left unfinished`} items={unfinished} throwAway={throwAway} />
      <Listed title={say`Entered lately`} items={entered} throwAway={throwAway} />
    </>
  );
}

interface ListedProps {
  readonly title: string;
  readonly items: readonly Item[];
  readonly throwAway: Props["throwAway"];
}

function Listed({ title, items, throwAway }: ListedProps) {
  if (items.length === 0) return null;
  const id = `run-${title.split(" ")[0]?.toLowerCase()}`;
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <ul className="run-desk">
        {items.map((item) => (
          <li key={item.id}>
            <a href={addressOf("run", { draft: String(item.id) })}>{item.name || say`without a number or place`}</a>
            <span className="soft">
              {when(item.kept_at)}, {item.kept_by}
            </span>
            {throwAway ? (
              <button
                type="button"
                className="form-take-out"
                aria-label={say`Throw away ${item.name || say`the nameless one`}`}
                onClick={() => throwAway(item.id, item.name)}
              >
                ×
              </button>
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  );
}
