/** Where both files say something else: both values, and which to take. */
import { useId } from "react";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { Button } from "../../controls/button.tsx";

export type Take = "ours" | "theirs";
type Conflict = AnswerOf<"merge.compare">["conflicts"][number];

/** What each choice of a whole record comes to. */
const WHOLE: Readonly<Record<Conflict["why"], Readonly<Record<Take, string>>>> = {
  both_changed: { ours: "as here", theirs: "as there" },
  both_added: { ours: "as here", theirs: "as there" },
  deleted_here: { ours: "stays deleted", theirs: "comes back as changed there" },
  deleted_there: { ours: "stays as changed here", theirs: "is deleted" },
  refers_to_deleted: { ours: "is left out, or loses the mention", theirs: "what it refers to comes back" },
  rests_here: { ours: "stays", theirs: "is deleted, with what rests on it" },
};

export function ConflictList({
  conflicts,
  choose,
}: {
  readonly conflicts: readonly Conflict[];
  readonly choose: (keys: readonly string[], take: Take) => void;
}) {
  const keys = conflicts.map(({ key }) => key);
  return (
    <section>
      <h2>Both say something else</h2>
      <div className="merge-all">
        <Button onClick={() => choose(keys, "ours")}>Keep what is here in all</Button>
        <Button onClick={() => choose(keys, "theirs")}>Take what is there in all</Button>
      </div>
      <ul className="conflicts">
        {conflicts.map((conflict) => (
          <ConflictItem key={conflict.key} conflict={conflict} choose={(take) => choose([conflict.key], take)} />
        ))}
      </ul>
    </section>
  );
}

function ConflictItem({ conflict, choose }: { readonly conflict: Conflict; readonly choose: (take: Take) => void }) {
  const name = useId();
  const { kind, record, label, field, before, why, words, take } = conflict;
  const { one } = KINDS[kind];
  const value = (side: Take) => (field === null ? WHOLE[why][side] : (conflict[side] ?? "empty"));
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
          {why === "both_changed" ? `; it was ${before ?? "empty"}` : ""}
        </span>
        {(["ours", "theirs"] as const).map((side) => (
          <label key={side}>
            <input type="radio" name={name} checked={take === side} onChange={() => choose(side)} />
            <span className="conflict-side">{side === "ours" ? "here" : "there"}</span> <b>{value(side)}</b>
          </label>
        ))}
        {take === null ? <span className="conflict-open">not chosen yet</span> : null}
      </fieldset>
    </li>
  );
}
