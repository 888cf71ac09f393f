/** Where both files say something else: both values, and which to take. */
import { useId, useState } from "react";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { Button } from "../../controls/button.tsx";
import { count as shownCount } from "../../controls/figures.ts";
import { wordsIn } from "../../grid/showing.ts";

export type Side = "ours" | "theirs";
/** What is chosen; a tag is that of theirs, where both are taken. */
export interface Choice {
  readonly take: Side | "both";
  readonly tag?: string;
}
type Conflict = AnswerOf<"merge.compare">["conflicts"][number];
type Left = AnswerOf<"merge.compare">["left_out"][number];

/** What each choice of a whole record comes to. */
const WHOLE: Readonly<Record<Conflict["why"], Readonly<Record<Side, string>>>> = {
  both_changed: { ours: say`as here`, theirs: say`as there` },
  both_added: { ours: say`as here`, theirs: say`as there` },
  deleted_here: { ours: say`stays deleted`, theirs: say`comes back as changed there` },
  deleted_there: { ours: say`stays as changed here`, theirs: say`is deleted` },
  left_out_there: { ours: say`stays as changed here`, theirs: say`is deleted` },
  refers_to_deleted: { ours: say`is left out, or loses the mention`, theirs: say`what it refers to comes back` },
  same_tag: {
    ours: say`keeps the tag; theirs is left out, or keeps its own`,
    theirs: say`gets the tag; ours gives way`,
  },
  rests_here: { ours: say`stays`, theirs: say`is deleted, with what rests on it` },
};

export function ConflictList({
  conflicts,
  left,
  choices,
  choose,
}: {
  readonly conflicts: readonly Conflict[];
  /** What isn't taken as it is chosen now. */
  readonly left: readonly Left[];
  /** By the key of each: what it comes to is worked out meanwhile. */
  readonly choices: ReadonlyMap<string, Choice>;
  readonly choose: (keys: readonly string[], choice: Choice | null) => void;
}) {
  const keys = conflicts.filter(({ offered }) => !offered).map(({ key }) => key);
  return (
    <section>
      <h2>{say`Both say something else`}</h2>
      <div className="merge-all">
        <Button onClick={() => choose(keys, { take: "ours" })}>{say`Keep what is here in all`}</Button>
        <Button onClick={() => choose(keys, { take: "theirs" })}>{say`Take what is there in all`}</Button>
      </div>
      <ul className="conflicts">
        {conflicts.map((conflict) => (
          <ConflictItem
            key={conflict.key}
            conflict={conflict}
            left={left.filter(({ key }) => key === conflict.key)}
            chosen={choices.get(conflict.key) ?? null}
            choose={(choice) => choose([conflict.key], choice)}
          />
        ))}
      </ul>
    </section>
  );
}

interface ItemProps {
  readonly conflict: Conflict;
  readonly chosen: Choice | null;
  readonly choose: (choice: Choice | null) => void;
}

function ConflictItem({ conflict, left, chosen, choose }: ItemProps & { readonly left: readonly Left[] }) {
  const name = useId();
  const { kind, record, label, field, before, why, words, takes, offered } = conflict;
  const take = chosen?.take ?? null;
  const { one } = KINDS[kind];
  const { unit } = useSettings();
  const shown = (words: string | null) => wordsIn(kind, field, words, unit) ?? say`empty`;
  const value = (side: Side) => (field === null ? WHOLE[why][side] : shown(conflict[side]));
  return (
    <li>
      <fieldset>
        <legend>
          {record.startsWith(`${one} `) ? "" : `${one} `}
          <span className="tag">{record}</span>
          {label ? <>, {label}</> : null}
        </legend>
        <span className="soft">
          {words}
          {why === "both_changed" ? say`; it was ${shown(before)}` : ""}
        </span>
        {offered ? (
          <label className="conflict-wide">
            <input type="radio" name={name} checked={take === null} onChange={() => choose(null)} />
            <span className="conflict-side">{say`one`}</span> <b>{say`record for both, field by field`}</b>
          </label>
        ) : null}
        {(["ours", "theirs"] as const)
          .filter((side) => takes.includes(side))
          .map((side) => (
            <label key={side}>
              <input type="radio" name={name} checked={take === side} onChange={() => choose({ take: side })} />
              <span className="conflict-side">{side === "ours" ? say`here` : say`there`}</span> <b>{value(side)}</b>
            </label>
          ))}
        {take === null && !offered ? <span className="conflict-open">{say`not chosen yet`}</span> : null}
        {takes.includes("both") ? <Both conflict={conflict} chosen={chosen} name={name} choose={choose} /> : null}
        {left.length > 0 ? <LeftOut left={left} label={say`Not taken of ${record}`} /> : null}
      </fieldset>
    </li>
  );
}

/** What isn't taken, each kind with some by name and the reason. */
export function LeftOut({ left, label }: { readonly left: readonly Left[]; readonly label: string }) {
  return (
    <ul className="conflict-left soft" aria-label={label}>
      {left.map(({ kind, field, count, named, words }) => (
        <li key={`${kind} ${field} ${words}`}>
          <b>{counted(count, KINDS[kind].one, KINDS[kind].many)}</b>{" "}
          <span className="tag">
            {count > named.length
              ? say`${named.join(", ")} and ${shownCount(count - named.length)} more`
              : named.join(", ")}
          </span>{" "}
          {words}
        </li>
      ))}
    </ul>
  );
}

/** Both records stay: theirs under a tag that is typed here. */
function Both({ conflict, chosen, name, choose }: ItemProps & { readonly name: string }) {
  const { theirs, record } = conflict;
  const { take = null, tag = null } = chosen ?? {};
  const [typed, setTyped] = useState(tag ?? "");
  const given = typed.trim();
  const keep = () => {
    if (given !== "" && given !== tag) choose({ take: "both", tag: given });
  };
  return (
    <span className="conflict-both">
      <label>
        <input
          type="radio"
          name={name}
          checked={take === "both"}
          disabled={given === ""}
          onChange={() => choose({ take: "both", tag: given })}
        />
        <span className="conflict-side">{say`both`}</span> <b>{say`two of them stay; theirs becomes`}</b>
      </label>
      <input
        className="tag"
        aria-label={say`Tag of theirs, instead of ${theirs ?? record}`}
        value={typed}
        placeholder={say`such as ${theirs ?? "F-9"}B`}
        onChange={(event) => setTyped(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === "Enter") keep();
        }}
        onBlur={keep}
      />
    </span>
  );
}
